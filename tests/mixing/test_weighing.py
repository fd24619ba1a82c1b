"""The weigh-out, tap by tap: readings worked out by hand on a 1 g scale that carries 5 kg."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from benchconsole.errors import BadInput, NotPossibleNow
from benchconsole.mixing.weighing import (
    deviations,
    is_done,
    next_pour,
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
    SetMode,
    SetZero,
    Tap,
)

PlanOf = Callable[..., Plan]
RE_ZERO = SetMode(mode="re-zero")
CUMULATIVE = SetMode(mode="cumulative")


@pytest.mark.parametrize(
    ("taps", "reading"),
    [
        ([], 500),
        ([Accept()], 800),  # 500 + 300, bowl left on
        ([Read(reading_g=497)], 797),  # 3 g short is within 2 % of 500; 497 + 300
        ([SetZero(offset_g=-2)], 498),
        ([SetZero(offset_g=-2), Accept()], 798),
        ([RE_ZERO], 500),
        ([RE_ZERO, Accept()], 300),
        ([RE_ZERO, SetZero(offset_g=3), Accept()], 303),
        ([Accept(), RE_ZERO], 300),  # zero is pressed with the 500 g on
        ([RE_ZERO, Accept(), CUMULATIVE], 800),  # the 500 g still stand on the scale
        ([Read(reading_g=200)], 500),  # short: the rest, bowl on
        ([RE_ZERO, Read(reading_g=200)], 500),  # zero comes before a line, not before its rest
        ([Read(reading_g=200), RE_ZERO], 300),  # zero pressed on 200 g: 300 g to go
        ([Accept(), Accept()], 100),  # another part, another bowl
        ([Accept(), SetZero(offset_g=4)], 800),  # told late: 496 g were in; 4 + 496 + 300
        ([RE_ZERO, Accept(), SetZero(offset_g=4)], 304),  # the scale has been zeroed since
        ([Read(reading_g=480), CarryOn()], 780),
        ([Read(reading_g=520), CarryOn()], 820),
    ],
)
def test_the_reading_asked_for(plan_of: PlanOf, taps: list[Tap], reading: float) -> None:
    """What the scale must show next: zero, plus what is on it, plus what is missing."""
    pour = next_pour(replay(plan_of("a:salt=500 a:alum=300 b:soda=100"), taps))
    assert pour is not None
    assert reading == pytest.approx(pour.reading_g)


def test_a_zero_told_late_puts_the_first_line_right(plan_of: PlanOf) -> None:
    """Read as 500 with an empty bowl that showed 4, the salt weighs 496; the alum is untouched."""
    taps = [Accept(), Accept(), SetZero(offset_g=4)]
    bench = replay(plan_of("a:salt=500 a:alum=300"), taps)
    assert (496, 300) == bench.poured
    assert is_done(bench)


def test_a_zero_told_late_reopens_a_line_that_is_short(plan_of: PlanOf) -> None:
    """40 g read with 10 g already showing are 30 g: 10 g more, when the scale shows 50."""
    bench = replay(plan_of("a:alum=40 a:salt=500"), [Accept(), SetZero(offset_g=10)])
    pour = next_pour(bench)
    assert pour is not None
    assert (0, 10, 50) == (pour.line, pytest.approx(pour.add_g), pytest.approx(pour.reading_g))


def test_a_zero_told_late_can_show_an_over_pour(plan_of: PlanOf) -> None:
    """40 g read on an empty bowl that showed −10 are 50 g, which waits for a decision."""
    bench = replay(plan_of("a:alum=40 a:salt=500"), [Accept(), SetZero(offset_g=-10)])
    assert 0 == bench.over
    assert 50 == pytest.approx(bench.poured[0])


def test_lots_share_the_amount_evenly(plan_of: PlanOf) -> None:
    """12 kg on a 5 kg scale: 3 bowls of 4 kg, emptied between them, not 5 + 5 + 2."""
    bench = replay(plan_of("a:salt=12000"), [])
    seen = []
    while (pour := next_pour(bench)) is not None:
        seen.append((pour.lots, round(pour.aim_g), round(pour.reading_g), pour.empty_first))
        bench = tapped(bench, Accept())
    assert [(3, 4000, 4000, False), (2, 4000, 4000, True), (1, 4000, 4000, True)] == seen
    assert 12000 == pytest.approx(bench.poured[0])


def test_a_short_lot_asks_for_the_rest_of_its_bowl(plan_of: PlanOf) -> None:
    """7 kg in 2 bowls of 3.5 kg; at 1 kg the same bowl is filled up to 3.5 kg."""
    pour = next_pour(replay(plan_of("a:salt=7000"), [Read(reading_g=1000)]))
    assert pour is not None
    shown = (round(pour.aim_g), round(pour.reading_g), pour.lots, pour.empty_first)
    assert (2500, 3500, 2, False) == shown


@pytest.mark.parametrize("mode", ["cumulative", "re-zero"])
def test_a_full_bowl_is_emptied_before_the_next_line(plan_of: PlanOf, mode: str) -> None:
    """4.5 kg lie in the bowl and 1 kg is to follow: no room in 5 kg, zeroed or not."""
    taps: list[Tap] = [RE_ZERO if mode == "re-zero" else CUMULATIVE, Accept()]
    pour = next_pour(replay(plan_of("a:salt=4500 a:alum=1000"), taps))
    assert pour is not None
    assert (True, 1000, 1) == (pour.empty_first, round(pour.reading_g), pour.lots)


def test_a_zero_offset_takes_room_from_the_scale(plan_of: PlanOf) -> None:
    """With 100 g showing before anything is on, 4950 g need 2 bowls of 2475 g on 5 kg."""
    pour = next_pour(replay(plan_of("a:salt=4950"), [SetZero(offset_g=100)]))
    assert pour is not None
    assert (2, 2575) == (pour.lots, round(pour.reading_g))


@pytest.mark.parametrize(
    ("reading", "over", "asked"),
    [
        (509, None, 809),  # 2 % of 500 is 10
        (511, 0, None),
        (490, None, 790),
        (489, None, 500),
    ],
)
def test_the_band_is_two_percent(
    plan_of: PlanOf, reading: float, over: int | None, asked: float | None
) -> None:
    """490 to 510 g pass for 500 g; below the rest is asked for, above somebody decides."""
    bench = replay(plan_of("a:salt=500 a:alum=300"), [Read(reading_g=reading)])
    pour = next_pour(bench)
    assert over == bench.over
    assert asked == (None if pour is None else pytest.approx(pour.reading_g))


@pytest.mark.parametrize(("reading", "over"), [(21, None), (22, 0)])
def test_the_band_is_never_finer_than_the_scale(
    plan_of: PlanOf, reading: float, over: int | None
) -> None:
    """2 % of 20 g is 0.4 g, which a 1 g scale cannot show: 21 g pass, 22 g do not."""
    assert over == replay(plan_of("a:alum=20"), [Read(reading_g=reading)]).over


def test_a_pinch_below_the_step_is_not_skipped(plan_of: PlanOf) -> None:
    """Half a gram on a 1 g scale lies within the band of nothing, and is asked for all the same."""
    bench = replay(plan_of("a:dye=0.5 a:salt=500"), [])
    pour = next_pour(bench)
    assert pour is not None
    assert 0 == pour.line
    assert 1 == getattr(next_pour(tapped(bench, Accept())), "line", None)


def test_spooning_back_clears_the_over_pour(plan_of: PlanOf) -> None:
    """530 g wait for a decision, spooned back to 505 they pass; to 400 the rest is asked for."""
    plan = plan_of("a:salt=500 a:alum=300")
    bench = replay(plan, [Read(reading_g=530)])
    assert 0 == bench.over
    back = tapped(bench, Read(reading_g=505))
    assert (None, 505) == (back.over, back.poured[0])
    too_far = next_pour(tapped(bench, Read(reading_g=400)))
    assert too_far is not None
    assert (0, 500) == (too_far.line, too_far.reading_g)


def test_spooning_back_at_the_end_of_the_capacity(plan_of: PlanOf) -> None:
    """A bowl filled past the capacity is not taken for an emptied one when it is spooned back."""
    taps = [Read(reading_g=5005), Read(reading_g=4500)]
    bench = replay(plan_of("a:salt=4500"), taps)
    assert (None, 4500) == (bench.over, bench.poured[0])


def test_a_jug_line_is_told_in_litres(plan_of: PlanOf) -> None:
    """9 kg of water at 1000 kg/m³ are 9 L; 4 L in, 5 L are asked for; then the salt is weighed."""
    bench = replay(plan_of("a:water=9000j a:salt=500"), [Jugged(volume_l=4.0)])
    pour = next_pour(bench)
    assert pour is not None
    assert 5.0 == pour.litres
    after = next_pour(tapped(bench, Jugged(volume_l=5.0)))
    assert after is not None
    assert (1, 500, None) == (after.line, after.reading_g, after.litres)


def test_what_was_carried_on_with_stays_settled(plan_of: PlanOf) -> None:
    """Short by 20 % and over by 10 %, both left: neither comes back, and the end is reached."""
    taps = [Read(reading_g=400), CarryOn(), Read(reading_g=730), CarryOn(), Accept()]
    bench = replay(plan_of("a:salt=500 a:alum=300 b:soda=100"), taps)
    assert is_done(bench)
    assert (-0.2, 0.1, 0.0) == tuple(pytest.approx(share) for share in deviations(bench))


@pytest.mark.parametrize(
    ("taps", "tap", "words"),
    [
        ([], Jugged(volume_l=1.0), "is weighed"),
        ([], CarryOn(), "no deviation"),
        ([], Rebalance(), "Nothing was over-poured"),
        ([], BowlAgain(), "bowl is empty"),
        ([Accept()], Read(reading_g=10), "measured with the jug"),
        ([Accept(), Accept()], Accept(), "Everything is in"),
        ([Accept(), Accept()], Read(reading_g=10), "Everything is in"),
        ([Accept(), Accept()], CarryOn(), "no deviation"),
        ([Read(reading_g=600)], Accept(), "Too much is in"),
    ],
)
def test_taps_that_do_not_fit(plan_of: PlanOf, taps: list[Tap], tap: Tap, words: str) -> None:
    """A tap that does not fit is refused in a sentence, and the bench stays what it was."""
    bench = replay(plan_of("a:salt=500 b:water=9000j"), taps)
    with pytest.raises(NotPossibleNow, match=words):
        tapped(bench, tap)


@pytest.mark.parametrize(
    ("taps", "tap", "field", "example"),
    [
        ([], Read(reading_g=float("nan")), "reading", "500 g"),
        ([], Read(reading_g=float("inf")), "reading", "500 g"),
        ([], Read(reading_g=5010), "reading", "500 g"),
        ([], Read(reading_g=-2), "reading", "500 g"),
        ([Read(reading_g=600)], Read(reading_g=-2), "reading", "600 g"),
        ([], SetZero(offset_g=501), "zero", "1 g"),
        ([], SetZero(offset_g=float("nan")), "zero", "1 g"),
        ([Accept()], Jugged(volume_l=-1), "volume", "2 L"),
        ([Accept()], Jugged(volume_l=float("nan")), "volume", "2 L"),
        ([Accept()], Jugged(volume_l=1e300), "volume", "2 L"),
    ],
)
def test_impossible_amounts_name_their_field(
    plan_of: PlanOf, taps: list[Tap], tap: Tap, field: str, example: str
) -> None:
    """A reading, zero or volume that cannot be is refused with an example that is taken."""
    bench = replay(plan_of("a:salt=500 b:water=9000j"), taps)
    with pytest.raises(BadInput) as refused:
        tapped(bench, tap)
    assert (field, example) == (refused.value.field, refused.value.example)
    amount = float(example.split()[0])
    typed = {
        "reading": Read(reading_g=amount),
        "zero": SetZero(offset_g=amount),
        "volume": Jugged(volume_l=amount),
    }
    tapped(bench, typed[field])
