"""Shapes of vessels: depth and volume, the hide's own room, and what is refused."""

from __future__ import annotations

import math

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from benchconsole.errors import BadInput
from benchconsole.mixing.shapes import depth_at, full_volume_l, rim_m, volume_at
from benchconsole.mixing.vessels import displaced_l, fill_line_l, level_at, level_of
from benchconsole.model.shop import Shop
from benchconsole.model.vessels import (
    Elliptical,
    Gauge,
    LyingDrum,
    Measured,
    Rectangular,
    RectangularTapered,
    RoundTapered,
    RoundUpright,
    Shape,
    Vessel,
)

METRIC = Shop(measures="metric")
US = Shop(measures="us")
TUB = Vessel(name="the blue tub", shape=RoundUpright(diameter_m=0.56, depth_m=0.40))
FEW = settings(max_examples=60, deadline=None)
SIZES = st.floats(min_value=0.02, max_value=3.0)
RISES = st.lists(
    st.tuples(st.floats(min_value=0.005, max_value=0.5), st.floats(min_value=0.05, max_value=50)),
    min_size=1,
    max_size=8,
)


def measured(rises: list[tuple[float, float]]) -> Measured:
    """A measured form from its steps: so much higher, so many litres more."""
    depth = volume = 0.0
    points = []
    for higher, more in rises:
        depth, volume = depth + higher, volume + more
        points.append(Gauge(depth_m=depth, volume_l=volume))
    return Measured(points=tuple(points))


TAPERED: st.SearchStrategy[Shape] = st.one_of(
    st.builds(RoundTapered, bottom_diameter_m=SIZES, top_diameter_m=SIZES, depth_m=SIZES),
    st.builds(
        RectangularTapered,
        bottom_length_m=SIZES,
        bottom_width_m=SIZES,
        top_length_m=SIZES,
        top_width_m=SIZES,
        depth_m=SIZES,
    ),
    st.builds(LyingDrum, diameter_m=SIZES, length_m=SIZES),
)
SHAPES: st.SearchStrategy[Shape] = st.one_of(
    TAPERED,
    st.builds(RoundUpright, diameter_m=SIZES, depth_m=SIZES),
    st.builds(Rectangular, length_m=SIZES, width_m=SIZES, depth_m=SIZES),
    st.builds(Elliptical, long_axis_m=SIZES, short_axis_m=SIZES, depth_m=SIZES),
    RISES.map(measured),
)
SHARES = st.floats(min_value=0.0, max_value=1.0)


@FEW
@given(shape=SHAPES, one=SHARES, other=SHARES)
def test_deeper_is_never_less(shape: Shape, one: float, other: float) -> None:
    """Volume rises with depth, from nothing at the bottom to the full volume at the rim."""
    rim, full = rim_m(shape), full_volume_l(shape)
    low, high = sorted((one, other))
    assert 0.0 == volume_at(shape, 0.0)
    assert full == volume_at(shape, rim)
    assert volume_at(shape, low * rim) <= volume_at(shape, high * rim) * (1 + 1e-12) + 1e-12
    if high - low > 0.001:
        assert volume_at(shape, low * rim) < volume_at(shape, high * rim)


@FEW
@given(shape=SHAPES, share=SHARES)
def test_the_depth_of_a_volume_gives_that_volume(shape: Shape, share: float) -> None:
    """Depth at volume is the inverse: the volume comes back, and it lies inside the vessel."""
    full = full_volume_l(shape)
    depth = depth_at(shape, share * full)
    assert 0.0 <= depth <= rim_m(shape)
    assert share * full == pytest.approx(volume_at(shape, depth), rel=1e-9, abs=1e-9 * full)


def width_m2(shape: Shape, height_m: float) -> float:
    """The area of the surface at a height, straight from what the shape is."""
    match shape:
        case RoundTapered():
            share = height_m / shape.depth_m
            across = shape.bottom_diameter_m * (1 - share) + shape.top_diameter_m * share
            return math.pi * across**2 / 4
        case RectangularTapered():
            share = height_m / shape.depth_m
            length = shape.bottom_length_m * (1 - share) + shape.top_length_m * share
            return length * (shape.bottom_width_m * (1 - share) + shape.top_width_m * share)
        case LyingDrum():
            return shape.length_m * 2 * math.sqrt(height_m * (shape.diameter_m - height_m))
    raise AssertionError(f"no surface is written down for {shape}")


@FEW
@given(shape=TAPERED, share=st.floats(min_value=0.05, max_value=1.0))
def test_a_volume_is_the_sum_of_its_surfaces(shape: Shape, share: float) -> None:
    """A thousand thin layers, each its surface times its height, make the volume to 0.1 %."""
    depth = share * rim_m(shape)
    layer = depth / 1000
    layers = [width_m2(shape, (step + 0.5) * layer) * layer for step in range(1000)]
    assert 1000 * math.fsum(layers) == pytest.approx(volume_at(shape, depth), rel=0.001)


