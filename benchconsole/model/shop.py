"""The shop's own settings: measures, scale, open hours, zone."""

from __future__ import annotations

from datetime import date, time
from typing import Literal

import msgspec

from benchconsole.model.record import Record
from benchconsole.quantities import Measures

ScaleUnit = Literal["g", "kg", "oz", "lb oz"]
"""What a scale's display counts in."""


class Scale(Record, frozen=True, kw_only=True):
    """A scale: its step (readability) and capacity in grams, and the unit of its display."""

    name: str = "bench scale"
    step_g: float = 1.0
    capacity_g: float = 5000.0
    shows: ScaleUnit = "g"


class OpenSpan(Record, frozen=True, kw_only=True):
    """One opening of a weekday (0 = Monday), wall-clock times in the shop's zone."""

    weekday: int
    opens: time
    closes: time


def _weekdays() -> tuple[OpenSpan, ...]:
    return tuple(OpenSpan(weekday=day, opens=time(8), closes=time(18)) for day in range(7))


class Shop(Record, frozen=True, kw_only=True):
    """What the person has said about the shop.

    ``closes`` of an opening at 00:00 means midnight at the end of that day. ``zone`` is the
    IANA name, empty for the computer's own. ``jug_l`` is what a full jug holds, ``tub_l`` what the
    largest tub holds to the rim (None: not said). ``hands`` are the pairs of hands at work, 1 to 9.
    ``vessels`` says how many there are of a kind, by the word routes use (``{"tub": 3}``); a kind
    that is not in it is not limited.
    """

    name: str = "My shop"
    measures: Measures = "us"
    scale: Scale = Scale()
    jug_l: float | None = None
    tub_l: float | None = None
    water_celsius: float = 15.0
    hours: tuple[OpenSpan, ...] = _weekdays()
    closed_on: tuple[date, ...] = ()
    zone: str = ""
    hands: int = 1
    vessels: dict[str, int] = msgspec.field(default_factory=dict)
    bell: bool = True
