"""Problems drawn small enough to try everything, with every rule in play somewhere."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping

from hypothesis import strategies as st

from benchconsole.schedule.planning.problems import Chain, Problem, Step
from tests.schedule.planning.faults import faults_of

Starts = tuple[int, ...]

DEAR = 1_000_000_000
"""Of a slot beyond the end of the plan: more than anything inside a small one can cost."""

SPANS = (((1, 5), (7, 14)), ((0, 7), (9, 15)), ((3, 16),), ((0, 2), (3, 5), (9, 15)))


@st.composite
def steps(draw: st.DrawFn, *, first: bool = True) -> Step:
    """A step; only a first one may have been due before the plan begins."""
    least = draw(st.integers(-4 if first else 0, 3))
    target = least + draw(st.integers(0, 3))
    return Step(
        work=draw(st.integers(1, 2)),
        least=least,
        target=target,
        most=draw(st.sampled_from((None, target, target + 2))),
        vessel=draw(st.sampled_from(("", "tub", "board", "rack"))),
        stay=draw(st.sampled_from((0, 0, 1))),
        stake=draw(st.integers(1, 3)),
        early=draw(st.sampled_from((0, 3, 25))),
    )


@st.composite
def chains(draw: st.DrawFn, name: str, most_steps: int = 3) -> Chain:
    """A chain that may lie in a tub already and may take two places of everything."""
    count = draw(st.integers(1, most_steps))
    return Chain(
        id=name,
        steps=tuple(draw(steps(first=place == 0)) for place in range(count)),
        lies_in=draw(st.sampled_from(("", "", "tub", "rack"))),
        places=draw(st.sampled_from((1, 1, 2))),
    )


@st.composite
def problems(draw: st.DrawFn, most_chains: int = 4, most_steps: int = 3) -> Problem:
    """A shop of 16 slots; what lies in its tubs fits into them, racks are not limited."""
    count = draw(st.integers(1, most_chains))
    drawn = tuple(draw(chains("ABCDEF"[place], most_steps)) for place in range(count))
    lying = sum(chain.places for chain in drawn if chain.lies_in == "tub")
    return Problem(
        slots=16,
        open_spans=draw(st.sampled_from(SPANS)),
        chains=drawn,
        hands=draw(st.integers(1, 2)),
        vessels={"tub": max(lying, draw(st.integers(1, 3))), "board": draw(st.integers(1, 2))},
    )


def alone(problem: Problem, chain: Chain) -> Problem:
    """The same shop with nobody else in it and no end to its vessels."""
    return Problem(slots=problem.slots, open_spans=problem.open_spans, chains=(chain,))


def all_times(
    problem: Problem, chain: Chain, placed: Mapping[str, Starts] | None = None
) -> Iterator[Starts]:
    """Every way to time one chain among others that stand, found by trying."""
    others = {} if placed is None else dict(placed)
    present = tuple(c for c in problem.chains if c.id in others or c.id == chain.id)
    shop = Problem(
        slots=problem.slots,
        open_spans=problem.open_spans,
        chains=present or (chain,),
        hands=problem.hands,
        vessels=problem.vessels,
    )
    for starts in itertools.product(range(problem.slots), repeat=len(chain.steps)):
        if list(starts) == sorted(starts) and not faults_of(shop, {**others, chain.id: starts}):
            yield starts
