"""Brines brought to strength and blended: weights are conserved, targets reached, and undone."""

import math
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.chemistry import STRONGEST_BRINE, HydrometerScale
from benchconsole.chemistry.hydrometer import SCALE_CELSIUS
from benchconsole.errors import BadInput
from benchconsole.mixing.blends import blend, blend_to
from benchconsole.mixing.brines import (
    Brine,
    StrengthMeasure,
    brine,
    brine_strength,
    salometer_words,
    salt_share,
    spindle_degrees,
)
from benchconsole.mixing.corrections import correct, dilute, strengthen
from benchconsole.model.shop import Shop

SHOP = Shop(measures="metric")
shares = st.floats(0.001, 0.25)
temperatures = st.floats(0.0, 40.0)
volumes = st.floats(0.5, 500.0)
brines = st.builds(Brine, volume_l=volumes, salt_share=shares, celsius=temperatures)


@settings(max_examples=60)
@given(brines, shares, st.booleans())
def test_what_is_added_reaches_the_strength_wanted(
    found: Brine, wanted: float, keep_volume: bool
) -> None:
    """Salt and water weighed in, less what was drawn off, are the share wanted to a millionth."""
    done = correct(found, wanted, SHOP, keep_volume=keep_volume)
    kept = (found.volume_l - done.draw_off_l) / found.volume_l
    salt = kept * found.salt_g + (done.add_g if done.add == "salt" else 0.0)
    mass = kept * found.mass_g + done.add_g
    assert wanted == pytest.approx(salt / mass, abs=1.1e-6)
    assert done.after.mass_g == pytest.approx(mass, rel=1e-9)
    if keep_volume:
        assert found.volume_l == pytest.approx(done.after.volume_l)
    else:
        assert 0.0 == done.draw_off_l


@settings(max_examples=40)
@given(brines, st.floats(0.001, 0.25))
def test_dilution_undoes_strengthening(found: Brine, wanted: float) -> None:
    """Back at the first strength the salt is all there, and so is the salt that was added."""
    there = correct(found, wanted, SHOP)
    back = correct(there.after, found.salt_share, SHOP)
    if there.add == "salt" and back.add == "water":
        assert found.salt_share == pytest.approx(back.after.salt_share)
        assert found.salt_g + there.add_g == pytest.approx(back.after.salt_g)


@settings(max_examples=40)
@given(brines, brines)
def test_a_blend_conserves_water_and_salt(one: Brine, other: Brine) -> None:
    """Both sums are kept, and the strength lies between the two."""
    made = blend(one, other, SHOP).made
    assert one.mass_g + other.mass_g == pytest.approx(made.mass_g)
    assert one.salt_g + other.salt_g == pytest.approx(made.salt_g)
    low, high = sorted((one.salt_share, other.salt_share))
    assert low - 1e-12 <= made.salt_share <= high + 1e-12


@settings(max_examples=40)
@given(st.floats(0.0, 0.12), st.floats(0.13, STRONGEST_BRINE), st.floats(0.0, 1.0), temperatures)
def test_blending_the_amounts_asked_for_gives_the_strength(
    weak: float, strong: float, part: float, celsius: float
) -> None:
    """`blend` of what `blend_to` asks for is the volume and the strength it promised."""
    wanted = weak + part * (strong - weak)
    plan = blend_to(strong, weak, min(wanted, strong), 20.0, celsius, SHOP)
    made = blend(plan.one, plan.other, SHOP).made
    assert wanted == pytest.approx(made.salt_share, abs=1e-9)
    assert 20.0 == pytest.approx(made.volume_l)


@settings(max_examples=60)
@given(st.floats(0.005, 0.25), temperatures)
def test_every_measure_gives_the_strength_back(share: float, celsius: float) -> None:
    """By weight, by volume, on water, and by what each spindle shows at that temperature."""
    told = brine_strength(StrengthMeasure.PERCENT, 100.0 * share, celsius, SHOP)
    ways = {
        StrengthMeasure.GRAMS_PER_LITRE: told.g_per_l,
        StrengthMeasure.PER_100_G_WATER: told.g_per_100g_water,
        HydrometerScale.SPECIFIC_GRAVITY: told.shows.specific_gravity,
        HydrometerScale.SALOMETER: told.shows.salometer,
        HydrometerScale.BAUME: told.shows.baume,
        HydrometerScale.TWADDELL: told.shows.twaddell,
        HydrometerScale.BARKOMETER: told.shows.barkometer,
    }
    most = {HydrometerScale.SALOMETER: 100.0}
    for measure, value in ways.items():
        # Above 100 and below 0 these two spindles have no mark to read.
        if value is not None and 0.0 <= value <= most.get(measure, value):
            assert share == pytest.approx(salt_share(measure, value, celsius), abs=1e-9)


