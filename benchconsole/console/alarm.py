"""What rings: the bell, the line over every screen but the bench, and that it was heard."""

from __future__ import annotations

from typing import TYPE_CHECKING

from benchconsole.console.widgets.alarm_line import show_alarm
from benchconsole.errors import NotPossibleNow

if TYPE_CHECKING:
    from benchconsole.console.app import BenchApp

BENCH_DEPTH = 2
"""How many screens lie on each other when the bench is in front: the first frame, the bench."""


class Alarm:
    """Rings for a console until somebody heard it."""

    def __init__(self, app: BenchApp) -> None:
        self._app = app
        self._quiet: set[str] = set()

    def ring(self) -> None:
        """Ring for the timers that are up, once; take the line away when none is."""
        desk, screens = self._app.desk, self._app.screen_stack
        ringing = [c for c in desk.timers.all() if c.state == "ringing"]
        self._quiet &= {c.id for c in ringing}
        names = [c.name for c in ringing if c.id not in self._quiet]
        if names and desk.shop.bell:
            self._app.bell()
        # The bench shows it large itself; over every other screen stands a line until it is heard.
        for screen in screens:
            covers = screen is self._app.screen and len(screens) > BENCH_DEPTH
            show_alarm(screen, names if covers else [])

    def hear(self, preferred: str = "") -> tuple[str, str]:
        """Acknowledge what rings, ``preferred`` first; its id and the sentence to show.

        A console that only looks on records nothing, and is quiet by itself alone.
        Raises ``NotPossibleNow`` when nothing rings.
        """
        desk = self._app.desk
        ringing = [c.id for c in desk.timers.all() if c.state == "ringing"]
        if not ringing:
            raise NotPossibleNow("Nothing rings.")
        timer = preferred if preferred in ringing else ringing[0]
        if desk.refusal:
            self._quiet |= set(ringing)
            sentence = "Quiet here; it rings at the other console until it is heard there"
        else:
            sentence = desk.timers.acknowledge(timer)
        for screen in self._app.screen_stack:
            if hasattr(screen, "last_tapped"):
                screen.last_tapped = f"timer/{timer}"
        self.ring()
        self._app.look_again()
        return timer, sentence
