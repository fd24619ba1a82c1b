"""Too much in: carry on, rebalance or start again, with factors and top-ups worked out by hand."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from benchconsole.errors import NotPossibleNow
from benchconsole.mixing.weighing import (
    deviations,
    is_done,
    next_pour,
    over_pour,
    replay,
    tapped,
)
from benchconsole.model.weighing import (
    Accept,
    BowlAgain,
    CarryOn,
    Jugged,
    Plan,
    Read,
    Rebalance,
    Tap,
)

PlanOf = Callable[..., Plan]


def test_what_an_over_pour_says(plan_of: PlanOf) -> None:
    """Alum 330 for 300 g: 30 g or 10 % over; 1.1 times means 50 g more salt and 110 g soda."""
    over = over_pour(
        replay(plan_of("a:salt=500 a:alum=300 b:soda=100"), [Accept(), Read(reading_g=830)])
    )
    assert over is not None
    assert (1, 30, "") == (over.line, pytest.approx(over.excess_g), over.refused)
    assert (0.1, 1.1) == (pytest.approx(over.deviation), pytest.approx(over.factor))
    raised = [(each.line, round(each.new_g), round(each.add_g)) for each in over.raises]
    assert [(0, 550, 50), (2, 110, 110)] == raised


def test_top_ups_come_first_in_order_of_the_lines(plan_of: PlanOf) -> None:
    """Water, salt, alum were in; the last line over by 10 %: 0.9 L water, 50 g salt, then done."""
    taps = [Accept(), Accept(), Read(reading_g=830), Rebalance()]
    bench = replay(plan_of("a:water=9000j a:salt=500 a:alum=300"), taps)
    seen = []
    while (pour := next_pour(bench)) is not None:
        seen.append((pour.line, round(pour.add_g), pour.top_up))
        bench = tapped(bench, Accept())
    assert [(0, 900, True), (1, 50, True)] == seen
    assert is_done(bench)
    assert all(abs(share) < 1e-12 for share in deviations(bench))


def test_a_line_not_poured_yet_is_no_top_up(plan_of: PlanOf) -> None:
    """After the rebalance the alum is asked for whole, 330 g, as a first pour."""
    taps = [Read(reading_g=550), Rebalance()]
    pour = next_pour(replay(plan_of("a:salt=500 a:alum=300"), taps))
    assert pour is not None
    assert (330, False) == (pytest.approx(pour.add_g), pour.top_up)


def test_a_jug_over_pour_rebalances(plan_of: PlanOf) -> None:
    """9.9 L for 9 L of water is 10 % over: the salt to come is 550 g."""
    bench = replay(plan_of("a:water=9000j a:salt=500"), [Jugged(volume_l=9.9)])
    assert 0 == bench.over
    pour = next_pour(tapped(bench, Rebalance()))
    assert pour is not None
    assert (1, 550) == (pour.line, pytest.approx(pour.add_g))


def test_two_over_pours_take_the_worse_one(plan_of: PlanOf) -> None:
    """Salt over by 10 % carried on with, then alum by 5 %: 1.10 restores all, 15 g alum to add."""
    taps = [Read(reading_g=550), CarryOn(), Read(reading_g=865)]
    bench = replay(plan_of("a:salt=500 a:alum=300"), taps)
    over = over_pour(bench)
    assert over is not None
    assert 1.1 == pytest.approx(over.factor)
    assert [(1, 15)] == [(each.line, round(each.add_g)) for each in over.raises]
    done = tapped(tapped(bench, Rebalance()), Accept())
    assert is_done(done)
    assert all(abs(share) < 1e-12 for share in deviations(done))


def test_rebalancing_twice_only_raises(plan_of: PlanOf) -> None:
    """1.1 after the salt, then 396 g of alum for 330 g: 1.1 · 1.2 = 1.32 of the plan."""
    taps = [Read(reading_g=550), Rebalance(), Read(reading_g=946), Rebalance()]
    bench = replay(plan_of("a:salt=500 a:alum=300"), taps)
    assert 1.32 == pytest.approx(bench.factor)
    pour = next_pour(bench)
    assert pour is not None
    assert (0, 110) == (pour.line, pytest.approx(pour.add_g))  # 660 − 550


def test_a_pinch_within_its_band_does_not_raise_the_batch(plan_of: PlanOf) -> None:
    """4 g of dye for 3 g is within the 1 g step; the salt's 5 % set the factor."""
    taps = [Read(reading_g=4), Read(reading_g=529)]
    over = over_pour(replay(plan_of("a:dye=3 a:salt=500"), taps))
    assert over is not None
    assert 1.05 == pytest.approx(over.factor)


