"""A timer of one's own: set, extended or renamed."""

from __future__ import annotations

from collections.abc import Iterable

from textual import on
from textual.containers import Horizontal
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Button

from benchconsole.console.acts import Act
from benchconsole.console.screens.forms import FormScreen
from benchconsole.console.widgets.entries import Field, Line
from benchconsole.errors import NotKnown

QUICK = ("10 min", "30 min", "1 h")
"""The usual waits, one tap each."""


class KeepTimer(Act["TimerFormScreen"]):
    """Hand in the timer's name and time; enter on the last field does the same."""

    keys = "f2"
    label = "Start"
    records = True
    while_typing = True

    def run(self, screen: TimerFormScreen) -> None:
        """Give it to the desk."""
        screen.attempt()


class TimerFormScreen(FormScreen[str]):
    """A new timer; or, with the id of one, more time for it or another name.

    Dismissed with the sentence to show, or None.
    """

    ACTS = (KeepTimer,)
    keep = KeepTimer

    def __init__(self, *, extend: str = "", rename: str = "") -> None:
        super().__init__()
        self._extend = extend
        self._rename = rename

    def heading(self) -> str:
        """What is done to which timer."""
        if self._extend:
            return f"More time for {self._called(self._extend)}"
        if self._rename:
            return f"Another name for {self._called(self._rename)}"
        return "A new timer"

    def keep_label(self) -> str:
        """What the big button says."""
        return "Add" if self._extend else "Rename" if self._rename else KeepTimer.label

    def _called(self, timer_id: str) -> str:
        for countdown in self.console.desk.timers.all():
            if countdown.id == timer_id:
                return str(countdown.name)
        raise NotKnown("timer", timer_id)

    def entries(self) -> Iterable[Widget]:
        """The name, the time, and the usual times as buttons."""
        if not self._extend:
            name = self._called(self._rename) if self._rename else ""
            yield Field("name", "Name (for example warm water)", Line(name), id="name")
        if not self._rename:
            yield Field("time", "Time (for example 45 min or 1 h 30 min)", Line(), id="time")
            with Horizontal(id="quick"):
                for wait in QUICK:
                    yield Button(Content(wait), name=wait, classes="quick")

    @on(Button.Pressed, ".quick")
    def _quick(self, event: Button.Pressed) -> None:
        """One tap sets the time, and starts it unless the name is still missing."""
        event.stop()
        entry = self.field("time").entry
        assert isinstance(entry, Line)
        entry.value = event.button.name or ""
        self.attempt()

    def hand_in(self) -> str:
        """Set, extend or rename; the sentence to show."""
        timers = self.console.desk.timers
        if self._extend:
            return str(timers.extend(self._extend, self.text("time")))
        if self._rename:
            return str(timers.rename(self._rename, self.text("name")))
        return str(timers.set(self.text("name"), self.text("time")))
