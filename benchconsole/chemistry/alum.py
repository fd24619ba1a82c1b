"""Aluminium salts: what they are worth against each other, and how basic an alkali makes them.

Basicity is Schorlemmer's: the share of the acid bound to the aluminium that an alkali has taken,
``hydroxyl ÷ (3 × aluminium)`` in moles. It counts what was weighed in, not what the skin gave up.
"""

from enum import StrEnum

from benchconsole.chemistry.alkalis import Alkali
from benchconsole.chemistry.limits import require_amount, require_within


class AluminiumSalt(StrEnum):
    """The aluminium salts of the trade, as crystals; the values are the words of the library."""

    POTASSIUM_ALUM = "potassium-alum"
    AMMONIUM_ALUM = "ammonium-alum"
    SULPHATE = "aluminium-sulphate"


#: g/mol as weighed, and atoms of aluminium: KAl(SO4)2·12H2O, NH4Al(SO4)2·12H2O, Al2(SO4)3·18H2O.
_ALUMINIUM = {
    AluminiumSalt.POTASSIUM_ALUM: (474.388, 1),
    AluminiumSalt.AMMONIUM_ALUM: (453.329, 1),
    AluminiumSalt.SULPHATE: (666.417, 2),
}

ALUMINA_MOLAR_MASS = 101.961
"""Al2O3, g/mol: tanners state aluminium as this oxide."""

SULPHATE_STRONGER = (1.05, 1.11)
"""How much more aluminium shop sulphate of 16 or 14 water holds than the 18 of the books."""

SKIN_TAKES_UP = 0.06
"""Grams of alum that a gram of skin takes up: about 6 %, of which soaking in water draws three
quarters (Principles and Practice of Fur Dressing and Fur Dyeing, 1922, ch. V)."""

CLEAR_UP_TO = 0.3106
"""Basicity of the most basic published stock that is said to stay clear: 4 parts of soda crystals
to 10 of aluminium sulphate (The Principles of Leather Manufacture, 1903, ch. XIV)."""

THROWS_OUT_ABOVE = 0.4421
"""Basicity of 4 parts of soda crystals to 10 of alum, the limit before the alum is thrown out
(The same book and chapter)."""


def aluminium_mol(salt: AluminiumSalt, mass_g: float) -> float:
    """Moles of aluminium in ``mass_g`` grams of the crystals. Raises `OutOfRange` below zero."""
    require_amount(f"mass of {salt}", mass_g)
    molar_mass, atoms = _ALUMINIUM[salt]
    return atoms * mass_g / molar_mass


def aluminium_salt_g(salt: AluminiumSalt, moles: float) -> float:
    """Grams of the crystals that hold ``moles`` of aluminium; the inverse of `aluminium_mol`."""
    require_amount("moles of aluminium", moles)
    molar_mass, atoms = _ALUMINIUM[salt]
    return moles * molar_mass / atoms


def alumina_g(salt: AluminiumSalt, mass_g: float) -> float:
    """Grams of Al2O3 that ``mass_g`` grams of the crystals amount to."""
    return aluminium_mol(salt, mass_g) * ALUMINA_MOLAR_MASS / 2.0


def hydroxyl_mol(alkali: Alkali, mass_g: float) -> float:
    """Moles of acid that ``mass_g`` grams of the alkali take. Raises `OutOfRange` below zero."""
    require_amount(f"mass of {alkali}", mass_g)
    return alkali.sodium * mass_g / alkali.molar_mass


def alkali_g(alkali: Alkali, moles: float) -> float:
    """Grams of the alkali that take ``moles`` of acid; the inverse of `hydroxyl_mol`."""
    require_amount("moles of acid", moles)
    return moles * alkali.molar_mass / alkali.sodium


def basicity(aluminium: float, hydroxyl: float) -> float:
    """Schorlemmer basicity as a share (0.276 is 27.6 %), from moles of aluminium and hydroxyl.

    Above 1 there is more alkali than all the acid of the aluminium. Raises `OutOfRange` when
    there is no aluminium.
    """
    require_within("moles of aluminium", aluminium, 1e-12, 1e12, "mol")
    require_amount("moles of hydroxyl", hydroxyl)
    return hydroxyl / (3.0 * aluminium)


def hydroxyl_for(aluminium: float, wanted_basicity: float) -> float:
    """Moles of hydroxyl that bring ``aluminium`` moles to this basicity (share, 0 to 1)."""
    require_amount("moles of aluminium", aluminium)
    require_within("basicity", wanted_basicity, 0.0, 1.0, "of the aluminium's acid")
    return 3.0 * aluminium * wanted_basicity
