"""The pH to expect of an acid pickle, and how far to believe it.

Method: charge balance (`benchconsole.chemistry.charge_balance`) with activities by specific ion
interaction; pH is ``-log10 a(H⁺)``, the scale a meter is set on. Checked to 10 g/L of acid and
100 g/L of salt. A glass electrode in brine adds 0.05 to 0.2 of its own; paper reads to about half
a unit. Neither the hide, which takes up acid for hours, nor hard water is counted.
"""

import math

import msgspec

from benchconsole.chemistry.acids import LACTIC, OXALIC, Acid
from benchconsole.chemistry.charge_balance import Bath, balanced_ph, make_bath
from benchconsole.chemistry.limits import require_within
from benchconsole.chemistry.molality import (
    SALT_MOLAR_MASS,
    STRONGEST_SALT_G_PER_L,
    water_kg_per_l,
)

LAW = "charge balance with activities by specific ion interaction; carbon dioxide of the air"
"""The method in words, for a working."""

#: Most acid of all kinds together, and how much of it and of salt the checks cover, g/L.
STRONGEST_ACID_G_PER_L = 50.0
CHECKED_ACID_G_PER_L = 10.0
CHECKED_SALT_G_PER_L = 100.0

#: Most base from outside, mmol/L; 50 g/L of any acid here holds less.
MOST_BASE_MMOL_PER_L = 1500.0

#: pH: doubt in plain water, and its growth per g/L of salt to 100, of salt beyond, and of acid
#: beyond 10 (0.05, 0.11, 0.15 at 0, 60, 100 g/L: two activity laws part by that much).
PLAIN_DOUBT = 0.05
DOUBT_PER_SALT = 0.001
DOUBT_PER_STRONG_SALT = 0.004
DOUBT_PER_STRONG_ACID = 0.005

#: Below this much acid nothing holds the pH, and below the second hard water shows: water of
#: 4 mmol/L alkalinity takes up 0.2 g/L of formic or sulphuric, 0.3 g/L of citric acid.
HOLDING_ACID_G_PER_L = 0.2
HARD_WATER_ACID_G_PER_L = 2.0
UNHELD_DOUBT = 1.0

#: g/L of oxalic acid and of salt from which sodium hydrogen oxalate may crystallise: it dissolves
#: to about 17 g/L in water at 15 °C (CRC Handbook, from memory), in brine to a sixth of that.
OXALATE_CRYSTALS_ACID_G_PER_L = 2.0
OXALATE_CRYSTALS_SALT_G_PER_L = 30.0


class AcidLiquor(msgspec.Struct, frozen=True, kw_only=True):
    """An acid liquor, all in grams of the pure thing per litre of liquor at 20 °C.

    ``acids`` are (acid, g/L of 100 % acid without crystal water), together at most 50 g/L.
    ``salt_g_per_l`` is sodium chloride, 0 to 190; ``celsius`` 0 to 40. ``base_mmol_per_l`` is
    sodium from anything but salt, 0 to 1500: sodium acetate counts as acetic acid (60.05 g for
    each 82.03 g) and 12.19 mmol of base a gram. ``open_to_air`` counts the air's carbon dioxide.
    Raises `OutOfRange` outside these.
    """

    acids: tuple[tuple[Acid, float], ...]
    salt_g_per_l: float
    celsius: float
    base_mmol_per_l: float = 0.0
    open_to_air: bool = True

    def __post_init__(self) -> None:
        for acid, g_per_l in self.acids:
            require_within(acid.name, g_per_l, 0.0, STRONGEST_ACID_G_PER_L, "g/L")
        require_within("acid", self.acid_g_per_l, 0.0, STRONGEST_ACID_G_PER_L, "g/L")
        require_within("salt", self.salt_g_per_l, 0.0, STRONGEST_SALT_G_PER_L, "g/L")
        require_within("base", self.base_mmol_per_l, 0.0, MOST_BASE_MMOL_PER_L, "mmol/L")
        require_within("liquor temperature", self.celsius, 0.0, 40.0, "°C")

    @property
    def acid_g_per_l(self) -> float:
        """Grams of all acids in a litre."""
        return math.fsum(g_per_l for _, g_per_l in self.acids)

    def bath(self) -> Bath:
        """The same per kilogram of water."""
        water_kg = water_kg_per_l(self.salt_g_per_l)
        return make_bath(
            ((acid, g_per_l / acid.molar_mass / water_kg) for acid, g_per_l in self.acids),
            self.salt_g_per_l / SALT_MOLAR_MASS / water_kg,
            self.celsius,
            open_to_air=self.open_to_air,
        )


