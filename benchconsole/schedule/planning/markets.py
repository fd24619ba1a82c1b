"""What it costs one more chain to have hands and vessels where others have them already.

A hard market forbids it. A soft one asks what the others would lose if they made room: that
finds whom to move, and the moving is done elsewhere.
"""

from __future__ import annotations

import math
import random
from collections.abc import Collection
from typing import NamedTuple

import numpy as np

from benchconsole.schedule.planning.grids import Grid, Whole
from benchconsole.schedule.planning.occupancy import (
    FIRM,
    LYING_WEIGHT,
    Held,
    Occupancy,
    counted,
    overlap,
)
from benchconsole.schedule.planning.problems import Chain, Span, Step

FORBIDDEN = 1 << 42
"""The price of what cannot be had: above the cost of any plan worth having."""

LEAST_PRICE = 15
"""Of every visit and stay in the way, so that of two ways of one cost the free one is taken."""


class Stay(NamedTuple):
    """The price of a vessel: a stay from one start to another costs ``upto`` less ``since``."""

    upto: Whole
    since: Whole


class Market:
    """A shop with nobody else in it: hands cost nothing where the shop is open."""

    crowded: Collection[str] = ()
    """The kinds of vessels in which more lie now than there are."""

    def __init__(self, grid: Grid, chain: Chain) -> None:
        self.grid, self.chain = grid, chain
        self._kinds = [step.vessel for step in chain.steps]

    def hands(self, step: Step) -> Whole:
        """The price of a step's work at each start, ``NEVER`` where it cannot begin."""
        return self.grid.fits(step)

    def vessel(self, kind: str, *, lying: bool = False) -> Stay | None:
        """The price of a vessel, None where it costs nothing; ``lying``: that it lies in now."""
        return None

    def stay(self, place: int) -> Stay | None:
        """The price of the vessel of a step."""
        kind = self.chain.steps[place].vessel
        # What lies in a crowded tub and goes on in a tub stays where it is.
        lying = kind in self.crowded and all(
            kind == each for each in (self.chain.lies_in, *self._kinds[:place])
        )
        return self.vessel(kind, lying=lying)


class HardMarket(Market):
    """What is taken cannot be had."""

    def __init__(self, grid: Grid, chain: Chain, taken: Occupancy) -> None:
        super().__init__(grid, chain)
        self._taken, self.crowded = taken, taken.crowded
        self._hands: dict[tuple[int, int], Whole] = {}
        self._vessels: dict[tuple[str, bool], Stay | None] = {}

    def hands(self, step: Step) -> Whole:
        """Forbidden where a hand is missing at any time of the work."""
        key = (step.work, step.stay)
        if key not in self._hands:
            before = self._taken.hands_taken()
            during = before.take(self.grid.work_ends(step.work))
            during -= before[:-1]
            during *= FORBIDDEN
            during += self.grid.fits(step)
            self._hands[key] = during
        return self._hands[key]

    def vessel(self, kind: str, *, lying: bool = False) -> Stay | None:
        """Forbidden where none is free at any time of the stay."""
        key = (kind, lying)
        if key not in self._vessels:
            before = self._taken.vessel_taken(kind, self.chain.places, lying=lying)
            price = None if before is None else FORBIDDEN * before
            self._vessels[key] = None if price is None else Stay(price, price)
        return self._vessels[key]


class SoftMarket(Market):
    """What is taken costs what the others would lose, times a factor drawn for the occasion.

    Of the chains that fill a vessel only some have to make room; which, is drawn in favour of
    those that would lose little. ``firm`` chains yield only where little else helps.
    """

    def __init__(
        self,
        grid: Grid,
        chain: Chain,
        taken: Occupancy,
        *,
        factors: tuple[float, float],
        chance: random.Random,
        firm: Collection[str] = (),
    ) -> None:
        super().__init__(grid, chain)
        self._taken, self.crowded, self._chance = taken, taken.crowded, chance
        self._hand_factor, self._vessel_factor = factors
        self._firm = firm
        begun, ended = taken.visit_weights(firm)
        self._begun = (begun * self._hand_factor).astype(np.int64)
        self._ended = (ended * self._hand_factor).astype(np.int64)
        self._hands: dict[tuple[int, int], Whole] = {}
        self._vessels: dict[tuple[str, bool], Stay | None] = {}
        self._yielding: dict[tuple[str, bool], list[tuple[str, Span]]] = {}

    def hands(self, step: Step) -> Whole:
        """The weights of the visits that share a time with the work, where hands are missing."""
        key = (step.work, step.stay)
        if key not in self._hands:
            ends = self.grid.work_ends(step.work)
            before = self._taken.hands_taken()
            missing = before.take(ends) - before[:-1]
            during = self._begun.take(ends) - self._ended[:-1]
            during *= missing > 0
            during += LEAST_PRICE * missing
            during += self.grid.fits(step)
            self._hands[key] = during
        return self._hands[key]

    def vessel(self, kind: str, *, lying: bool = False) -> Stay | None:
        """The weights of those that would have to make room; forbidden where nobody can."""
        key = (kind, lying)
        if key not in self._vessels:
            short = self._taken.shortage(kind, self.chain.places, lying=lying)
            self._vessels[key] = None if short is None else self._priced(key, short)
        return self._vessels[key]

    def in_the_way(self, starts: tuple[int, ...]) -> list[str]:
        """The chains that have to make room for these times, in order of their ids."""
        visits, stays = self._taken.wanted(self.chain, starts)
        found = self._taken.workers_in(visits)
        for stay in stays:
            lying = stay.step < 0 or (stay.lying and stay.kind in self.crowded)
            self.vessel(stay.kind, lying=lying)
            found |= {
                other
                for other, span in self._yielding[stay.kind, lying]
                if overlap(span, stay.span)
            }
        return sorted(found)

    def _priced(self, key: tuple[str, bool], short: Whole) -> Stay:
        kind, lying = key
        fixed = self._taken.fixed(self.chain, kind)
        # Who lies in it already need not ask those who cannot leave yet.
        blocked = (fixed + self.chain.places > self._taken.problem.vessels[kind]) & (not lying)
        need = np.where(blocked, 0, short)
        upto = np.zeros(len(need) + 1, dtype=np.int64)
        since = np.zeros(len(need) + 1, dtype=np.int64)
        yielding: list[tuple[str, Span]] = []
        for price, other, places, (low, high) in self._candidates(kind, need):
            part = need[low:high]
            if (part > 0).any():
                part -= places
                yielding.append((other, (low, high)))
                upto[low + 1] += price
                since[high] += price
        self._yielding[key] = yielding
        forbidden = FORBIDDEN * counted(blocked)
        return Stay(np.cumsum(upto) + forbidden, np.cumsum(since) + forbidden)

    def _candidates(self, kind: str, need: Whole) -> list[tuple[int, str, int, Span]]:
        """Who could make room, by what is drawn for what it would lose."""
        short = counted(need > 0).tolist()
        if not short[-1]:
            return []
        return sorted(
            (self._drawn(other, held), other, self._places(other), held.span)
            for other, stays in self._taken.stays.items()
            for held in stays
            if held.kind == kind and short[held.span[0]] < short[held.span[1]]
        )

    def _drawn(self, other: str, held: Held) -> int:
        lying = held.step < 0
        weight = LYING_WEIGHT if lying else self._taken.weights_of(other).stays[held.step]
        noise = math.exp(self._chance.gauss(0.0, 1.0)) * (FIRM if other in self._firm else 1)
        return LEAST_PRICE + int(weight * noise * self._vessel_factor)

    def _places(self, other: str) -> int:
        return self._taken.chains[other].places
