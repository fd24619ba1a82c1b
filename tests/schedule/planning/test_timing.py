"""The cheapest times of one chain: against every way there is, and an outside solver."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from benchconsole.schedule.planning.grids import (
    NEVER,
    Grid,
    Places,
    Whole,
    minimum_before,
    range_minimum,
)
from benchconsole.schedule.planning.grids import _runs as runs_of
from benchconsole.schedule.planning.markets import HardMarket, Market
from benchconsole.schedule.planning.occupancy import Occupancy
from benchconsole.schedule.planning.problems import Chain, Problem, Step, chain_cost
from benchconsole.schedule.planning.timing import best_times
from tests.schedule.planning.faults import faults_of
from tests.schedule.planning.oracle import best_plan
from tests.schedule.planning.shops import shop
from tests.schedule.planning.small_problems import DEAR, all_times, alone, problems

PLAIN = Step(work=2, least=0, target=0, most=None)


def _grid(problem: Problem) -> Grid:
    return Grid(problem)


def _timed(problem: Problem, *given_steps: Step, begin: tuple[int, int] | None = None) -> object:
    chain = Chain(id="A", steps=given_steps)
    times = best_times(Market(_grid(problem), chain), begin=begin)
    return None if times is None else times.starts


DAY_AND_DAY = Problem(slots=20, open_spans=((2, 8), (12, 18)), chains=())


@settings(derandomize=True, max_examples=150, deadline=None)
@given(problem=problems(most_chains=1))
def test_one_chain_alone_is_timed_as_well_as_can_be(problem: Problem) -> None:
    """Trying every time of every step finds nothing cheaper, and the cost said is the cost."""
    chain = problem.chains[0]
    free = alone(problem, chain)
    costs = [chain_cost(chain, starts) for starts in all_times(free, chain)]
    times = best_times(Market(_grid(free), chain))
    within = times is not None and times.cost < DEAR
    assert within is bool(costs)
    if times is not None and within:
        assert times.cost == min(costs) == chain_cost(chain, times.starts)
        assert faults_of(free, {chain.id: times.starts}) == []


@pytest.mark.parametrize("seed", range(1, 5))
def test_one_chain_of_weeks_costs_what_an_outside_solver_proves(seed: int) -> None:
    """OR-tools CP-SAT, which shares nothing with the dynamic programme, has the same optimum."""
    problem = shop(seed, 4)
    for chain in problem.chains:
        free = alone(problem, chain)
        proven = best_plan(free, 20)
        times = best_times(Market(_grid(free), chain))
        assert proven.status == "OPTIMAL"
        assert times is not None
        assert times.cost == proven.cost == chain_cost(chain, times.starts)


@settings(derandomize=True, max_examples=150, deadline=None)
@given(problem=problems(most_chains=3, most_steps=2))
def test_among_others_it_shares_no_hand_and_no_vessel_and_is_still_the_best(
    problem: Problem,
) -> None:
    """One after another, each takes the cheapest times that the ones before it leave."""
    grid = _grid(problem)
    taken = Occupancy(problem, grid)
    for chain in problem.chains:
        taken.lift(chain)
    placed: dict[str, tuple[int, ...]] = {}
    for chain in problem.chains:
        times = best_times(HardMarket(grid, chain, taken))
        costs = [chain_cost(chain, starts) for starts in all_times(problem, chain, placed)]
        within = times is not None and times.cost < DEAR
        assert within is bool(costs)
        if times is None or not within:
            continue
        assert chain_cost(chain, times.starts) == min(costs)
        placed[chain.id] = times.starts
        taken.place(chain, times.starts)
    there = tuple(chain for chain in problem.chains if chain.id in placed)
    assert faults_of(replace(problem, chains=there), placed) == []


@settings(derandomize=True, max_examples=80, deadline=None)
@given(problem=problems(most_chains=1), low=st.integers(0, 14), many=st.integers(1, 6))
def test_a_chain_told_when_to_begin_does(problem: Problem, low: int, many: int) -> None:
    """The best of those ways whose first step begins in the given slots; none means none."""
    chain = problem.chains[0]
    free = alone(problem, chain)
    ways = [s for s in all_times(free, chain) if low <= s[0] < low + many]
    times = best_times(Market(_grid(free), chain), begin=(low, low + many))
    if not ways:
        assert times is None or times.cost >= DEAR
        return
    assert times is not None
    assert low <= times.starts[0] < low + many
    assert times.cost == min(chain_cost(chain, starts) for starts in ways)


def test_too_early_costs_where_it_is_said_to() -> None:
    """Due at slot 9, closed then: free to begin early it takes the last time before closing
    or the first, whichever is the cheaper; where early is free it begins at once."""
    near = replace(PLAIN, work=1, target=9)
    assert _timed(DAY_AND_DAY, near) == (2,)
    assert _timed(DAY_AND_DAY, replace(near, early=25)) == (7,)
    assert _timed(DAY_AND_DAY, replace(near, early=80)) == (12,)


def test_the_shop_stays_open_for_the_stay_after_the_work() -> None:
    """Two slots of work and three of staying fit from slot 3 at the latest."""
    stays = replace(PLAIN, least=3, stay=3)
    assert _timed(DAY_AND_DAY, stays) == (3,)
    assert _timed(DAY_AND_DAY, replace(stays, least=4)) == (12,)


@pytest.mark.parametrize("step", [replace(PLAIN, work=7), replace(PLAIN, stay=5)])
def test_work_that_fits_no_opening_has_no_times(step: Step) -> None:
    """Seven slots where the shop is open for six: None, not a plan that runs into the night."""
    assert _timed(DAY_AND_DAY, step) is None
    assert _timed(DAY_AND_DAY, PLAIN, step) is None


def test_a_shop_that_never_opens_has_no_times() -> None:
    """No starts at all is not an error."""
    assert _timed(replace(DAY_AND_DAY, open_spans=()), PLAIN) is None


@settings(derandomize=True, max_examples=100, deadline=None)
@given(
    values=st.lists(st.integers(-50, 50), min_size=1, max_size=40),
    ends=st.lists(st.tuples(st.integers(0, 40), st.integers(0, 40)), min_size=1, max_size=40),
)
def test_the_least_of_runs_is_pythons_min(values: list[int], ends: list[tuple[int, int]]) -> None:
    """``range_minimum`` and ``minimum_before`` against ``min`` over the same slices."""
    count = len(values)
    ends = [(min(low, count), min(high, count)) for low, high in ends][:count]
    ends += [(0, count)] * (count - len(ends))
    numbers: Whole = np.array(values, dtype=np.int64)
    lows: Places = np.array([low for low, _ in ends])
    highs: Places = np.array([high for _, high in ends])
    runs = range_minimum(numbers, runs_of(lows, highs))
    assert runs.tolist() == [min(values[low:high], default=NEVER) for low, high in ends]
    before = minimum_before(numbers, highs)
    assert before.tolist() == [min(values[:high], default=NEVER) for _, high in ends]
