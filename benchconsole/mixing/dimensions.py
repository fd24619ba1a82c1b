"""Lengths, areas, weights and jugs in the words of the shop's own measures."""

from __future__ import annotations

import math
from fractions import Fraction

from benchconsole.mixing.working import plain
from benchconsole.model.shop import Shop
from benchconsole.quantities import (
    Measures,
    factor,
    format_mass,
    format_number,
    format_volume,
)

FINE_INCHES = 12
"""Below a foot a rule is read to the sixteenth of an inch, above it to the eighth.

Our own choice, no source: how rules are marked and read."""


def length_words(metres: float, measures: Measures) -> str:
    """A depth or a height as a rule shows it: ``31.4 cm``, ``12 3/8 in``."""
    if measures == "metric":
        return f"{format_number(100.0 * metres, 1).removesuffix('.0')} cm"
    inches = Fraction(metres) / factor("inch", "metre")
    marks = 16 if inches < FINE_INCHES else 8
    rounded = Fraction(round(inches * marks), marks)
    whole, rest = divmod(rounded, 1)
    parts = [str(whole)] if whole or not rest else []
    return " ".join([*parts, *([str(rest)] if rest else []), "in"])


def area_words(square_metres: float, measures: Measures) -> str:
    """``0.84 m²``, ``9 sq ft``; three figures."""
    if measures == "metric":
        return f"{plain(float(f'{square_metres:.3g}'))} m²"
    square_feet = square_metres / float(factor("foot ** 2", "metre ** 2"))
    return f"{plain(float(f'{square_feet:.3g}'))} sq ft"


def error_words(grams: float, measures: Measures) -> str:
    """An uncertainty to two figures, in ounces up to three: ``1.6 g``, ``0.0288 oz``."""
    return format_mass(grams, measures=measures, step_g=_printing(_two_figures(grams), measures))


def least_words(grams: float, measures: Measures) -> str:
    """The least weight that will do, to about two figures, never printed below what it is."""
    step = _two_figures(grams)
    above = math.ceil(grams / step) * step
    if measures != "metric":
        above += step / 2.0  # what rounding to the ounce's own step may take off again
    return format_mass(above, measures=measures, step_g=_printing(step, measures))


def most_words(grams: float, measures: Measures) -> str:
    """The most that fits, never printed above what it is: to 10 g, below a kilogram to 1 g."""
    step = 10.0 if grams >= 1000.0 else 1.0
    return format_mass(max(grams - step, 0.0), measures=measures, step_g=step)


def jug_words(litres: float, of: str, shop: Shop) -> str:
    """What to pour, and how many full jugs that is: ``6.3 L of water = 1 × 5 L jug + 1.3 L``."""
    whole = f"{format_volume(litres, measures=shop.measures)} of {of}"
    if not shop.jug_l or litres < shop.jug_l:
        return whole
    full = int(litres / shop.jug_l + 1e-9)
    rest = litres - full * shop.jug_l
    jug = format_volume(shop.jug_l, measures=shop.measures)
    # Less than a hundredth of a jug cannot be poured apart from a full one.
    more = f" + {format_volume(rest, measures=shop.measures)}" if rest > 0.01 * shop.jug_l else ""
    return f"{whole} = {full} × {jug} jug{more}"


def _two_figures(grams: float) -> float:
    return float(f"1e{math.floor(math.log10(grams)) - 1}") if grams > 0.0 else 1.0


def _printing(step_g: float, measures: Measures) -> float:
    """A step that prints at least so finely: ounces take the next 1-2-5, up to 2.5 times it."""
    return step_g if measures == "metric" else step_g / 2.5
