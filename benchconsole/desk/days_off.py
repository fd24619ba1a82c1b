"""Closed days, extra openings and time away, each as one line, both ways."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import UTC, date, datetime, time, timedelta, tzinfo

from dateutil import tz

from benchconsole.desk.opening_hours import DAYS, pieces
from benchconsole.desk.typed_days import DAY, day_text, read_span, span_text
from benchconsole.desk.typed_rules import Again, again_text, is_again, read_again
from benchconsole.desk.typed_times import (
    Times,
    plain_words,
    read_clock,
    read_times,
    split_times,
    times_text,
)
from benchconsole.errors import BadInput
from benchconsole.model.opening import DatedOpening, DayRule, DaySpan, TimeSpan

CLOSED_EXAMPLE = "24 Dec - 1 Jan, 3 May, every first Monday"
EXTRA_EXAMPLE = "6 Dec 9-12"
AWAY_EXAMPLE = "3-6 Dec"

MOST_DAYS_OPEN = 31
"""The longest run of days that one extra opening is typed for."""

_DAY = timedelta(days=1)
_CLOCK = r"[0-9]{1,2}[:.][0-9]{2}(?:am|pm)?|[0-9]{1,2}(?:am|pm)"
_FROM_TO = re.compile(
    rf"({DAY})(?: ({_CLOCK}))?(?: ?- ?| to | until )(?:({DAY})(?: ({_CLOCK}))?|({_CLOCK}))"
)
_AT = re.compile(rf"({DAY})(?: at)?,? ({_CLOCK}|[0-9]{{1,2}})")
_INSTANT = r"[0-9]{4}-[0-9]{2}-[0-9]{2}t[0-9:.]+z"
_INSTANTS = re.compile(rf"({_INSTANT})(?: ?- ?| to | until )({_INSTANT})")

Closures = tuple[tuple[DaySpan, ...], tuple[DayRule, ...]]
Absences = tuple[tuple[DaySpan, ...], tuple[TimeSpan, ...]]


def closed_text(closed: Iterable[DaySpan], by_rule: Iterable[DayRule]) -> str:
    """Closed days as a person writes them: by date first, then what comes again."""
    said = [span_text(span.first, span.last) for span in closed]
    said += [again_text(Again(rule.rule, rule.starts, rule.days)) for rule in by_rule]
    return ", ".join(said)


def read_closed(text: str, today: date) -> Closures:
    """Closed days a person typed, in order, each once; raises ``BadInput`` with the part at fault.

    A day without a year is the next that is not yet over. "every 24 Dec - 1 Jan", "every first
    Monday", "last Monday of May" and ``RRULE:...`` come again.
    """
    spans: set[DaySpan] = set()
    rules: dict[DayRule, None] = {}
    for chunk in pieces(re.sub("(?i)^ *closed *:", "", text)):
        words = plain_words(chunk)
        try:
            if is_again(words):
                for rule, starts, days in read_again(words, today):
                    rules[DayRule(rule=rule, starts=starts, days=days)] = None
            else:
                spans.add(_days(words, today))
        except ValueError as fault:
            raise BadInput("closed", f"“{chunk[:40]}” {fault}", CLOSED_EXAMPLE) from fault
    return _in_order(spans), tuple(rules)


def extra_text(extra: Iterable[DatedOpening]) -> str:
    """Extra openings as a person writes them: ``Sun 6 Dec 2026 9-12``."""
    by_day: dict[date, list[Times]] = {}
    for opening in extra:
        by_day.setdefault(opening.day, []).append((opening.opens, opening.closes))
    return ", ".join(
        f"{DAYS[day.weekday()]} {day_text(day)} {times_text(times)}"
        for day, times in by_day.items()
    )


def read_extra(text: str, today: date) -> tuple[DatedOpening, ...]:
    """Extra openings a person typed, in order, each once; ``BadInput`` with the part at fault.

    After a comma times alone belong to the day before; several days on end open alike.
    """
    openings: set[DatedOpening] = set()
    days: DaySpan | None = None
    for chunk in pieces(re.sub("(?i)^ *extra *:", "", text)):
        try:
            named, times = split_times(plain_words(chunk))
            if is_again(named):
                raise ValueError("comes again: type it with the open hours")
            days = _days(named, today) if named else days
            if days is None:
                raise ValueError("names no day")
            if (days.last - days.first).days >= MOST_DAYS_OPEN:
                raise ValueError(f"opens more than {MOST_DAYS_OPEN} days on end")
            for opens, closes in read_times(times):
                for ahead in range((days.last - days.first).days + 1):
                    day = days.first + ahead * _DAY
                    openings.add(DatedOpening(day=day, opens=opens, closes=closes))
        except ValueError as fault:
            raise BadInput("extra", f"“{chunk[:40]}” {fault}", EXTRA_EXAMPLE) from fault
    return tuple(sorted(openings, key=lambda one: (one.day, one.opens, one.closes)))


def away_text(away: Iterable[DaySpan], times: Iterable[TimeSpan], zone: tzinfo) -> str:
    """Time away as a person writes it, clock times as on the walls of the shop."""
    said = [span_text(span.first, span.last) for span in away]
    return ", ".join([*said, *(_times_text(span, zone) for span in times)])


def read_away(text: str, today: date, zone: tzinfo) -> Absences:
    """Time away a person typed, in order, each once; raises ``BadInput`` with the part at fault.

    "3-6 Dec" are whole days, "3 Dec 14:00 - 6 Dec 9:00" is from one moment to another.
    """
    spans: set[DaySpan] = set()
    moments: set[TimeSpan] = set()
    for chunk in pieces(re.sub("(?i)^ *away *:", "", text)):
        words = plain_words(chunk)
        try:
            if is_again(words):
                raise ValueError("comes again: type it with the closed days")
            found = _moments(words, today, zone)
            if found is None:
                spans.add(_days(words, today))
            else:
                moments.add(found)
        except ValueError as fault:
            raise BadInput("away", f"“{chunk[:40]}” {fault}", AWAY_EXAMPLE) from fault
    return _in_order(spans), tuple(sorted(moments, key=lambda one: (one.start, one.end)))


def read_moment(text: str, today: date, zone: tzinfo) -> datetime:
    """A moment a person typed, such as "7 Dec 9:00"; aware, UTC. ``ValueError`` with the fault."""
    match = _AT.fullmatch(plain_words(text))
    if match is None:
        raise ValueError("names no moment such as 7 Dec 9:00")
    first, last = read_span(match[1], today)
    if first != last:
        raise ValueError("names more than one day")
    return _moment(first, match[2], zone)


def _in_order(spans: Iterable[DaySpan]) -> tuple[DaySpan, ...]:
    return tuple(sorted(spans, key=lambda span: (span.first, span.last)))


def _days(words: str, today: date) -> DaySpan:
    first, last = read_span(words, today)
    return DaySpan(first=first, last=last)


def _moments(words: str, today: date, zone: tzinfo) -> TimeSpan | None:
    """From one moment to another; None for whole days."""
    if match := _INSTANTS.fullmatch(words):
        start, end = (_instant(word) for word in match.groups())
        if not start < end:
            raise ValueError("ends before it begins")
        return TimeSpan(start=start, end=end)
    found = _FROM_TO.fullmatch(words)
    if found is None or not (found[2] or found[4] or found[5]):
        return None
    last_day = found[3] or found[1]
    first, last = read_span(f"{found[1]} - {last_day}", today)
    start = _moment(first, found[2] or "0:00", zone)
    end = _moment(last, found[4] or found[5] or "24:00", zone)
    if not start < end:
        raise ValueError("ends before it begins")
    return TimeSpan(start=start, end=end)


def _instant(word: str) -> datetime:
    try:
        return datetime.fromisoformat(word.upper())
    except ValueError as fault:
        raise ValueError("holds a moment that no calendar has") from fault


def _moment(day: date, clock: str, zone: tzinfo) -> datetime:
    wall = read_clock(clock)
    local = datetime.combine(day if wall else day + _DAY, wall or time(0), tzinfo=zone)
    return tz.resolve_imaginary(local).astimezone(UTC)


def _times_text(span: TimeSpan, zone: tzinfo) -> str:
    start, end = (instant.astimezone(zone) for instant in (span.start, span.end))
    words = " - ".join(f"{day_text(at.date())} {at.hour}:{at.minute:02}" for at in (start, end))
    # Seconds, and the second pass of an hour that comes twice, are only told by the instant.
    if span == _moments(words.lower(), start.date(), zone):
        return words
    return " - ".join(
        f"{at.astimezone(UTC):%Y-%m-%dT%H:%M:%S.%f}Z" for at in (span.start, span.end)
    )
