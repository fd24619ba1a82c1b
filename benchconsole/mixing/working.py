"""How a figure came about: inputs, equation, result, source, and how sure it is."""

from __future__ import annotations

from decimal import Decimal

from benchconsole.model.record import Record


class Working(Record, frozen=True, kw_only=True):
    """The working of one figure, in words and numbers for a person to follow."""

    title: str
    result: str
    inputs: tuple[tuple[str, str], ...] = ()
    equation: str = ""
    source: str = ""
    sure: str = ""


def plain(number: float) -> str:
    """A bare number as a person writes it: four figures, no exponent, no trailing zeros."""
    if abs(number) >= 10_000.0:
        return f"{number:.0f}"
    return f"{Decimal(f'{number:.4g}'):f}"
