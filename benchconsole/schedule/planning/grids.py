"""What never changes while a plan is searched: the slots a step may begin in, and look-ups.

Starts are counted by their place in ``Grid.starts``, the open slots in order; that keeps the
tables of costs as short as the open time is.
"""

from __future__ import annotations

from bisect import bisect_left
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from benchconsole.schedule.planning.problems import (
    DUE_COST,
    FINISH_COST,
    LATEST_COST,
    SLOT_MINUTES,
    Problem,
    Span,
    Step,
)

Whole = npt.NDArray[np.int64]
Places = npt.NDArray[np.intp]

NEVER = 1 << 60
"""The cost of what cannot be; sums of two still fit a 64-bit number."""

FINE_SLOTS = 42 * 96
"""From six weeks ahead on a step begins on the hour of its opening only; our own choice."""
COARSE = 4

WEEK = 7 * 24 * 60 // SLOT_MINUTES
SPARE_WEEKS = 3


class Runs(NamedTuple):
    """For every start, a run of earlier starts, ready for :func:`range_minimum`.

    Two overlapping blocks of a power of two of starts cover it: ``first`` and ``second`` are
    their places in a table of ``levels`` rows laid end to end; ``empty`` are the places of the
    runs without a start.
    """

    first: Places
    second: Places
    levels: int
    empty: Places


class Reach(NamedTuple):
    """Where the start before may lie for every start of a step, by what the wait costs.

    ``timely`` ends the wait by its target, ``late`` past it and ``too_late`` past its most: every
    earlier start then, as ``late`` where the step has no most. ``due_falls`` and ``due_rises``
    are what being late costs, parted into what the earlier start and what the later one brings;
    so with the others.
    """

    timely: Runs
    late: Runs | None
    before_late: Places
    before_too_late: Places
    due_falls: Whole
    due_rises: Whole
    steep_falls: Whole
    steep_rises: Whole
    early_rises: Whole | None
    early_falls: Whole | None