@pytest.mark.parametrize(
    ("limit_g", "stock_g", "words"),
    [
        (880.0, None, ""),  # 1.1 · 800
        (879.0, None, "container"),
        (None, {"alum": 330.0}, ""),
        (None, {"alum": 329.0}, "not enough alum"),
        (None, {"salt": 549.0}, "not enough salt"),
    ],
)
def test_a_rebalance_stops_at_the_container_and_the_stock(
    plan_of: PlanOf, limit_g: float | None, stock_g: dict[str, float] | None, words: str
) -> None:
    """550 g of 500 g salt ask for 880 g in all and 330 g of alum; a gram less and it is refused."""
    plan = plan_of("a:salt=500 a:alum=300", limit_g=limit_g, stock_g=stock_g)
    bench = replay(plan, [Read(reading_g=550)])
    over = over_pour(bench)
    assert over is not None
    assert words in over.refused
    assert bool(words) == bool(over.refused)
    if words:
        with pytest.raises(NotPossibleNow, match=words):
            tapped(bench, Rebalance())


def test_what_was_thrown_away_counts_against_the_stock(plan_of: PlanOf) -> None:
    """600 g thrown away and 550 g in: of 1100 g of salt there is not enough for the batch."""
    taps: list[Tap] = [Read(reading_g=600), BowlAgain(), Read(reading_g=550)]
    over = over_pour(replay(plan_of("a:salt=500 a:alum=300", stock_g={"salt": 1100.0}), taps))
    assert over is not None
    assert "not enough salt" in over.refused


def test_starting_again_throws_only_this_bowl(plan_of: PlanOf) -> None:
    """Salt is in bowl a; soda and an over-poured dye in b: only b is thrown and counted wasted."""
    plan = plan_of("a:salt=500 b:soda=100 b:dye=50")
    bench = replay(plan, [Accept(), Accept(), Read(reading_g=190), BowlAgain()])
    assert (500, 0, 0) == bench.poured
    assert (0, 100, 90) == bench.wasted
    pour = next_pour(bench)
    assert pour is not None
    assert (1, 100, False) == (pour.line, pour.reading_g, pour.empty_first)


def test_starting_again_keeps_the_lots_already_emptied(plan_of: PlanOf) -> None:
    """Of 8 kg the first 4 kg are in the tub; 4.5 kg in the bowl are thrown, 4 kg asked again."""
    taps = [Accept(), Read(reading_g=4500), BowlAgain()]
    bench = replay(plan_of("a:salt=8000"), taps)
    assert (4000, 4500) == (bench.poured[0], bench.wasted[0])
    pour = next_pour(bench)
    assert pour is not None
    assert 4000 == pytest.approx(pour.reading_g)


def test_starting_again_after_a_jug_throws_the_whole_container(plan_of: PlanOf) -> None:
    """Water poured onto salt cannot be taken out alone; the other part's soda stays."""
    plan = plan_of("b:soda=100 a:salt=500 a:water=9000j")
    bench = replay(plan, [Accept(), Accept(), Jugged(volume_l=12.0), BowlAgain()])
    assert (100, 0, 0) == bench.poured
    assert (0, 500, 12000) == bench.wasted


def test_starting_again_reopens_a_settled_line(plan_of: PlanOf) -> None:
    """A line carried on with and then thrown away is asked for afresh."""
    taps = [Read(reading_g=550), CarryOn(), Read(reading_g=950), BowlAgain()]
    bench = replay(plan_of("a:salt=500 a:alum=300"), taps)
    assert frozenset() == bench.settled
    assert (550, 400) == bench.wasted


def test_starting_again_in_a_new_part_does_not_reach_back(plan_of: PlanOf) -> None:
    """With part b asked for next the bowl is empty; what is in a is not thrown away unseen."""
    bench = replay(plan_of("a:salt=500 b:soda=100"), [Accept()])
    with pytest.raises(NotPossibleNow, match="empty"):
        tapped(bench, BowlAgain())
