"""Wall times, places and sentences in the words a person at the bench would use."""

from __future__ import annotations

from datetime import date, datetime, timedelta, tzinfo

_WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")
_MONTHS = (
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
)
_ORDINALS = ("", "First", "Second", "Third", "Fourth", "Fifth", "Sixth", "Seventh", "Eighth")
_WEEKDAY_IS_ENOUGH = timedelta(days=6)
"""A weekday alone is read as the nearest one, so it stands alone only this near."""
_YEAR_IS_SAID = timedelta(days=300)
"""A date without its year is read as the nearest one too; well before that is in doubt."""


def wall_time(instant: datetime, zone: tzinfo, near: datetime) -> str:
    """An instant on the shop's wall: ``Monday 08:00``, with its date if far from ``near``."""
    local = instant.astimezone(zone)
    # Not strftime: it asks the zone again, and this is the commonest text of all.
    return f"{_day(local, instant, near)} {local.hour:02}:{local.minute:02}"


def at_the_wall(instant: datetime, now: datetime, zone: tzinfo) -> str:
    """The same in short, for a list: ``14:30`` today, ``Mon 08:00``, ``Wed 3 Jun 08:00``."""
    local = instant.astimezone(zone)
    clock = f"{local.hour:02}:{local.minute:02}"
    if local.date() == now.astimezone(zone).date():
        return clock
    return f"{_day(local, instant, now, letters=3)} {clock}"


def local_day_name(instant: datetime, zone: tzinfo, near: datetime) -> str:
    """The local day of an instant: ``Sunday``, with its date if far from ``near``."""
    return _day(instant.astimezone(zone), instant, near)


def _day(local: datetime, instant: datetime, near: datetime, letters: int | None = None) -> str:
    """The weekday, with the date and the year where another could be meant."""
    day = _WEEKDAYS[local.weekday()][:letters]
    distance = abs(instant - near)
    if distance < _WEEKDAY_IS_ENOUGH:
        return day
    year = f" {local.year}" if distance >= _YEAR_IS_SAID else ""
    return f"{day} {local.day} {_MONTHS[local.month - 1][:letters]}{year}"


def day_and_month(day: date, near: date) -> str:
    """A local day in short: ``6 Dec``, with its year where another could be meant."""
    year = f" {day.year}" if abs(day - near) >= _YEAR_IS_SAID else ""
    return f"{day.day} {_MONTHS[day.month - 1][:3]}{year}"


def days_words(first: date, last: date, near: date) -> str:
    """Local days from first to last: ``24 Dec to 1 Jan``, or ``3 May`` for one."""
    words = day_and_month(first, near)
    return words if first == last else f"{words} to {day_and_month(last, near)}"


def ordinal(place: int) -> str:
    """``First`` for 1, in words as far as eight, then ``9th`` and so on."""
    if 0 < place < len(_ORDINALS):
        return _ORDINALS[place]
    ending = "th" if 10 < place % 100 < 14 else {1: "st", 2: "nd", 3: "rd"}.get(place % 10, "th")
    return f"{place}{ending}"


def sentences(*parts: str) -> str:
    """The parts that say something, one after another, each with a capital and a full stop."""
    said = (part.strip() for part in parts)
    return " ".join(
        f"{part[0].upper()}{part[1:]}{'' if part[-1] in '.!?:' else '.'}" for part in said if part
    )
