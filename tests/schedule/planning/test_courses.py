"""What still lies before a hide, as a chain of visits: one course for each state it can be in."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from msgspec.structs import replace

from benchconsole.model.events import (
    CheckFailed,
    CoatGiven,
    Lying,
    RouteChanged,
    StageBegun,
    StageLeft,
)
from benchconsole.model.routes import Route
from benchconsole.model.state import HideState
from benchconsole.schedule.planning.courses import (
    EARLY_COST,
    Course,
    Window,
    course_of,
    too_long,
)
from benchconsole.schedule.planning.problems import Step
from benchconsole.schedule.planning.stakes import STAKES
from tests.schedule.planning.plan_questions import (
    BY_DAY,
    DAY,
    HOUR,
    NOW,
    STATES,
    between_coats,
    failed_look,
    finished,
    hide_of,
    hours_of,
    in_pickle,
    in_spoiled_liquor,
    in_store,
    in_vessels,
    new,
    out_of_work,
    start_chosen,
)

START = datetime(2026, 6, 2, 9, 15, tzinfo=UTC)
"""The first quarter of an hour after ``NOW``."""
SLOT = timedelta(minutes=15)
Maker = Callable[[str], HideState]


def _course(
    hide: HideState,
    route: Route | None,
    *,
    ahead: timedelta = 60 * DAY,
    stretch: timedelta = 10 * HOUR,
    drying: Window | None = None,
) -> Course | None:
    return course_of(
        hide,
        route,
        hours=hours_of(BY_DAY),
        start=START,
        now=NOW,
        until=START + ahead,
        stretch=stretch,
        drying=drying,
    )


def _sure(hide: HideState, route: Route, **more: Any) -> Course:
    course = _course(hide, route, **more)
    assert course is not None
    return course


def _steps(course: Course) -> tuple[Step, ...]:
    assert course.chain is not None
    assert len(course.chain.steps) == len(course.meanings)
    return course.chain.steps


def _acts(course: Course) -> list[str]:
    return [f"{m.kind} {m.stage.id} {m.number}" for m in course.meanings]


FROM_PICKLE = [
    "begin rinse 1",
    "begin oil 1",
    "coat oil 2",
    "begin dry 1",
    "check dry 1",
]


@pytest.mark.parametrize(
    ("state", "acts"),
    [
        ("new", ["begin salt 1", "check salt 1", "begin pickle 1", *FROM_PICKLE]),
        ("stored", ["begin pickle 1", *FROM_PICKLE]),
        ("chosen", ["begin pickle 1", *FROM_PICKLE]),
        ("spoiled", ["begin pickle 1", *FROM_PICKLE]),
        ("pickle", FROM_PICKLE),
        ("failed", FROM_PICKLE),
        ("between", FROM_PICKLE[1:]),
        ("coats", FROM_PICKLE[2:]),
        ("oiled", FROM_PICKLE[3:]),
        ("drying", FROM_PICKLE[4:]),
    ],
)
def test_the_visits_still_to_come_are_those_of_the_route(
    route: Route, state: str, acts: list[str]
) -> None:
    """A look and the next beginning are one visit, unless the hide may wait in between."""
    assert _acts(_sure(STATES[state]("one"), route)) == acts


def test_waits_are_the_routes_own_in_quarters_of_an_hour(route: Route) -> None:
    """The least rounded up and the most down; the work with its look rounded up."""
    waits = [(s.work, s.least, s.target, s.most) for s in _steps(_sure(new("one"), route))]
    year_half = 180 * 96
    assert waits[1:] == [
        (1, 96, 192, 288),
        (1, 0, year_half, year_half),
        (2, 96, 288, 480),
        (2, 0, 0, 40),
        (2, 2, 4, 8),
        (1, 0, 0, None),
        (1, 48, 96, 144),
    ]


@pytest.mark.parametrize(
    ("make", "least", "target", "most"),
    [
        (in_pickle, NOW - DAY, NOW + DAY, NOW + 3 * DAY),
        (in_store, NOW - 18 * DAY, NOW + 162 * DAY, NOW + 162 * DAY),
        (failed_look, NOW + 11 * HOUR, NOW + 11 * HOUR, NOW + DAY),
        (start_chosen, NOW + 5 * DAY + 2 * HOUR, NOW + 5 * DAY + 2 * HOUR, NOW + 162 * DAY),
        (in_spoiled_liquor, NOW - HOUR, NOW - HOUR, NOW + 3 * DAY),
        (between_coats, NOW + HOUR / 6, NOW + 2 * HOUR / 3, NOW + 5 * HOUR / 3),
    ],
)
def test_the_first_window_is_that_of_the_next_action(
    route: Route, make: Maker, least: datetime, target: datetime, most: datetime
) -> None:
    """Counted from the plan's first quarter; a chosen start is not moved forward."""
    first = _steps(_sure(make("one"), route))[0]
    assert first.least == -(-(least - START) // SLOT)
    assert first.target == min(-(-(target - START) // SLOT), (most - START) // SLOT)
    assert first.most == (most - START) // SLOT


def test_a_hold_cut_short_costs_and_an_early_start_from_store_does_not(route: Route) -> None:
    """Only the end of a hold is better not reached before its target."""
    course = _sure(in_store("one"), route)
    early = {act: step.early for act, step in zip(_acts(course), _steps(course), strict=True)}
    assert early["begin rinse 1"] == early["check dry 1"] == EARLY_COST
    assert early["begin pickle 1"] == early["begin oil 1"] == early["coat oil 2"] == 0


def test_lateness_weighs_by_what_the_limit_that_is_overstepped_spoils(route: Route) -> None:
    """Left too long in the pickle it is the pickle's stake that counts, not the rinse's."""
    stakes = {"pickle": "hide", "rinse": "nothing", "oil": "work"}
    stages = tuple(
        replace(stage, stake=stakes[stage.id]) if stage.id in stakes else stage
        for stage in route.stages
    )
    course = _sure(in_pickle("one"), replace(route, stages=stages))
    weighed = dict(zip(_acts(course), (step.stake for step in _steps(course)), strict=True))
    assert weighed["begin rinse 1"] == STAKES["hide"]
    assert weighed["begin oil 1"] == weighed["coat oil 2"] == STAKES["work"]
    assert course.meanings[0].harm.id == "pickle"


@pytest.mark.parametrize(
    ("state", "lies_in", "kind"),
    [
        ("new", "", ""),
        ("stored", "salt", ""),
        ("pickle", "pickle", "tub"),
        ("spoiled", "pickle", "tub"),
        ("between", "rinse", "tub"),
        ("drying", "dry", "board"),
        ("coats", "oil", ""),
    ],
)
def test_it_lies_where_it_was_put_last(route: Route, state: str, lies_in: str, kind: str) -> None:
    """In store it takes no vessel; between two stages it still has that of the one before."""
    course = _sure(STATES[state]("one"), in_vessels(route))
    assert course.lies_in == lies_in
    assert course.chain is not None
    assert course.chain.lies_in == kind


def test_a_lot_is_one_chain_and_takes_one_vessel(route: Route) -> None:
    """Six skins share the tub and the visits."""
    lot = hide_of(
        "lot", (NOW - DAY, StageBegun(hide="lot", stage="pickle")), stage="pickle", count=6
    )
    course = _sure(lot, in_vessels(route))
    assert course.chain is not None
    assert course.chain.places == 1
    assert _acts(course) == FROM_PICKLE


@pytest.mark.parametrize("make", [finished, out_of_work])
def test_what_is_finished_or_out_has_no_course(route: Route, make: Maker) -> None:
    """Nothing is planned, and nothing is said to be missing."""
    assert _course(make("one"), route) is None


def test_without_route_or_hours_it_says_why(route: Route) -> None:
    """An unplanned hide carries a reason; its name for where it stands is all that is known."""
    lost = _course(in_pickle("one"), None)
    closed = _course(in_pickle("one"), route, stretch=timedelta(0))
    assert lost is not None
    assert closed is not None
    assert "not in the library" in lost.unplanned
    assert closed.unplanned == "the shop has no open hours in the coming time"
    assert lost.chain is closed.chain is None


def test_a_forecast_of_drying_takes_the_place_of_the_holds_own_times(route: Route) -> None:
    """Only for the hold it dries in now; the stages after keep their own."""
    window = (2 * HOUR, 5 * HOUR, 9 * HOUR)
    first, *others = _steps(_sure(in_pickle("one"), route, drying=window))
    assert (first.least, first.target, first.most) == (8, 20, 36)
    assert others == list(_steps(_sure(in_pickle("one"), route))[1:])
    stored = _steps(_sure(in_store("one"), route, drying=window))
    assert stored == _steps(_sure(in_store("one"), route))


def test_work_longer_than_the_longest_opening_is_cut_and_said(route: Route) -> None:
    """Two hours of opening, four of work: the step takes the two, and two are over."""
    stages = tuple(replace(s, work=4 * HOUR) if s.id == "rinse" else s for s in route.stages)
    course = _sure(in_pickle("one"), replace(route, stages=stages), stretch=2 * HOUR)
    assert _steps(course)[0].work == 8
    assert too_long(course.meanings[0], 2 * HOUR) == "somebody must stay 2 h after closing"
    assert too_long(course.meanings[0], 4 * HOUR) == ""


@pytest.mark.parametrize(
    ("ahead", "acts"),
    [
        (DAY / 2, []),
        (DAY + HOUR, FROM_PICKLE[:2]),
        (DAY + 3 * HOUR, FROM_PICKLE[:4]),
        (3 * DAY, FROM_PICKLE),
    ],
)
def test_what_begins_after_the_plan_is_left_for_another_day(
    route: Route, ahead: timedelta, acts: list[str]
) -> None:
    """By due times; with nothing left there is no chain and yet nothing wrong."""
    course = _sure(in_pickle("one"), route, ahead=ahead)
    assert _acts(course) == acts
    assert (course.chain is None) is not bool(acts)
    assert course.unplanned == ""


def test_looks_that_fail_put_the_visit_off_and_never_past_the_most(route: Route) -> None:
    """Each "not yet" asks again after its interval, while the hold's most stays what it is."""
    looks = [NOW - 30 * HOUR, NOW - 15 * HOUR, NOW - HOUR]
    begun = NOW - 119 * HOUR
    for count in range(4):
        hide = hide_of(
            "one",
            (begun, StageBegun(hide="one", stage="pickle")),
            *((look, CheckFailed(hide="one", stage="pickle")) for look in looks[:count]),
            stage="pickle",
        )
        first = _steps(_sure(hide, route))[0]
        again = begun + 72 * HOUR if not count else looks[count - 1] + 12 * HOUR
        due = max(begun + 72 * HOUR, min(again, begun + 120 * HOUR))
        assert first.target == -(-(due - START) // SLOT)
        assert first.most is not None
        assert first.most >= first.target


def test_a_last_coat_given_leaves_the_hold_or_the_next_stage(route: Route) -> None:
    """Two of three coats on: one coat to come; its wait counts from the last."""
    three = tuple(
        replace(stage, coats=replace(stage.coats, count=3)) if stage.coats else stage
        for stage in route.stages
    )
    hide = hide_of(
        "one",
        (NOW - 2 * HOUR, StageBegun(hide="one", stage="oil")),
        (NOW - HOUR / 2, CoatGiven(hide="one", stage="oil", coat=2)),
        stage="oil",
    )
    course = _sure(hide, replace(route, stages=three))
    assert _acts(course) == ["coat oil 3", "begin dry 1", "check dry 1"]
    first = _steps(course)[0]
    assert (first.least, first.target, first.most) == (0, 2, 5)


def test_a_hide_from_another_route_still_keeps_its_limit(route: Route) -> None:
    """Where it lies is the other route's bath, which it may not lie in for longer than that."""
    lying = Lying(stage="lime", until=NOW + 5 * HOUR, spoils="it swells")
    hide = hide_of(
        "one",
        (NOW - DAY, StageBegun(hide="one", stage="salt")),
        (NOW - HOUR, RouteChanged(hide="one", route="pelt", stage="rinse", lying=lying)),
    )
    first = _steps(_sure(hide, route))[0]
    assert first.most == (NOW + 5 * HOUR - START) // SLOT
    left = hide_of(
        "one",
        (NOW - DAY, StageBegun(hide="one", stage="salt")),
        (NOW - HOUR, StageLeft(hide="one", stage="salt", next="rinse")),
    )
    assert _acts(_sure(left, route))[0] == "begin rinse 1"