class PredictedPh(msgspec.Struct, frozen=True, kw_only=True):
    """A pH worked out from what went in; ``uncertainty`` in pH, ``how_sure`` in words."""

    ph: float
    uncertainty: float
    how_sure: str


def predicted_ph(liquor: AcidLiquor) -> PredictedPh:
    """The pH of ``liquor`` by itself, without a hide in it.

    Raises `OutOfRange` when it holds so much base that it would rise above pH 9 (open to the
    air) or 13 (closed).
    """
    base = liquor.base_mmol_per_l / 1000.0 / water_kg_per_l(liquor.salt_g_per_l)
    doubt = ph_doubt(liquor)
    return PredictedPh(
        ph=balanced_ph(liquor.bath(), base), uncertainty=doubt, how_sure=_in_words(liquor, doubt)
    )


def ph_doubt(liquor: AcidLiquor) -> float:
    """What a predicted pH may be off by, in pH."""
    salt, acid = liquor.salt_g_per_l, liquor.acid_g_per_l
    return (
        (PLAIN_DOUBT if acid >= HOLDING_ACID_G_PER_L else UNHELD_DOUBT)
        + DOUBT_PER_SALT * min(salt, CHECKED_SALT_G_PER_L)
        + DOUBT_PER_STRONG_SALT * max(0.0, salt - CHECKED_SALT_G_PER_L)
        + DOUBT_PER_STRONG_ACID * max(0.0, acid - CHECKED_ACID_G_PER_L)
        + max((one.doubt for one, g_per_l in liquor.acids if g_per_l > 0.0), default=0.0)
    )


def limits_in_words(liquor: AcidLiquor) -> tuple[str, ...]:
    """Where ``liquor`` leaves the ground the law was checked on: clauses, none when it does not."""
    amounts: dict[str, float] = {}
    for acid, g_per_l in liquor.acids:
        amounts[acid.name] = amounts.get(acid.name, 0.0) + g_per_l
    clauses = []
    if liquor.acid_g_per_l < HOLDING_ACID_G_PER_L:
        clauses.append("too little acid to hold a pH")
    elif liquor.acid_g_per_l < HARD_WATER_ACID_G_PER_L:
        clauses.append("hard water takes up some of so little acid")
    if liquor.base_mmol_per_l > 0.0 and liquor.open_to_air:
        clauses.append("carbon dioxide is taken as gone")
    if liquor.salt_g_per_l > CHECKED_SALT_G_PER_L:
        clauses.append(f"above {CHECKED_SALT_G_PER_L:g} g/L of salt the law is stretched")
    if liquor.acid_g_per_l > CHECKED_ACID_G_PER_L:
        clauses.append(f"it was checked only to {CHECKED_ACID_G_PER_L:g} g/L of acid")
    if (
        amounts.get(OXALIC.name, 0.0) >= OXALATE_CRYSTALS_ACID_G_PER_L
        and liquor.salt_g_per_l >= OXALATE_CRYSTALS_SALT_G_PER_L
    ):
        clauses.append("sodium hydrogen oxalate may crystallise, which is left out")
    if amounts.get(LACTIC.name, 0.0) > 0.0:
        clauses.append("strong lactic acid holds some acid bound, which is counted as free")
    return tuple(clauses)


def _in_words(liquor: AcidLiquor, doubt: float) -> str:
    upward = math.ceil(100.0 * doubt - 1e-9) / 100.0  # never surer in words than in figures
    clauses = (
        f"within {upward:.2f} without a hide in it",
        *limits_in_words(liquor),
        "a meter or paper decides",
    )
    return "; ".join(clauses)
