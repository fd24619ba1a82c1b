"""Hides in every state on the small route of the schedule's tests, and questions about them."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, datetime, time, timedelta

from msgspec.structs import replace

from benchconsole.model.events import (
    CheckFailed,
    CoatGiven,
    Entry,
    Event,
    HideLost,
    HideTakenIn,
    LiquorMade,
    LiquorSpoiled,
    StageBegun,
    StageLeft,
    StartChosen,
)
from benchconsole.model.routes import Route
from benchconsole.model.shop import OpenSpan
from benchconsole.model.state import HideState, fold
from benchconsole.schedule.hours import Hours
from benchconsole.schedule.planning.planner import Question
from tests.schedule.lives import LIQUOR
from tests.schedule.planning.plan_faults import PlainShop

NOW = datetime(2026, 6, 2, 9, 5, tzinfo=UTC)
"""A Tuesday, five minutes past nine."""
HOUR, DAY = timedelta(hours=1), timedelta(days=1)
BY_DAY = PlainShop(open_on={day: (time(8), time(18)) for day in range(6)})
"""Monday to Saturday from 8 to 18."""


def hide_of(
    name: str,
    *events: tuple[datetime, Event],
    species: str = "deer",
    route: str = "pelt",
    stage: str = "salt",
    came: str = "green",
    count: int = 1,
) -> HideState:
    """A hide called ``name``, taken in three weeks ago, and what happened to it since."""
    taken_in = HideTakenIn(
        hide=name,
        name=name.capitalize(),
        species=species,
        route=route,
        stage=stage,
        came=came,
        count=count,
    )
    entries = [
        Entry(seq=place, tap=place, at=at, recorded=at, event=event)
        for place, (at, event) in enumerate([(NOW - 21 * DAY, taken_in), *events], start=1)
    ]
    return fold(entries).hides[name]


def in_vessels(route: Route) -> Route:
    """The small route, its pickle in a tub and its drying on a board."""
    kinds = {"pickle": "tub", "rinse": "tub", "dry": "board"}
    stages = tuple(replace(stage, vessel=kinds.get(stage.id, "")) for stage in route.stages)
    return replace(route, stages=stages)


def new(name: str) -> HideState:
    """Taken in green, its first stage not begun."""
    return hide_of(name)


def in_store(name: str) -> HideState:
    """Salted, looked at and let pass: it keeps for half a year."""
    return hide_of(
        name,
        (NOW - 20 * DAY, StageBegun(hide=name, stage="salt")),
        (NOW - 18 * DAY, StageLeft(hide=name, stage="salt", next="pickle")),
    )


def in_pickle(name: str, since: timedelta = 2 * DAY) -> HideState:
    """In its hold for so long."""
    begun = StageBegun(hide=name, stage="pickle")
    return hide_of(name, (NOW - since, begun), stage="pickle", came="salted")


def failed_look(name: str) -> HideState:
    """In the pickle for four days, "not yet" an hour ago."""
    return hide_of(
        name,
        (NOW - 4 * DAY, StageBegun(hide=name, stage="pickle")),
        (NOW - HOUR, CheckFailed(hide=name, stage="pickle")),
        stage="pickle",
        came="salted",
    )


def between_coats(name: str) -> HideState:
    """The first of two coats given twenty minutes ago."""
    begun = StageBegun(hide=name, stage="oil")
    return hide_of(name, (NOW - HOUR / 3, begun), stage="oil", came="salted")


def drying(name: str, since: timedelta = DAY) -> HideState:
    """On its board since yesterday: the last stage."""
    begun = StageBegun(hide=name, stage="dry")
    return hide_of(name, (NOW - since, begun), stage="dry", came="salted")


def start_chosen(name: str) -> HideState:
    """In store, to be begun in five days and two hours: at 11:05 on a Sunday."""
    stored = in_store(name)
    chosen = (NOW - DAY, StartChosen(hide=name, start_at=NOW + 5 * DAY + 2 * HOUR))
    return hide_of(
        name,
        (NOW - 20 * DAY, StageBegun(hide=name, stage="salt")),
        (stored.arrived_at, StageLeft(hide=name, stage="salt", next="pickle")),
        chosen,
    )


def in_spoiled_liquor(name: str) -> HideState:
    """In the pickle for two days; its liquor was found spoiled an hour ago, it has to come out."""
    return hide_of(
        name,
        (NOW - 3 * DAY, LiquorMade(weigh_out="", liquor=LIQUOR)),
        (NOW - 2 * DAY, StageBegun(hide=name, stage="pickle", liquor="L1")),
        (NOW - HOUR, LiquorSpoiled(liquor="L1", why="slimy", hides=(name,), out=(name,))),
        stage="pickle",
        came="salted",
    )


def finished(name: str) -> HideState:
    """Every stage behind it."""
    return hide_of(
        name,
        (NOW - 2 * DAY, StageBegun(hide=name, stage="dry")),
        (NOW - DAY, StageLeft(hide=name, stage="dry")),
        stage="dry",
    )


def out_of_work(name: str) -> HideState:
    """Taken out of work yesterday."""
    return hide_of(name, (NOW - DAY, HideLost(hide=name, why="hair slipped")))


def between_stages(name: str) -> HideState:
    """Out of the rinse, which asks for no wait: its oil is to be put on within ten hours."""
    return hide_of(
        name,
        (NOW - HOUR, StageBegun(hide=name, stage="rinse")),
        (NOW - HOUR, StageLeft(hide=name, stage="rinse", next="oil")),
        stage="rinse",
        came="salted",
    )


def second_coat(name: str) -> HideState:
    """Both coats on: it hangs until the cover."""
    return hide_of(
        name,
        (NOW - 3 * HOUR, StageBegun(hide=name, stage="oil")),
        (NOW - 2 * HOUR, CoatGiven(hide=name, stage="oil", coat=2)),
        (NOW - 2 * HOUR, StageLeft(hide=name, stage="oil", next="dry")),
        stage="oil",
        came="salted",
    )


STATES = {
    "new": new,
    "stored": in_store,
    "pickle": in_pickle,
    "failed": failed_look,
    "coats": between_coats,
    "drying": drying,
    "chosen": start_chosen,
    "spoiled": in_spoiled_liquor,
    "finished": finished,
    "out": out_of_work,
    "between": between_stages,
    "oiled": second_coat,
}
"""A hide in each state, by a name for it."""


def hours_of(shop: PlainShop) -> Hours:
    """The hours of a plainly said shop, as the planner takes them."""
    spans = [
        OpenSpan(weekday=day, opens=opens, closes=closes)
        for day, (opens, closes) in shop.open_on.items()
    ]
    return Hours(spans, shop.closed, shop.zone)


def question_of(
    hides: Iterable[HideState], *routes: Route, shop: PlainShop = BY_DAY, now: datetime = NOW
) -> Question:
    """What is asked of the planner about these hides in this shop."""
    return Question(
        hides=tuple(hides),
        routes={route.id: route for route in routes},
        hours=hours_of(shop),
        now=now,
        hands=shop.hands,
        vessels=shop.vessels,
    )
