"""The cheapest times of one chain in what the others leave, by dynamic programming.

For every step and every slot it may begin in, the least cost up to there; a wait costs nothing
until its target, then more and more steeply, so the best start before is a minimum over a run
of earlier starts in each of these ranges (Bellman, Dynamic Programming, 1957). Exact for one
chain at the prices of its market.
"""

from __future__ import annotations

from itertools import pairwise
from typing import NamedTuple

import numpy as np

from benchconsole.schedule.planning.grids import (
    NEVER,
    Grid,
    Whole,
    reached,
)
from benchconsole.schedule.planning.markets import FORBIDDEN, Market, Stay
from benchconsole.schedule.planning.occupancy import Starts
from benchconsole.schedule.planning.problems import (
    DUE_COST,
    LATEST_COST,
    SLOT_MINUTES,
    Span,
    Step,
)


class Times(NamedTuple):
    """The cheapest times of a chain; ``cost`` holds the prices paid as well."""

    cost: int
    starts: Starts


def best_times(market: Market, *, begin: Span | None = None) -> Times | None:
    """The cheapest times of the market's chain; None if there are none at any allowed price.

    ``begin`` are the slots its first step has to begin in, if not all.
    """
    grid, steps = market.grid, market.chain.steps
    if not grid.count:
        return None
    table = first_costs(grid, steps[0]) + market.hands(steps[0])
    if begin is not None:
        table[: grid.place_of(begin[0])] = NEVER
        table[grid.place_of(begin[1]) :] = NEVER
    lying = market.vessel(market.chain.lies_in, lying=True)
    if lying is not None:
        table += lying.upto[:-1]
    tables = [np.minimum(table, NEVER, out=table)]
    for place, (before, step) in enumerate(pairwise(steps)):
        table = _reached(grid, before, step, table, market.stay(place))
        table += market.hands(step)
        tables.append(np.minimum(table, NEVER, out=table))
    total = table + _ending(market)
    at = int(total.argmin())
    cost = int(total[at])
    return None if cost >= FORBIDDEN else Times(cost, _traced(market, tables, at))


def _ending(market: Market) -> Whole:
    """What it costs to end with each start: the finish, and the last vessel until then."""
    grid, last = market.grid, market.chain.steps[-1]
    stay = market.stay(len(market.chain.steps) - 1)
    if stay is None:
        return grid.finishes(last.work)
    until = stay.upto.take(grid.work_ends(last.work))
    return grid.finishes(last.work) + until - stay.since[:-1]


def first_costs(grid: Grid, step: Step) -> Whole:
    """The cost of every start of the first step, counted from the start of the plan."""
    cost = _waits_cost(step, grid.starts)
    cost[grid.starts < step.least] = NEVER
    return cost


def _waits_cost(step: Step, waited: Whole) -> Whole:
    """As ``waiting_cost``, for many waits at once."""
    cost: Whole = DUE_COST * np.maximum(waited - step.target, 0)
    if step.most is not None:
        cost += LATEST_COST * step.stake * np.maximum(waited - step.most, 0)
    if step.early:
        cost += step.early * np.maximum(step.target - waited, 0)
    cost *= SLOT_MINUTES
    return cost


def _reached(grid: Grid, before: Step, step: Step, table: Whole, stay: Stay | None) -> Whole:
    """The least cost of coming to every start of a step, its wait and the stay before paid."""
    reach = grid.reach(before, step)
    if stay is None:
        return reached(reach, table)
    best = reached(reach, table - stay.since[:-1])
    best += stay.upto[:-1]
    return best


def _traced(market: Market, tables: list[Whole], at: int) -> Starts:
    """The starts that the cheapest end came from, found backwards."""
    grid, steps = market.grid, market.chain.steps
    found = [int(grid.starts[at])]
    for place in range(len(steps) - 1, 0, -1):
        before, step = steps[place - 1], steps[place]
        ready = found[-1] - before.work
        soonest = grid.place_of(ready - step.least + 1)
        earlier = grid.starts[:soonest]
        cost = _waits_cost(step, ready - earlier)
        cost += tables[place - 1][:soonest]
        stay = market.stay(place - 1)
        if stay is not None:
            cost -= stay.since[:soonest]
        found.append(int(earlier[int(cost.argmin())]))
    return tuple(reversed(found))
