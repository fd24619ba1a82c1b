"""A plan mended after something small has changed: one hide after another gets better times.

Much quicker than a search, and enough to tell one way out from the next.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from benchconsole.schedule.planning.grids import Grid
from benchconsole.schedule.planning.markets import HardMarket
from benchconsole.schedule.planning.occupancy import Occupancy, Starts
from benchconsole.schedule.planning.planner import (
    Question,
    asked_like,
    plan_of,
    times_of,
)
from benchconsole.schedule.planning.plans import Plan
from benchconsole.schedule.planning.problems import Chain, Problem, Schedule, chain_cost
from benchconsole.schedule.planning.timing import best_times

TURNS = 3
"""How often at most every hide is looked at again; our own choice."""


def mended(question: Question, plan: Plan, first: Sequence[str] = ()) -> Plan:
    """The plan for a question a little other than the one it was made for, without rounds; pure.

    Its times stand where they still can and nothing better offers itself hide by hide; the hides
    ``first`` have the first choice.
    """
    asked = asked_like(question, plan)
    starts = _mended(asked.problem, times_of(plan, asked) or {}, first)
    chains = {chain.id: chain for chain in asked.problem.chains}
    cost = sum(chain_cost(chains[name], times) for name, times in starts.items())
    return plan_of(question, asked, Schedule(starts=starts, cost=cost))


def _mended(
    problem: Problem, planned: Mapping[str, Starts], first: Sequence[str]
) -> dict[str, Starts]:
    grid = Grid(problem)
    taken = Occupancy(problem, grid)
    for chain in problem.chains:
        starts = planned.get(chain.id)
        if starts is None:
            continue
        taken.lift(chain)
        if taken.is_free_for(chain, starts):
            taken.place(chain, starts)
        else:
            taken.lay_down(chain)
    # Those that lost their times choose before the others take what they had.
    lost = [chain.id for chain in problem.chains if chain.id not in taken.placed]
    order = sorted(
        problem.chains,
        key=lambda chain: (chain.id not in first, chain.id not in lost, chain.id),
    )
    for _ in range(TURNS):
        better = [_placed_better(grid, taken, chain) for chain in order]
        if not any(better):
            break
    return dict(taken.placed)


def _placed_better(grid: Grid, taken: Occupancy, chain: Chain) -> bool:
    """Give a chain its cheapest times in what the others leave; whether they are better."""
    before = taken.placed.get(chain.id)
    if before is None:
        taken.lift(chain)
    else:
        taken.take_out(chain)
    times = best_times(HardMarket(grid, chain, taken))
    if before is not None and (times is None or times.cost >= chain_cost(chain, before)):
        taken.place(chain, before)
        return False
    if times is None:
        taken.lay_down(chain)
        return False
    taken.place(chain, times.starts)
    return True
