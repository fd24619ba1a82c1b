"""What a person can do with the history, one class an act: on its page, the bench and a card."""

from __future__ import annotations

from typing import TYPE_CHECKING

from benchconsole.console.acts import Act
from benchconsole.errors import NotPossibleNow

if TYPE_CHECKING:
    from benchconsole.console.screens.bench import BenchScreen
    from benchconsole.console.screens.card import CardScreen
    from benchconsole.console.screens.drying import DryingScreen
    from benchconsole.console.screens.history import HistoryScreen

_SUBJECTS = {"taken-in": "hide", "round": "hide"}
"""What the bench remembers a tap by, where the history has another word."""


class PutBackUndone(Act["BenchScreen"]):
    """Put back what u took back last: just now, else of the chosen hide.

    It can be put back until something newer is tapped about the same.
    """

    keys = "f2"
    label = "Put back"
    records = True
    settle_s = 0.5

    def run(self, screen: BenchScreen) -> None:
        """Put it back; the next press goes on with the same thing, and so does u."""
        tapped = screen.taken_back or f"hide/{screen.hides.chosen}"
        kind, _, name = tapped.partition("/")
        subject = "shop" if kind == "shop" else f"{_SUBJECTS.get(kind, kind)}/{name}"
        sentence = screen.console.desk.taps.put_back_last(subject)
        if kind == "shop":
            screen.mix.settings_changed()
        if kind == "taken-in":
            screen.look_again()
            screen.choose(name)
        screen.answered(tapped, sentence)
        screen.taken_back = tapped


class ShowHistory(Act["BenchScreen"]):
    """All that was tapped, newest first: take back from any tap on, put back, correct a time."""

    keys = "f4"
    label = "History"

    def run(self, screen: BenchScreen) -> None:
        """Open the history of the whole shop."""
        from benchconsole.console.screens.history import HistoryScreen

        before = screen.console.desk.version

        def left(_: None) -> None:
            if screen.console.desk.version != before:
                screen.past_changed()

        screen.app.push_screen(HistoryScreen(), left)


HISTORY_ACTS = (PutBackUndone, ShowHistory)
"""Those of the bench."""


class PutBackOfHide(Act["CardScreen | DryingScreen"]):
    """Put back what was taken back last about this hide, until something newer is tapped."""

    keys = "f2"
    label = "Put back"
    records = True
    has_button = False

    def run(self, screen: CardScreen | DryingScreen) -> None:
        """Put it back."""
        screen.told(screen.console.desk.taps.put_back_last(f"hide/{screen.hide}"))


class HistoryOnCard(Act["CardScreen"]):
    """The taps about this hide: take back from any on, put back, correct a time."""

    keys = "h,f4"
    label = "Taps"

    def run(self, screen: CardScreen) -> None:
        """Open the history of the hide."""
        from benchconsole.console.screens.history import HistoryScreen

        screen.app.push_screen(HistoryScreen(screen.hide), lambda _: screen.told(None))


class TakeBackFrom(Act["HistoryScreen"]):
    """Take back the picked tap and all that rests on it; what that is is shown before."""

    keys = "u"
    label = "Take back"
    records = True
    settle_s = 0.5

    def possible(self, screen: HistoryScreen) -> bool:
        """While the tap counts."""
        return screen.line is not None and screen.line.counts != "no"

    def run(self, screen: HistoryScreen) -> None:
        """Ask where it is more than one tap, then do it."""
        screen.change(screen.console.desk.taps.falls(_picked(screen)), "back")


class PutBackPicked(Act["HistoryScreen"]):
    """Put back the picked tap, and what has to come before it; more than one is shown before."""

    keys = "f2"
    label = "Put back"
    records = True
    settle_s = 0.5

    def possible(self, screen: HistoryScreen) -> bool:
        """When it was taken back."""
        return screen.line is not None and screen.line.counts != "yes"

    def run(self, screen: HistoryScreen) -> None:
        """Ask where it is more than one tap, then do it."""
        screen.change(screen.console.desk.taps.comes_back(_picked(screen)), "again")


class CorrectTime(Act["HistoryScreen"]):
    """Say when the picked tap really happened; holds, due times and timers follow."""

    keys = "t"
    label = "Time"
    records = True

    def possible(self, screen: HistoryScreen) -> bool:
        """While the tap counts."""
        return screen.line is not None and screen.line.counts != "no"

    def run(self, screen: HistoryScreen) -> None:
        """Open the form; a tap whose time counts for nothing is told so."""
        from benchconsole.console.screens.correct_time import CorrectTimeScreen

        tap = _picked(screen)
        screen.console.desk.taps.room(tap)
        screen.app.push_screen(CorrectTimeScreen(tap), screen.told)


class LeaveHistory(Act["HistoryScreen"]):
    """Back to where you came from."""

    keys = "escape,q"
    label = "Back"

    def run(self, screen: HistoryScreen) -> None:
        """Close the page."""
        screen.dismiss(None)


def _picked(screen: HistoryScreen) -> int:
    if not screen.taps.picked:
        raise NotPossibleNow("Nothing was tapped yet.")
    return screen.taps.picked
