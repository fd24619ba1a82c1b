"""Liquor volume: conservation, limits and what it says about itself."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.chemistry import (
    STRONGEST_BRINE,
    OutOfRange,
    brine_density,
    liquor_volume,
    water_density,
)

amounts = st.floats(1.0, 1e5)
temperatures = st.floats(0.0, 40.0)


@settings(max_examples=60)
@given(amounts, amounts, amounts, amounts, temperatures)
def test_mass_is_kept(
    water: float, salt: float, solid: float, liquid: float, celsius: float
) -> None:
    """Volume times density is what went in, whatever dissolved."""
    liquor = liquor_volume(water, salt, [(solid, 0.09)], [(liquid, 1050.0)], celsius)
    assert water + salt + solid + liquid == pytest.approx(liquor.mass_g)
    assert liquor.mass_g == pytest.approx(liquor.volume_l * liquor.density_kg_m3)


@settings(max_examples=60)
@given(amounts, st.floats(0.0, STRONGEST_BRINE), temperatures, st.floats(0.01, 100.0))
def test_twice_the_batch_is_twice_the_volume(
    water: float, share: float, celsius: float, times: float
) -> None:
    """Volume scales with the recipe."""
    salt = water * share / (1 - share)
    once = liquor_volume(water, salt, [(water * 0.05, 0.1)], [], celsius).volume_l
    scaled = liquor_volume(
        times * water, times * salt, [(times * water * 0.05, 0.1)], [], celsius
    ).volume_l
    assert times * once == pytest.approx(scaled)


def test_plain_brine_has_its_density() -> None:
    """With nothing else in it a liquor is a brine of the density law."""
    liquor = liquor_volume(900.0, 100.0, [], [], 20.0)
    assert brine_density(0.1, 20.0) == pytest.approx(liquor.density_kg_m3)
    assert 0.0 == liquor.undissolved_salt_g


def test_a_litre_of_water_with_alum_and_salt() -> None:
    """The bath of the handbooks, 60 g salt and 45 g anhydrous alum to the litre of water, makes
    about 1.025 L and not the 1.105 L that adding the masses would suggest."""
    liquor = liquor_volume(1000.0, 60.0, [(45.0, 0.09)], [], 20.0)
    assert 1.0255 == pytest.approx(liquor.volume_l, abs=0.002)


def test_salt_beyond_saturation_stays_crystal() -> None:
    """500 g of salt in a litre: 359 g dissolve, the rest takes its crystal's room."""
    liquor = liquor_volume(1000.0, 500.0, [], [], 20.0)
    assert 141.3 == pytest.approx(liquor.undissolved_salt_g, abs=0.5)
    brine_l = (1500.0 - liquor.undissolved_salt_g) / brine_density(STRONGEST_BRINE, 20.0)
    assert brine_l + liquor.undissolved_salt_g / 2165 == pytest.approx(liquor.volume_l)
    assert "crystal" in liquor.how_sure


def test_hot_water_without_salt_is_allowed() -> None:
    """A jug of hot water has a volume up to boiling; hot brine has no law and is refused."""
    hot = liquor_volume(1000.0, 0.0, [], [], 80.0)
    assert 1000.0 / water_density(80.0) == pytest.approx(hot.volume_l)
    with pytest.raises(OutOfRange, match="brine temperature"):
        liquor_volume(1000.0, 1.0, [], [], 80.0)


def test_doubt_grows_with_what_is_less_known() -> None:
    """Brine alone is surest; solids, then liquids, widen the stated uncertainty and the words."""
    brine = liquor_volume(1000.0, 60.0, [], [], 20.0)
    solids = liquor_volume(1000.0, 60.0, [(40.0, 0.09)], [], 20.0)
    liquids = liquor_volume(1000.0, 60.0, [(40.0, 0.09)], [(200.0, 1050.0)], 20.0)
    assert brine.uncertainty < solids.uncertainty < liquids.uncertainty
    assert "within 0.1 %: water and salt by their density" == brine.how_sure
    assert "shrank" in liquids.how_sure


@pytest.mark.parametrize(
    ("water", "salt", "solute", "liquid"),
    [
        (-1.0, 0.0, (1.0, 0.1), (1.0, 900.0)),
        (1.0, -1.0, (1.0, 0.1), (1.0, 900.0)),
        (1.0, 1.0, (-1.0, 0.1), (1.0, 900.0)),
        (1.0, 1.0, (1.0, 0.1), (float("nan"), 900.0)),
        (1.0, 1.0, (1.0, 0.1), (1.0, 0.0)),
        (float("inf"), 1.0, (1.0, 0.1), (1.0, 900.0)),
    ],
)
def test_impossible_amounts_are_refused(
    water: float, salt: float, solute: tuple[float, float], liquid: tuple[float, float]
) -> None:
    """Negative, endless and weightless ingredients never reach the arithmetic."""
    with pytest.raises(OutOfRange):
        liquor_volume(water, salt, [solute], [liquid], 20.0)


def test_nothing_at_all_has_no_volume() -> None:
    """An empty mix is refused instead of dividing by zero."""
    with pytest.raises(OutOfRange, match="volume of the liquor"):
        liquor_volume(0.0, 0.0, [], [], 20.0)


def test_salt_without_water_is_dry() -> None:
    """Dry salt lies as crystal; it makes no brine."""
    dry = liquor_volume(0.0, 2165.0, [], [], 20.0)
    assert 1.0 == pytest.approx(dry.volume_l)
    assert 2165.0 == dry.undissolved_salt_g
