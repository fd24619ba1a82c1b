"""The drying forecast of one hide as plain text and as a JSON document.

Its JSON Schema stands in ``shared/schemas/``. Moistures are shares of the whole weight, weights
grams, times RFC 3339 with the shop's offset; null where nothing can be told.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, tzinfo
from typing import Any

from benchconsole.exchange.instants import stamp
from benchconsole.exchange.wrapping import wrapped
from benchconsole.schedule.drying import (
    BandPoint,
    DryingForecast,
    Look,
    Span,
    WindowForecast,
    forecast_words,
)
from benchconsole.schedule.wording import at_the_wall

DRYING = "benchconsole.drying/1"
WIDTH = 78


def drying_text(title: str, forecast: DryingForecast, looks: Sequence[Look], zone: tzinfo) -> str:
    """The forecast to read: ``title`` says whose it is."""
    now = forecast.made_at
    told = [*wrapped(title, WIDTH), ""]
    for words in forecast_words(forecast, zone, now):
        told += wrapped(words, WIDTH, rest="  ")
    if looks:
        told += ["", "Look at it:"]
        told += [f"  {at_the_wall(look.at, now, zone):<16}  {look.why}" for look in looks]
    if forecast.weighings:
        told += ["", "Weighings that count:"]
        told += [
            f"  {at_the_wall(each.at, now, zone):<16}  {each.mass_g:.6g} g, about "
            f"{100 * each.moisture:.0f} % moist"
            for each in forecast.weighings
        ]
    return "\n".join(told) + "\n"


def drying_document(
    hide: str, stage: str, forecast: DryingForecast, looks: Sequence[Look], zone: tzinfo
) -> dict[str, Any]:
    """The forecast as plain values; ``hide`` and ``stage`` are ids."""
    return {
        "schema": DRYING,
        "now": stamp(forecast.made_at, zone),
        "hide": hide,
        "stage": stage,
        "dries_to": forecast.dries_to,
        "begun": stamp(forecast.starts_at, zone),
        "cover": forecast.cover,
        "rests_on": forecast.rests_on,
        "unknown": forecast.unknown or None,
        "notes": list(forecast.notes),
        "moisture_now": None if forecast.now is None else _moisture(forecast.now),
        "windows": [_window(window, zone) for window in forecast.windows],
        "looks": [{"at": stamp(look.at, zone), "why": look.why} for look in looks],
        "weighings": [
            {
                "at": stamp(each.at, zone),
                "mass_g": each.mass_g,
                "moisture": _share(each.moisture),
            }
            for each in forecast.weighings
        ],
        "curve": [{"at": stamp(p.at, zone), **_moisture(p)} for p in forecast.band],
    }


def _window(window: WindowForecast, zone: tzinfo) -> dict[str, Any]:
    return {
        "id": window.id,
        "name": window.name,
        "below": window.upper,
        "above": window.lower,
        "opens": _span(window.opens, zone),
        "closes": _span(window.closes, zone),
        "unknown": window.unknown or None,
    }


def _span(span: Span, zone: tzinfo) -> dict[str, str | None]:
    return {
        name: _stamped(at, zone)
        for name, at in (("low", span.low), ("mid", span.mid), ("high", span.high))
    }


def _stamped(at: datetime | None, zone: tzinfo) -> str | None:
    return None if at is None else stamp(at, zone)


def _moisture(point: BandPoint) -> dict[str, float]:
    return {"low": _share(point.low), "mid": _share(point.mid), "high": _share(point.high)}


def _share(moisture: float) -> float:
    return round(moisture, 4)
