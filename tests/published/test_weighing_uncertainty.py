"""Uncertainty of weighing against published rules and figures worked out from them.

JCGM 100:2008 (GUM) 4.3.7 for the rounding of a display; OIML R 76-1 for tare setting and
permissible errors; USP General Chapter 41 for the least weight. Clause numbers from memory;
the tables of R 76 and the change of chapter 41 were read in reprints.
"""

import pytest

from benchconsole.mixing.scale_checks import weighing_error_g
from benchconsole.mixing.scale_limits import (
    ScaleClass,
    laboratory_least_g,
    least_weight,
    permitted_error_g,
)
from benchconsole.mixing.scales import (
    buoyancy,
    net_by_difference_g,
    net_by_tare_key_g,
    rounding_g,
    strength_error,
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


@pytest.mark.parametrize(
    ("load_g", "new_g"),
    [(0, 2.5), (2500, 2.5), (2501, 5.0), (10_000, 5.0), (10_001, 7.5), (15_000, 7.5)],
)
def test_a_class_three_scale(load_g: float, new_g: float) -> None:
    """OIML R 76-1, tables 3 and 6: 15 kg × 5 g may be off 2.5, 5, 7.5 g; in service twice that."""
    assert new_g == permitted_error_g(load_g, 5.0)
    assert 2 * new_g == permitted_error_g(load_g, 5.0, in_service=True)


@pytest.mark.parametrize(
    ("kind", "half", "one"),
    [("I", 50_000, 200_000), ("II", 5_000, 20_000), ("III", 500, 2_000), ("IIII", 50, 200)],
)
def test_the_steps_of_each_class(kind: ScaleClass, half: int, one: int) -> None:
    """OIML R 76-1, table 6: half an interval up to the first step, one to the second, then 1.5."""
    found = [permitted_error_g(load, 1.0, kind=kind) for load in (half, half + 1, one, one + 1)]
    assert [0.5, 1.0, 1.0, 1.5] == found


def test_salt_of_a_weighed_brine() -> None:
    """Example: 2640 g of salt and 7360 g of water on d = 20 g: 8.165 g each, 0.242 % (k = 1)."""
    error = net_by_difference_g(20.0)
    assert 8.165 == pytest.approx(error, abs=0.0005)
    assert 0.00242 == pytest.approx(strength_error(2640, error, 7360, error), abs=0.000005)


def test_the_laboratory_rule() -> None:
    """USP General Chapter 41 (2019): 2000 s, never under 820 d; s = 0.00015 g gives 0.300 g."""
    assert 0.300 == pytest.approx(laboratory_least_g(0.0001, 0.00015))
    assert 820.0 == pytest.approx(laboratory_least_g(1.0, 0.0))
    assert 41.0 == pytest.approx(laboratory_least_g(1.0, 0.0, tolerance=0.02))


def test_eighty_two_steps_for_one_percent() -> None:
    """By difference with s = 0 the least is 0.816 d ÷ tolerance: 82 d for 1 % (GUM 4.3.7)."""
    assert 81.65 == pytest.approx(least_weight(0.01, shop_with(1.0)).mass_g, abs=0.005)


@pytest.mark.parametrize(
    ("density", "percent"), [(998.2, 0.105), (1200, 0.085), (915, 0.116), (2165, 0.040)]
)
def test_air_buoyancy_is_small(density: float, percent: float) -> None:
    """Water, brine, oil and salt in air of 1.2 kg/m³ against weights of 8000 kg/m³ (the usual
    formula of OIML D 28, from memory): a tenth of a percent, and left out."""
    assert percent == pytest.approx(100 * buoyancy(density), abs=0.0006)


def test_a_gallon_weighs_less_in_air() -> None:
    """8.337 lb of water in a US gallon at 60 °F in vacuum read 8.328 lb in air."""
    assert 8.328 == pytest.approx(8.337 / (1 + buoyancy(999.0)), abs=0.0006)


def test_the_worksheet_checks_by_the_same_law() -> None:
    """The scale check of a worksheet is twice the net uncertainty without repeatability."""
    for step in (0.01, 0.1, 1.0, 5.0):
        scale = Scale(step_g=step)
        assert weighing_error_g(scale) == pytest.approx(2 * net_by_difference_g(step), rel=1e-12)
