"""The list of sums: typing finds one, enter opens its form."""

from __future__ import annotations

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
from benchconsole.console.widgets.entries import Choice, Line
from benchconsole.errors import NotPossibleNow

if TYPE_CHECKING:
    from benchconsole.desk.sums import Sum


class ShowSums(Act[ActScreen[Any]]):
    """Work out a brine, a bath, a dose, a bottle mark: every sum of the bench, by name."""

    keys = "x"
    label = "Sums"

    def run(self, screen: ActScreen[Any]) -> None:
        """Open the list of sums."""
        screen.app.push_screen(SumsScreen())


class OpenSum(Act["SumsScreen"]):
    """Open the chosen sum."""

    keys = "enter"
    label = "Open"
    while_typing = True

    def run(self, screen: SumsScreen) -> None:
        """Open its form; what was searched for stays for the next."""
        from benchconsole.console.screens.sum_form import SumScreen

        screen.app.push_screen(SumScreen(screen.chosen()))


class NextSum(Act["SumsScreen"]):
    """Go to the next sum of the list."""

    keys = "down"
    label = "Next"

    def run(self, screen: SumsScreen) -> None:
        """Move the mark down."""
        screen.found.action_cursor_down()


class SumBefore(Act["SumsScreen"]):
    """Go to the sum before."""

    keys = "up"
    label = "Before"

    def run(self, screen: SumsScreen) -> None:
        """Move the mark up."""
        screen.found.action_cursor_up()


class LeaveSums(Act["SumsScreen"]):
    """Back to where you came from."""

    keys = "escape"
    label = "Back"
    while_typing = True

    def run(self, screen: SumsScreen) -> None:
        """Close the list."""
        screen.dismiss(None)


class SumsScreen(ActScreen[None]):
    """All sums, or those whose words begin as typed."""

    CSS_PATH: ClassVar[str | PurePath | list[str | PurePath] | None] = "../styles/sums.tcss"
    AUTO_FOCUS = "#search"
    ACTS = (OpenSum, NextSum, SumBefore, LeaveSums, HelpHere)

    search = query_one("#search", Line)
    found = query_one("#found", Choice)
    purpose = query_one("#purpose", Static)

    def compose(self) -> ComposeResult:
        """The line to search on, the list, what the chosen one is for, two buttons."""
        yield Static(Content("Sums  ·  type the first letters, enter opens"), classes="heading")
        search, found = Line(), Choice()
        search.id, found.id = "search", "found"
        yield search
        yield found
        yield Static("", id="purpose", markup=False)
        with Horizontal(classes="buttons"):
            yield Button(
                Content(f"{OpenSum.label}  (enter)"),
                variant="primary",
                action="screen.act('OpenSum')",
            )
            yield Button(Content(f"{LeaveSums.label}  (esc)"), action="screen.act('LeaveSums')")

    def on_mount(self) -> None:
        """Show them all, the first chosen."""
        self.search.placeholder = "brine, pickle, coats, scale …"
        self._find("")

    def chosen(self) -> Sum:
        """The sum that the mark stands on; raises ``NotPossibleNow`` when there is none."""
        from benchconsole.desk.sums import sum_named

        if not self.found.value:
            raise NotPossibleNow("No sum begins like that; take letters away with backspace.")
        return sum_named(self.found.value)

    def _find(self, text: str) -> None:
        from benchconsole.desk.sums import sums_matching

        sums = sums_matching(text)
        kept = self.found.value
        names = [one.name for one in sums]
        self.found.offer(
            [(one.name, one.title) for one in sums],
            kept if kept in names else next(iter(names), ""),
        )
        self._tell_purpose()

    def _tell_purpose(self) -> None:
        from benchconsole.desk.sums import sum_named

        name = self.found.value
        self.purpose.update(
            sum_named(name).purpose if name else "No sum has words that begin like that."
        )

    @on(Input.Changed, "#search")
    def _searched(self, event: Input.Changed) -> None:
        event.stop()
        self._find(event.value)

    @on(Choice.Changed)
    def _moved(self, event: Choice.Changed) -> None:
        event.stop()
        self._tell_purpose()

    @on(Choice.Entered)
    def _tapped(self, event: Choice.Entered) -> None:
        event.stop()
        self.action_act("OpenSum")
