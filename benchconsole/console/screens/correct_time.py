"""The form that says when a tap really happened."""

from __future__ import annotations

from collections.abc import Iterable

from textual.widget import Widget

from benchconsole.console.acts import Act
from benchconsole.console.screens.forms import FormScreen
from benchconsole.console.widgets.entries import Field, Line
from benchconsole.desk.words import moment_words


class KeepTime(Act["CorrectTimeScreen"]):
    """Correct the time; enter does the same."""

    keys = "f2"
    label = "Correct"
    records = True
    while_typing = True

    def run(self, screen: CorrectTimeScreen) -> None:
        """Give it to the desk."""
        screen.attempt()


class CorrectTimeScreen(FormScreen[str]):
    """Dismissed with the sentence to show, or None."""

    ACTS = (KeepTime,)
    keep = KeepTime

    def __init__(self, tap: int) -> None:
        super().__init__()
        self.tap = tap

    def heading(self) -> str:
        """What happened."""
        line = self.console.desk.taps.line(self.tap)
        return f"When was it really?  {line.about}: {line.words}"

    def entries(self) -> Iterable[Widget]:
        """The time as it is known now."""
        desk = self.console.desk
        told = moment_words(desk.taps.line(self.tap).at, desk.zone)
        label = "Time (for example: 14:10; yesterday 9:30; 20 min earlier)"
        yield Field("time", label, Line(told, replace=True), id="time")

    def hint(self) -> str:
        """Between which times it must lie."""
        desk = self.console.desk
        room = desk.taps.room(self.tap)
        earliest, latest = (moment_words(at, desk.zone) for at in (room.earliest, room.latest))
        return f"From {earliest} to {latest}: what was tapped before and after it stays there."

    def hand_in(self) -> str:
        """Correct it; the sentence to show."""
        return self.console.desk.taps.correct_time(self.tap, self.text("time"))