@FEW
@given(one=SIZES, two=SIZES, depth=SIZES, share=SHARES)
def test_shapes_agree_where_they_are_the_same(
    one: float, two: float, depth: float, share: float
) -> None:
    """A taper of none is upright, an oval of equal axes is round, a prismatoid without slope a
    box: at every depth the same volume."""
    pairs: list[tuple[Shape, Shape]] = [
        (
            RoundUpright(diameter_m=one, depth_m=depth),
            RoundTapered(bottom_diameter_m=one, top_diameter_m=one, depth_m=depth),
        ),
        (
            RoundUpright(diameter_m=one, depth_m=depth),
            Elliptical(long_axis_m=one, short_axis_m=one, depth_m=depth),
        ),
        (
            Rectangular(length_m=one, width_m=two, depth_m=depth),
            RectangularTapered(
                bottom_length_m=one,
                bottom_width_m=two,
                top_length_m=one,
                top_width_m=two,
                depth_m=depth,
            ),
        ),
    ]
    for upright, other in pairs:
        found = volume_at(other, share * depth)
        assert volume_at(upright, share * depth) == pytest.approx(found, rel=1e-12)


def test_a_bucket_is_interpolated_by_its_radius() -> None:
    """20 cm of a 34 cm bucket hold 11.865 L; in proportion to the volume it would be 12.79 L."""
    bucket = RoundTapered(bottom_diameter_m=0.26, top_diameter_m=0.31, depth_m=0.34)
    assert 11.865 == pytest.approx(volume_at(bucket, 0.20), abs=0.001)
    assert 12.79 == pytest.approx(full_volume_l(bucket) * 20 / 34, abs=0.005)


def test_a_measured_form_is_straight_between_its_points() -> None:
    """Half-way from 5 cm = 4 L to 10 cm = 9 L are 6.5 L; the empty bottom may be left out."""
    points = (Gauge(depth_m=0.05, volume_l=4.0), Gauge(depth_m=0.10, volume_l=9.0))
    shape = Measured(points=points)
    with_bottom = Measured(points=(Gauge(depth_m=0.0, volume_l=0.0), *points))
    for each in (shape, with_bottom):
        assert 6.5 == pytest.approx(volume_at(each, 0.075))
        assert 2.0 == pytest.approx(volume_at(each, 0.025))
        assert 0.075 == pytest.approx(depth_at(each, 6.5))


def points_of(*pairs: tuple[float, float]) -> Measured:
    """Measured points from (metres, litres)."""
    return Measured(points=tuple(Gauge(depth_m=d, volume_l=v) for d, v in pairs))


@pytest.mark.parametrize(
    ("shape", "field"),
    [
        (RoundUpright(diameter_m=0.0, depth_m=0.4), "diameter"),
        (RoundUpright(diameter_m=0.5, depth_m=math.nan), "depth"),
        (RoundTapered(bottom_diameter_m=-1, top_diameter_m=1, depth_m=1), "bottom diameter"),
        (Rectangular(length_m=1e9, width_m=1, depth_m=1), "length"),
        (Elliptical(long_axis_m=1, short_axis_m=math.inf, depth_m=1), "short axis"),
        (LyingDrum(diameter_m=0.6, length_m=0.0), "length"),
        (points_of(), "measured points"),
        (points_of((0.05, 4), (0.05, 5)), "measured points"),
        (points_of((0.05, 4), (0.10, 4)), "measured points"),
        (points_of((0.10, 9), (0.05, 4)), "measured points"),
        (points_of((0.0, 2.0), (0.10, 4)), "measured points"),
        (points_of((0.0, 0.0)), "measured points"),
        (points_of((-0.1, 1.0)), "measured depth"),
        (points_of((0.1, math.nan)), "measured volume"),
    ],
)
def test_a_shape_that_none_has_is_refused(shape: Shape, field: str) -> None:
    """The refusal names the measure and gives an example, whichever way the shape is used."""
    for use in (full_volume_l, lambda each: volume_at(each, 0.01), lambda each: depth_at(each, 1)):
        with pytest.raises(BadInput) as refusal:
            use(shape)
        assert field == refusal.value.field
        assert refusal.value.example


def test_a_depth_or_volume_outside_is_refused_in_the_shops_measures() -> None:
    """Above the rim, below the bottom, more than it holds; the examples are within."""
    with pytest.raises(BadInput, match=r"depth: 16 1/2 in is above the rim at 15 3/4 in; .* 7 7/8"):
        level_at(TUB, 0.42, US)
    with pytest.raises(BadInput, match=r"depth: 42 cm is above the rim at 40 cm; .* 20 cm"):
        level_at(TUB, 0.42, METRIC)
    for depth in (-0.01, math.nan, math.inf):
        with pytest.raises(BadInput, match="depth"):
            volume_at(TUB.shape, depth)
    with pytest.raises(BadInput, match=r"volume: 99 L is more than the 98.5 L it holds"):
        depth_at(TUB.shape, 99.0)


