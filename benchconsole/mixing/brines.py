"""A measured volume of brine, and its strength in every way that a book or a spindle states it."""

from __future__ import annotations

from enum import StrEnum

from benchconsole.chemistry import (
    STRONGEST_BRINE,
    HydrometerScale,
    OutOfRange,
    brine_density,
    density_from_reading,
    hydrometer_degrees,
    hydrometer_reading,
    salt_fraction,
    specific_gravity,
    water_density,
)
from benchconsole.chemistry.brine import COLDEST_BRINE, HOTTEST_BRINE
from benchconsole.chemistry.hydrometer import SCALE_CELSIUS
from benchconsole.errors import BadInput
from benchconsole.mixing.bounds import require_between, require_volume
from benchconsole.mixing.working import Working, plain
from benchconsole.model.record import Record
from benchconsole.model.shop import Shop
from benchconsole.quantities import format_strength, format_temperature

BRINE_SOURCE = (
    "density: fit to the International Critical Tables, in Sodium Chloride, ACS Monograph 145 "
    "(1960); 100 on the salometer is 26.395 % at 60 °F; Baumé 145 − 145 ÷ SG; "
    "barkometer 1000 × (SG − 1)"
)
BRINE_SURE = (
    "density within 0.5 kg/m³, a tenth of a percentage point of salt; anything dissolved besides "
    "salt, alum or dirt, makes the spindle read too high"
)

_SATURATED_GRAVITY = brine_density(STRONGEST_BRINE, SCALE_CELSIUS) / water_density(SCALE_CELSIUS)

# Bisection on g/L needs no more halvings than the bits of a float.
_HALVINGS = 52


class StrengthMeasure(StrEnum):
    """Ways of stating the strength of a brine by weight or volume; spindle scales come beside."""

    PERCENT = "% w/w"
    GRAMS_PER_LITRE = "g/L"
    PER_100_G_WATER = "g/100 g water"


Measure = StrengthMeasure | HydrometerScale


class SpindleDegrees(Record, frozen=True, kw_only=True):
    """What each spindle shows; ``salometer`` is None where the reading is off its 0 to 100.

    In a warm and weak brine a spindle sinks past its zero, and the others are below 0.
    """

    specific_gravity: float
    salometer: float | None
    baume: float
    twaddell: float
    barkometer: float


class Brine(Record, frozen=True, kw_only=True):
    """``volume_l`` litres of salt in water at ``celsius``, ``salt_share`` grams in each gram."""

    volume_l: float
    salt_share: float
    celsius: float

    @property
    def density_kg_m3(self) -> float:
        """Density at its own temperature."""
        return brine_density(self.salt_share, self.celsius)

    @property
    def mass_g(self) -> float:
        """All of it, in grams."""
        return self.volume_l * self.density_kg_m3

    @property
    def salt_g(self) -> float:
        """The salt in it, in grams."""
        return self.mass_g * self.salt_share

    @property
    def g_per_l(self) -> float:
        """Grams of salt in a litre of it at its own temperature."""
        return self.density_kg_m3 * self.salt_share


class BrineStrength(Record, frozen=True, kw_only=True):
    """One strength in every measure: ``degrees`` as at 60 °F, ``shows`` in the brine as it is.

    ``salt_share`` is grams of salt per gram of brine, ``density_kg_m3`` and ``g_per_l`` hold at
    ``celsius``.
    """

    celsius: float
    salt_share: float
    density_kg_m3: float
    g_per_l: float
    g_per_100g_water: float
    degrees: SpindleDegrees
    shows: SpindleDegrees
    says: str
    working: Working


def brine(volume_l: float, measure: Measure, value: float, celsius: float) -> Brine:
    """A measured volume of this strength; see :func:`salt_share` for ``value`` and refusals."""
    require_volume("volume", volume_l)
    return Brine(volume_l=volume_l, salt_share=salt_share(measure, value, celsius), celsius=celsius)


def salt_share(measure: Measure, value: float, celsius: float) -> float:
    """Grams of salt in a gram of brine, from its strength in any measure.

    ``value`` in percent, g/L at ``celsius``, g per 100 g of water, or what a 60/60 °F spindle
    shows in the brine at ``celsius``: the growth of glass and brine is taken out. Raises
    ``BadInput`` outside 0 to 40 °C and for what no brine can be.
    """
    require_brine_celsius(celsius)
    match measure:
        case StrengthMeasure.PERCENT:
            _require("strength", value, 100.0 * STRONGEST_BRINE, "% w/w", "12 % w/w")
            return value / 100.0
        case StrengthMeasure.PER_100_G_WATER:
            most = 100.0 * STRONGEST_BRINE / (1.0 - STRONGEST_BRINE)
            _require("strength", value, most, "g in 100 g of water", "10 g")
            return min(value / (100.0 + value), STRONGEST_BRINE)
        case StrengthMeasure.GRAMS_PER_LITRE:
            most = STRONGEST_BRINE * brine_density(STRONGEST_BRINE, celsius)
            _require("strength", value, most, "g/L", "120 g/L")
            return _share_of(value, celsius)
        case _:
            return _share_from_spindle(measure, value, celsius)


