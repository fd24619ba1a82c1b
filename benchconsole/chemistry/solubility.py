"""How much of a solid dissolves, how warm or wet it must be, and what is left on the bottom.

Masses of a substance are of the thing on the scale, crystals with their water; solubility is in
grams of the anhydrous substance per 100 g of *total* water, which is the water poured in plus
the crystal water that the dissolved crystals set free. Crystals left on the bottom keep theirs.
Other solutes are taken not to matter; salt raises the solubility of alum, so the cautious
bound warns early, never late.
"""

import math
from enum import StrEnum
from itertools import pairwise

import msgspec

from benchconsole.chemistry.limits import require_amount, require_within


class Bound(StrEnum):
    """Which edge of the published band: the cautious one, or the most that anyone found."""

    LOW = "low"
    HIGH = "high"


class SolubilityCurve(msgspec.Struct, frozen=True, kw_only=True):
    """Published solubility of one product.

    ``points`` are (°C, low, high) with rising temperatures, low and high in grams anhydrous per
    100 g of total water. ``molar_mass_hydrate`` is that of the product weighed out, the same as
    ``molar_mass_anhydrous`` when it holds no water. Both in g/mol.
    Raises ValueError for points or masses that make no curve.
    """

    points: tuple[tuple[float, float, float], ...]
    molar_mass_anhydrous: float
    molar_mass_hydrate: float

    def __post_init__(self) -> None:
        if len(self.points) < 2:
            raise ValueError("a solubility curve needs at least two temperatures")
        for (colder, _, _), (warmer, _, _) in pairwise(self.points):
            if not colder < warmer:
                raise ValueError(f"temperatures must rise, but {warmer:g} follows {colder:g}")
        for celsius, low, high in self.points:
            if not 0.0 < low <= high < math.inf:
                raise ValueError(f"at {celsius:g} °C low must be above 0 and not above high")
        if not 0.0 < self.molar_mass_anhydrous <= self.molar_mass_hydrate < math.inf:
            raise ValueError("a hydrate cannot be lighter than the anhydrous substance")

    @property
    def coldest(self) -> float:
        """Lowest temperature with a published figure, °C."""
        return self.points[0][0]

    @property
    def warmest(self) -> float:
        """Highest temperature with a published figure, °C."""
        return self.points[-1][0]

    @property
    def anhydrous_share(self) -> float:
        """Grams of anhydrous substance in one gram of the product."""
        return self.molar_mass_anhydrous / self.molar_mass_hydrate


def saturation(curve: SolubilityCurve, celsius: float, bound: Bound = Bound.LOW) -> float:
    """Grams anhydrous per 100 g of total water in a saturated solution at ``celsius``.

    Between points the logarithm of solubility is a straight line of temperature: over ten
    degrees that follows van 't Hoff's law, bends upward as alum and borax do, and can be
    inverted exactly. Raises `OutOfRange` outside the published temperatures.
    """
    require_within("water temperature", celsius, curve.coldest, curve.warmest, "°C")
    for (cold, at_cold), (warm, at_warm) in pairwise(_edge(curve, bound)):
        if celsius <= warm:
            share = (celsius - cold) / (warm - cold)
            return float(at_cold ** (1.0 - share) * at_warm**share)
    raise AssertionError("a temperature within range lies in a segment")


def anhydrous_g(curve: SolubilityCurve, hydrate_g: float) -> float:
    """Grams of anhydrous substance in ``hydrate_g`` grams of the product."""
    require_amount("mass of crystals", hydrate_g)
    return hydrate_g * curve.anhydrous_share


def crystal_water_g(curve: SolubilityCurve, hydrate_g: float) -> float:
    """Grams of water that ``hydrate_g`` grams of the product set free on dissolving."""
    require_amount("mass of crystals", hydrate_g)
    return hydrate_g * (1.0 - curve.anhydrous_share)


def hydrate_g(curve: SolubilityCurve, anhydrous_g: float) -> float:
    """Grams of the product that hold ``anhydrous_g`` grams of anhydrous substance."""
    require_amount("mass of anhydrous substance", anhydrous_g)
    return anhydrous_g / curve.anhydrous_share


def strength(curve: SolubilityCurve, hydrate_g: float, water_g: float) -> float:
    """Grams anhydrous per 100 g of total water if all of ``hydrate_g`` went into ``water_g``.

    Endless when there is no water at all; compare with `saturation`.
    """
    require_amount("mass of water", water_g)
    dry = anhydrous_g(curve, hydrate_g)
    water = water_g + crystal_water_g(curve, hydrate_g)
    if dry == 0.0:
        return 0.0
    return 100.0 * dry / water if water > 0.0 else math.inf


def dissolvable_g(
    curve: SolubilityCurve, water_g: float, celsius: float, bound: Bound = Bound.LOW
) -> float:
    """Most grams of the product that dissolve in ``water_g`` grams of poured water at ``celsius``.

    Endless when the crystals carry more water than their own salt needs (washing soda near
    32 °C melts in it). Raises `OutOfRange` as `saturation` does.
    """
    require_amount("mass of water", water_g)
    per_gram = saturation(curve, celsius, bound) / 100.0
    freed = 1.0 - curve.anhydrous_share
    short_of = curve.anhydrous_share - per_gram * freed
    return per_gram * water_g / short_of if short_of > 0.0 else math.inf


def undissolved_g(
    curve: SolubilityCurve,
    hydrate_g: float,
    water_g: float,
    celsius: float,
    bound: Bound = Bound.LOW,
) -> float:
    """Grams of the product left lying on the bottom, as crystals with their own water in them.

    Holds for crystals that stay what they were; an anhydrous powder that cakes into a hydrate
    ties up more water and leaves more. Raises `OutOfRange` as `saturation` does.
    """
    require_amount("mass of crystals", hydrate_g)
    return max(0.0, hydrate_g - dissolvable_g(curve, water_g, celsius, bound))


def extra_water_to_dissolve_g(
    curve: SolubilityCurve,
    hydrate_g: float,
    water_g: float,
    celsius: float,
    bound: Bound = Bound.LOW,
) -> float:
    """Grams of water to add to ``water_g`` so that all of ``hydrate_g`` dissolves at ``celsius``.

    Raises `OutOfRange` as `saturation` does.
    """
    require_amount("mass of water", water_g)
    total = 100.0 * anhydrous_g(curve, hydrate_g) / saturation(curve, celsius, bound)
    return max(0.0, total - crystal_water_g(curve, hydrate_g) - water_g)


def _edge(curve: SolubilityCurve, bound: Bound) -> list[tuple[float, float]]:
    return [(t, low if bound is Bound.LOW else high) for t, low, high in curve.points]
