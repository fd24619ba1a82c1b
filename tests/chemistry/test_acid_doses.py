"""Doses of alkali and acid: they arrive where they were sent, and refuse the rest."""

import math

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.chemistry import OutOfRange
from benchconsole.chemistry.acidity import AcidLiquor, predicted_ph
from benchconsole.chemistry.acids import ACETIC, CITRIC, FORMIC, PICKLE_ACIDS, SULPHURIC, Acid
from benchconsole.chemistry.alkalis import Alkali
from benchconsole.chemistry.charge_balance import balanced_ph, base_held
from benchconsole.chemistry.molality import water_kg_per_l
from benchconsole.chemistry.neutralising import acid_dose, alkali_dose, neutralising_dose

acids = st.sampled_from(PICKLE_ACIDS)
alkalis = st.sampled_from(Alkali)
strengths = st.floats(0.5, 30.0)
salts = st.floats(0.0, 120.0)
temperatures = st.floats(5.0, 35.0)
shares = st.floats(0.0, 1.0)


def pickle(
    acid: Acid, acid_g_per_l: float, salt: float = 60.0, celsius: float = 20.0
) -> AcidLiquor:
    """One acid in brine."""
    return AcidLiquor(acids=((acid, acid_g_per_l),), salt_g_per_l=salt, celsius=celsius)


@given(acids, strengths, salts, temperatures, shares)
@settings(max_examples=80, deadline=None)
def test_bicarbonate_arrives(
    acid: Acid, acid_g_per_l: float, salt: float, celsius: float, share: float
) -> None:
    """The liquor with the dose in it is predicted to have the pH that was wanted."""
    liquor = pickle(acid, acid_g_per_l, salt, celsius)
    start = predicted_ph(liquor).ph
    wanted = start + share * (7.0 - start)
    dose = neutralising_dose(liquor, wanted, Alkali.SODIUM_BICARBONATE)
    dosed = msgspec.structs.replace(liquor, base_mmol_per_l=1000.0 * dose.g_per_l / 84.007)
    assert wanted == pytest.approx(predicted_ph(dosed).ph, abs=1e-5)
    assert 0.0 <= dose.least_g_per_l <= dose.g_per_l <= dose.most_g_per_l


@given(acids, strengths, alkalis, shares, shares, shares)
@settings(max_examples=80, deadline=None)
def test_alkali_in_two_steps(
    acid: Acid, acid_g_per_l: float, alkali: Alkali, one: float, two: float, three: float
) -> None:
    """A higher wish never takes less; in two steps it takes what it takes in one (borax a little
    more, as the boric acid of the first step is not known to the second)."""
    liquor = pickle(acid, acid_g_per_l)
    low, middle, high = sorted(1.0 + 6.0 * share for share in (one, two, three))
    whole = alkali_dose(liquor, low, high, alkali).g_per_l
    first = alkali_dose(liquor, low, middle, alkali).g_per_l
    second = alkali_dose(liquor, middle, high, alkali).g_per_l
    assert 0.0 <= first <= whole + 1e-9
    assert whole == pytest.approx(
        first + second, rel=0.03 if alkali is Alkali.BORAX else 1e-9, abs=1e-9
    )


@given(acids, acids, st.floats(0.0, 20.0), salts, temperatures, shares, shares)
@settings(max_examples=80, deadline=None)
def test_acid_arrives_or_names_the_lowest(
    there: Acid,
    added: Acid,
    acid_g_per_l: float,
    salt: float,
    celsius: float,
    up: float,
    down: float,
) -> None:
    """The liquor with the acid in it holds at the wanted pH the base it held at the measured one;
    when 50 g/L cannot do it, the error names a pH that can be had."""
    liquor = pickle(there, acid_g_per_l, salt, celsius)
    start = predicted_ph(liquor).ph
    measured = start + up * (8.5 - start)
    wanted = 1.0 + down * (measured - 1.0) if measured > 1.0 else measured
    try:
        dose = acid_dose(liquor, measured, wanted, added)
    except OutOfRange as refusal:
        assert wanted < refusal.low <= measured
        dose = acid_dose(liquor, measured, refusal.low + 1e-6, added)
        wanted = refusal.low + 1e-6
    more = AcidLiquor(
        acids=((there, acid_g_per_l), (added, dose.g_per_l)), salt_g_per_l=salt, celsius=celsius
    )
    held = base_held(liquor.bath(), measured)
    assert held == pytest.approx(base_held(more.bath(), wanted), abs=1e-8)
    assert 0.0 <= dose.least_g_per_l <= dose.g_per_l <= dose.most_g_per_l


