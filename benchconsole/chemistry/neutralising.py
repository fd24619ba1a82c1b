"""How much alkali lifts a liquor's pH, and how much acid lowers it.

Method: the difference of the base that charge balance finds at the two pH. Beginning from a
measured pH counts what a hide has taken up or given off so far; what it still holds comes out
for hours, so the liquor is measured again. Carbon dioxide is taken to leave until the liquor is at
rest with the air; while it still fizzes it shows less, and would want about a tenth more at pH 5.
"""

import msgspec

from benchconsole.chemistry.acidity import (
    STRONGEST_ACID_G_PER_L,
    AcidLiquor,
    limits_in_words,
    ph_doubt,
)
from benchconsole.chemistry.acids import BORIC, CITRIC, Acid
from benchconsole.chemistry.alkalis import Alkali
from benchconsole.chemistry.charge_balance import Bath, balanced_ph, base_held, with_acid
from benchconsole.chemistry.limits import OutOfRange, require_within
from benchconsole.chemistry.molality import water_kg_per_l

LOWEST_PH = 0.0

#: Highest pH a dose of alkali is offered for: above it carbon dioxide that has not left decides,
#: and no pelt wants it.
HIGHEST_WANTED_PH = 7.0

#: Highest pH a liquor may show before acid is given.
HIGHEST_MEASURED_PH = 8.5

#: What the law itself may miss, as a share of the dose: two activity laws part by 3 %, with
#: citric acid by 8 %.
DOSE_DOUBT = 0.05
CITRIC_DOSE_DOUBT = 0.08

#: How far a meter that was set this morning may read off, in brine, pH.
READING_DOUBT = 0.1

# Rounds for boric acid to settle: what it takes up is below a fiftieth at pH 7, so each round
# wins nearly two digits; and halvings of the acid's range.
_BORIC_ROUNDS = 12
_HALVINGS = 40


class Dose(msgspec.Struct, frozen=True, kw_only=True):
    """Grams of a pure substance for each litre of liquor, with the least and the most it may be.

    ``least_g_per_l`` and ``most_g_per_l`` hold the law's own miss and a pH read 0.1 off.
    """

    g_per_l: float
    least_g_per_l: float
    most_g_per_l: float
    how_sure: str


def neutralising_dose(liquor: AcidLiquor, wanted_ph: float, alkali: Alkali) -> Dose:
    """Alkali that brings ``liquor``, made up as it says and never used, to ``wanted_ph``.

    Raises `OutOfRange` unless ``wanted_ph`` lies from the liquor's own predicted pH to 7.
    """
    bath, water_kg = liquor.bath(), water_kg_per_l(liquor.salt_g_per_l)
    held = liquor.base_mmol_per_l / 1000.0 / water_kg
    require_within("pH wanted", wanted_ph, balanced_ph(bath, held), HIGHEST_WANTED_PH, "")
    to_grams = water_kg * alkali.molar_mass

    def grams(ph: float) -> float:
        return max(0.0, to_grams * _alkali_moles(bath, held, ph, alkali, liquor.celsius))

    return _dose(
        liquor,
        grams(wanted_ph),
        grams(wanted_ph - READING_DOUBT),
        grams(min(HIGHEST_WANTED_PH, wanted_ph + READING_DOUBT)),
        "",
    )


def alkali_dose(liquor: AcidLiquor, measured_ph: float, wanted_ph: float, alkali: Alkali) -> Dose:
    """Alkali that lifts ``liquor`` from the pH it shows to a higher one.

    ``liquor`` says how much acid and salt went in; how much of the acid is used up follows from
    ``measured_ph`` (its ``base_mmol_per_l`` is not looked at). Raises `OutOfRange` unless
    0 <= measured_ph <= wanted_ph <= 7.
    """
    require_within("pH wanted", wanted_ph, LOWEST_PH, HIGHEST_WANTED_PH, "")
    require_within("pH measured", measured_ph, LOWEST_PH, wanted_ph, "")
    bath = liquor.bath()
    to_grams = water_kg_per_l(liquor.salt_g_per_l) * alkali.molar_mass

    def grams(low: float, high: float) -> float:
        if low >= high:
            return 0.0
        held = base_held(bath, low)
        return to_grams * _alkali_moles(bath, held, high, alkali, liquor.celsius)

    return _dose(
        liquor,
        grams(measured_ph, wanted_ph),
        grams(measured_ph + READING_DOUBT, wanted_ph - READING_DOUBT),
        grams(measured_ph - READING_DOUBT, min(HIGHEST_WANTED_PH, wanted_ph + READING_DOUBT)),
        _surprise(liquor, bath, measured_ph),
    )


