"""Numbers that need no unit at the bench, or one of their own: pH, per cent, density."""

from __future__ import annotations

from benchconsole.quantities.notation import Asked, Part, cleaned, parts_of, split_sign

_PERCENT = ("", "%", "percent", "per cent", "% w/w")
_DENSITIES = {
    "kg/l": 1000.0,
    "g/ml": 1000.0,
    "g/cm³": 1000.0,
    "g/cc": 1000.0,
    "sg": 1000.0,
    "kg/m³": 1.0,
    "g/l": 1.0,
}
"""Kilograms in a cubic metre for one of each; a specific gravity is within 0.1 % of kg/L."""

LIQUIDS_KG_M3 = (500.0, 2500.0)
"""Lightest and heaviest liquid read; our own choice, no source: spirits are near 700 and strong
sulphuric acid near 1840 kg/m³ (from memory), and a slip of the unit lands a thousandfold away."""


def read_ph(text: str, *, field: str) -> float:
    """A pH from 0 to 14: ``3.2`` or ``pH 3.2``; raises ``BadQuantity``."""
    asked = Asked(field=field, example="3.2")
    words = cleaned(text, asked)
    if words[:2].casefold() == "ph":
        words = words[2:].strip() or "?"
    part = _one_part(words, asked)
    if part.words:
        raise asked.refuse(f"a pH is a plain number, without “{part.words}”")
    number = float(part.number)
    if not 0.0 <= number <= 14.0:
        raise asked.refuse("it must be from 0 to 14")
    return number


def read_percent(text: str, *, field: str, example: str) -> float:
    """Per cent from 0 to 100, with its sign or without; raises ``BadQuantity``."""
    asked = Asked(field=field, example=example)
    part = _one_part(cleaned(text, asked), asked)
    if part.words.casefold() not in _PERCENT:
        raise asked.refuse(f"per cent is wanted, not “{part.words}”")
    number = float(part.number)
    if not 0.0 <= number <= 100.0:
        raise asked.refuse("it must be between 0 and 100 %")
    return number


def read_density(text: str, *, field: str) -> float:
    """Kilograms in a cubic metre: ``0.92 kg/L``, ``920 kg/m³``, ``0.92 SG``."""
    asked = Asked(field=field, example="0.92 kg/L")
    part = _one_part(cleaned(text, asked), asked)
    unit = part.words.casefold().replace(" per ", "/").replace("m3", "m³").replace("m^3", "m³")
    if not unit:
        raise asked.refuse(f"“{part.written}” has no unit", f"{part.written[:12]} kg/L")
    if unit not in _DENSITIES:
        raise asked.refuse(f"“{part.words}” is not a unit of density that is read here")
    density = float(part.number) * _DENSITIES[unit]
    lightest, heaviest = LIQUIDS_KG_M3
    if not lightest <= density <= heaviest:
        raise asked.refuse("no liquid of the bench is lighter than 0.5 or heavier than 2.5 kg/L")
    return density


def _one_part(words: str, asked: Asked) -> Part:
    sign, unsigned = split_sign(words)
    if sign < 0:
        raise asked.refuse("it cannot be negative")
    parts = parts_of(unsigned, asked) if unsigned else []
    if len(parts) != 1:
        raise asked.refuse("one number is wanted")
    return parts[0]
