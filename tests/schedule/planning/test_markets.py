"""What one more chain pays: nothing shared at a hard price, the right ones asked at a soft one."""

from __future__ import annotations

import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.schedule.planning.grids import NEVER, Grid
from benchconsole.schedule.planning.markets import FORBIDDEN, HardMarket, SoftMarket
from benchconsole.schedule.planning.occupancy import Occupancy
from benchconsole.schedule.planning.problems import Chain, Problem, Step
from benchconsole.schedule.planning.timing import best_times
from tests.schedule.planning.faults import faults_of
from tests.schedule.planning.shops import shop
from tests.schedule.planning.small_problems import problems
from tests.schedule.planning.test_occupancy import fill


def _soft(grid: Grid, chain: Chain, taken: Occupancy, seed: int) -> SoftMarket:
    chance = random.Random(seed)
    factors = chance.choice(((0.1, 0.01), (1.0, 1.0), (4.0, 10.0)))
    return SoftMarket(grid, chain, taken, factors=factors, chance=chance)


def _makes_room(problem: Problem, seed: int) -> int:
    """Every chain in turn gets soft times; how many had to make room for any."""
    grid, taken = fill(problem)
    moved = 0
    for chain in problem.chains:
        if chain.id in taken.placed:
            taken.take_out(chain)
        else:
            taken.lift(chain)
        market = _soft(grid, chain, taken, seed)
        times = best_times(market)
        if times is None:
            taken.lay_down(chain)
            continue
        aside = market.in_the_way(times.starts)
        assert chain.id not in aside
        assert set(aside) <= taken.placed.keys()
        before = taken.wanted(chain, times.starts) != ([], [])
        assert before or not aside
        for name in aside:
            taken.take_out(taken.chains[name])
            taken.lay_down(taken.chains[name])
        moved += len(aside)
        lying = [c for c in problem.chains if c.lies_in and c.id not in taken.placed]
        if len(lying) <= (chain in lying):
            assert taken.wanted(chain, times.starts) == ([], [])
            there = tuple(c for c in problem.chains if c.id in taken.placed or c is chain)
            shown = Problem(
                slots=max(problem.slots, 4000),
                open_spans=((0, 4000),),
                chains=there,
                hands=problem.hands,
                vessels=problem.vessels,
            )
            assert faults_of(shown, {**taken.placed, chain.id: times.starts}) == []
        if taken.wanted(chain, times.starts) == ([], []):
            taken.place(chain, times.starts)
        else:
            taken.lay_down(chain)
    return moved


@settings(derandomize=True, max_examples=80, deadline=None)
@given(problem=problems(), seed=st.integers(0, 99))
def test_with_those_in_the_way_gone_there_is_no_fault(problem: Problem, seed: int) -> None:
    """Who is named is there to be moved, nobody is named for nothing, and it is enough."""
    _makes_room(problem, seed)


@pytest.mark.parametrize("seed", range(1, 7))
def test_in_shops_of_weeks_too(seed: int) -> None:
    """The same with chains of many steps and two or three tubs, where somebody is in the way."""
    assert _makes_room(shop(seed, 6), seed) > 0


BATH = Step(work=1, least=0, target=0, most=10, vessel="tub")
OUT = Step(work=1, least=8, target=8, most=12)


def _three(tubs: int = 1) -> tuple[Problem, Grid, Occupancy]:
    made = tuple(Chain(id=name, steps=(BATH, OUT)) for name in "ABC")
    problem = Problem(slots=60, open_spans=((0, 60),), chains=made, vessels={"tub": tubs})
    grid = Grid(problem)
    taken = Occupancy(problem, grid)
    for chain in made:
        taken.lift(chain)
    return problem, grid, taken


def test_a_hard_price_forbids_hands_and_tubs_that_are_taken() -> None:
    """With the only tub taken from 4 to 13 and hands at 4 and 13, those starts cannot be had."""
    problem, grid, taken = _three()
    taken.place(problem.chains[0], (4, 13))
    market = HardMarket(grid, problem.chains[1], taken)
    hands = market.hands(BATH)
    assert [slot for slot in range(20) if hands[slot] >= FORBIDDEN] == [4, 13]
    long = market.hands(Step(work=3, least=0, target=0, most=None))
    assert [slot for slot in range(20) if long[slot] >= FORBIDDEN] == [2, 3, 4, 11, 12, 13]
    assert hands.max() < NEVER + FORBIDDEN * problem.slots
    stay = market.vessel("tub")
    assert stay is not None
    assert stay.upto[4] - stay.since[0] == 0
    assert stay.upto[5] - stay.since[0] >= FORBIDDEN
    assert stay.upto[20] - stay.since[13] == 0
    assert market.vessel("rack") is None


def test_two_in_one_tub_after_another_are_both_asked_if_both_are_met() -> None:
    """A stay across two others names the two; between them it names nobody."""
    problem, grid, taken = _three()
    first, second, third = problem.chains
    taken.place(first, (4, 13))
    taken.place(second, (30, 39))
    market = _soft(grid, third, taken, 1)
    market.vessel("tub")
    assert market.in_the_way((10, 35)) == ["A", "B"]
    assert market.in_the_way((5, 20)) == ["A"]
    assert market.in_the_way((14, 29)) == []
    assert market.in_the_way((39, 50)) == ["B"]


def test_of_two_in_two_tubs_one_is_enough() -> None:
    """Two tubs with a hide in each: one of them makes room, not both."""
    problem, grid, taken = _three(tubs=2)
    first, second, third = problem.chains
    taken.place(first, (4, 20))
    taken.place(second, (6, 22))
    for seed in range(6):
        assert len(_soft(grid, third, taken, seed).in_the_way((8, 18))) == 1


def test_nobody_can_be_made_to_leave_before_it_can_be_taken_out() -> None:
    """What lies in the tub and cannot come out before slot 8 is a price nobody can pay."""
    lying = Chain(id="A", steps=(Step(work=1, least=8, target=8, most=None),), lies_in="tub")
    new = Chain(id="B", steps=(BATH, OUT))
    problem = Problem(slots=60, open_spans=((0, 60),), chains=(lying, new), vessels={"tub": 1})
    grid = Grid(problem)
    taken = Occupancy(problem, grid)
    taken.lift(lying)
    taken.place(lying, (20,))
    taken.lift(new)
    market = _soft(grid, new, taken, 3)
    times = best_times(market)
    assert times is not None
    assert times.starts[0] >= 9
    stay = market.vessel("tub")
    assert stay is not None
    assert stay.upto[10] - stay.since[8] >= FORBIDDEN
    assert stay.upto[20] - stay.since[9] < FORBIDDEN
