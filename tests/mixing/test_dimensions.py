"""Lengths, areas, weights and jugs as they are printed for the shop."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.mixing.dimensions import (
    area_words,
    error_words,
    jug_words,
    least_words,
    length_words,
    most_words,
)
from benchconsole.model.shop import Shop
from benchconsole.quantities import Measures, read_area, read_length, read_mass

FEW = settings(max_examples=60, deadline=None)


@pytest.mark.parametrize("measures", ["us", "imperial", "metric"])
@FEW
@given(metres=st.floats(min_value=0.003, max_value=5.0))
def test_a_length_is_read_back_as_printed(measures: Measures, metres: float) -> None:
    """Printed lengths are within half a mark (0.8 mm, above a foot 1.6 mm) when read again."""
    words = length_words(metres, measures)
    back = read_length(words, field="depth", measures=measures)
    assert metres == pytest.approx(back, abs=0.00085 if metres < 0.3 else 0.0016)


def test_areas_in_either_measure() -> None:
    """0.84 m² are 9.04 sq ft, and what is printed can be typed."""
    assert ["0.84 m²", "9.04 sq ft"] == [area_words(0.84, "metric"), area_words(0.84, "us")]
    assert 0.84 == pytest.approx(read_area("9.04 sq ft", field="area", measures="us"), rel=0.001)


def test_lengths_as_a_rule_shows_them() -> None:
    """Millimetres; sixteenths of an inch below a foot, eighths above it; nothing is 0."""
    assert ["31.4 cm", "20 cm"] == [length_words(each, "metric") for each in (0.314, 0.2)]
    inches = [length_words(each * 0.0254, "us") for each in (0, 0.6875, 3.5625, 12.3, 16)]
    assert ["0 in", "11/16 in", "3 9/16 in", "12 1/4 in", "16 in"] == inches


@pytest.mark.parametrize("measures", ["us", "imperial", "metric"])
@FEW
@given(grams=st.floats(min_value=0.05, max_value=50_000.0))
def test_a_least_is_never_printed_below_nor_a_most_above(measures: Measures, grams: float) -> None:
    """Read again, the least that is printed is enough, and the most that is printed fits."""
    least = read_mass(least_words(grams, measures), field="least", measures=measures)
    assert grams <= least <= 1.25 * grams
    if grams > 10.0:
        most = read_mass(most_words(grams, measures), field="most", measures=measures)
        assert 0.8 * grams <= most <= grams


def test_errors_have_two_figures() -> None:
    """1.6330 g is 1.6 g or 0.058 oz."""
    assert ["1.6 g", "0.058 oz"] == [error_words(1.633, each) for each in ("metric", "us")]


def test_jugs_are_counted_where_one_is_known() -> None:
    """6.3 L in a 5 L jug are one and 1.3 L; exactly two are two; less than one is litres."""
    shop = Shop(measures="metric", jug_l=5.0)
    told = [jug_words(each, "water", shop) for each in (6.3, 10.0, 4.0)]
    wanted = ["6.3 L of water = 1 × 5 L jug + 1.3 L", "10 L of water = 2 × 5 L jug"]
    assert [*wanted, "4 L of water"] == told
    assert "6.3 L of water" == jug_words(6.3, "water", Shop(measures="metric"))
