"""What the shop said about its days, turned into instants a local day at a time."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable
from datetime import UTC, date, datetime, time, timedelta, tzinfo

from dateutil import tz

from benchconsole.model.opening import DatedOpening, OpenRule, OpenSpan
from benchconsole.model.recurrence import read_rule
from benchconsole.model.shop import Shop
from benchconsole.schedule.recurrence import RuleDays

Opening = tuple[datetime, datetime]
"""From and to, both aware, UTC; both ends belong to it."""

Days = tuple[date, date]
"""The first and last of some local days."""

Said = OpenSpan | OpenRule | DatedOpening

_DAY = timedelta(days=1)
_CACHED_DAYS = 4000


class OpenDays:
    """The openings of each local day in a zone, and why there are none.

    Wall-clock times, as ``Hours`` describes them; a day is worked out once and kept.
    """

    def __init__(self, shop: Shop, zone: tzinfo) -> None:
        self.zone = zone
        self._by_weekday: dict[int, list[OpenSpan]] = {}
        for span in shop.hours:
            self._by_weekday.setdefault(span.weekday, []).append(span)
        self._by_rule = [
            (opening, RuleDays(read_rule(opening.rule), opening.starts))
            for opening in shop.hours_by_rule
        ]
        self._extra: dict[date, list[DatedOpening]] = {}
        for extra in shop.extra:
            self._extra.setdefault(extra.day, []).append(extra)
        self._closed = [(span.first, span.last) for span in shop.closed]
        self._closed += [(day, day) for day in shop.closed_on]
        self._closed_by_rule = [
            (off.days, RuleDays(read_rule(off.rule), off.starts)) for off in shop.closed_by_rule
        ]
        away = [
            (self._midnight(span.first), self._midnight(span.last + _DAY)) for span in shop.away
        ]
        away += [(span.start.astimezone(UTC), span.end.astimezone(UTC)) for span in shop.away_times]
        self._away = merged(span for span in away if span[0] < span[1])
        self._away_starts = [start for start, _ in self._away]
        self._openings: dict[date, tuple[Opening, ...]] = {}

    @property
    def ever_open(self) -> bool:
        """Whether the shop has said any opening at all."""
        return bool(self._by_weekday or self._by_rule or self._extra)

    def openings_on(self, local_day: date) -> tuple[Opening, ...]:
        """The openings that begin on a local day, merged, in order, as instants in UTC."""
        known = self._openings.get(local_day)
        if known is None:
            known = self._read(local_day)
            if len(self._openings) >= _CACHED_DAYS:
                self._openings.clear()
            self._openings[local_day] = known
        return known

    def away_at(self, instant: datetime) -> Opening | None:
        """The time away that holds an instant; its end does not belong to it."""
        place = bisect_right(self._away_starts, instant) - 1
        if place < 0 or instant >= self._away[place][1]:
            return None
        return self._away[place]

    def closed_on(self, local_day: date) -> Days | None:
        """The closed days that hold a day, the longest if several do; None if it is not closed."""
        spans = [span for span in self._closed if span[0] <= local_day <= span[1]]
        for length, days in self._closed_by_rule:
            for before in range(length):
                first = local_day - before * _DAY
                if first in days:
                    spans.append((first, first + (length - 1) * _DAY))
        return max(spans, key=lambda span: (span[1] - span[0], span[0]), default=None)

    def says_open(self, local_day: date) -> bool:
        """Whether a day has openings, be the person there or away."""
        return bool(self._said(local_day))

    def _said(self, local_day: date) -> list[Said]:
        said: list[Said] = list(self._extra.get(local_day, ()))
        if self.closed_on(local_day) is None:
            said += self._by_weekday.get(local_day.weekday(), ())
            said += [opening for opening, days in self._by_rule if local_day in days]
        return said

    def _read(self, local_day: date) -> tuple[Opening, ...]:
        said = self._said(local_day)
        read = (self._opening(local_day, one.opens, one.closes) for one in said)
        # An opening that the spring change swallows closes before it opens.
        openings = merged(one for one in read if one[0] < one[1])
        return tuple(self._while_there(openings) if self._away else openings)

    def _while_there(self, openings: list[Opening]) -> list[Opening]:
        """The openings without the time away."""
        left = openings
        first = max(0, bisect_right(self._away_starts, openings[0][0]) - 1) if openings else 0
        for gone, back in self._away[first:]:
            if not left or gone >= left[-1][1]:
                break
            cut = ((o, min(c, gone)) for o, c in left), ((max(o, back), c) for o, c in left)
            left = sorted({one for part in cut for one in part if one[0] < one[1]})
        return left

    def _opening(self, local_day: date, opens: time, closes: time) -> Opening:
        closing_day = local_day if closes > opens else local_day + _DAY
        return (
            self._instant(local_day, opens, fold=0),
            self._instant(closing_day, closes, fold=1),
        )

    def _midnight(self, local_day: date) -> datetime:
        return self._instant(local_day, time(0), fold=0)

    def _instant(self, local_day: date, wall: time, *, fold: int) -> datetime:
        local = datetime.combine(local_day, wall, tzinfo=self.zone)
        # An imaginary time is resolved with fold 0, else its offset would be the new one.
        if not tz.datetime_exists(local):
            return tz.resolve_imaginary(local).astimezone(UTC)
        return local.replace(fold=fold).astimezone(UTC).replace(fold=0)


def merged(spans: Iterable[Opening]) -> list[Opening]:
    """Spans in order, those that overlap or touch as one."""
    whole: list[Opening] = []
    for start, end in sorted(spans):
        if whole and start <= whole[-1][1]:
            whole[-1] = (whole[-1][0], max(whole[-1][1], end))
        else:
            whole.append((start, end))
    return whole
