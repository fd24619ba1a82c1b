"""Asked before several taps are taken back or put back as one: these, and no others."""

from __future__ import annotations

from pathlib import PurePath
from typing import ClassVar, Literal

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Button, Static

from benchconsole.console.acts import Act, ActScreen
from benchconsole.console.screens.history_words import change_lines
from benchconsole.console.widgets.paper import Paper
from benchconsole.desk.taps import Change

Way = Literal["back", "again"]
_ASKS: dict[Way, str] = {"back": "Take these {many} taps back?", "again": "Put these {many} back?"}
_WHY: dict[Way, str] = {
    "back": "The later ones rest on the one you picked. They go as one: F2 puts them all back.",
    "again": "What was taken from under it comes first. They come as one: u takes them back.",
}


class Sure(Act["SureOfTapsScreen"]):
    """Take back, or put back, the taps that are listed."""

    keys = "enter"
    label = "Yes"
    records = True
    settle_s = 0.5

    def run(self, screen: SureOfTapsScreen) -> None:
        """Answer yes."""
        screen.dismiss(True)


class NotSure(Act["SureOfTapsScreen"]):
    """Leave all as it is."""

    keys = "escape,q"
    label = "Leave"

    def run(self, screen: SureOfTapsScreen) -> None:
        """Answer no."""
        screen.dismiss(False)


class SureOfTapsScreen(ActScreen[bool], ModalScreen[bool]):
    """Dismissed with whether the taps are to be taken back (``way`` "back") or put back."""

    ACTS = (Sure, NotSure)
    AUTO_FOCUS = "Paper"
    CSS_PATH: ClassVar[str | PurePath | list[str | PurePath] | None] = "../styles/question.tcss"

    def __init__(self, change: Change, way: Way) -> None:
        super().__init__()
        self.add_class("-question")
        self._change = change
        self._way = way

    def compose(self) -> ComposeResult:
        """The question, the taps, why so many, two buttons."""
        many = len(self._change.lines)
        with Vertical(classes="box"):
            yield Static(Content(_ASKS[self._way].format(many=many)), classes="heading")
            yield Paper(id="taps")
            yield Static(Content(_WHY[self._way]), classes="says")
            with Horizontal(classes="buttons"):
                yield Button(
                    Content("Yes  (enter)"), variant="primary", action="screen.act('Sure')"
                )
                yield Button(Content("Leave  (esc)"), action="screen.act('NotSure')")

    def on_mount(self) -> None:
        """Write the taps."""
        desk = self.console.desk
        self.query_one(Paper).show(list(change_lines(self._change, desk.now(), desk.zone)))
        self.query_one(Paper).styles.max_height = len(self._change.lines) * 2 + 2
