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


def percent_words(share: float, figures: int = 3) -> str:
    """A share as per cent to so many figures, no exponent: ``0.1046`` is ``10.5 %``."""
    return f"{plain(float(f'{100.0 * share:.{figures}g}'))} %"


def percent_of_a_limit(share: float) -> str:
    """As labels have it: two places below one per cent, one above; no limit is known better."""
    percent = 100.0 * share
    return f"{plain(round(percent, 2 if percent < 1.0 else 1))} %"


def percent_off(share: float) -> str:
    """An error: one place, never told as less than 0.1 %."""
    return f"{max(100.0 * share, 0.1):.1f} %"
