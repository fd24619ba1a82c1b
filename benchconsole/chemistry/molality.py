"""Grams in a litre of brine as moles beside a kilogram of its water.

Laws of acidity count per kilogram of water, a bench per litre. The litre is taken at 20 °C and
its density is that of the brine alone: up to 50 g/L of acid or alkali in it moves a pH by at most
0.01, which is left out.
"""

from benchconsole.chemistry.brine import brine_density
from benchconsole.chemistry.limits import require_within

LITRE_CELSIUS = 20.0

#: g/mol (IUPAC 2021 abridged atomic weights).
SALT_MOLAR_MASS = 58.443

#: Grams of salt in a litre that make 3.5 mol/kg, up to which the activity law is offered
#: by its authors (see `benchconsole.chemistry.activity`).
STRONGEST_SALT_G_PER_L = 190.0

# Each round cuts the error to under a fifth: the density moves with a small part of the salt.
_ROUNDS = 24


def salt_fraction_of_litre(salt_g_per_l: float) -> float:
    """Grams of salt per gram of brine that holds ``salt_g_per_l`` grams in a litre at 20 °C.

    Raises `OutOfRange` outside 0 to 190 g/L.
    """
    require_within("salt", salt_g_per_l, 0.0, STRONGEST_SALT_G_PER_L, "g/L")
    fraction = 0.0
    for _ in range(_ROUNDS):
        fraction = salt_g_per_l / brine_density(fraction, LITRE_CELSIUS)
    return fraction


def water_kg_per_l(salt_g_per_l: float) -> float:
    """Kilograms of water in a litre of brine at 20 °C. Raises `OutOfRange` outside 0 to 190 g/L."""
    fraction = salt_fraction_of_litre(salt_g_per_l)
    return (1.0 - fraction) * brine_density(fraction, LITRE_CELSIUS) / 1000.0
