"""Drying curves, moisture both ways, and hours under a cover."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchconsole.model.drying import Cover
from benchconsole.schedule.drying.curves import (
    dry_basis,
    hours_to_ratio,
    moisture_ratio,
    wet_basis,
)
from benchconsole.schedule.drying.exposure import COVERS, Exposure

SHARES: dict[Cover, float] = {"open": 1.0, "loose": 0.4, "plastic": 0.05}

rates = st.floats(0.001, 1.0)
exponents = st.floats(0.7, 1.6)
ratios = st.floats(0.01, 0.99)


def in_the_open(exposure: Exposure, hours: float) -> float:
    """The hours of lying open that dry as much."""
    under = exposure.hours_under(hours)
    return sum(SHARES[cover] * spent for cover, spent in zip(COVERS, under, strict=True))


changes = st.lists(st.tuples(st.floats(-5.0, 200.0), st.sampled_from(COVERS)), max_size=6)


@given(wet=st.floats(0.0, 0.99))
def test_moisture_goes_both_ways(wet: float) -> None:
    """From the whole weight to the dry and back is the same moisture."""
    assert wet == pytest.approx(wet_basis(dry_basis(wet)), abs=1e-12)


def test_moisture_that_cannot_be_is_refused() -> None:
    """All water is no hide, and less than none is no moisture."""
    for share in (1.0, -0.1, math.nan):
        with pytest.raises(ValueError, match="share of water"):
            dry_basis(share)
    with pytest.raises(ValueError, match="below 0"):
        wet_basis(-0.1)


@given(rate=rates, exponent=exponents, ratio=ratios)
def test_the_time_to_a_moisture_is_when_it_is_there(
    rate: float, exponent: float, ratio: float
) -> None:
    """Curve and time to a target are each other's inverse."""
    hours = hours_to_ratio(ratio, rate, exponent)
    assert ratio == pytest.approx(moisture_ratio(hours, rate, exponent), rel=1e-9)


@given(rate=rates, exponent=exponents, ratio=ratios, factor=st.floats(0.1, 10.0))
def test_half_the_rate_takes_twice_the_time(
    rate: float, exponent: float, ratio: float, factor: float
) -> None:
    """Time and rate scale together, whatever the exponent."""
    slow = hours_to_ratio(ratio, rate / factor, exponent)
    assert factor * hours_to_ratio(ratio, rate, exponent) == pytest.approx(slow)


def test_the_ends_of_a_curve() -> None:
    """Before the beginning it is all there; what is never reached takes for ever."""
    assert 1.0 == moisture_ratio(-1.0, 0.1) == moisture_ratio(0.0, 0.1)
    assert moisture_ratio(1e9, 0.1) < 1e-20
    assert math.inf == hours_to_ratio(0.0, 0.1) == hours_to_ratio(-0.2, 0.1)
    assert 0.0 == hours_to_ratio(1.0, 0.1) == hours_to_ratio(1.3, 0.1)


@given(changed=changes, open_hours=st.floats(0.0, 500.0))
def test_covered_hours_count_for_less_and_can_be_counted_back(
    changed: list[tuple[float, Cover]], open_hours: float
) -> None:
    """Clock hours and hours of lying open are each other's inverse, whatever was laid over."""
    exposure = Exposure.of(changed)
    clock = exposure.clock_hours(open_hours, SHARES)
    assert open_hours == pytest.approx(in_the_open(exposure, clock), abs=1e-6)
    assert clock >= open_hours - 1e-9
    assert clock == pytest.approx(sum(exposure.hours_under(clock)), abs=1e-6)


def test_covers_follow_one_another() -> None:
    """Three hours open, four under plastic, then open again; a change before counts from there."""
    exposure = Exposure.of([(7.0, "open"), (3.0, "plastic"), (3.0, "plastic")])
    assert ((0.0, "open"), (3.0, "plastic"), (7.0, "open")) == exposure.changes
    assert (5.0, 0.0, 4.0) == exposure.hours_under(9.0)
    assert 5.2 == pytest.approx(in_the_open(exposure, 9.0))
    assert "loose" == Exposure.of([(-2.0, "loose")]).cover
