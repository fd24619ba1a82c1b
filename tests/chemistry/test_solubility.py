"""Dissolving: mass balances and order, for any curve and any hydrate."""

import math

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.chemistry import (
    Bound,
    OutOfRange,
    SolubilityCurve,
    anhydrous_g,
    crystal_water_g,
    dissolvable_g,
    extra_water_to_dissolve_g,
    hydrate_g,
    saturation,
    strength,
    undissolved_g,
)

ALUM = SolubilityCurve(
    points=((0.0, 3.0, 3.1), (20.0, 5.9, 6.1), (40.0, 11.7, 12.1), (60.0, 24.75, 25.5)),
    molar_mass_anhydrous=258.205,
    molar_mass_hydrate=474.388,
)
SODA = SolubilityCurve(
    points=((0.0, 6.9, 7.0), (20.0, 21.5, 21.8), (30.0, 39.7, 40.3), (60.0, 60.0, 61.0)),
    molar_mass_anhydrous=105.988,
    molar_mass_hydrate=286.141,
)
LIME = SolubilityCurve(
    points=((0.0, 0.185, 0.189), (60.0, 0.116, 0.121)),
    molar_mass_anhydrous=74.093,
    molar_mass_hydrate=74.093,
)

masses = st.floats(0.0, 1e5)
waters = st.floats(0.0, 1e6)
temperatures = st.floats(0.0, 60.0)
curves = st.sampled_from([ALUM, SODA, LIME])
bounds = st.sampled_from(Bound)


@settings(max_examples=100)
@given(curves, masses, waters, temperatures, bounds)
def test_dissolved_and_left_are_the_whole(
    curve: SolubilityCurve, crystals: float, water: float, celsius: float, bound: Bound
) -> None:
    """What lies on the bottom and what went into solution add up, and the solution is at
    saturation exactly when something is left."""
    left = undissolved_g(curve, crystals, water, celsius, bound)
    dissolved = crystals - left
    assert 0.0 <= left <= crystals
    full = saturation(curve, celsius, bound)
    total_water = water + crystal_water_g(curve, dissolved)
    dissolved_dry = anhydrous_g(curve, dissolved)
    assert dissolved_dry <= full * total_water / 100 * (1 + 1e-9) + 1e-6
    if left > 0.0:
        assert full * total_water / 100 == pytest.approx(dissolved_dry, rel=1e-6, abs=1e-6)


@settings(max_examples=100)
@given(curves, masses, waters, waters, temperatures)
def test_more_water_never_leaves_more(
    curve: SolubilityCurve, crystals: float, water: float, more: float, celsius: float
) -> None:
    """Pouring in water cannot bring crystals down."""
    before = undissolved_g(curve, crystals, water, celsius)
    assert undissolved_g(curve, crystals, water + more, celsius) <= before


@settings(max_examples=100)
@given(curves, masses, waters, temperatures, bounds)
def test_the_extra_water_is_enough_and_not_too_much(
    curve: SolubilityCurve, crystals: float, water: float, celsius: float, bound: Bound
) -> None:
    """With the extra water nothing is left; when it is above zero the solution is just full."""
    extra = extra_water_to_dissolve_g(curve, crystals, water, celsius, bound)
    left = undissolved_g(curve, crystals, water + extra, celsius, bound)
    assert 0.0 == pytest.approx(left, abs=1e-6 * (1 + crystals))
    if extra > 1e-3:
        full = saturation(curve, celsius, bound)
        assert full == pytest.approx(strength(curve, crystals, water + extra), rel=1e-6)


@settings(max_examples=50)
@given(curves, masses)
def test_crystals_and_anhydrous_round_trip(curve: SolubilityCurve, crystals: float) -> None:
    """Crystals are their anhydrous substance and their water, and convert back."""
    dry = anhydrous_g(curve, crystals)
    assert crystals == pytest.approx(dry + crystal_water_g(curve, crystals))
    assert crystals == pytest.approx(hydrate_g(curve, dry))


@given(curves, temperatures)
@settings(max_examples=50)
def test_the_band_holds_its_order(curve: SolubilityCurve, celsius: float) -> None:
    """Between points too, the cautious bound stays below the other."""
    assert saturation(curve, celsius, Bound.LOW) <= saturation(curve, celsius, Bound.HIGH)


def test_published_points_are_met() -> None:
    """The curve goes through what it was given."""
    for celsius, low, high in ALUM.points:
        assert low == pytest.approx(saturation(ALUM, celsius))
        assert high == pytest.approx(saturation(ALUM, celsius, Bound.HIGH))


def test_alum_recipe_in_cold_water() -> None:
    """A pound of alum to the US gallon (453.6 g in 3785 g) is 6.19 g anhydrous per 100 g of water:
    just over saturation at 20 °C, so 22 g lie on the bottom, and clear at 25 °C."""
    assert 6.19 == pytest.approx(strength(ALUM, 453.6, 3785.0), abs=0.01)
    assert 22.0 == pytest.approx(undissolved_g(ALUM, 453.6, 3785.0, 20.0), abs=0.5)
    assert 0.0 == undissolved_g(ALUM, 453.6, 3785.0, 25.0)


def test_crystals_that_melt_in_their_own_water() -> None:
    """Warm enough, washing soda needs no added water at all."""
    assert math.inf == dissolvable_g(SODA, 0.0, 60.0)
    assert 0.0 == undissolved_g(SODA, 1000.0, 0.0, 60.0)
    assert 1000.0 == undissolved_g(SODA, 1000.0, 0.0, 20.0)


def test_strength_without_water() -> None:
    """A dry anhydrous powder is endlessly strong; nothing in nothing is zero."""
    assert math.inf == strength(LIME, 1.0, 0.0)
    assert 0.0 == strength(LIME, 0.0, 0.0)


@pytest.mark.parametrize("celsius", [-0.1, 60.1, math.nan])
def test_unpublished_temperatures_are_refused(celsius: float) -> None:
    """No figure is invented past the ends of the curve."""
    with pytest.raises(OutOfRange, match="water temperature"):
        saturation(ALUM, celsius)


@pytest.mark.parametrize("mass", [-1.0, math.nan, math.inf])
def test_masses_that_are_no_masses_are_refused(mass: float) -> None:
    """Crystals and water must be finite and not negative."""
    with pytest.raises(OutOfRange, match="mass of crystals"):
        undissolved_g(ALUM, mass, 100.0, 20.0)
    with pytest.raises(OutOfRange, match="mass of water"):
        undissolved_g(ALUM, 1.0, mass, 20.0)


@pytest.mark.parametrize(
    ("points", "fault"),
    [
        ([[20, 5, 6]], "at least two"),
        ([[20, 5, 6], [20, 6, 7]], "temperatures must rise"),
        ([[0, 5, 4], [20, 6, 7]], "low must be above 0"),
        ([[0, 0, 4], [20, 6, 7]], "low must be above 0"),
    ],
)
def test_points_that_make_no_curve(points: list[list[float]], fault: str) -> None:
    """A curve read from a file is refused with what is wrong with it."""
    raw = {"points": points, "molar_mass_anhydrous": 100.0, "molar_mass_hydrate": 200.0}
    with pytest.raises(msgspec.ValidationError, match=fault):
        msgspec.convert(raw, SolubilityCurve)


def test_a_hydrate_lighter_than_its_salt() -> None:
    """Swapped molar masses are caught when the curve is made."""
    with pytest.raises(ValueError, match="lighter"):
        SolubilityCurve(
            points=ALUM.points, molar_mass_anhydrous=474.388, molar_mass_hydrate=258.205
        )
