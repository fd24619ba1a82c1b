"""One hide, its stage and the hour: what every kind of action is worked out from."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import NamedTuple

from benchconsole.model.routes import Hold, Route, Stage
from benchconsole.model.state import HideState
from benchconsole.quantities import format_duration
from benchconsole.schedule.actions import Action, ActionKind, ActionState
from benchconsole.schedule.hours import Hours
from benchconsole.schedule.windows import Window, inside_hours
from benchconsole.schedule.wording import sentences, wall_time


class Act(NamedTuple):
    """What is to be done, and the words and places that belong to it.

    ``because`` says why then; ``early`` what to know before ``earliest``; ``harm`` is the
    stage whose limit rules (its ``late`` and ``inspect`` are shown). ``stored``: the hide
    waits for the person's own choice, not for a time. ``closing`` is what to see to before the
    shop closes.
    """

    kind: ActionKind
    words: str
    because: str
    early: str
    harm: Stage
    stored: bool = False
    coat: int = 0
    attention: int | None = None
    check: str = ""
    closing: str = ""


@dataclass(frozen=True, kw_only=True, slots=True)
class Standing:
    """A hide in a stage of its route, the shop's hours and the present instant."""

    hide: HideState
    route: Route
    stage: Stage
    hours: Hours
    now: datetime

    @property
    def hold(self) -> Hold | None:
        """The stage's hold for this hide."""
        return self.stage.hold_for(self.hide.species, self.hide.came)

    @property
    def hold_from(self) -> datetime:
        """When the hold began to count; the arrival, if the stage was never begun."""
        return self.hide.hold_from or self.hide.begun_at or self.hide.arrived_at

    def wall(self, instant: datetime) -> str:
        """An instant on the shop's wall, as it would be said now."""
        return wall_time(instant, self.hours.zone, self.now)

    def inside_hours(
        self,
        earliest: datetime,
        due: datetime,
        latest: datetime | None,
        *,
        there: timedelta = timedelta(0),
        seen: datetime | None = None,
    ) -> Window:
        """The window brought inside the shop's hours, its reason worded as seen from now."""
        return inside_hours(
            earliest, due, latest, self.hours, told_at=self.now, there=there, seen=seen
        )

    def action(self, act: Act, window: Window) -> Action:
        """The record of an act with its window, its urgency now and its reasons in words."""
        state = urgency(window, self.now, stored=act.stored)
        by_hand = act.kind in ("begin", "coat")
        return Action(
            hide=self.hide.id,
            hide_name=self.hide.name,
            stage=self.stage.id,
            stage_name=self.stage.name,
            kind=act.kind,
            action=act.words,
            earliest=window.earliest,
            due=window.due,
            latest=window.latest,
            ideal=window.ideal,
            state=state,
            why=sentences(act.because, *self._timing(act, window, state), act.closing),
            spoils=act.harm.late,
            needs=_needs(self.stage) if by_hand else (),
            mix=self._mix(act),
            check=act.check,
            gate=self.stage.gate if act.kind == "check" else "",
            inspect=act.harm.inspect if state == "overdue" else "",
            work=self.stage.work if by_hand else timedelta(0),
            coat=act.coat,
            attention=act.attention,
            facts=self.hide.facts,
        )

    def _mix(self, act: Act) -> str:
        """Made once for the stage: a later coat is the rest of it, unless that has spoiled."""
        spoiled = act.kind == "coat" and self.hide.spoiled_at is not None
        return self.stage.mix_for(self.hide.came) if act.kind == "begin" or spoiled else ""

    def _timing(self, act: Act, window: Window, state: ActionState) -> tuple[str, ...]:
        if state == "overdue" and window.latest is not None:
            # What moved the due time is of no use any more.
            return (f"late by {format_duration(self.now - window.latest)}",)
        return (window.why, act.early if self.now < window.earliest else "")


def _needs(stage: Stage) -> tuple[str, ...]:
    """The vessel first, unless something with it in its name is needed anyway."""
    if not stage.vessel or any(stage.vessel in need.split() for need in stage.needs):
        return stage.needs
    return (stage.vessel, *stage.needs)


def urgency(window: Window, now: datetime, *, stored: bool = False) -> ActionState:
    """How pressing a window is at an instant."""
    if window.latest is not None and now > window.latest:
        return "overdue"
    if now >= window.due:
        return "due"
    if stored:
        return "stored"
    return "ready" if now >= window.earliest else "waiting"
