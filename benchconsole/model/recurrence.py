"""Recurrence rules of RFC 5545 (section 3.3.10) for whole days: read and checked, not expanded.

Only the parts that name days are known. How often in a day something happens (``HOURLY`` and
below, ``BYHOUR`` and below) is no business of a rule here: clock times stand beside it.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from typing import Any, Literal, NewType

from benchconsole.model.record import Record

Rule = NewType("Rule", str)
"""The text of a rule without ``RRULE:``, as :func:`read_rule` takes it."""

Frequency = Literal["DAILY", "WEEKLY", "MONTHLY", "YEARLY"]

WEEKDAYS = ("MO", "TU", "WE", "TH", "FR", "SA", "SU")
RULE_LONGEST = 160
"""Characters in the longest rule."""
FIRST_YEAR, LAST_YEAR = 1970, 2199
"""The years in which a rule may begin or end."""
MOST_INTERVAL, MOST_COUNT = 1000, 9999

_FREQUENCIES: dict[str, Frequency] = {
    "DAILY": "DAILY",
    "WEEKLY": "WEEKLY",
    "MONTHLY": "MONTHLY",
    "YEARLY": "YEARLY",
}
_FINER = ("SECONDLY", "MINUTELY", "HOURLY")
_CLOCK_PARTS = ("BYSECOND", "BYMINUTE", "BYHOUR")
_DAY = re.compile(r"([+-]?[0-9]{1,2})?(MO|TU|WE|TH|FR|SA|SU)")


class Recurrence(Record, frozen=True, kw_only=True):
    """A rule that was read.

    ``by_day`` holds (which, weekday): weekday 0 is Monday, ``which`` 0 every one, 2 the second,
    -1 the last. ``until`` is the last day it may fall on. ``week_start`` is a weekday too.
    """

    freq: Frequency
    interval: int = 1
    count: int | None = None
    until: date | None = None
    by_month: tuple[int, ...] = ()
    by_week: tuple[int, ...] = ()
    by_year_day: tuple[int, ...] = ()
    by_month_day: tuple[int, ...] = ()
    by_day: tuple[tuple[int, int], ...] = ()
    by_position: tuple[int, ...] = ()
    week_start: int = 0

    @property
    def names_days(self) -> bool:
        """Whether the rule itself says which days of its week, month or year it means."""
        return self.freq == "DAILY" or bool(
            self.by_day or self.by_month_day or self.by_year_day or self.by_week
        )

    @property
    def needs_start(self) -> bool:
        """Whether its days depend on the day it begins."""
        counted = self.interval > 1 or self.count is not None
        return counted or not self.names_days or bool(self.by_week and not self.by_day)


def read_rule(text: str) -> Recurrence:
    """A rule as RFC 5545 writes it; ``ValueError`` with the fault in words if it cannot be used.

    Refused are also the combinations that the RFC forbids, such as a numbered ``BYDAY`` in a
    weekly rule, and rules finer than a day.
    """
    if len(text) > RULE_LONGEST:
        raise ValueError(f"is longer than {RULE_LONGEST} characters")
    given: dict[str, str] = {}
    for part in text.split(";"):
        name, equals, value = part.partition("=")
        if not equals or not value:
            raise ValueError(f"has a part “{part[:20]}” that is not NAME=value")
        if name in given:
            raise ValueError(f"says {name[:20]} twice")
        given[name] = value
    freq = given.pop("FREQ", "")
    if freq in _FINER:
        raise ValueError(f"comes {freq}, and nothing here comes oftener than daily")
    if freq not in _FREQUENCIES:
        raise ValueError(f"needs FREQ as one of {', '.join(_FREQUENCIES)}")
    read: dict[str, Any] = {}
    for name, value in given.items():
        if name in _CLOCK_PARTS:
            raise ValueError(f"says {name}, but clock times are typed beside the rule")
        if name not in _PARTS:
            raise ValueError(f"says “{name[:20]}”, which is not known here")
        attribute, reader = _PARTS[name]
        read[attribute] = reader(name, value)
    rule = Recurrence(freq=_FREQUENCIES[freq], **read)
    _check(rule)
    return rule


def _check(rule: Recurrence) -> None:
    """``ValueError`` for what RFC 5545 does not let stand together."""
    freq = rule.freq
    forbidden = (
        (rule.count is not None and rule.until is not None, "has both COUNT and UNTIL"),
        (bool(rule.by_week) and freq != "YEARLY", f"has BYWEEKNO, which {freq} cannot have"),
        (
            bool(rule.by_year_day) and freq != "YEARLY",
            f"has BYYEARDAY, which {freq} cannot have",
        ),
        (
            bool(rule.by_month_day) and freq == "WEEKLY",
            "has BYMONTHDAY, which WEEKLY cannot have",
        ),
        (
            any(which for which, _ in rule.by_day)
            and (freq not in ("MONTHLY", "YEARLY") or bool(rule.by_week)),
            "numbers a weekday where there is no month or year to count in",
        ),
        (
            bool(rule.by_position) and not (rule.names_days and (rule.by_day or freq != "DAILY")),
            "has BYSETPOS without days to choose from",
        ),
    )
    for wrong, fault in forbidden:
        if wrong:
            raise ValueError(fault)


def _number(least: int, most: int) -> Callable[[str, str], int]:
    def read(name: str, value: str) -> int:
        if not re.fullmatch("[0-9]{1,6}", value) or not least <= int(value) <= most:
            raise ValueError(f"needs {name} from {least} to {most}")
        return int(value)

    return read


def _numbers(most: int, *, signed: bool = True) -> Callable[[str, str], tuple[int, ...]]:
    def read(name: str, value: str) -> tuple[int, ...]:
        pieces = value.split(",")
        for piece in pieces:
            sign = "[+-]?" if signed else ""
            if not re.fullmatch(f"{sign}[0-9]{{1,3}}", piece) or not 1 <= abs(int(piece)) <= most:
                counted = f"1 to {most}" + (f" or -{most} to -1" if signed else "")
                raise ValueError(f"needs {name} from {counted}")
        return tuple(sorted({int(piece) for piece in pieces}))

    return read


def _days(name: str, value: str) -> tuple[tuple[int, int], ...]:
    days = set()
    for piece in value.split(","):
        match = _DAY.fullmatch(piece)
        which = int(match[1] or 0) if match else 0
        if match is None or (match[1] is not None and not 1 <= abs(which) <= 53):
            raise ValueError(f"needs {name} as days such as MO or 1MO, not “{piece[:10]}”")
        days.add((which, WEEKDAYS.index(match[2])))
    return tuple(sorted(days))


def _weekday(name: str, value: str) -> int:
    if value not in WEEKDAYS:
        raise ValueError(f"needs {name} as one of {', '.join(WEEKDAYS)}")
    return WEEKDAYS.index(value)


def _until(name: str, value: str) -> date:
    if re.fullmatch("[0-9]{8}", value):
        year, month, day = int(value[:4]), int(value[4:6]), int(value[6:])
        try:
            if FIRST_YEAR <= year <= LAST_YEAR:
                return date(year, month, day)
        except ValueError:
            pass
    raise ValueError(f"needs {name} as a day such as 20301224")


_PARTS: dict[str, tuple[str, Callable[[str, str], Any]]] = {
    "INTERVAL": ("interval", _number(1, MOST_INTERVAL)),
    "COUNT": ("count", _number(1, MOST_COUNT)),
    "UNTIL": ("until", _until),
    "BYMONTH": ("by_month", _numbers(12, signed=False)),
    "BYWEEKNO": ("by_week", _numbers(53)),
    "BYYEARDAY": ("by_year_day", _numbers(366)),
    "BYMONTHDAY": ("by_month_day", _numbers(31)),
    "BYDAY": ("by_day", _days),
    "BYSETPOS": ("by_position", _numbers(366)),
    "WKST": ("week_start", _weekday),
}
