"""What happened to the skins of a hide, the time before they were split off a lot included."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime, tzinfo

from benchconsole.desk.ledger import Ledger
from benchconsole.desk.words import event_words
from benchconsole.model.events import (
    Entry,
    HideTakenIn,
    LotSplit,
    RouteChanged,
    StageBegun,
    StageLeft,
    TimeCorrected,
)
from benchconsole.model.routes import Route


def story_of(ledger: Ledger, hide_id: str) -> tuple[Entry, ...]:
    """The standing entries about a hide and, before its splitting off, about its lot."""
    told: tuple[Entry, ...] = ()
    for name, before in lineage_of(ledger, hide_id):
        told = (*(e for e in ledger.history(f"hide/{name}") if e.seq < before), *told)
    return told


def lineage_of(ledger: Ledger, hide_id: str) -> tuple[tuple[str, int], ...]:
    """The hide and the lots it comes from, the nearest first.

    Each with the number of the entry before which the skins were part of it; the hide's own is
    past the end of the history.
    """
    entries = ledger.entries
    name, before = hide_id, entries[-1].seq + 1 if entries else 1
    found = [(name, before)]
    while split := _split_off(ledger, name, before):
        name, before = split
        found.append((name, before))
    return tuple(found)


def _split_off(ledger: Ledger, hide_id: str, before: int) -> tuple[str, int] | None:
    for entry in ledger.history(f"hide/{hide_id}"):
        event = entry.event
        if entry.seq < before and isinstance(event, LotSplit) and event.new_hide == hide_id:
            return event.hide, entry.seq
    return None


def told(
    story: Iterable[Entry], routes: Mapping[str, Route], zone: tzinfo
) -> tuple[tuple[datetime, str], ...]:
    """The story in words, each event by the route the hide was on then."""
    route: Route | None = None
    said: dict[int, str] = {}
    lines = []
    for entry in story:
        if isinstance(entry.event, HideTakenIn | RouteChanged):
            route = routes.get(entry.event.route)
        words = event_words(entry.event, route, zone)
        if isinstance(entry.event, TimeCorrected) and entry.event.tap in said:
            words = f"{words} ({said[entry.event.tap]})"
        said[entry.tap] = words
        lines.append((entry.at, words))
    return tuple(lines)


def walked(story: Iterable[Entry]) -> tuple[str, frozenset[str]]:
    """The stage by which the hide came on the route it is on, and those it was in since."""
    entered = ""
    been: set[str] = set()
    for entry in story:
        match entry.event:
            case HideTakenIn() | RouteChanged():
                entered, been = entry.event.stage, set()
            case StageBegun() | StageLeft():
                been.add(entry.event.stage)
    return entered, frozenset(been)
