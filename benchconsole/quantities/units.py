"""The one pint registry, built on ``units.txt`` at its first use.

Importing pint takes about 100 ms, longer than the console may take to its first frame, so
neither this module nor the package loads it; a call to ``registry()`` does, once.  Factors are
fractions: every unit here is defined exactly, and stays so until a result becomes a float.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    import pint


@cache
def registry() -> pint.UnitRegistry[Any]:
    """The units of the bench; its magnitudes are ``Fraction``.

    Never hand it what a person typed: pint evaluates expressions.  Unit names come from
    ``words``.  The console calls this once off its first frame, so that no key waits for it.
    """
    from importlib.resources import files

    import pint

    units: pint.UnitRegistry[Any] = pint.UnitRegistry(
        None, non_int_type=Fraction, cache_folder=None
    )
    text = files("benchconsole.quantities").joinpath("units.txt").read_text(encoding="utf-8")
    units.load_definitions(text.splitlines())
    return units


@cache
def factor(unit: str, base: str) -> Fraction:
    """How many ``base`` there are in one ``unit``, exactly: 45359237/100000 gram in a pound."""
    return Fraction(registry().Quantity(Fraction(1), unit).to(base).magnitude)


def celsius_from(number: Fraction, unit: str) -> Fraction:
    """Degrees Celsius of a point on the scale ``unit`` (degC, degF or kelvin), exactly."""
    return Fraction(registry().Quantity(number, unit).to("degC").magnitude)


def fahrenheit_from(celsius: Fraction) -> Fraction:
    """Degrees Fahrenheit of a temperature in degrees Celsius, exactly."""
    return Fraction(registry().Quantity(celsius, "degC").to("degF").magnitude)
