"""The plan of a whole shop, from hides and routes to instants and words, read as a person would.

``plan_faults`` and ``plan_reasons`` judge it; they share nothing with the planner.
"""

from __future__ import annotations

import dataclasses
import os
import random
import subprocess
import sys
from collections.abc import Sequence
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from pathlib import Path
from time import perf_counter

import pytest
from dateutil import tz
from msgspec.structs import replace

from benchconsole.library import shipped_library
from benchconsole.model.events import StageBegun
from benchconsole.model.routes import Route
from benchconsole.model.state import HideState
from benchconsole.schedule.planning.planner import Question, make_plan
from benchconsole.schedule.planning.plans import Plan
from tests.schedule.planning.plan_faults import PlainShop, faults_of_plan
from tests.schedule.planning.plan_questions import (
    BY_DAY,
    DAY,
    HOUR,
    NOW,
    STATES,
    hide_of,
    in_pickle,
    in_store,
    in_vessels,
    new,
    question_of,
)
from tests.schedule.planning.plan_reasons import Told

ROUTES = shipped_library().routes
MEANS = PlainShop(open_on=BY_DAY.open_on, vessels={"tub": 3, "board": 4, "frame": 3, "beam": 2})
IN_WORK = [state for state in STATES if state not in ("finished", "out")]


def _judged(
    hides: Sequence[HideState],
    routes: Sequence[Route],
    shop: PlainShop,
    *,
    now: datetime = NOW,
    like: Plan | None = None,
) -> Plan:
    """The plan, once nothing is found wrong with it or with what it says."""
    plan = make_plan(question_of(hides, *routes, shop=shop, now=now), like=like)
    by_id = {route.id: route for route in routes}
    assert faults_of_plan(plan, hides, by_id, shop) == []
    assert Told(plan=plan, hides=hides, routes=by_id, shop=shop, seen=set()).untrue() == []
    assert plan.bound <= plan.cost
    return plan


def test_hides_in_every_state_get_one_plan_together(route: Route) -> None:
    """All states at once, with tubs and boards that just suffice, and with two pairs of hands."""
    hides = [make(state) for state, make in STATES.items()]
    for hands in (1, 2):
        shop = PlainShop(open_on=BY_DAY.open_on, hands=hands, vessels={"tub": 4, "board": 2})
        plan = _judged(hides, [in_vessels(route)], shop)
        assert {each.hide for each in plan.hides} == set(IN_WORK)
        assert all(each.visits and not each.unplanned for each in plan.hides)


@pytest.mark.parametrize("name", sorted(ROUTES))
def test_hides_on_every_shipped_route_are_planned_to_its_end(name: str) -> None:
    """One hide for each condition in which the route takes hides in."""
    route = ROUTES[name]
    hides = [
        hide_of(f"{came}", species=route.species[0], route=name, stage=stage, came=came)
        for came, stage in route.starts.items()
    ]
    plan = _judged(hides, [route], MEANS)
    assert all(each.visits for each in plan.hides)


@pytest.mark.parametrize("seed", range(4))
def test_a_shop_full_of_hides_anywhere_on_shipped_routes(seed: int) -> None:
    """Six hides begun at drawn stages some hours ago, their vessels limited."""
    draw = random.Random(seed)
    hides = []
    for place in range(6):
        route = ROUTES[draw.choice(sorted(ROUTES))]
        stage = draw.choice(route.stages)
        begun = NOW - draw.randint(1, 60) * HOUR
        hides.append(
            hide_of(
                f"h{place}",
                (begun, StageBegun(hide=f"h{place}", stage=stage.id)),
                species=draw.choice(route.species),
                route=route.id,
                stage=stage.id,
                came="green",
            )
        )
    _judged(hides, list(ROUTES.values()), MEANS)


def _zone(name: str) -> tzinfo:
    zone = tz.gettz(name)
    assert zone is not None
    return zone


