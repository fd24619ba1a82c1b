"""What comes of bringing substances together: finished volume, density, strengths."""

from __future__ import annotations

from collections.abc import Iterable

from benchconsole.chemistry import liquor_volume, water_density
from benchconsole.mixing.working import Working
from benchconsole.model.formulas import Ingredient
from benchconsole.model.record import Record
from benchconsole.model.substances import Substance
from benchconsole.model.weighing import Strength
from benchconsole.quantities import format_number

COOLED_CELSIUS = 20.0
"""Hot water is for dissolving: a liquor mixed above ``WARMEST_BATH`` is stated cooled to this."""

WARMEST_BATH = 40.0
"""The brine law ends here, and so does any bath a skin survives."""


class LiquorFigures(Record, frozen=True, kw_only=True):
    """A finished liquor at ``celsius``: strengths in grams, as weighed, for a litre of it."""

    volume_l: float
    density_kg_m3: float
    mass_g: float
    celsius: float
    strengths: tuple[Strength, ...]
    how_sure: str
    working: Working


def grams_of(ingredient: Ingredient, substance: Substance, celsius: float) -> float:
    """Grams of one ingredient of the recipe as written.

    Volumes of water at ``celsius``, other volumes by the substance's density. Raises
    ValueError for a volume of something without a density (the loader refuses such a formula).
    """
    if ingredient.mass_g is not None:
        return ingredient.mass_g
    litres = ingredient.volume_l or 0.0
    if substance.form == "water":
        return litres * water_density(celsius)
    if substance.density is None:
        raise ValueError(f"{substance.id} is measured by volume but has no density")
    return litres * substance.density.value


def liquor_figures(amounts: Iterable[tuple[Substance, float]], celsius: float) -> LiquorFigures:
    """Volume, density and strengths of (substance, grams) brought together and dissolved.

    Water of crystallisation counts as water. Salt is taken as the substance whose id is
    ``salt``; its brine law carries it. Method: :func:`benchconsole.chemistry.liquor_volume`.
    """
    kept = [(substance, grams) for substance, grams in amounts if grams > 0.0]
    stated_at = celsius if celsius <= WARMEST_BATH else COOLED_CELSIUS
    water = salt = 0.0
    solutes: list[tuple[float, float]] = []
    liquids: list[tuple[float, float]] = []
    for substance, grams in kept:
        if substance.form == "water":
            water += grams
        elif substance.id == "salt":
            salt += grams
        elif substance.form == "solid":
            dry = grams * substance.anhydrous_share
            water += grams - dry
            room = substance.specific_volume.value if substance.specific_volume else 0.0
            solutes.append((dry, room))
        elif substance.density is not None:
            liquids.append((grams, substance.density.value))
    found = liquor_volume(water, salt, solutes, liquids, stated_at)
    strengths = tuple(
        Strength(substance=substance.id, g_per_l=grams / found.volume_l)
        for substance, grams in kept
        if substance.form != "water"
    )
    return LiquorFigures(
        volume_l=found.volume_l,
        density_kg_m3=found.density_kg_m3,
        mass_g=found.mass_g,
        celsius=stated_at,
        strengths=strengths,
        how_sure=found.how_sure,
        working=Working(
            title="Finished volume",
            inputs=(
                ("water, with crystal water", f"{water:.0f} g"),
                ("salt", f"{salt:.0f} g"),
                *((f"solid, {room:g} cm³/g dissolved", f"{dry:.1f} g") for dry, room in solutes),
                *((f"liquid of {density:g} kg/m³", f"{g:.1f} g") for g, density in liquids),
                ("temperature", f"{format_number(stated_at, 3)} °C"),
            ),
            equation="volume = brine ÷ its density + Σ solids × room taken + Σ liquids ÷ density",
            result=f"{found.volume_l:.3f} L at {found.density_kg_m3:.1f} kg/m³",
            source="brine: International Critical Tables fit; solids: the figures in the library",
            sure=found.how_sure,
        ),
    )
