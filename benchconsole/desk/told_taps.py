"""Taps of any log in a person's words, also of one that is not the desk's own."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import tzinfo

from benchconsole.desk.words import event_words
from benchconsole.model.events import (
    Event,
    HideCorrected,
    HideTakenIn,
    LiquorMade,
    LotSplit,
    Redone,
    RouteChanged,
    ShopSet,
    TimeCorrected,
    TimerNamed,
    TimerSet,
    Undone,
    WeighOutBegun,
    WeighOutLeft,
    WeighOutTapped,
    subjects_of,
)
from benchconsole.model.routes import Route
from benchconsole.store.holdings import Tap

_OF_ANOTHER: dict[type, str] = {
    Undone: "taken back",
    Redone: "put back",
    TimeCorrected: "time corrected",
}
"""What a tap about another tap did to it."""


@dataclass
class _Known:
    """What is known of the names when a tap is told: it grows as the taps go by."""

    routes: Mapping[str, Route]
    zone: tzinfo
    hides: dict[str, str] = field(default_factory=dict)
    hide_routes: dict[str, str] = field(default_factory=dict)
    timers: dict[str, str] = field(default_factory=dict)
    weigh_outs: dict[str, str] = field(default_factory=dict)
    said: dict[int, str] = field(default_factory=dict)


def told_taps(
    taps: Iterable[Tap], *, all_taps: Iterable[Tap], routes: Mapping[str, Route], zone: tzinfo
) -> tuple[tuple[Tap, str], ...]:
    """Taps with what each did: ``Brown goat: “Alum bath” begun with liquor L1``.

    ``all_taps`` is the whole log that they are part of, in order: names and routes are those that
    stood when the tap was made.
    """
    known = _Known(routes, zone)
    words: dict[int, str] = {}
    for tap in all_taps:
        _learn(known, tap.events)
        words[tap.number] = known.said[tap.number] = _told(tap.events, known)
    return tuple((tap, words.get(tap.number) or _told(tap.events, known)) for tap in taps)


def _learn(known: _Known, events: Sequence[Event]) -> None:
    for event in events:
        match event:
            case HideTakenIn():
                known.hides[event.hide] = event.name
                known.hide_routes[event.hide] = event.route
            case HideCorrected():
                known.hides[event.hide] = event.name
            case RouteChanged():
                known.hide_routes[event.hide] = event.route
            case LotSplit():
                known.hides[event.new_hide] = event.name
                known.hide_routes[event.new_hide] = known.hide_routes.get(event.hide, "")
            case TimerSet() | TimerNamed():
                known.timers[event.timer] = event.name
            case WeighOutBegun():
                known.weigh_outs[event.weigh_out] = event.plan.formula_name


def _told(events: Sequence[Event], known: _Known) -> str:
    if not events:
        return "something that this version cannot read"
    first = _event_told(events[0], known)
    more = len(events) - 1
    return first if not more else f"{first}, and {more} more with it"


def _event_told(event: Event, known: _Known) -> str:
    match event:
        case ShopSet():
            return "the shop's settings changed"
        case Undone() | Redone() | TimeCorrected():
            what = known.said.get(event.tap, "something before these")
            return f"{_OF_ANOTHER[type(event)]}: {what}"
        case WeighOutBegun() | WeighOutTapped() | WeighOutLeft() | LiquorMade():
            return _weighing_told(event, known)
    kind, _, name = (subjects_of(event) or ("",))[0].partition("/")
    route = known.routes.get(known.hide_routes.get(name, "")) if kind == "hide" else None
    try:
        words = event_words(event, route, known.zone)
    except ValueError:
        words = "something else"
    whom = known.hides.get(name, name) if kind == "hide" else known.timers.get(name, "")
    return words if not whom or f"“{whom}”" in words else f"{whom}: {words}"


def _weighing_told(
    event: WeighOutBegun | WeighOutTapped | WeighOutLeft | LiquorMade, known: _Known
) -> str:
    name = known.weigh_outs.get(event.weigh_out, "a weigh-out")
    match event:
        case WeighOutBegun():
            return f"{name}: weigh-out begun"
        case WeighOutTapped():
            return f"{name}: a step of the weigh-out"
        case WeighOutLeft():
            return f"{name}: weigh-out given up"
        case LiquorMade():
            return f"{name}: liquor {event.liquor.id} made"
