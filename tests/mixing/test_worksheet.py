"""Worksheets: amounts worked out by hand, laws of scaling, and no figure asked out of its range."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from benchconsole.errors import BadInput
from benchconsole.library import Library, shipped_library
from benchconsole.mixing.liquors import liquor_figures
from benchconsole.mixing.targets import (
    AsWritten,
    ForHideMass,
    ForHides,
    Limit,
    Make,
    Target,
    Times,
)
from benchconsole.mixing.worksheet import Worksheet, worksheet
from benchconsole.model.formulas import Formula, Ingredient, Kind, Part
from benchconsole.model.record import Citation, Figure
from benchconsole.model.shop import Scale, Shop
from benchconsole.model.substances import Substance

LIBRARY = shipped_library()
FORMULAS = sorted(LIBRARY.formulas)
BENCH_SCALE = Scale(step_g=1.0, capacity_g=5000.0)
GALLON_L = 3.785411784
FEW = settings(max_examples=60, deadline=None)


def sheet_of(
    formula: str,
    target: Target,
    *,
    celsius: float = 15.0,
    scale: Scale = BENCH_SCALE,
    jug_l: float | None = None,
) -> Worksheet:
    """A shipped formula's worksheet in a metric shop."""
    return worksheet(
        LIBRARY.formulas[formula],
        target,
        substances=LIBRARY.substances,
        shop=Shop(measures="metric", scale=scale, jug_l=jug_l),
        water_celsius=celsius,
    )


def test_ten_gallons_of_the_two_part_bath() -> None:
    """10 US gal of 2 1/2 lb salt in 4 gal and 1 lb ammonium alum in 1 gal, at 15 °C, by hand.

    Water 5 gal = 18.92706 L at 999.10 kg/m³ (Kell) = 18910.0 g. Alum 453.592 g holds
    453.592 · 237.146 / 453.329 = 237.28 g water-free and sets 216.31 g of water free: 19126.3 g.
    Salt 1133.98 g makes 20260.3 g of brine, w = 0.055970. Its density at 15 °C by the fit in
    ``brine``: 999.10 + w (719.796 + w (103.800 + w · 372.635)) = 999.10 + 40.68 = 1039.78.
    Brine 20260.3 / 1.03978 = 19485.2 mL, alum 237.28 · 0.12 = 28.5 mL: 19.5137 L as written.
    10 gal = 37.85412 L, factor 1.93988; salt 2199.8 g, alum 879.9 g, water 7.7595 + 1.9399 gal.
    """
    sheet = sheet_of("alum-salt-bath", Make(volume_l=10 * GALLON_L))
    water, salt, jug, alum = sheet.lines
    assert 1.93988 == pytest.approx(sheet.factor, rel=2e-5)
    assert 2199.8 == pytest.approx(salt.mass_g, abs=0.05)
    assert 879.9 == pytest.approx(alum.mass_g, abs=0.05)
    assert 7.7595 * GALLON_L == pytest.approx((water.volume_ml or 0) / 1000, rel=2e-5)
    assert 1.9399 * GALLON_L == pytest.approx((jug.volume_ml or 0) / 1000, rel=2e-5)
    assert sheet.liquor is not None
    assert 10 * GALLON_L == pytest.approx(sheet.liquor.volume_l, rel=1e-9)
    assert [58.11, 23.24] == [round(s.g_per_l, 2) for s in sheet.liquor.strengths]


@pytest.mark.parametrize(
    ("formula", "target", "factor"),
    [
        ("salt-cure", ForHideMass(mass_g=3200.0), 3.2),  # 250 g for 1 kg
        ("salt-citric-pickle", ForHides(count=2, species="deer"), 10.0),  # 5 recipes a deer
        ("salt-citric-pickle", ForHides(count=3, species="fox"), 6.0),
        ("alum-salt-bath", ForHides(count=3), 3.0),
        ("alum-salt-bath", Limit(substance="salt", mass_g=566.99), 0.5),  # of 2 1/2 lb
        ("alum-salt-bath", Limit(substance="potassium-alum", mass_g=907.18474), 2.0),
        ("alum-salt-bath", Limit(substance="water", volume_l=10 * GALLON_L), 2.0),
        ("vinegar-delime", Limit(substance="vinegar", volume_l=0.473176473), 1.0),  # 1 pt
        ("soak-salted", Times(times=1.5), 1.5),
    ],
)
def test_the_factor_of_each_target(formula: str, target: Target, factor: float) -> None:
    """What is asked for, over what one recipe as written is, holds or serves."""
    assert factor == pytest.approx(sheet_of(formula, target).factor, rel=1e-5)


