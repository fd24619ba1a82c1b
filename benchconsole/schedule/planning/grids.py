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
    Chain,
    Problem,
    Step,
)

Whole = npt.NDArray[np.int64]
Places = npt.NDArray[np.intp]

NEVER = 1 << 60
"""The cost of what cannot be; sums of two still fit a 64-bit number."""

COARSER = ((42 * 96, 1), (84 * 96, 4), (1 << 30, 12))
"""Up to six weeks ahead a step may begin in every slot, up to twelve on the hours of its opening,
then every three hours: the plan is made again long before; our own choice."""


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
    """The open slots of a problem, and what is looked up in them again and again."""

    def __init__(self, problem: Problem) -> None:
        starts: list[int] = []
        closes: list[int] = []
        for low, high in problem.open_spans:
            apart = next(apart for until, apart in COARSER if low < until)
            span = range(low, high, apart)
            starts += span
            closes += [high] * len(span)
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

    def lets(self, chain: Chain, starts: tuple[int, ...]) -> bool:
        """Whether the hours and the waits of a chain let its steps begin at these slots."""
        before = 0
        for step, start in zip(chain.steps, starts, strict=True):
            place = self.place_of(start)
            if place == self.count or self._sorted[place] != start or self.fits(step)[place]:
                return False
            if start - before < step.least:
                return False
            before = start + step.work
        return True

    def work_ends(self, work: int) -> Places:
        """For every start the place of the first start at or after the end of so much work."""
        if work not in self._work_ends:
            self._work_ends[work] = np.searchsorted(self.starts, self.starts + work)
        return self._work_ends[work]

    def finishes(self, work: int) -> Whole:
        """What it costs to end a chain with so much work from each start."""
        if work not in self._finishes:
            self._finishes[work] = SLOT_MINUTES * FINISH_COST * (self.starts + work)
        return self._finishes[work]

    def reach(self, before: Step, step: Step) -> Reach:
        """Where the start of the step before may lie, for every start of a step."""
        key = (before.work, step)
        if key not in self._reaches:
            self._reaches[key] = reach_of(self.starts, before.work, step)
        return self._reaches[key]


def reach_of(starts: Whole, work: int, step: Step, scale: int = 1) -> Reach:
    """Where the start of the step before, with so much work, may lie for every start of a step.

    All costs are multiplied by ``scale``.
    """
    ready = starts - work
    soonest = np.searchsorted(starts, ready - step.least, side="right")
    timely_from = np.searchsorted(starts, ready - step.target, side="left")
    late_from = np.zeros_like(timely_from)
    late: Runs | None = None
    most = 0 if step.most is None else step.most
    if step.most is not None:
        late_from = np.searchsorted(starts, ready - most, side="left")
        late = _runs(np.minimum(late_from, timely_from), timely_from)
    due = scale * SLOT_MINUTES * DUE_COST
    steep = scale * SLOT_MINUTES * LATEST_COST * step.stake
    early = scale * SLOT_MINUTES * step.early
    return Reach(
        timely=_runs(timely_from, soonest),
        late=late,
        before_late=timely_from,
        before_too_late=late_from,
        due_falls=due * starts,
        due_rises=due * (ready - step.target),
        steep_falls=(due + steep) * starts,
        steep_rises=due * (ready - step.target) + steep * (ready - most),
        early_rises=early * starts if early else None,
        early_falls=early * (ready - step.target) if early else None,
    )


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


def reached(reach: Reach, table: Whole) -> Whole:
    """The least cost of coming to every start of a step, from that of the step before."""
    if reach.early_rises is None or reach.early_falls is None:
        best = range_minimum(table, reach.timely)
    else:
        best = range_minimum(table + reach.early_rises, reach.timely)
        best -= reach.early_falls
    falling = table - reach.due_falls
    if reach.late is None:
        late = minimum_before(falling, reach.before_late)
    else:
        late = range_minimum(falling, reach.late)
        too_late = minimum_before(table - reach.steep_falls, reach.before_too_late)
        too_late += reach.steep_rises
        np.minimum(best, too_late, out=best)
    late += reach.due_rises
    np.minimum(best, late, out=best)
    return best
