"""Acid swelling: whether there is salt enough before the acid goes in.

Skin in acid without salt drinks water until it swells and is ruined. The guides part: an industry
guide to pickling asks for 5 to 8 °Bé of salt before the acid (read), a dictionary of the leather
trade for over 10 % (read), both for any acid. An old handbook works thin furs in 30 to 50 g/L of
salt with acetic acid (read). The guard keeps to the careful side and warns there too.
"""

from enum import StrEnum

import msgspec

from benchconsole.chemistry.brine import brine_density
from benchconsole.chemistry.hydrometer import (
    SCALE_CELSIUS,
    HydrometerScale,
    hydrometer_degrees,
    hydrometer_reading,
)
from benchconsole.chemistry.molality import salt_fraction_of_litre

#: Floor of the industry guide, degrees Baumé of the brine before the acid.
FLOOR_BAUME = 5.0

#: The dictionary's 10 %, taken as 100 g in a litre (9.4 % by mass) as recipes of "10 %" are made.
AMPLE_G_PER_L = 100.0


class Guard(StrEnum):
    """What the salt says to the acid."""

    ENOUGH = "enough"
    SCANT = "scant"
    TOO_LITTLE = "too little"


class SaltBeforeAcid(msgspec.Struct, frozen=True, kw_only=True):
    """The verdict, the brine in degrees Baumé at 60 °F, salt wanting to 100 g/L, and a sentence."""

    guard: Guard
    degrees_baume: float
    wanting_g_per_l: float
    says: str


def salt_before_acid(salt_g_per_l: float) -> SaltBeforeAcid:
    """Whether ``salt_g_per_l`` grams in a litre of brine keep a skin from swelling in acid.

    Below 5 °Bé (about 52 g/L) too little; scant below 100 g/L. Raises `OutOfRange` outside 0 to
    190 g/L.
    """
    density = brine_density(salt_fraction_of_litre(salt_g_per_l), SCALE_CELSIUS)
    gravity = hydrometer_reading(density, SCALE_CELSIUS)
    # Pure water comes out one bit off 1 and would show as minus nothing.
    degrees = max(0.0, hydrometer_degrees(HydrometerScale.BAUME, gravity))
    if degrees < FLOOR_BAUME:
        guard = Guard.TOO_LITTLE
        says = f"{salt_g_per_l:.0f} g/L of salt is too little: acid would swell the skin"
    elif salt_g_per_l < AMPLE_G_PER_L:
        guard = Guard.SCANT
        says = f"{salt_g_per_l:.0f} g/L of salt is the least some guides allow before acid"
    else:
        guard = Guard.ENOUGH
        says = f"{salt_g_per_l:.0f} g/L of salt is enough before acid"
    return SaltBeforeAcid(
        guard=guard,
        degrees_baume=degrees,
        wanting_g_per_l=max(0.0, AMPLE_G_PER_L - salt_g_per_l),
        says=says,
    )