@pytest.mark.parametrize(
    ("zone", "changes"),
    [
        ("Europe/Berlin", date(2026, 3, 29)),
        ("Europe/Berlin", date(2026, 10, 25)),
        ("America/Chicago", date(2026, 3, 8)),
        ("America/Chicago", date(2026, 11, 1)),
        ("Asia/Kathmandu", date(2026, 3, 29)),
    ],
)
def test_over_the_night_of_a_clock_change_waits_are_elapsed_and_hours_wall_clock(
    zone: str, changes: date, route: Route
) -> None:
    """Planned the evening before; a zone three quarters of an hour off is on the grid as well."""
    shop = PlainShop(
        open_on={day: (time(8), time(18)) for day in range(7)},
        zone=_zone(zone),
        vessels={"tub": 2, "board": 2},
    )
    evening = datetime.combine(changes - DAY, time(16, 50), shop.zone).astimezone(UTC)
    begun = [("a", 70 * HOUR), ("b", 57 * HOUR)]
    hides = [
        hide_of(
            name,
            (evening - since, StageBegun(hide=name, stage="pickle")),
            stage="pickle",
            came="salted",
        )
        for name, since in begun
    ]
    plan = _judged(hides, [in_vessels(route)], shop, now=evening)
    for name, since in begun:
        found = plan.of(name)
        assert found is not None
        first = found.visits[0]
        assert timedelta(0) <= first.due - (evening - since + 72 * HOUR) < HOUR / 4
    first_next_day = min(v.starts for v in plan.visits if v.starts > evening + 8 * HOUR)
    assert first_next_day.astimezone(shop.zone).time() >= time(8)


def test_as_time_goes_by_nothing_moves_before_its_least_wait(route: Route) -> None:
    """Asked every few hours with nothing noted: no fault, and the past is not planned."""
    hides = [in_pickle("one"), in_pickle("two", 3 * HOUR), in_store("three"), new("four")]
    plan: Plan | None = None
    for hours in (0, 1, 5, 20, 48):
        now = NOW + hours * HOUR
        plan = _judged(hides, [in_vessels(route)], MEANS, now=now, like=plan)
        assert all(visit.starts >= now for visit in plan.visits)
        for name in ("one", "two"):
            found = plan.of(name)
            assert found is not None
            begun = next(hide for hide in hides if hide.id == name).begun_at
            assert begun is not None
            assert found.visits[0].starts - begun >= 24 * HOUR


def test_a_plan_that_nothing_happened_to_is_the_same_plan(route: Route) -> None:
    """Asked again at the same moment, with the plan in hand or without: equal in every word."""
    hides = [make(state) for state, make in STATES.items()]
    question = question_of(hides, in_vessels(route), shop=MEANS)
    plan = make_plan(question)
    assert make_plan(question) == plan
    assert make_plan(question, like=plan) == plan


def test_a_plan_in_hand_is_kept_while_the_minutes_go_by(route: Route) -> None:
    """Ten minutes within one quarter of an hour: every visit stands where it stood."""
    hides = [make(state) for state, make in STATES.items()]
    plan = make_plan(question_of(hides, in_vessels(route), shop=MEANS))
    later = make_plan(
        question_of(hides, in_vessels(route), shop=MEANS, now=NOW + HOUR / 6), like=plan
    )
    assert [visit.starts for visit in later.visits] == [visit.starts for visit in plan.visits]


