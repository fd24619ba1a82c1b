"""Hydrometer scales, and what a spindle made for 60 °F reads in a warmer or colder liquor.

Every scale meets the others in the specific gravity 60/60 °F: the density of the liquor at
60 °F over that of water at 60 °F. All but the salometer hold for any liquor heavier than water.
"""

from enum import StrEnum

from benchconsole.chemistry.brine import brine_density, salt_fraction
from benchconsole.chemistry.limits import require_within
from benchconsole.chemistry.water import water_density

#: 60 °F, the temperature the scales are made for.
SCALE_CELSIUS = (60.0 - 32.0) * 5.0 / 9.0

#: Mass fraction of salt at 100 on the salometer: saturation at 60 °F (Salt Institute, chemical
#: properties of salt). Makers also print 26.4 and 26.5 %; a canning scale has 100 at 25 %.
SALOMETER_FULL = 0.26395

#: Modulus of the US Baumé scale for heavy liquids; the old Continental scale had 144.3.
BAUME_MODULUS = 145.0

#: Growth in volume per kelvin of soda-lime hydrometer glass (common practice, from memory).
GLASS_EXPANSION = 25e-6

LIGHTEST = 0.5
HEAVIEST = 2.5

_WATER_60F = water_density(SCALE_CELSIUS)


class HydrometerScale(StrEnum):
    """The scales found in a tannery."""

    SPECIFIC_GRAVITY = "SG"
    SALOMETER = "degSAL"
    BAUME = "degBe"
    TWADDELL = "degTw"
    BARKOMETER = "degBk"


def specific_gravity(scale: HydrometerScale, degrees: float) -> float:
    """Specific gravity 60/60 °F of ``degrees`` on ``scale``.

    Baumé ``145/(145 - n)``, Twaddell ``1 + n/200``, barkometer ``1 + n/1000`` by definition;
    salometer degrees are percent of saturation, turned into density by `brine_density`.
    Raises `OutOfRange` for a salometer reading outside 0 to 100 or a gravity no liquor has.
    """
    gravity = degrees
    match scale:
        case HydrometerScale.SPECIFIC_GRAVITY:
            pass
        case HydrometerScale.SALOMETER:
            require_within("salometer reading", degrees, 0.0, 100.0, "degrees")
            brine = brine_density(SALOMETER_FULL * degrees / 100.0, SCALE_CELSIUS)
            gravity = brine / _WATER_60F
        case HydrometerScale.BAUME:
            require_within("Baumé reading", degrees, 0.0, 87.0, "degrees")
            gravity = BAUME_MODULUS / (BAUME_MODULUS - degrees)
        case HydrometerScale.TWADDELL:
            gravity = 1.0 + degrees / 200.0
        case HydrometerScale.BARKOMETER:
            gravity = 1.0 + degrees / 1000.0
    require_within("specific gravity", gravity, LIGHTEST, HEAVIEST, "")
    return gravity


def hydrometer_degrees(scale: HydrometerScale, gravity: float) -> float:
    """What ``scale`` shows at specific gravity ``gravity`` (60/60 °F); see `specific_gravity`.

    Raises `OutOfRange` for a gravity that no liquor has, or that plain brine cannot have when
    the scale is the salometer.
    """
    require_within("specific gravity", gravity, LIGHTEST, HEAVIEST, "")
    match scale:
        case HydrometerScale.SPECIFIC_GRAVITY:
            return gravity
        case HydrometerScale.SALOMETER:
            salt = salt_fraction(gravity * _WATER_60F, SCALE_CELSIUS)
            return 100.0 * salt / SALOMETER_FULL
        case HydrometerScale.BAUME:
            return BAUME_MODULUS - BAUME_MODULUS / gravity
        case HydrometerScale.TWADDELL:
            return 200.0 * (gravity - 1.0)
        case HydrometerScale.BARKOMETER:
            return 1000.0 * (gravity - 1.0)


def hydrometer_reading(density_kg_m3: float, celsius: float) -> float:
    """Specific gravity that a 60/60 °F spindle shows in a liquor of this density at ``celsius``.

    A floating spindle displaces its own mass, so it reads the density of the liquor as it is,
    a little too high in a warm liquor because the glass has grown.
    """
    return density_kg_m3 * _glass_growth(celsius) / _WATER_60F


def density_from_reading(gravity_read: float, celsius: float) -> float:
    """Density in kg/m³, at ``celsius``, of a liquor in which a 60/60 °F spindle shows this.

    With `salt_fraction` at the same ``celsius`` it gives the temperature-corrected strength of
    a plain brine. The inverse of `hydrometer_reading`.
    """
    require_within("specific gravity", gravity_read, LIGHTEST, HEAVIEST, "")
    return gravity_read * _WATER_60F / _glass_growth(celsius)


def _glass_growth(celsius: float) -> float:
    require_within("liquor temperature", celsius, 0.0, 100.0, "°C")
    return 1.0 + GLASS_EXPANSION * (celsius - SCALE_CELSIUS)
