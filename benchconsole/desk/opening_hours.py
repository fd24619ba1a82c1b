"""Open hours as one line, both ways: "Mon-Fri 8-12 13-17, Sat 9-13"."""

from __future__ import annotations

import re
from datetime import time

from benchconsole.errors import BadInput
from benchconsole.model.shop import OpenSpan

DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
EXAMPLE = "Mon-Fri 8-12, 13-17, Sat 9-13"

_NAMES = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_DASHES = str.maketrans("–—−‐‑", "-----")
_DAILY = ("daily", "every day", "always")
_CLOCK = r"([0-9]{1,2})(?:[:.]([0-9]{2}))?(am|pm)?"
_SPAN = re.compile(rf"(?<![0-9:.]){_CLOCK}-{_CLOCK}(?![0-9:.])")
_MINUTES = 24 * 60


def hours_text(hours: tuple[OpenSpan, ...]) -> str:
    """Open hours as a person writes them; neighbouring days with the same hours are one group."""
    by_day: dict[int, list[str]] = {}
    for span in hours:
        by_day.setdefault(span.weekday, []).append(
            f"{_clock(span.opens)}-{_clock(span.closes, end=True)}"
        )
    groups: list[tuple[int, int, str]] = []
    for day in sorted(by_day):
        words = " ".join(by_day[day])
        if groups and groups[-1][1] == day - 1 and groups[-1][2] == words:
            groups[-1] = (groups[-1][0], day, words)
        else:
            groups.append((day, day, words))
    return ", ".join(
        f"{DAYS[first]}{'' if first == last else f'-{DAYS[last]}'} {words}"
        for first, last, words in groups
    )


def _clock(at: time, *, end: bool = False) -> str:
    hour = 24 if end and at == time(0) else at.hour
    return f"{hour}:{at.minute:02}" if at.minute else f"{hour}"


def read_hours(text: str) -> tuple[OpenSpan, ...]:
    """Open hours a person typed, sorted, each opening once.

    Days are names or their beginnings ("Mon", "tuesday"), one or from-to, or "daily"; times
    are hours or hours and minutes, also with am and pm; after a comma times alone belong to the
    days before. Raises ``BadInput`` with the part
    that cannot be read.
    """
    spans: set[OpenSpan] = set()
    days: list[int] = []
    for chunk in filter(None, (piece.strip() for piece in re.split("[,;]", text))):
        named, times = _parts(chunk)
        # "Mon-Fri 8-12, 13-17": times without a day go on with the days before.
        days = named or days
        if not days:
            raise _refused(chunk, "names no day")
        found = list(_SPAN.finditer(times))
        if not found or _SPAN.sub("", times).strip(" &"):
            raise _refused(chunk, "gives no times")
        spans.update(_span(day, match, chunk) for day in days for match in found)
    if not spans:
        raise BadInput("hours", "the shop is never open", EXAMPLE)
    return tuple(sorted(spans, key=lambda span: (span.weekday, span.opens, span.closes)))


def _parts(chunk: str) -> tuple[list[int], str]:
    """The days of a group, none if it names none, and its times without the blanks within one."""
    plain = " ".join(chunk.translate(_DASHES).lower().split())
    plain = re.sub(r" ?- ?", "-", plain)
    plain = re.sub(r"(?<=[0-9]) (?=[ap]m)", "", plain)
    cut = re.search(r"(?<![a-z])[0-9]", plain)
    days, times = (plain[: cut.start()], plain[cut.start() :]) if cut else (plain, "")
    days = days.strip(" :")
    if not days:
        return [], times
    if days in _DAILY:
        return list(range(7)), times
    first, dash, last = days.partition("-")
    start = _day(first, chunk)
    end = _day(last, chunk) if dash else start
    return [day % 7 for day in range(start, end + 1 if end >= start else end + 8)], times


def _day(word: str, chunk: str) -> int:
    short = word.rstrip(". ")
    for day, name in enumerate(_NAMES):
        if len(short) >= 2 and name.startswith(short):
            return day
    raise _refused(chunk, "names no day")


def _span(day: int, match: re.Match[str], chunk: str) -> OpenSpan:
    opens = _minutes(match[1], match[2], match[3], chunk)
    closes = _minutes(match[4], match[5], match[6], chunk)
    if not opens < closes <= _MINUTES:
        raise _refused(chunk, "does not open before it closes")
    return OpenSpan(
        weekday=day,
        opens=time(opens // 60, opens % 60),
        closes=time(closes // 60 % 24, closes % 60),
    )


def _minutes(hour: str, minute: str | None, half: str | None, chunk: str) -> int:
    hours, minutes = int(hour), int(minute or 0)
    if minutes > 59 or hours > 24 or (half and not 1 <= hours <= 12):
        raise _refused(chunk, "holds a time that no clock shows")
    if half:
        hours = hours % 12 + (12 if half == "pm" else 0)
    return hours * 60 + minutes


def _refused(chunk: str, fault: str) -> BadInput:
    return BadInput("hours", f"“{chunk[:40]}” {fault}", EXAMPLE)
