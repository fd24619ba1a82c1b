"""Water density: where it answers and where it refuses."""

import math

import pytest

from benchconsole.chemistry import OutOfRange, water_density


@pytest.mark.parametrize("celsius", [-0.01, 100.01, math.nan, math.inf, -math.inf])
def test_ice_steam_and_no_number_are_refused(celsius: float) -> None:
    """Nothing is clamped: the error carries the value and the range it fell out of."""
    with pytest.raises(OutOfRange, match="water temperature") as refusal:
        water_density(celsius)
    assert (0.0, 100.0, "°C") == (refusal.value.low, refusal.value.high, refusal.value.unit)


def test_warm_water_gets_lighter() -> None:
    """Above 4 °C density falls at every degree to boiling."""
    densities = [water_density(celsius) for celsius in range(4, 101)]
    assert sorted(densities, reverse=True) == densities
