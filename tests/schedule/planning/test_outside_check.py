"""The made-up shops, the checker of plans and the outside solver, before they judge the planner."""

from __future__ import annotations

import itertools
import random
from collections.abc import Iterator

import pytest

from benchconsole.schedule.planning.problems import Chain, Problem, Step, chain_cost, cost_of
from tests.schedule.planning.faults import faults_of
from tests.schedule.planning.oracle import best_plan
from tests.schedule.planning.shops import days_for, first_come, shop

TUB_TWICE = Problem(
    slots=20,
    open_spans=((2, 8), (10, 18)),
    vessels={"tub": 1},
    chains=(
        Chain(
            id="A",
            lies_in="tub",
            steps=(
                Step(work=2, least=3, target=4, most=6),
                Step(work=1, least=2, target=3, most=None, stay=2),
            ),
        ),
        Chain(id="B", steps=(Step(work=1, least=0, target=0, most=9, vessel="tub"),)),
    ),
)
KEPT = {"A": (3, 12), "B": (5,)}


def _tiny(seed: int) -> Problem:
    """A shop small enough to try every plan of it, with each rule in play somewhere."""
    draw = random.Random(seed)
    chains = []
    for name in "AB" if seed % 3 else "ABC":
        steps: list[Step] = []
        for _ in range(2 if seed % 3 else draw.randint(1, 2)):
            least = draw.randint(-3 if not steps else 0, 3)
            target = least + draw.randint(0, 2)
            steps.append(
                Step(
                    work=draw.randint(1, 2),
                    least=least,
                    target=target,
                    most=draw.choice((None, target, target + 2)),
                    vessel=draw.choice(("", "tub", "board", "rack")),
                    stay=draw.choice((0, 0, 1)),
                    stake=draw.randint(1, 3),
                    early=draw.choice((0, 3)),
                )
            )
        lies_in = draw.choice(("", "tub")) if name == "A" else ""
        chains.append(
            Chain(id=name, steps=tuple(steps), lies_in=lies_in, places=draw.randint(1, 2))
        )
    return Problem(
        slots=15,
        open_spans=((1, 5), (7, 14)) if seed % 2 else ((0, 7), (9, 15)),
        chains=tuple(chains),
        hands=draw.choice((1, 1, 2)),
        vessels={"tub": 2, "board": draw.randint(1, 2)},
    )


def _alone(problem: Problem, chain: Chain) -> Iterator[tuple[int, ...]]:
    only = Problem(
        slots=problem.slots,
        open_spans=problem.open_spans,
        chains=(chain,),
        hands=problem.hands,
        vessels=problem.vessels,
    )
    for starts in itertools.product(range(problem.slots), repeat=len(chain.steps)):
        if not faults_of(only, {chain.id: starts}):
            yield starts


def _best_of_all(problem: Problem) -> int | None:
    ways = [
        sorted((chain_cost(chain, starts), starts) for starts in _alone(problem, chain))
        for chain in problem.chains
    ]
    best: int | None = None
    for choice in itertools.product(*ways):
        cost = sum(cost for cost, _ in choice)
        if best is not None and cost >= best:
            continue
        plan = {c.id: starts for c, (_, starts) in zip(problem.chains, choice, strict=True)}
        if not faults_of(problem, plan):
            best = cost
    return best


def test_a_plan_that_keeps_every_rule_has_no_faults() -> None:
    """Half-open spans: B takes the tub in the very slot after A's work has begun elsewhere."""
    assert faults_of(TUB_TWICE, KEPT) == []


@pytest.mark.parametrize(
    ("starts", "said"),
    [
        ({"A": (3, 12)}, "B: 0 starts given"),
        ({"A": (3,), "B": (5,)}, "A: 1 starts given"),
        ({**KEPT, "C": (1,)}, "C: no such chain"),
        ({"A": (2, 12), "B": (5,)}, "A step 0: waits 2, least is 3"),
        ({"A": (3, 6), "B": (5,)}, "A step 1: waits 1, least is 2"),
        ({"A": (7, 12), "B": (15,)}, "A step 0: 7 to 9 and 0 more are not in opening hours"),
        ({"A": (3, 16), "B": (5,)}, "A step 1: 16 to 17 and 2 more are not in opening hours"),
        ({"A": (3, 12), "B": (4,)}, "slot 4: 2 at work with 1 pair of hands"),
        ({"A": (5, 12), "B": (3,)}, "slot 3: 2 of 1 tub in use"),
        ({"A": (3, 2), "B": (6,)}, "A step 1: begins at 2, before 5"),
        ({"A": (3, 12), "B": (20,)}, "B step 0: ends at 21, the plan at 20"),
    ],
)
def test_each_broken_rule_is_named(starts: dict[str, tuple[int, ...]], said: str) -> None:
    """Without this the checker could pass any plan."""
    assert said in faults_of(TUB_TWICE, starts)


@pytest.mark.parametrize("seed", range(30))
def test_the_solver_finds_the_best_of_every_plan_there_is(seed: int) -> None:
    """Trying all plans of a tiny shop gives the same cost: the model has the rules right."""
    problem = _tiny(seed)
    answer = best_plan(problem, 20)
    assert answer.cost == _best_of_all(problem)
    assert answer.status == ("INFEASIBLE" if answer.cost is None else "OPTIMAL")
    if answer.cost is not None:
        assert faults_of(problem, answer.starts) == []
        assert cost_of(problem, answer.starts) == answer.cost == answer.bound


@pytest.mark.parametrize("seed", range(1, 11))
def test_a_made_up_shop_can_be_worked_and_comes_out_the_same_again(seed: int) -> None:
    """So a figure measured on a seed can be measured again."""
    chains = 4 + seed % 5
    problem = shop(seed, chains)
    starts = first_come(problem)
    assert starts is not None
    assert faults_of(problem, starts) == []
    assert problem == shop(seed, chains)
    assert len(problem.chains) == chains


def test_a_full_made_up_shop_is_given_the_weeks_it_needs() -> None:
    """Sixty hides through two or three tubs can be worked in the days stated for them."""
    problem = shop(1, 60, days_for(60))
    assert problem.slots == days_for(60) * 96
    assert first_come(problem) is not None
    with pytest.raises(ValueError, match="60 chains in 35 days"):
        shop(1, 60)
