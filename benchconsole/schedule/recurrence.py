"""The days that a recurrence rule falls on, worked out a year at a time and kept.

A day falls under a rule if it lies in one of the rule's periods (every second week, every year)
and passes all its ``BY`` parts, as the table of RFC 5545, section 3.3.10, combines them for days.
Each question looks at the periods of one year, so no rule, however seldom it matches, is walked
without an end. Only ``COUNT`` is counted from the beginning, a year at a time.
"""

from __future__ import annotations

from calendar import isleap, monthrange
from collections.abc import Iterable, Iterator
from datetime import date, timedelta

from benchconsole.model.recurrence import FIRST_YEAR, LAST_YEAR, Recurrence

_DAY = timedelta(days=1)
_SOME_MONDAY = date(1970, 1, 5)


class RuleDays:
    """The days of one rule from ``starts`` on; ``day in days`` is quick.

    ``starts`` None is for rules whose days do not depend on it (``Recurrence.needs_start``);
    they have no first day. Outside the years of rules there are none.
    """

    def __init__(self, rule: Recurrence, starts: date | None = None) -> None:
        self._rule = rule
        self._starts = starts
        self._from = starts or _SOME_MONDAY
        self._years: dict[int, frozenset[date]] = {}
        self._counted: dict[int, int] = {}

    def __contains__(self, day: date) -> bool:
        """Whether the rule falls on a local day."""
        return day in self.in_year(day.year)

    def in_year(self, year: int) -> frozenset[date]:
        """The rule's days in one year."""
        known = self._years.get(year)
        if known is None:
            known = self._years[year] = frozenset(self._allowed(year))
        return known

    def _allowed(self, year: int) -> Iterable[date]:
        """What is left of the year's days by the beginning, ``UNTIL`` and ``COUNT``."""
        rule = self._rule
        if not FIRST_YEAR <= year <= LAST_YEAR or (self._starts and year < self._starts.year):
            return ()
        if rule.until is not None and year > rule.until.year:
            return ()
        if rule.count is None:
            return self._matching(year)
        # Years before are counted in order: this goes no deeper than one call.
        for before in range(self._from.year, year):
            self._count(before)
        used = self._counted.get(year - 1, 0)
        return self._matching(year)[: max(0, rule.count - used)]

    def _count(self, year: int) -> None:
        """Note how many days there were up to a year's end."""
        if year not in self._counted:
            used = self._counted.get(year - 1, 0)
            full = self._rule.count is not None and used >= self._rule.count
            self._counted[year] = used + (0 if full else len(self._matching(year)))

    def _matching(self, year: int) -> list[date]:
        first, last = date(year, 1, 1), date(year, 12, 31)
        if self._starts is not None:
            first = max(first, self._starts)
        if self._rule.until is not None:
            last = min(last, self._rule.until)
        return [day for period in self._periods(year) for day in period if first <= day <= last]

    def _periods(self, year: int) -> Iterator[list[date]]:
        """The chosen days of each of the rule's periods that touch a year, in order."""
        rule, start = self._rule, self._from
        if rule.freq == "YEARLY":
            if (year - start.year) % rule.interval == 0:
                yield self._chosen(date(year, 1, 1), 366 if isleap(year) else 365)
        elif rule.freq == "MONTHLY":
            for month in range(1, 13):
                if ((year - start.year) * 12 + month - start.month) % rule.interval == 0:
                    yield self._chosen(date(year, month, 1), monthrange(year, month)[1])
        else:
            length = 7 if rule.freq == "WEEKLY" else 1
            first = date(year, 1, 1)
            if length == 7:
                start, first = self._week_of(start), self._week_of(first)
            step = rule.interval * length
            ahead = -(first - start).days % step
            for day in range(first.toordinal() + ahead, date(year, 12, 31).toordinal() + 1, step):
                yield self._chosen(date.fromordinal(day), length)

    def _week_of(self, day: date) -> date:
        return day - _DAY * ((day.weekday() - self._rule.week_start) % 7)

    def _chosen(self, first: date, length: int) -> list[date]:
        """The matching days of a period, and of those the ones ``BYSETPOS`` names."""
        begin = first.toordinal()
        days = [
            day for day in map(date.fromordinal, range(begin, begin + length)) if self._matches(day)
        ]
        places = self._rule.by_position
        if not places:
            return days
        count = len(days)
        return [days[n] for n in range(count) if n + 1 in places or n - count in places]

    def _matches(self, day: date) -> bool:
        """Whether a day passes every ``BY`` part, and what the beginning says for missing ones."""
        rule = self._rule
        if rule.by_month and day.month not in rule.by_month:
            return False
        if rule.by_month_day and not _one_of(day.day, _month_length(day), rule.by_month_day):
            return False
        if rule.by_year_day:
            length = 366 if isleap(day.year) else 365
            if not _one_of(day.timetuple().tm_yday, length, rule.by_year_day):
                return False
        if rule.by_week and not self._in_weeks(day):
            return False
        if rule.by_day and not any(self._is_weekday(day, *wanted) for wanted in rule.by_day):
            return False
        return self._as_the_beginning(day)

    def _as_the_beginning(self, day: date) -> bool:
        """RFC 5545: what a rule leaves open is as on the day it begins."""
        rule, start = self._rule, self._from
        if rule.by_week and not rule.by_day:
            return day.weekday() == start.weekday()
        if rule.names_days:
            return True
        if rule.freq == "WEEKLY":
            return day.weekday() == start.weekday()
        if rule.freq == "YEARLY" and not rule.by_month and day.month != start.month:
            return False
        return day.day == start.day

    def _is_weekday(self, day: date, which: int, weekday: int) -> bool:
        if day.weekday() != weekday:
            return False
        if which == 0:
            return True
        if self._rule.freq == "YEARLY" and not self._rule.by_month:
            place, length = day.timetuple().tm_yday, 366 if isleap(day.year) else 365
        else:
            place, length = day.day, _month_length(day)
        return which == ((place - 1) // 7 + 1 if which > 0 else -((length - place) // 7) - 1)

    def _in_weeks(self, day: date) -> bool:
        """Whether the week of the year a day lies in is one of ``BYWEEKNO``.

        The first week of a year is the first with four days or more in it.
        """
        week = self._week_of(day)
        year = (week + 3 * _DAY).year
        first, following = (self._week_of(date(y, 1, 4)) for y in (year, year + 1))
        place, length = (week - first).days // 7 + 1, (following - first).days // 7
        return _one_of(place, length, self._rule.by_week)


def _one_of(place: int, length: int, wanted: tuple[int, ...]) -> bool:
    """Whether a place, counted from 1 or from the end as -1, is wanted."""
    return place in wanted or place - length - 1 in wanted


def _month_length(day: date) -> int:
    return monthrange(day.year, day.month)[1]
