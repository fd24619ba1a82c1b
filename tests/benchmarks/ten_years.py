"""Ten years of a shop: a thousand hides walked down the shipped routes, twenty thousand events.

Each hide follows what comes next on a shipped route, from a shipped way to come in, to its end;
the hides come in one after the other, so that a handful is in work at any time. Of the stirrings
every thirtieth is tapped, and for every tenth hide a mix is weighed out as the desk records it.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import UTC, datetime, time, timedelta
from itertools import cycle, islice
from typing import Any

import msgspec

from benchconsole.clock import ManualClock
from benchconsole.desk import Desk
from benchconsole.library import Library, shipped_library
from benchconsole.model.events import Attended, Entry, Event, HideTakenIn, WeighOutBegun
from benchconsole.model.routes import Route
from benchconsole.model.shop import OpenSpan
from benchconsole.model.state import fold
from benchconsole.schedule.hours import Hours
from benchconsole.schedule.next_action import next_action
from benchconsole.schedule.steps import events_for_done
from benchconsole.store import MemoryRepository
from benchconsole.store.lines import Document, whole_log

BEGAN = datetime(2016, 3, 7, 8, tzinfo=UTC)
YEARS = timedelta(days=3650)
WEIGHS_EVERY, STIRS_EVERY = 10, 30
MIX = "salt-citric-pickle"
HOURS = Hours([OpenSpan(weekday=day, opens=time(8), closes=time(18)) for day in range(6)], (), UTC)

Course = list[tuple[timedelta, list[dict[str, Any]]]]
"""The taps of one hide: how long after it came in, and the events in plain values."""


def ten_years(events: int = 20_000) -> bytes:
    """The log of a shop with so many events, of about a thousand hides."""
    library = shipped_library()
    courses = [
        course(route, came) for route in library.routes.values() for came in sorted(route.starts)
    ]
    weighed = weigh_out(library)
    taps: list[tuple[datetime, list[dict[str, Any]]]] = []
    lengths = [sum(len(together) for _, together in each) for each in courses]
    per_hide = sum(lengths) / len(lengths) + sum(map(len, weighed)) / WEIGHS_EVERY
    hides = round(events / per_hide)
    for number, each in enumerate(islice(cycle(courses), hides)):
        came_at = BEGAN + YEARS / hides * number
        taps += [(came_at + wait, renamed(together, number)) for wait, together in each]
        if number % WEIGHS_EVERY == 0:
            taps += [
                (came_at + timedelta(days=1, minutes=minute), renamed(together, number))
                for minute, together in enumerate(weighed)
            ]
    taps.sort(key=lambda tap: tap[0])
    return whole_log(BEGAN, numbered(taps))


def numbered(taps: list[tuple[datetime, list[dict[str, Any]]]]) -> Iterator[tuple[int, Document]]:
    """The taps as the log keeps them."""
    seq = 0
    for tap, (at, together) in enumerate(taps, start=1):
        instant = at.isoformat().replace("+00:00", "Z")
        kept = [{"seq": seq + place, "event": event} for place, event in enumerate(together, 1)]
        seq += len(together)
        yield tap, {"at": instant, "recorded": instant, "events": kept}


def course(route: Route, came: str) -> Course:
    """One hide from the day it comes in to its end, each thing done when it is due."""
    now = BEGAN
    first = HideTakenIn(
        hide="HIDE",
        name="Hide HIDE",
        species=route.species[0],
        route=route.id,
        stage=route.starts[came],
        came=came,
        mass_g=2140.0,
    )
    taps: list[tuple[datetime, tuple[Event, ...]]] = [(now, (first,))]
    while True:
        hide = fold(entries(taps)).hides["HIDE"]
        action = next_action(hide, route, hours=HOURS, now=now)
        if action.kind == "none":
            return [
                (at - BEGAN, plain(together))
                for place, (at, together) in enumerate(taps)
                if place % STIRS_EVERY == 0 or not isinstance(together[0], Attended)
            ]
        if action.state != "stored":
            now = max(now, action.due)
        taps.append((now, tuple(events_for_done(hide, route, action))))


def entries(taps: list[tuple[datetime, tuple[Event, ...]]]) -> Iterator[Entry]:
    """The taps as a history."""
    seq = 0
    for tap, (at, together) in enumerate(taps, start=1):
        for event in together:
            seq += 1
            yield Entry(seq=seq, tap=tap, at=at, recorded=at, event=event)


def weigh_out(library: Library) -> list[list[dict[str, Any]]]:
    """The taps of weighing one mix out, as the desk records them."""
    repository = MemoryRepository()
    desk = Desk(repository, ManualClock(BEGAN), library)
    view = desk.weigh_outs.begin(desk.worksheet(MIX), [])
    (begun,) = repository.entries()[0:1]
    assert isinstance(begun.event, WeighOutBegun)
    while not view.done:
        view = desk.weigh_outs.accept(begun.event.weigh_out)
    desk.weigh_outs.finish(begun.event.weigh_out)
    taps: dict[int, list[dict[str, Any]]] = {}
    for entry in repository.entries():
        taps.setdefault(entry.tap, []).extend(plain((entry.event,)))
    text = json.dumps(list(taps.values()))
    named: list[list[dict[str, Any]]] = json.loads(
        text.replace(f'"{begun.event.weigh_out}"', '"wHIDE"').replace('"L1"', '"LHIDE"')
    )
    return named


def plain(together: tuple[Event, ...]) -> list[dict[str, Any]]:
    """Events in plain values."""
    return [msgspec.to_builtins(event, str_keys=True) for event in together]


def renamed(together: list[dict[str, Any]], number: int) -> list[dict[str, Any]]:
    """The same events of another hide."""
    named: list[dict[str, Any]] = json.loads(json.dumps(together).replace("HIDE", f"h{number}"))
    return named
