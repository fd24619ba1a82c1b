"""The shop's open hours: wall-clock openings turned into instants, whatever the clocks do."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, date, datetime, timedelta, tzinfo

from benchconsole.model.opening import OpenSpan
from benchconsole.model.shop import Shop
from benchconsole.schedule.open_days import OpenDays, Opening, merged
from benchconsole.schedule.wording import day_and_month, days_words

__all__ = ["SEARCH_DAYS", "Hours", "Opening"]

SEARCH_DAYS = 400
"""How far the next or last opening is looked for; a shop shut longer counts as never open."""

ROOM_DAYS = 60
"""How far an opening long enough for a piece of work is looked for."""

_DAY = timedelta(days=1)


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
        """Weekly openings alone; :meth:`of` knows everything that a shop may say."""
        self._go_by(Shop(hours=tuple(spans), closed_on=tuple(closed_on)), zone)

    @classmethod
    def of(cls, shop: Shop, zone: tzinfo) -> Hours:
        """The hours that the shop's settings say."""
        hours = cls.__new__(cls)
        hours._go_by(shop, zone)
        return hours

    def _go_by(self, shop: Shop, zone: tzinfo) -> None:
        self.zone = zone
        self._days = OpenDays(shop, zone)
        self._until: dict[datetime, datetime] = {}

    @property
    def ever_open(self) -> bool:
        """Whether the shop has said any opening at all."""
        return self._days.ever_open

    def local(self, instant: datetime) -> datetime:
        """The instant on the shop's wall clock."""
        return instant.astimezone(self.zone)

    def openings_on(self, local_day: date) -> tuple[Opening, ...]:
        """The openings that begin on a local day, merged, in order, as instants in UTC."""
        return self._days.openings_on(local_day)

    def between(self, start: datetime, end: datetime) -> tuple[Opening, ...]:
        """The open time from one instant to another, in order; touching openings are one.

        Cut off at both instants, which are aware; empty if ``end`` is not after ``start``.
        """
        start, end = start.astimezone(UTC), end.astimezone(UTC)
        if end <= start:
            return ()
        first = start.date() - 2 * _DAY
        days = (first + _DAY * ahead for ahead in range((end.date() - first).days + 2))
        openings = merged(opening for day in days for opening in self.openings_on(day))
        return tuple(
            (max(opens, start), min(closes, end))
            for opens, closes in openings
            if opens < end and closes > start
        )

    def is_open(self, instant: datetime) -> bool:
        """Whether the shop is open then; the moments of opening and closing count."""
        return self._opening_at(instant) is not None

    def next_open(self, instant: datetime) -> datetime | None:
        """The first open moment at or after an instant (itself if open).

        None if there is none within ``SEARCH_DAYS``.
        """
        if not self.ever_open:
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
        if not self.ever_open:
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

        None if there is none up to ``limit`` or within ``ROOM_DAYS`` of the first opening.
        """
        at = self.next_open(instant)
        last = (instant if at is None else at) + ROOM_DAYS * _DAY
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

        None if there is none from ``floor`` on, or within ``ROOM_DAYS`` of the last opening.
        """
        at = self.last_open_before(instant)
        first = max(floor, (instant if at is None else at) - ROOM_DAYS * _DAY)
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
        known = self._until.get(opening[1])
        if known is None:
            known = self._until[opening[1]] = self._followed(opening[1])
        return known

    def next_gap(self, instant: datetime) -> Opening | None:
        """The closed time that an instant lies in, or the next one after it.

        From the last open moment (the instant itself, if the shop is closed then) to the next
        opening. None if the shop is never closed, or does not open again within
        ``SEARCH_DAYS``.
        """
        shut = self.open_until(instant) or instant
        opens = self.next_open(shut + timedelta.resolution)
        return None if opens is None or opens <= shut + timedelta.resolution else (shut, opens)

    def why_closed(self, instant: datetime, near: datetime | None = None) -> str:
        """Why the shop is closed then, in words; empty if it is open.

        ``closed Sunday``, ``closed 24 Dec to 1 Jan``, ``you are away until Sunday 6 Dec`` or
        ``outside hours``. Dates far from ``near`` (the instant, if not given) carry their year.
        """
        if self.is_open(instant):
            return ""
        if not self.ever_open:
            return "the shop has no open hours"
        near = instant if near is None else near
        day = self.local(instant).date()
        if away := self.away_words(instant, near):
            return away
        if self._days.says_open(day):
            return "outside hours"
        closed = self._days.closed_on(day)
        if closed is None:
            return f"closed {day:%A}"
        return f"closed {days_words(*closed, self.local(near).date())}"

    def away_words(self, instant: datetime, near: datetime) -> str:
        """``you are away until Sunday 6 Dec`` if the person is away then, else empty."""
        away = self._days.away_at(instant)
        if away is None:
            return ""
        back, shown = self.local(away[1]), self.local(near).date()
        # Back at midnight is away to the end of the day before.
        last = self.local(away[1] - timedelta.resolution).date()
        clock = "" if last != back.date() else f" {back:%H:%M}"
        return f"you are away until {last:%A} {day_and_month(last, shown)}{clock}"

    def closed_words(self, instant: datetime, near: datetime) -> str:
        """``closed 24 Dec to 1 Jan`` if several days about an instant are said to be closed."""
        day = self.local(instant).date()
        closed = self._days.closed_on(day)
        if closed is None or closed[0] == closed[1] or self._days.says_open(day):
            return ""
        return f"closed {days_words(*closed, self.local(near).date())}"

    def _followed(self, closes: datetime) -> datetime:
        """The end of the openings that follow a closing without a gap."""
        for _ in range(SEARCH_DAYS):
            later = self._opening_at(closes, latest=True)
            if later is None or later[1] <= closes:
                break
            closes = later[1]
        return closes

    def _closings(self, local_day: date, instant: datetime) -> list[datetime]:
        return [closes for _, closes in self.openings_on(local_day) if closes <= instant]

    def _opening_at(self, instant: datetime, *, latest: bool = False) -> Opening | None:
        """The opening that holds an instant; of several, the one that ends first or last."""
        if not self.ever_open:
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


def _end(opening: Opening) -> datetime:
    return opening[1]
