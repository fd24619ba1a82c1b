"""What putting a backup copy back would change, tap by tap, and doing it after a second yes."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Any, ClassVar

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Button, Static

from benchconsole.console.acts import Act, ActScreen
from benchconsole.console.screens.worked_out import WorkedOutScreen
from benchconsole.console.widgets.cells import plain
from benchconsole.console.widgets.paper import Written
from benchconsole.console.widgets.pick_list import PickLine
from benchconsole.console.wording import at_the_wall
from benchconsole.desk.copies import CopyRow, ToldTap, taps_words
from benchconsole.desk.own_copies import Look
from benchconsole.errors import BenchError, NotPossibleNow

MOST_LINES = 500
"""So many taps of each kind are listed one by one."""


class PutCopyBack(Act["PutBackScreen"]):
    """Put the copy back, after one more question; what is there now is kept as a copy first."""

    keys = "p"
    label = "Put it back"
    records = True
    settle_s = 0.5

    def possible(self, screen: PutBackScreen) -> bool:
        """When it is known what it would change."""
        return screen.answer is not None

    def run(self, screen: PutBackScreen) -> None:
        """Ask, then do it and leave."""
        look = screen.answer
        if look is None:
            raise NotPossibleNow("It is still being worked out.")

        def answered(sure: bool | None) -> None:
            if sure:
                screen.put_back(look)

        screen.app.push_screen(SureToPutBackScreen(screen.summary(look)), answered)


class PutBackScreen(WorkedOutScreen["str | None", Look]):
    """Dismissed with the sentence to show after the restore, or None."""

    ACTS: ClassVar[tuple[type[Act[Any]], ...]] = (PutCopyBack,)

    def __init__(self, row: CopyRow) -> None:
        super().__init__()
        self._row = row

    def heading(self) -> str:
        """Which copy."""
        return f"Putting back the copy made {self._made}  ·  nothing is changed yet"

    def job(self) -> Callable[[Callable[[], None]], Look]:
        """The taps that would go, and those that would come back."""
        looking = self.console.desk.copies.looking(self._row)
        return lambda _between: looking()

    def lines(self, answer: Look) -> Sequence[PickLine]:
        """The taps, the newest first: − would be gone, + would come back."""
        return list(self._lines(answer)) or [PickLine("", "The shop holds the same taps.")]

    def about(self, answer: Look, picked: str) -> Sequence[Written]:
        """All of it in a few sentences."""
        return [
            Written(self.summary(answer), "strong"),
            Written(
                "What is there now is kept as a copy first, and can be put back like this one."
            ),
        ]

    def summary(self, look: Look) -> str:
        """What would change, counted."""
        gone, back = len(look.change.gone), len(look.change.back)
        parts = [f"{taps_words(gone)} would be gone (−)"] if gone else []
        parts += [f"{taps_words(back)} would come back (+)"] if back else []
        return f"{', '.join(parts) or 'No tap would be gone'}."

    def put_back(self, look: Look) -> None:
        """Do it, and leave with what was done; a fault is told here and the page stays."""
        try:
            sentence = self.console.desk.copies.put_back(look)
        except BenchError as fault:
            self.tell(str(fault), fault=True)
            return
        self.post_message(self.Acted())
        self.dismiss(sentence)

    @property
    def _made(self) -> str:
        desk = self.console.desk
        return at_the_wall(self._row.backup.at, desk.now(), desk.zone)

    def _lines(self, look: Look) -> Iterator[PickLine]:
        for mark, taps in (("−", look.change.gone), ("+", look.change.back)):
            for told in reversed(taps[-MOST_LINES:]):
                yield PickLine(f"{mark}{told[0].number}", f"{mark} {self._told(told)}", 19)
            if len(taps) > MOST_LINES:
                yield PickLine(
                    mark, f"{mark} and {taps_words(len(taps) - MOST_LINES)} before these"
                )

    def _told(self, told: ToldTap) -> str:
        desk, (tap, words) = self.console.desk, told
        when = at_the_wall(tap.at, desk.now(), desk.zone) if tap.at else ""
        return f"{when:<16} {words}"


class YesPutBack(Act["SureToPutBackScreen"]):
    """Put it back."""

    keys = "y"
    label = "Yes, put it back"
    records = True

    def run(self, screen: SureToPutBackScreen) -> None:
        """Sure."""
        screen.dismiss(True)


class LeaveAsItIs(Act["SureToPutBackScreen"]):
    """Leave the shop as it is."""

    keys = "escape,n"
    label = "Leave as it is"

    def run(self, screen: SureToPutBackScreen) -> None:
        """Not sure."""
        screen.dismiss(False)


class SureToPutBackScreen(ActScreen[bool], ModalScreen[bool]):
    """The second question; dismissed with whether the person is sure."""

    AUTO_FOCUS = "#leave"
    ACTS = (YesPutBack, LeaveAsItIs)

    def __init__(self, summary: str) -> None:
        super().__init__()
        self._summary = summary

    def compose(self) -> ComposeResult:
        """What would change, and the two ways on."""
        with Vertical(classes="box"):
            yield Static(Content.styled("Put this copy back?", "bold $text-accent"))
            yield Static(Content(plain(self._summary)), markup=False)
            yield Static("What is there now is kept as a copy first.", markup=False)
            with Horizontal(classes="buttons"):
                yield Button("Yes, put it back (y)", action="screen.act('YesPutBack')")
                yield Button("Leave as it is (esc)", action="screen.act('LeaveAsItIs')", id="leave")
