"""The bench: hides, mix and timers at once, and the line of the day on top."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import PurePath
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.containers import Container, Vertical
from textual.content import Content
from textual.getters import query_one
from textual.widgets import Static

from benchconsole.console.acts import ActScreen
from benchconsole.console.panes.day_line import DayLineBar
from benchconsole.console.panes.first_steps import first_steps
from benchconsole.console.panes.hide_list import HideList
from benchconsole.console.panes.mix import MixPane
from benchconsole.console.panes.next_step import NextStep
from benchconsole.console.panes.planned_times import planned_times, planned_words
from benchconsole.console.panes.timer_board import TimerBoard, TimerLines
from benchconsole.console.screens import bench_acts as acts
from benchconsole.console.screens import hide_acts, timer_acts
from benchconsole.console.screens.copies_acts import ShowCopies
from benchconsole.console.screens.finished import ShowFinished
from benchconsole.console.screens.history_acts import HISTORY_ACTS
from benchconsole.console.screens.planning_acts import PLANNING_ACTS
from benchconsole.console.screens.round import GoRound
from benchconsole.console.screens.sums import ShowSums
from benchconsole.console.widgets.cells import plain
from benchconsole.console.widgets.key_line import KeyLine

if TYPE_CHECKING:
    from benchconsole.desk.views import HideRow

ROOM_FOR_ALL_KEYS = 30
"""Rows from which on every key is named on the bench; below, the ones needed most."""

HIDE_TAPS = ("hide", "taken-in", "round")
"""The first words of what the bench remembers a tap by, where it was about a hide."""


class BenchScreen(ActScreen[None]):
    """Owns nothing but the choice; every second it draws what the desk says.

    As the screen that is always there it also brings the styles of those that come over it.
    """

    CSS_PATH: ClassVar[str | PurePath | list[str | PurePath] | None] = [
        "../styles/bench.tcss",
        "../styles/screens.tcss",
        "../styles/weigh_out.tcss",
        "../styles/round.tcss",
    ]

    ACTS = (
        hide_acts.Done,
        hide_acts.Pass,
        hide_acts.NotYet,
        hide_acts.Attend,
        GoRound,
        hide_acts.MixForHide,
        acts.WeighOut,
        acts.Undo,
        acts.TakeIn,
        timer_acts.NewTimer,
        acts.HearTimer,
        acts.Help,
        acts.ChooseFormula,
        acts.ShowWorking,
        ShowSums,
        hide_acts.OpenCard,
        hide_acts.WriteNote,
        hide_acts.CorrectHide,
        acts.ShowDaySheet,
        *PLANNING_ACTS,
        *HISTORY_ACTS,
        timer_acts.PauseTimer,
        timer_acts.ExtendTimer,
        timer_acts.NameTimer,
        timer_acts.CancelTimer,
        ShowCopies,
        ShowFinished,
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
    keys = query_one("#keys", KeyLine)

    def __init__(self) -> None:
        super().__init__()
        self._filled = False
        self._rows: tuple[HideRow, ...] = ()
        self._doubt = ""
        self.last_tapped = ""
        """What the last tap was about (``hide/ID``, ``taken-in/ID``, ``timer/ID``,
        ``weigh-out/ID``, ``round/HIDE``, ``shop/``), for undo."""
        self.taken_back = ""
        """What undo has just taken back, in the same words, for putting it back."""

    def compose(self) -> ComposeResult:
        """Hides on the left, mix and timers beside them."""
        yield DayLineBar(id="day-line")
        with Container(id="panes"):
            with Vertical(id="hides-pane"):
                yield HideList(id="hides")
                yield NextStep("", id="next-step", markup=False)
                yield Static("", id="first-steps", markup=False)
            with Container(id="beside"):
                yield MixPane(id="mix")
                yield TimerBoard(id="timers")
        yield Static("", id="said", markup=False)
        yield KeyLine("", id="keys", markup=False)

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
            self._tell_what_waits()
        rows = desk.hides.rows()
        now = desk.now()
        self.day_line.show(desk.day_line(rows), desk.shop.name)
        if desk.doubt != self._doubt:
            self._doubt = desk.doubt
            if desk.doubt:
                self.tell(desk.doubt, fault=True)
        self.hides.show(rows, now, planned_times(desk, rows))
        self.hides.display = bool(rows)
        self.first_steps.display = not rows
        if not rows:
            self.first_steps.update(Content(first_steps(unset=desk.settings.are_unset)))
        self._rows = rows
        row = self.chosen_row
        action, planned = row.action if row else None, planned_words(desk, row)
        self.next_step.show(action, now, desk.zone, desk.library, planned)
        self.timers.show(desk.timers.all())
        self.show_keys()

    def show_keys(self) -> None:
        """The key line, as much of it as there is room for."""
        self.keys.show(self.acts(), self, all_acts=self.size.height >= ROOM_FOR_ALL_KEYS)

    def on_resize(self) -> None:
        """More room may hold more keys."""
        if self.console.is_open:
            self.show_keys()

    def _tell_what_waits(self) -> None:
        """A weigh-out that was left is not to be forgotten."""
        left = self.console.desk.weigh_outs.unfinished()
        if left is not None:
            self.tell(f"A weigh-out waits: {left.plan.formula_name}. Press w to go on with it.")

    @property
    def chosen_row(self) -> HideRow | None:
        """The chosen hide with its next action, as they stand on the screen."""
        chosen = self.hides.chosen
        return next((row for row in self._rows if row.hide.id == chosen), None)

    @property
    def pressed_for(self) -> str:
        """A key counts for the hide it is pressed on."""
        return self.hides.chosen

    def choose(self, hide: str) -> None:
        """Choose a hide and give the list the keys."""
        self.hides.display = True
        self.hides.chosen = hide
        self.hides.focus()

    def tell(self, sentence: str, *, fault: bool = False) -> None:
        """Answer a tap on the line above the keys, where it covers nothing."""
        mark, style = ("▲", "bold $text-warning") if fault else ("✓", "bold $text-success")
        self.said.update(Content.assemble((f" {mark} ", style), plain(sentence)))

    def answered(self, subject: str, sentence: str) -> None:
        """Show what a tap about ``subject`` did, and the new state; undo goes there first."""
        self.last_tapped, self.taken_back = subject, ""
        self.hides.hold_order()
        self.look_again()
        self.tell(sentence)

    def answers_for(self, subject: str) -> Callable[[str | None], None]:
        """What to do with the sentence that a form is left with, None if nothing was done."""

        def answer(sentence: str | None) -> None:
            self.look_again()
            if sentence:
                self.answered(subject, sentence)

        return answer

    def forget_answer(self) -> None:
        """What was said belongs to what was done before."""
        self.said.update("")

    def on_descendant_focus(self) -> None:
        """On the smallest screens the mix takes the place of the hides while it has the keys."""
        self.set_class(self.mix.has_focus_within, "-mixing")

    @on(HideList.Chosen)
    def _hide_chosen(self, event: HideList.Chosen) -> None:
        if self.last_tapped not in {f"{kind}/{event.hide}" for kind in HIDE_TAPS}:
            # Undo follows the eye: another hide is looked at now.
            self.last_tapped = ""
        self.look_again()

    @on(HideList.Moved)
    def _moved(self) -> None:
        self.taken_back = ""
        self.forget_answer()

    def past_changed(self) -> None:
        """Taps went or came back elsewhere: what was said, and what u had in mind, is old."""
        self.last_tapped = self.taken_back = ""
        self.forget_answer()
        self.mix.settings_changed()
        self.look_again()

    @on(TimerLines.Chosen)
    def _timer_chosen(self, event: TimerLines.Chosen) -> None:
        self.last_tapped = f"timer/{event.timer}"

    @on(HideList.Opened)
    def _hide_opened(self) -> None:
        self.action_act("OpenCard")
