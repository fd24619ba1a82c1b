"""What if: more never costs more, what breaks is told, and ways out are ways out."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.errors import NotPossibleNow
from benchconsole.model.opening import DatedOpening, DaySpan
from benchconsole.schedule.planning.changes import (
    HANDS,
    Away,
    Change,
    Closed,
    ComeIn,
    Means,
    OpenToo,
    StartAt,
    question_with,
    shop_with,
)
from benchconsole.schedule.planning.planner import make_plan
from benchconsole.schedule.planning.plans import Plan
from benchconsole.schedule.planning.supposing import what_if
from tests.schedule.planning.plan_faults import faults_of_plan
from tests.schedule.planning.small_questions import (
    NOW,
    drawn,
    lying_in,
    plainly,
    question_of,
    shop_of,
    stored,
)

STEPS = 400
SEEDS = st.integers(0, 10_000)

MORE: tuple[Change, ...] = (
    Means(kind="tub", more=1),
    Means(kind=HANDS, more=1),
    OpenToo(openings=(DatedOpening(day=date(2026, 3, 8), opens=time(8), closes=time(18)),)),
    ComeIn(start=datetime(2026, 3, 8, 9, tzinfo=UTC), end=datetime(2026, 3, 8, 11, tzinfo=UTC)),
)


def unplanned(plan: Plan) -> int:
    """How many hides found no room."""
    return sum(not hide.visits for hide in plan.hides)


def days(first: int, last: int) -> tuple[DaySpan, ...]:
    """Days of March 2026."""
    return (DaySpan(first=date(2026, 3, first), last=date(2026, 3, last)),)


@settings(max_examples=10, deadline=None)
@given(seed=SEEDS, change=st.sampled_from(MORE))
def test_more_never_costs_more(seed: int, change: Change) -> None:
    """One more tub, pair of hands or opening: the plan costs what it cost, or less."""
    question, shop = drawn(seed)
    plan = make_plan(question, steps=STEPS)
    what = what_if(question, plan, shop, (change,), steps=STEPS)
    assert (unplanned(what.after), what.after.cost) <= (unplanned(plan), plan.cost)
    assert what.before.cost <= plan.cost or unplanned(what.before) < unplanned(plan)


@settings(max_examples=10, deadline=None)
@given(seed=SEEDS, first=st.integers(4, 12), more=st.integers(0, 4))
def test_time_away_is_kept_to_and_what_breaks_is_counted(seed: int, first: int, more: int) -> None:
    """No visit lies in the time away; a visit is told as broken just when it is later past its
    latest than before; ways out break less, and nobody is away when they come in."""
    question, shop = drawn(seed)
    plan = make_plan(question, steps=STEPS)
    what = what_if(question, plan, shop, (Away(days=days(first, first + more)),), steps=STEPS)
    gone = datetime(2026, 3, first, tzinfo=UTC)
    back = gone + timedelta(days=more + 1)
    assert not any(gone <= visit.starts < back for visit in what.after.visits)
    was = {(v.hide, v.stage, v.kind, v.number): v.past_latest for v in what.before.visits}
    worse = {
        key
        for v in what.after.visits
        if v.past_latest > was.get(key := (v.hide, v.stage, v.kind, v.number), timedelta(0))
    }
    told = {(v.hide, v.stage, v.kind, v.number) for v in (w.visit for w in what.difference.broken)}
    assert told == worse
    assert all(window.by > timedelta(0) for window in what.difference.broken)
    if not worse:
        assert what.ways_out == ()
    for way in what.ways_out:
        found = way.difference
        assert found.breaks <= what.difference.breaks
        assert found.breaks < what.difference.breaks or (
            found.broken_by < what.difference.broken_by
        )
        hours = question_with(question, shop, (*what.changes, *way.changes)).hours
        for visit in way.after.visits:
            closes = hours.open_until(visit.starts)
            assert closes is not None
            assert visit.ends <= closes
    for one, other in pairwise(what.ways_out):
        assert (one.difference.breaks, one.after.cost) <= (
            other.difference.breaks,
            other.after.cost,
        )


@settings(max_examples=10, deadline=None)
@given(seed=SEEDS, day=st.integers(4, 14))
def test_with_a_day_closed_the_plan_can_still_be_worked(seed: int, day: int) -> None:
    """Before and after break no promise of hours, waits, hands or tubs, each in its own shop."""
    question, shop = drawn(seed)
    plan = make_plan(question, steps=STEPS)
    what = what_if(question, plan, shop, (Closed(days=days(day, day)),), steps=STEPS)
    closed = plainly(shop, date(2026, 3, day))
    hides, routes = question.hides, question.routes
    assert faults_of_plan(what.before, hides, routes, plainly(shop)) == []
    assert faults_of_plan(what.after, hides, routes, closed) == []
    for way in what.ways_out:
        kinds = [change for change in way.changes if isinstance(change, Means)]
        if len(kinds) == len(way.changes):
            more = plainly(shop_with(shop, kinds, UTC), date(2026, 3, day))
            assert faults_of_plan(way.after, hides, routes, more) == []


def test_away_with_nothing_broken_says_so() -> None:
    """While all hides lie in store days away break nothing, and no way out is looked for."""
    shop = shop_of()
    question = question_of((stored("h1"), stored("h2")), shop)
    plan = make_plan(question, steps=STEPS)
    what = what_if(question, plan, shop, (Away(days=days(4, 7)),), steps=STEPS)
    assert what.difference.breaks == 0
    assert what.ways_out == ()
    assert all(finish.after > finish.before for finish in what.difference.finishes)
    assert what.difference.finishes


def test_away_over_the_end_of_a_hold_offers_to_come_in() -> None:
    """The pickle ends while nobody is there: coming in once for it leaves nothing broken."""
    shop = shop_of()
    question = question_of((lying_in("h1", "pickle", 60),), shop)
    plan = make_plan(question, steps=STEPS)
    what = what_if(question, plan, shop, (Away(days=days(4, 9)),), steps=STEPS)
    assert [window.visit.stage for window in what.difference.broken] == ["oil"]
    best = what.ways_out[0]
    assert best.difference.breaks == 0
    assert all(isinstance(change, ComeIn) for change in best.changes)
    came = [change for change in best.changes if isinstance(change, ComeIn)]
    oil = next(visit for visit in best.after.visits if visit.stage == "oil")
    assert any(c.start <= oil.starts and oil.ends <= c.end for c in came)
    assert oil.starts <= oil.latest
    assert came[0].what_for.startswith("h1: Oil")


def test_one_fewer_tub_that_is_needed_keeps_a_hide_back() -> None:
    """With one tub fewer two hides go one after the other: one is done later, none is lost."""
    shop = shop_of(tubs=2)
    question = question_of((stored("h1"), stored("h2")), shop)
    plan = make_plan(question, steps=STEPS)
    what = what_if(question, plan, shop, (Means(kind="tub", more=-1),), steps=STEPS)
    assert what.difference.unplanned == ()
    [finish] = [f for f in what.difference.finishes if f.after > f.before + timedelta(days=2)]
    assert finish.after is not None
    [(before, after)] = [pair for pair in what.difference.begins if pair[0].hide == finish.hide]
    assert before.starts < after.starts


def test_no_tub_at_all_is_told_and_a_tub_is_the_way_out() -> None:
    """A hide without any room is named, and one more tub brings it back."""
    shop = shop_of(tubs=1)
    question = question_of((stored("h1"),), shop)
    plan = make_plan(question, steps=STEPS)
    what = what_if(question, plan, shop, (Means(kind="tub", more=-1),), steps=STEPS)
    assert what.difference.unplanned == ("h1",)
    assert what.ways_out[0].changes == (Means(kind="tub", more=1),)
    assert what.ways_out[0].difference.breaks == 0


def test_a_start_that_would_break_something_is_put_off_by_the_plan() -> None:
    """Begun on Saturday evening it would lie over Sunday; the plan begins it after, and says so."""
    shop = shop_of()
    question = question_of((stored("h1"),), shop)
    plan = make_plan(question, steps=STEPS)
    saturday = StartAt(hide="h1", hide_name="h1", at=datetime(2026, 3, 7, 17, tzinfo=UTC))
    what = what_if(question, plan, shop, (saturday,), steps=STEPS)
    [(before, after)] = what.difference.begins
    assert before.starts < saturday.at < after.starts
    assert what.difference.breaks == 0


def test_another_start_is_a_way_out_of_a_chosen_one() -> None:
    """Where the chosen start is what breaks something, another start for that hide is offered."""
    shop = shop_of(tubs=1)
    # The keeping of h2 ends while h1, begun as chosen, lies in the only tub.
    question = question_of((stored("h1"), stored("h2", days_ago=88.5)), shop)
    plan = make_plan(question, steps=STEPS)
    assert not any(visit.past_latest for visit in plan.visits)
    first = StartAt(hide="h2", hide_name="h2", at=datetime(2026, 3, 9, 8, tzinfo=UTC))
    what = what_if(question, plan, shop, (first,), steps=STEPS)
    assert [window.visit.hide for window in what.difference.broken] == ["h2"]
    others = [c for way in what.ways_out for c in way.changes if isinstance(c, StartAt)]
    assert others
    assert all(change.hide == "h2" and change.at != first.at for change in others)
    assert what.ways_out[0].difference.breaks == 0


def test_a_closed_day_moves_its_visits() -> None:
    """Nothing stands on a day that is closed; before and after are plans of the same hides."""
    shop = shop_of()
    question = question_of((stored("h1"), lying_in("h2", "pickle", 40)), shop)
    plan = make_plan(question, steps=STEPS)
    what = what_if(question, plan, shop, (Closed(days=days(5, 5)),), steps=STEPS)
    assert not any(visit.starts.date() == date(2026, 3, 5) for visit in what.after.visits)
    assert [hide.hide for hide in what.after.hides] == [hide.hide for hide in plan.hides]


def test_what_cannot_be_is_refused() -> None:
    """No hands at all, fewer tubs than none, and more of what is not counted."""
    shop = shop_of(tubs=0)
    question = question_of((stored("h1"),), shop)
    plan = make_plan(question, steps=STEPS)
    for change, words in (
        (Means(kind=HANDS, more=-1), "not 0"),
        (Means(kind="tub", more=-1), "only 0"),
        (Means(kind="frame", more=1), "was not said"),
    ):
        with pytest.raises(NotPossibleNow, match=words):
            what_if(question, plan, shop, (change,), steps=STEPS)


def test_the_plan_of_another_hour_is_gone_by() -> None:
    """Asked some minutes after the plan was made, the answer is the same."""
    shop = shop_of()
    question = question_of((lying_in("h1", "pickle", 60),), shop)
    plan = make_plan(question, steps=STEPS)
    change = (Away(days=days(4, 9)),)
    later = replace(question, now=NOW + timedelta(minutes=10))
    one = what_if(question, plan, shop, change, steps=STEPS)
    assert what_if(later, plan, shop, change, steps=STEPS) == one
