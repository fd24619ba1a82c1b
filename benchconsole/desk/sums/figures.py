"""The figures of a result as numbers with names and units, for another program to read."""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from benchconsole.desk.sums.records import SumFigure
from benchconsole.mixing.working import Working

_UNITS = {
    "g_per_100g_water": ("g/100 g", "salt to water"),
    "g_per_l": ("g/L", "strength"),
    "kg_m3": ("kg/m³", "density"),
    "celsius": ("°C", "temperature"),
    "percent": ("%", "part"),
    "g": ("g", "weight"),
    "l": ("L", "volume"),
    "m": ("m", "height"),
}
"""By the end of a field's name, longer ones first: the unit, and a name where nothing else is."""


def figures_of(result: msgspec.Struct, *, of: str = "") -> tuple[SumFigure, ...]:
    """Every number that a result holds, with the unit that the name of its field ends in.

    What is in it is named after its place, ``made volume``, and all of it after ``of``, so that two
    results of one answer do not share a name. A number without a unit has unit ``""``.
    """
    return tuple(_in(result, f"{of} " if of else ""))


def _in(result: msgspec.Struct, of: str) -> Iterator[SumFigure]:
    for name in result.__struct_fields__:
        yield from _of(getattr(result, name), name, of)


def _of(value: object, name: str, of: str) -> Iterator[SumFigure]:
    match value:
        case bool() | Working():
            return
        case int() | float():
            words, unit = _named(name)
            yield SumFigure(name=f"{of}{words}", value=float(value), unit=unit)
        case msgspec.Struct():
            yield from _in(value, f"{of}{name.replace('_', ' ')} ")
        case tuple():
            for count, each in enumerate(value, start=1):
                yield from _of_several(each, name, of, count)


def _of_several(value: object, name: str, of: str, count: int) -> Iterator[SumFigure]:
    match value:
        case (str(substance), float(grams)) if name == "amounts":
            yield SumFigure(name=f"{of}{substance}", value=grams, unit="g")
        case msgspec.Struct():
            yield from _in(value, f"{of}{name.replace('_', ' ')} {count} ")


def _named(field: str) -> tuple[str, str]:
    """The words and the unit of a field's name."""
    for end, (unit, alone) in _UNITS.items():
        if field == end:
            return alone, unit
        if field.endswith(f"_{end}"):
            return field.removesuffix(f"_{end}").replace("_", " "), unit
    return field.replace("_", " "), ""
