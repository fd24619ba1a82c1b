"""Brine density: laws it must keep whatever the coefficients."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.chemistry import (
    STRONGEST_BRINE,
    OutOfRange,
    brine_density,
    salt_fraction,
    water_density,
)

salts = st.floats(0.0, STRONGEST_BRINE)
temperatures = st.floats(0.0, 40.0)


@settings(max_examples=100)
@given(salts, temperatures)
def test_strength_comes_back_from_density(salt: float, celsius: float) -> None:
    """`salt_fraction` undoes `brine_density` to far below what a balance shows."""
    found = salt_fraction(brine_density(salt, celsius), celsius)
    assert salt == pytest.approx(found, abs=1e-12)


@settings(max_examples=100)
@given(salts, salts, temperatures)
def test_more_salt_is_heavier(one: float, other: float, celsius: float) -> None:
    """Density rises with salt at every temperature, which bisection relies on."""
    weak, strong = sorted((one, other))
    if strong - weak > 1e-9:
        assert brine_density(weak, celsius) < brine_density(strong, celsius)


@given(temperatures)
@settings(max_examples=30)
def test_no_salt_is_water(celsius: float) -> None:
    """At strength zero the law is that of water, exactly."""
    assert water_density(celsius) == brine_density(0.0, celsius)


@pytest.mark.parametrize(
    ("salt", "celsius", "quantity"),
    [
        (-0.001, 20.0, "share of salt"),
        (0.2641, 20.0, "share of salt"),
        (math.nan, 20.0, "share of salt"),
        (0.1, -0.1, "brine temperature"),
        (0.1, 40.1, "brine temperature"),
        (0.1, math.nan, "brine temperature"),
    ],
)
def test_outside_the_table_is_refused(salt: float, celsius: float, quantity: str) -> None:
    """The error names which of the two inputs left the fitted range."""
    with pytest.raises(OutOfRange) as refusal:
        brine_density(salt, celsius)
    assert quantity == refusal.value.quantity


def test_a_spindle_read_a_hair_off_still_counts() -> None:
    """Half a kilogram per cubic metre beyond water or saturated brine is reading error."""
    assert 0.0 == salt_fraction(water_density(20.0) - 0.4, 20.0)
    strongest = brine_density(STRONGEST_BRINE, 20.0)
    assert STRONGEST_BRINE == salt_fraction(strongest + 0.4, 20.0)


@pytest.mark.parametrize("density", [990.0, 1210.0, math.nan])
def test_no_brine_has_this_density(density: float) -> None:
    """Lighter than water or heavier than saturation is refused, not turned into 0 or 26.4 %."""
    with pytest.raises(OutOfRange, match="brine density"):
        salt_fraction(density, 20.0)
