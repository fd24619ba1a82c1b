"""Moist air: what water it can still take up, and the moisture it leaves in wool and skin."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

from benchconsole.chemistry.limits import require_within

COLDEST_AIR = 0.01
"""The triple point; below it the air is judged over ice, and a wet hide freezes."""
WARMEST_AIR = 100.0

_CRITICAL_K = 647.096
_CRITICAL_PA = 22.064e6
_TERMS = (
    (-7.85951783, 1.0),
    (1.84408259, 1.5),
    (-11.7866497, 3.0),
    (22.6807411, 3.5),
    (-15.9618719, 4.0),
    (1.80122502, 7.5),
)


def saturation_pressure(celsius: float) -> float:
    """Saturation vapour pressure over liquid water in Pa, from 0 to 100 °C.

    Method: Wagner and Pruss, J. Phys. Chem. Ref. Data 22 (1993) 783, the supplementary equation
    of IAPWS (SR1-86). Within 0.1 % of the ASHRAE formula (Hyland and Wexler 1983). Raises
    `OutOfRange` below 0 °C and above 100 °C; from 0 to 0.01 °C it is that of 0.01 °C.
    """
    require_within("air temperature", celsius, 0.0, WARMEST_AIR, "°C")
    kelvin = max(celsius, COLDEST_AIR) + 273.15
    theta = 1.0 - kelvin / _CRITICAL_K
    exponent = sum(factor * theta**power for factor, power in _TERMS)
    return _CRITICAL_PA * math.exp(_CRITICAL_K / kelvin * exponent)


def vapour_pressure_deficit(celsius: float, humidity_pct: float) -> float:
    """How far the air is from saturation, in Pa: saturation pressure times (1 - RH/100).

    To first order wet things dry in proportion to it. Raises `OutOfRange` for a temperature
    outside 0 to 100 °C or a relative humidity outside 0 to 100 %.
    """
    require_within("relative humidity", humidity_pct, 0.0, 100.0, "%")
    return saturation_pressure(celsius) * (1.0 - humidity_pct / 100.0)


def regain_at(points: Sequence[tuple[float, float]], humidity_pct: float) -> float:
    """Equilibrium moisture in g of water per g of dry matter, from published (RH %, g/g) points.

    Straight lines between the points, which rise in humidity; below the first the line from
    dry air (nothing taken up), above the last its slope goes on. Raises `OutOfRange` for a
    humidity outside 0 to 100 % and ValueError for fewer than two points.
    """
    require_within("relative humidity", humidity_pct, 0.0, 100.0, "%")
    known = [(0.0, 0.0), *points]
    if len(points) < 2 or any(later[0] <= sooner[0] for sooner, later in pairwise(known)):
        raise ValueError("a sorption curve needs two points at least, rising in humidity")
    (low, at_low), (high, at_high) = next(
        (pair for pair in pairwise(known) if humidity_pct <= pair[1][0]), (known[-2], known[-1])
    )
    return at_low + (at_high - at_low) * (humidity_pct - low) / (high - low)
