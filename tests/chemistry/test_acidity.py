"""Predicted pH: order, mixtures, doubt and the edges of its range."""

import math
import timeit

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.chemistry import OutOfRange
from benchconsole.chemistry.acidity import AcidLiquor, ph_doubt, predicted_ph
from benchconsole.chemistry.acids import (
    ACETIC,
    CITRIC,
    FORMIC,
    LACTIC,
    OXALIC,
    PICKLE_ACIDS,
    SULPHURIC,
    Acid,
)
from benchconsole.chemistry.charge_balance import balanced_ph, base_held

acids = st.sampled_from(PICKLE_ACIDS)
strengths = st.floats(0.0, 50.0)
salts = st.floats(0.0, 190.0)
temperatures = st.floats(0.0, 40.0)


def pickle(
    acid: Acid, acid_g_per_l: float, salt: float = 60.0, celsius: float = 20.0
) -> AcidLiquor:
    """One acid in brine."""
    return AcidLiquor(acids=((acid, acid_g_per_l),), salt_g_per_l=salt, celsius=celsius)


@given(acids, strengths, salts, temperatures)
@settings(max_examples=150, deadline=None)
def test_every_liquor_has_a_ph(
    acid: Acid, acid_g_per_l: float, salt: float, celsius: float
) -> None:
    """Nothing in the stated range is refused, and the answer is a pH an acid can have."""
    predicted = predicted_ph(pickle(acid, acid_g_per_l, salt, celsius))
    assert -0.1 < predicted.ph < 6.0
    assert 0.05 <= predicted.uncertainty < 2.0


@given(acids, strengths, strengths, salts, temperatures)
@settings(max_examples=100, deadline=None)
def test_more_acid_is_more_acid(
    acid: Acid, one: float, other: float, salt: float, celsius: float
) -> None:
    """pH falls as acid is added, at any salt and temperature."""
    weak, strong = sorted((one, other))
    higher = predicted_ph(pickle(acid, weak, salt, celsius)).ph
    lower = predicted_ph(pickle(acid, strong, salt, celsius)).ph
    assert lower <= higher + 1e-8
    if strong > 1.01 * weak + 0.01:
        assert lower < higher


@given(acids, st.floats(0.5, 50.0), salts, temperatures, st.floats(0.0, 1.0), st.floats(0.0, 1.0))
@settings(max_examples=100, deadline=None)
def test_base_lifts_and_comes_back(
    acid: Acid, acid_g_per_l: float, salt: float, celsius: float, one: float, other: float
) -> None:
    """The base held rises with pH, and the pH for a held base is the pH it was worked out at."""
    bath = pickle(acid, acid_g_per_l, salt, celsius).bath()
    low, high = sorted((9.5 * one - 0.5, 9.5 * other - 0.5))
    assert base_held(bath, low) <= base_held(bath, high)
    held = base_held(bath, high)
    found = balanced_ph(bath, held)
    # Where nothing holds the pH the last bit of a base spans a stretch of pH: compare bases.
    assert held == pytest.approx(base_held(bath, found), rel=1e-7, abs=1e-8)


@given(acids, acids, st.floats(0.0, 25.0), st.floats(0.0, 25.0), salts)
@settings(max_examples=60, deadline=None)
def test_mixtures(one: Acid, other: Acid, one_g: float, other_g: float, salt: float) -> None:
    """Two acids together are more acid than either, whichever is named first; the same acid named
    twice is its sum."""
    mixed = AcidLiquor(acids=((one, one_g), (other, other_g)), salt_g_per_l=salt, celsius=20.0)
    turned = AcidLiquor(acids=((other, other_g), (one, one_g)), salt_g_per_l=salt, celsius=20.0)
    ph = predicted_ph(mixed).ph
    assert ph == pytest.approx(predicted_ph(turned).ph, abs=1e-8)
    alone = (
        predicted_ph(pickle(one, one_g, salt)).ph,
        predicted_ph(pickle(other, other_g, salt)).ph,
    )
    assert ph <= min(alone) + 1e-8
    if one == other:
        assert ph == pytest.approx(predicted_ph(pickle(one, one_g + other_g, salt)).ph, abs=1e-8)


