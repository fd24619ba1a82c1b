"""When to look at a drying hide, and what window a plan may reckon with."""

from __future__ import annotations

from datetime import datetime, timedelta

from benchconsole.model.record import Record
from benchconsole.schedule.drying.forecast import DryingForecast, WindowForecast
from benchconsole.schedule.hours import Hours

CLOSE_BY = timedelta(minutes=30)
"""Looks nearer than this are one look. Our own choice."""
BEFORE_CLOSING = 0.8
"""The last look comes when so much of the window is over. Our own choice."""
TOO_WIDE = 1.0
"""A guess whose doubt spans more than so many of the route's own windows is no help to a plan."""


class Look(Record, frozen=True, kw_only=True):
    """A look at a hide at an instant, and what for, in words."""

    at: datetime
    why: str


def looks(forecast: DryingForecast, hours: Hours, now: datetime) -> tuple[Look, ...]:
    """When to look: from when it may be so, when it should be, amid the window, before it ends.

    Each within open hours: at the next opening while the window still lasts, else at the last open
    moment before. None of them lies before ``now``; a look due at a time gone by is due now.
    Empty where nothing is known or the window is over.
    """
    window = forecast.target
    if window is None or window.unknown or window.opens.mid is None:
        return ()
    ends = window.closes.mid
    if ends is not None and ends <= now:
        return ()
    found: list[Look] = []
    for ideal, why in _wanted(window):
        at = _in_open_time(max(ideal, now), ends, hours, now)
        if at is not None and all(abs(at - other.at) >= CLOSE_BY for other in found):
            found.append(Look(at=at, why=why))
    return tuple(sorted(found, key=lambda look: look.at))


def _wanted(window: WindowForecast) -> list[tuple[datetime, str]]:
    opens, closes = window.opens, window.closes
    assert opens.mid is not None
    wanted = [(opens.mid, "it should be so by now")]
    if closes.mid is not None:
        length = closes.mid - opens.mid
        wanted.append((opens.mid + length / 2, "the middle of the window"))
        wanted.append((opens.mid + length * BEFORE_CLOSING, "before it is over"))
    if opens.low is not None:
        wanted.append((opens.low, "it may be so already"))
    return wanted


def _in_open_time(
    ideal: datetime, ends: datetime | None, hours: Hours, now: datetime
) -> datetime | None:
    opening = hours.next_open(ideal)
    if opening is not None and (ends is None or opening < ends):
        return opening
    before = hours.last_open_before(ideal)
    return before if before is not None and before >= now else None


def dry_window(forecast: DryingForecast) -> tuple[datetime, datetime, datetime] | None:
    """Earliest, due and latest for the look that ends the stage, never outside the route's hold.

    Damp: from when it may be so, due amid the window, at the latest at its likely end. Soft: from
    its beginning, due when it has been worked dry enough, at the latest when the route says. Dry:
    due when it should be so. None where nothing is known, where the hold has no limits, or where
    the guess is wider than the hold itself: then the route knows better.
    """
    window, first, last = forecast.target, forecast.hold_earliest, forecast.hold_latest
    if window is None or window.unknown or first is None or last is None:
        return None
    opens, closes = window.opens, window.closes
    if opens.low is None or opens.mid is None:
        return None
    if opens.high is None or opens.high - opens.low > TOO_WIDE * (last - first):
        return None
    due, latest = opens.mid, last
    if closes.mid is not None and window.id == "damp":
        due, latest = opens.mid + (closes.mid - opens.mid) / 2, closes.mid
    elif closes.mid is not None:
        due = closes.mid
    earliest = _within(opens.low, first, last)
    latest = _within(latest, earliest, last)
    return earliest, _within(due, earliest, latest), latest


def _within(instant: datetime, first: datetime, last: datetime) -> datetime:
    return min(max(instant, first), last)
