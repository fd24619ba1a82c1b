"""The room a liquor takes up once everything in it has dissolved.

Method: water and salt by `brine_density`; each other solid adds its apparent volume, which may
be below zero because small strongly charged ions draw water in; liquids mix as if nothing
shrank. Salt beyond `STRONGEST_BRINE` stays crystal. Concentrated sulphuric acid shrinks by a
third of its volume: give it as a solute.
"""

import math
from collections.abc import Sequence

import msgspec

from benchconsole.chemistry.brine import DENSITY_DOUBT, STRONGEST_BRINE, brine_density
from benchconsole.chemistry.limits import OutOfRange, require_amount
from benchconsole.chemistry.water import water_density

#: Density of rock salt crystals, kg/m³ (CRC Handbook, halite; from memory).
SALT_CRYSTAL_DENSITY = 2165.0

#: How far an apparent specific volume may be off, cm³/g, and how much further per share of salt
#: beside it: alum takes 0.08 in water, 0.12 in 6 % brine, 0.16 in 17 % brine (computed with
#: the density model of Laliberté, J. Chem. Eng. Data 54 (2009) 1725).
SPECIFIC_VOLUME_DOUBT = 0.05
SPECIFIC_VOLUME_DOUBT_IN_BRINE = 0.25

#: Shrinking on mixing at great dilution as a share of the liquid's own volume. Spirit and
#: glycerine lose 3 to 6 %, strong organic acids 8 to 10 % (from memory); 15 % also covers
#: the 3.6 % of the whole that half-and-half spirit and water lose.
MIXING_DOUBT = 0.15


class LiquorVolume(msgspec.Struct, frozen=True, kw_only=True):
    """Volume and density of a liquor at the temperature asked for.

    ``undissolved_salt_g`` lies on the bottom and is counted in the volume and the mass.
    ``uncertainty`` is a share of the volume (0.01 = 1 %), ``how_sure`` the same in words.
    """

    volume_l: float
    density_kg_m3: float
    mass_g: float
    undissolved_salt_g: float
    uncertainty: float
    how_sure: str


def liquor_volume(
    water_g: float,
    salt_g: float,
    solutes: Sequence[tuple[float, float]],
    liquids: Sequence[tuple[float, float]],
    celsius: float,
) -> LiquorVolume:
    """Volume of water, salt, other solids and liquids brought together, at ``celsius``.

    ``water_g`` counts the crystal water of what dissolved; ``solutes`` are (grams anhydrous,
    apparent specific volume in cm³/g); ``liquids`` are (grams, density in kg/m³). ``celsius`` is
    the temperature the liquor has cooled to: 0 to 40 °C with salt, 0 to 100 °C without.

    Raises `OutOfRange` outside those temperatures, for a mass below zero, or when there is
    nothing at all.
    """
    _require_masses(water_g, salt_g, solutes, liquids)
    dissolved_g = min(salt_g, water_g * STRONGEST_BRINE / (1.0 - STRONGEST_BRINE))
    crystal_g = salt_g - dissolved_g
    solids_g = sum(mass for mass, _ in solutes)
    brine_cm3 = _brine_cm3(water_g, dissolved_g, celsius)
    watery_cm3 = brine_cm3 + sum(mass * specific_volume for mass, specific_volume in solutes)
    liquid_cm3 = sum(1000.0 * mass / density for mass, density in liquids)
    total_cm3 = watery_cm3 + liquid_cm3 + 1000.0 * crystal_g / SALT_CRYSTAL_DENSITY
    if total_cm3 <= 0.0:
        raise OutOfRange("volume of the liquor", total_cm3, 0.0, math.inf, "mL")

    mass_g = water_g + salt_g + solids_g + sum(mass for mass, _ in liquids)
    shrinking_cm3 = MIXING_DOUBT * liquid_cm3 * max(watery_cm3, 0.0) / total_cm3
    brine_doubt_cm3 = brine_cm3 * DENSITY_DOUBT / 1000.0
    solids_doubt_cm3 = _solids_doubt_cm3(solids_g, water_g, dissolved_g)
    doubt = (brine_doubt_cm3 + solids_doubt_cm3 + shrinking_cm3) / total_cm3
    return LiquorVolume(
        volume_l=total_cm3 / 1000.0,
        density_kg_m3=1000.0 * mass_g / total_cm3,
        mass_g=mass_g,
        undissolved_salt_g=crystal_g,
        uncertainty=doubt,
        how_sure=_in_words(doubt, bool(solutes), bool(liquids), crystal_g > 0.0),
    )


def _require_masses(
    water_g: float,
    salt_g: float,
    solutes: Sequence[tuple[float, float]],
    liquids: Sequence[tuple[float, float]],
) -> None:
    require_amount("mass of water", water_g)
    require_amount("mass of salt", salt_g)
    for mass, _ in solutes:
        require_amount("mass of a dissolved solid", mass)
    for mass, density in liquids:
        require_amount("mass of a liquid", mass)
        if not 0.0 < density < math.inf:
            raise OutOfRange("density of a liquid", density, 0.0, math.inf, "kg/m³")


def _brine_cm3(water_g: float, salt_g: float, celsius: float) -> float:
    if salt_g == 0.0:
        return 1000.0 * water_g / water_density(celsius)
    brine_g = water_g + salt_g
    # The quotient of the strongest brine can land one bit above the limit it came from.
    fraction = min(salt_g / brine_g, STRONGEST_BRINE)
    return 1000.0 * brine_g / brine_density(fraction, celsius)


def _solids_doubt_cm3(solids_g: float, water_g: float, salt_g: float) -> float:
    salt_share = salt_g / (water_g + salt_g) if salt_g > 0.0 else 0.0
    return solids_g * (SPECIFIC_VOLUME_DOUBT + SPECIFIC_VOLUME_DOUBT_IN_BRINE * salt_share)


def _in_words(uncertainty: float, solids: bool, liquids: bool, crystals: bool) -> str:
    reasons = ["water and salt by their density"]
    if solids:
        reasons.append("other solids by the room they take in weak solution")
    if liquids:
        reasons.append("liquids as if nothing shrank on mixing")
    if crystals:
        reasons.append("salt that cannot dissolve counted as crystal")
    percent = math.ceil(1000.0 * uncertainty) / 10.0  # upward: never surer in words than in figures
    return f"within {percent:.1f} %: {', '.join(reasons)}"
