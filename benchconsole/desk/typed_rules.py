"""What comes again and again, as people type it: "every first Monday", or a rule of RFC 5545."""

from __future__ import annotations

import contextlib
import re
from datetime import date, timedelta
from typing import NamedTuple

from benchconsole.desk.typed_days import (
    DAY,
    WEEKDAY_NAMES,
    Named,
    day_text,
    month_text,
    read_month,
    read_named,
    read_span,
    read_weekday,
)
from benchconsole.model.recurrence import WEEKDAYS, Rule, read_rule

MOST_DAYS = 100
"""The longest closure that a rule repeats."""

_DAY = timedelta(1)
_LEAP_DAY = date(2028, 2, 29)
"""In a year that has every day there is."""
_WHICH = {"first": 1, "second": 2, "third": 3, "fourth": 4, "last": -1}
_SHORT_WHICH = {"1st": "first", "2nd": "second", "3rd": "third", "4th": "fourth"}
_RULE = re.compile(rf"rrule:([^ ]+)(?: for ([0-9]{{1,3}}) days?)?(?: from ({DAY}))?")
_OTHER = re.compile(rf"(?:every )?other ([a-z]+)(?: from ({DAY}))?")
_NUMBERED = re.compile(
    r"(every )?(first|second|third|fourth|last|1st|2nd|3rd|4th) ([a-z]+)"
    r"(?: (?:of|in) (?:(the month|every month|each month)|([a-z]+)))?"
)
_BEGINS = re.compile(r"rrule:|every |other |(?:first|second|third|fourth|last) ")
_COUNTED = re.compile(r"[1-4](?:st|nd|rd|th) ([a-z]+)")


class Again(NamedTuple):
    """A rule, the day it starts on where that matters, and how many days it takes each time."""

    rule: Rule
    starts: date | None = None
    days: int = 1


def is_again(words: str) -> bool:
    """Whether words in small letters speak of something that comes again."""
    if match := _COUNTED.match(words):
        # "1st Monday", but not "1st May".
        return any(name.startswith(match[1]) for name in WEEKDAY_NAMES)
    return _BEGINS.match(words) is not None


def read_again(words: str, today: date) -> tuple[Again, ...]:
    """What words in small letters mean; yearly days over the end of a February are several.

    Raises ``ValueError`` with the fault in words.
    """
    if match := _RULE.fullmatch(words):
        return (_by_rule(match, today),)
    if words.startswith("rrule:"):
        raise ValueError("says more than a rule, “for 3 days” or “from 24 Dec 2030”")
    if match := _OTHER.fullmatch(words):
        weekday = read_weekday(match[1])
        starts = today if match[2] is None else read_span(match[2], today)[0]
        starts += _DAY * ((weekday - starts.weekday()) % 7)
        return (Again(Rule(f"FREQ=WEEKLY;INTERVAL=2;BYDAY={WEEKDAYS[weekday]}"), starts),)
    if match := _NUMBERED.fullmatch(words):
        return (_numbered(match),)
    rest = words.removeprefix("every ")
    if re.fullmatch("[a-z]+", rest):
        return (Again(Rule(f"FREQ=WEEKLY;BYDAY={WEEKDAYS[read_weekday(rest)]}")),)
    return _yearly(*read_named(rest))


def again_text(again: Again) -> str:
    """What comes again in words where there are some, else as a rule."""
    for words in (_yearly_words(again), _weekday_words(again)):
        # Words that are too long for a leap year are refused where they are read.
        with contextlib.suppress(ValueError):
            if words and (again,) == read_again(words.lower(), date.min):
                return words
    return rule_text(again)


def rule_text(again: Again) -> str:
    """What comes again as ``RRULE:FREQ=YEARLY;BYMONTH=12 for 3 days from 24 Dec 2030``."""
    length = "" if again.days == 1 else f" for {again.days} days"
    begin = "" if again.starts is None else f" from {day_text(again.starts)}"
    return f"RRULE:{again.rule}{length}{begin}"


