"""The bounds of a bare number that a person gave: what no shop has is refused by its field.

The upper bounds are those that reading a quantity has; here they also stop what did not come
through a reader. A number that is none lies outside every bound.
"""

from __future__ import annotations

import math

from benchconsole.errors import BadInput


def require_between(
    field: str, number: float, low: float, high: float, bounds: str, example: str
) -> None:
    """Raise ``BadInput`` unless ``low <= number <= high``; ``bounds`` says the two in words."""
    if not low <= number <= high:
        raise BadInput(field, f"it must be {bounds}", example)


def require_size(field: str, metres: float, example: str = "40 cm") -> None:
    """A measure of a thing: one millimetre to 100 m."""
    require_between(field, metres, 0.001, 100.0, "between 1 mm and 100 m", example)


def require_height(field: str, metres: float, example: str = "20 cm") -> None:
    """A depth or a height, which may be nothing."""
    require_between(field, metres, 0.0, 100.0, "between 0 cm and 100 m", example)


def require_volume(field: str, litres: float, *, zero: bool = False, example: str = "19 L") -> None:
    """A volume up to 1000 m³, above nothing unless ``zero``."""
    _require_some(field, litres, 1_000_000.0, "1000000 L", zero, example)


def require_mass(field: str, grams: float, *, zero: bool = False, example: str = "3.2 kg") -> None:
    """A weight up to 10 t, above nothing unless ``zero``."""
    _require_some(field, grams, 10_000_000.0, "10000 kg", zero, example)


def require_count(field: str, count: int, example: str = "2") -> None:
    """A whole number from 1 to 999."""
    require_between(field, count, 1, 999, "from 1 to 999", example)


def _require_some(
    field: str, number: float, most: float, written: str, zero: bool, example: str
) -> None:
    low = 0.0 if zero else math.ulp(0.0)
    least = "not below zero" if zero else "more than zero"
    require_between(field, number, low, most, f"{least} and at most {written}", example)
