"""What a check works on and what it finds."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from benchconsole.mixing.working import Working
from benchconsole.model.formulas import Ingredient, Part
from benchconsole.model.record import Record

JOINED = "joined"
"""The ``part`` of a check on the liquor that all parts make together."""


class WeighedPart(Record, frozen=True, kw_only=True):
    """A part with the grams of its ingredients, in order."""

    part: Part
    grams: tuple[float, ...]

    def pairs(self) -> Iterator[tuple[Ingredient, float]]:
        """Ingredients with their grams."""
        return zip(self.part.ingredients, self.grams, strict=True)


class Check(Record, frozen=True, kw_only=True):
    """One check: ``value`` is a share of its limit (1 is the limit), ``says`` the sentence.

    Codes: ``dissolves`` (a part at the water's temperature), ``keeps`` (the finished liquor at
    the temperature it cools to), ``scale-step`` (the scale is fine enough), ``scale-capacity``
    (in one bowl), ``container`` (room for foam). With a value of its own: ``ph`` (the pH),
    ``salt-before-acid`` (g/L of salt), ``basicity`` (per cent), ``alum-offer`` (alum in per cent
    of the hide). With 0: ``ph-not-known``, ``alum-not-known`` (why not), ``clash``, ``order``.
    """

    code: str
    substance: str
    part: str
    ok: bool
    value: float
    says: str
    working: Working


def grams_by_substance(parts: Sequence[WeighedPart]) -> dict[str, float]:
    """Grams of each substance in all these parts, in order of first mention."""
    total: dict[str, float] = {}
    for weighed in parts:
        for ingredient, grams in weighed.pairs():
            total[ingredient.substance] = total.get(ingredient.substance, 0.0) + grams
    return total
