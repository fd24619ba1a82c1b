"""What follows from a corrected time in the events themselves, some of which hold instants."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from operator import attrgetter

from msgspec.structs import replace

from benchconsole.model.events import (
    Entry,
    Event,
    LiquorMade,
    StageBegun,
    TimeCorrected,
    TimerExtended,
    TimerPaused,
    TimerResumed,
    TimerSet,
    entries_of,
    subjects_of,
)

_tap_of = attrgetter("tap")
_RUNS = (TimerSet, TimerExtended, TimerPaused, TimerResumed)


def room_for(standing: Sequence[Entry], tap: int) -> tuple[datetime | None, datetime | None]:
    """Between which instants a tap may have happened by the taps about the same things.

    Not before the last one before it and not after the first one after it (None: there is none),
    as they stand; and nothing was begun with a liquor before that was made.
    """
    mine = {each for entry in entries_of(standing, tap) for each in _touched(entry.event)}
    earliest = latest = None
    for entry in standing:
        if entry.tap == tap or type(entry.event) is TimeCorrected:
            continue
        if mine.isdisjoint(_touched(entry.event)):
            continue
        if entry.tap < tap:
            earliest = entry.at if earliest is None else max(earliest, entry.at)
        else:
            latest = entry.at if latest is None else min(latest, entry.at)
    return earliest, latest


def _touched(event: Event) -> tuple[str, ...]:
    about = subjects_of(event)
    if isinstance(event, StageBegun) and event.liquor:
        return (*about, f"liquor/{event.liquor}")
    return about


def retimed(entries: tuple[Entry, ...]) -> tuple[Entry, ...]:
    """Standing entries, in the order they were written, at the times that corrections give them.

    ``recorded`` stays. A liquor was made when its tap was; a timer keeps the span it was set for,
    the time it had left when it was paused and what it was given on top, from the corrected
    times. What was written down after a correction went by it, and is left as it is.
    """
    places = [place for place, entry in enumerate(entries) if type(entry.event) is TimeCorrected]
    if not places:
        return entries
    told = list(entries)
    for place in places:
        event = told[place].event
        assert isinstance(event, TimeCorrected), "its place was looked up by its kind"
        _correct(told, place, event)
    return tuple(told)


def _correct(told: list[Entry], until: int, correction: TimeCorrected) -> None:
    """Move a tap, and what was written down before place ``until`` of the timers it is about."""
    place = bisect_left(told, correction.tap, key=_tap_of)
    timers: set[str] = set()
    while place < until and told[place].tap == correction.tap:
        if isinstance(event := told[place].event, _RUNS):
            timers.add(event.timer)
        else:
            told[place] = _moved(told[place], correction.at)
        place += 1
    runs = {timer: _Run() for timer in timers}
    for place in range(until) if runs else ():
        entry = told[place]
        if isinstance(entry.event, _RUNS) and entry.event.timer in runs:
            at = correction.at if entry.tap == correction.tap else entry.at
            event = runs[entry.event.timer].takes(entry.event, entry.at, at)
            told[place] = replace(entry, at=at, event=event)


def _moved(entry: Entry, at: datetime) -> Entry:
    event = entry.event
    if isinstance(event, LiquorMade):
        liquor = replace(event.liquor, made_at=event.liquor.made_at + (at - entry.at))
        event = replace(event, liquor=liquor)
    return replace(entry, at=at, event=event)


@dataclass
class _Course:
    """How a timer stands: running to an end, or paused with a span left."""

    ends_at: datetime | None = None
    left: timedelta = timedelta(0)

    def runs_out(self, at: datetime) -> datetime:
        """When it ends if it runs from an instant on; an end that is past is that instant."""
        return at + self.left if self.ends_at is None else max(self.ends_at, at)


class _Run:
    """One timer on two courses: as its taps were written down, and at their corrected times."""

    def __init__(self) -> None:
        self._written = _Course()
        self._true = _Course()

    def takes(self, event: Event, written_at: datetime, true_at: datetime) -> Event:
        """The event as it is on the true course: what it adds to the written one, it adds here."""
        was, true = self._written.runs_out(written_at), self._true.runs_out(true_at)
        match event:
            case TimerSet():
                ends_at = true_at + (event.ends_at - written_at)
                self._written, self._true = _Course(event.ends_at), _Course(ends_at)
                return replace(event, ends_at=ends_at)
            case TimerExtended() | TimerResumed():
                ends_at = true + (event.ends_at - was)
                self._written, self._true = _Course(event.ends_at), _Course(ends_at)
                return replace(event, ends_at=ends_at)
            case TimerPaused():
                left = timedelta(seconds=event.left_s)
                true_left = max(true - true_at + (left - (was - written_at)), timedelta(0))
                self._written, self._true = _Course(None, left), _Course(None, true_left)
                return replace(event, left_s=true_left.total_seconds())
        return event