def test_a_float_asks_for_its_volume() -> None:
    """3 kg at 6 L/kg is 18 L of finished liquor; without a float the formula's own 6 L/kg."""
    for litres_per_kg in (6.0, None):
        target = ForHideMass(mass_g=3000.0, litres_per_kg=litres_per_kg)
        liquor = sheet_of("alum-salt-bath", target).liquor
        assert liquor is not None
        assert 18.0 == pytest.approx(liquor.volume_l, rel=1e-9)


@FEW
@given(st.sampled_from(FORMULAS), st.floats(min_value=0.01, max_value=500.0))
def test_scaling_is_linear(formula: str, times: float) -> None:
    """Every line and the volume grow with the factor; strength and density do not change."""
    once, many = sheet_of(formula, AsWritten()), sheet_of(formula, Times(times=times))
    for one, scaled in zip(once.lines, many.lines, strict=True):
        assert one.mass_g * times == pytest.approx(scaled.mass_g, rel=1e-12)
    if once.liquor is not None and many.liquor is not None:
        assert once.liquor.volume_l * times == pytest.approx(many.liquor.volume_l, rel=1e-9)
        assert once.liquor.density_kg_m3 == pytest.approx(many.liquor.density_kg_m3, rel=1e-9)
        for one_strength, same in zip(once.liquor.strengths, many.liquor.strengths, strict=True):
            assert one_strength.g_per_l == pytest.approx(same.g_per_l, rel=1e-9)


@FEW
@given(
    st.sampled_from([name for name in FORMULAS if LIBRARY.formula(name).kind != "dry"]),
    st.floats(min_value=0.05, max_value=900.0),
    st.floats(min_value=0.0, max_value=100.0),
)
def test_make_makes_that_volume(formula: str, volume_l: float, celsius: float) -> None:
    """Asking for V litres gives V litres, and the weights add up to the liquor's weight."""
    sheet = sheet_of(formula, Make(volume_l=volume_l), celsius=celsius)
    assert sheet.liquor is not None
    assert volume_l == pytest.approx(sheet.liquor.volume_l, rel=1e-9)
    assert sum(line.mass_g for line in sheet.lines) == pytest.approx(sheet.liquor.mass_g, rel=1e-9)


@pytest.mark.parametrize("celsius", [0.0, 4.0, 20.0, 40.0, 40.1, 60.0, 60.1, 99.9, 100.0])
@pytest.mark.parametrize("formula", FORMULAS)
def test_no_water_and_no_size_leaves_the_figures_range(formula: str, celsius: float) -> None:
    """Ice-cold to boiling, a pinch to tonnes, on a coarse ounce scale: a worksheet, no error."""
    scale = Scale(step_g=5.0, capacity_g=2000.0, shows="lb oz")
    for times in (1e-4, 1.0, 1000.0):
        sheet = sheet_of(formula, Times(times=times), celsius=celsius, scale=scale)
        assert all(check.says.strip() for check in sheet.checks)


@pytest.mark.parametrize("celsius", [-0.1, 100.1, float("nan"), float("inf")])
def test_only_liquid_water(celsius: float) -> None:
    """Ice, steam and no number are refused by the field's name."""
    with pytest.raises(BadInput) as refused:
        sheet_of("alum-salt-bath", AsWritten(), celsius=celsius)
    assert ("water temperature", "12 °C") == (refused.value.field, refused.value.example)


def own(kind: Kind, *ingredients: Ingredient) -> Formula:
    """A formula of the person's own, in one part."""
    practice = "common practice, no source"
    return Formula(
        id="own",
        name="Own",
        purpose="test",
        kind=kind,
        parts=(Part(id="p", name="p", container="bowl", ingredients=ingredients),),
        sources=(Citation(source=practice, mark="practice"),),
        tolerance=Figure(value=0.02, source=practice, mark="practice"),
        own=True,
    )


def weighed(substance: str, mass_g: float) -> Ingredient:
    """An ingredient by weight."""
    return Ingredient(substance=substance, by="scale", printed=f"{mass_g} g", mass_g=mass_g)


@pytest.mark.parametrize(
    ("ingredients", "has_volume"),
    [
        ((weighed("neatsfoot-oil", 100.0),), True),
        ((weighed("neatsfoot-oil", 100.0), weighed("salt", 10.0)), True),
        ((weighed("vinegar", 100.0), weighed("borax", 500.0)), True),
        ((weighed("hydrated-lime", 100.0),), False),
        ((weighed("salt", 100.0), weighed("borax", 5.0)), False),
        ((weighed("water", 1.0), weighed("salt", 1e6)), True),
    ],
)
def test_own_formulas_without_water(
    library: Library, ingredients: tuple[Ingredient, ...], has_volume: bool
) -> None:
    """Oil alone has a volume, powders called a liquor have none, and neither ends in an error."""
    formula = own("liquor", *ingredients)
    for celsius in (0.0, 15.0, 90.0):
        sheet = worksheet(
            formula,
            Times(times=2.0),
            substances=library.substances,
            shop=Shop(),
            water_celsius=celsius,
        )
        assert has_volume == (sheet.liquor is not None)
    if not has_volume:
        with pytest.raises(BadInput, match="no volume"):
            worksheet(formula, Make(volume_l=1.0), substances=library.substances, shop=Shop())


