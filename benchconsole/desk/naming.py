"""The names and routes that events give to things, for telling a history in words."""

from __future__ import annotations

from collections.abc import Iterator

from benchconsole.model.events import (
    Event,
    HideCorrected,
    HidesArchived,
    HideTakenIn,
    LotSplit,
    RouteChanged,
    TimerNamed,
    TimerSet,
    WeighOutBegun,
)

NAMING = frozenset(
    {
        HideTakenIn,
        HideCorrected,
        HidesArchived,
        RouteChanged,
        LotSplit,
        TimerSet,
        TimerNamed,
        WeighOutBegun,
    }
)
"""The kinds of events that give a name or a route."""


def names_given(event: Event) -> Iterator[tuple[str, str]]:
    """The subjects (``hide/ID``...) that an event names, each with its name."""
    match event:
        case HideTakenIn() | HideCorrected():
            yield f"hide/{event.hide}", event.name
        case HidesArchived():
            yield from ((f"hide/{hide.id}", hide.name) for hide in event.hides)
        case LotSplit():
            yield f"hide/{event.new_hide}", event.name
        case TimerSet() | TimerNamed():
            yield f"timer/{event.timer}", event.name
        case WeighOutBegun():
            yield f"weigh-out/{event.weigh_out}", event.plan.formula_name


def routes_given(event: Event) -> Iterator[tuple[str, str]]:
    """The hides that an event puts on a route, each with the route's id."""
    match event:
        case HideTakenIn() | RouteChanged():
            yield event.hide, event.route
        case HidesArchived():
            yield from ((hide.id, hide.route) for hide in event.hides)
