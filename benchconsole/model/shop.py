"""The shop's own settings: measures, scale, open hours, zone."""

from __future__ import annotations

from datetime import date, time
from typing import Literal

import msgspec

from benchconsole.model.drying import Climate
from benchconsole.model.opening import (
    DatedOpening,
    DayRule,
    DaySpan,
    OpenRule,
    OpenSpan,
    TimeSpan,
)
from benchconsole.model.record import Record
from benchconsole.quantities import Measures

__all__ = ["OpenSpan", "Scale", "ScaleUnit", "Shop"]

ScaleUnit = Literal["g", "kg", "oz", "lb oz"]
"""What a scale's display counts in."""


class Scale(Record, frozen=True, kw_only=True):
    """A scale: its step (readability) and capacity in grams, and the unit of its display."""

    name: str = "bench scale"
    step_g: float = 1.0
    capacity_g: float = 5000.0
    shows: ScaleUnit = "g"


def _weekdays() -> tuple[OpenSpan, ...]:
    return tuple(OpenSpan(weekday=day, opens=time(8), closes=time(18)) for day in range(7))


class Shop(Record, frozen=True, kw_only=True):
    """What the person has said about the shop.

    The shop is open by its weekly ``hours`` and by ``hours_by_rule``, but not on days that are
    ``closed``, ``closed_by_rule`` or ``closed_on``; ``extra`` openings stand on those too. While
    the person is away, for local days (``away``) or from instant to instant (``away_times``),
    nothing is open. ``closes`` of an opening at 00:00 means midnight at the end of that day.
    ``zone`` is the IANA name, empty for the computer's own. ``jug_l`` is what a full jug holds,
    ``tub_l`` what the largest tub holds to the rim (None: not said). ``hands`` are the pairs of
    hands at work, 1 to 9. ``vessels`` says how many there are of a kind, by the word routes use
    (``{"tub": 3}``); a kind that is not in it is not limited.
    """

    name: str = "My shop"
    measures: Measures = "us"
    scale: Scale = Scale()
    jug_l: float | None = None
    tub_l: float | None = None
    water_celsius: float = 15.0
    hours: tuple[OpenSpan, ...] = _weekdays()
    hours_by_rule: tuple[OpenRule, ...] = ()
    closed_on: tuple[date, ...] = ()
    """Single closed days as older histories have them; what is typed now goes to ``closed``."""
    closed: tuple[DaySpan, ...] = ()
    closed_by_rule: tuple[DayRule, ...] = ()
    extra: tuple[DatedOpening, ...] = ()
    away: tuple[DaySpan, ...] = ()
    away_times: tuple[TimeSpan, ...] = ()
    zone: str = ""
    hands: int = 1
    vessels: dict[str, int] = msgspec.field(default_factory=dict)
    bell: bool = True
    climate: Climate | None = None
    """The air where hides dry; None: not said."""
