"""What a person can do at the bench with timers, one class an act."""

from __future__ import annotations

from typing import TYPE_CHECKING

from benchconsole.console.acts import Act
from benchconsole.errors import NotPossibleNow

if TYPE_CHECKING:
    from benchconsole.console.screens.bench import BenchScreen


class NewTimer(Act["BenchScreen"]):
    """Set a timer of your own: a name and a time."""

    keys = "t"
    label = "Timer"
    records = True

    def run(self, screen: BenchScreen) -> None:
        """Open the timer form."""
        from benchconsole.console.screens.timer_form import TimerFormScreen

        def set_(sentence: str | None) -> None:
            screen.look_again()
            if sentence:
                screen.answered(f"timer/{screen.console.desk.timers.newest()}", sentence)

        screen.app.push_screen(TimerFormScreen(), set_)


class TimerAct(Act["BenchScreen"]):
    """An act on a timer: the chosen one, else the one that rings or ends first."""

    def possible(self, screen: BenchScreen) -> bool:
        """When there is a timer."""
        return bool(screen.timers.chosen)

    def chosen(self, screen: BenchScreen) -> str:
        """The chosen timer; ``NotPossibleNow`` if there is none."""
        if not screen.timers.chosen:
            raise NotPossibleNow("No timer runs: press t to set one.")
        return screen.timers.chosen


class PauseTimer(TimerAct):
    """Hold the chosen timer, or let it go on."""

    keys = "p"
    label = "Pause"
    records = True
    settle_s = 0.5

    def run(self, screen: BenchScreen) -> None:
        """Pause or go on."""
        timer = self.chosen(screen)
        screen.answered(f"timer/{timer}", screen.console.desk.timers.pause_or_go_on(timer))


class ExtendTimer(TimerAct):
    """Give the chosen timer more time."""

    keys = "e"
    label = "Extend"
    records = True

    def run(self, screen: BenchScreen) -> None:
        """Ask how much."""
        from benchconsole.console.screens.timer_form import TimerFormScreen

        timer = self.chosen(screen)
        screen.app.push_screen(TimerFormScreen(extend=timer), screen.answers_for(f"timer/{timer}"))


class NameTimer(TimerAct):
    """Give the chosen timer another name."""

    keys = "r"
    label = "Rename"
    records = True

    def run(self, screen: BenchScreen) -> None:
        """Ask for the name."""
        from benchconsole.console.screens.timer_form import TimerFormScreen

        timer = self.chosen(screen)
        screen.app.push_screen(TimerFormScreen(rename=timer), screen.answers_for(f"timer/{timer}"))


class CancelTimer(TimerAct):
    """Take the chosen timer away; u brings it back."""

    keys = "c"
    label = "Cancel timer"
    records = True
    settle_s = 0.5

    def run(self, screen: BenchScreen) -> None:
        """Cancel it."""
        timer = self.chosen(screen)
        screen.answered(f"timer/{timer}", screen.console.desk.timers.cancel(timer))
