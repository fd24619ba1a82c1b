"""Exact sums of the parts a person wrote, and what is said when a unit does not fit."""

import re
from fractions import Fraction
from itertools import pairwise

from msgspec import structs

from benchconsole.quantities.notation import Asked, Part, cleaned, parts_of, split_sign
from benchconsole.quantities.units import factor
from benchconsole.quantities.words import (
    BASE_UNITS,
    Kind,
    Measures,
    kind_of,
    systems_of,
    unit_named,
)

_MOST = {
    Kind.MASS: (10_000_000, "10000 kg"),
    Kind.VOLUME: (1_000_000, "1000000 L"),
    Kind.LENGTH: (10_000, "10000 m"),
    Kind.AREA: (10_000, "10000 m²"),
    Kind.DURATION: (3660 * 86_400, "3660 d"),
}
_EXAMPLES = {
    (Kind.MASS,): ("1134 g", "2 lb 8 oz"),
    (Kind.VOLUME,): ("15 L", "4 gal"),
    (Kind.MASS, Kind.VOLUME): ("1134 g or 15 L", "2 lb 8 oz or 4 gal"),
    (Kind.LENGTH,): ("75 cm", "30 in"),
    (Kind.AREA,): ("0.8 m²", "9 sq ft"),
    (Kind.DURATION,): ("1 h 30 min", "1 h 30 min"),
    (Kind.TEMPERATURE,): ("12 °C or 54 °F", "12 °C or 54 °F"),
}
_LIKELY_UNITS = {
    (Kind.MASS,): ("g kg", "oz lb"),
    (Kind.VOLUME,): ("ml L", "qt gal"),
    (Kind.MASS, Kind.VOLUME): ("g ml", "oz qt"),
    (Kind.LENGTH,): ("cm m", "in ft"),
    (Kind.DURATION,): ("min h", "min h"),
}
_MOST_RATIO = 10_000
"""Litres for a gram or grams for a litre; past this a figure is a slip of the hand."""
_LEAST_ECHOED, _MOST_ECHOED = Fraction(1, 1000), 9999
"""The numbers that an example repeats: with any likely unit they stay within bounds."""


class Wanted(Asked, frozen=True, kw_only=True):
    """What a field asks for, and how the shop measures."""

    kinds: tuple[Kind, ...]
    measures: Measures


def wanted(field: str, *kinds: Kind, measures: Measures = "metric") -> Wanted:
    """A field for any of the kinds, with the example that suits the shop's measures."""
    example = _EXAMPLES[kinds][measures != "metric"]
    return Wanted(field=field, example=example, kinds=kinds, measures=measures)


def total_of(text: str, want: Wanted, *, zero: bool = False, signed: bool = False) -> Fraction:
    """What the text adds up to in the base unit of its kind; raises ``BadQuantity``."""
    if not signed:
        return sum_of(unsigned_parts(text, want), want, zero=zero)
    sign, unsigned = split_sign(cleaned(text, want))
    return sign * sum_of(parts_of(unsigned, want), want, zero=zero)


def unsigned_parts(text: str, want: Asked) -> list[Part]:
    """The parts of a text that may not be negative; at least one."""
    sign, unsigned = split_sign(cleaned(text, want))
    if sign < 0:
        raise want.refuse("it cannot be negative")
    return parts_of(unsigned, want)


def only_part(parts: list[Part], want: Asked) -> Part:
    """The one part there is; raises ``BadQuantity`` when there are more."""
    if len(parts) > 1:
        raise want.refuse("one number is wanted")
    return parts[0]


def sum_of(parts: list[Part], want: Wanted, *, zero: bool = False) -> Fraction:
    """The parts added up in the base unit: units of the one kind, the larger before the smaller."""
    (kind,) = want.kinds
    factors = [factor(unit_of(part, want), BASE_UNITS[kind]) for part in parts]
    if any(before <= after for before, after in pairwise(factors)):
        raise want.refuse("the larger unit comes first, and each only once")
    total = sum((part.number * each for part, each in zip(parts, factors, strict=True)), Fraction())
    most, written = _MOST[kind]
    if total > most:
        raise want.refuse(f"that is more than {written}")
    if not total and not zero:
        raise want.refuse("it must be more than zero")
    return total


def ratio_of(
    text: str, field: str, example: str, kinds: tuple[Kind, Kind], measures: Measures
) -> Fraction:
    """So much of the first kind for one base unit of the second; raises ``BadQuantity``."""
    want = Wanted(field=field, example=example, kinds=kinds, measures=measures)
    part = only_part(unsigned_parts(text, want), want)
    units = re.split(r"/| per ", part.words)
    if len(units) != 2:
        raise want.refuse(f"{kinds[0]} for each unit of {kinds[1]} is wanted")
    ratio = part.number
    for words, kind, power in zip(units, kinds, (1, -1), strict=True):
        unit = unit_named(words, kind, measures)
        if unit is None:
            single = wanted(field, kind, measures=measures)
            raise want.refuse(unit_fault(structs.replace(part, words=words.strip()), single)[0])
        ratio *= factor(unit, BASE_UNITS[kind]) ** power
    if not 0 < ratio <= _MOST_RATIO:
        raise want.refuse("no liquor has that proportion")
    return ratio


def unit_of(part: Part, want: Wanted) -> str:
    """The registry's name for the part's unit; raises ``BadQuantity`` when it does not fit."""
    (kind,) = want.kinds
    unit = unit_named(part.words, kind, want.measures)
    if unit is None:
        raise want.refuse(*unit_fault(part, want))
    return unit


def unit_fault(part: Part, want: Wanted) -> tuple[str, str]:
    """What is wrong with the part's unit, and an example that echoes its number ("": none)."""
    if not part.words:
        likely = _LIKELY_UNITS.get(want.kinds, ("", ""))[want.measures != "metric"]
        return f"“{part.written}” has no unit", _echoed(part, likely.split())
    kind = kind_of(part.words)
    if kind is None:
        return f"“{part.words}” is not a unit that is read here", ""
    if kind in want.kinds:
        fault = f"“{part.words}” has more than one size, so say which"
        return fault, _echoed(part, systems_of(part.words))
    if kind is Kind.MASS and "oz" in part.words.casefold() and Kind.VOLUME in want.kinds:
        fluid = "US fl oz" if want.measures == "metric" else "fl oz"
        return f"“{part.words}” is a weight, and a volume is “fl oz”", _echoed(part, [fluid])
    return f"“{part.words}” measures {kind}, and {' or '.join(want.kinds)} is wanted", ""


def _echoed(part: Part, units: list[str]) -> str:
    if not _LEAST_ECHOED <= part.number <= _MOST_ECHOED:
        return ""
    return " or ".join(f"{part.written} {unit}" for unit in units)
