"""Who has hands and vessels when: exact after any number of changes, and true slot by slot."""

from __future__ import annotations

import itertools
import random
from typing import NamedTuple

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from benchconsole.schedule.planning.grids import Grid
from benchconsole.schedule.planning.markets import HardMarket
from benchconsole.schedule.planning.occupancy import Occupancy
from benchconsole.schedule.planning.problems import Chain, Problem, Step
from benchconsole.schedule.planning.timing import best_times
from tests.schedule.planning.faults import faults_of
from tests.schedule.planning.small_problems import DEAR, all_times, alone, problems

QUICK = settings(derandomize=True, max_examples=60, deadline=None)


class Picture(NamedTuple):
    """Everything an occupancy answers from, to compare before and after."""

    hands: list[int]
    begun: list[int]
    ended: list[int]
    vessels: dict[str, list[int]]
    placed: dict[str, tuple[int, ...]]


def picture_of(taken: Occupancy) -> Picture:
    """What others find taken, asked the way a market asks."""
    begun, ended = taken.visit_weights()
    kinds = taken.problem.vessels
    shortages = {kind: taken.shortage(kind, kinds[kind]) for kind in kinds}
    return Picture(
        hands=taken.hands_taken().tolist(),
        begun=begun.tolist(),
        ended=ended.tolist(),
        vessels={kind: short.tolist() for kind, short in shortages.items() if short is not None},
        placed=dict(taken.placed),
    )


def fill(problem: Problem) -> tuple[Grid, Occupancy]:
    """A shop in which every chain that finds times has them, one after another."""
    grid = Grid(problem)
    taken = Occupancy(problem, grid)
    for chain in problem.chains:
        taken.lift(chain)
        times = best_times(HardMarket(grid, chain, taken))
        if times is None or times.cost >= DEAR:
            taken.lay_down(chain)
        else:
            taken.place(chain, times.starts)
    return grid, taken


@QUICK
@given(problem=problems(), seed=st.integers(0, 999))
def test_whatever_is_done_and_undone_leaves_all_as_it_was(problem: Problem, seed: int) -> None:
    """Lifted, laid down, taken out and placed again in any order: nothing is left over."""
    _, taken = fill(problem)
    before = picture_of(taken)
    draw = random.Random(seed)
    names = sorted(chain.id for chain in problem.chains)
    for name in draw.choices(names, k=8):
        chain, starts = taken.chains[name], before.placed.get(name)
        if starts is None:
            taken.lift(chain)
            taken.lay_down(chain)
        else:
            taken.take_out(chain)
            if draw.random() < 0.5:
                taken.lay_down(chain)
                taken.lift(chain)
            taken.place(chain, starts)
    assert picture_of(taken) == before


@QUICK
@given(problem=problems())
def test_with_everybody_lifted_nothing_is_taken(problem: Problem) -> None:
    """After the last one is taken out every hand and vessel is free again."""
    _, taken = fill(problem)
    for chain in problem.chains:
        if chain.id in taken.placed:
            taken.take_out(chain)
        else:
            taken.lift(chain)
    empty = picture_of(taken)
    assert set(empty.hands) == {0}
    assert set(empty.begun) == set(empty.ended) == {0}
    assert all(set(shortage) == {0} for shortage in empty.vessels.values())
    assert not taken.placed


@settings(derandomize=True, max_examples=40, deadline=None)
@given(problem=problems(most_chains=3, most_steps=2))
def test_what_is_missing_is_found_as_counting_slot_by_slot_finds_it(problem: Problem) -> None:
    """One more chain beside those placed: its times want something exactly where they are faulty.

    Every way to time it in an empty shop is tried; the faults are found by plain counting.
    """
    _, taken = fill(problem)
    for chain in problem.chains:
        if chain.id not in taken.placed:
            taken.lift(chain)
    for chain in problem.chains:
        stands = taken.placed.get(chain.id)
        if stands is not None:
            taken.take_out(chain)
        there = tuple(c for c in problem.chains if c.id in taken.placed or c is chain)
        shop = replace(problem, chains=there)
        for starts in itertools.islice(all_times(alone(problem, chain), chain), 60):
            faults = faults_of(shop, {**taken.placed, chain.id: starts})
            assert (taken.wanted(chain, starts) == ([], [])) is not bool(faults)
            assert taken.is_free_for(chain, starts) is not bool(faults)
        if stands is not None:
            taken.place(chain, stands)


SOAK = Step(work=2, least=0, target=0, most=None, vessel="tub")
OUT = Step(work=2, least=4, target=4, most=None)