@pytest.mark.parametrize("seed", range(2))
def test_while_nothing_happens_hardly_a_visit_is_moved(seed: int, route: Route) -> None:
    """A morning in quarters of an hour, nothing due in them: the other hides' visits stand.

    A hide in store may have to be begun later; a few minutes saved are no reason to tell a whole
    shop other times.
    """
    draw = random.Random(seed)
    soaking = [in_pickle(f"p{place}", draw.randint(1, 60) * HOUR) for place in range(6)]
    hides = [*soaking, in_store("s0"), in_store("s1")]
    shop = PlainShop(open_on=BY_DAY.open_on, vessels={"tub": 8, "board": 4})
    plan = make_plan(question_of(hides, in_vessels(route), shop=shop))
    for quarters in range(1, 6):
        now = NOW + quarters * HOUR / 4
        stood = {(v.hide, v.stage, v.kind, v.number): v.starts for v in plan.visits}
        plan = make_plan(question_of(hides, in_vessels(route), shop=shop, now=now), like=plan)
        moved = {
            visit.hide
            for visit in plan.visits
            if stood[visit.hide, visit.stage, visit.kind, visit.number] != visit.starts
        }
        assert len(moved) <= 2


def test_a_plan_from_before_the_shop_changed_is_not_kept_where_it_cannot_be(route: Route) -> None:
    """Days closed since, tubs fewer, a hand fewer: what no longer fits is planned anew."""
    hides = [make(state) for state, make in STATES.items() if state in IN_WORK]
    rich = PlainShop(open_on=BY_DAY.open_on, hands=2, vessels={"tub": 6, "board": 6})
    plan = _judged(hides, [in_vessels(route)], rich)
    for poor in (
        PlainShop(open_on=BY_DAY.open_on, hands=1, vessels={"tub": 6, "board": 6}),
        PlainShop(open_on=BY_DAY.open_on, hands=2, vessels={"tub": 4, "board": 2}),
        PlainShop(open_on=BY_DAY.open_on, closed=(date(2026, 6, 3), date(2026, 6, 5)), hands=2),
        PlainShop(open_on={day: (time(13), time(17)) for day in range(5)}, hands=2),
    ):
        _judged(hides, [in_vessels(route)], poor, like=plan)


def test_a_shop_that_is_never_open_says_so_of_every_hide(route: Route) -> None:
    """No visits, no failure, and a reason in words."""
    plan = _judged([in_pickle("one"), new("two")], [route], PlainShop(open_on={}))
    assert plan.visits == ()
    assert {each.unplanned for each in plan.hides} == {
        "the shop has no open hours in the coming time"
    }


def test_a_hide_without_its_route_is_said_not_to_be_planned(route: Route) -> None:
    """The others are planned all the same."""
    lost = [hide_of("lost", route="gone"), hide_of("off", stage="gone")]
    plan = make_plan(question_of([*lost, in_pickle("one")], route))
    for name in ("lost", "off"):
        found = plan.of(name)
        assert found is not None
        assert found.visits == ()
        assert "not in the library" in found.unplanned
    one = plan.of("one")
    assert one is not None
    assert one.visits


def test_no_hides_and_one_hide(route: Route) -> None:
    """The empty plan has its openings still; a hide alone costs what it cannot be below."""
    empty = _judged([], [route], BY_DAY)
    assert (empty.hides, empty.visits, empty.rounds, empty.cost) == ((), (), (), 0.0)
    assert empty.openings[0][0] == NOW
    one = _judged([in_pickle("one")], [route], BY_DAY)
    assert one.cost == one.bound
    assert len(one.visits) == 5


def test_a_look_past_the_farthest_plan_is_left_for_another_day(route: Route) -> None:
    """A hold of two years: the hide is in the plan, lies there, and has no visit; no failure."""
    year = replace(
        route.stage("pickle"),
        hold=(
            replace(route.stage("pickle").hold[0], min=600 * DAY, target=700 * DAY, max=800 * DAY),
        ),
    )
    stages = tuple(year if stage.id == "pickle" else stage for stage in route.stages)
    long = replace(route, stages=stages)
    plan = _judged([in_pickle("one"), in_store("two")], [long], BY_DAY)
    one, two = plan.of("one"), plan.of("two")
    assert one is not None
    assert two is not None
    assert (one.visits, one.unplanned, one.lies_in) == ((), "", "pickle")
    assert [visit.stage for visit in two.visits] == ["pickle"]


