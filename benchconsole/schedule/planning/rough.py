"""A first idea of the order of things: every hide as if alone, moved whole until vessels suffice.

For each start of a chain its best course alone is known, and with it when it would fill which
vessel. Courses are then put beside each other as rigid shapes, hands left aside: as bits of whole
numbers that is some microseconds a chain, so that many orders can be tried. What comes out is
where to look for the real plan.
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from benchconsole.schedule.planning.alone import courses_alone
from benchconsole.schedule.planning.grids import NEVER, Grid
from benchconsole.schedule.planning.problems import Chain, Problem, may_wait, pressing

APART = 4
"""Of a chain that may wait one start in so many is looked at; our own choice."""
MOST_SHAPES = 300
"""Shapes kept of a chain, the cheapest; our own choice."""
WORSE = 0.1
"""How much worse, in parts, an arrangement may be to be kept at the beginning; our own choice."""


class Shape(NamedTuple):
    """One course of a chain alone: its cost, the slot it begins in, and the vessels as bits."""

    cost: int
    start: int
    bits: int


_Laid = list[tuple[Shape, tuple[int, ...]]]

_HOMELESS = Shape(1 << 40, -1, 0)
"""What a chain that finds no room is thought to cost."""


class _Floor:
    """How full every vessel is at every start: one whole number for each level of fullness."""

    def __init__(self, limits: Sequence[int], width: int) -> None:
        self._limits, self._width = limits, width
        self._most = max(limits, default=0)
        zone = (1 << width) - 1
        self._zones = [zone << (place * width) for place in range(len(limits))]

    def empty(self) -> tuple[int, ...]:
        return (0,) * self._most

    def full(self, levels: tuple[int, ...]) -> int:
        """The bits at which a vessel has no room."""
        full = 0
        for limit, zone in zip(self._limits, self._zones, strict=True):
            full |= zone if not limit else levels[limit - 1] & zone
        return full

    def filled(self, levels: tuple[int, ...], bits: int) -> tuple[int, ...]:
        """The levels with one more course in it."""
        new, carried = [], bits
        for level in levels:
            new.append(level | carried)
            carried &= level
        return tuple(new)


class Rough:
    """The shapes of all chains of a problem, to be arranged again and again."""

    def __init__(self, problem: Problem, grid: Grid) -> None:
        kinds = sorted(problem.vessels)
        self._shapes = {chain.id: _shapes(chain, grid, kinds) for chain in problem.chains}
        self._floor = _Floor([problem.vessels[kind] for kind in kinds], grid.count + 1)
        self._pressing = [chain.id for chain in sorted(problem.chains, key=pressing)]

    def order(self, chance: random.Random, tries: int) -> list[tuple[str, int | None]]:
        """The chains in the order of the best arrangement found, and the slot each begins in.

        ``tries`` orders are tried. A chain that found no room comes last, without a slot.
        """
        order = list(self._pressing)
        state = self._laid(order, 0, [])
        kept = best = _cost(state)
        best_order = list(order)
        for number in range(tries if len(order) > 1 else 0):
            trial = list(order)
            one = chance.randrange(len(trial))
            name = trial.pop(one)
            other = chance.randrange(len(trial) + 1)
            trial.insert(other, name)
            first = min(one, other)
            laid = self._laid(trial, first, state[:first])
            cost = _cost(laid)
            worse = (1.0 - number / tries) ** 2 * WORSE * kept * chance.random() ** 4
            if cost <= kept + worse:
                order, state, kept = trial, laid, cost
                if cost < best:
                    best, best_order = cost, list(trial)
        final = self._laid(best_order, 0, [])
        starts = [
            (name, None if shape.start < 0 else shape.start)
            for name, (shape, _) in zip(best_order, final, strict=True)
        ]
        return sorted(starts, key=lambda pair: (pair[1] is None, pair[1] or 0))

    def _laid(self, order: Sequence[str], first: int, before: _Laid) -> _Laid:
        """Every chain in its cheapest shape that still has room, and the fullness after it."""
        laid = list(before)
        levels = laid[-1][1] if laid else self._floor.empty()
        for name in order[first:]:
            full = self._floor.full(levels)
            fitting = (shape for shape in self._shapes[name] if not shape.bits & full)
            chosen = next(fitting, _HOMELESS)
            levels = self._floor.filled(levels, chosen.bits)
            laid.append((chosen, levels))
        return laid


def _cost(laid: _Laid) -> int:
    return sum(shape.cost for shape, _ in laid)


def _shapes(chain: Chain, grid: Grid, kinds: Sequence[str]) -> list[Shape]:
    """The best course from every start, cheapest first, each filling of vessels once."""
    costs, places = courses_alone(grid, chain)
    apart = APART if may_wait(chain) else 1
    order = apart * np.argsort(costs[::apart], kind="stable")[:MOST_SHAPES]
    order = order[costs[order] < NEVER // 2]
    found: dict[int, Shape] = {}
    zone = {kind: place * (grid.count + 1) for place, kind in enumerate(kinds)}
    vessels = [chain.lies_in, *(step.vessel for step in chain.steps)]
    ends = grid.work_ends(chain.steps[-1].work)
    columns = [column[order].tolist() for column in places]
    columns.append(ends[places[-1][order]].tolist())
    for row, (start, cost) in enumerate(zip(order.tolist(), costs[order].tolist(), strict=True)):
        bits = 0
        edges = [0, *(column[row] for column in columns)]
        for kind, (low, high) in zip(vessels, pairwise(edges), strict=True):
            if kind in zone and low < high:
                bits |= ((1 << (high - low)) - 1) << (zone[kind] + low)
        if bits not in found:
            found[bits] = Shape(cost, int(grid.starts[start]), bits)
    return list(found.values())