def _shop(*chains: Chain, hands: int = 1, tubs: int = 1) -> Problem:
    return Problem(
        slots=40, open_spans=((0, 40),), chains=chains, hands=hands, vessels={"tub": tubs}
    )


@pytest.mark.parametrize(
    ("starts", "fits"),
    [
        ((0, 6), True),
        ((0,), False),
        ((0, 6, 9), False),
        ((0, 5), False),
        ((-1, 6), False),
        ((35, 41), False),
        ((34, 39), False),
    ],
)
def test_times_from_elsewhere_are_taken_only_if_they_keep_every_limit(
    starts: tuple[int, ...], fits: bool
) -> None:
    """Too few, too many, too soon, before the start, after the end: none of them fits."""
    chain = Chain(id="A", steps=(SOAK, OUT))
    problem = _shop(chain)
    taken = Occupancy(problem, Grid(problem))
    taken.lift(chain)
    assert taken.is_free_for(chain, starts) is fits


def test_two_pairs_of_hands_may_work_at_once_and_a_third_may_not() -> None:
    """Three hides without vessels, two of them begun together."""
    bare = Step(work=3, least=0, target=0, most=None)
    made = [Chain(id=name, steps=(bare,)) for name in "ABC"]
    problem = _shop(*made, hands=2)
    taken = Occupancy(problem, Grid(problem))
    for chain in made:
        taken.lift(chain)
    taken.place(made[0], (5,))
    assert taken.wanted(made[1], (6,)) == ([], [])
    taken.place(made[1], (6,))
    assert taken.wanted(made[2], (7,)) == ([(7, 10)], [])
    assert taken.wanted(made[2], (8,)) == ([], [])


def test_a_lot_takes_as_many_places_as_it_says() -> None:
    """Two of three tubs: one place is left, which a lot of two does not fit into."""
    lot = Chain(id="A", steps=(SOAK, OUT), places=2)
    one, other = Chain(id="B", steps=(SOAK, OUT)), Chain(id="C", steps=(SOAK, OUT), places=2)
    problem = _shop(lot, one, other, tubs=3)
    taken = Occupancy(problem, Grid(problem))
    for chain in problem.chains:
        taken.lift(chain)
    taken.place(lot, (0, 10))
    assert taken.wanted(one, (2, 12)) == ([], [])
    _, stays = taken.wanted(other, (2, 13))
    assert [stay.span for stay in stays] == [(2, 13)]
    assert taken.wanted(other, (12, 22)) == ([], [])


def test_more_lie_in_tubs_than_there_are_and_may_but_nothing_joins_them() -> None:
    """Two hides in the only tub: each may be timed as it lies; a third waits for both."""
    gone = Step(work=1, least=3, target=3, most=None)
    lying = [Chain(id=name, steps=(gone,), lies_in="tub") for name in "AB"]
    new = Chain(id="C", steps=(SOAK, OUT))
    problem = _shop(*lying, new)
    taken = Occupancy(problem, Grid(problem))
    taken.lift(new)
    for chain, start in zip(lying, (3, 6), strict=True):
        taken.lift(chain)
        assert taken.wanted(chain, (start,)) == ([], [])
        taken.place(chain, (start,))
    _, stays = taken.wanted(new, (4, 12))
    assert [stay.span for stay in stays] == [(4, 12)]
    assert taken.wanted(new, (7, 13)) == ([], [])


def test_one_that_lies_too_long_in_a_crowded_tub_keeps_the_next_out() -> None:
    """With a third hide put in once the first is out, the second may not lie on beside it."""
    gone = Step(work=1, least=3, target=3, most=None)
    first, second = (Chain(id=name, steps=(gone,), lies_in="tub") for name in "AB")
    new = Chain(id="C", steps=(SOAK, OUT))
    problem = _shop(first, second, new)
    taken = Occupancy(problem, Grid(problem))
    for chain, starts in ((first, (3,)), (new, (5, 14))):
        taken.lift(chain)
        taken.place(chain, starts)
    taken.lift(second)
    assert taken.wanted(second, (4,)) == ([], [])
    _, stays = taken.wanted(second, (9,))
    assert [stay.span for stay in stays] == [(0, 9)]
    taken.take_out(new)
    assert taken.wanted(second, (9,)) == ([], [])


def test_from_a_crowded_tub_the_next_bath_may_be_begun() -> None:
    """Two hides in the only tub, both to go into a tub next: they stay where they are."""
    bath = Step(work=1, least=3, target=3, most=None, vessel="tub")
    problem = _shop(*(Chain(id=name, steps=(bath, OUT), lies_in="tub") for name in "AB"))
    _, taken = fill(problem)
    assert taken.placed.keys() == {"A", "B"}