def test_acid_with_its_salt() -> None:
    """Sodium acetate beside acetic acid, named as acid and base, lifts the pH to near the pK."""
    half = AcidLiquor(
        acids=((ACETIC, 12.01),), salt_g_per_l=0.0, celsius=25.0, base_mmol_per_l=100.0
    )
    assert 4.65 == pytest.approx(predicted_ph(half).ph, abs=0.05)


@given(acids, strengths, strengths, salts, salts)
@settings(max_examples=50)
def test_doubt_never_shrinks_with_salt(
    acid: Acid, one: float, other: float, salt: float, more_salt: float
) -> None:
    """Away from plain water and past 10 g/L of acid the figure is trusted less, never more."""
    low, high = sorted((salt, more_salt))
    assert ph_doubt(pickle(acid, one, low)) <= ph_doubt(pickle(acid, one, high))
    weak, strong = sorted((10.0 + one / 2, 10.0 + other / 2))
    assert ph_doubt(pickle(acid, weak)) <= ph_doubt(pickle(acid, strong))


@pytest.mark.parametrize(
    ("liquor", "clause"),
    [
        (pickle(CITRIC, 5.0), "a meter or paper decides"),
        (pickle(CITRIC, 5.0, 120.0), "above 100 g/L of salt"),
        (pickle(CITRIC, 22.5), "checked only to 10 g/L"),
        (pickle(OXALIC, 5.0), "sodium hydrogen oxalate may crystallise"),
        (pickle(LACTIC, 5.0), "holds some acid bound"),
        (pickle(FORMIC, 0.05), "too little acid to hold a pH"),
        (pickle(FORMIC, 1.0), "hard water takes up some"),
    ],
)
def test_words_say_where_it_stops(liquor: AcidLiquor, clause: str) -> None:
    """Each limit of the law is said beside the figure it touches."""
    assert clause in predicted_ph(liquor).how_sure


def test_words_are_silent_where_nothing_is_wrong() -> None:
    """A usual pickle gets the doubt, rounded upward, and the advice to measure, nothing else."""
    expected = "within 0.11 without a hide in it; a meter or paper decides"
    assert expected == predicted_ph(pickle(FORMIC, 5.0)).how_sure


@pytest.mark.parametrize(
    ("fields", "names"),
    [
        ({"acids": ((FORMIC, -1.0),)}, "formic acid"),
        ({"acids": ((FORMIC, math.nan),)}, "formic acid"),
        ({"acids": ((FORMIC, 51.0),)}, "formic acid"),
        ({"acids": ((FORMIC, 30.0), (CITRIC, 30.0))}, "acid"),
        ({"salt_g_per_l": 200.0}, "salt"),
        ({"salt_g_per_l": -1.0}, "salt"),
        ({"celsius": 41.0}, "liquor temperature"),
        ({"celsius": math.nan}, "liquor temperature"),
        ({"base_mmol_per_l": -1.0}, "base"),
        ({"base_mmol_per_l": math.inf}, "base"),
    ],
)
def test_liquors_that_are_refused(fields: dict[str, float], names: str) -> None:
    """Whatever lies outside the range of the law is refused by name when it is written down."""
    usual = {"acids": ((FORMIC, 5.0),), "salt_g_per_l": 60.0, "celsius": 20.0}
    with pytest.raises(OutOfRange, match=f"^{names} "):
        AcidLiquor(**{**usual, **fields})


def test_more_base_than_acid_is_refused() -> None:
    """A liquor with so much base that the air's gas would decide gets no figure."""
    with pytest.raises(OutOfRange, match="base in the liquor"):
        predicted_ph(AcidLiquor(acids=(), salt_g_per_l=60.0, celsius=20.0, base_mmol_per_l=100.0))


def test_fast_enough_for_each_keystroke() -> None:
    """A millisecond, with two acids in brine: the best of many, as the machine may be busy."""
    liquor = AcidLiquor(acids=((CITRIC, 5.0), (SULPHURIC, 2.0)), salt_g_per_l=60.0, celsius=20.0)
    best = min(timeit.repeat(lambda: predicted_ph(liquor), number=5, repeat=30)) / 5
    assert best < 0.001
