"""The shop's open hours: wall-clock openings turned into instants, whatever the clocks do."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, date, datetime, time, timedelta, tzinfo

from dateutil import tz

from benchconsole.model.shop import OpenSpan, Shop

Opening = tuple[datetime, datetime]
"""From and to, both aware, UTC; both ends belong to it."""

SEARCH_DAYS = 60
"""How far the next or last opening is looked for; a shop shut longer counts as never open."""

_DAY = timedelta(days=1)
_CACHED_DAYS = 4000


class Hours:
    """When the shop is open, in its zone.

    Openings are wall-clock times: 08:00 stays 08:00 on both sides of a clock change. A time
    the spring change skips is read as the same elapsed time later (``resolve_imaginary``);
    of a time the autumn change repeats, an opening takes the first and a closing the second.
    Openings that overlap or touch are one. A closing of 00:00, or one at or before its
    opening, lies on the next day. The moment of closing still counts as open, so the last
    act of a day can stand at "18:00". ``closed_on`` are local days without any opening.
    """

    def __init__(
        self, spans: Iterable[OpenSpan], closed_on: Iterable[date], zone: tzinfo = UTC
    ) -> None:
        self.zone = zone
        self._by_weekday: dict[int, list[OpenSpan]] = {}
        for span in spans:
            self._by_weekday.setdefault(span.weekday, []).append(span)
        self._closed_on = frozenset(closed_on)
        self._openings: dict[date, tuple[Opening, ...]] = {}

    @classmethod
    def of(cls, shop: Shop, zone: tzinfo) -> Hours:
        """The hours that the shop's settings say."""
        return cls(shop.hours, shop.closed_on, zone)

    @property
    def ever_open(self) -> bool:
        """Whether any weekday has an opening at all."""
        return bool(self._by_weekday)

    def local(self, instant: datetime) -> datetime:
        """The instant on the shop's wall clock."""
        return instant.astimezone(self.zone)

    def openings_on(self, local_day: date) -> tuple[Opening, ...]:
        """The openings that begin on a local day, merged, in order, as instants in UTC."""
        known = self._openings.get(local_day)
        if known is None:
            known = self._read(local_day)
            if len(self._openings) >= _CACHED_DAYS:
                self._openings.clear()
            self._openings[local_day] = known
        return known

    def between(self, start: datetime, end: datetime) -> tuple[Opening, ...]:
        """The open time from one instant to another, in order; touching openings are one.

        Cut off at both instants, which are aware; empty if ``end`` is not after ``start``.
        """
        start, end = start.astimezone(UTC), end.astimezone(UTC)
        if end <= start:
            return ()
        merged: list[Opening] = []
        day, last = start.date() - 2 * _DAY, end.date() + _DAY
        while day <= last:
            for opens, closes in self.openings_on(day):
                if merged and opens <= merged[-1][1]:
                    merged[-1] = (merged[-1][0], max(merged[-1][1], closes))
                else:
                    merged.append((opens, closes))
            day += _DAY
        return tuple(
            (max(opens, start), min(closes, end))
            for opens, closes in merged
            if opens < end and closes > start
        )

    def is_open(self, instant: datetime) -> bool:
        """Whether the shop is open then; the moments of opening and closing count."""
        return self._opening_at(instant) is not None

    def next_open(self, instant: datetime) -> datetime | None:
        """The first open moment at or after an instant (itself if open).

        None if there is none within ``SEARCH_DAYS``.
        """
        if not self._by_weekday:
            return None
        if self.is_open(instant):
            return instant
        first = instant.date() - _DAY
        for days in range(SEARCH_DAYS + 2):
            for opens, _ in self.openings_on(first + days * _DAY):
                if opens >= instant:
                    return opens
        return None

    def last_open_before(self, instant: datetime) -> datetime | None:
        """The last open moment at or before an instant (itself if open).

        None if there is none within ``SEARCH_DAYS``.
        """
        if not self._by_weekday:
            return None
        if self.is_open(instant):
            return instant
        last = instant.date() + _DAY
        for days in range(SEARCH_DAYS + 2):
            day = last - days * _DAY
            if closed := self._closings(day, instant):
                # The opening of the day before may run past midnight and end later than these.
                return max(closed + self._closings(day - _DAY, instant))
        return None

    def first_with_room(
        self, instant: datetime, room: timedelta, limit: datetime | None = None
    ) -> datetime | None:
        """The first open moment at or after an instant from which ``room`` fits before closing.

        None if there is none up to ``limit`` or within ``SEARCH_DAYS``.
        """
        at = self.next_open(instant)
        last = instant + SEARCH_DAYS * _DAY
        while at is not None and at <= (last if limit is None else min(last, limit)):
            closes = self.open_until(at) or at
            if closes - at >= room:
                return at
            at = self.next_open(closes + timedelta.resolution)
        return None

    def last_with_room(
        self, instant: datetime, room: timedelta, floor: datetime
    ) -> datetime | None:
        """The last open moment at or before an instant from which ``room`` fits before closing.

        None if there is none from ``floor`` on, or within ``SEARCH_DAYS``.
        """
        at = self.last_open_before(instant)
        first = max(floor, instant - SEARCH_DAYS * _DAY)
        while at is not None and at >= first:
            closes = self.open_until(at) or at
            begin = min(at, closes - room)
            if begin == at or self.open_until(begin) == closes:
                return begin if begin >= floor else None
            opening = self._opening_at(at)
            at = self.last_open_before((opening or (at, at))[0] - timedelta.resolution)
        return None

    def every_day_like(self, opening: datetime) -> Hours:
        """Hours with no closed day: on each the clock times of the opening that begins then.

        What people would call a decent hour on a day the shop is shut.
        """
        opens, closes = self.local(opening), self.local(self.open_until(opening) or opening)
        spans = [OpenSpan(weekday=d, opens=opens.time(), closes=closes.time()) for d in range(7)]
        return Hours(spans, (), self.zone)

    def open_until(self, instant: datetime) -> datetime | None:
        """When the present opening ends; None if the shop is closed.

        Openings that meet at midnight are followed on, at most ``SEARCH_DAYS``.
        """
        opening = self._opening_at(instant)
        if opening is None:
            return None
        closes = opening[1]
        for _ in range(SEARCH_DAYS):
            later = self._opening_at(closes, latest=True)
            if later is None or later[1] <= closes:
                break
            closes = later[1]
        return closes

    def next_gap(self, instant: datetime) -> Opening | None:
        """The closed time that an instant lies in, or the next one after it.

        From the last open moment (the instant itself, if the shop is closed then) to the next
        opening. None if the shop is never closed, or does not open again within
        ``SEARCH_DAYS``.
        """
        shut = self.open_until(instant) or instant
        opens = self.next_open(shut + timedelta.resolution)
        return None if opens is None or opens <= shut + timedelta.resolution else (shut, opens)

    def _closings(self, local_day: date, instant: datetime) -> list[datetime]:
        return [closes for _, closes in self.openings_on(local_day) if closes <= instant]

    def _opening_at(self, instant: datetime, *, latest: bool = False) -> Opening | None:
        """The opening that holds an instant; of several, the one that ends first or last."""
        if not self._by_weekday:
            return None
        # Local days are at most one off the UTC day, and an opening may run into the next.
        day = instant.date()
        holding = [
            opening
            for days in (-2, -1, 0, 1)
            for opening in self.openings_on(day + days * _DAY)
            if opening[0] <= instant <= opening[1]
        ]
        if not holding:
            return None
        return max(holding, key=_end) if latest else min(holding, key=_end)

    def _read(self, local_day: date) -> tuple[Opening, ...]:
        if local_day in self._closed_on:
            return ()
        merged: list[Opening] = []
        read = [self._opening(local_day, s) for s in self._by_weekday.get(local_day.weekday(), ())]
        for opens, closes in sorted(read):
            if closes <= opens:
                continue  # swallowed by the spring change
            if merged and opens <= merged[-1][1]:
                merged[-1] = (merged[-1][0], max(merged[-1][1], closes))
            else:
                merged.append((opens, closes))
        return tuple(merged)

    def _opening(self, local_day: date, span: OpenSpan) -> Opening:
        closing_day = local_day if span.closes > span.opens else local_day + _DAY
        return (
            self._instant(local_day, span.opens, fold=0),
            self._instant(closing_day, span.closes, fold=1),
        )

    def _instant(self, local_day: date, wall: time, *, fold: int) -> datetime:
        local = datetime.combine(local_day, wall, tzinfo=self.zone)
        # An imaginary time is resolved with fold 0, else its offset would be the new one.
        if not tz.datetime_exists(local):
            return tz.resolve_imaginary(local).astimezone(UTC)
        return local.replace(fold=fold).astimezone(UTC).replace(fold=0)


def _end(opening: Opening) -> datetime:
    return opening[1]
