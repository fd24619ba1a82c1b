"""The plan of the shop as a picture: hides by days, and in words what is chosen on it."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import PurePath
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.content import Content
from textual.getters import query_one
from textual.widgets import Static

from benchconsole.console.acts import ActScreen
from benchconsole.console.screens import timeline_acts as acts
from benchconsole.console.screens.pages import HelpOnPage
from benchconsole.console.screens.plan_words import choice_lines
from benchconsole.console.widgets.cells import plain
from benchconsole.console.widgets.key_line import KeyLine
from benchconsole.console.widgets.paper import Paper
from benchconsole.console.widgets.timeline import Timeline
from benchconsole.console.widgets.timeline_layout import (
    AT_WORK,
    BAR_MARKS,
    CLOSED,
    DUE,
    EARLIEST,
    LATEST,
    NOW,
)
from benchconsole.console.widgets.timeline_ruler import STEP_WORDS, STEPS
from benchconsole.exchange.marks import ROUND, VISIT_MARKS
from benchconsole.schedule.planning.plans import Plan

PlanSource = Callable[[], Plan | None]

WAITS = "The plan is being worked out …"
NO_HIDES = "No hides yet: there is nothing to plan."
ROOM_FOR_ALL_KEYS = 30
"""Rows from which on every key is named."""

LEGEND = (
    f"{VISIT_MARKS['visit']}{AT_WORK} visit",
    f"{VISIT_MARKS['visit-late']} past due",
    f"{VISIT_MARKS['visit-too-late']} past latest",
    f"{BAR_MARKS['early']} too early",
    f"{BAR_MARKS['open']} may be done",
    f"{BAR_MARKS['past-due']} past due",
    f"{BAR_MARKS['past-latest']} past latest",
    f"{BAR_MARKS['store']} in store",
    f"{EARLIEST}{DUE}{LATEST} earliest, due, latest",
    f"{ROUND} round",
    f"{CLOSED} closed",
    f"{NOW} now",
)
"""What the characters say, in pieces that are never split."""


class TimelineScreen(ActScreen[None]):
    """The picture over the words; ``source`` gives the newest plan, None while there is none."""

    CSS_PATH: ClassVar[str | PurePath | list[str | PurePath] | None] = "../styles/timeline.tcss"
    AUTO_FOCUS = ""
    ACTS = (
        acts.Later,
        acts.Earlier,
        acts.BackToNow,
        acts.ZoomIn,
        acts.ZoomOut,
        acts.LineAbove,
        acts.LineBelow,
        acts.NextVisit,
        acts.VisitBefore,
        acts.HoldBefore,
        acts.ReadOn,
        acts.ReadBack,
        acts.OpenCardHere,
        HelpOnPage,
        acts.LeaveTimeline,
    )

    timeline = query_one("#timeline", Timeline)
    words = query_one("#chosen", Paper)

    def __init__(self, source: PlanSource | None = None) -> None:
        super().__init__()
        self._source = source or self._plan_of_the_shop

    def compose(self) -> ComposeResult:
        """Heading, picture, legend, words, keys."""
        yield Static("", classes="heading", id="heading", markup=False)
        yield Static(WAITS, id="waits", markup=False)
        yield Timeline(id="timeline")
        yield Static("", id="legend", markup=False)
        yield Paper(id="chosen")
        yield KeyLine("", id="keys", markup=False)

    def on_mount(self) -> None:
        """Draw what there is; the keys are the screen's, whatever was touched."""
        self.words.can_focus = False
        self.look_again()

    def on_resize(self) -> None:
        """More room may hold more keys, and the legend on fewer lines."""
        self.query_one("#legend", Static).update(Content(legend(self.size.width - 2)))
        self.show_keys()

    def show_keys(self) -> None:
        """The key line, as much of it as there is room for."""
        every = self.size.height >= ROOM_FOR_ALL_KEYS
        self.query_one("#keys", KeyLine).show(self.acts(), self, all_acts=every)

    @property
    def plan(self) -> Plan | None:
        """The plan on the screen."""
        return self.timeline.plan

    def look_again(self) -> None:
        """Draw the newest plan at the present hour; the place in it stays."""
        if not self.console.is_open:
            return
        plan = self._source()
        shown = plan if plan is not None else self.timeline.plan
        drawn = shown is not None and bool(shown.hides)
        self.query_one("#waits").display = not drawn
        for part in ("#timeline", "#legend", "#chosen"):
            self.query_one(part).display = drawn
        desk = self.console.desk
        if shown is not None:
            self.timeline.show(shown, desk.now(), desk.zone)
        self.query_one("#waits", Static).update(WAITS if shown is None else NO_HIDES)
        self.write()

    def write(self) -> None:
        """Heading, words and keys as things stand now."""
        desk, plan = self.console.desk, self.timeline.plan
        now, zone = desk.now(), desk.zone
        local = desk.local(now)
        words = f"Timeline  ·  {local:%a} {local.day} {local:%b %H:%M}"
        if plan is not None:
            step = STEP_WORDS[STEPS.index(self.timeline.step)]
            until = desk.local(plan.until)
            words += f"  ·  a column is {step}  ·  until {until:%a} {until.day} {until:%b}"
            lines = choice_lines(self.timeline.choice, plan, now, zone)
            self.words.show(lines)
        heading = self.query_one("#heading", Static)
        if heading.content != (content := Content(plain(words))):
            heading.update(content)
        self.show_keys()

    def _plan_of_the_shop(self) -> Plan | None:
        return self.console.plan

    @on(Timeline.Chosen)
    def _chosen(self) -> None:
        self.write()

    @on(Timeline.Opened)
    def _opened(self) -> None:
        self.action_act("OpenCardHere")


def legend(room: int) -> str:
    """The legend on as few lines of ``room`` cells as hold it."""
    lines = [""]
    for piece in LEGEND:
        longer = f"{lines[-1]}  {piece}" if lines[-1] else piece
        if len(longer) <= room:
            lines[-1] = longer
        else:
            lines.append(piece)
    return "\n".join(lines)
