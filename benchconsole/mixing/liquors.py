"""What comes of bringing substances together: finished volume, density, strengths."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import msgspec

from benchconsole.chemistry import LiquorVolume, OutOfRange, liquor_volume, water_density
from benchconsole.errors import BadInput
from benchconsole.mixing.degrees import BrineDegrees, degrees_of
from benchconsole.mixing.working import Working, plain
from benchconsole.model.formulas import Ingredient
from benchconsole.model.record import Record
from benchconsole.model.substances import Substance
from benchconsole.model.weighing import Strength

COOLED_CELSIUS = 20.0
"""What a liquor mixed warmer than ``WARMEST_BATH`` is stated at: hot water is for dissolving.

20 °C is our own choice, no source: a room, and where handbooks state densities.
"""

WARMEST_BATH = 40.0
"""The density law of brine ends here (its fit goes from 0 to 40 °C).

That a liquor warmer than this is left to cool before a skin goes in is our own choice, no source.
"""


class LiquorFigures(Record, frozen=True, kw_only=True):
    """A finished liquor at ``celsius``: strengths in grams, as weighed, for a litre of it.

    ``degrees`` is None where it is no brine.
    """

    volume_l: float
    density_kg_m3: float
    mass_g: float
    celsius: float
    strengths: tuple[Strength, ...]
    degrees: BrineDegrees | None
    how_sure: str
    working: Working


def density_of(substance: Substance, celsius: float) -> float | None:
    """Kilograms in a cubic metre, None where unknown: water by its law at ``celsius``.

    Water at the tap's own temperature, since that is what the jug measures; all else by the
    library's figure.
    """
    if substance.form == "water":
        return water_density(celsius)
    return substance.density.value if substance.density else None


def grams_of(ingredient: Ingredient, substance: Substance, celsius: float) -> float:
    """Grams of one ingredient of the recipe as written, volumes by :func:`density_of`.

    Raises ``BadInput`` for a volume of something without a density.
    """
    if ingredient.mass_g is not None:
        return ingredient.mass_g
    density = density_of(substance, celsius)
    if density is None:
        raise BadInput(
            "formula", f"{substance.name} goes by volume, but its density is not known", "50 g"
        )
    return (ingredient.volume_l or 0.0) * density


def figures_of(amounts: Iterable[tuple[Substance, float]], celsius: float) -> LiquorFigures | None:
    """What :func:`liquor_figures` finds, or None where there is no liquor to speak of.

    That is: nothing wet is in it, or so little that the laws give it no volume.
    """
    kept = list(amounts)
    if not any(substance.form != "solid" and grams > 0.0 for substance, grams in kept):
        return None
    try:
        return liquor_figures(kept, celsius)
    except OutOfRange:
        return None


def liquor_figures(amounts: Iterable[tuple[Substance, float]], celsius: float) -> LiquorFigures:
    """Volume, density and strengths of (substance, grams) brought together and dissolved.

    Water of crystallisation counts as water; a substance named twice is added up. Salts that
    make a brine follow its density law. What has no figure for its room is left out of the
    volume, and ``how_sure`` names it. Method: :func:`benchconsole.chemistry.liquor_volume`,
    which raises ``OutOfRange`` for no volume.
    """
    kept = _added_up(amounts)
    stated_at = celsius if celsius <= WARMEST_BATH else COOLED_CELSIUS
    kinds = _kinds_of(kept)
    found = liquor_volume(kinds.water_g, kinds.salt_g, kinds.solutes, kinds.liquids, stated_at)
    if kinds.roomless:
        left_out = f"the room of {' and '.join(kinds.roomless)} is not known and left out"
        found = msgspec.structs.replace(found, how_sure=f"{found.how_sure}; {left_out}")
    return LiquorFigures(
        volume_l=found.volume_l,
        density_kg_m3=found.density_kg_m3,
        mass_g=found.mass_g,
        celsius=stated_at,
        strengths=tuple(
            Strength(substance=substance.id, g_per_l=grams / found.volume_l)
            for substance, grams in kept
            if substance.form != "water"
        ),
        degrees=degrees_of(kept, kinds.salt_g, kinds.water_g, stated_at),
        how_sure=found.how_sure,
        working=_volume_working(found, kinds, stated_at),
    )


def _added_up(amounts: Iterable[tuple[Substance, float]]) -> list[tuple[Substance, float]]:
    total: dict[str, tuple[Substance, float]] = {}
    for substance, grams in amounts:
        if grams > 0.0:
            _, before = total.get(substance.id, (substance, 0.0))
            total[substance.id] = (substance, before + grams)
    return list(total.values())


class _Kinds(Record, frozen=True, kw_only=True):
    """Substances by the law they follow; ``roomless`` names what has no figure for its room.

    ``solutes`` are (grams anhydrous, cm³/g), ``liquids`` (grams, kg/m³).
    """

    water_g: float
    salt_g: float
    solutes: tuple[tuple[float, float], ...]
    liquids: tuple[tuple[float, float], ...]
    roomless: tuple[str, ...]


def _kinds_of(amounts: Sequence[tuple[Substance, float]]) -> _Kinds:
    water = salt = 0.0
    solutes: list[tuple[float, float]] = []
    liquids: list[tuple[float, float]] = []
    roomless: list[str] = []
    for substance, grams in amounts:
        if substance.form == "water":
            water += grams
        elif substance.brine:
            salt += grams
        elif substance.form == "solid":
            dry = grams * substance.anhydrous_share
            water += grams - dry
            if substance.specific_volume is None:
                roomless.append(substance.name)
            room = substance.specific_volume.value if substance.specific_volume else 0.0
            solutes.append((dry, room))
        elif substance.density is not None:
            liquids.append((grams, substance.density.value))
        else:
            roomless.append(substance.name)
    return _Kinds(
        water_g=water,
        salt_g=salt,
        solutes=tuple(solutes),
        liquids=tuple(liquids),
        roomless=tuple(roomless),
    )


def _volume_working(found: LiquorVolume, kinds: _Kinds, celsius: float) -> Working:
    return Working(
        title="Finished volume",
        inputs=(
            ("water, with crystal water", f"{kinds.water_g:.0f} g"),
            ("salt", f"{kinds.salt_g:.0f} g"),
            *((f"solid, {room:g} cm³/g dissolved", f"{dry:.1f} g") for dry, room in kinds.solutes),
            *((f"liquid of {density:g} kg/m³", f"{g:.1f} g") for g, density in kinds.liquids),
            ("temperature", f"{plain(celsius)} °C"),
        ),
        equation="volume = brine ÷ its density + Σ solids × room taken + Σ liquids ÷ density",
        result=f"{found.volume_l:.3f} L at {found.density_kg_m3:.1f} kg/m³",
        source="brine: International Critical Tables fit; solids: the figures in the library",
        sure=found.how_sure,
    )
