"""Whatever is tapped in whatever order: refused in a sentence or kept, and the same from disk."""

from __future__ import annotations

from collections.abc import Callable

from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.desk import Desk
from benchconsole.errors import BenchError
from benchconsole.library import shipped_library
from benchconsole.model.events import HideTakenIn, TimerSet, WeighOutBegun, subject_of
from benchconsole.model.state import fold
from tests.desk.small_bench import Bench

LIBRARY = shipped_library()

HIDES = st.sampled_from(["goat", "goat-2", "nobody"])
TIMERS = st.sampled_from(["t1", "t2", "t9"])
WEIGH_OUTS = st.sampled_from(["w1", "w2"])
READINGS = st.sampled_from(["1 gal", "454", "500", "0", "-3", "nonsense", "9999"])
Tap = Callable[[Desk], object]


def hide_tap(act: str, hide: str) -> Tap:
    """A tap on a hide."""
    return lambda desk: getattr(desk.hides, act)(hide)


def timer_tap(act: str, timer: str) -> Tap:
    """A tap on a timer."""
    return lambda desk: getattr(desk.timers, act)(timer)


def scale_tap(act: str, weigh_out: str) -> Tap:
    """A tap of a weigh-out."""
    return lambda desk: getattr(desk.weigh_outs, act)(weigh_out)


def take_in(desk: Desk) -> object:
    """Take in one more goat."""
    return desk.hides.take_in(
        name="Goat", species="goat", route="hair-on-alum-pelt", came="salted", weight="3 kg"
    )


def begin(desk: Desk) -> object:
    """Take the pickle to the scale."""
    return desk.weigh_outs.begin(desk.worksheet("salt-citric-pickle"))


TAPS = st.one_of(
    st.just(take_in),
    st.just(begin),
    st.just(lambda desk: desk.timers.set("Rinse", "5 min")),
    st.builds(hide_tap, st.sampled_from(["done", "passed", "not_yet", "attended", "undo"]), HIDES),
    st.builds(
        timer_tap, st.sampled_from(["pause_or_go_on", "cancel", "acknowledge", "undo"]), TIMERS
    ),
    st.builds(
        scale_tap,
        st.sampled_from(
            ["accept", "carry_on", "rebalance", "bowl_again", "undo", "give_up", "finish"]
        ),
        WEIGH_OUTS,
    ),
    st.builds(
        lambda weigh_out, text: lambda desk: desk.weigh_outs.read(weigh_out, text),
        WEIGH_OUTS,
        READINGS,
    ),
)


@settings(max_examples=150, deadline=None)
@given(st.lists(st.tuples(TAPS, st.sampled_from([0.0, 0.2, 3.0, 30.0])), min_size=5, max_size=40))
def test_any_taps_in_any_order(taps: list[tuple[Tap, float]]) -> None:
    """Each is refused with nothing stored or kept as one tap; views never fail; ids are unique."""
    bench = Bench(LIBRARY)
    for tap, hours in taps:
        before = bench.taps
        try:
            tap(bench.desk)
        except BenchError:
            assert before == bench.taps
        else:
            assert before + 1 == bench.taps
        bench.clock.advance(hours=hours)
        bench.desk.day_line(bench.desk.hides.rows())
    entries = bench.repository.entries()
    assert fold(entries) == bench.desk.hides._ledger.state
    for row in bench.desk.hides.rows():
        bench.desk.hides.card(row.hide.id)
    for weigh_out in bench.state.weigh_outs:
        bench.desk.weigh_outs.view(weigh_out)
    assert bench.desk.timers.all() == bench.reopened().timers.all()
    named = [
        subject_of(entry.event)
        for entry in entries
        if isinstance(entry.event, HideTakenIn | TimerSet | WeighOutBegun)
    ]
    assert len(named) == len(set(named))
