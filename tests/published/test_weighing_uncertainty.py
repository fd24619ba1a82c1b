"""Uncertainty of weighing against published rules and figures worked out from them.

JCGM 100:2008 (GUM) 4.3.7 for the rounding of a display; OIML R 76-1 for tare setting. Clause
numbers from memory.
"""

import pytest

from benchconsole.mixing.scale_limits import (
    least_weight,
)
from benchconsole.mixing.scales import (
    net_by_difference_g,
    net_by_tare_key_g,
    rounding_g,
    sum_of_tared_g,
    weighing_error,
)
from benchconsole.model.shop import Scale, Shop

#: d, s, d/√12, net by difference, net by tare key, k = 2 of the first, least at 1, 2, 5 %.
WORKED = [
    (1.0, 0.5, 0.2887, 0.816, 0.777, 1.63, 163, 82, 33),
    (0.1, 0.05, 0.0289, 0.082, 0.078, 0.16, 16, 8, 3),
    (5.0, 2.0, 1.4434, 3.488, 3.256, 6.98, 698, 349, 140),
    (0.01, 0.004, 0.0029, 0.007, 0.007, 0.01, 1, 1, 0),
    (2.0, 1.0, 0.5774, 1.633, 1.555, 3.27, 327, 163, 65),
    (0.5, 0.3, 0.1443, 0.471, 0.454, 0.94, 94, 47, 19),
]


def shop_with(step_g: float, capacity_g: float = 15_000.0) -> Shop:
    """A metric shop with this scale."""
    return Shop(measures="metric", scale=Scale(step_g=step_g, capacity_g=capacity_g))


@pytest.mark.parametrize("row", WORKED, ids=lambda row: f"d {row[0]} s {row[1]}")
def test_the_worked_table(row: tuple[float, ...]) -> None:
    """GUM 4.3.7 and R 76-1 tare setting: every figure as printed, within its last place."""
    d, s, rounding, difference, tared, expanded, *least = row
    assert rounding == pytest.approx(rounding_g(d), abs=0.00006)
    assert difference == pytest.approx(net_by_difference_g(d, s), abs=0.0006)
    assert tared == pytest.approx(net_by_tare_key_g(d, s), abs=0.0006)
    assert expanded == pytest.approx(2 * net_by_difference_g(d, s), abs=0.006)
    shop = shop_with(d)
    found = [least_weight(each, shop, repeatability_g=s).mass_g for each in (0.01, 0.02, 0.05)]
    assert least == pytest.approx(found, abs=0.51)


def test_thirty_six_grams_of_alum() -> None:
    """Example: d = 1 g, s = 0.5 g, 36 g by difference: 1.63 g, 4.5 %; fails 2 %, passes 5 %."""
    found = weighing_error(36.0, shop_with(1.0), repeatability_g=0.5)
    assert 1.63 == pytest.approx(found.expanded_g, abs=0.005)
    assert 0.045 == pytest.approx(found.share, abs=0.0005)
    assert 0.02 < found.share < 0.05


def test_twelve_spoons_tared_each_time() -> None:
    """Example: d = 0.1 g, s = 0.05 g: √12 × 0.0777 = 0.269 g; one weighing by difference 0.082."""
    assert 0.269 == pytest.approx(sum_of_tared_g(0.1, 0.05, 12), abs=0.0005)
    shop = shop_with(0.1)
    tared = weighing_error(
        36.0, shop, repeatability_g=0.05, zero_by="tare-key", additions=12, mode="re-zero"
    )
    at_once = weighing_error(36.0, shop, repeatability_g=0.05, additions=12)
    assert 0.269 == pytest.approx(tared.standard_g, abs=0.0005)
    assert 0.082 == pytest.approx(at_once.standard_g, abs=0.0005)


def test_eighty_two_steps_for_one_percent() -> None:
    """By difference with s = 0 the least is 0.816 d ÷ tolerance: 82 d for 1 % (GUM 4.3.7)."""
    assert 81.65 == pytest.approx(least_weight(0.01, shop_with(1.0)).mass_g, abs=0.005)
