"""Clock times of openings as people type them: "8-12 13:15-17", "8am-5 pm"."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import time

Times = tuple[time, time]
"""Opening and closing on the wall; a closing of 00:00 is midnight at the end of the day."""

_CLOCK = r"([0-9]{1,2})(?:[:.]([0-9]{2}))?(am|pm)?"
_SPAN = rf"(?<![0-9:.]){_CLOCK}-{_CLOCK}(?![0-9:.])"
_SPANS = re.compile(_SPAN)
_WORD = r"[0-9]{1,2}(?:[:.][0-9]{2})?(?:am|pm)?-[0-9][0-9:.apm-]*"
_AT_THE_END = re.compile(rf"(?:^|(?<=[ :])){_WORD}(?: {_WORD})*$")
_DASHES = str.maketrans("–—−‐‑", "-----")
_MINUTES = 24 * 60


def plain_words(text: str) -> str:
    """The text in small letters with single blanks, one kind of dash, "8 am" as "8am"."""
    words = " ".join(text.translate(_DASHES).lower().replace("&", " ").split())
    return re.sub(r"(?<=[0-9]) (?=[ap]m\b)", "", words)


def split_times(words: str) -> tuple[str, str]:
    """What stands before the times of an opening, and the times; both may be empty."""
    close = re.sub(r"(?<=[0-9m]) ?- ?(?=[0-9])", "-", words)
    found = _AT_THE_END.search(close)
    if found is None:
        return close, ""
    return close[: found.start()].strip(" :"), found[0].strip()


def read_times(words: str) -> tuple[Times, ...]:
    """The openings of a day; ``ValueError`` with the fault in words."""
    found = list(_SPANS.finditer(words))
    if not found or _SPANS.sub("", words).strip():
        raise ValueError("gives no times")
    return tuple(_times(match) for match in found)


def times_text(times: Iterable[Times]) -> str:
    """The openings of a day as a person writes them."""
    return " ".join(
        f"{clock_text(opens)}-{clock_text(closes, end=True)}" for opens, closes in times
    )


def clock_text(at: time, *, end: bool = False) -> str:
    """A clock time in short; midnight at the end of a day is 24."""
    hour = 24 if end and at == time(0) else at.hour
    return f"{hour}:{at.minute:02}" if at.minute else f"{hour}"


def _times(match: re.Match[str]) -> Times:
    opens = _minutes(match[1], match[2], match[3])
    closes = _minutes(match[4], match[5], match[6])
    if not opens < closes <= _MINUTES:
        raise ValueError("does not open before it closes")
    return time(opens // 60, opens % 60), time(closes // 60 % 24, closes % 60)


def read_clock(text: str) -> time | None:
    """A time of day such as ``14:00`` or ``2pm``; 24:00 is None. ``ValueError`` if it is none."""
    match = re.fullmatch(_CLOCK, text)
    if match is None:
        raise ValueError("holds a time that no clock shows")
    minutes = _minutes(match[1], match[2], match[3])
    if minutes > _MINUTES:
        raise ValueError("holds a time that no clock shows")
    return None if minutes == _MINUTES else time(minutes // 60, minutes % 60)


def _minutes(hour: str, minute: str | None, half: str | None) -> int:
    hours, minutes = int(hour), int(minute or 0)
    if minutes > 59 or hours > 24 or (half and not 1 <= hours <= 12):
        raise ValueError("holds a time that no clock shows")
    if half:
        hours = hours % 12 + (12 if half == "pm" else 0)
    return hours * 60 + minutes
