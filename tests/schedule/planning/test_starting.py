"""When to begin with one hide: every start agrees with the plan, and bad ones say why."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from benchconsole.errors import NotPossibleNow
from benchconsole.schedule.planning.courses import EARLY_COST
from benchconsole.schedule.planning.planner import make_plan
from benchconsole.schedule.planning.plans import Visit
from benchconsole.schedule.planning.problems import DUE_COST, FINISH_COST, LATEST_COST
from benchconsole.schedule.planning.stakes import STAKES
from benchconsole.schedule.planning.starting import starts_of
from tests.schedule.planning.plan_faults import faults_of_plan
from tests.schedule.planning.small_questions import (
    NOW,
    ROUTE,
    drawn,
    lying_in,
    plainly,
    question_of,
    shop_of,
    stored,
)

STEPS = 400
SEEDS = st.integers(0, 10_000)
NOTHING, QUARTER = timedelta(0), timedelta(minutes=15)


def cost_of(visits: tuple[Visit, ...]) -> float:
    """What a hide's visits cost in minutes past due, counted from the visits alone."""
    minutes = timedelta(minutes=1)
    stakes = {stage.late: STAKES[stage.stake] for stage in ROUTE.stages}
    cost = FINISH_COST * ((visits[-1].ends - NOW) / minutes)
    for visit in visits:
        cost += DUE_COST * (visit.past_due / minutes)
        # The planner reckons on the grid, where a latest time is cut to its quarter hour.
        cut = (visit.latest - NOW) % QUARTER if visit.past_latest and visit.latest else NOTHING
        cost += LATEST_COST * stakes[visit.spoils] * ((visit.past_latest + cut) / minutes)
        # A hold may be cut short at a cost; what waits in store, or for a coat, is none.
        stored = visit.latest is not None and visit.latest - visit.due < QUARTER
        if visit.kind != "coat" and not stored:
            cost += EARLY_COST * (max(visit.due - visit.starts, timedelta(0)) / minutes)
    return cost / DUE_COST


@settings(max_examples=12, deadline=None)
@given(seed=SEEDS)
def test_the_start_of_the_plan_is_projected_as_planned(seed: int) -> None:
    """Begun when the plan begins it, a hide's visits are the plan's, unless cheaper ones exist."""
    question, _ = drawn(seed)
    plan = make_plan(question, steps=STEPS)
    planned = plan.of("h1")
    assert planned is not None
    starts = starts_of(question, plan, "h1")
    assert starts.planned == planned.visits[0].starts
    at = next((c for c in starts.ranked if c.at == starts.planned), None)
    if at is None:
        assert starts.planned - NOW >= timedelta(days=13)
        return
    assert at.cost == pytest.approx(cost_of(at.visits), abs=1e-6)
    if tuple(v.starts for v in at.visits) != tuple(v.starts for v in planned.visits):
        assert at.cost < cost_of(planned.visits)


@settings(max_examples=12, deadline=None)
@given(seed=SEEDS)
def test_every_start_keeps_to_the_hours_and_bad_ones_say_something(seed: int) -> None:
    """Visits lie in open hours and in order; what is bad, or late, is said in words."""
    question, _ = drawn(seed)
    plan = make_plan(question, steps=STEPS)
    starts = starts_of(question, plan, "h1")
    assert starts.ranked
    costs = [choice.cost for choice in starts.ranked]
    assert costs == sorted(costs)
    for choice in starts.ranked:
        assert question.hours.is_open(choice.at)
        if choice.grade == "bad" or choice.past_latest or choice.past_due:
            assert choice.words
        if choice.visits:
            assert choice.visits[0].starts == choice.at
            assert choice.finish == choice.visits[-1].ends
        for before, after in zip(choice.visits, choice.visits[1:], strict=False):
            assert before.ends <= after.starts
        for visit in choice.visits:
            closes = question.hours.open_until(visit.starts)
            assert closes is not None
            assert visit.ends <= closes


