"""Laws of solutions as functions of plain numbers; not what a workshop mixes, keeps or names."""

from benchconsole.chemistry.brine import STRONGEST_BRINE, brine_density, salt_fraction
from benchconsole.chemistry.hydrometer import (
    HydrometerScale,
    density_from_reading,
    hydrometer_degrees,
    hydrometer_reading,
    specific_gravity,
)
from benchconsole.chemistry.limits import OutOfRange
from benchconsole.chemistry.solubility import (
    Bound,
    SolubilityCurve,
    anhydrous_g,
    crystal_water_g,
    dissolvable_g,
    extra_water_to_dissolve_g,
    hydrate_g,
    saturation,
    strength,
    undissolved_g,
)
from benchconsole.chemistry.volume import LiquorVolume, liquor_volume
from benchconsole.chemistry.water import water_density

__all__ = [
    "STRONGEST_BRINE",
    "Bound",
    "HydrometerScale",
    "LiquorVolume",
    "OutOfRange",
    "SolubilityCurve",
    "anhydrous_g",
    "brine_density",
    "crystal_water_g",
    "density_from_reading",
    "dissolvable_g",
    "extra_water_to_dissolve_g",
    "hydrate_g",
    "hydrometer_degrees",
    "hydrometer_reading",
    "liquor_volume",
    "salt_fraction",
    "saturation",
    "specific_gravity",
    "strength",
    "undissolved_g",
    "water_density",
]
