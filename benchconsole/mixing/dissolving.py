"""Does every solid dissolve in its water, and if not: how warm, how much more, what is left."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from benchconsole.chemistry import (
    Bound,
    SolubilityCurve,
    extra_water_to_dissolve_g,
    saturation,
    strength,
    undissolved_g,
)
from benchconsole.mixing.findings import JOINED, Check, WeighedPart
from benchconsole.mixing.working import Working
from benchconsole.model.record import MARK_WORDS, Record
from benchconsole.model.shop import Shop
from benchconsole.model.substances import Solubility, Substance
from benchconsole.quantities import format_mass, format_temperature, format_volume

MOST_THINNING = 3.0
"""Past so many times the water poured, thinning is not offered: it would be another liquor.

Our own choice, no source: at a quarter of its strength it is hardly the recipe any more.
"""


class Water(Record, frozen=True, kw_only=True):
    """The water of a part, or of all parts (``JOINED``), at its temperature in °C.

    ``recipe_celsius`` is what the recipe asks this part to be made at, None where it is silent.
    """

    part: str
    name: str
    celsius: float
    recipe_celsius: float | None = None


class Solid(Record, frozen=True, kw_only=True):
    """Grams of a solid in grams of water, judged at ``at`` °C, the nearest published figure.

    ``have``, ``holds`` and ``at_most`` are grams anhydrous in 100 g of water: what is there,
    and the cautious and the generous limit. ``suspended``: what stays undissolved is meant to.
    """

    substance: Substance
    table: Solubility
    curve: SolubilityCurve
    grams: float
    water_g: float
    water: Water
    at: float
    have: float
    holds: float
    at_most: float
    suspended: bool


def curve_of(substance: Substance) -> SolubilityCurve | None:
    """The solubility curve of a substance, None where the library has too few figures for one."""
    table, molar = substance.solubility, substance.molar_mass
    if table is None or molar is None or len(table.points) < 2:
        return None
    return SolubilityCurve(
        points=tuple((point.celsius, point.low, point.high) for point in table.points),
        molar_mass_anhydrous=substance.anhydrous_molar_mass or molar,
        molar_mass_hydrate=molar,
    )


def solubility_checks(
    water: Water,
    parts: Sequence[WeighedPart],
    substances: Mapping[str, Substance],
    shop: Shop,
) -> list[Check]:
    """Each solid of these parts against its cautious limit in their water.

    Nothing is checked where no water was poured, or no solubility is known.
    """
    water_g = 0.0
    grams_of: dict[str, float] = {}
    suspended: set[str] = set()
    for weighed in parts:
        for ingredient, grams in weighed.pairs():
            form = substances[ingredient.substance].form
            if form == "water":
                water_g += grams
            elif form == "solid":
                grams_of[ingredient.substance] = grams_of.get(ingredient.substance, 0.0) + grams
            if ingredient.suspended:
                suspended.add(ingredient.substance)
    if water_g <= 0.0:
        return []
    found = (
        _solid(substances[key], grams, water_g, water, suspended=key in suspended)
        for key, grams in grams_of.items()
    )
    return [_check(solid, shop) for solid in found if solid is not None]


def _solid(
    substance: Substance, grams: float, water_g: float, water: Water, *, suspended: bool
) -> Solid | None:
    curve, table = curve_of(substance), substance.solubility
    if curve is None or table is None:
        return None
    at = min(max(water.celsius, curve.coldest), curve.warmest)
    return Solid(
        substance=substance,
        table=table,
        curve=curve,
        grams=grams,
        water_g=water_g,
        water=water,
        at=at,
        have=strength(curve, grams, water_g),
        holds=saturation(curve, at, Bound.LOW),
        at_most=saturation(curve, at, Bound.HIGH),
        suspended=suspended,
    )


def _check(solid: Solid, shop: Shop) -> Check:
    share = solid.have / solid.holds
    dissolves = share <= 1.0
    table = solid.table
    if dissolves:
        says = _fits(solid, share, shop)
    elif solid.suspended:
        says = _sediment(solid, shop)
    else:
        says = _does_not_fit(solid, shop)
    return Check(
        code="keeps" if solid.water.part == JOINED else "dissolves",
        substance=solid.substance.id,
        part=solid.water.part,
        ok=dissolves or solid.suspended,
        value=share,
        says=says + _figures_end(solid, shop),
        working=Working(
            title=f"{solid.substance.name} in {solid.water.name}",
            inputs=(
                (f"{solid.substance.name} as weighed", f"{solid.grams:.1f} g"),
                ("water poured", f"{solid.water_g:.0f} g"),
                ("water temperature", f"{solid.water.celsius:g} °C"),
                ("judged by the figures for", f"{solid.at:g} °C"),
                ("dissolved, anhydrous", f"{solid.have:.2f} g in 100 g of water, crystals' too"),
                ("water holds", f"{solid.holds:.2f} to {solid.at_most:.2f} g in 100 g"),
            ),
            equation="share = dissolved ÷ what the water holds (the lower figure)",
            result=f"{100 * share:.0f} % of saturation",
            source=f"{table.source} ({MARK_WORDS.get(table.mark, table.mark)})",
            sure=f"{table.note} Other solutes are left out.".strip(),
        ),
    )


def _fits(solid: Solid, share: float, shop: Shop) -> str:
    warmth = format_temperature(solid.at, measures=shop.measures)
    name, percent = solid.substance.name, f"{100 * share:.0f} %"
    told = f"{name} in {solid.water.name}: {percent} of what water at {warmth} holds."
    coldest = _coldest_that_holds(solid)
    if coldest is None:
        return told
    return f"{told} Below {format_temperature(coldest, measures=shop.measures)} crystals fall out."


def _coldest_that_holds(solid: Solid) -> int | None:
    """The whole degree below which a liquor that is clear now drops crystals; None if none does.

    By the cautious figure, so crystals may keep away for some degrees more.
    """
    degrees = range(math.ceil(solid.curve.coldest), math.floor(solid.at) + 1)
    holds = [t for t in degrees if saturation(solid.curve, t, Bound.LOW) >= solid.have]
    return min(holds) if holds and len(holds) < len(degrees) else None


def _sediment(solid: Solid, shop: Shop) -> str:
    name, lies = solid.substance.name, _left(solid, shop)
    return f"{name}: about {lies} of it is meant to stay as a sediment: stir it up."


def _left(solid: Solid, shop: Shop) -> str:
    """What does not dissolve, by the cautious limit."""
    left = undissolved_g(solid.curve, solid.grams, solid.water_g, solid.at, Bound.LOW)
    return format_mass(left, measures=shop.measures, step_g=max(shop.scale.step_g, 1.0))


def _does_not_fit(solid: Solid, shop: Shop) -> str:
    lies = _left(solid, shop)
    warmth = format_temperature(solid.at, measures=shop.measures)
    name, sure = solid.substance.name, "will" if solid.have > solid.at_most else "may"
    told = (
        f"{name} {sure} fall out again at {warmth}: up to {lies} of crystals."
        if solid.water.part == JOINED
        else f"{name} {sure} not all dissolve at {warmth}: about {lies} stays on the bottom."
    )
    enough = _recipe_is_enough(solid)
    if enough is not None and solid.water.recipe_celsius is not None:
        asked = format_temperature(solid.water.recipe_celsius, measures=shop.measures)
        told += f" The recipe's {asked} is {'warm enough' if enough else 'not warm enough either'}."
    if enough:
        return told
    # More water thins the liquor as well, so it is named second.
    ways = [way for way in (_other_warmth(solid, shop), _more_water(solid, shop)) if way]
    if ways:
        advice = ", or ".join(ways)
        return f"{told} {advice[0].upper()}{advice[1:]}."
    times = solid.have / solid.holds
    note = f" {solid.table.note}" if _dissolves_less_when_warm(solid.curve) else ""
    return f"{told} That is {times:.0f} times what the water holds, warm or cold.{note}"


def _recipe_is_enough(solid: Solid) -> bool | None:
    """Whether all dissolves at the recipe's temperature; None where it asks for none warmer."""
    recipe = solid.water.recipe_celsius
    if recipe is None or recipe <= solid.water.celsius:
        return None
    at = min(max(recipe, solid.curve.coldest), solid.curve.warmest)
    return saturation(solid.curve, at, Bound.LOW) >= solid.have