def test_what_lies_past_the_farthest_plan_keeps_its_vessel(route: Route) -> None:
    """A skin stored for years on the only board: no other is planned onto it."""
    held = in_vessels(route)
    rest = replace(held.stage("dry"), id="store", name="store")
    year = replace(rest.hold[0], min=600 * DAY, target=700 * DAY, max=800 * DAY)
    kept = replace(held, id="kept", stages=(*held.stages, replace(rest, hold=(year,), check=None)))
    begun = (NOW - DAY, StageBegun(hide="stored", stage="store"))
    stored = hide_of("stored", begun, route="kept", stage="store")
    hides = [stored, in_pickle("one")]
    for boards, planned in ((1, False), (2, True)):
        shop = PlainShop(open_on=BY_DAY.open_on, vessels={"board": boards})
        plan = _judged(hides, [held, kept], shop)
        one = plan.of("one")
        assert one is not None
        assert bool(one.visits) is planned
        assert ("no room" in one.unplanned) is not planned


def test_work_longer_than_any_opening_is_planned_as_long_as_there_is(route: Route) -> None:
    """Four hours in a shop open for three: all of one opening, and nothing in the night."""
    stages = tuple(
        replace(stage, work=4 * HOUR) if stage.id == "rinse" else stage for stage in route.stages
    )
    shop = PlainShop(open_on={day: (time(9), time(12)) for day in range(6)})
    plan = make_plan(question_of([in_pickle("one")], replace(route, stages=stages), shop=shop))
    found = plan.of("one")
    assert found is not None
    rinse = found.visits[0]
    assert (rinse.starts.time(), rinse.ends.time()) == (time(9), time(12))
    assert all(shop.is_open(visit.starts, visit.ends) for visit in plan.visits)


def test_sixty_hides_are_planned_in_time(route: Route) -> None:
    """In a shop with six tubs and two pairs of hands; far within the minute that nobody waits."""
    draw = random.Random(60)
    hides = [STATES[draw.choice(IN_WORK)](f"h{place:02}") for place in range(60)]
    shop = PlainShop(open_on=BY_DAY.open_on, hands=2, vessels={"tub": 20, "board": 20})
    begun = perf_counter()
    plan = make_plan(question_of(hides, in_vessels(route), shop=shop))
    assert perf_counter() - begun < 30
    assert faults_of_plan(plan, hides, {route.id: in_vessels(route)}, shop) == []
    assert all(each.visits for each in plan.hides)


_PRINTED = """
from benchconsole.library import shipped_library
from benchconsole.schedule.planning.planner import make_plan
from tests.schedule.planning.plan_questions import PlainShop, BY_DAY, hide_of, question_of
route = shipped_library().routes["small-fur-skin"]
hides = [
    hide_of(f"h{place}", species=species, route=route.id, stage=stage, came=came)
    for place, (species, (came, stage)) in enumerate(zip(route.species, route.starts.items()))
]
shop = PlainShop(open_on=BY_DAY.open_on, vessels={"tub": 1, "board": 1})
plan = make_plan(question_of(hides, route, shop=shop))
print(plan)
"""


def test_the_plan_is_the_same_in_every_process() -> None:
    """Whatever seed Python draws for its hashes."""
    answers = set()
    for seed in ("0", "1", "77"):
        done = subprocess.run(
            [sys.executable, "-c", _PRINTED],
            env={**os.environ, "PYTHONHASHSEED": seed},
            cwd=Path(__file__).parents[3],
            capture_output=True,
            text=True,
            check=True,
        )
        answers.add(done.stdout)
    assert len(answers) == 1
    assert "Visit(" in answers.pop()


def test_the_order_of_the_hides_makes_no_difference(route: Route) -> None:
    """They are told apart by their ids alone."""
    question = question_of([make(state) for state, make in STATES.items()], route, shop=MEANS)
    turned: Question = dataclasses.replace(question, hides=question.hides[::-1])
    assert make_plan(turned) == make_plan(question)
