"""Finished hides, of this year and of all before: typing finds one, enter opens its card."""

from __future__ import annotations

from functools import partial
from pathlib import PurePath
from typing import TYPE_CHECKING, Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.content import Content
from textual.getters import query_one
from textual.widgets import Button, Input, Static

from benchconsole.console.acts import Act, ActScreen
from benchconsole.console.screens.forms import HelpHere
from benchconsole.console.widgets.cells import plain
from benchconsole.console.widgets.entries import Line
from benchconsole.console.widgets.pick_list import PickLine, PickList
from benchconsole.errors import NotPossibleNow
from benchconsole.exchange.finished import FinishedHide, about_words, out_words

if TYPE_CHECKING:
    from collections.abc import Callable

    from benchconsole.console.screens.bench import BenchScreen

MOST_SHOWN = 200
"""Lines that are drawn; more are found by typing."""

GROUP = "finding"


class ShowFinished(Act["BenchScreen"]):
    """Finished hides: find one of this year or of any before, read its card, bring it back."""

    keys = "f6"
    label = "Finished"

    def run(self, screen: BenchScreen) -> None:
        """Open the list; a hide that was brought back is chosen on the bench."""
        finished = FinishedScreen()

        def left(hide: str | None) -> None:
            screen.look_again()
            if hide:
                screen.choose(hide)
                screen.answered(f"hide/{hide}", f"{finished.said}; u takes it back there")

        screen.app.push_screen(finished, left)


class OpenFinished(Act["FinishedScreen"]):
    """Open the card of the picked hide: its dates, liquors, weighings and notes."""

    keys = "enter"
    label = "Card"
    while_typing = True

    def run(self, screen: FinishedScreen) -> None:
        """Open it, from the archive or from the bench."""
        row = screen.row
        if row is None:
            raise NotPossibleNow("No hide is picked; take letters away with backspace.")
        hide = row.hide.id
        if not row.archived:
            from benchconsole.console.screens.card import CardScreen

            screen.app.push_screen(CardScreen(hide), lambda _: screen.find())
            return
        from benchconsole.console.screens.archived_card import ArchivedCardScreen

        card = ArchivedCardScreen(row.hide, screen.console.desk.in_archive(hide))

        def left(_: Any) -> None:
            if card.said:
                screen.said = card.said
                screen.dismiss(hide)

        screen.app.push_screen(card, left)


class NextFinished(Act["FinishedScreen"]):
    """Go to the next hide of the list."""

    keys = "down"
    label = "Next"

    def run(self, screen: FinishedScreen) -> None:
        """Move the mark down."""
        screen.found.action_cursor_down()


class FinishedBefore(Act["FinishedScreen"]):
    """Go to the hide before."""

    keys = "up"
    label = "Before"

    def run(self, screen: FinishedScreen) -> None:
        """Move the mark up."""
        screen.found.action_cursor_up()


class LeaveFinished(Act["FinishedScreen"]):
    """Back to where you came from."""

    keys = "escape"
    label = "Back"
    while_typing = True

    def run(self, screen: FinishedScreen) -> None:
        """Close the list."""
        screen.dismiss(None)


class FinishedScreen(ActScreen["str | None"]):
    """Dismissed with the id of a hide that was brought back (``said`` tells of it), or None."""

    CSS_PATH: ClassVar[str | PurePath | list[str | PurePath] | None] = "../styles/finished.tcss"
    AUTO_FOCUS = "#search"
    ACTS = (OpenFinished, NextFinished, FinishedBefore, LeaveFinished, HelpHere)

    search = query_one("#search", Line)
    found = query_one("#found", PickList)
    told = query_one("#told", Static)

    def __init__(self) -> None:
        super().__init__()
        self.said = ""
        self._rows: dict[str, FinishedHide] = {}
        self._asked = ""

    def compose(self) -> ComposeResult:
        """The line to search on, the list, how many there are, two buttons."""
        yield Static(
            Content("Finished hides  ·  type to find one, enter opens its card"),
            classes="heading",
        )
        search = Line()
        search.id = "search"
        yield search
        yield PickList(id="found")
        yield Static("", id="told", markup=False)
        with Horizontal(classes="buttons"):
            yield Button(
                Content(f"{OpenFinished.label}  (enter)"),
                variant="primary",
                action="screen.act('OpenFinished')",
            )
            yield Button(
                Content(f"{LeaveFinished.label}  (esc)"), action="screen.act('LeaveFinished')"
            )

    def on_mount(self) -> None:
        """Show them all, the latest first."""
        self.search.placeholder = "name, animal, route, year, a word of a note …"
        self.told.update("Looking …")
        self.find()

    @property
    def row(self) -> FinishedHide | None:
        """The picked hide."""
        return self._rows.get(self.found.picked) if self._rows else None

    def find(self) -> None:
        """Look for what is typed, off the event loop: the first time all years are read."""
        self._asked = self.search.value
        job = self.console.desk.archive.finding(self._asked)
        self.run_worker(
            partial(self._find, job, self._asked),
            group=GROUP,
            exclusive=True,
            thread=True,
        )

    def _find(self, job: Callable[[], tuple[FinishedHide, ...]], asked: str) -> None:
        rows = job()
        if self.is_attached:
            self.app.call_from_thread(self._show, asked, rows)

    def _show(self, asked: str, rows: tuple[FinishedHide, ...]) -> None:
        if asked != self._asked or not self.is_attached:
            return
        picked, zone = self.found.picked if self._rows else "", self.console.desk.zone
        shown = rows[:MOST_SHOWN]
        self._rows = {row.hide.id: row for row in shown}
        self.found.show(
            [
                PickLine(row.hide.id, f"{out_words(row.hide, zone):<20}  {about_words(row)}", 22)
                for row in shown
            ],
            picked,
        )
        self.told.update(Content(plain(self._count(len(rows), asked))))

    def _count(self, many: int, asked: str) -> str:
        notices = self.console.desk.archive.notices
        if notices:
            return f"▲ {notices[0]}"
        if many > MOST_SHOWN:
            return f"{many} hides out of work; the latest {MOST_SHOWN} are shown: type to find."
        if not many:
            return "Nothing is found by that." if asked.strip() else "No hide is out of work yet."
        return "1 hide out of work." if many == 1 else f"{many} hides out of work."

    @on(Input.Changed, "#search")
    def _searched(self, event: Input.Changed) -> None:
        event.stop()
        self.find()
