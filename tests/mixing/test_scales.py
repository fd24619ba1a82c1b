"""How sure a weighing is, the least that can be weighed, and which scale to take."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.errors import BadInput
from benchconsole.mixing.scale_choice import choose_scale, lots_for, pour_loss
from benchconsole.mixing.scale_limits import least_batch, least_weight
from benchconsole.mixing.scales import (
    net_by_difference_g,
    net_by_tare_key_g,
    net_g,
    weighing_error,
)
from benchconsole.model.shop import Scale, Shop

FINE = Scale(name="the fine scale", step_g=0.1, capacity_g=500.0)
BENCH = Scale(name="the bench scale", step_g=1.0, capacity_g=5000.0)
FLOOR = Scale(name="the floor scale", step_g=5.0, capacity_g=15_000.0)
METRIC = Shop(measures="metric", scale=BENCH)
STEPS = st.sampled_from([0.01, 0.1, 0.5, 1.0, 2.0, 5.0, 20.0])
SPREADS = st.floats(min_value=0.0, max_value=5.0)
TOLERANCES = st.floats(min_value=0.001, max_value=0.1)
FEW = settings(max_examples=100, deadline=None)


def shop_with(step_g: float) -> Shop:
    """A metric shop with a scale of this step, up to 20 kg."""
    return Shop(measures="metric", scale=Scale(step_g=step_g, capacity_g=20_000.0))


@FEW
@given(step=STEPS, spread=SPREADS, more=st.floats(min_value=0.0, max_value=3.0))
def test_a_coarser_or_looser_scale_is_never_surer(step: float, spread: float, more: float) -> None:
    """Error rises with step and spread, and never falls below the rounding of one reading."""
    for by in (net_by_difference_g, net_by_tare_key_g):
        assert by(step, spread) <= by(step * 2, spread)
        assert by(step, spread) <= by(step, spread + more)
        assert by(step, spread) >= step / math.sqrt(12.0)
    assert net_g(step, spread, "tare-key") <= net_g(step, spread, "difference")


@FEW
@given(step=STEPS, spread=SPREADS, additions=st.integers(min_value=1, max_value=100))
def test_zeroing_each_time_grows_and_the_bowl_left_on_does_not(
    step: float, spread: float, additions: int
) -> None:
    """n additions on zeros of their own are √n as unsure; read on, they are as one weighing."""
    shop = shop_with(step)
    one = weighing_error(100.0, shop, repeatability_g=spread)
    left_on = weighing_error(100.0, shop, repeatability_g=spread, additions=additions)
    zeroed = weighing_error(
        100.0, shop, repeatability_g=spread, additions=additions, mode="re-zero"
    )
    assert one.standard_g == left_on.standard_g
    assert one.standard_g * math.sqrt(additions) == pytest.approx(zeroed.standard_g)
    assert 2 * zeroed.standard_g == zeroed.expanded_g


def test_an_error_is_told_in_the_shops_measures() -> None:
    """36 g on a 1 g scale: ±1.6 g; steady, ±0.0288 oz; the working says what is left out."""
    metric = weighing_error(36.0, METRIC, repeatability_g=0.5)
    assert "36 g weighed may be off by 1.6 g, 4.5 % of it." == metric.says
    us = weighing_error(36.0, Shop(measures="us", scale=BENCH))
    assert "1.25 oz weighed may be off by 0.0288 oz, 2.3 % of it." == us.says
    assert "repeatability is not counted" in us.working.sure
    assert "buoyancy" in metric.working.sure
    assert "4.3.7" in metric.working.source


def test_the_additions_are_told() -> None:
    """Twelve spoons, zeroed before each, say so; an amount under its own error says that."""
    found = weighing_error(36.0, METRIC, additions=12, mode="re-zero", zero_by="tare-key")
    assert "in 12 additions, zeroed before each, may be off by" in found.says
    assert weighing_error(0.5, METRIC).says.endswith("as much as all of it.")


@FEW
@given(step=STEPS, spread=SPREADS, tolerance=TOLERANCES, times=st.floats(1.001, 50))
def test_the_least_weight_is_the_border(
    step: float, spread: float, tolerance: float, times: float
) -> None:
    """Above the least weight the error is within the tolerance, below it is not."""
    shop = shop_with(step)
    least = least_weight(tolerance, shop, repeatability_g=spread).mass_g
    above, below = (
        weighing_error(grams, shop, repeatability_g=spread)
        for grams in (least * times, least / times)
    )
    assert above.share < tolerance < below.share


def test_the_least_weight_in_words_is_not_below_it() -> None:
    """81.65 g for 2 % on d = 1 g, s = 0.5 g is told as 82 g."""
    found = least_weight(0.02, METRIC, repeatability_g=0.5)
    assert "To 2 % this scale weighs 82 g and more." == found.says


@FEW
@given(
    amounts=st.lists(st.floats(min_value=2.0, max_value=5000.0), min_size=1, max_size=6),
    tolerance=TOLERANCES,
)
def test_the_least_batch_weighs_every_line(amounts: list[float], tolerance: float) -> None:
    """So many times as much, every line meets the tolerance; a batch that did is left alone."""
    named = [(f"s{place}", grams) for place, grams in enumerate(amounts)]
    found = least_batch(named, tolerance, METRIC)
    shares = [weighing_error(grams * found.factor, METRIC).share for grams in amounts]
    assert max(shares) <= tolerance * (1 + 1e-9)
    assert found.factor == 1.0 or max(shares) == pytest.approx(tolerance)
    assert dict(named)[found.decides] == min(amounts)


def test_the_least_batch_names_what_decides() -> None:
    """36 g of alum beside 1134 g of salt: 2.27 times as much for 2 %."""
    found = least_batch([("salt", 1134.0), ("alum", 36.0)], 0.02, METRIC, repeatability_g=0.5)
    assert 2.268 == pytest.approx(found.factor, abs=0.0005)
    assert (
        "Mix at least 2.27 times as much: alum (36 g) is too little to weigh to 2 %." == found.says
    )
    enough = least_batch([("salt", 1134.0), ("alum", 136.0)], 0.02, METRIC)
    assert "This scale weighs all of it to 2 %; alum (136 g) is the least." == enough.says


@FEW
@given(
    amount=st.floats(min_value=1.0, max_value=100_000.0),
    bowl=st.floats(min_value=0.0, max_value=4000.0),
)
def test_lots_are_the_fewest_that_the_scale_carries(amount: float, bowl: float) -> None:
    """Each bowlful fits with its bowl, one bowl less would not, and together they are all."""
    found = lots_for(amount, BENCH, "metric", bowl_g=bowl)
    assert found.each_g + bowl <= BENCH.capacity_g * (1 + 1e-6)
    assert amount == pytest.approx(found.count * found.each_g)
    if found.count > 1:
        assert amount / (found.count - 1) + bowl > BENCH.capacity_g * (1 - 1e-6)
    one = 2 * net_by_difference_g(1.0)
    assert one * math.sqrt(found.count) == pytest.approx(found.error_g)


@pytest.mark.parametrize(
    ("amount", "name", "count", "why"),
    [
        (0.5, "the fine scale", 1, "no scale here weighs it to 2 %, and this one comes nearest"),
        (12.0, "the fine scale", 1, "the bench scale is too coarse for 2 %"),
        (450.0, "the fine scale", 1, "finer than the bench scale and carries it in as few bowls"),
        (800.0, "the bench scale", 1, "finer than the floor scale and carries it in as few bowls"),
        (6000.0, "the floor scale", 1, "good for 2 %, and the bench scale would take 2 bowls"),
        (24_000.0, "the floor scale", 2, "and the bench scale would take 5 bowls"),
    ],
)
def test_the_scale_for_an_amount(amount: float, name: str, count: int, why: str) -> None:
    """The finest that carries it; for more, the one that takes the fewest bowls; and why."""
    found = choose_scale(amount, [FLOOR, BENCH, FINE], METRIC)
    assert (name, count) == (found.scale.name, found.lots.count)
    assert why in found.says
    assert found.meets_tolerance == (amount > 0.5)


def test_two_lots_for_a_fine_scale_beat_one_on_a_coarse_one() -> None:
    """150 g at 2 %: the floor scale is off by 4.1 g in one bowl, a pocket scale takes two."""
    pocket = Scale(name="the pocket scale", step_g=0.1, capacity_g=100.0)
    found = choose_scale(150.0, [FLOOR, pocket], METRIC)
    assert ("the pocket scale", 2) == (found.scale.name, found.lots.count)
    assert found.says.endswith("the floor scale is too coarse for 2 %.")


def test_a_scale_that_repeats_badly_is_passed_over() -> None:
    """45 g at 2 %: d = 0.1 g with a spread of 1 g is off by 2.8 g, d = 1 g steady by 0.8 g."""
    spread = {"the fine scale": 1.0}
    assert "the fine scale" == choose_scale(45.0, [FINE, BENCH], METRIC).scale.name
    loose = choose_scale(45.0, [FINE, BENCH], METRIC, repeatability_g=spread)
    assert "the bench scale" == loose.scale.name


@FEW
@given(
    amount=st.floats(min_value=0.5, max_value=50_000.0),
    tolerance=TOLERANCES,
    order=st.permutations([FINE, BENCH, FLOOR]),
)
def test_no_other_scale_is_better(amount: float, tolerance: float, order: list[Scale]) -> None:
    """Whatever the order: a tolerance kept by any is kept by the chosen, in the fewest bowls."""
    found = choose_scale(amount, order, METRIC, tolerance=tolerance)
    lots = [lots_for(amount, scale, "metric") for scale in order]
    within = [lot for lot in lots if lot.error_g <= tolerance * amount]
    assert bool(within) == found.meets_tolerance
    if within:
        assert min(lot.count for lot in within) == found.lots.count
    else:
        assert min(lot.error_g for lot in lots) == found.lots.error_g


def test_a_scale_that_cannot_carry_the_bowl_is_passed_over() -> None:
    """A 600 g bowl is too much for the fine scale; alone, it is refused for it."""
    found = choose_scale(30.0, [FINE, BENCH], METRIC, bowl_g=600.0)
    assert "the bench scale" == found.scale.name
    with pytest.raises(BadInput, match=r"bowl: it leaves nothing of the 500 g that the fine"):
        choose_scale(30.0, [FINE], METRIC, bowl_g=600.0)


@FEW
@given(amount=st.floats(min_value=1.0, max_value=5000.0), share=st.floats(0.0, 0.5))
def test_what_is_weighed_arrives(amount: float, share: float) -> None:
    """The amount weighed, less the share that stays behind, is the amount wanted."""
    found = pour_loss(amount, share, METRIC)
    assert amount == pytest.approx(found.weigh_g * (1 - share))
    assert found.weigh_g == pytest.approx(amount + found.loss_g)


def test_pour_loss_in_words() -> None:
    """250 g with 2 % left in the bowl: weigh 255 g."""
    says = pour_loss(250.0, 0.02, METRIC).says
    assert "Weigh 255 g, so that 250 g arrives when 2 % stays in the bowl." == says


Use = Callable[[], object]


@pytest.mark.parametrize(
    ("use", "field"),
    [
        (lambda: weighing_error(0.0, METRIC), "amount"),
        (lambda: weighing_error(math.nan, METRIC), "amount"),
        (lambda: weighing_error(36.0, METRIC, additions=0), "additions"),
        (lambda: weighing_error(36.0, shop_with(0.0)), "step of the scale"),
        (lambda: weighing_error(36.0, shop_with(1e6)), "step of the scale"),
        (lambda: weighing_error(36, METRIC, repeatability_g=-1), "repeatability of the scale"),
        (lambda: least_weight(0.0, METRIC), "tolerance"),
        (lambda: least_batch([], 0.02, METRIC), "batch"),
        (lambda: least_batch([("alum", 0.001)], 0.02, METRIC), "weight of alum"),
        (lambda: least_batch([("alum", -1.0)], 0.02, METRIC), "weight of alum"),
        (lambda: lots_for(1e7, FINE, "metric"), "amount"),
        (lambda: choose_scale(10.0, [], METRIC), "scales"),
        (lambda: choose_scale(10.0, [FINE], METRIC, tolerance=2.0), "tolerance"),
        (lambda: pour_loss(250.0, 0.9, METRIC), "pour loss"),
    ],
)
def test_figures_out_of_bounds_are_refused(use: Use, field: str) -> None:
    """The refusal names the field and shows one that works."""
    with pytest.raises(BadInput) as refusal:
        use()
    assert field == refusal.value.field
    assert refusal.value.example