class Grid:
    """The open slots of a problem, and what is looked up in them again and again.

    The last week is repeated ``SPARE_WEEKS`` times after the end: while it is searched a plan may
    run over at a cost, which is often the way to one that does not. ``limit`` is the true end.
    """

    def __init__(self, problem: Problem) -> None:
        self.limit = problem.slots
        self.over_cost = 0
        starts: list[int] = []
        closes: list[int] = []
        for low, high in (*problem.open_spans, *_spare_spans(problem)):
            fine = range(low, min(high, max(low, FINE_SLOTS)))
            coarse = range(max(low, FINE_SLOTS), high, COARSE)
            starts += [*fine, *coarse]
            closes += [high] * (len(fine) + len(coarse))
        self._sorted = starts
        self.starts: Whole = np.array(starts, dtype=np.int64)
        self.count = len(starts)
        self._closes: Whole = np.array(closes, dtype=np.int64)
        self._fits: dict[tuple[int, int], Whole] = {}
        self._work_ends: dict[int, Places] = {}
        self._finishes: dict[int, Whole] = {}
        self._reaches: dict[tuple[int, Step], Reach] = {}

    def place_of(self, slot: int) -> int:
        """The place of the first start at or after a slot."""
        return bisect_left(self._sorted, slot)

    def fits(self, step: Step) -> Whole:
        """0 for the starts from which the step's work, and its stay, end before closing.

        ``NEVER`` for the others.
        """
        key = (step.work, step.stay)
        if key not in self._fits:
            late = self.starts + step.work + step.stay > self._closes
            self._fits[key] = np.where(late, NEVER, 0)
        return self._fits[key]

    def work_ends(self, work: int) -> Places:
        """For every start the place of the first start at or after the end of so much work."""
        if work not in self._work_ends:
            self._work_ends[work] = np.searchsorted(self.starts, self.starts + work)
        return self._work_ends[work]

    def finishes(self, work: int) -> Whole:
        """What it costs to end a chain with so much work from each start."""
        if work not in self._finishes:
            ends = self.starts + work
            over = self.over_cost * np.maximum(ends - self.limit, 0)
            self._finishes[work] = SLOT_MINUTES * FINISH_COST * ends + over
        return self._finishes[work]

    def over(self, end: int) -> int:
        """What it costs to end at a slot that may lie beyond the end of the plan."""
        return self.over_cost * max(0, end - self.limit)

    def make_over_dearer(self, cost: int) -> None:
        """Set what a slot beyond the end of the plan costs."""
        self.over_cost = cost
        self._finishes.clear()

    def reach(self, before: Step, step: Step) -> Reach:
        """Where the start of the step before may lie, for every start of a step."""
        key = (before.work, step)
        if key not in self._reaches:
            self._reaches[key] = self._reach(before.work, step)
        return self._reaches[key]

    def _reach(self, work: int, step: Step) -> Reach:
        ready = self.starts - work
        soonest = np.searchsorted(self.starts, ready - step.least, side="right")
        timely_from = np.searchsorted(self.starts, ready - step.target, side="left")
        late_from = np.zeros_like(timely_from)
        late: Runs | None = None
        most = 0 if step.most is None else step.most
        if step.most is not None:
            late_from = np.searchsorted(self.starts, ready - most, side="left")
            late = _runs(np.minimum(late_from, timely_from), timely_from)
        due = SLOT_MINUTES * DUE_COST
        steep = SLOT_MINUTES * LATEST_COST * step.stake
        early = SLOT_MINUTES * step.early
        return Reach(
            timely=_runs(timely_from, soonest),
            late=late,
            before_late=timely_from,
            before_too_late=late_from,
            due_falls=due * self.starts,
            due_rises=due * (ready - step.target),
            steep_falls=(due + steep) * self.starts,
            steep_rises=due * (ready - step.target) + steep * (ready - most),
            early_rises=early * self.starts if early else None,
            early_falls=early * (ready - step.target) if early else None,
        )


def _spare_spans(problem: Problem) -> list[Span]:
    last = [span for span in problem.open_spans if span[0] >= problem.slots - WEEK]
    return [
        (low + week * WEEK, high + week * WEEK)
        for week in range(1, SPARE_WEEKS + 1)
        for low, high in last
    ]


def _runs(low: Places, high: Places) -> Runs:
    """The runs ``[low, high)`` of places."""
    empty = high <= low
    level = np.frexp(np.maximum(high - low, 1))[1].astype(np.intp) - 1
    row = level * len(low)
    first = np.minimum(low, max(len(low) - 1, 0))
    second = np.where(empty, first, high - (1 << level))
    return Runs(row + first, row + second, int(level.max(initial=0)) + 1, np.flatnonzero(empty))


def range_minimum(values: Whole, runs: Runs) -> Whole:
    """The least of ``values`` in every run, ``NEVER`` in an empty one.

    A sparse table of minima over blocks of 1, 2, 4 ... values: two overlapping blocks cover a
    run (Bender and Farach-Colton, The LCA problem revisited, 2000).
    """
    count = len(values)
    table = np.empty(runs.levels * count, dtype=np.int64)
    table[:count] = values
    row = values
    for level in range(1, runs.levels):
        half = 1 << (level - 1)
        longer = table[level * count : level * count + len(row) - half]
        np.minimum(row[:-half], row[half:], out=longer)
        row = longer
    least = table.take(runs.first)
    np.minimum(least, table.take(runs.second), out=least)
    least[runs.empty] = NEVER
    return least


def minimum_before(values: Whole, ends: Places) -> Whole:
    """The least of the values before each of the places; ``NEVER`` where there is none."""
    least = np.empty(len(values) + 1, dtype=np.int64)
    least[0] = NEVER
    np.minimum.accumulate(values, out=least[1:])
    return least.take(ends)