def _by_rule(match: re.Match[str], today: date) -> Again:
    text = match[1].upper()
    rule = read_rule(text)
    starts = None if match[3] is None else read_span(match[3], today)[0]
    if starts is None and rule.needs_start:
        starts = today
    days = int(match[2] or 1)
    if not 1 <= days <= MOST_DAYS:
        raise ValueError(f"takes other than 1 to {MOST_DAYS} days")
    return Again(Rule(text), starts, days)


def _numbered(match: re.Match[str]) -> Again:
    name = _SHORT_WHICH.get(match[2], match[2])
    day = f"{_WHICH[name]}{WEEKDAYS[read_weekday(match[3])]}"
    if match[5] is not None:
        return Again(Rule(f"FREQ=YEARLY;BYMONTH={read_month(match[5])};BYDAY={day}"))
    if match[4] is None and name not in ("first", "last"):
        weekday = WEEKDAY_NAMES[read_weekday(match[3])].capitalize()
        raise ValueError(
            f"may mean two things: write “{name} {weekday} of the month” or “every other {weekday}”"
        )
    return Again(Rule(f"FREQ=MONTHLY;BYDAY={day}"))


def _yearly(first: Named, last: Named) -> tuple[Again, ...]:
    """Days of every year. Over the end of February they are told apart, since it moves."""
    if first.year is not None or last.year is not None:
        raise ValueError("comes every year and yet names one")
    if first.weekday is not None or last.weekday is not None:
        raise ValueError("falls on another weekday every year")
    end = _day_of(_LEAP_DAY.year, last)
    begin = _day_of(_LEAP_DAY.year - (0 if first.in_year <= last.in_year else 1), first)
    if (end - begin).days >= MOST_DAYS:
        raise ValueError(f"takes more than {MOST_DAYS} days")
    if begin == end or not begin <= _LEAP_DAY <= end:
        return (_from(begin, end),)
    parts = ((begin, _LEAP_DAY - _DAY), (_LEAP_DAY, _LEAP_DAY), (_LEAP_DAY + _DAY, end))
    return tuple(_from(*part) for part in parts if part[0] <= part[1])


def _day_of(year: int, named: Named) -> date:
    try:
        return date(year, *named.in_year)
    except ValueError as fault:
        raise ValueError("names a day that no calendar has") from fault


def _from(first: date, last: date) -> Again:
    rule = Rule(f"FREQ=YEARLY;BYMONTH={first.month};BYMONTHDAY={first.day}")
    return Again(rule, None, (last - first).days + 1)


def _yearly_words(again: Again) -> str:
    match = re.fullmatch("FREQ=YEARLY;BYMONTH=([0-9]+);BYMONTHDAY=([0-9]+)", again.rule)
    if match is None or int(match[2]) > 31:
        return ""
    try:
        first = date(_LEAP_DAY.year, int(match[1]), int(match[2]))
    except ValueError:
        return ""
    last = first + _DAY * (again.days - 1)
    words = f"every {first.day} {month_text(first.month)}"
    return words if last == first else f"{words} - {last.day} {month_text(last.month)}"


def _weekday_words(again: Again) -> str:
    names = {number: name for name, number in _WHICH.items()}
    match = re.fullmatch(
        "FREQ=(?:WEEKLY(;INTERVAL=2)?|MONTHLY|YEARLY;BYMONTH=([0-9]+));BYDAY=(-?[0-9])?([A-Z]{2})",
        again.rule,
    )
    if match is None:
        return ""
    weekday = WEEKDAY_NAMES[WEEKDAYS.index(match[4])].capitalize()
    if match[1]:
        return f"every other {weekday} from {day_text(again.starts)}" if again.starts else ""
    which = names.get(int(match[3] or 0), "")
    if match[2]:
        month = month_text(int(match[2]))
        return f"{which} {weekday} of {month}" if which else ""
    if not which:
        return f"every {weekday}"
    return f"every {which} {weekday}" + ("" if which in ("first", "last") else " of the month")