def test_a_hide_takes_up_its_weight_over_its_density() -> None:
    """2.1 kg of wet hide take up 2 L at 1.05 kg/L (from memory); none takes up none."""
    assert 2.0 == pytest.approx(displaced_l(2100.0))
    assert 0.0 == displaced_l(0.0)
    with pytest.raises(BadInput, match="hide weight"):
        displaced_l(-1.0)


def test_the_level_rises_by_the_hide() -> None:
    """40 L alone stand at 16.2 cm, with 3.2 kg of hide at 17.5 cm, and the room is the rest."""
    alone, with_hide = level_of(TUB, 40.0, METRIC), level_of(TUB, 40.0, METRIC, hide_g=3200.0)
    assert 0.1624 == pytest.approx(alone.depth_m, abs=0.0001)
    assert 0.1748 == pytest.approx(with_hide.depth_m, abs=0.0001)
    assert alone.room_l - with_hide.room_l == pytest.approx(3.2 / 1.05)
    assert "with 3200 g of hide in it" in with_hide.says
    assert "55.5 L of room is left to the rim" in with_hide.says


@FEW
@given(share=st.floats(min_value=0.1, max_value=1.0), hide_g=st.floats(min_value=0, max_value=9000))
def test_level_at_and_level_of_are_one(share: float, hide_g: float) -> None:
    """What stands there, poured in anew with the same hide, stands at that depth again."""
    found = level_at(TUB, share * 0.40, METRIC, hide_g=hide_g)
    again = level_of(TUB, found.liquor_l, METRIC, hide_g=hide_g)
    assert found.depth_m == pytest.approx(again.depth_m, rel=1e-9)
    assert found.room_l == pytest.approx(again.room_l, abs=1e-9)
    filled = found.liquor_l + found.hide_l + found.room_l
    assert fill_line_l(TUB) == pytest.approx(filled, rel=1e-12)


def test_room_kept_free_lowers_the_line_and_not_the_rim() -> None:
    """5 cm kept free of 40: the line holds 7/8; above it the level says so and is not refused."""
    tub = replace(TUB, keep_free_m=0.05)
    assert fill_line_l(TUB) * 7 / 8 == pytest.approx(fill_line_l(tub))
    over = level_at(tub, 0.40, METRIC)
    assert over.room_l < 0.0
    assert "12.3 L above the fill line" in over.says
    with pytest.raises(BadInput, match="room kept free: 40 cm is all"):
        fill_line_l(replace(TUB, keep_free_m=0.40))


def test_what_runs_over_is_refused_with_what_fits() -> None:
    """97 L and a hide run over; the example, poured instead, does not."""
    with pytest.raises(BadInput, match="97 L runs over with the hide in it") as refusal:
        level_of(TUB, 97.0, METRIC, hide_g=3200.0)
    assert "the blue tub takes 95.5 L" in str(refusal.value)
    fits = float(refusal.value.example.removesuffix(" L"))
    assert level_of(TUB, fits, METRIC, hide_g=3200.0).room_l >= 0.0


def test_a_hide_that_stands_out_is_told() -> None:
    """Half a centimetre of liquor holds 1.2 L, and 3.2 kg of hide take up 3.05 L."""
    with pytest.raises(BadInput, match=r"depth: the hide alone takes up 3\.05 L"):
        level_at(TUB, 0.005, METRIC, hide_g=3200.0)


def test_a_level_explains_itself() -> None:
    """The working has inputs, equation, source with its mark, and how sure it is."""
    working = level_of(TUB, 40.0, METRIC, hide_g=3200.0).working
    assert ("the hide takes up", "3.05 L") in working.inputs
    assert "radius² × depth" in working.equation
    assert "from memory" in working.source
    assert "inside measure" in working.sure


@FEW
@given(shape=SHAPES)
def test_a_vessel_is_kept_as_it_was_measured(shape: Shape) -> None:
    """Written as JSON and read again it is the same vessel, of the same kind."""
    vessel = Vessel(name="the blue tub", shape=shape, keep_free_m=0.01)
    assert vessel == msgspec.json.decode(msgspec.json.encode(vessel), type=Vessel)


def test_a_hide_larger_than_the_vessel_leaves_no_room_for_liquor() -> None:
    """110 kg of hide take up more than the tub holds, so only a larger one is named."""
    with pytest.raises(BadInput, match="the blue tub takes 0 mL; for example a larger vessel"):
        level_of(TUB, 1.0, METRIC, hide_g=110_000.0)
