"""Density of salt brine, and the salt in a brine of known density.

Method: ``rho = rho_water(T) + (a0 + a1 T + a2 T²) w + (b0 + b1 T + b2 T²) w² + (c0 + c1 T) w³``,
a least-squares fit to the sodium chloride table of the International Critical Tables as reprinted
in Kaufmann (ed.), Sodium Chloride, ACS Monograph 145 (1960), 0 to 26 % and 0 to 40 °C. It lies
within 0.13 kg/m³ of that table and 0.35 kg/m³ of two later ones. At saturation the sources part:
Kaufmann's separate saturation line is 1.0 kg/m³ lighter at 10 °C.
"""

from benchconsole.chemistry.limits import OutOfRange, require_within
from benchconsole.chemistry.water import water_density

COLDEST_BRINE = 0.0
HOTTEST_BRINE = 40.0

#: Mass fraction up to which the law holds: brine saturated at bench temperature (26.4 %).
STRONGEST_BRINE = 0.264

#: What the law may be wrong by, in kg/m³; also the slack allowed to a measured density.
DENSITY_DOUBT = 0.5

_LINEAR = (762.553, -3.33526, 0.0323194)
_SQUARE = (19.7666, 6.57172, -0.0646334)
_CUBE = (434.326, -4.11275)

# Bisection steps that carry the bracket of 0.264 below the last bit of a float near it.
_HALVINGS = 52


def brine_density(salt_mass_fraction: float, celsius: float) -> float:
    """Density in kg/m³ of sodium chloride in water.

    ``salt_mass_fraction`` is grams of salt per gram of brine, 0 to 0.264; ``celsius`` 0 to 40.
    Raises `OutOfRange` elsewhere: a hot liquor is stated at the temperature it cools to.
    """
    require_within("share of salt", salt_mass_fraction, 0.0, STRONGEST_BRINE, "g per g of brine")
    require_within("brine temperature", celsius, COLDEST_BRINE, HOTTEST_BRINE, "°C")
    w, t = salt_mass_fraction, celsius
    linear = _LINEAR[0] + t * (_LINEAR[1] + t * _LINEAR[2])
    square = _SQUARE[0] + t * (_SQUARE[1] + t * _SQUARE[2])
    cube = _CUBE[0] + t * _CUBE[1]
    return water_density(t) + w * (linear + w * (square + w * cube))


def salt_fraction(density_kg_m3: float, celsius: float) -> float:
    """Grams of salt per gram of a brine that has this density at ``celsius`` (0 to 40 °C).

    The inverse of `brine_density`, by bisection, which needs only that the law rises with salt.
    A density within `DENSITY_DOUBT` below plain water or above saturated brine counts as those
    (a spindle is not read finer); further out raises `OutOfRange`.
    """
    lightest = brine_density(0.0, celsius)
    heaviest = brine_density(STRONGEST_BRINE, celsius)
    if not lightest - DENSITY_DOUBT <= density_kg_m3 <= heaviest + DENSITY_DOUBT:
        raise OutOfRange("brine density", density_kg_m3, lightest, heaviest, "kg/m³")
    if density_kg_m3 <= lightest:
        return 0.0
    if density_kg_m3 >= heaviest:
        return STRONGEST_BRINE
    low, high = 0.0, STRONGEST_BRINE
    for _ in range(_HALVINGS):
        middle = (low + high) / 2.0
        if brine_density(middle, celsius) < density_kg_m3:
            low = middle
        else:
            high = middle
    return (low + high) / 2.0
