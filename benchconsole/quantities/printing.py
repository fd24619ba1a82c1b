"""Print quantities as a shop weighs, pours and counts them.

Rounding is half away from zero, done in decimal on the number as Python writes it, so that
2.675 to two places is 2.68 and no 0.30000000000000004 is ever shown.  Amounts drop trailing
zeros; scale readings keep them, as the scale does.  An amount above zero is never printed as 0:
one below the resolution keeps two figures.  Negative numbers carry the minus sign ``−``.

Metric amounts and times need no more than the SI prefixes and the clock's sixties, so a metric
shop never waits for the registry to print.  Numbers must be finite; anything else is a defect
and raises ``ValueError``.
"""

from datetime import timedelta
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from benchconsole.quantities.rounding import (
    coarser_step,
    exact,
    figures_step,
    finer_step,
    padded,
    places_of,
    to_step,
    trimmed,
)
from benchconsole.quantities.units import factor, fahrenheit_from
from benchconsole.quantities.words import Measures

ReadingUnit = Literal["g", "kg", "oz", "lb oz"]

_KILO = Decimal(1000)
_WHOLE = Decimal(1)
_DAY, _HOUR = timedelta(days=1), timedelta(hours=1)
_MINUTE, _SECOND = timedelta(minutes=1), timedelta(seconds=1)


def round_to_step(grams: float, step_g: float) -> float:
    """The multiple of the scale's step nearest to the weight, in grams; halves away from zero."""
    return float(to_step(exact(grams), exact(step_g)))


def format_mass(grams: float, *, measures: Measures, step_g: float) -> str:
    """A weight at the resolution of a scale with that step: ``1134 g``, ``2 lb 8 oz``.

    The printed step is the finest of 1, 2, 5 and their tens in the printed unit that is not
    finer than the scale's, so a 1 g scale gives twentieths of an ounce.  Grams up to 9999 g.
    """
    if measures == "metric":
        rounded = _never_nothing(exact(grams), coarser_step(exact(step_g)))
        kilograms = abs(rounded) >= 10 * _KILO
        return f"{trimmed(rounded / _KILO)} kg" if kilograms else f"{trimmed(rounded)} g"
    in_ounces = _one("gram", "ounce")
    step = coarser_step(exact(step_g) * in_ounces)
    ounces = _never_nothing(exact(grams) * in_ounces, step)
    return _in_units(ounces, (_one("pound", "ounce"), "lb"), (_WHOLE, "oz"))


def format_volume(litres: float, *, measures: Measures) -> str:
    """A volume to within 1 %: ``18.9 L``, ``250 mL``, ``1 US qt 8 US fl oz``.

    Metric keeps three figures and never less than whole litres; customary volumes round to
    what a jug can show and never less than whole quarts, and always say whose they are.
    """
    if measures == "metric":
        millilitres = _three_figures(exact(litres) * _KILO)
        if abs(millilitres) < _KILO:
            return f"{trimmed(millilitres)} mL"
        return f"{trimmed(_three_figures(exact(litres)))} L"
    system, label = ("us", "US") if measures == "us" else ("imp", "imp")
    ounce, quart, gallon = (f"{system}_{unit}" for unit in ("fluid_ounce", "quart", "gallon"))
    fluid_ounces = exact(litres) * _one("litre", ounce)
    rounded = to_step(fluid_ounces, _jug_step(fluid_ounces, _one(quart, ounce)))
    return _in_units(
        rounded,
        (_one(gallon, ounce), f"{label} gal"),
        (_one(quart, ounce), f"{label} qt"),
        (_WHOLE, f"{label} fl oz"),
    )


def format_temperature(celsius: float, *, measures: Measures, digits: int = 0) -> str:
    """``12 °C``; in US measure ``54 °F (12 °C)``; ``digits`` decimals at most."""
    step = _WHOLE.scaleb(-digits)
    metric = f"{trimmed(to_step(exact(celsius), step))} °C"
    if measures != "us":
        return metric
    fahrenheit = _decimal(fahrenheit_from(Fraction(exact(celsius))))
    return f"{trimmed(to_step(fahrenheit, step))} °F ({metric})"


