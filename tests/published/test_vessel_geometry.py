"""Volumes of vessels against worked figures of solid geometry, and of measured gallons.

The litres are computed from the exact formulas of the mensuration tables in Machinery's Handbook
(formulas from memory); gallons by NIST Handbook 44, Appendix C.
"""

import pytest

from benchconsole.mixing.dressings import DRESSING_FOR_AREA, Liquid, emulsion_volume
from benchconsole.mixing.shapes import depth_at, full_volume_l, rim_m, volume_at
from benchconsole.model.shop import Shop
from benchconsole.model.vessels import (
    Elliptical,
    LyingDrum,
    Rectangular,
    RectangularTapered,
    RoundTapered,
    RoundUpright,
    Shape,
)
from benchconsole.quantities import factor

BUCKET = RoundTapered(bottom_diameter_m=0.26, top_diameter_m=0.31, depth_m=0.34)
TUB = RectangularTapered(
    bottom_length_m=0.50, bottom_width_m=0.30, top_length_m=0.60, top_width_m=0.40, depth_m=0.30
)
DRUM = LyingDrum(diameter_m=0.60, length_m=0.85)
INCH = float(factor("inch", "metre"))

#: Shape, depth in metres (None: to the rim), litres, US gallons, imperial gallons.
FIGURES: list[tuple[str, Shape, float | None, float, float, float]] = [
    ("cylinder", RoundUpright(diameter_m=0.56, depth_m=0.40), None, 98.52, 26.026, 21.671),
    (
        "cylinder in inches",
        RoundUpright(diameter_m=22 * INCH, depth_m=15 * INCH),
        None,
        93.439,
        24.684,
        20.554,
    ),
    (
        "bin",
        Rectangular(length_m=1.20, width_m=0.60, depth_m=0.35),
        None,
        252.0,
        66.571,
        55.432,
    ),
    ("bucket", BUCKET, None, 21.746, 5.745, 4.783),
    ("bucket filled to 20 cm", BUCKET, 0.20, 11.865, 3.134, 2.61),
    ("tapered tub", TUB, None, 58.0, 15.322, 12.758),
    (
        "oval tub",
        Elliptical(long_axis_m=1.30, short_axis_m=0.70, depth_m=0.45),
        None,
        321.621,
        84.963,
        70.747,
    ),
    ("drum filled to 20 cm", DRUM, 0.20, 70.127, 18.526, 15.426),
    ("drum half full", DRUM, 0.30, 120.166, 31.744, 26.433),
]
WORDS = [figure[0] for figure in FIGURES]


@pytest.mark.parametrize("figure", FIGURES, ids=WORDS)
def test_volumes_are_the_published_ones(
    figure: tuple[str, Shape, float | None, float, float, float],
) -> None:
    """Litres, US and imperial gallons to 0.1 %."""
    _, shape, depth, litres, us_gallons, imperial_gallons = figure
    found = full_volume_l(shape) if depth is None else volume_at(shape, depth)
    assert litres == pytest.approx(found, rel=0.001)
    assert us_gallons == pytest.approx(found / float(factor("us_gallon", "litre")), rel=0.001)
    imperial = float(factor("imp_gallon", "litre"))
    assert imperial_gallons == pytest.approx(found / imperial, rel=0.001)


@pytest.mark.parametrize("figure", FIGURES, ids=WORDS)
def test_depths_are_found_back_from_the_published_volumes(
    figure: tuple[str, Shape, float | None, float, float, float],
) -> None:
    """The litres of the table stand as deep as it says, to 0.1 %; never past the rim."""
    _, shape, depth, litres, _, _ = figure
    rim = rim_m(shape)
    wanted = rim if depth is None else depth
    found = depth_at(shape, min(litres, full_volume_l(shape)))
    assert wanted == pytest.approx(found, rel=0.001)
    assert found <= rim


def test_half_a_drum_is_half_its_cylinder() -> None:
    """At the height of the axis exactly half of π r² L is in it."""
    assert volume_at(DRUM, 0.30) == pytest.approx(full_volume_l(DRUM) / 2.0, rel=1e-12)


def test_a_deer_recipe_fills_eight_ounces() -> None:
    """3 1/2 oz neat's-foot oil (914 kg/m³, from memory), as much water and 1 oz of 5 % ammonia
    (977 kg/m³, CRC table) fill 8 US fl oz to 1 %, so the recipe's ounces may be read either way."""
    ounce = float(factor("ounce", "gram"))
    liquids = [
        Liquid(name="oil", mass_g=3.5 * ounce, density_kg_m3=914.0),
        Liquid(name="water", mass_g=3.5 * ounce, density_kg_m3=999.1),
        Liquid(name="ammonia", mass_g=ounce, density_kg_m3=977.0),
    ]
    found = emulsion_volume(liquids, Shop()).volume_l
    assert 8 * float(factor("us_fluid_ounce", "litre")) == pytest.approx(found, rel=0.01)


def test_dressing_by_area_is_that_recipe_on_a_deer_skin() -> None:
    """8 US fl oz over 1 and over 0.65 m² (areas from memory) are the ends, 0.24 and 0.36 L/m²."""
    ounces = 8 * float(factor("us_fluid_ounce", "litre"))
    assert DRESSING_FOR_AREA.low == pytest.approx(ounces / 1.0, abs=0.005)
    assert DRESSING_FOR_AREA.high == pytest.approx(ounces / 0.65, abs=0.005)
