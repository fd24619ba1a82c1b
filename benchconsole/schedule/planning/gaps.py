"""How long an attention may wait for the next walk: real hours, planned visits, closed days.

Instants are whole microseconds since 1970 here, so that thousands of them cost little.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from datetime import UTC, datetime, timedelta

from benchconsole.schedule.holds import LEAST_PART_OF_INTERVAL
from benchconsole.schedule.hours import Opening

NEVER = 2**62
"""Later than any instant."""

_EPOCH = datetime(1970, 1, 1, tzinfo=UTC)
_STEP = timedelta.resolution


def ticks(instant: datetime) -> int:
    """An aware instant in whole microseconds since 1970."""
    return (instant - _EPOCH) // _STEP


def span_ticks(span: timedelta) -> int:
    """A span in whole microseconds."""
    return span // _STEP


def instant_of(count: int) -> datetime:
    """The instant, UTC, of :func:`ticks`."""
    return _EPOCH + count * _STEP


class Gaps:
    """Until when the next walk has to come, given when an attention was given last.

    As for a single hide (``schedule.windows``): after its interval; if the shop is closed then,
    at the next opening, where that is not longer than ``at_most``; else at the last open moment
    before. Where giving it once more before closing helps nothing, because the closed time is
    longer than ``at_most`` anyway, it waits a quarter of its interval at least.

    ``openings`` and ``busy`` (the hands are at a visit) are spans of aware instants; a walk stands
    between visits where it can, also at the moment one begins or ends. ``come_in`` are hours of
    closed days at which people may be asked to come in, once a day. What comes after the last
    opening is not known, and nothing is asked for then.
    """

    def __init__(
        self,
        openings: Iterable[Opening],
        busy: Iterable[Opening] = (),
        come_in: Iterable[Opening] = (),
    ) -> None:
        self._opens, self._closes = _merged(openings)
        self._begins, self._ends = _merged(busy, touching=False)
        self._from, self._to = _merged(come_in)
        self._shut = frozenset(self._closes)

    def is_open(self, at: int) -> bool:
        """Whether the shop is open; the moments of opening and closing count."""
        place = bisect_right(self._opens, at)
        return bool(place) and at <= self._closes[place - 1]

    def is_busy(self, at: int) -> bool:
        """Whether the hands are in the middle of a visit."""
        place = bisect_left(self._begins, at)
        return bool(place) and at < self._ends[place - 1]

    def is_closing(self, at: int) -> bool:
        """Whether the shop closes at that very moment."""
        return at in self._shut

    def next_opening(self, after: int) -> int:
        """The next moment of opening after an instant; ``NEVER`` if none is known."""
        place = bisect_right(self._opens, after)
        return self._opens[place] if place < len(self._opens) else NEVER

    def first_from(self, now: int) -> int:
        """The first moment from ``now`` on at which somebody can be asked to walk."""
        if self.is_open(now):
            return now
        place = bisect_left(self._to, now)
        come_in = max(now, self._from[place]) if place < len(self._from) else NEVER
        return min(self.next_opening(now), come_in)

    def limit(self, last: int, every: int, at_most: int) -> int:
        """The latest moment for the next walk, always after ``last``.

        It never comes sooner for a later ``last``: giving an attention early can only help.
        """
        ideal = last + every
        place = bisect_right(self._opens, ideal)
        opened = self._opens[place - 1] if place else -NEVER
        if place and ideal <= self._closes[place - 1]:
            return self._between_visits(ideal, last, opened)
        if place == len(self._opens):
            return NEVER
        opens, latest = self._opens[place], last + at_most
        if opens <= latest:
            return opens
        shut = self._closes[place - 1] if place else -NEVER
        helps = shut + at_most >= opens or shut - last >= every // LEAST_PART_OF_INTERVAL
        if shut > last and helps:
            return self._between_visits(shut, last, opened)
        return self._in_closed_time(max(last, shut), latest, opens)

    def earliest_of_day(self, at: int) -> int:
        """The beginning of the come-in hours that hold an instant, the instant if none do."""
        place = bisect_right(self._from, at)
        return self._from[place - 1] if place and at <= self._to[place - 1] else at

    def next_in_reach(self, at: int) -> int:
        """When somebody is there again after a moment of closed time: opening or come-in hours."""
        place = bisect_right(self._from, at)
        return min(self.next_opening(at), self._from[place] if place < len(self._from) else NEVER)

    def _in_closed_time(self, after: int, latest: int, opens: int) -> int:
        """The last moment in reach of people coming in; the first after it, if none is."""
        first = bisect_right(self._from, after)
        if first == len(self._from) or self._from[first] >= opens:
            return opens
        if self._from[first] > latest:
            return self._from[first]
        place = min(bisect_right(self._from, latest), bisect_left(self._from, opens)) - 1
        return min(self._to[place], latest)

    def _between_visits(self, at: int, last: int, opened: int) -> int:
        """The moment itself, or the beginning of the visit it lies in, if that is soon enough."""
        place = bisect_left(self._begins, at)
        if not place or at >= self._ends[place - 1]:
            return at
        begins = self._begins[place - 1]
        return begins if begins > last and begins >= opened else at


def _merged(spans: Iterable[Opening], *, touching: bool = True) -> tuple[list[int], list[int]]:
    """Beginnings and ends of spans in order, those that overlap (or touch) as one."""
    begins: list[int] = []
    ends: list[int] = []
    for begin, end in sorted((ticks(begin), ticks(end)) for begin, end in spans):
        if ends and (begin < ends[-1] or (touching and begin == ends[-1])):
            ends[-1] = max(ends[-1], end)
        elif end > begin:
            begins.append(begin)
            ends.append(end)
    return begins, ends