def _other_warmth(solid: Solid, shop: Shop) -> str:
    """The nearest temperature that would do, in words; empty if no published one does."""
    curve = solid.curve
    degrees = range(math.ceil(curve.coldest), math.floor(curve.warmest) + 1)
    fits = [t for t in degrees if saturation(curve, t, Bound.LOW) >= solid.have]
    if not fits:
        return ""
    nearest = min(fits, key=lambda t: abs(t - solid.at))
    warmer = nearest > solid.at
    warmth = format_temperature(nearest, measures=shop.measures)
    if solid.water.part == JOINED:
        return f"keep it {'above' if warmer else 'below'} {warmth}"
    return f"warm the water to {warmth}" if warmer else f"take cooler water, {warmth}"


def _more_water(solid: Solid, shop: Shop) -> str:
    more = extra_water_to_dissolve_g(solid.curve, solid.grams, solid.water_g, solid.at, Bound.LOW)
    if more > MOST_THINNING * solid.water_g:
        return ""
    return f"add {format_volume(more / 1000.0, measures=shop.measures)} more water"


def _figures_end(solid: Solid, shop: Shop) -> str:
    """Nothing is guessed beyond the published temperatures; the sentence says where they end."""
    if solid.at == solid.water.celsius:
        return ""
    warmth = format_temperature(solid.at, measures=shop.measures)
    side = "warmer" if solid.water.celsius > solid.at else "colder"
    return f" No figures are known for {side} water than {warmth}."


def _dissolves_less_when_warm(curve: SolubilityCurve) -> bool:
    warm = saturation(curve, curve.warmest, Bound.LOW)
    return warm < saturation(curve, curve.coldest, Bound.LOW)
