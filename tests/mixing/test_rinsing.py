"""Rinses, refills and warm water: the laws of each, what is said, and what is refused."""

import math
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.chemistry import water_density
from benchconsole.errors import BadInput
from benchconsole.mixing.replacing import carried_off, refill
from benchconsole.mixing.rinsing import rinse_salt, rinses_needed, rinsing
from benchconsole.mixing.warm_water import hot_to_add, water_at
from benchconsole.model.shop import Shop
from benchconsole.model.weighing import Strength

METRIC = Shop(measures="metric")
JUGS = Shop(measures="us", jug_l=3.785411784)
BATH = (Strength(substance="alum", g_per_l=24.0), Strength(substance="salt", g_per_l=60.0))


BELOW_NOTHING = (Strength(substance="salt", g_per_l=-1.0),)


@settings(max_examples=40)
@given(st.floats(0.1, 20.0), st.floats(1.0, 300.0), st.floats(0.5, 200.0), st.floats(0.5, 50.0))
def test_the_fewest_rinses_that_do(held: float, had: float, water: float, wanted: float) -> None:
    """The count found comes down far enough, and one rinse fewer does not."""
    try:
        found = rinses_needed(held, had, water, wanted, METRIC)
    except BadInput as refusal:
        assert "water for each rinse" == refusal.field
        return
    assert found.left_g_per_l <= wanted * (1 + 1e-6) or found.rinses == 0
    if found.rinses:
        before = rinsing(held, had, water, found.rinses - 1, METRIC)
        assert wanted < before.left_g_per_l * (1 + 1e-6)


@settings(max_examples=40)
@given(st.floats(0.1, 20.0), st.floats(0.5, 200.0), st.integers(0, 10))
def test_rinses_compound(held: float, water: float, count: int) -> None:
    """Each rinse leaves the same share, and salt in skin and baths adds up to what there was."""
    left, more = (rinsing(held, 100.0, water, n, METRIC) for n in (count, count + 1))
    assert left.left_share * held / (held + water) == pytest.approx(more.left_share)
    in_bath = (left.salt_left_g - more.salt_left_g) / water
    assert more.left_g_per_l == pytest.approx(in_bath, rel=1e-6, abs=1e-9)


def test_two_rinses_of_nine_to_one() -> None:
    """1 L held in 9 L leaves 10 %, twice 1 %."""
    found = rinsing(1.0, 120.0, 9.0, 2, METRIC)
    assert 0.01 == pytest.approx(found.left_share)
    assert (
        "2 rinses of 9 L leave 1 % of the salt: the skin then holds liquor of 1.2 g/L."
    ) == found.says
    assert rinse_salt(40.0, METRIC).says.startswith("Dissolve 1200 g of salt in 40 L of water")


@settings(max_examples=40)
@given(st.floats(0.01, 500.0), st.floats(0.5, 30.0))
def test_a_refill_keeps_the_strength_in_whole_jugs(short: float, jug: float) -> None:
    """Grams over litres are those of the bath, and the jugs cover the shortfall, not one more."""
    found = refill(short, BATH, Shop(jug_l=jug))
    assert [24.0, 60.0] == pytest.approx([grams / found.pour_l for _, grams in found.amounts])
    assert found.jugs is not None
    assert found.jugs * jug == pytest.approx(found.pour_l)
    assert found.jugs == 1 or (found.jugs - 1) * jug < short <= found.pour_l * (1 + 1e-8)


def test_what_the_hide_took_is_put_back() -> None:
    """3 kg drained, 0.6 of it liquor of 1050 kg/m³: 1.8 kg, 1.71 L, one jug."""
    found = carried_off(3000.0, 0.6, 1050.0, BATH, JUGS)
    assert 1800.0 == pytest.approx(found.liquor_g)
    assert 1.714 == pytest.approx(found.volume_l, abs=0.001)
    assert 60.0 * found.volume_l == pytest.approx(dict(found.amounts)["salt"])
    assert 1 == found.refill.jugs
    assert "0.5 to 0.7 kg" in dict(found.working.inputs)["usual, bare skin"]
    assert "make 1 jug of 1 US gal (1 US qt 26 US fl oz is short)" in found.says


def test_without_a_jug_the_shortfall_itself_is_made() -> None:
    """A shop that has not said its jug gets litres."""
    found = refill(7.0, BATH, METRIC)
    assert (None, 7.0) == (found.jugs, found.pour_l)
    assert "Make 7 L with 168 g alum, 420 g salt in it, the same strength as before." == found.says


