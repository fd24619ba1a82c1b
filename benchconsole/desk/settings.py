"""The shop's settings at the desk: typed, checked whole, stored whole."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import time

import msgspec
from dateutil import tz

from benchconsole.desk.hides import NAME_LONGEST, checked_line
from benchconsole.desk.ledger import Ledger
from benchconsole.errors import BadInput
from benchconsole.model.events import ShopSet
from benchconsole.model.shop import OpenSpan, Scale, ScaleUnit, Shop
from benchconsole.quantities import (
    Measures,
    format_mass,
    format_number,
    format_temperature,
    format_volume,
    read_mass,
    read_temperature,
    read_volume,
)

DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
SHOWS: dict[str, ScaleUnit] = {"g": "g", "kg": "kg", "oz": "oz", "lb oz": "lb oz"}
MEASURES: dict[str, Measures] = {"us": "us", "imperial": "imperial", "metric": "metric"}
_SPAN = re.compile(r"(\d{1,2})(?::(\d\d))?\s*[-–]\s*(\d{1,2})(?::(\d\d))?")


class Settings:
    """The part of the desk that knows the shop itself."""

    def __init__(self, ledger: Ledger) -> None:
        self._ledger = ledger

    def texts(self) -> dict[str, str]:
        """The settings as a person would type them, by field."""
        shop = self._ledger.shop
        metric: Measures = "metric"
        return {
            "name": shop.name,
            "measures": shop.measures,
            "scale step": f"{format_number(shop.scale.step_g, 6)} g",
            "scale capacity": format_mass(shop.scale.capacity_g, measures=metric, step_g=1.0),
            "scale shows": shop.scale.shows,
            "jug": "" if shop.jug_l is None else format_volume(shop.jug_l, measures=shop.measures),
            "water": format_temperature(shop.water_celsius, measures=metric),
            "hours": hours_text(shop.hours),
            "zone": shop.zone,
        }

    def set(self, texts: Mapping[str, str]) -> Shop:
        """Store the settings a person typed; fields left out stay as they are.

        Raises ``BadInput`` naming the field; nothing is stored then.
        """
        given = {**self.texts(), **texts}
        measures = MEASURES.get(given["measures"].strip().lower())
        if measures is None:
            raise BadInput("measures", "say us, imperial or metric", "us")
        shows = SHOWS.get(given["scale shows"].strip().lower())
        if shows is None:
            raise BadInput("scale shows", "say g, kg, oz or lb oz", "g")
        step = read_mass(given["scale step"], field="scale step", measures=measures)
        most = read_mass(given["scale capacity"], field="scale capacity", measures=measures)
        if most < 10 * step:
            raise BadInput("scale capacity", "less than ten steps of the scale", "5 kg")
        jug, zone = given["jug"].strip(), given["zone"].strip()
        if zone and tz.gettz(zone) is None:
            raise BadInput("zone", f"“{zone[:40]}” is not a time zone", "Europe/Lisbon")
        water = read_temperature(given["water"], field="water")
        if not 0.0 <= water <= 100.0:
            raise BadInput("water", "liquid water lies between 0 and 100 °C", "15 °C")
        shop = msgspec.structs.replace(
            self._ledger.shop,
            name=checked_line("name", given["name"], NAME_LONGEST, "My shop"),
            measures=measures,
            scale=Scale(
                step_g=step,
                capacity_g=most,
                shows=shows,
            ),
            jug_l=read_volume(jug, field="jug", measures=measures) if jug else None,
            water_celsius=water,
            hours=read_hours(given["hours"]),
            zone=zone,
        )
        self._ledger.record([ShopSet(shop=shop)])
        return shop


def hours_text(hours: tuple[OpenSpan, ...]) -> str:
    """Open hours as one line: "Mon-Fri 8-17, Sat 9-13"."""
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
    """Open hours a person typed; ``BadInput`` with the part that cannot be read."""
    spans: list[OpenSpan] = []
    example = "Mon-Fri 8-17, Sat 9-13"
    for chunk in filter(None, (piece.strip() for piece in text.split(","))):
        days, _, rest = chunk.partition(" ")
        first, _, last = days.partition("-")
        names = [name.lower() for name in DAYS]
        if first[:3].lower() not in names or (last and last[:3].lower() not in names):
            raise BadInput("hours", f"“{chunk[:40]}” names no day", example)
        start = names.index(first[:3].lower())
        end = names.index(last[:3].lower()) if last else start
        found = list(_SPAN.finditer(rest))
        if not found or _SPAN.sub("", rest).strip(" ,;&"):
            raise BadInput("hours", f"“{chunk[:40]}” gives no times", example)
        for day in range(start, end + 1 if end >= start else end + 8):
            spans += [_span(day % 7, match, chunk, example) for match in found]
    if not spans:
        raise BadInput("hours", "the shop is never open", example)
    return tuple(sorted(spans, key=lambda span: (span.weekday, span.opens)))


def _span(day: int, match: re.Match[str], chunk: str, example: str) -> OpenSpan:
    from_hour, from_minute, to_hour, to_minute = (int(group or 0) for group in match.groups())
    opens, closes = from_hour * 60 + from_minute, to_hour * 60 + to_minute
    if from_minute > 59 or to_minute > 59 or not 0 <= opens < closes <= 24 * 60:
        raise BadInput("hours", f"“{chunk[:40]}” does not open before it closes", example)
    return OpenSpan(
        weekday=day,
        opens=time(from_hour, from_minute),
        closes=time(to_hour % 24, to_minute),
    )
