"""Taking back and putting back: what falls with a tap, and what comes back together."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from operator import attrgetter
from typing import NamedTuple

from benchconsole.model.events import (
    Attended,
    Entry,
    Event,
    HidesArchived,
    HidesBroughtBack,
    LiquorSpoiled,
    NoteWritten,
    Redone,
    RouteChanged,
    StageBegun,
    TimeCorrected,
    TimerExtended,
    TimerPaused,
    TimerResumed,
    Undone,
    subjects_of,
)
from benchconsole.model.history import History, meant

_TIMER_GOES_ON = (TimerExtended, TimerPaused, TimerResumed)
_BACK_AND_FORTH = (Undone, Redone)
_tap_of = attrgetter("tap")


class PutBack(NamedTuple):
    """What puts back what was taken back.

    ``taken_by`` are the taps that took it, the newest first. ``blocked_by`` is a later entry about
    the same things, after which it can be put back no more (None: it can).
    """

    events: tuple[Redone, ...]
    taken_by: tuple[int, ...]
    blocked_by: Entry | None


def is_round(entries: Iterable[Entry]) -> bool:
    """Whether the events of a tap are a round: attentions to several hides, each by itself."""
    events = [entry.event for entry in entries]
    hides = {event.hide for event in events if isinstance(event, Attended)}
    return len(hides) > 1 and all(isinstance(event, Attended) for event in events)


def falls(history: History, tap: int) -> tuple[Undone, ...]:
    """What takes back a standing tap with all that rests on it, in the order it was tapped.

    Later taps about the same things rest on it, and on those others in turn; of a round that is
    among them only the share of the hides concerned. On a remark or an attention nothing rests, on
    the correction of a time only other corrections and what was worked out from that time.
    Nothing where the tap does not stand.
    """
    chosen = history.standing_of(tap)
    if not chosen:
        return ()
    gone = [_undone(tap, chosen)]
    broken = _borne(chosen)
    for later in _taps(history.since(tap)):
        if is_round(later):
            gone += _shares(history, later, broken)
        elif any(not broken.isdisjoint(_needs(entry.event)) for entry in later):
            gone.append(_undone(later[0].tap, later))
            broken |= _borne(later)
    return tuple(gone)


def _shares(history: History, walk: tuple[Entry, ...], broken: set[str]) -> list[Undone]:
    """What falls of a round: the attentions to hides of which something earlier falls."""
    fallen = [entry for entry in walk if not broken.isdisjoint(subjects_of(entry.event))]
    if len(fallen) == len(history.of_tap(walk[0].tap)):
        return [_undone(walk[0].tap, fallen)]
    hides = dict.fromkeys(subject for entry in fallen for subject in subjects_of(entry.event))
    return [Undone(tap=walk[0].tap, only=hide, about=(hide,)) for hide in hides]


def takings(history: History) -> tuple[int, ...]:
    """The taps that took something back which was not put back since, the newest first."""
    return tuple(sorted(set(history.taken_by.values()), reverse=True))


def last_taking(history: History, subject: str) -> int | None:
    """The newest tap that took back something about a subject which was not put back since."""
    return next((each for each in takings(history) if subject in _subjects(history, each)), None)


def puts_back(history: History, taking: int) -> PutBack:
    """What puts back all that a tap took back, and first what was taken from under it later."""
    together: list[int] = []
    touched: set[str] = set()
    reach: list[tuple[int, frozenset[str]]] = []
    for each in reversed(takings(history)):
        about = _touched(history, each)
        if each == taking or (each > taking and not touched.isdisjoint(about)):
            together.append(each)
            touched |= about
            reach.append((each, frozenset(about)))
    events = [
        Redone(tap=event.tap, only=event.only, about=event.about)
        for each in reversed(together)
        for event in _undoings(history, each)
    ]
    return PutBack(tuple(events), tuple(reversed(together)), _newer(history, reach))


def _newer(history: History, reach: list[tuple[int, frozenset[str]]]) -> Entry | None:
    """The latest tap about something that was taken back before it."""
    first = min((each for each, _ in reach), default=0)
    later = history.entries[bisect_right(history.entries, first, key=_tap_of) :]
    for entry in reversed(later):
        if isinstance(entry.event, _BACK_AND_FORTH):
            continue
        about = subjects_of(entry.event)
        if any(each < entry.tap and not touched.isdisjoint(about) for each, touched in reach):
            return entry
    return None


def _undoings(history: History, taking: int) -> list[Undone]:
    """The takings back of a tap that still count, whole or in part."""
    return [
        entry.event
        for entry in history.of_tap(taking)
        if isinstance(entry.event, Undone)
        and any(history.taken_by.get(each.seq) == taking for each in meant(history.entries, entry))
    ]


def _taken(history: History, taking: int) -> list[Entry]:
    return [
        each
        for entry in history.of_tap(taking)
        if isinstance(entry.event, Undone)
        for each in meant(history.entries, entry)
        if history.taken_by.get(each.seq) == taking
    ]


def _subjects(history: History, taking: int) -> set[str]:
    taken = _taken(history, taking)
    return {subject for entry in taken for subject in subjects_of(entry.event)}


def _touched(history: History, taking: int) -> set[str]:
    taken = _taken(history, taking)
    return {subject for entry in taken for subject in _needs(entry.event)} | _subjects(
        history, taking
    )


def _taps(entries: tuple[Entry, ...]) -> Iterable[tuple[Entry, ...]]:
    """The entries tap by tap."""
    place = 0
    while place < len(entries):
        end = bisect_right(entries, entries[place].tap, lo=place, key=_tap_of)
        yield entries[place:end]
        place = end


def _undone(tap: int, taken: Iterable[Entry]) -> Undone:
    about = dict.fromkeys(subject for each in taken for subject in subjects_of(each.event))
    return Undone(tap=tap, about=tuple(about))


def _needs(event: Event) -> tuple[str, ...]:
    """What an event rests on: it falls with whatever bears one of these."""
    match event:
        case HidesArchived() | HidesBroughtBack():
            # What is moved to the archive or back stays there, whatever was before.
            return ()
        case LiquorSpoiled():
            # The hides are only told of it: whatever becomes of one, the liquor is spoiled.
            return (f"liquor/{event.liquor}",)
        case StageBegun() if event.liquor:
            return f"hide/{event.hide}", f"liquor/{event.liquor}"
        case TimeCorrected():
            # Not on all before it: of a round it holds for the hides that are left.
            return (*map(_time_of, event.about), f"tap/{event.tap}")
        case RouteChanged() | TimerExtended() | TimerPaused() | TimerResumed():
            about = subjects_of(event)
            return (*about, *map(_time_of, about))
    return subjects_of(event)


def _borne(entries: Iterable[Entry]) -> set[str]:
    """What the events of a tap bear: later ones that need one of these rest on the tap."""
    borne: set[str] = set()
    for entry in entries:
        borne.add(f"tap/{entry.tap}")
        match entry.event:
            case Attended() | NoteWritten():
                continue
            case TimeCorrected():
                borne.update(map(_time_of, entry.event.about))
            case _:
                borne.update(subjects_of(entry.event))
    return borne


def _time_of(subject: str) -> str:
    return f"time/{subject}"