@settings(max_examples=40)
@given(st.floats(20.0, 80.0), st.floats(20.0, 80.0), temperatures)
def test_the_spindle_then_shows_what_was_said(had: float, wanted: float, celsius: float) -> None:
    """The corrected brine has the book's degrees at 60 °F, and the degrees said at the bench."""
    scale = HydrometerScale.SALOMETER
    by_the_book = salt_share(scale, wanted, SCALE_CELSIUS)
    done = correct(brine(20.0, scale, had, celsius), by_the_book, SHOP)
    at_60f = spindle_degrees(done.after.salt_share, SCALE_CELSIUS).salometer
    assert wanted == pytest.approx(at_60f, abs=0.001)
    assert done.spindle == spindle_degrees(done.after.salt_share, celsius)


def test_a_weak_brine_asks_for_salt_in_a_sentence() -> None:
    """20 L at 5 % to 10 %: 20 × 1034.4 × 0.05 ÷ 0.9 = 1.15 kg of salt, and the tub rises."""
    done = correct(brine(20.0, StrengthMeasure.PERCENT, 5.0, 15.0), 0.10, SHOP)
    assert ("salt", None, 0.0) == (done.add, done.add_l, done.draw_off_l)
    assert 1150 == pytest.approx(done.add_g, abs=2)
    assert (
        "Add 1150 g of dry salt, stirring: 51.8 g/L becomes 107 g/L in 20.4 L, and a spindle then "
        "shows 38 degrees salometer (9.9 °Bé) at 15 °C."
    ) == done.says


def test_a_full_tub_is_drawn_off_first_and_strong_stock_makes_it_up() -> None:
    """With saturated stock and the volume kept, what goes out nearly equals what goes in."""
    weak = brine(20.0, StrengthMeasure.PERCENT, 5.0, 15.0)
    done = strengthen(weak, 0.10, SHOP, stock_share=STRONGEST_BRINE, keep_volume=True)
    assert done.says.startswith("Take out 4.12 L and add 4.17 L of the strong brine")
    assert 20.0 == pytest.approx(done.after.volume_l)


def test_a_brine_at_strength_asks_for_nothing() -> None:
    """Within a millionth there is nothing to weigh, not 0 g of salt."""
    done = correct(brine(20.0, StrengthMeasure.PERCENT, 5.0, 15.0), 0.05 + 5e-7, SHOP)
    assert ("nothing", 0.0, None) == (done.add, done.add_g, done.add_l)
    assert done.says.startswith("Nothing to add")


def test_a_reading_off_the_salometer_is_none() -> None:
    """Warm water reads below 0 and saturated ice-cold brine above 100: no mark is made up."""
    assert spindle_degrees(0.0, 40.0).salometer is None
    assert spindle_degrees(STRONGEST_BRINE, 0.0).salometer is None
    assert "just under its zero" == salometer_words(spindle_degrees(0.005, 34.0))
    assert "25.3 °Bé" == salometer_words(spindle_degrees(STRONGEST_BRINE, 0.0))


TEN = Brine(volume_l=10.0, salt_share=0.1, celsius=15.0)
SAL = HydrometerScale.SALOMETER


@pytest.mark.parametrize(
    ("ask", "field"),
    [
        (lambda: strengthen(TEN, 0.05, SHOP), "strength wanted"),
        (lambda: strengthen(TEN, 0.15, SHOP, stock_share=0.15), "strength of the stock"),
        (lambda: dilute(TEN, 0.15, SHOP), "strength wanted"),
        (lambda: dilute(TEN, 0.0, SHOP), "strength wanted"),
        (lambda: correct(TEN, 0.265, SHOP), "strength wanted"),
        (lambda: correct(TEN, math.nan, SHOP), "strength wanted"),
        (lambda: brine(0.0, StrengthMeasure.PERCENT, 5.0, 15.0), "volume"),
        (lambda: brine(1e308, StrengthMeasure.PERCENT, 5.0, 15.0), "volume"),
        (lambda: brine(1.0, StrengthMeasure.PERCENT, 27.0, 15.0), "strength"),
        (lambda: brine(1.0, StrengthMeasure.GRAMS_PER_LITRE, 320.0, 15.0), "strength"),
        (lambda: brine(1.0, StrengthMeasure.PER_100_G_WATER, -1.0, 15.0), "strength"),
        (lambda: brine(1.0, StrengthMeasure.PERCENT, 5.0, 41.0), "brine temperature"),
        (lambda: brine(1.0, SAL, 101.0, 15.0), "hydrometer reading"),
        (lambda: brine(1.0, HydrometerScale.BAUME, 30.0, 15.0), "hydrometer reading"),
        (lambda: brine(1.0, HydrometerScale.BARKOMETER, math.nan, 15.0), "hydrometer reading"),
        (lambda: blend_to(0.2, 0.1, 0.25, 10.0, 15.0, SHOP), "strength wanted"),
        (lambda: blend_to(0.1, 0.2, 0.15, 10.0, 15.0, SHOP), "strength of the strong brine"),
        (lambda: blend(TEN, Brine(volume_l=-1, salt_share=0, celsius=9), SHOP), "brine"),
    ],
)
def test_what_cannot_be_is_refused(ask: Callable[[], object], field: str) -> None:
    """One sentence with the field and an example that works."""
    with pytest.raises(BadInput) as refusal:
        ask()
    assert field == refusal.value.field
    assert refusal.value.example