def brine_strength(measure: Measure, value: float, celsius: float, shop: Shop) -> BrineStrength:
    """The same strength in every measure, at ``celsius``; refusals as :func:`salt_share`."""
    share = salt_share(measure, value, celsius)
    density = brine_density(share, celsius)
    true = spindle_degrees(share, SCALE_CELSIUS)
    shows = spindle_degrees(share, celsius)
    percent, grams = f"{100.0 * share:.1f} % salt by weight", format_strength(share * density)
    return BrineStrength(
        celsius=celsius,
        salt_share=share,
        density_kg_m3=density,
        g_per_l=share * density,
        g_per_100g_water=100.0 * share / (1.0 - share),
        degrees=true,
        shows=shows,
        says=f"This brine is {percent}, {grams}, {salometer_words(true)}.",
        working=Working(
            title="Strength of the brine",
            inputs=(
                (f"as given, {measure.value}", plain(value)),
                ("temperature", format_temperature(celsius, measures=shop.measures, digits=1)),
            ),
            equation="salt share = salt ÷ (salt + water); density = water + a·w + b·w² + c·w³; "
            "spindle shows density × glass growth ÷ water at 60 °F",
            result=f"{percent}, {grams}, SG {true.specific_gravity:.4f} at 60 °F; "
            f"a spindle here shows SG {shows.specific_gravity:.4f}",
            source=BRINE_SOURCE,
            sure=BRINE_SURE,
        ),
    )


def spindle_degrees(share: float, celsius: float) -> SpindleDegrees:
    """What 60/60 °F spindles show in a brine of this salt share at ``celsius``."""
    gravity = hydrometer_reading(brine_density(share, celsius), celsius)
    # The chemistry forgives half a kg/m³ off either end of the scale; a mark shown must be there.
    marked = 1.0 <= gravity <= _SATURATED_GRAVITY
    salometer = hydrometer_degrees(HydrometerScale.SALOMETER, gravity) if marked else None
    return SpindleDegrees(
        specific_gravity=gravity,
        salometer=salometer,
        baume=hydrometer_degrees(HydrometerScale.BAUME, gravity),
        twaddell=hydrometer_degrees(HydrometerScale.TWADDELL, gravity),
        barkometer=hydrometer_degrees(HydrometerScale.BARKOMETER, gravity),
    )


def salometer_words(degrees: SpindleDegrees) -> str:
    """ "38 degrees salometer (10.3 °Bé)", or what else a warm weak or a cold strong brine shows."""
    baume = f"{degrees.baume:.1f} °Bé"
    if degrees.specific_gravity < 1.0:
        return "just under its zero"
    if degrees.salometer is None:
        return baume
    return f"{degrees.salometer:.0f} degrees salometer ({baume})"


def require_brine_celsius(celsius: float) -> None:
    """Raise ``BadInput`` for a temperature at which the density of brine is not known."""
    bounds = f"between {COLDEST_BRINE:g} and {HOTTEST_BRINE:g} °C"
    require_between("brine temperature", celsius, COLDEST_BRINE, HOTTEST_BRINE, bounds, "15 °C")


def require_share(field: str, share: float) -> None:
    """Raise ``BadInput`` for grams of salt in a gram that no brine holds."""
    _require(field, share, STRONGEST_BRINE, "g of salt in a gram of brine", "0.12")


def require_brine(field: str, found: Brine, *, zero: bool = False) -> None:
    """Raise ``BadInput`` for a brine of no volume (unless ``zero``), strength or temperature."""
    require_volume(field, found.volume_l, zero=zero)
    require_share(f"strength of the {field}", found.salt_share)
    require_brine_celsius(found.celsius)


def _require(field: str, number: float, most: float, unit: str, example: str) -> None:
    require_between(field, number, 0.0, most, f"between 0 and {plain(most)} {unit}", example)


def _share_from_spindle(scale: HydrometerScale, reading: float, celsius: float) -> float:
    try:
        read = specific_gravity(scale, reading)
        return salt_fraction(density_from_reading(read, celsius), celsius)
    except OutOfRange:
        weakest = spindle_degrees(0.0, celsius).specific_gravity
        strongest = spindle_degrees(STRONGEST_BRINE, celsius).specific_gravity
        fault = (
            f"no brine at {plain(celsius)} °C reads {plain(reading)} {scale.value}: plain water "
            f"reads SG {weakest:.3f}, saturated brine SG {strongest:.3f}"
        )
        raise BadInput("hydrometer reading", fault, _READING_EXAMPLES[scale]) from None


_READING_EXAMPLES = {
    HydrometerScale.SPECIFIC_GRAVITY: "1.073",
    HydrometerScale.SALOMETER: "38 degSAL",
    HydrometerScale.BAUME: "9.8 degBe",
    HydrometerScale.TWADDELL: "14.6 degTw",
    HydrometerScale.BARKOMETER: "73 degBk",
}


def _share_of(grams_per_litre: float, celsius: float) -> float:
    """Bisection on density × share, which rises with the share."""
    low, high = 0.0, STRONGEST_BRINE
    for _ in range(_HALVINGS):
        middle = (low + high) / 2.0
        if middle * brine_density(middle, celsius) < grams_per_litre:
            low = middle
        else:
            high = middle
    return (low + high) / 2.0
