"""Words and marks for states and times, the same on every screen."""

from __future__ import annotations

from datetime import datetime, timedelta

from benchconsole.exchange.marks import STATE_MARKS as MARKS
from benchconsole.exchange.marks import STATE_WORDS as WORDS
from benchconsole.quantities import format_duration
from benchconsole.schedule.wording import at_the_wall

__all__ = ["MARKS", "WORDS", "at_the_wall", "relative"]


def relative(instant: datetime, now: datetime, *, short: bool = False) -> str:
    """How far an instant lies ahead or behind: "in 2 h 10 min", "35 min ago", "now".

    ``short`` keeps the larger unit only: "in 2 h".
    """
    gap = instant - now
    if abs(gap) < timedelta(minutes=1):
        return "now"
    unit = timedelta(minutes=1)
    if short:
        unit = next((u for u in _UNITS if abs(gap) >= u), unit)
    # A span is never announced as longer than it is: the rest of a unit is left out.
    words = format_duration(abs(gap) // unit * unit)
    return f"in {words}" if gap > timedelta(0) else f"{words} ago"


_UNITS = (timedelta(days=1), timedelta(hours=1), timedelta(minutes=1))
