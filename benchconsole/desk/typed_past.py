"""Moments that are past, as people type them: "14:10", "yesterday 9:30", "20 min earlier"."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, time, timedelta, tzinfo

from dateutil import tz

from benchconsole.desk.typed_days import DAY, in_years, read_named, read_weekday
from benchconsole.desk.typed_times import plain_words, read_clock
from benchconsole.errors import BadInput
from benchconsole.quantities import read_duration

EXAMPLE = "14:10, yesterday 9:30, 3 May 14:10 or 20 min earlier"

_CLOCK = r"[0-9]{1,2}[:.][0-9]{2}(?:am|pm)?|[0-9]{1,2}(?:am|pm)"
_AT = re.compile(rf"(?:(?P<day>{DAY}|[a-z]{{2,9}}\.?),? )?(?:at )?(?P<clock>{_CLOCK})")
_SHIFT = re.compile(r"(?P<span>[^-+]+) (?P<word>earlier|before|sooner|later|after|ago)")
_SOONER = ("earlier", "before", "sooner")
_DAY = timedelta(days=1)


def read_past(text: str, *, was: datetime, now: datetime, zone: tzinfo) -> tuple[datetime, ...]:
    """The moment a person means by a time of day, a day with it, or a shift; aware, UTC.

    ``was`` is the time to be corrected: an hour alone is on its day, "20 min earlier" before it.
    A day without a year, and a weekday, is the last one that is not in the future. Two moments
    where the clock shows the time twice, in their order. Raises ``BadInput``.
    """
    words = plain_words(text).removeprefix("at ")
    if match := _SHIFT.fullmatch(words):
        span = read_duration(match["span"], field="time")
        if match["word"] == "ago":
            return (now - span,)
        return (was - span if match["word"] in _SOONER else was + span,)
    match = _AT.fullmatch(words)
    if match is None:
        fault = f"“{text.strip()[:40]}” names no time of day" if words else "it is empty"
        raise BadInput("time", fault, EXAMPLE)
    try:
        clock = read_clock(match["clock"]) or time(0)
        if match["clock"].startswith("24"):
            raise ValueError("is the 0:00 of the day after")
        return _moments(match["day"], clock, was.astimezone(zone).date(), now, zone)
    except ValueError as fault:
        raise BadInput("time", f"“{text.strip()[:40]}” {fault}", EXAMPLE) from fault


def _moments(
    named: str | None, clock: time, day_of_it: date, now: datetime, zone: tzinfo
) -> tuple[datetime, ...]:
    today = now.astimezone(zone).date()
    if named is None:
        return _on(day_of_it, clock, zone)
    if named in ("today", "yesterday"):
        return _on(today - _DAY * (named == "yesterday"), clock, zone)
    if named.rstrip(".").isalpha():
        back = (today.weekday() - read_weekday(named)) % 7
        of_day = _on(today - back * _DAY, clock, zone)
        return of_day if of_day[0] <= now else _on(today - (back + 7) * _DAY, clock, zone)
    return _on(_dated(named, clock, now, zone), clock, zone)


def _dated(named: str, clock: time, now: datetime, zone: tzinfo) -> date:
    """The day of a date; without a year, of the last year in which it is not in the future."""
    day, _ = read_named(named)
    if day.year is not None:
        return in_years(day, day, date(day.year, 1, 1))[0]
    year = now.astimezone(zone).year
    for past in range(year, year - 9, -1):
        try:
            found = date(past, day.month, day.day)
        except ValueError:
            # A 29 February, or a day that no calendar has.
            continue
        if _on(found, clock, zone)[0] <= now:
            return in_years(day._replace(year=past), day._replace(year=past), found)[0]
    raise ValueError("names a day that no calendar has")


def _on(day: date, clock: time, zone: tzinfo) -> tuple[datetime, ...]:
    """A time of day on a day; one that the clock skips is as much later, one shown twice is two."""
    try:
        local = datetime.combine(day, clock, tzinfo=zone)
        if not tz.datetime_exists(local):
            return (tz.resolve_imaginary(local).astimezone(UTC),)
        both = {local.replace(fold=fold).astimezone(UTC).replace(fold=0) for fold in (0, 1)}
    except (OverflowError, ValueError) as fault:
        raise ValueError("lies too far back") from fault
    return tuple(sorted(both))
