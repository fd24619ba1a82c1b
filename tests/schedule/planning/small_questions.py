"""Small made-up shops to ask whole questions of: hides on one route, at any of its stages.

Durations invented in the range of common practice (no source). The same seed gives the same shop.
"""

from __future__ import annotations

import random
from datetime import UTC, date, datetime, time, timedelta
from typing import Any

from benchconsole.model.events import Entry, Event, HideTakenIn, StageBegun, StageLeft
from benchconsole.model.routes import Attention, Check, CoatWaits, Hold, Route, Stage
from benchconsole.model.shop import OpenSpan, Shop
from benchconsole.model.state import HideState, fold
from benchconsole.schedule.hours import Hours
from benchconsole.schedule.planning.planner import Question
from tests.schedule.planning.plan_faults import PlainShop

NOW = datetime(2026, 3, 4, 9, 0, tzinfo=UTC)
"""A Wednesday morning."""


def _hours(count: float) -> timedelta:
    return timedelta(hours=count)


def _stage(
    name: str, work: float, hold: tuple[float, float, float] | None = None, **more: Any
) -> Stage:
    holds = []
    if hold is not None:
        least, target, most = map(_hours, hold)
        holds.append(Hold(min=least, target=target, max=most))
    return Stage(
        id=name,
        name=name.capitalize(),
        do=f"{name}.",
        work=_hours(work),
        late=f"{name} spoils",
        hold=tuple(holds),
        **more,
    )


ROUTE = Route(
    id="pelt",
    name="Pelt",
    purpose="a test",
    species=("deer",),
    sources=(),
    stages=(
        _stage("salt", 0.5, (24, 48, 96), check=Check(ask="Stiff?", again=_hours(12)),
               keeps=timedelta(days=90)),
        _stage("soak", 0.5, (6, 10, 20), vessel="tub", stake="hide"),
        _stage("pickle", 0.5, (48, 72, 120), vessel="tub",
               attend=(Attention(do="Stir.", every=_hours(8), at_most=_hours(16)),)),
        _stage("oil", 0.5, coats=CoatWaits(count=2, wait_min=_hours(0.5), wait_target=_hours(1),
               wait_max=_hours(2)), soon=_hours(10)),
        _stage("dry", 0.25, (12, 24, 36)),
    ),
)  # fmt: skip
"""Salt and store, soak, pickle, oil twice, dry."""


def shop_of(*, tubs: int = 2, hands: int = 1) -> Shop:
    """Open on weekdays and Saturdays from 8 to 18, in UTC."""
    spans = tuple(OpenSpan(weekday=day, opens=time(8), closes=time(18)) for day in range(6))
    return Shop(hours=spans, hands=hands, vessels={"tub": tubs}, zone="UTC")


def plainly(shop: Shop, *closed: date) -> PlainShop:
    """The same shop said plainly, with some days closed."""
    return PlainShop(
        open_on={span.weekday: (span.opens, span.closes) for span in shop.hours},
        closed=closed,
        hands=shop.hands,
        vessels=shop.vessels,
    )


def stored(name: str, days_ago: float = 3.0) -> HideState:
    """A hide that was salted and lies in store."""
    began = NOW - timedelta(days=days_ago + 3)
    left = NOW - timedelta(days=days_ago)
    return _hide(
        name,
        (began, _taken_in(name, "salt")),
        (began, StageBegun(hide=name, stage="salt")),
        (left, StageLeft(hide=name, stage="salt", next="soak")),
    )


def lying_in(name: str, stage: str, hours_ago: float) -> HideState:
    """A hide that was put into a stage so many hours ago."""
    began = NOW - _hours(hours_ago)
    return _hide(
        name,
        (began, _taken_in(name, stage)),
        (began, StageBegun(hide=name, stage=stage)),
    )


def question_of(hides: tuple[HideState, ...], shop: Shop) -> Question:
    """The question of a shop with these hides."""
    return Question(
        hides=hides,
        routes={ROUTE.id: ROUTE},
        hours=Hours.of(shop, UTC),
        now=NOW,
        hands=shop.hands,
        vessels=shop.vessels,
    )


def drawn(seed: int) -> tuple[Question, Shop]:
    """Two to five hides, one of them in store at least, with one to three tubs."""
    draw = random.Random(seed)
    hides = [stored("h1", draw.uniform(0, 60))]
    for number in range(2, draw.randint(2, 5) + 1):
        name = f"h{number}"
        where = draw.choice(("store", "soak", "pickle", "dry"))
        if where == "store":
            hides.append(stored(name, draw.uniform(0, 80)))
        else:
            longest = {"soak": 10.0, "pickle": 90.0, "dry": 30.0}[where]
            hides.append(lying_in(name, where, draw.uniform(0, longest)))
    lying = sum(hide.stage in ("soak", "pickle") and hide.begun_at is not None for hide in hides)
    shop = shop_of(tubs=max(draw.randint(1, 3), lying), hands=draw.choice((1, 1, 2)))
    return question_of(tuple(hides), shop), shop


def _taken_in(name: str, stage: str) -> HideTakenIn:
    return HideTakenIn(
        hide=name, name=name, species="deer", route="pelt", stage=stage, came="green"
    )


def _hide(name: str, *events: tuple[datetime, Event]) -> HideState:
    entries = [
        Entry(seq=place, tap=place, at=at, recorded=at, event=event)
        for place, (at, event) in enumerate(events, start=1)
    ]
    return fold(entries).hides[name]
