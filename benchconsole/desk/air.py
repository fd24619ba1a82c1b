"""The air of the drying room as a line a person types: ``18 °C, 60 %, still``."""

from __future__ import annotations

import re

from benchconsole.errors import BadInput
from benchconsole.model.drying import AirMovement, Climate
from benchconsole.quantities import Measures, format_temperature, read_temperature

EXAMPLE = "18 °C, 60 %, still"
MOVEMENTS: dict[str, AirMovement] = {"still": "still", "moving": "moving", "fan": "fan"}
COLDEST, WARMEST = 0.0, 45.0
"""°C: below, a wet hide freezes; above, it shrinks while wet (fur dressers' limit)."""
DRIEST, DAMPEST = 1.0, 99.0

_HUMIDITY = re.compile(r"([0-9]{1,3}(?:[.,][0-9]{1,3})?) ?%(?: ?rh)?")


def air_text(climate: Climate | None, measures: Measures) -> str:
    """The air as a person writes it, empty where nothing was said."""
    if climate is None:
        return ""
    # Of "59 °F (15 °C)" the first alone is what a person types.
    warm = format_temperature(climate.celsius, measures=measures, digits=1).partition(" (")[0]
    return f"{warm}, {climate.humidity_pct:.4g} %, {climate.air}"


def read_air(text: str) -> Climate | None:
    """The air that a person typed: temperature, humidity and how it moves, in any order.

    Air that nothing is said of moves little. An empty line says nothing. Raises ``BadInput`` for
    what cannot be read or is said twice.
    """
    chunks = [
        " ".join(chunk.lower().split()) for chunk in re.split(r";|(?<![0-9]),|,(?![0-9])", text)
    ]
    said: dict[str, float | AirMovement] = {}
    for chunk in filter(None, chunks):
        kind, value = _part(chunk)
        if kind in said:
            raise BadInput("air", f"the {kind} is said twice", EXAMPLE)
        said[kind] = value
    if not said:
        return None
    for kind in ("temperature", "humidity"):
        if kind not in said:
            raise BadInput("air", f"the {kind} is missing", EXAMPLE)
    return Climate(
        celsius=float(said["temperature"]),
        humidity_pct=float(said["humidity"]),
        air=MOVEMENTS[str(said.get("movement", "still"))],
    )


def _part(chunk: str) -> tuple[str, float | AirMovement]:
    if chunk in MOVEMENTS:
        return "movement", MOVEMENTS[chunk]
    if "%" in chunk:
        match = _HUMIDITY.fullmatch(chunk)
        share = float(match[1].replace(",", ".")) if match else 0.0
        if not DRIEST <= share <= DAMPEST:
            fault = f"a humidity lies between {DRIEST:g} and {DAMPEST:g} %"
            raise BadInput("air", fault, EXAMPLE)
        return "humidity", share
    if not any(character.isdigit() for character in chunk):
        fault = f"“{chunk[:40]}” is none of {', '.join(MOVEMENTS)}"
        raise BadInput("air", fault, EXAMPLE)
    celsius = read_temperature(chunk, field="air")
    if not COLDEST <= celsius <= WARMEST:
        limits = f"hides dry between {COLDEST:g} and {WARMEST:g} °C"
        raise BadInput("air", f"{limits}: colder they freeze, warmer they shrink", EXAMPLE)
    return "temperature", celsius
