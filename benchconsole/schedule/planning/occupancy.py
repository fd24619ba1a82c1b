"""Who has the hands and the vessels when: what the chains placed so far leave for one more.

Counted by the places of ``Grid.starts``, not by slots: work lies within open time, and a hide
goes in and out of a vessel only when hands are there, so between two starts nothing changes.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from itertools import pairwise
from typing import NamedTuple

import numpy as np
import numpy.typing as npt

from benchconsole.schedule.planning.grids import Grid, Whole
from benchconsole.schedule.planning.problems import Chain, Problem, Span, Step, waiting_cost

Starts = tuple[int, ...]
"""When every step of a chain begins, in slots."""

MOVED_VISIT, MOVED_STAY = 3, 96
"""Slots by which a visit or a stay is thought moved when it has to make room; our own choice."""
FIRM = 20
"""How many times what it loses a chain is thought to lose that has just been given its times."""
LYING_WEIGHT = 10_000_000
"""What it is thought to cost to get a hide out of the vessel it lies in now."""


class Held(NamedTuple):
    """The places of the starts in which one chain has a vessel; ``step`` -1: it lies in it now.

    ``lying``: it has been in a vessel of this kind all along.
    """

    span: Span
    kind: str
    step: int
    lying: bool


class Weights(NamedTuple):
    """What each visit of a chain, and each stay begun with it, would lose if it had to move."""

    visits: list[int]
    stays: list[int]


class Occupancy:
    """Hands and vessels taken by the chains placed so far.

    A chain is lying, lifted or placed. A lying one takes the vessel it lies in up to the soonest
    slot it can leave it; a lifted one takes nothing and can be asked for times; ``placed`` has
    the times of the others.
    """

    def __init__(self, problem: Problem, grid: Grid) -> None:
        self.problem, self._grid = problem, grid
        self.chains = {chain.id: chain for chain in problem.chains}
        self.placed: dict[str, Starts] = {}
        self.visits: dict[str, list[Span]] = {}
        self.stays: dict[str, list[Held]] = {}
        self._hands: Whole = np.zeros(grid.count, dtype=np.int64)
        self._weights: dict[tuple[str, Starts], Weights] = {}
        self._vessels: dict[str, Whole] = {
            kind: np.zeros(grid.count, dtype=np.int64) for kind in problem.vessels
        }
        self._counted: dict[tuple[str, int, bool], Whole] = {}
        self._leaves = {
            chain.id: self._soonest_out(chain)
            for chain in problem.chains
            if chain.lies_in in problem.vessels
        }
        for chain in problem.chains:
            self.lay_down(chain)
        # More may lie in vessels now than there are (two hides in a tub): that is a fact. For such
        # kinds it is counted what was put in since.
        self._joined: dict[str, Whole] = {
            kind: np.zeros(grid.count, dtype=np.int64)
            for kind, number in problem.vessels.items()
            if int(self._vessels[kind][:1].max(initial=0)) > number
        }

    @property
    def crowded(self) -> Collection[str]:
        """The kinds in which more lie now than there are."""
        return self._joined.keys()

    def lay_down(self, chain: Chain) -> None:
        """Put a lifted chain back to where it lies, without times."""
        self._lie(chain, 1)

    def lift(self, chain: Chain) -> None:
        """Let go of the vessel a lying chain lies in: it is about to be asked for times."""
        self._lie(chain, -1)

    def place(self, chain: Chain, starts: Starts) -> None:
        """Give a lifted chain its times."""
        self.placed[chain.id] = starts
        self.visits[chain.id] = self._work(chain, starts)
        self.stays[chain.id] = self._stays(chain, starts)
        self._add(chain, 1)

    def take_out(self, chain: Chain) -> None:
        """Take its times from a placed chain; it is lifted then."""
        self._add(chain, -1)
        del self.placed[chain.id], self.visits[chain.id], self.stays[chain.id]

    def hands_taken(self) -> Whole:
        """At how many starts before each start no hand is free; one more number than starts."""
        key = ("", 0, False)
        if key not in self._counted:
            self._counted[key] = counted(self._hands >= self.problem.hands)
        return self._counted[key]

    def visit_weights(self, firm: Collection[str] = ()) -> tuple[Whole, Whole]:
        """The weights of the visits begun before each start, and of those ended by it.

        Those of ``firm`` chains count ``FIRM`` times.
        """
        begun: Whole = np.zeros(self._grid.count + 1, dtype=np.int64)
        ended = np.zeros_like(begun)
        for name, visits in self.visits.items():
            times = FIRM if name in firm else 1
            for (low, high), weight in zip(visits, self.weights_of(name).visits, strict=True):
                begun[low + 1] += times * weight
                ended[high] += times * weight
        return np.cumsum(begun), np.cumsum(ended)

    def weights_of(self, name: str) -> Weights:
        """What the visits and stays of a placed chain would lose if they had to move."""
        key = (name, self.placed[name])
        if key not in self._weights:
            chain, starts = self.chains[name], self.placed[name]
            self._weights[key] = Weights(
                _weights(chain, starts, MOVED_VISIT), _weights(chain, starts, MOVED_STAY)
            )
        return self._weights[key]

    def vessel_taken(self, kind: str, places: int, *, lying: bool = False) -> Whole | None:
        """At how many starts before each start a kind has no room for ``places`` more.

        None for a kind that is not limited.
        """
        key = (kind, places, lying)
        if key not in self._counted:
            short = self.shortage(kind, places, lying=lying)
            if short is None:
                return None
            self._counted[key] = counted(short > 0)
        return self._counted[key]

    def shortage(
        self, kind: str, places: int, *, lying: bool = False, within: Span | None = None
    ) -> Whole | None:
        """How many places of a kind are missing for ``places`` more, at each start ``within``.

        Hides that lie two to a tub now may go on ``lying`` so; nothing new is put in. None for a
        kind that is not limited.
        """
        taken = self._vessels.get(kind)
        if taken is None:
            return None
        part = slice(None) if within is None else slice(*within)
        short = taken[part] + (places - self.problem.vessels[kind])
        if lying and kind in self._joined:
            short[self._joined[kind][part] == 0] = 0
        return short

    def fixed(self, chain: Chain, kind: str) -> Whole:
        """The places of a kind that nobody else can be made to leave, at each start."""
        taken: Whole = np.zeros(self._grid.count, dtype=np.int64)
        for other in self.problem.chains:
            if other.lies_in == kind and other.id != chain.id:
                taken[: self._leaves[other.id]] += other.places
        return taken

    def wanted(self, chain: Chain, starts: Starts) -> tuple[list[Span], list[Held]]:
        """The visits and stays of these times for which hands or room are missing."""
        hands, limit = self._hands, self.problem.hands
        visits = [
            span
            for span in self._work(chain, starts)
            if int(hands[span[0] : span[1]].max(initial=0)) >= limit
        ]
        stays = []
        for stay in self._stays(chain, starts):
            short = self.shortage(stay.kind, chain.places, lying=stay.lying, within=stay.span)
            if short is not None and int(short.max(initial=0)) > 0:
                stays.append(stay)
        return visits, stays

    def is_free_for(self, chain: Chain, starts: Starts) -> bool:
        """Whether a lifted chain may have these times, which may be of another shop's plan."""
        if len(starts) != len(chain.steps) or not self._grid.lets(chain, starts):
            return False
        return self.wanted(chain, starts) == ([], [])

    def workers_in(self, spans: Iterable[Span]) -> set[str]:
        """The placed chains with a visit in any of the spans."""
        wanted = list(spans)
        return {
            other
            for other, visits in self.visits.items()
            if any(overlap(mine, theirs) for mine in wanted for theirs in visits)
        }

    def _soonest_out(self, chain: Chain) -> int:
        """The place of the first start at which others can find its vessel empty.

        Steps that put it from one vessel into another of the kind do not leave it.
        """
        slot = 0
        for number, step in enumerate(chain.steps):
            can = (self._grid.starts >= slot + step.least) & (self._grid.fits(step) == 0)
            if not can.any():
                return self._grid.count
            slot = int(self._grid.starts[int(can.argmax())])
            stays = step.vessel == chain.lies_in
            if not stays or number == len(chain.steps) - 1:
                # With one pair of hands nothing is put in while this one is taken out.
                after = step.work if stays or self.problem.hands == 1 else 0
                return self._grid.place_of(slot + after)
            slot += step.work
        return self._grid.count

    def _lie(self, chain: Chain, sign: int) -> None:
        taken = self._vessels.get(chain.lies_in)
        if taken is not None:
            taken[: max(self._grid.place_of(chain.steps[0].least), 1)] += sign * chain.places
            self._counted.clear()

    def _add(self, chain: Chain, sign: int) -> None:
        for low, high in self.visits[chain.id]:
            self._hands[low:high] += sign
        for (low, high), kind, _, lying in self.stays[chain.id]:
            self._vessels[kind][low:high] += sign * chain.places
            if kind in self._joined and not lying:
                self._joined[kind][low:high] += sign * chain.places
        self._counted.clear()

    def _work(self, chain: Chain, starts: Starts) -> list[Span]:
        place = self._grid.place_of
        pairs = zip(starts, chain.steps, strict=True)
        return [(place(start), place(start + step.work)) for start, step in pairs]

    def _stays(self, chain: Chain, starts: Starts) -> list[Held]:
        """The stays in limited vessels, in order; the one it lies in now first."""
        place, steps = self._grid.place_of, chain.steps
        edges = [0, *map(place, starts), place(starts[-1] + steps[-1].work)]
        kinds = [chain.lies_in, *(step.vessel for step in steps)]
        moved = next((n for n, kind in enumerate(kinds) if kind != chain.lies_in), len(kinds))
        return [
            Held(span, kind, place - 1, place < moved)
            for place, (kind, span) in enumerate(zip(kinds, pairwise(edges), strict=True))
            if kind in self._vessels
        ]


def overlap(one: Span, other: Span) -> bool:
    """Whether two spans share anything."""
    return one[0] < other[1] and other[0] < one[1]


def counted(marks: npt.NDArray[np.bool_]) -> Whole:
    """How many marks stand before each place; one more number than marks."""
    counts = np.zeros(len(marks) + 1, dtype=np.int64)
    np.cumsum(marks, out=counts[1:])
    return counts


def _weights(chain: Chain, starts: Starts, moved: int) -> list[int]:
    """What each step would cost more if it began so many slots later and nothing else moved."""
    weights, before = [], 0
    for step, start in zip(chain.steps, starts, strict=True):
        waited = start - before
        weights.append(_more(step, waited, moved))
        before = start + step.work
    return weights


def _more(step: Step, waited: int, moved: int) -> int:
    return waiting_cost(step, waited + moved) - waiting_cost(step, waited) + moved
