"""Marks of a bottle by level and by weight, and the dressing that goes into it."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.errors import BadInput
from benchconsole.mixing.bottles import level_marks, weight_marks
from benchconsole.mixing.dressings import Liquid, dressing_for_area, emulsion_volume
from benchconsole.mixing.shapes import full_volume_l, volume_at
from benchconsole.model.shop import Scale, Shop
from benchconsole.model.vessels import (
    Bottle,
    Gauge,
    LyingDrum,
    Measured,
    RoundTapered,
    RoundUpright,
    Shape,
)

METRIC = Shop(measures="metric")
US = Shop(measures="us")
NARROWING = RoundTapered(bottom_diameter_m=0.07, top_diameter_m=0.04, depth_m=0.20)
SHOULDERED = Measured(
    points=(
        Gauge(depth_m=0.08, volume_l=0.30),
        Gauge(depth_m=0.12, volume_l=0.40),
        Gauge(depth_m=0.18, volume_l=0.44),
    )
)
UPRIGHT = RoundUpright(diameter_m=0.06, depth_m=0.18)
FORMS: st.SearchStrategy[Shape] = st.sampled_from(
    [NARROWING, SHOULDERED, UPRIGHT, LyingDrum(diameter_m=0.08, length_m=0.2)]
)
FEW = settings(max_examples=80, deadline=None)


def bottle(shape: Shape | None = None, tare_g: float | None = None) -> Bottle:
    """An oil bottle of this inside and empty weight."""
    return Bottle(name="the oil bottle", shape=shape, tare_g=tare_g)


@FEW
@given(
    form=FORMS,
    fill=st.floats(min_value=0.05, max_value=1.0),
    coats=st.integers(min_value=1, max_value=8),
    left=st.floats(min_value=0.0, max_value=0.3),
)
def test_every_coat_is_the_same_volume(form: Shape, fill: float, coats: int, left: float) -> None:
    """From mark to mark the same litres are poured, whatever the form; the loss stays behind."""
    volume = fill * full_volume_l(form)
    found = level_marks(bottle(form), volume, coats, METRIC, left_l=left * volume)
    levels = [found.full_m, *(mark.height_m for mark in found.marks)]
    stands = [volume_at(form, level) for level in levels]
    poured = [before - after for before, after in pairwise(stands)]
    assert poured == pytest.approx([found.coat_l] * coats, rel=1e-6)
    assert left * volume == pytest.approx(stands[-1], abs=1e-9)
    assert coats == len(found.marks)


def test_half_of_a_narrowing_bottle_is_below_half_its_height() -> None:
    """7 cm wide below and 4 above: half the volume stands at 37.3 % of the height."""
    full = level_marks(bottle(NARROWING), full_volume_l(NARROWING), 2, METRIC)
    first = full.marks[0]
    # Half of 7³ + 4³ over the difference of the cubes: the cone solved for its width.
    width = (0.5 * (0.07**3 + 0.04**3)) ** (1 / 3)
    assert (0.07 - width) / 0.03 == pytest.approx(first.share, rel=1e-6)
    assert 0.3727 == pytest.approx(first.share, abs=0.0001)
    assert "Coat 1 of 2: pour until it stands at 7.5 cm, 37 % of the height" in first.says
    assert "Coat 2 of 2: pour out the rest." == full.marks[1].says


def test_half_of_an_upright_bottle_is_half_its_height() -> None:
    """Only there the eye is right."""
    assert 0.5 == pytest.approx(level_marks(bottle(UPRIGHT), 0.3, 2, METRIC).marks[0].share)


def test_a_measured_bottle_is_marked_from_its_points() -> None:
    """440 mL in a shouldered bottle: 220 mL stand at 220/300 of the first 8 cm."""
    found = level_marks(bottle(SHOULDERED), 0.44, 2, METRIC)
    assert 0.08 * 220 / 300 == pytest.approx(found.marks[0].height_m)
    assert "each of 2 coats takes 220 mL, the first down to 5.9 cm" in found.says


def test_what_stays_on_the_walls_is_not_shared() -> None:
    """237 mL with 7 mL left behind are two coats of 115 mL, and the last mark is not the bottom."""
    found = level_marks(bottle(UPRIGHT), 0.237, 2, METRIC, left_l=0.007)
    assert 0.115 == pytest.approx(found.coat_l)
    assert [0.122, 0.007] == pytest.approx([mark.left_l for mark in found.marks])
    assert found.marks[1].height_m > 0.0
    assert ("left on the walls", "7.0 mL") in found.working.inputs


@pytest.mark.parametrize(
    ("shape", "volume", "coats", "left", "field"),
    [
        (None, 0.2, 2, 0.0, "bottle"),
        (UPRIGHT, 0.6, 2, 0.0, "dressing"),
        (UPRIGHT, 0.0, 2, 0.0, "dressing"),
        (UPRIGHT, math.nan, 2, 0.0, "dressing"),
        (UPRIGHT, 0.2, 0, 0.0, "coats"),
        (UPRIGHT, 0.2, 2, 0.2, "left in the bottle"),
        (UPRIGHT, 0.2, 2, -0.1, "left in the bottle"),
        (UPRIGHT, 0.2, 2, math.nan, "left in the bottle"),
    ],
)
def test_level_marks_refuse_by_field(
    shape: Shape | None, volume: float, coats: int, left: float, field: str
) -> None:
    """A bottle without measures, one too small, no coats, a loss that is all there is."""
    with pytest.raises(BadInput) as refusal:
        level_marks(bottle(shape), volume, coats, METRIC, left_l=left)
    assert field == refusal.value.field
    assert refusal.value.example


@FEW
@given(
    tare=st.floats(min_value=10, max_value=900),
    dressing=st.floats(min_value=20, max_value=3000),
    coats=st.integers(min_value=1, max_value=8),
    left=st.floats(min_value=0.0, max_value=0.3),
)
def test_every_coat_is_the_same_weight(
    tare: float, dressing: float, coats: int, left: float
) -> None:
    """The stops fall by one coat each, from the full bottle to its empty weight and the loss."""
    found = weight_marks(
        bottle(tare_g=tare), coats, METRIC, dressing_g=dressing, left_g=left * dressing
    )
    stops = [found.full_g, *(mark.stop_g for mark in found.marks)]
    poured = [before - after for before, after in pairwise(stops)]
    assert poured == pytest.approx([found.coat_g] * coats)
    assert tare + left * dressing == pytest.approx(stops[-1])
    assert all(abs(mark.reading_g - mark.stop_g) <= 0.5 + 1e-6 for mark in found.marks)


def test_any_two_weights_make_the_third() -> None:
    """62 g empty, 289 g full and 227 g of dressing are one bottle, told in any two of them."""
    ways = (
        weight_marks(bottle(tare_g=62.0), 2, METRIC, full_g=289.0),
        weight_marks(bottle(tare_g=62.0), 2, METRIC, dressing_g=227.0),
        weight_marks(bottle(), 2, METRIC, full_g=289.0, dressing_g=227.0),
        weight_marks(bottle(tare_g=62.0), 2, METRIC, full_g=289.0, dressing_g=227.0),
    )
    assert [(289.0, 62.0, 113.5)] * 4 == [(w.full_g, w.tare_g, w.coat_g) for w in ways]
    assert "Coat 1 of 2: stop when the bottle weighs 176 g." == ways[0].marks[0].says
    assert "the first ends when the oil bottle weighs 176 g" in ways[0].says


def test_the_stop_is_told_as_the_scale_shows_it() -> None:
    """A scale in ounces is told in ounces; the doubt of a coat is that of a net weight, k = 2."""
    shop = Shop(measures="us", scale=Scale(step_g=1.0, capacity_g=5000.0, shows="oz"))
    found = weight_marks(bottle(tare_g=62.0), 2, shop, full_g=289.0)
    assert found.marks[0].says.endswith("weighs 6.20 oz.")
    assert 0.816 == pytest.approx(found.error_g, abs=0.0005)
    assert "0.7 % of it" in found.working.sure


@pytest.mark.parametrize(
    ("tare", "full", "dressing", "left", "field"),
    [
        (None, None, None, 0.0, "empty bottle"),
        (62.0, None, None, 0.0, "full bottle"),
        (None, 289.0, None, 0.0, "empty bottle"),
        (289.0, 62.0, None, 0.0, "full bottle"),
        (None, 200.0, 227.0, 0.0, "full bottle"),
        (62.0, 289.0, 250.0, 0.0, "full bottle"),
        (62.0, 9000.0, None, 0.0, "full bottle"),
        (62.0, 289.0, None, 227.0, "left in the bottle"),
        (-62.0, 289.0, None, 0.0, "empty bottle"),
        (62.0, math.nan, None, 0.0, "full bottle"),
    ],
)
def test_weight_marks_refuse_by_field(
    tare: float | None, full: float | None, dressing: float | None, left: float, field: str
) -> None:
    """Too few weights, weights that disagree, more than the scale carries, no number."""
    with pytest.raises(BadInput) as refusal:
        weight_marks(bottle(tare_g=tare), 2, METRIC, full_g=full, dressing_g=dressing, left_g=left)
    assert field == refusal.value.field
    assert refusal.value.example


def test_an_emulsion_fills_its_liquids() -> None:
    """100 g of oil at 914 and 100 g of water at 999 fill 209.5 mL; the span of the oil shows."""
    liquids = [
        Liquid(name="oil", mass_g=100, density_kg_m3=914, low_kg_m3=908, high_kg_m3=918),
        Liquid(name="water", mass_g=100, density_kg_m3=999),
    ]
    found = emulsion_volume(liquids, METRIC)
    assert 0.20951 == pytest.approx(found.volume_l, abs=0.00001)
    assert 100 / 918 + 100 / 999 == pytest.approx(found.least_l)
    assert 100 / 908 + 100 / 999 == pytest.approx(found.most_l)
    assert 200 / found.volume_l == pytest.approx(found.density_kg_m3)
    assert "The emulsion fills 210 mL and weighs 200 g, 0.955 kg/L." == found.says


@pytest.mark.parametrize(
    ("liquids", "field"),
    [
        ([], "emulsion"),
        ([Liquid(name="oil", mass_g=0, density_kg_m3=914)], "weight of oil"),
        ([Liquid(name="oil", mass_g=100, density_kg_m3=0.914)], "density of oil"),
        ([Liquid(name="oil", mass_g=100, density_kg_m3=math.nan)], "density of oil"),
        ([Liquid(name="oil", mass_g=1, density_kg_m3=914, low_kg_m3=920)], "density of oil"),
    ],
)
def test_liquids_that_are_none_are_refused(liquids: list[Liquid], field: str) -> None:
    """No liquid, no weight, a density in kg/L, a span beside its density."""
    with pytest.raises(BadInput) as refusal:
        emulsion_volume(liquids, METRIC)
    assert field == refusal.value.field


def test_a_deer_skin_takes_a_quarter_litre() -> None:
    """0.84 m² at 0.24 to 0.36 L/m² take 202 to 302 mL, in two coats of 126 mL."""
    found = dressing_for_area(0.84, METRIC)
    assert (0.2016, 0.3024) == pytest.approx((found.least_l, found.most_l))
    assert 2 * found.coat_l == found.volume_l
    assert found.least_l < found.volume_l < found.most_l
    assert (
        "0.84 m² of skin takes 252 mL of dressing (202 mL to 302 mL) in 2 coats of 126 mL."
        == found.says
    )
    assert "9.04 sq ft of skin takes 8.5 US fl oz" in dressing_for_area(0.84, US).says
    assert "computed" in found.working.source


def test_the_bottles_loss_is_mixed_and_not_counted() -> None:
    """10 mL that stay in the bottle are mixed on top; the skin gets what its area asks for."""
    found = dressing_for_area(0.84, METRIC, left_l=0.01, litres_per_m2=0.3, coats=1)
    assert 0.252 == pytest.approx(found.volume_l)
    assert 0.262 == pytest.approx(found.mix_l)
    assert found.says.endswith("in one coat; mix 262 mL, for some stays in the bottle.")


@FEW
@given(area=st.floats(min_value=0.02, max_value=5.0), times=st.floats(min_value=1.0, max_value=4.0))
def test_a_larger_skin_takes_in_proportion(area: float, times: float) -> None:
    """So many times the area, so many times the dressing."""
    small, large = dressing_for_area(area, METRIC), dressing_for_area(area * times, METRIC)
    assert small.volume_l * times == pytest.approx(large.volume_l)


@pytest.mark.parametrize(
    ("area", "coats", "left", "rate", "field"),
    [
        (0.0, 2, 0.0, None, "area"),
        (math.inf, 2, 0.0, None, "area"),
        (0.8, 0, 0.0, None, "coats"),
        (0.8, 2, -1.0, None, "left in the bottle"),
        (0.8, 2, 0.0, 300.0, "dressing for the area"),
    ],
)
def test_dressing_refuses_by_field(
    area: float, coats: int, left: float, rate: float | None, field: str
) -> None:
    """No area, no coats, a loss below nothing, millilitres taken for litres."""
    with pytest.raises(BadInput) as refusal:
        dressing_for_area(area, METRIC, coats=coats, left_l=left, litres_per_m2=rate)
    assert field == refusal.value.field
    assert refusal.value.example
