"""Covering a hide, the largest hide that fits, and topping up."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from benchconsole.errors import BadInput
from benchconsole.mixing.covering import Goods, cover, largest_hide_g
from benchconsole.mixing.shapes import depth_at, volume_at
from benchconsole.mixing.topping_up import top_up
from benchconsole.model.shop import Shop
from benchconsole.model.vessels import RoundTapered, RoundUpright, Vessel
from benchconsole.quantities import Measures, read_length, read_mass

METRIC = Shop(measures="metric", jug_l=5.0)
US = Shop(measures="us", jug_l=3.785411784)
TUB = Vessel(name="the blue tub", shape=RoundUpright(diameter_m=0.56, depth_m=0.40))
BUCKET = Vessel(
    name="the bucket",
    shape=RoundTapered(bottom_diameter_m=0.26, top_diameter_m=0.31, depth_m=0.34),
    keep_free_m=0.03,
)
VESSELS = st.sampled_from([TUB, BUCKET])
FLOATS = st.one_of(st.none(), st.floats(min_value=0.5, max_value=12.0))
FEW = settings(max_examples=80, deadline=None)


def test_a_deep_bath_is_the_float() -> None:
    """3.2 kg at 6 L/kg are 19.2 L; with 3.05 L of hide in it 22.25 L stand 9.0 cm deep."""
    found = cover(TUB, Goods(mass_g=3200.0), METRIC, litres_per_kg=6.0)
    assert "float" == found.rule
    assert 19.2 == pytest.approx(found.liquor_l)
    assert 0.0903 == pytest.approx(found.depth_m, abs=0.0001)
    assert 76.27 == pytest.approx(found.room_l, abs=0.01)
    assert "19.2 L of liquor = 3 × 5 L jug + 4.2 L, 9 cm deep" in found.says


def test_free_movement_decides_for_a_small_hide_in_a_wide_tub() -> None:
    """5 cm above the skin of a 1 kg hide: the layer of 12.3 L over its volume, not 6 L of float."""
    found = cover(TUB, Goods(mass_g=1000.0), METRIC, litres_per_kg=6.0)
    assert "free movement" == found.rule
    assert volume_at(TUB.shape, 0.05) == pytest.approx(found.liquor_l)


def test_a_hide_that_was_seen_to_lie_high_needs_more() -> None:
    """Its top at 20 cm, 5 cm of liquor above: 25 cm deep, less the 3.05 L of the hide itself."""
    found = cover(TUB, Goods(mass_g=3200.0, lies_m=0.20), METRIC)
    assert 0.25 == pytest.approx(found.depth_m)
    assert volume_at(TUB.shape, 0.25) - 3.2 / 1.05 == pytest.approx(found.liquor_l)


def test_the_working_shows_both_rules() -> None:
    """Both volumes, the source of the 4 to 6 cm with its mark, and what is not known."""
    working = cover(TUB, Goods(mass_g=3200.0), METRIC, litres_per_kg=6.0).working
    assert ("by the float, 6 L/kg", "19.20 L") in working.inputs
    assert ("by free movement", "12.32 L") in working.inputs
    assert "4 to 6 cm" in working.source
    assert "read in the source" in working.source
    assert "folds and hair lie higher" in working.sure


@FEW
@given(
    vessel=VESSELS,
    ratio=FLOATS,
    above=st.floats(min_value=0.04, max_value=0.06),
    share=st.floats(min_value=0.01, max_value=3.0),
)
def test_the_largest_hide_is_the_border(
    vessel: Vessel, ratio: float | None, above: float, share: float
) -> None:
    """Every hide up to the largest is covered below the fill line, every heavier one refused."""
    most = largest_hide_g(vessel, litres_per_kg=ratio, above_m=above)
    goods = Goods(mass_g=most * share)
    if share > 1.0001:
        with pytest.raises(BadInput, match="the largest hide that fits"):
            cover(vessel, goods, METRIC, litres_per_kg=ratio, above_m=above)
    elif share < 0.9999:
        found = cover(vessel, goods, METRIC, litres_per_kg=ratio, above_m=above)
        assert found.room_l >= 0.0
        assert found.liquor_l > 0.0
        assert found.liquor_l >= (ratio or 0.0) * goods.mass_g / 1000.0


@pytest.mark.parametrize("measures", ["us", "metric"])
@FEW
@given(mass_g=st.floats(min_value=5_000, max_value=16_000), lies=st.sampled_from([None, 0.31]))
def test_the_hide_named_in_a_refusal_fits(
    measures: Measures, mass_g: float, lies: float | None
) -> None:
    """Typed as it stands in the sentence, the largest hide is covered by the same rules."""
    shop = Shop(measures=measures)
    goods = Goods(mass_g=mass_g, lies_m=lies)
    bucket = replace(BUCKET, keep_free_m=0.0)
    with pytest.raises(BadInput) as refusal:
        cover(bucket, goods, shop, litres_per_kg=4.0, above_m=0.04)
    words = refusal.value.example.partition(",")[0]
    fits_g = read_mass(words, field="hide weight", measures=measures)
    most = largest_hide_g(bucket, litres_per_kg=4.0, above_m=0.04, like=goods)
    assert 0.95 * most - 20 <= fits_g <= most
    heap_l = 0.0 if lies is None else volume_at(bucket.shape, lies) * fits_g / mass_g
    lower = None if lies is None else depth_at(bucket.shape, heap_l)
    smaller = replace(goods, mass_g=fits_g, lies_m=lower)
    assert cover(bucket, smaller, shop, litres_per_kg=4.0, above_m=0.04).room_l >= 0.0


@FEW
@given(
    vessel=VESSELS,
    ratio=st.floats(min_value=0.5, max_value=4.0),
    lighter=st.floats(min_value=0.1, max_value=1.0),
)
def test_a_heavier_hide_never_stands_lower(vessel: Vessel, ratio: float, lighter: float) -> None:
    """More hide or more float never lowers the level, and never leaves more room."""
    most = largest_hide_g(vessel, litres_per_kg=ratio) * 0.99
    small, large = (
        cover(vessel, Goods(mass_g=mass), METRIC, litres_per_kg=ratio)
        for mass in (most * lighter, most)
    )
    thin = cover(vessel, Goods(mass_g=most), METRIC, litres_per_kg=ratio * lighter)
    assert small.depth_m <= large.depth_m + 1e-9
    assert small.room_l >= large.room_l - 1e-9
    assert thin.liquor_l <= large.liquor_l + 1e-9


def test_a_lot_is_one_weight() -> None:
    """Five hides of 12 kg together are covered as 12 kg; the refusal speaks of the lot."""
    lot = cover(TUB, Goods(mass_g=12_000.0, count=5), METRIC, litres_per_kg=4.0)
    one = cover(TUB, Goods(mass_g=12_000.0), METRIC, litres_per_kg=4.0)
    assert one.liquor_l == lot.liquor_l
    assert "5 hides of 12 kg together" in lot.says
    with pytest.raises(BadInput, match=r"for example 14\.16 kg, the largest lot that fits"):
        cover(TUB, Goods(mass_g=22_000.0, count=5), METRIC, litres_per_kg=6.0)


def test_a_dish_covers_no_hide() -> None:
    """A vessel shallower than the liquor above the skin is too shallow for any hide."""
    dish = Vessel(name="the dish", shape=RoundUpright(diameter_m=0.5, depth_m=0.04))
    assert 0.0 == largest_hide_g(dish)
    with pytest.raises(BadInput, match="too shallow to cover any"):
        cover(dish, Goods(mass_g=500.0), METRIC)


@pytest.mark.parametrize(
    ("goods", "ratio", "above", "field"),
    [
        (Goods(mass_g=0.0), None, 0.05, "hide weight"),
        (Goods(mass_g=math.nan), None, 0.05, "hide weight"),
        (Goods(mass_g=1e12), None, 0.05, "hide weight"),
        (Goods(mass_g=3200, count=0), None, 0.05, "hides"),
        (Goods(mass_g=3200), -1.0, 0.05, "float"),
        (Goods(mass_g=3200), math.inf, 0.05, "float"),
        (Goods(mass_g=3200), None, -0.01, "liquor above the skin"),
        (Goods(mass_g=3200, lies_m=0.5), None, 0.05, "hide lies at"),
        (Goods(mass_g=3200, lies_m=0.01), None, 0.05, "hide lies at"),
    ],
)
def test_figures_out_of_bounds_are_refused(
    goods: Goods, ratio: float | None, above: float, field: str
) -> None:
    """The refusal names the field and shows one that works."""
    with pytest.raises(BadInput) as refusal:
        cover(TUB, goods, METRIC, litres_per_kg=ratio, above_m=above)
    assert field == refusal.value.field
    assert refusal.value.example


def test_a_shortfall_is_made_up_in_litres_and_jugs() -> None:
    """3 cm in a 56 cm tub are 7.39 L: one 5 L jug and 2.39 L, or two jugs to 29.1 cm."""
    found = top_up(TUB, 0.25, 0.03, METRIC)
    assert 7.389 == pytest.approx(found.add_l, abs=0.001)
    assert 2 == found.whole_jugs
    assert found.jugs_depth_m is not None
    assert 0.2906 == pytest.approx(found.jugs_depth_m, abs=0.0001)
    assert "7.39 L of the same liquor = 1 × 5 L jug + 2.39 L, to 28 cm" in found.says
    assert "at most: hide that stands out" in found.working.sure


def test_jugs_that_would_run_over_are_told() -> None:
    """0.9 cm below the rim take 2.22 L, and a full jug of 5 L would run over."""
    found = top_up(TUB, 0.39, 0.009, METRIC)
    assert (1, None) == (found.whole_jugs, found.jugs_depth_m)
    assert found.says.endswith("1 full jug would run over.")


def test_without_a_jug_only_litres_are_told() -> None:
    """A shop that has not said how large its jug is gets the volume and the depth."""
    found = top_up(TUB, 0.25, 0.03, Shop(measures="metric"))
    assert (None, None) == (found.whole_jugs, found.jugs_depth_m)
    assert "Top up the blue tub with 7.39 L of the same liquor, to 28 cm." == found.says


@FEW
@given(
    vessel=VESSELS,
    depth=st.floats(min_value=0.02, max_value=0.29),
    one=st.floats(min_value=0.001, max_value=0.2),
    other=st.floats(min_value=0.001, max_value=0.2),
    shop=st.sampled_from([METRIC, US]),
)
def test_top_ups_add_up_or_name_what_fits(
    vessel: Vessel, depth: float, one: float, other: float, shop: Shop
) -> None:
    """Two top-ups one after the other are the one for both; what runs over names what does not."""
    try:
        both = top_up(vessel, depth, one + other, shop)
    except BadInput as refusal:
        assert "shortfall" == refusal.field
        fits = read_length(refusal.example, field="shortfall", measures=shop.measures)
        assert top_up(vessel, depth, fits, shop).room_l >= 0.0
        return
    first = top_up(vessel, depth, one, shop)
    second = top_up(vessel, first.depth_m, other, shop)
    assert both.add_l == pytest.approx(first.add_l + second.add_l, rel=1e-9)
    assert both.whole_jugs is not None
    assert shop.jug_l is not None
    assert both.whole_jugs * shop.jug_l >= both.add_l - 1e-6
    assert (both.whole_jugs - 1) * shop.jug_l < both.add_l


def test_a_full_vessel_takes_no_top_up() -> None:
    """At the rim there is no shortfall that could be made up."""
    with pytest.raises(BadInput, match="full already"):
        top_up(TUB, 0.40, 0.01, METRIC)
    for shortfall in (0.0, -0.01, math.nan):
        with pytest.raises(BadInput, match="shortfall"):
            top_up(TUB, 0.20, shortfall, METRIC)