@settings(max_examples=12, deadline=None)
@given(seed=SEEDS)
def test_the_others_keep_hands_and_tubs(seed: int) -> None:
    """Put into the plan in the place of what was planned, no start breaks any of its promises."""
    question, shop = drawn(seed)
    plan = make_plan(question, steps=STEPS)
    assert faults_of_plan(plan, question.hides, question.routes, plainly(shop)) == []
    possible = [c for c in starts_of(question, plan, "h1").ranked if c.visits]
    assert possible
    for choice in possible[::7]:
        hides = tuple(
            replace(each, visits=choice.visits) if each.hide == "h1" else each
            for each in plan.hides
        )
        tried = replace(plan, hides=hides)
        assert faults_of_plan(tried, question.hides, question.routes, plainly(shop)) == []


def test_by_day_has_the_best_of_each_day() -> None:
    """One start a day, none dearer than any other of that day."""
    question = question_of((stored("h1"), lying_in("h2", "pickle", 20)), shop_of())
    starts = starts_of(question, make_plan(question, steps=STEPS), "h1")
    days = [choice.at.date() for choice in starts.by_day]
    assert days == sorted(set(days))
    assert {choice.at.date() for choice in starts.ranked} == set(days)
    for choice in starts.ranked:
        best = next(each for each in starts.by_day if each.at.date() == choice.at.date())
        assert best.cost <= choice.cost


def test_a_full_tub_is_named() -> None:
    """With the only tub taken a start is bad, and the words name who lies in it."""
    question = question_of((stored("h1"), lying_in("h2", "pickle", 2)), shop_of(tubs=1))
    plan = make_plan(question, steps=STEPS)
    first = min(starts_of(question, plan, "h1").ranked, key=lambda choice: choice.at)
    assert (first.grade, first.visits) == ("bad", ())
    assert first.words == "no tub is free: h2"


def test_too_little_time_before_closing_is_named() -> None:
    """In the last quarter of an hour nothing that takes half an hour is begun."""
    question = question_of((stored("h1"),), shop_of())
    later = question_of(question.hides, shop_of())
    starts = starts_of(later, make_plan(question, steps=STEPS), "h1")
    assert not any(choice.at.hour == 18 for choice in starts.ranked)
    last = next(c for c in starts.ranked if c.at == datetime(2026, 3, 4, 17, tzinfo=NOW.tzinfo))
    assert last.visits


def test_a_late_start_says_which_visit_suffers() -> None:
    """Soaked before a closed Sunday the hide would lie too long, and that is said."""
    question = question_of((stored("h1"),), shop_of())
    starts = starts_of(question, make_plan(question, steps=STEPS), "h1")
    saturday = next(c for c in starts.ranked if c.at == datetime(2026, 3, 7, 16, tzinfo=NOW.tzinfo))
    assert saturday.grade == "bad"
    assert saturday.past_latest > timedelta(0)
    assert saturday.words.startswith("“Pickle” ")
    assert "past its latest" in saturday.words
    assert "soak spoils" in saturday.words
    best = starts.ranked[0]
    assert best.grade == "good"
    assert not best.past_latest


def test_a_chosen_start_is_no_bar_to_others() -> None:
    """A start chosen before is shown, and all other starts are looked at as well."""
    hide = stored("h1")
    chosen = datetime(2026, 3, 6, 10, tzinfo=NOW.tzinfo)
    question = question_of((replace(hide, start_at=chosen),), shop_of())
    starts = starts_of(question, make_plan(question, steps=STEPS), "h1")
    assert starts.chosen == chosen
    assert any(choice.at < chosen and choice.visits for choice in starts.ranked)


def test_a_hide_in_a_stage_waits_for_no_start() -> None:
    """It is refused in a sentence."""
    question = question_of((lying_in("h1", "pickle", 20),), shop_of())
    with pytest.raises(NotPossibleNow, match="waits for no start"):
        starts_of(question, make_plan(question, steps=STEPS), "h1")
