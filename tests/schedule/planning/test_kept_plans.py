"""A plan that is gone on from stands only as far as it still can."""

from __future__ import annotations

import random

from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from benchconsole.schedule.planning.mending import mended
from benchconsole.schedule.planning.planner import make_plan
from benchconsole.schedule.planning.problems import cost_of
from benchconsole.schedule.planning.search import solve
from tests.schedule.planning.faults import faults_of
from tests.schedule.planning.shops import DAY, shop
from tests.schedule.planning.small_questions import drawn

SEEDS = st.integers(0, 1000)


@settings(max_examples=10, deadline=None)
@given(seed=SEEDS)
def test_a_plan_for_more_open_days_is_not_taken_over(seed: int) -> None:
    """With a week less open, or a tub gone, the new plan keeps to what there is now."""
    problem = shop(seed % 20 + 1, 3)
    before = solve(problem, steps=200)
    draw = random.Random(seed)
    gone = draw.randrange(0, 15) * DAY
    spans = tuple(s for s in problem.open_spans if not gone <= s[0] < gone + 3 * DAY)
    fewer = {**problem.vessels, "board": problem.vessels["board"] - draw.choice((0, 1))}
    changed = replace(problem, open_spans=spans, vessels=fewer)
    after = solve(changed, start_from=before.starts, steps=60)
    placed = replace(
        changed, chains=tuple(each for each in changed.chains if each.id in after.starts)
    )
    assert faults_of(placed, after.starts) == []


@settings(max_examples=10, deadline=None)
@given(seed=SEEDS)
def test_a_plan_that_can_stand_is_no_worse_gone_on_from(seed: int) -> None:
    """Little work from a good plan never ends in a worse one."""
    problem = shop(seed % 20 + 1, 3)
    before = solve(problem, steps=900)
    after = solve(problem, start_from=before.starts, steps=10)
    assert cost_of(problem, after.starts) == after.cost <= before.cost


@settings(max_examples=10, deadline=None)
@given(seed=SEEDS)
def test_mending_the_same_question_never_makes_it_worse(seed: int) -> None:
    """Nothing changed: the plan stays as it is, or gets better hide by hide."""
    question, _ = drawn(seed)
    plan = make_plan(question, steps=300)
    again = mended(question, plan)
    assert again.until == plan.until
    assert again.cost <= plan.cost or any(not hide.visits for hide in plan.hides)
    assert mended(question, again).cost <= again.cost
