"""Events: past facts, appended and never changed; undo is one of them."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from operator import attrgetter
from typing import get_args

from benchconsole.model.archive_events import (
    ArchivedHide,
    HidesArchived,
    HidesBroughtBack,
    things_of,
)
from benchconsole.model.hide_events import (
    Attended,
    CheckFailed,
    CoatGiven,
    CoverChanged,
    DryingWeighed,
    HideCorrected,
    HideEvent,
    HideLost,
    HideTakenIn,
    LiquorSpoiled,
    LotSplit,
    Lying,
    NoteWritten,
    RouteChanged,
    StageBegun,
    StageLeft,
    StageSkipped,
    StartChosen,
)
from benchconsole.model.record import Instant, Record
from benchconsole.model.shop import Shop
from benchconsole.model.weighing import Liquor, Plan, Tap

__all__ = [
    "ArchivedHide",
    "Attended",
    "CheckFailed",
    "CoatGiven",
    "CoverChanged",
    "DryingWeighed",
    "Entry",
    "Event",
    "HideCorrected",
    "HideEvent",
    "HideLost",
    "HideTakenIn",
    "HidesArchived",
    "HidesBroughtBack",
    "LiquorMade",
    "LiquorSpoiled",
    "LotSplit",
    "Lying",
    "NoteWritten",
    "Redone",
    "RouteChanged",
    "ShopSet",
    "StageBegun",
    "StageLeft",
    "StageSkipped",
    "StartChosen",
    "TimeCorrected",
    "TimerAcknowledged",
    "TimerCancelled",
    "TimerExtended",
    "TimerNamed",
    "TimerPaused",
    "TimerResumed",
    "TimerSet",
    "Undone",
    "WeighOutBegun",
    "WeighOutLeft",
    "WeighOutTapped",
    "entries_of",
    "subjects_of",
]


class WeighOutBegun(Record, frozen=True, kw_only=True, tag="weigh-out-begun"):
    """A plan went to the scale."""

    weigh_out: str
    plan: Plan


class WeighOutTapped(Record, frozen=True, kw_only=True, tag="weigh-out-tapped"):
    """One tap of a weigh-out."""

    weigh_out: str
    tap: Tap


class WeighOutLeft(Record, frozen=True, kw_only=True, tag="weigh-out-left"):
    """A weigh-out was given up; nothing came of it."""

    weigh_out: str


class LiquorMade(Record, frozen=True, kw_only=True, tag="liquor-made"):
    """A weigh-out came to its end."""

    weigh_out: str
    liquor: Liquor


class TimerSet(Record, frozen=True, kw_only=True, tag="timer-set"):
    """A timer was set to end at an instant."""

    timer: str
    name: str
    ends_at: Instant


class TimerPaused(Record, frozen=True, kw_only=True, tag="timer-paused"):
    """A timer stands still with this many seconds left."""

    timer: str
    left_s: float


class TimerResumed(Record, frozen=True, kw_only=True, tag="timer-resumed"):
    """A paused timer runs again, to a new end."""

    timer: str
    ends_at: Instant


class TimerExtended(Record, frozen=True, kw_only=True, tag="timer-extended"):
    """A timer was given a later end; it rings again then."""

    timer: str
    ends_at: Instant


class TimerNamed(Record, frozen=True, kw_only=True, tag="timer-named"):
    """A timer got another name."""

    timer: str
    name: str


class TimerCancelled(Record, frozen=True, kw_only=True, tag="timer-cancelled"):
    """A timer was taken away before it ended."""

    timer: str


class TimerAcknowledged(Record, frozen=True, kw_only=True, tag="timer-acknowledged"):
    """Somebody heard it ring. Also for the waits between coats, by their derived names."""

    timer: str


class ShopSet(Record, frozen=True, kw_only=True, tag="shop-set"):
    """The shop's settings, whole."""

    shop: Shop


class Undone(Record, frozen=True, kw_only=True, tag="undone"):
    """A tap was taken back: its events count as not having happened.

    ``only`` is the one hide (``hide/ID``) whose share of a round was taken back, empty for the
    whole tap. ``about`` are the subjects of what was taken back; empty in old histories.
    """

    tap: int
    only: str = ""
    about: tuple[str, ...] = ()


class Redone(Record, frozen=True, kw_only=True, tag="redone"):
    """A tap that was taken back was put back: its events count again; fields as of ``Undone``."""

    tap: int
    only: str = ""
    about: tuple[str, ...] = ()


class TimeCorrected(Record, frozen=True, kw_only=True, tag="time-corrected"):
    """A tap happened at another time than the one it has in the history.

    ``about`` are the subjects of the corrected tap, which are those of the correction too.
    """

    tap: int
    at: Instant
    about: tuple[str, ...] = ()


Event = (
    HideEvent
    | WeighOutBegun
    | WeighOutTapped
    | WeighOutLeft
    | LiquorMade
    | TimerSet
    | TimerPaused
    | TimerResumed
    | TimerExtended
    | TimerNamed
    | TimerCancelled
    | TimerAcknowledged
    | ShopSet
    | Undone
    | Redone
    | TimeCorrected
    | HidesArchived
    | HidesBroughtBack
)


class Entry(Record, frozen=True, kw_only=True):
    """An event in the history.

    ``seq`` counts events from 1; events of one tap share ``tap`` and stand or fall together.
    ``at`` is when it happened, ``recorded`` when it was written down; both aware, UTC.
    """

    seq: int
    tap: int
    at: Instant
    recorded: Instant
    event: Event


def entries_of(entries: Sequence[Entry], tap: int) -> Iterator[Entry]:
    """Those of a tap, out of entries in the order they were written down."""
    place = bisect_left(entries, tap, key=attrgetter("tap"))
    while place < len(entries) and entries[place].tap == tap:
        yield entries[place]
        place += 1


_NAMES: dict[str, str] = {"hide": "hide/", "weigh_out": "weigh-out/", "timer": "timer/"}
_ABOUT_ONE: dict[type, tuple[str, str]] = {
    kind: (field, prefix)
    for kind in get_args(Event)
    for field, prefix in _NAMES.items()
    if field in kind.__struct_fields__ and kind not in (LotSplit, LiquorMade)
}
"""The events about one thing: the field that names it, and what its subject begins with."""


def subjects_of(event: Event) -> tuple[str, ...]:
    """What an event is about: ``hide/ID``, ``weigh-out/ID``, ``timer/ID``, ``liquor/ID``, ``shop``.

    More than one where it touches several: both hides of a split lot, a liquor and its hides.
    """
    # A long history asks this of every event at once: one look, not a row of questions.
    one = _ABOUT_ONE.get(type(event))
    if one is not None:
        return (one[1] + getattr(event, one[0]),)
    match event:
        case LotSplit():
            return f"hide/{event.hide}", f"hide/{event.new_hide}"
        case LiquorSpoiled():
            return (f"liquor/{event.liquor}", *(f"hide/{hide}" for hide in event.hides))
        case LiquorMade():
            return f"weigh-out/{event.weigh_out}", f"liquor/{event.liquor.id}"
        case Undone() | Redone() | TimeCorrected():
            return event.about
        case HidesArchived() | HidesBroughtBack():
            return things_of(event)
    return ("shop",)
