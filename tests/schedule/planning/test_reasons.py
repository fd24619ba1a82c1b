"""Why a visit does not stand at its due time: said of each that does not, and true each time."""

from __future__ import annotations

import random
from datetime import date, time, timedelta

import pytest
from msgspec.structs import replace

from benchconsole.model.routes import Route
from benchconsole.model.state import HideState
from benchconsole.schedule.planning.planner import make_plan
from benchconsole.schedule.planning.plans import Plan
from tests.schedule.planning.plan_faults import PlainShop
from tests.schedule.planning.plan_questions import (
    BY_DAY,
    DAY,
    HOUR,
    NOW,
    STATES,
    between_stages,
    drying,
    in_pickle,
    in_store,
    in_vessels,
    new,
    question_of,
    second_coat,
)
from tests.schedule.planning.plan_reasons import Told


def _told(hides: list[HideState], route: Route, shop: PlainShop, seen: set[str]) -> Told:
    plan = make_plan(question_of(hides, route, shop=shop))
    return Told(plan=plan, hides=hides, routes={route.id: route}, shop=shop, seen=seen)


def _why(plan: Plan, hide: str, place: int = 0) -> str:
    found = plan.of(hide)
    assert found is not None
    return found.visits[place].why


def _drawn(seed: int) -> tuple[list[HideState], PlainShop]:
    draw = random.Random(seed)
    at_work = [state for state in STATES if state not in ("finished", "out")]
    hides = [
        STATES[state](f"{state}{place}")
        for place, state in enumerate(draw.choices(at_work, k=draw.randint(3, 9)))
    ]
    closes = time(draw.choice((12, 18)))
    shop = PlainShop(
        open_on={day: (time(8), closes) for day in sorted(draw.sample(range(7), 5))},
        closed=(date(2026, 6, 4),) if seed % 3 == 0 else (),
        vessels={"tub": draw.randint(3, 6), "board": draw.randint(1, 4)},
        hands=draw.choice((1, 1, 2)),
    )
    return hides, shop


def test_every_reason_in_many_shops_is_there_and_true(route: Route) -> None:
    """Hours, hands and vessels are looked up again for each claim; every kind of claim is met."""
    seen: set[str] = set()
    for seed in range(14):
        hides, shop = _drawn(seed)
        told = _told(hides, in_vessels(route), shop, seen)
        assert told.untrue() == []
    assert seen >= {"closed", "hands", "vessel", "for a later one", "too long", "past its latest"}


def test_nothing_is_said_where_nothing_moved(route: Route) -> None:
    """A hide alone, due while the shop is open: every visit at its due time, none explained."""
    told = _told([in_pickle("one")], route, BY_DAY, set())
    assert told.untrue() == []
    on_time = [visit for visit in told.plan.visits if visit.starts == visit.due]
    assert len(on_time) > 2
    assert not any(visit.why for visit in on_time)


@pytest.mark.parametrize(
    ("since", "closed", "said"),
    [
        (DAY, (date(2026, 6, 4),), "closed 4 Jun"),
        (2 * DAY, (), ""),
        (2.5 * DAY, (), "outside hours"),
    ],
)
def test_closed_time_is_named(
    route: Route, since: timedelta, closed: tuple[date, ...], said: str
) -> None:
    """Due three days after it was begun: on a closed day, in open hours, in the evening."""
    shop = PlainShop(open_on=BY_DAY.open_on, closed=closed)
    why = _why(make_plan(question_of([in_pickle("one", since)], route, shop=shop)), "one")
    assert why.split("; ")[0] == said


def test_hands_that_are_elsewhere_are_named(route: Route) -> None:
    """Two hides out of the rinse at once and one pair of hands: one waits for the other."""
    hides = [between_stages("one"), between_stages("two")]
    plan = make_plan(question_of(hides, route))
    assert {_why(plan, "one"), _why(plan, "two")} in (
        {"", "your hands are at One (oil)"},
        {"", "your hands are at Two (oil)"},
    )
    two = make_plan(question_of(hides, route, shop=PlainShop(open_on=BY_DAY.open_on, hands=2)))
    assert [_why(two, "one"), _why(two, "two")] == ["", ""]


def test_with_two_pairs_of_hands_both_have_to_be_at_work(route: Route) -> None:
    """Two visits one after the other leave a pair free all the time: that is no reason."""
    told = _told(
        [STATES[state](state) for state in STATES if state not in ("finished", "out")],
        route,
        PlainShop(open_on=BY_DAY.open_on, hands=2),
        seen := set(),
    )
    assert told.untrue() == []
    assert "hands" in seen


def test_the_hides_in_the_vessel_are_named(route: Route) -> None:
    """The only board is taken until the one on it is dry."""
    shop = PlainShop(open_on=BY_DAY.open_on, vessels={"board": 1})
    plan = make_plan(
        question_of([drying("one", 2 * HOUR), second_coat("two")], in_vessels(route), shop=shop)
    )
    assert _why(plan, "two") == "no board is free: One"
    none = make_plan(
        question_of(
            [second_coat("two")],
            in_vessels(route),
            shop=PlainShop(open_on=BY_DAY.open_on, vessels={"board": 0}),
        )
    )
    found = none.of("two")
    assert found is not None
    assert "no room" in found.unplanned


def test_lateness_is_said_in_full(route: Route) -> None:
    """Three weeks green where six hours are allowed: planned at once, and said how late."""
    plan = make_plan(question_of([new("one")], route))
    assert _why(plan, "one") == "that is 20 d 18 h past its latest"
    # Windows stand on the grid of quarter hours, so a latest time is a few minutes early.
    assert timedelta(0) <= plan.visits[0].past_latest - (20 * DAY + 18 * HOUR) < HOUR / 2
    assert plan.visits[0].starts - NOW == HOUR / 6


def test_work_longer_than_any_opening_says_how_long_somebody_must_stay(route: Route) -> None:
    """Four hours of work in a shop open for three: planned to the closing, and said."""
    stages = tuple(
        replace(stage, work=4 * HOUR) if stage.id == "pickle" else stage for stage in route.stages
    )
    shop = PlainShop(open_on={day: (time(9), time(12)) for day in range(5)})
    plan = make_plan(question_of([in_store("one")], replace(route, stages=stages), shop=shop))
    assert "somebody must stay 1 h after closing" in _why(plan, "one")


def test_a_latest_time_is_told_to_the_minute(route: Route) -> None:
    """Not cut to the quarter hour before, and without the seconds of a tap."""
    since = 9 * DAY + timedelta(minutes=7, seconds=20)
    plan = make_plan(question_of([in_pickle("one", since)], route))
    visit = plan.visits[0]
    hold = route.stage("pickle").hold_for("goat", "salted")
    assert hold is not None and hold.max is not None and visit.latest is not None
    told = NOW - since + hold.max - visit.latest
    assert timedelta(0) <= told < timedelta(minutes=1)
    assert visit.latest.second == 0
