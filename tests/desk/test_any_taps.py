"""Whatever is tapped in whatever order: refused in a sentence or kept, and the same from disk."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.desk import Desk
from benchconsole.errors import BenchError, NotPossibleNow
from benchconsole.library import shipped_library
from benchconsole.model.events import HideTakenIn, LotSplit, TimerSet, WeighOutBegun, subjects_of
from benchconsole.model.state import fold
from tests.desk.small_bench import Bench

LIBRARY = shipped_library()

HIDES = st.integers(0, 5)
"""Which of the hides there are, counted round; without any it is nobody."""
LIQUORS = st.sampled_from(["L1", "L1", "L2", "L9"])
ROUTES = st.sampled_from(["", "hair-on-alum-pelt", "hair-off-white-leather", "none"])
STAGES = st.sampled_from(["soak", "alum", "oil", "rinse", "finish", "lime", "", "none"])
TIMERS = st.sampled_from(["t1", "t2", "t9"])
WEIGH_OUTS = st.sampled_from(["w1", "w1", "w2"])
HOURS = st.sampled_from([0.0, 0.2, 3.0, 30.0, 30.0, -24.0, 9000.0])
"""How the clock goes on: seldom it is set back a day, or the shop lies still for a year."""
READINGS = st.sampled_from(["1 gal", "454", "500", "0", "-3", "nonsense", "9999"])
Tap = Callable[[Desk], object]


def named(desk: Desk, place: int) -> str:
    """The hide at a place among those there are."""
    ids = desk.hides.ids()
    return ids[place % len(ids)] if ids else "nobody"


def hide_tap(act: str, place: int) -> Tap:
    """A tap on a hide."""
    return lambda desk: getattr(desk.hides, act)(named(desk, place))


def give_round(desk: Desk) -> object:
    """Log the round that is due, if there is one."""
    due = desk.rounds.due()
    if due is None:
        raise NotPossibleNow("No round is due.")
    return desk.rounds.give(due)


def timer_tap(act: str, timer: str) -> Tap:
    """A tap on a timer."""
    return lambda desk: getattr(desk.timers, act)(timer)


def scale_tap(act: str, weigh_out: str) -> Tap:
    """A tap of a weigh-out."""
    return lambda desk: getattr(desk.weigh_outs, act)(weigh_out)


def take_in(desk: Desk) -> object:
    """Take in one more lot of goats."""
    return desk.hides.take_in(
        name="Goat",
        species="goat",
        route="hair-on-alum-pelt",
        came="salted",
        weight="3 kg",
        count="3",
    )


def begin(desk: Desk) -> object:
    """Take the mix of the first hide to the scale, the pickle if there is none."""
    rows = [row for row in desk.hides.rows() if row.action.mix]
    mix = rows[0].action.mix if rows else "salt-citric-pickle"
    return desk.weigh_outs.begin(desk.worksheet(mix), [row.hide.id for row in rows[:1]])


def weigh(desk: Desk) -> object:
    """Accept every line and finish: not one tap but many, so that there are liquors to spoil."""
    view = desk.weigh_outs.view("w1")
    while not view.done:
        view = desk.weigh_outs.accept("w1")
    return desk.weigh_outs.finish("w1")


def start_in(place: int, days: float) -> Tap:
    """Choose when a hide is begun."""
    return lambda desk: desk.moves.start_at(named(desk, place), desk.now() + timedelta(days=days))


def move(place: int, route: str, stage: str, begun: bool) -> Tap:
    """Put a hide somewhere on a route."""
    return lambda desk: desk.moves.move(named(desk, place), route=route, stage=stage, begun=begun)


def split(place: int, count: str) -> Tap:
    """Let some skins go on by themselves."""
    return lambda desk: desk.moves.split(named(desk, place), count=count, name="Thin ones")


def spoil(liquor: str) -> Tap:
    """A liquor is found spoiled."""
    return lambda desk: desk.moves.spoil(liquor, "it smells")


def lose(place: int) -> Tap:
    """A hide leaves the shop."""
    return lambda desk: desk.moves.out_of_work(named(desk, place), "sold raw")


def take_back(tap: int) -> Tap:
    """Take back a tap and what rests on it."""
    return lambda desk: desk.taps.take_back(desk.taps.falls(tap))


def put_back(tap: int) -> Tap:
    """Put a tap back, and what has to come before it."""
    return lambda desk: desk.taps.put_back(desk.taps.comes_back(tap))


def put_back_last(place: int) -> Tap:
    """Put back what was last taken back about a hide."""
    return lambda desk: desk.taps.put_back_last(f"hide/{named(desk, place)}")


def correct_time(tap: int, minutes: int) -> Tap:
    """Say that a tap was minutes earlier; where it is taken it is a tap."""

    def correct(desk: Desk) -> object:
        sentence = desk.taps.correct_time(tap, f"{minutes} min earlier")
        assert "nothing was changed" not in sentence
        return sentence

    return correct


PAST = st.one_of(
    st.builds(take_back, st.integers(1, 40)),
    st.builds(put_back, st.integers(1, 40)),
    st.builds(put_back_last, HIDES),
    st.builds(correct_time, st.integers(1, 40), st.sampled_from([1, 11, 400])),
)

ACTS = st.builds(
    hide_tap, st.sampled_from(["done", "done", "passed", "not_yet", "attended", "undo"]), HIDES
)
MOVES = st.builds(move, HIDES, ROUTES, STAGES, st.booleans())
SPLITS = st.builds(split, HIDES, st.sampled_from(["1", "1", "2", "3", "0", "x"]))


TAPS = st.one_of(
    st.just(take_in),
    st.just(begin),
    st.just(weigh),
    st.just(lambda desk: desk.timers.set("Rinse", "5 min")),
    ACTS,
    ACTS,
    ACTS,
    st.just(give_round),
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
    st.builds(start_in, HIDES, st.sampled_from([-1.0, 0.1, 3.0, 900.0])),
    st.builds(lambda place: lambda desk: desk.moves.start_any_time(named(desk, place)), HIDES),
    MOVES,
    MOVES,
    SPLITS,
    st.builds(spoil, LIQUORS),
    st.builds(lambda liquor: lambda desk: desk.moves.undo_spoiled(liquor), LIQUORS),
    st.builds(lose, HIDES),
    PAST,
    PAST,
)


def busy() -> Bench:
    """A shop with a lot in a bath that was weighed out for it, and a timer that runs."""
    bench = Bench(LIBRARY)
    take_in(bench.desk)
    bench.desk.moves.move("goat", stage="alum")
    begin(bench.desk)
    weigh(bench.desk)
    bench.desk.hides.done("goat")
    bench.desk.timers.set("Rinse", "5 min")
    return bench


@settings(max_examples=100, deadline=None)
@given(st.lists(st.tuples(TAPS, HOURS), min_size=12, max_size=40))
def test_any_taps_in_any_order(taps: list[tuple[Tap, float]]) -> None:
    """Each is refused with nothing stored or kept as one tap; views never fail; ids are unique."""
    bench = busy()
    for tap, hours in taps:
        before = bench.taps
        try:
            tap(bench.desk)
        except BenchError:
            assert before == bench.taps or tap is weigh
        else:
            assert before + 1 == bench.taps or tap is weigh
        bench.clock.advance(hours=hours)
        bench.desk.day_line(bench.desk.hides.rows())
    entries = bench.repository.entries()
    assert fold(entries) == bench.desk.hides._ledger.state
    for row in bench.desk.hides.rows():
        bench.desk.hides.card(row.hide.id)
    for weigh_out in bench.state.weigh_outs:
        bench.desk.weigh_outs.view(weigh_out)
    assert bench.desk.timers.all() == bench.reopened().timers.all()
    for tap in bench.desk.taps.numbers():
        assert bench.desk.taps.line(tap).words
    ids = [
        subjects_of(entry.event)[-1]
        for entry in entries
        if isinstance(entry.event, HideTakenIn | LotSplit | TimerSet | WeighOutBegun)
    ]
    assert len(ids) == len(set(ids))