def acid_dose(liquor: AcidLiquor, measured_ph: float, wanted_ph: float, acid: Acid) -> Dose:
    """100 % acid that lowers ``liquor`` from the pH it shows to a lower one.

    ``liquor`` says how much acid and salt went in before; no acid at all is plain brine. Raises
    `OutOfRange` unless wanted_ph <= measured_ph <= 8.5, and when the acid would pass 50 g/L
    altogether: the error then names the lowest pH that can be had.
    """
    require_within("pH measured", measured_ph, LOWEST_PH, HIGHEST_MEASURED_PH, "")
    require_within("pH wanted", wanted_ph, LOWEST_PH, measured_ph, "")
    bath = liquor.bath()
    held = base_held(bath, measured_ph)
    to_grams = water_kg_per_l(liquor.salt_g_per_l) * acid.molar_mass
    room = (STRONGEST_ACID_G_PER_L - liquor.acid_g_per_l) / to_grams
    strongest = with_acid(bath, acid, room, liquor.celsius)
    if base_held(strongest, wanted_ph) < held:
        lowest = balanced_ph(strongest, held)
        raise OutOfRange("pH wanted", wanted_ph, lowest, measured_ph, "")

    def grams(high: float, low: float) -> float:
        if high <= low:
            return 0.0
        base = base_held(bath, high)
        return to_grams * _acid_moles(bath, base, low, acid, room, liquor.celsius)

    return _dose(
        liquor,
        grams(measured_ph, wanted_ph),
        grams(measured_ph - READING_DOUBT, wanted_ph + READING_DOUBT),
        grams(
            min(HIGHEST_MEASURED_PH, measured_ph + READING_DOUBT),
            wanted_ph - READING_DOUBT,
        ),
        _surprise(liquor, bath, measured_ph),
        acid,
    )


def _alkali_moles(bath: Bath, held: float, ph: float, alkali: Alkali, celsius: float) -> float:
    """Moles of alkali per kilogram of water that bring a bath holding ``held`` to ``ph``."""
    moles = (base_held(bath, ph) - held) / alkali.sodium
    if alkali.boron == 0 or moles <= 0.0:
        return moles
    for _ in range(_BORIC_ROUNDS):
        with_boric = with_acid(bath, BORIC, alkali.boron * moles, celsius)
        settled = (base_held(with_boric, ph) - held) / alkali.sodium
        if settled == moles:
            break
        moles = settled
    return moles


def _acid_moles(
    bath: Bath, held: float, ph: float, acid: Acid, room: float, celsius: float
) -> float:
    """Moles of acid per kilogram of water that bring a bath holding ``held`` to ``ph``; ``room``
    when that is not enough. The base held at a fixed pH rises with acid: halving finds it."""
    low, high = 0.0, room
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        if base_held(with_acid(bath, acid, middle, celsius), ph) < held:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)


def _surprise(liquor: AcidLiquor, bath: Bath, measured_ph: float) -> str:
    """A clause when the liquor shows less pH than its acid can give."""
    lowest = balanced_ph(bath, 0.0) - ph_doubt(liquor)
    if measured_ph >= lowest:
        return ""
    return f"pH {measured_ph:g} is more acid than went in, so look at the acid or the meter"


def _dose(
    liquor: AcidLiquor,
    g_per_l: float,
    least: float,
    most: float,
    surprise: str,
    added: Acid | None = None,
) -> Dose:
    present = [acid.name for acid, amount in liquor.acids if amount > 0.0]
    citric = CITRIC.name in present or added == CITRIC
    doubt = CITRIC_DOSE_DOUBT if citric else DOSE_DOUBT
    clauses = (
        "for the liquor, not for what the hide still holds",
        *((surprise,) if surprise else ()),
        *limits_in_words(liquor),
        "give half, stir until it is still, measure, then give the rest",
    )
    return Dose(
        g_per_l=g_per_l,
        least_g_per_l=max(0.0, min(g_per_l, least) * (1.0 - doubt)),
        most_g_per_l=max(g_per_l, most) * (1.0 + doubt),
        how_sure="; ".join(clauses),
    )
