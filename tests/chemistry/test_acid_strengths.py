"""Acid as sold, and salt before acid: conversions come back, guards stand in order."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.chemistry import OutOfRange
from benchconsole.chemistry.commercial_acid import (
    acid_as_sold_g,
    acid_as_sold_ml,
    mass_fraction,
    pure_g,
    pure_g_per_ml,
)
from benchconsole.chemistry.swelling import Guard, salt_before_acid

fractions = st.floats(0.01, 1.0)
densities = st.floats(700.0, 2000.0)
masses = st.floats(0.0, 1e5)


@given(masses, fractions, densities)
@settings(max_examples=50)
def test_there_and_back(grams: float, strength: float, density: float) -> None:
    """Grams pure to millilitres as sold and back; the label's % w/v gives the strength back; and
    weighing agrees with measuring."""
    millilitres = acid_as_sold_ml(grams, strength, density)
    assert grams == pytest.approx(pure_g(millilitres, strength, density))
    assert millilitres * density / 1000 == pytest.approx(acid_as_sold_g(grams, strength))
    if strength < 0.999:
        back = mass_fraction(pure_g_per_ml(strength, density), density)
        assert strength == pytest.approx(back)


def test_battery_acid_by_hand() -> None:
    """Ten grams of sulphuric acid out of 37 % battery acid of 1278 kg/m³: 27.0 g, 21.1 mL."""
    assert 27.03 == pytest.approx(acid_as_sold_g(10.0, 0.37), abs=0.01)
    assert 21.15 == pytest.approx(acid_as_sold_ml(10.0, 0.37, 1278.0), abs=0.01)


@pytest.mark.parametrize(
    ("strength", "density", "names"),
    [
        (0.0, 1000.0, "strength"),
        (1.01, 1000.0, "strength"),
        (math.nan, 1000.0, "strength"),
        (0.5, 600.0, "density"),
        (0.5, math.inf, "density"),
    ],
)
def test_bottles_that_are_refused(strength: float, density: float, names: str) -> None:
    """No strength, too much of it, or a density no bottle has."""
    with pytest.raises(OutOfRange, match=names):
        pure_g_per_ml(strength, density)
    with pytest.raises(OutOfRange, match=names):
        acid_as_sold_ml(1.0, strength, density)


def test_amounts_that_are_refused() -> None:
    """Nothing below nothing, and no % w/v stronger than the pure acid."""
    with pytest.raises(OutOfRange, match="mass of acid"):
        acid_as_sold_g(-1.0, 0.5)
    with pytest.raises(OutOfRange, match="volume of acid"):
        pure_g(-1.0, 0.5, 1000.0)
    with pytest.raises(OutOfRange, match="strength"):
        mass_fraction(1.3, 1200.0)
    with pytest.raises(OutOfRange, match="density"):
        mass_fraction(0.5, 0.0)


@given(st.floats(0.0, 190.0), st.floats(0.0, 190.0))
@settings(max_examples=50)
def test_more_salt_never_guards_less(one: float, other: float) -> None:
    """The verdict, the degrees and what is wanting move one way with salt."""
    order = [Guard.TOO_LITTLE, Guard.SCANT, Guard.ENOUGH]
    low, high = (salt_before_acid(salt) for salt in sorted((one, other)))
    assert order.index(low.guard) <= order.index(high.guard)
    assert low.degrees_baume <= high.degrees_baume
    assert low.wanting_g_per_l >= high.wanting_g_per_l
    assert (high.guard is Guard.ENOUGH) == (high.wanting_g_per_l == 0.0)


def test_guard_in_words() -> None:
    """No salt at all is nought degrees and says what acid would do; 100 g/L passes."""
    bare = salt_before_acid(0.0)
    assert 0.0 == pytest.approx(bare.degrees_baume, abs=1e-6)
    assert "0 g/L of salt is too little: acid would swell the skin" == bare.says
    assert "100 g/L of salt is enough before acid" == salt_before_acid(100.0).says


@pytest.mark.parametrize("salt", [-1.0, 200.0, math.nan])
def test_guard_refuses(salt: float) -> None:
    """Salt outside the range of the law is refused, not called enough."""
    with pytest.raises(OutOfRange, match="salt"):
        salt_before_acid(salt)
