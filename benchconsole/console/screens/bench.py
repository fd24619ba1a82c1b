"""The bench: hides, mix and timers at once, and the line of the day on top."""

from __future__ import annotations

from pathlib import PurePath
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.containers import Container, Vertical
from textual.content import Content
from textual.getters import query_one
from textual.widgets import Footer, Static

from benchconsole.console.acts import ActScreen
from benchconsole.console.panes.day_line import DayLineBar
from benchconsole.console.panes.hide_list import HideList
from benchconsole.console.panes.mix import MixPane
from benchconsole.console.panes.next_step import NextStep
from benchconsole.console.panes.timer_board import TimerBoard, TimerLines
from benchconsole.console.screens import bench_acts as acts
from benchconsole.console.widgets.cells import plain

if TYPE_CHECKING:
    from benchconsole.desk.views import HideRow

FIRST_STEPS = """\
No hides yet. How it goes:

 g  your shop: scale, measures,
    hours. Begin with this.
 i  take in a hide
 m  bring up the mix it needs
 w  weigh it out
 d  done: it is in, the wait runs
 a  attended: stirred, turned
 v  passed the check
 t  set a timer
 ?  every key
"""
"""What an empty shop shows; narrow enough for the hide list of an 80-column terminal."""


class BenchScreen(ActScreen[None]):
    """Owns nothing but the choice; every second it draws what the desk says.

    As the screen that is always there it also brings the styles of those that come over it.
    """

    CSS_PATH: ClassVar[str | PurePath | list[str | PurePath] | None] = [
        "../styles/bench.tcss",
        "../styles/screens.tcss",
        "../styles/weigh_out.tcss",
    ]

    ACTS = (
        acts.Done,
        acts.Pass,
        acts.NotYet,
        acts.Attend,
        acts.MixForHide,
        acts.WeighOut,
        acts.Help,
        acts.Undo,
        acts.OpenCard,
        acts.WriteNote,
        acts.TakeIn,
        acts.ShowDaySheet,
        acts.ChooseFormula,
        acts.ShowWorking,
        acts.NewTimer,
        acts.HearTimer,
        acts.PauseTimer,
        acts.ExtendTimer,
        acts.NameTimer,
        acts.CancelTimer,
        acts.SetUpShop,
        acts.LeavePane,
        acts.Quit,
    )

    day_line = query_one("#day-line", DayLineBar)
    hides = query_one("#hides", HideList)
    mix = query_one("#mix", MixPane)
    timers = query_one("#timers", TimerBoard)
    next_step = query_one("#next-step", NextStep)
    first_steps = query_one("#first-steps", Static)
    said = query_one("#said", Static)

    def __init__(self) -> None:
        super().__init__()
        self._filled = False
        self._rows: tuple[HideRow, ...] = ()
        self._possible: tuple[tuple[str, str], bool] | None = None

    def compose(self) -> ComposeResult:
        """Hides on the left, mix and timers beside them."""
        yield DayLineBar(id="day-line")
        with Container(id="panes"):
            with Vertical(id="hides-pane"):
                yield HideList(id="hides")
                yield NextStep("", id="next-step", markup=False)
                yield Static(Content(FIRST_STEPS), id="first-steps", markup=False)
            with Container(id="beside"):
                yield MixPane(id="mix")
                yield TimerBoard(id="timers")
        yield Static("", id="said", markup=False)
        yield Footer(compact=True, show_command_palette=False)

    def on_mount(self) -> None:
        """The hides have the keys to begin with."""
        self.query_one("#hides-pane").border_title = "Hides"
        self.first_steps.display = False
        self.hides.focus()
        self.look_again()

    def look_again(self) -> None:
        """Draw the desk's present state."""
        if not self.console.is_open:
            return
        desk = self.console.desk
        if not self._filled:
            self._filled = True
            self.mix.open(desk)
        rows = self._rows = desk.hides.rows()
        now = desk.now()
        self.day_line.show(desk.day_line(rows), desk.shop.name)
        self.hides.show(rows, now)
        self.hides.display = bool(rows)
        row = self.chosen_row
        self.next_step.show(row.action if row else None, now, desk.zone)
        self.first_steps.display = not rows
        self.timers.show(desk.timers.all())
        possible = (row.hide.id, row.action.kind) if row else ("", ""), bool(self.timers.chosen)
        if possible != self._possible:
            # The footer is made anew by this, which a second without news does not deserve.
            self._possible = possible
            self.refresh_bindings()

    @property
    def chosen_row(self) -> HideRow | None:
        """The chosen hide with its next action, as they stand on the screen."""
        chosen = self.hides.chosen
        return next((row for row in self._rows if row.hide.id == chosen), None)

    def tell(self, sentence: str, *, fault: bool = False) -> None:
        """Answer a tap on the line above the keys, where it covers nothing."""
        mark, style = ("▲", "bold $text-warning") if fault else ("✓", "bold $text-success")
        self.said.update(Content.assemble((f" {mark} ", style), plain(sentence)))

    def settings_changed(self) -> None:
        """Measures or scale may differ: the mix is worked out anew."""
        self.mix.open(self.console.desk)
        self.look_again()

    @property
    def timers_focused(self) -> bool:
        """Whether the keys go to the timers."""
        return isinstance(self.focused, TimerLines)

    @on(HideList.Chosen)
    def _hide_chosen(self) -> None:
        self.look_again()

    @on(HideList.Opened)
    def _hide_opened(self) -> None:
        self.action_act("OpenCard")
