"""Ids for new things: none is ever given twice, also not one of a thing in the archive."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Iterable

from benchconsole.model.events import (
    Entry,
    HidesArchived,
    HideTakenIn,
    LiquorMade,
    LotSplit,
    TimerSet,
    WeighOutBegun,
)


def next_id(letter: str, used: Iterable[str]) -> str:
    """The next of the names ``t1``, ``t2``, ...; ``used`` holds every one the history names.

    A name is not given again after its tap was taken back: the history still speaks of it.
    """
    numbers = (int(name[1:]) for name in used if name[1:].isdecimal() and name[:1] == letter)
    return f"{letter}{max(numbers, default=0) + 1}"


def named_id(name: str, used: Collection[str]) -> str:
    """An id that reads like a name a person gave, and is in none of ``used``."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    stem = re.sub(r"[^a-z0-9]+", "-", plain).strip("-") or "hide"
    number, free = 1, stem
    while free in used:
        number += 1
        free = f"{stem}-{number}"
    return free


def hide_ids_used(entries: Iterable[Entry]) -> set[str]:
    """Ids of hides whose coming was taken back stay used: the history still names them."""
    used = set()
    for entry in entries:
        match entry.event:
            case HideTakenIn():
                used.add(entry.event.hide)
            case LotSplit():
                used.add(entry.event.new_hide)
            case HidesArchived():
                used.update(entry.event.gone, (hide.id for hide in entry.event.hides))
    return used


def timer_ids_used(entries: Iterable[Entry]) -> set[str]:
    """Ids of all timers there ever were."""
    used = set()
    for entry in entries:
        match entry.event:
            case TimerSet():
                used.add(entry.event.timer)
            case HidesArchived():
                used.update(entry.event.timers)
    return used


def weigh_out_ids_used(entries: Iterable[Entry]) -> set[str]:
    """Ids of all weigh-outs there ever were."""
    used = set()
    for entry in entries:
        match entry.event:
            case WeighOutBegun() | LiquorMade():
                used.add(entry.event.weigh_out)
            case HidesArchived():
                used.update(entry.event.weigh_outs)
    return used


def liquor_ids_used(entries: Iterable[Entry]) -> set[str]:
    """Ids of all liquors there ever were."""
    used = set()
    for entry in entries:
        match entry.event:
            case LiquorMade():
                used.add(entry.event.liquor.id)
            case HidesArchived():
                used.update(entry.event.liquors)
    return used