def test_a_volume_without_a_density_is_refused(library: Library) -> None:
    """A cup of bicarbonate cannot be turned into grams: refused in a sentence, by name."""
    cup = Ingredient(substance="sodium-bicarbonate", by="jug", printed="1 cup", volume_l=0.25)
    with pytest.raises(BadInput, match="baking soda"):
        worksheet(own("dry", cup), AsWritten(), substances=library.substances, shop=Shop())


@pytest.mark.parametrize(
    ("limit", "fault"),
    [
        (Limit(substance="lime", mass_g=100.0), "not one thing"),
        (Limit(substance="sodium-bicarbonate", volume_l=1.0), "no density"),
    ],
)
def test_limits_that_cannot_be_reckoned(library: Library, limit: Limit, fault: str) -> None:
    """A limit on what is not in the mix, or by a volume that has no weight, names its field."""
    with pytest.raises(BadInput, match=fault) as refused:
        sheet_of("borax-rinse", limit)
    assert "limit" == refused.value.field


def test_readings_add_up_in_the_bowl_and_start_afresh_in_each_part() -> None:
    """Soda 113.4 g, then salt on top 113.4 + 226.8 = 340.2 g; the alum has its own bowl."""
    sheet = sheet_of("alum-salt-soda-bath", AsWritten())
    assert [None, 454, None, 113, 340] == [line.reading_g for line in sheet.lines]


def test_a_reading_never_passes_the_scale() -> None:
    """11.34 kg of salt on a 5 kg scale: 3 lots of 3780 g; 4.5 kg alum in its own bowl."""
    sheet = sheet_of("alum-salt-bath", Times(times=10.0))
    assert "3780 g in 3 lots" == sheet.lines[1].reading
    assert "4536 g" == sheet.lines[3].reading
    dressing = sheet_of("oil-ammonia-dressing", Times(times=30.0))
    oil, water, ammonia = (line.reading for line in dressing.lines)
    assert ("2977 g", "2977 g after emptying the bowl", "3827 g") == (oil, water, ammonia)


def test_jugs_are_counted() -> None:
    """15.14 L in a jug of 5 L are 3 jugs and 142 mL."""
    assert "15.1 L = 3 × 5 L jug + 142 mL" == (
        sheet_of("alum-salt-bath", AsWritten(), jug_l=5.0).lines[0].show
    )


def test_cautions_end_with_the_standing_one_and_say_nothing_twice() -> None:
    """The safety sheet comes before anything shown here, said once and last."""
    cautions = sheet_of("alum-salt-soda-bath", AsWritten()).cautions
    assert len(cautions) == len(set(cautions))
    assert "Nothing here says that a mix is safe." in cautions[-1]


def test_a_persons_own_rock_salt_makes_the_same_brine() -> None:
    """Which salt follows the law of brine is written in its file, not known by its name."""
    rock = replace(LIBRARY.substances["salt"], id="rock-salt", name="rock salt")
    salted = liquor_figures(
        [(LIBRARY.substances["water"], 9000.0), (LIBRARY.substances["salt"], 1000.0)], 15.0
    )
    rocky = liquor_figures([(LIBRARY.substances["water"], 9000.0), (rock, 1000.0)], 15.0)
    assert salted.volume_l == rocky.volume_l
    both = [(LIBRARY.substances["salt"], 400.0), (rock, 600.0)]
    mixed = liquor_figures([(LIBRARY.substances["water"], 9000.0), *both], 15.0)
    assert salted.volume_l == pytest.approx(mixed.volume_l, rel=1e-12)


def test_a_solid_of_unknown_room_is_said_to_be_left_out() -> None:
    """Without a specific volume the volume is that of the rest, and says so by name."""
    water = LIBRARY.substances["water"]
    bran = Substance(id="bran", name="bran", form="solid")
    mash = liquor_figures([(water, 9000.0), (bran, 500.0)], 15.0)
    assert liquor_figures([(water, 9000.0)], 15.0).volume_l == mash.volume_l
    assert "the room of bran is not known and left out" in mash.how_sure
    assert mash.how_sure == mash.working.sure
    known = liquor_figures([(water, 9000.0), (LIBRARY.substances["borax"], 50.0)], 15.0)
    assert "left out" not in known.how_sure
