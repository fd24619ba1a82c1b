"""Strengths as people write them: by weight, by volume, in degrees of a spindle, or in a list."""

from __future__ import annotations

import re

from benchconsole.chemistry import HydrometerScale
from benchconsole.desk.sums.typed_lists import listed
from benchconsole.errors import BadInput, BadQuantity
from benchconsole.mixing.brines import Measure, StrengthMeasure
from benchconsole.model.weighing import Strength
from benchconsole.quantities import Measures, read_strength
from benchconsole.quantities.notation import Asked, cleaned, parts_of

_WORDS: dict[str, Measure] = {
    word: measure
    for measure, words in (
        (StrengthMeasure.PERCENT, "%, % w/w, percent, per cent, % salt"),
        (StrengthMeasure.PER_100_G_WATER, "g/100 g water, g per 100 g water, g/100g water"),
        (HydrometerScale.SPECIFIC_GRAVITY, "sg, specific gravity"),
        (HydrometerScale.SALOMETER, "degsal, °sal, sal, salometer, degrees salometer, °salometer"),
        (HydrometerScale.BAUME, "degbe, °bé, °be, bé, be, baumé, baume, degrees baumé, °baumé"),
        (HydrometerScale.TWADDELL, "degtw, °tw, tw, twaddell, degrees twaddell"),
        (HydrometerScale.BARKOMETER, "degbk, °bk, bk, barkometer, degrees barkometer"),
    )
    for word in words.split(", ")
}
_NAMED = re.compile(r"(?P<name>[^0-9.,½¼¾⅓⅔⅛]+?)\s*[:=]?\s+(?P<strength>[0-9.,½¼¾⅓⅔⅛].*)")
_MOST_LISTED = 12
_LONGEST = 500


def read_brine_strength(text: str, *, field: str, measures: Measures) -> tuple[Measure, float]:
    """Measure and number of ``38 salometer``, ``10 °Bé``, ``1.073 SG``, ``10 %``, ``100 g/L``.

    A bare number is refused: degrees differ by the spindle. Raises ``BadQuantity``.
    """
    asked = Asked(field=field, example="38 salometer")
    words = cleaned(text, asked)
    if words[:3].casefold() == "sg ":
        words = f"{words[3:].lstrip()} SG"
    parts = parts_of(words, asked)
    first, _, rest = parts[0].words.partition(" ")
    unit = " ".join((first, rest)).strip().casefold().replace("° ", "°")
    # "g/100 g water" holds a number of its own.
    if len(parts) == 2 and unit in ("g/", "g per") and parts[1].number == 100:
        unit = f"g/100 {parts[1].words.casefold()}"
    elif len(parts) > 1:
        raise asked.refuse("one number is wanted")
    if not unit:
        number = parts[0].written[:12]
        fault = f"“{parts[0].written}” does not say of which spindle or measure"
        raise asked.refuse(fault, f"{number} salometer, {number} Bk or {number} g/L")
    if unit in _WORDS:
        return _WORDS[unit], float(parts[0].number)
    try:
        return StrengthMeasure.GRAMS_PER_LITRE, read_strength(words, field=field, measures=measures)
    except BadQuantity:
        fault = f"“{parts[0].words}” is not a measure of strength that is read here"
        raise asked.refuse(fault) from None


def read_strengths(text: str, *, field: str, measures: Measures) -> tuple[Strength, ...]:
    """A list such as ``salt 60 g/L; alum 30 g/L``; raises ``BadInput``."""
    example = "salt 60 g/L; alum 30 g/L"
    if len(text) > _LONGEST:
        raise BadInput(field, f"longer than {_LONGEST} characters", example)
    pieces = listed(text)
    if not pieces or len(pieces) > _MOST_LISTED:
        raise BadInput(field, f"one to {_MOST_LISTED} strengths are wanted", example)
    found = []
    for piece in pieces:
        named = _NAMED.fullmatch(piece.strip())
        if named is None or not named["name"].isprintable():
            raise BadInput(field, f"“{piece[:40]}” is not a name and a strength", example)
        grams = read_strength(named["strength"], field=field, measures=measures)
        found.append(Strength(substance=named["name"].strip()[:40], g_per_l=grams))
    return tuple(found)
