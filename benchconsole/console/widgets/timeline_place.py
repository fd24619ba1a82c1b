"""Where somebody is on a timeline: the left edge and the step, moved by quarters and by zoom.

Pure; every move keeps the edge on whole steps of the wall clock and near the plan.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime, timedelta, tzinfo

from benchconsole.console.widgets.timeline_ruler import STEPS, Ruler, aligned
from benchconsole.schedule.planning.plans import Plan

SEEN_AT_FIRST = timedelta(days=6)
"""The finest step that shows so much is the one to begin with."""


@dataclass(frozen=True)
class Place:
    """``first`` and ``last`` are the earliest and the latest instant worth looking at."""

    ruler: Ruler
    first: datetime
    last: datetime

    def scrolled(self, quarters: int) -> Place:
        """Further by quarters of the width, later if positive."""
        columns = quarters * max(self.ruler.columns // 4, 1)
        return self._with_left(self.ruler.begins(columns))

    def at(self, instant: datetime) -> Place:
        """With an instant an eighth of the width from the left edge."""
        return self._with_left(instant - self.ruler.columns // 8 * self.ruler.step)

    def showing(self, instant: datetime) -> Place:
        """The same if an instant is to be seen, else with it a quarter from the left edge."""
        if 0 <= self.ruler.column(instant) < self.ruler.columns:
            return self
        return self._with_left(instant - self.ruler.columns // 4 * self.ruler.step)

    def zoomed(self, by: int, around: datetime | None) -> Place:
        """A coarser step, finer if negative; ``around`` keeps its column if it is seen.

        Otherwise the middle does.
        """
        coarseness = min(max(STEPS.index(self.ruler.step) + by, 0), len(STEPS) - 1)
        column = self.ruler.columns // 2 if around is None else self.ruler.column(around)
        if around is None or not 0 <= column < self.ruler.columns:
            column = self.ruler.columns // 2
            around = self.ruler.begins(column)
        ruler = replace(self.ruler, step=STEPS[coarseness])
        return replace(self, ruler=ruler)._with_left(around - column * ruler.step)

    def wide(self, columns: int) -> Place:
        """With another number of columns; the left edge stays."""
        return replace(self, ruler=replace(self.ruler, columns=columns))

    def of(self, plan: Plan, now: datetime, zone: tzinfo) -> Place:
        """The same place over another plan."""
        first, last = _worth_seeing(plan, now)
        return replace(self, first=first, last=last, ruler=replace(self.ruler, zone=zone))

    def _with_left(self, left: datetime) -> Place:
        room = self.ruler.columns * self.ruler.step / 4
        left = max(min(left, self.last - room), self.first - room)
        left = aligned(left, self.ruler.step, self.ruler.zone)
        return replace(self, ruler=replace(self.ruler, left=left))


def first_place(plan: Plan, now: datetime, zone: tzinfo, columns: int) -> Place:
    """The present near the left edge, about a week to be seen."""
    enough = (step for step in STEPS if columns * step >= SEEN_AT_FIRST)
    ruler = Ruler(now, next(enough, STEPS[-1]), columns, zone)
    first, last = _worth_seeing(plan, now)
    return Place(ruler, first, last).at(now)


def _worth_seeing(plan: Plan, now: datetime) -> tuple[datetime, datetime]:
    """From when the first hold began to the end of the plan or of the last visit."""
    since = (hide.since for hide in plan.hides if hide.since is not None)
    ends = (hide.finish for hide in plan.hides if hide.finish is not None)
    return min([now, plan.made_at, *since]), max([now, plan.until, *ends])