def test_alkali_and_acid_undo_each_other() -> None:
    """Bicarbonate from 2.5 to 4, then the acid that brings it back: nearly what the bicarbonate had
    taken up, and the pH is the first again."""
    liquor = pickle(FORMIC, 5.0)
    water_kg = water_kg_per_l(60.0)
    bicarbonate = alkali_dose(liquor, 2.5, 4.0, Alkali.SODIUM_BICARBONATE).g_per_l
    acid = acid_dose(liquor, 4.0, 2.5, FORMIC).g_per_l
    more = AcidLiquor(acids=((FORMIC, 5.0 + acid),), salt_g_per_l=60.0, celsius=20.0)
    start = base_held(liquor.bath(), 2.5)
    held = start + bicarbonate / 84.007 / water_kg
    assert 2.5 == pytest.approx(balanced_ph(more.bath(), held), abs=1e-6)


def test_forms_of_soda_are_alike() -> None:
    """Crystals and ash do the same work in the ratio of their molar masses; borax wants more than
    its equivalent, never less."""
    liquor = pickle(CITRIC, 10.0)
    ash = neutralising_dose(liquor, 5.0, Alkali.SODA_ASH).g_per_l
    crystals = neutralising_dose(liquor, 5.0, Alkali.WASHING_SODA).g_per_l
    borax = neutralising_dose(liquor, 5.0, Alkali.BORAX).g_per_l
    assert ash * 286.141 / 105.988 == pytest.approx(crystals)
    assert ash * 381.37 / 105.988 < borax < 1.001 * ash * 381.37 / 105.988


def test_brine_alone_takes_little_acid() -> None:
    """Plain brine from pH 7 to 2.5 needs the hydrogen itself and little more: sulphuric acid a
    third of a gram at most."""
    brine = AcidLiquor(acids=(), salt_g_per_l=60.0, celsius=20.0)
    assert 0.1 < acid_dose(brine, 6.0, 2.5, SULPHURIC).g_per_l < 0.3


def test_a_reading_below_what_the_acid_can_do_is_said() -> None:
    """More acid in the liquor than went in means a wrong amount or a wrong meter."""
    weak = pickle(ACETIC, 5.0)
    assert "look at the acid or the meter" in alkali_dose(weak, 2.0, 4.0, Alkali.BORAX).how_sure
    assert "meter" not in alkali_dose(weak, 3.5, 4.0, Alkali.BORAX).how_sure
    assert "the hide still holds" in alkali_dose(weak, 3.5, 4.0, Alkali.BORAX).how_sure


def test_nothing_to_do_is_no_dose() -> None:
    """The pH that is there already takes nothing of either; the most still allows for the meter."""
    liquor = pickle(FORMIC, 5.0)
    assert 0.0 == alkali_dose(liquor, 3.0, 3.0, Alkali.SODA_ASH).g_per_l
    assert 0.0 == pytest.approx(acid_dose(liquor, 3.0, 3.0, FORMIC).g_per_l, abs=1e-9)
    assert 0.0 == alkali_dose(liquor, 3.0, 3.1, Alkali.SODA_ASH).least_g_per_l
    assert 0.0 < alkali_dose(liquor, 3.0, 3.0, Alkali.SODA_ASH).most_g_per_l


@pytest.mark.parametrize(
    ("measured", "wanted", "names"),
    [
        (3.0, 7.1, "pH wanted"),
        (4.0, 3.0, "pH measured"),
        (-1.0, 3.0, "pH measured"),
        (math.nan, 3.0, "pH measured"),
        (3.0, math.nan, "pH wanted"),
    ],
)
def test_alkali_refuses(measured: float, wanted: float, names: str) -> None:
    """Alkali never lowers a pH and is not offered past neutral."""
    with pytest.raises(OutOfRange, match=names):
        alkali_dose(pickle(FORMIC, 5.0), measured, wanted, Alkali.SODA_ASH)


@pytest.mark.parametrize(
    ("measured", "wanted", "acid", "names"),
    [
        (9.0, 3.0, FORMIC, "pH measured"),
        (3.0, 4.0, FORMIC, "pH wanted"),
        (3.0, math.nan, FORMIC, "pH wanted"),
        (6.0, 1.0, ACETIC, r"pH wanted 1 is outside 3\.6"),
    ],
)
def test_acid_refuses(measured: float, wanted: float, acid: Acid, names: str) -> None:
    """Acid never raises a pH, and a weak one cannot make it as low as one likes."""
    with pytest.raises(OutOfRange, match=names):
        acid_dose(pickle(acid, 5.0), measured, wanted, acid)


def test_neutralising_refuses_to_go_down() -> None:
    """A wish below what the fresh liquor already has is refused with that pH as the low end."""
    with pytest.raises(OutOfRange, match=r"pH wanted 2 is outside 2\.3"):
        neutralising_dose(pickle(FORMIC, 5.0), 2.0, Alkali.SODIUM_BICARBONATE)
