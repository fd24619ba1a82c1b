"""Hydrometer scales: there and back, and the readings they refuse."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.chemistry import (
    HydrometerScale,
    OutOfRange,
    density_from_reading,
    hydrometer_degrees,
    hydrometer_reading,
    specific_gravity,
)


@pytest.mark.parametrize("scale", HydrometerScale)
@settings(max_examples=50)
@given(gravity=st.floats(1.0, 1.2))
def test_degrees_and_gravity_are_inverse(scale: HydrometerScale, gravity: float) -> None:
    """Any brine's gravity survives a trip through any scale."""
    degrees = hydrometer_degrees(scale, gravity)
    assert gravity == pytest.approx(specific_gravity(scale, degrees), abs=1e-9)


@settings(max_examples=50)
@given(st.floats(990.0, 1210.0), st.floats(0.0, 100.0))
def test_reading_and_density_are_inverse(density: float, celsius: float) -> None:
    """The glass correction is undone exactly."""
    reading = hydrometer_reading(density, celsius)
    assert density == pytest.approx(density_from_reading(reading, celsius), rel=1e-12)


@pytest.mark.parametrize("scale", set(HydrometerScale) - {HydrometerScale.SPECIFIC_GRAVITY})
def test_water_is_zero_on_every_scale(scale: HydrometerScale) -> None:
    """All degree scales start at water of 60 °F."""
    assert 0.0 == pytest.approx(hydrometer_degrees(scale, 1.0), abs=1e-9)


def test_five_barkometer_degrees_are_one_twaddell() -> None:
    """By definition 1000 (SG - 1) against 200 (SG - 1)."""
    barkometer = specific_gravity(HydrometerScale.BARKOMETER, 35.0)
    assert 7.0 == pytest.approx(hydrometer_degrees(HydrometerScale.TWADDELL, barkometer))


@pytest.mark.parametrize(
    ("scale", "degrees"),
    [
        (HydrometerScale.SALOMETER, 100.1),
        (HydrometerScale.SALOMETER, -1.0),
        (HydrometerScale.BAUME, 145.0),
        (HydrometerScale.TWADDELL, 1e9),
        (HydrometerScale.BARKOMETER, float("nan")),
        (HydrometerScale.SPECIFIC_GRAVITY, 0.0),
    ],
)
def test_readings_no_liquor_gives_are_refused(scale: HydrometerScale, degrees: float) -> None:
    """No division by zero and no made-up gravity."""
    with pytest.raises(OutOfRange):
        specific_gravity(scale, degrees)


def test_tan_liquor_off_the_salometer() -> None:
    """A gravity above saturated brine has no salometer degrees but does have Baumé degrees."""
    with pytest.raises(OutOfRange, match="brine density"):
        hydrometer_degrees(HydrometerScale.SALOMETER, 1.25)
    assert 29.0 == pytest.approx(hydrometer_degrees(HydrometerScale.BAUME, 1.25))
