"""The best course of a chain from each of its possible beginnings, nobody else in the shop."""

from __future__ import annotations

import numpy as np

from benchconsole.schedule.planning.grids import NEVER, Grid, Places, Whole, reach_of, reached
from benchconsole.schedule.planning.problems import Chain
from benchconsole.schedule.planning.timing import first_costs

_SCALE = 1 << 14
"""Costs are multiplied by this and the place they come from is added: a minimum tells both."""


def courses_alone(grid: Grid, chain: Chain) -> tuple[Whole, list[Places]]:
    """The least cost of a course from every start of its first step, and the course.

    The course is, by step, the place of its start; it means something where the cost is below
    ``NEVER``. The same dynamic programme as ``best_times``, run from the end.
    """
    steps, count = chain.steps, grid.count
    # Seen from the end, the step after is the one before.
    backwards = grid.starts[-1:] - grid.starts[::-1]
    table = np.minimum((grid.fits(steps[-1]) + grid.finishes(steps[-1].work))[::-1], NEVER)
    places = np.arange(count)
    following: list[Places] = []
    for number in range(len(steps) - 2, -1, -1):
        reach = reach_of(backwards, steps[number].work, steps[number + 1], _SCALE)
        told = np.where(table < NEVER // 4 // _SCALE, table * _SCALE + places, NEVER)
        found = reached(reach, told)
        following.append(found % _SCALE)
        table = np.where(found < NEVER // 2, found // _SCALE, NEVER)
        table = np.minimum(table + grid.fits(steps[number])[::-1], NEVER)
    costs = np.minimum(table[::-1] + first_costs(grid, steps[0]), NEVER)
    at = places[::-1]
    course = [places]
    for after in reversed(following):
        at = after.take(np.minimum(at, count - 1))
        course.append(count - 1 - np.minimum(at, count - 1))
    return costs, course
