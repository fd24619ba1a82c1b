"""Moist air: limits, and the lines between sorption points."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchconsole.chemistry.limits import OutOfRange
from benchconsole.chemistry.moist_air import (
    regain_at,
    saturation_pressure,
    vapour_pressure_deficit,
)

WOOL = ((10.0, 0.04), (50.0, 0.11), (90.0, 0.23))

temperatures = st.floats(0.0, 100.0)
humidities = st.floats(0.0, 100.0)


@given(colder=temperatures, warmer=temperatures)
def test_warm_air_holds_more(colder: float, warmer: float) -> None:
    """Saturation pressure never falls as air gets warmer."""
    colder, warmer = sorted((colder, warmer))
    assert saturation_pressure(colder) <= saturation_pressure(warmer)


@given(celsius=temperatures, humidity=humidities)
def test_the_deficit_is_what_is_missing(celsius: float, humidity: float) -> None:
    """Nothing is missing from saturated air, all of it from dry air."""
    full = saturation_pressure(celsius)
    assert 0.0 <= vapour_pressure_deficit(celsius, humidity) <= full
    assert vapour_pressure_deficit(celsius, 100.0) == 0.0
    assert vapour_pressure_deficit(celsius, 0.0) == full


@pytest.mark.parametrize(("celsius", "humidity"), [(-1, 50), (101, 50), (20, -1), (20, 101)])
def test_air_outside_the_law_is_refused(celsius: float, humidity: float) -> None:
    """Frost, steam and impossible humidities have no figure."""
    with pytest.raises(OutOfRange):
        vapour_pressure_deficit(celsius, humidity)


@pytest.mark.parametrize(
    ("humidity", "expected"),
    [(0, 0.0), (5, 0.02), (10, 0.04), (30, 0.075), (50, 0.11), (70, 0.17), (90, 0.23), (100, 0.26)],
)
def test_between_points_moisture_is_a_straight_line(humidity: float, expected: float) -> None:
    """At the points it is the published one; outside, the line from dry air, or the last slope."""
    assert expected == pytest.approx(regain_at(WOOL, humidity))


@given(drier=humidities, damper=humidities)
def test_damper_air_leaves_more(drier: float, damper: float) -> None:
    """Moisture at rest never falls with humidity."""
    drier, damper = sorted((drier, damper))
    assert regain_at(WOOL, drier) <= regain_at(WOOL, damper)


def test_points_that_make_no_curve_are_refused() -> None:
    """One point, or points out of order, are a defect of the data."""
    for points in (WOOL[:1], WOOL[::-1], ((0.0, 0.01), (50.0, 0.1))):
        with pytest.raises(ValueError, match="sorption"):
            regain_at(points, 50.0)
    with pytest.raises(OutOfRange):
        regain_at(WOOL, 130.0)
