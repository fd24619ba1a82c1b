"""What people write for a unit, and which unit of the registry they mean by it.

Words are compared without regard to case, full stops and the width of spaces.  ``oz`` is always
the avoirdupois weight.  A bare gallon, quart, pint or fluid ounce means the one of the shop's
own measures; cups and spoons exist only in US measure, since elsewhere their sizes differ.
"""

from enum import StrEnum
from typing import Literal

Measures = Literal["us", "imperial", "metric"]


class Kind(StrEnum):
    """What a unit measures, in the word that messages use for it."""

    MASS = "weight"
    VOLUME = "volume"
    LENGTH = "length"
    AREA = "area"
    DURATION = "length of time"
    TEMPERATURE = "temperature"


BASE_UNITS = {
    Kind.MASS: "gram",
    Kind.VOLUME: "litre",
    Kind.LENGTH: "metre",
    Kind.AREA: "metre ** 2",
    Kind.DURATION: "second",
    Kind.TEMPERATURE: "degC",
}

_WORDS = {
    Kind.MASS: {
        "milligram": "mg, milligram, milligrams, milligramme, milligrammes",
        "gram": "g, gm, gms, gram, grams, gramme, grammes",
        "kilogram": "kg, kgs, kilo, kilos, kilogram, kilograms, kilogramme, kilogrammes",
        "ounce": "oz, ozs, ounce, ounces",
        "pound": "lb, lbs, pound, pounds",
    },
    Kind.VOLUME: {
        "millilitre": "ml, mls, millilitre, millilitres, milliliter, milliliters",
        "centilitre": "cl, centilitre, centilitres, centiliter, centiliters",
        "decilitre": "dl, decilitre, decilitres, deciliter, deciliters",
        "litre": "l, ltr, litre, litres, liter, liters",
    },
    Kind.LENGTH: {
        "millimetre": "mm, millimetre, millimetres, millimeter, millimeters",
        "centimetre": "cm, centimetre, centimetres, centimeter, centimeters",
        "metre": "m, metre, metres, meter, meters",
        "inch": 'in, inch, inches, ", ″, ”',
        "foot": "ft, foot, feet, ', ′, ’",
        "yard": "yd, yds, yard, yards",
    },
    Kind.AREA: {
        "centimetre ** 2": "cm², sq cm, square centimetre, square centimetres, "
        "square centimeter, square centimeters",
        "metre ** 2": "m², sq m, square metre, square metres, square meter, square meters",
        "inch ** 2": "in², sq in, square inch, square inches",
        "foot ** 2": "ft², sq ft, square foot, square feet",
    },
    Kind.DURATION: {
        "second": "s, sec, secs, second, seconds",
        "minute": "m, min, mins, minute, minutes",
        "hour": "h, hr, hrs, hour, hours",
        "day": "d, day, days",
        "week": "w, wk, wks, week, weeks",
    },
    Kind.TEMPERATURE: {
        "degC": "°c, c, ℃, deg c, degree c, degrees c, celsius, degrees celsius, "
        "degree celsius, centigrade",
        "degF": "°f, f, ℉, deg f, degree f, degrees f, fahrenheit, degrees fahrenheit, "
        "degree fahrenheit",
        "kelvin": "k, kelvin, kelvins",
    },
}

_CUSTOMARY = {
    "gallon": "gal, gals, gallon, gallons",
    "quart": "qt, qts, quart, quarts",
    "pint": "pt, pts, pint, pints",
    "cup": "cup, cups",
    "fluid_ounce": "fl oz, floz, fluid oz, fluid ounce, fluid ounces",
    "tablespoon": "tbsp, tbsps, tablespoon, tablespoons",
    "teaspoon": "tsp, tsps, teaspoon, teaspoons",
}
_SYSTEMS = {"us": ("us",), "imp": ("imp", "imperial", "uk", "british")}
_IMPERIAL = ("gallon", "quart", "pint", "fluid_ounce")


def _split(listed: str) -> list[str]:
    return [word.strip() for word in listed.split(",")]


def _named_volumes() -> dict[str, str]:
    """Customary volumes with their system in front: ``us gal``, ``imperial pint``."""
    return {
        f"{system} {word}": f"{prefix}_{unit}"
        for prefix, systems in _SYSTEMS.items()
        for system in systems
        for unit, words in _CUSTOMARY.items()
        if prefix == "us" or unit in _IMPERIAL
        for word in _split(words)
    }


UNIT_OF_WORD: dict[Kind, dict[str, str]] = {
    kind: {word.casefold(): unit for unit, words in units.items() for word in _split(words)}
    for kind, units in _WORDS.items()
}
UNIT_OF_WORD[Kind.VOLUME] |= _named_volumes()

_BARE_VOLUMES = {word: unit for unit, words in _CUSTOMARY.items() for word in _split(words)}


def plain_word(words: str) -> str:
    """The words as the tables hold them: one space between, no full stops, no capitals."""
    bare = " ".join(words.replace(".", " ").split()).casefold().replace("° ", "°")
    return bare.replace("u s ", "us ")


def kind_of(words: str) -> Kind | None:
    """What the words measure, whichever measures the shop keeps; None when they name no unit."""
    word = plain_word(words)
    if word in _BARE_VOLUMES:
        return Kind.VOLUME
    return next((kind for kind, known in UNIT_OF_WORD.items() if word in known), None)


def unit_named(words: str, kind: Kind, measures: Measures) -> str | None:
    """The registry's name for the unit, or None when these measures have no such unit."""
    word = plain_word(words)
    known = UNIT_OF_WORD[kind]
    if kind is not Kind.VOLUME or word in known:
        return known.get(word)
    systems = {"us": "us", "imperial": "imp"}
    return known.get(f"{systems[measures]} {word}") if measures in systems else None


def systems_of(words: str) -> list[str]:
    """How to write a bare customary volume so that it says whose: ``["US gal", "imp gal"]``."""
    word = plain_word(words)
    written = [f"US {word}"] if word in _BARE_VOLUMES else []
    return [*written, f"imp {word}"] if _BARE_VOLUMES.get(word) in _IMPERIAL else written
