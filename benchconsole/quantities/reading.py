"""Read what people write for a quantity: ``2 lb 8 oz``, ``½ gal``, ``3,5 kg``, ``1 h 30 min``.

Every reader returns a plain number in the unit that its docstring says, or raises
``BadQuantity``; nothing else is raised for any text.  Sums are exact until that last number.
The most that is read lies far above any shop and only keeps slips of the hand out: 10 t,
1000 m³, 10 km, 1 ha, ten years, 1000 °C.
"""

import re
from datetime import timedelta
from fractions import Fraction

import msgspec

from benchconsole.quantities.notation import Asked, cleaned, parts_of, split_sign
from benchconsole.quantities.totals import (
    only_part,
    ratio_of,
    sum_of,
    total_of,
    unit_fault,
    unit_of,
    unsigned_parts,
    wanted,
)
from benchconsole.quantities.units import celsius_from
from benchconsole.quantities.words import Kind, Measures, kind_of

_ABSOLUTE_ZERO_C, _HOTTEST_C = Fraction("-273.15"), 1000
_SQUARED = re.compile(r"(?<=[a-zA-Z])2$")
_TIMES = ("", "x", "×", "time", "times")


class Amount(msgspec.Struct, frozen=True, kw_only=True):
    """So much of something by weight or by volume: exactly one of the two is set."""

    mass_g: float | None = None
    volume_l: float | None = None

    def __post_init__(self) -> None:
        if (self.mass_g is None) == (self.volume_l is None):
            raise ValueError("an amount is either a weight or a volume")


def read_mass(
    text: str, *, field: str, measures: Measures, zero: bool = False, signed: bool = False
) -> float:
    """Grams.  ``zero`` lets 0 through; ``signed`` negatives too, as a scale's zero offset has."""
    want = wanted(field, Kind.MASS, measures=measures)
    return float(total_of(text, want, zero=zero, signed=signed))


def read_volume(text: str, *, field: str, measures: Measures, zero: bool = False) -> float:
    """Litres.  ``zero`` lets 0 through."""
    return float(total_of(text, wanted(field, Kind.VOLUME, measures=measures), zero=zero))


def read_length(text: str, *, field: str, measures: Measures, zero: bool = False) -> float:
    """Metres.  ``zero`` lets 0 through; ``m`` is the metre."""
    return float(total_of(text, wanted(field, Kind.LENGTH, measures=measures), zero=zero))


def read_area(text: str, *, field: str, measures: Measures) -> float:
    """Square metres: ``9 sq ft``, ``0.8 m²``, ``0.8 m2``."""
    squared = _SQUARED.sub("²", text.rstrip(" "))
    return float(total_of(squared, wanted(field, Kind.AREA, measures=measures)))


def read_duration(text: str, *, field: str, zero: bool = False) -> timedelta:
    """Elapsed time to the microsecond; ``m`` is the minute, and a day is 24 hours."""
    want = wanted(field, Kind.DURATION)
    elapsed = timedelta(microseconds=round(total_of(text, want, zero=zero) * 1_000_000))
    if not elapsed and not zero:
        raise want.refuse("it must be more than zero")
    return elapsed


def read_amount(text: str, *, field: str, measures: Measures) -> Amount:
    """A weight or a volume, whichever the first unit says."""
    either = wanted(field, Kind.MASS, Kind.VOLUME, measures=measures)
    parts = unsigned_parts(text, either)
    kind = kind_of(parts[0].words)
    if kind is Kind.MASS:
        return Amount(mass_g=float(sum_of(parts, wanted(field, kind, measures=measures))))
    if kind is Kind.VOLUME:
        return Amount(volume_l=float(sum_of(parts, wanted(field, kind, measures=measures))))
    raise either.refuse(*unit_fault(parts[0], either))


def read_temperature(text: str, *, field: str) -> float:
    """Degrees Celsius of a temperature in °C, °F or K, not below absolute zero."""
    want = wanted(field, Kind.TEMPERATURE)
    sign, unsigned = split_sign(cleaned(text, want))
    part = only_part(parts_of(unsigned, want), want)
    celsius = celsius_from(sign * part.number, unit_of(part, want))
    if celsius < _ABSOLUTE_ZERO_C:
        raise want.refuse("nothing is colder than -273.15 °C")
    if celsius > _HOTTEST_C:
        raise want.refuse(f"that is above {_HOTTEST_C} °C")
    return float(celsius)


def read_volume_per_mass(text: str, *, field: str, measures: Measures) -> float:
    """Litres of float for a kilogram of hide: ``6 L/kg``, ``1/2 gal per lb``."""
    example = "6 L/kg" if measures == "metric" else "1/2 gal/lb"
    litres_per_gram = ratio_of(text, field, example, (Kind.VOLUME, Kind.MASS), measures)
    return float(litres_per_gram * 1000)


def read_strength(text: str, *, field: str, measures: Measures) -> float:
    """Grams in a litre: ``60 g/L``, ``1 lb per gal``."""
    example = "60 g/L" if measures == "metric" else "1/2 lb/gal"
    return float(ratio_of(text, field, example, (Kind.MASS, Kind.VOLUME), measures))


def read_count(text: str, *, field: str, most: int = 999) -> int:
    """A whole number from 1 to ``most``."""
    asked = Asked(field=field, example=str(min(3, most)))
    written = cleaned(text, asked)
    if not re.fullmatch(r"[0-9]+", written):
        raise asked.refuse(f"“{written}” is not a whole number")
    if not 1 <= int(written) <= most:
        raise asked.refuse(f"it must be from 1 to {most}")
    return int(written)


def read_factor(text: str, *, field: str) -> float:
    """How many times: ``2``, ``1/2``, ``1 1/2``, ``0.5x``, ``2 times``; at most 1000."""
    asked = Asked(field=field, example="1 1/2")
    part = only_part(unsigned_parts(text, asked), asked)
    if part.words.casefold() not in _TIMES:
        raise asked.refuse(f"a plain number is wanted, without “{part.words}”")
    if not 0 < part.number <= 1000:
        raise asked.refuse("it must be more than zero and at most 1000")
    return float(part.number)