@settings(max_examples=40)
@given(st.floats(0.0, 40.0), st.floats(50.0, 100.0), st.floats(0.0, 1.0), st.floats(0.5, 500.0))
def test_hot_and_cold_keep_mass_and_heat(
    cold: float, hot: float, part: float, volume: float
) -> None:
    """Mass and mass times temperature are those of the water wanted."""
    wanted = min(cold + part * (hot - cold), hot)
    found = water_at(wanted, volume, hot, cold, METRIC)
    hot_kg, cold_kg = found.hot_l * water_density(hot), found.cold_l * water_density(cold)
    mass = volume * water_density(wanted)
    assert mass == pytest.approx(hot_kg + cold_kg)
    assert mass * wanted == pytest.approx(hot_kg * hot + cold_kg * cold, abs=1e-6)


@settings(max_examples=30)
@given(st.floats(0.0, 30.0), st.floats(60.0, 100.0), st.floats(31.0, 55.0))
def test_hot_to_add_is_the_same_mixture(cold: float, hot: float, wanted: float) -> None:
    """Warming a tub and making the water afresh ask for the same two volumes."""
    warmed = hot_to_add(wanted, 15.0, hot, cold, METRIC)
    made = water_at(wanted, warmed.volume_l, hot, cold, METRIC)
    assert warmed.hot_l == pytest.approx(made.hot_l)
    assert 15.0 == pytest.approx(made.cold_l)


def test_warm_water_in_a_sentence() -> None:
    """The vessel's heat is named, since it is not in the sum."""
    found = water_at(38.0, 20.0, 60.0, 12.0, METRIC)
    assert found.says.startswith("10.9 L at 60 °C and 9.11 L at 12 °C make 20 L at 38 °C")
    assert "vessel" in found.working.sure


@pytest.mark.parametrize(
    ("ask", "field"),
    [
        (lambda: water_at(70.0, 20.0, 60.0, 12.0, METRIC), "temperature wanted"),
        (lambda: water_at(5.0, 20.0, 60.0, 12.0, METRIC), "temperature wanted"),
        (lambda: water_at(12.0, 20.0, 12.0, 12.0, METRIC), "hot water"),
        (lambda: water_at(40.0, 20.0, 101.0, 12.0, METRIC), "hot water"),
        (lambda: water_at(40.0, 20.0, 60.0, math.nan, METRIC), "cold water"),
        (lambda: water_at(40.0, 0.0, 60.0, 12.0, METRIC), "volume"),
        (lambda: hot_to_add(60.0, 20.0, 60.0, 12.0, METRIC), "temperature wanted"),
        (lambda: hot_to_add(40.0, math.inf, 60.0, 12.0, METRIC), "cold water"),
        (lambda: rinsing(0.0, 1.0, 1.0, 1, METRIC), "liquor held"),
        (lambda: rinsing(1.0, -1.0, 1.0, 1, METRIC), "strength of the liquor held"),
        (lambda: rinsing(1.0, 1.0, 0.0, 1, METRIC), "water for each rinse"),
        (lambda: rinsing(1.0, 1.0, 1.0, -1, METRIC), "rinses"),
        (lambda: rinses_needed(1.0, 100.0, 0.01, 1.0, METRIC), "water for each rinse"),
        (lambda: rinses_needed(1.0, 100.0, 1.0, 0.0, METRIC), "strength to come down to"),
        (lambda: rinse_salt(0.0, METRIC), "rinse water"),
        (lambda: rinse_salt(1.0, METRIC, g_per_l=300.0), "salt in the rinse"),
        (lambda: refill(0.0, BATH, METRIC), "shortfall"),
        (
            lambda: refill(1.0, (Strength(substance="salt", g_per_l=-1.0),), METRIC),
            "strength of salt",
        ),
        (lambda: carried_off(3000.0, 1.0, 1050.0, BATH, METRIC), "liquor carried"),
        (lambda: carried_off(3000.0, math.nan, 1050.0, BATH, METRIC), "liquor carried"),
        (lambda: carried_off(3000.0, 0.6, 1.05, BATH, METRIC), "density"),
    ],
)
def test_what_cannot_be_is_refused(ask: Callable[[], object], field: str) -> None:
    """One sentence with the field and an example that works."""
    with pytest.raises(BadInput) as refusal:
        ask()
    assert field == refusal.value.field
    assert refusal.value.example
