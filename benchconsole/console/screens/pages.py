"""What all pages to read share: a heading, a sheet that scrolls, a way back."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, ClassVar

from textual.app import ComposeResult
from textual.containers import Horizontal, ItemGrid
from textual.content import Content
from textual.widgets import Static

from benchconsole.console.acts import Act, ActScreen
from benchconsole.console.screens.forms import HelpHere
from benchconsole.console.widgets.act_buttons import act_buttons
from benchconsole.console.widgets.cells import plain
from benchconsole.console.widgets.paper import BLANK, Paper, Written

TWO_SHEETS = 110
"""From this many columns on, two sheets lie side by side."""

BUTTON_WIDTH = 13
"""Columns a button needs at least; buttons that find no room side by side make a second row."""


class LeavePage(Act["PageScreen"]):
    """Back to where you came from."""

    keys = "escape,enter,q"
    label = "Back"

    def run(self, screen: PageScreen) -> None:
        """Close the page."""
        screen.dismiss(None)


class HelpOnPage(HelpHere):
    """Every key of this page, and what the marks mean."""

    keys = "f1,question_mark"
    while_typing = False


class PageScreen(ActScreen[None]):
    """A page to read; a subclass writes it in :meth:`heading` and :meth:`left`.

    Where there is room, :meth:`right` lies beside it, else it follows below.
    """

    AUTO_FOCUS = "#left"
    ACTS: ClassVar[tuple[type[Act[Any]], ...]] = (LeavePage, HelpOnPage)

    def __init__(self) -> None:
        super().__init__()
        self._drawn: tuple[object, ...] = ()

    def heading(self) -> str:
        """The line on top."""
        raise AssertionError("a page says what it is")

    def left(self) -> Sequence[Written]:
        """The writing."""
        raise AssertionError("a page has something to read")

    def right(self) -> Sequence[Written]:
        """What lies beside it where there is room."""
        return ()

    def compose(self) -> ComposeResult:
        """Heading, one or two sheets, a button for every act."""
        yield Static(id="heading", classes="heading")
        with Horizontal(classes="sheets"):
            yield Paper(id="left")
            yield Paper(id="right")
        with ItemGrid(classes="buttons", min_column_width=BUTTON_WIDTH):
            yield from act_buttons(self.acts())

    def on_mount(self) -> None:
        """Write the page."""
        self.look_again()

    def on_resize(self) -> None:
        """One sheet or two."""
        self.look_again()

    def look_again(self) -> None:
        """Write the page anew when something happened or a minute went by."""
        if not self.is_mounted:
            return
        state = (self.size, self._moment())
        if state != self._drawn:
            self._drawn = state
            self.write()

    def _moment(self) -> tuple[object, ...]:
        if not self.console.is_open:
            return ()
        desk = self.console.desk
        return (desk.version, desk.now().replace(second=0, microsecond=0))

    def write(self) -> None:
        """Write heading and sheets as things stand now."""
        self.query_one("#heading", Static).update(Content(plain(self.heading())))
        left, right = list(self.left()), list(self.right())
        beside = bool(right) and self.size.width >= TWO_SHEETS
        self.query_one("#right").display = beside
        self.query_one("#left", Paper).show(left if beside or not right else [*left, BLANK, *right])
        self.query_one("#right", Paper).show(right if beside else [])
