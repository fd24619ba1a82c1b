"""Line states: each of them reached by taps, and none that speaks against what is poured next."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from benchconsole.mixing.weighing import Bench, is_done, next_pour, replay, weighed_lines
from benchconsole.model.weighing import (
    Accept,
    BowlAgain,
    CarryOn,
    Jugged,
    Plan,
    Read,
    Rebalance,
    SetZero,
    Tap,
)

PlanOf = Callable[..., Plan]


def states(bench: Bench) -> str:
    """The states of all lines, in order."""
    return " ".join(line.state for line in weighed_lines(bench))


@pytest.mark.parametrize(
    ("taps", "expected"),
    [
        ([], "now to-do to-do"),
        ([Read(reading_g=200)], "now to-do to-do"),
        ([Read(reading_g=200), CarryOn()], "settled now to-do"),
        ([Accept()], "done now to-do"),
        ([Accept(), Read(reading_g=900)], "done over to-do"),
        ([Accept(), Read(reading_g=900), CarryOn()], "done settled now"),
        ([Accept(), Read(reading_g=900), Rebalance()], "now done to-do"),
        ([Accept(), Accept(), Read(reading_g=200)], "done done over"),
        ([Accept(), Accept(), Read(reading_g=200), Rebalance()], "now top-up done"),
        ([Accept(), Accept(), Accept()], "done done done"),
        ([Accept(), Read(reading_g=900), SetZero(offset_g=40)], "short over to-do"),
    ],
)
def test_the_state_of_every_line(plan_of: PlanOf, taps: list[Tap], expected: str) -> None:
    """500, 300 and 100 g on a 1 g scale, 2 % either way."""
    bench = replay(plan_of("a:salt=500 a:alum=300 b:soda=100"), taps)
    assert expected == states(bench)
    pour = next_pour(bench)
    now = [place for place, line in enumerate(weighed_lines(bench)) if line.state == "now"]
    assert now == ([] if pour is None else [pour.line])
    assert ("done done done" == expected) == is_done(bench)


def test_a_line_smaller_than_the_step_is_not_done_with_nothing_in(plan_of: PlanOf) -> None:
    """On a 20 g step the band of 20 g of salt and of 8 g of soda reaches down to nothing."""
    plan = plan_of("a:salt=20 a:soda=8", step_g=20.0)
    assert "now to-do" == states(replay(plan, []))
    assert "done now" == states(replay(plan, [Accept()]))
    assert "done done" == states(replay(plan, [Accept(), Accept()]))
    first = next_pour(replay(plan, []))
    second = next_pour(replay(plan, [Accept()]))
    assert first is not None and second is not None
    assert (20.0, False, True) == (first.low_g, first.too_fine, second.too_fine)


def test_a_pinch_not_in_yet_is_no_top_up(plan_of: PlanOf) -> None:
    """After a rebalance a pinch below the step is still to do, not to be topped up."""
    taps: list[Tap] = [Read(reading_g=600), Rebalance()]
    assert "done now" == states(replay(plan_of("a:salt=500 a:dye=0.5"), taps))
    pour = next_pour(replay(plan_of("a:salt=500 a:dye=0.5"), taps))
    assert pour is not None
    assert not pour.top_up


def test_what_a_line_holds_wastes_and_would_waste(plan_of: PlanOf) -> None:
    """A bowl of 520 g thrown away is wasted; the 505 g after it are in hand, 1 % over."""
    taps: list[Tap] = [Read(reading_g=520), BowlAgain(), Read(reading_g=505)]
    salt, alum = weighed_lines(replay(plan_of("a:salt=500 a:alum=300"), taps))
    assert (505, 520, 505) == (salt.poured_g, salt.wasted_g, salt.in_hand_g)
    assert 0.01 == pytest.approx(salt.deviation)
    assert (0, 0) == (alum.poured_g, alum.in_hand_g)


def test_a_jug_holds_all_its_part_in_hand(plan_of: PlanOf) -> None:
    """A jug goes straight into the tub: with too much water in, the tub's salt is lost as well."""
    plan = plan_of("tub:salt=500 tub:water=9000j jug:alum=300")
    lines = weighed_lines(replay(plan, [Accept(), Jugged(volume_l=10.0)]))
    assert [500, 10_000, 0] == [line.in_hand_g for line in lines]


@pytest.mark.parametrize(
    ("taps", "lot"),
    [
        ([], (1, 3)),
        ([Accept()], (2, 3)),
        ([Accept(), Accept()], (3, 3)),
        ([Read(reading_g=3000)], (1, 3)),
        ([SetZero(offset_g=100)], (1, 3)),
    ],
)
def test_which_lot_of_how_many(plan_of: PlanOf, taps: list[Tap], lot: tuple[int, int]) -> None:
    """12 kg on a 5 kg scale: three lots, counted from the first."""
    pour = next_pour(replay(plan_of("a:salt=12000"), taps))
    assert pour is not None
    assert lot == (pour.lot, pour.of_lots)


def test_a_top_up_is_no_lot_of_the_line(plan_of: PlanOf) -> None:
    """12 kg went in three lots; the 1.2 kg that a rebalance adds go in one."""
    taps: list[Tap] = [Accept(), Accept(), Accept(), Read(reading_g=4110), Rebalance()]
    pour = next_pour(replay(plan_of("a:salt=12000 a:soda=100"), taps))
    assert pour is not None
    assert (True, 1, 1) == (pour.top_up, pour.lot, pour.of_lots)