def format_strength(grams_per_litre: float) -> str:
    """Three figures, and never less than whole grams: ``60 g/L``, ``7.49 g/L``."""
    return f"{trimmed(_three_figures(exact(grams_per_litre)))} g/L"


def format_reading(grams: float, *, step_g: float, unit: ReadingUnit = "g") -> str:
    """What a scale with that step shows: ``1234.5 g``, ``1.235 kg``, ``2 lb 8.05 oz``.

    A scale that steps in grams but shows ounces steps there in the next 1-2-5 of an ounce.
    """
    if unit in ("g", "kg"):
        size = _KILO if unit == "kg" else _WHOLE
        step = coarser_step(exact(step_g) / size)
        return f"{padded(to_step(exact(grams) / size, step), places_of(step))} {unit}"
    in_ounces = _one("gram", "ounce")
    step = coarser_step(exact(step_g) * in_ounces)
    ounces = to_step(exact(grams) * in_ounces, step)
    if unit == "oz":
        return f"{padded(ounces, places_of(step))} oz"
    pounds, rest = divmod(abs(ounces), _one("pound", "ounce"))
    sign = "−" if ounces < 0 else ""
    return f"{sign}{trimmed(pounds)} lb {padded(rest, places_of(step))} oz"


def format_duration(elapsed: timedelta) -> str:
    """At most two neighbouring units, the smaller one rounded: ``3 d 4 h``, ``1 h 30 min``."""
    sign, length = ("−", -elapsed) if elapsed < timedelta() else ("", elapsed)
    for large, small, finest, names in (
        (_DAY, _HOUR, _MINUTE, ("d", "h")),
        (_HOUR, _MINUTE, _SECOND, ("h", "min")),
        (_MINUTE, _SECOND, _SECOND, ("min", "s")),
    ):
        if _count(length, finest) * finest >= large:
            many, few = divmod(_count(length, small), large // small)
            return f"{sign}{many} {names[0]}" + (f" {few} {names[1]}" if few else "")
    seconds = _count(length, _SECOND)
    return f"{sign if seconds else ''}{seconds} s"


def format_countdown(remaining: timedelta) -> str:
    """``0:45:00``: hours, minutes, seconds, rounded up so that zero shows only at the end.

    Hours go on past 24.  A time that has passed carries a minus sign.
    """
    seconds = -(-remaining // _SECOND)
    minutes, second = divmod(abs(seconds), 60)
    hours, minute = divmod(minutes, 60)
    return f"{'−' if seconds < 0 else ''}{hours}:{minute:02}:{second:02}"


def format_number(number: float, digits: int) -> str:
    """A bare number with exactly that many decimals."""
    return padded(exact(number), digits)


def _one(unit: str, base: str) -> Decimal:
    return _decimal(factor(unit, base))


def _decimal(number: Fraction) -> Decimal:
    return Decimal(number.numerator) / Decimal(number.denominator)


def _count(length: timedelta, unit: timedelta) -> int:
    """How many units, halves rounded up."""
    return (length + unit / 2) // unit


def _never_nothing(number: Decimal, step: Decimal) -> Decimal:
    rounded = to_step(number, step)
    return rounded if rounded or not number else to_step(number, figures_step(number, 2))


def _three_figures(number: Decimal) -> Decimal:
    return to_step(number, min(_WHOLE, figures_step(number, 3)))


def _jug_step(fluid_ounces: Decimal, quart: Decimal) -> Decimal:
    """The step to round to: at most 2 % of the volume, so that the error stays within 1 %."""
    coarsest = abs(fluid_ounces) / 50
    if not coarsest:
        return _WHOLE
    if coarsest < 2:
        return finer_step(coarsest)
    marks = (Decimal(2), Decimal(4), Decimal(8), quart / 2, quart)
    return max(mark for mark in marks if mark <= coarsest)


def _in_units(total: Decimal, *units: tuple[Decimal, str]) -> str:
    """The total in units that fall in size, zeros left out; the last unit has size one."""
    left, parts = abs(total), []
    for size, name in units[:-1]:
        many, left = divmod(left, size)
        if many:
            parts.append(f"{trimmed(many)} {name}")
    if left or not parts:
        parts.append(f"{trimmed(left)} {units[-1][1]}")
    return ("−" if total < 0 else "") + " ".join(parts)
