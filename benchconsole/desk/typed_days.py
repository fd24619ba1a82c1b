"""Days and runs of days as people type them: "3 May", "24 Dec - 1 Jan", "2026-12-24"."""

from __future__ import annotations

import re
from datetime import date
from typing import NamedTuple

from benchconsole.model.recurrence import FIRST_YEAR, LAST_YEAR

WEEKDAY_NAMES = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
MONTH_NAMES = (
    *("january", "february", "march", "april", "may", "june"),
    *("july", "august", "september", "october", "november", "december"),
)
DAY = (
    r"(?:(?:[a-z]{2,9}\.? )?[0-9]{1,2}(?:st|nd|rd|th|\.)? (?:of )?[a-z]{3,9}\.?(?: [0-9]{4})?"
    r"|(?:[a-z]{2,9}\.? )?[a-z]{3,9}\.? [0-9]{1,2}(?:st|nd|rd|th)?(?: [0-9]{4})?"
    r"|(?:[a-z]{2,9}\.? )?[0-9]{4}-[0-9]{2}-[0-9]{2})"
)
"""A day in small letters, as a pattern without groups."""

_ISO = re.compile(r"(?:([a-z]+)\.? )?([0-9]{4})-([0-9]{2})-([0-9]{2})")
_DAY_MONTH = re.compile(
    r"(?:([a-z]+)\.? )?([0-9]{1,2})(?:st|nd|rd|th|\.)? (?:of )?([a-z]+)\.?(?: ([0-9]{4}))?"
)
_MONTH_DAY = re.compile(
    r"(?:([a-z]+)\.? )?([a-z]+)\.? ([0-9]{1,2})(?:st|nd|rd|th)?(?: ([0-9]{4}))?"
)
_TO = r"(?: ?- ?| to | until )"
_RUN = re.compile(rf"({DAY}){_TO}({DAY})")
_SHORT_RUNS = (
    # "3-6 Dec 2026" and "Dec 3-6 2026": the month is said once.
    re.compile(rf"(?P<first>[0-9]{{1,2}})\.?{_TO}(?P<last>[0-9]{{1,2}})\.? (?P<month>[a-z]{{3,9}})"
               r"\.?(?P<year> [0-9]{4})?"),
    re.compile(rf"(?P<month>[a-z]{{3,9}})\.? (?P<first>[0-9]{{1,2}}){_TO}(?P<last>[0-9]{{1,2}})"
               r"(?P<year> [0-9]{4})?"),
)  # fmt: skip
_YEARS_AHEAD = 9
"""A 29 February without a year is never further off."""

_LONGEST_OVER_NEW_YEAR = 183
"""Longer runs over the year's end are a slip ("6-3 Dec") unless the first year is said."""


class Named(NamedTuple):
    """A day as it was named: the year and the weekday only where they were said."""

    month: int
    day: int
    year: int | None
    weekday: int | None

    @property
    def in_year(self) -> tuple[int, int]:
        """Where in a year it lies, to compare."""
        return self.month, self.day


def day_text(day: date) -> str:
    """``6 Dec 2026``."""
    return f"{day.day} {month_text(day.month)} {day.year}"


def month_text(month: int) -> str:
    """``Dec`` for 12."""
    return MONTH_NAMES[month - 1][:3].capitalize()


def span_text(first: date, last: date) -> str:
    """``3-6 Dec 2026``, ``28 Nov - 3 Dec 2026``, ``24 Dec 2026 - 1 Jan 2027``, ``3 May 2026``."""
    if first == last:
        return day_text(first)
    if first.year != last.year:
        return f"{day_text(first)} - {day_text(last)}"
    if first.month != last.month:
        return f"{first.day} {month_text(first.month)} - {day_text(last)}"
    return f"{first.day}-{day_text(last)}"


def read_span(words: str, today: date) -> tuple[date, date]:
    """Days from one to another, or one day; of days without a year the next not yet over.

    ``words`` are in small letters with single blanks. Raises ``ValueError`` with the fault.
    """
    first, last = read_named(words)
    return in_years(first, last, today)


def read_named(words: str) -> tuple[Named, Named]:
    """The two ends of some days as they were named, the same twice for a single day."""
    for short in _SHORT_RUNS:
        if match := short.fullmatch(words):
            tail = f"{match['month']}{match['year'] or ''}"
            return _named(f"{match['first']} {tail}"), _named(f"{match['last']} {tail}")
    if match := _RUN.fullmatch(words):
        return _named(match[1]), _named(match[2])
    one = _named(words)
    return one, one


def in_years(first: Named, last: Named, today: date) -> tuple[date, date]:
    """The days meant by two named ones; ``ValueError`` if there are none."""
    if first.year is None and last.year is None:
        for year in range(today.year, today.year + _YEARS_AHEAD):
            ends = _ends(first, last, year)
            if ends is not None and ends[1] >= today:
                break
        else:
            ends = None
    elif last.year is None:
        later = 0 if first.in_year <= last.in_year else 1
        ends = _ends(first, last, (first.year or 0) + later)
    else:
        ends = _ends(first, last, last.year)
    if ends is None:
        raise ValueError("names a day that no calendar has")
    for named, day in zip((first, last), ends, strict=True):
        if named.weekday is not None and named.weekday != day.weekday():
            raise ValueError(f"does not fit: {day_text(day)} is a {day:%A}")
    turned = first.year is None and first.in_year > last.in_year
    if ends[1] < ends[0] or (turned and (ends[1] - ends[0]).days > _LONGEST_OVER_NEW_YEAR):
        raise ValueError("ends before it begins")
    return ends


def _ends(first: Named, last: Named, last_year: int) -> tuple[date, date] | None:
    """Both days where the last lies in a year, the first in its own or next before."""
    first_year = first.year
    if first_year is None:
        first_year = last_year if first.in_year <= last.in_year else last_year - 1
    if not (FIRST_YEAR <= first_year <= LAST_YEAR and FIRST_YEAR <= last_year <= LAST_YEAR):
        raise ValueError(f"names a year that is not from {FIRST_YEAR} to {LAST_YEAR}")
    try:
        return date(first_year, *first.in_year), date(last_year, *last.in_year)
    except ValueError:
        return None


def _named(words: str) -> Named:
    if match := _ISO.fullmatch(words):
        weekday, year, month, day = match[1], match[2], int(match[3]), int(match[4])
    elif match := _DAY_MONTH.fullmatch(words):
        weekday, year, month, day = match[1], match[4], read_month(match[3]), int(match[2])
    elif match := _MONTH_DAY.fullmatch(words):
        weekday, year, month, day = match[1], match[4], read_month(match[2]), int(match[3])
    else:
        raise ValueError("names no day such as 24 Dec or 2026-12-24")
    named = None if weekday is None else read_weekday(weekday)
    return Named(month, day, None if year is None else int(year), named)


def read_weekday(word: str) -> int:
    """0 for "mon" or "Monday"; two letters are enough. ``ValueError`` if it is none."""
    return _of(WEEKDAY_NAMES, word, 2, "names no day")


def read_month(word: str) -> int:
    """12 for "dec" or "december"; ``ValueError`` if it is none."""
    return _of(MONTH_NAMES, word, 3, f"names no month: “{word[:12]}”") + 1


def _of(names: tuple[str, ...], word: str, letters: int, fault: str) -> int:
    short = word.rstrip(". ").lower()
    for place, name in enumerate(names):
        if len(short) >= letters and name.startswith(short):
            return place
    raise ValueError(fault)
