"""The history: every tap, newest first, of the whole shop or of one hide."""

from __future__ import annotations

from pathlib import PurePath
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal
from textual.content import Content
from textual.getters import query_one
from textual.widgets import Static

from benchconsole.console.acts import ActScreen
from benchconsole.console.screens.history_acts import (
    CorrectTime,
    LeaveHistory,
    PutBackPicked,
    TakeBackFrom,
)
from benchconsole.console.screens.history_words import about_tap, history_line
from benchconsole.console.screens.pages import HelpOnPage
from benchconsole.console.screens.sure_of_taps import SureOfTapsScreen, Way
from benchconsole.console.widgets.act_buttons import act_buttons
from benchconsole.console.widgets.cells import plain
from benchconsole.console.widgets.history_list import HistoryLine, HistoryList
from benchconsole.console.widgets.paper import Paper, Written
from benchconsole.desk.tap_lines import TapLine
from benchconsole.desk.taps import Change
from benchconsole.errors import BenchError


class HistoryScreen(ActScreen[None]):
    """The taps about ``hide``, or all; the page stays open while taps go and come back."""

    CSS_PATH: ClassVar[str | PurePath | list[str | PurePath] | None] = "../styles/history.tcss"
    AUTO_FOCUS = "#history"
    ACTS = (TakeBackFrom, PutBackPicked, CorrectTime, LeaveHistory, HelpOnPage)

    taps = query_one("#history", HistoryList)
    words = query_one("#words", Paper)

    def __init__(self, hide: str = "") -> None:
        super().__init__()
        self._hide = hide
        self._drawn: tuple[object, ...] = ()

    def compose(self) -> ComposeResult:
        """Heading, the taps, words about the picked one, a button for every act."""
        yield Static(id="heading", classes="heading", markup=False)
        yield HistoryList(id="history")
        yield Paper(id="words")
        yield Static(id="said", markup=False)
        with Horizontal(classes="buttons"):
            yield from act_buttons(self.acts())

    def on_mount(self) -> None:
        """Write it."""
        self.words.can_focus = False
        self._draw()

    @property
    def line(self) -> TapLine | None:
        """The picked tap, None if there is none."""
        return self.console.desk.taps.line(self.taps.picked) if self.taps.picked else None

    @property
    def pressed_for(self) -> str:
        """A key counts for the tap it is pressed on."""
        return str(self.taps.picked)

    def look_again(self) -> None:
        """Draw it anew when something was tapped or a minute went by."""
        if self.is_mounted:
            self._draw()

    def _draw(self) -> None:
        desk = self.console.desk
        drawn = (desk.version, desk.now().replace(second=0, microsecond=0))
        if drawn != self._drawn:
            self._drawn = drawn
            self.taps.show(desk.taps.numbers(self._hide), self._line)
            self._write()

    def change(self, change: Change, way: Way) -> None:
        """Take back or put back; what goes beyond the picked tap only after it was shown."""
        if not change.beyond:
            self._do(change, way)
            return

        def answered(sure: bool | None) -> None:
            if sure:
                try:
                    self._do(change, way)
                except BenchError as fault:
                    self.tell(str(fault), fault=True)

        self.app.push_screen(SureOfTapsScreen(change, way), answered)

    def tell(self, sentence: str, *, fault: bool = False) -> None:
        """Answer a tap on the line above the buttons, where it covers nothing."""
        mark, style = ("▲", "bold $text-warning") if fault else ("✓", "bold $text-success")
        said = Content.assemble((f"{mark} ", style), plain(sentence))
        self.query_one("#said", Static).update(said)

    def told(self, sentence: str | None) -> None:
        """Show what was done."""
        if sentence:
            self.tell(sentence)
        self.look_again()

    def _do(self, change: Change, way: Way) -> None:
        taps = self.console.desk.taps
        self.told(taps.take_back(change) if way == "back" else taps.put_back(change))

    def _line(self, tap: int) -> HistoryLine:
        desk = self.console.desk
        of = desk.taps.name(self._hide) if self._hide else ""
        return history_line(desk.taps.line(tap), desk.now(), desk.zone, of=of)

    @on(HistoryList.Picked)
    def _other_picked(self) -> None:
        """What was said belongs to the tap before."""
        self.query_one("#said", Static).update("")
        self._write()

    def _write(self) -> None:
        line, desk = self.line, self.console.desk
        of = f"History of {desk.taps.name(self._hide)}" if self._hide else "History of the shop"
        newest = "  ·  newest first" if line else ""
        self.query_one("#heading", Static).update(Content(plain(f"{of}{newest}")))
        nothing = [Written("Nothing was tapped yet.")]
        self.words.show(list(about_tap(line, desk.zone)) if line else nothing)
