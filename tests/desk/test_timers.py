"""Timers at the desk: due instants that survive everything, and the sentences about them."""

from __future__ import annotations

from datetime import timedelta

import pytest

from benchconsole.errors import BadInput, NotKnown, NotPossibleNow
from benchconsole.schedule import Countdown
from tests.desk.small_bench import NOON, Bench


def only(bench: Bench) -> Countdown:
    """The one countdown there is."""
    (countdown,) = bench.desk.timers.all()
    return countdown


def test_a_timer_rings_until_it_is_heard(bench: Bench) -> None:
    """It runs, ends, says how long ago, and is quiet once heard."""
    assert "Timer “Rinse” runs" == bench.desk.timers.set(" Rinse ", "10 min")
    assert ("running", NOON + timedelta(minutes=10)) == (only(bench).state, only(bench).ends_at)
    bench.clock.advance(minutes=13)
    assert ("ringing", "ended 3 min ago") == (only(bench).state, only(bench).words)
    assert "“Rinse” heard" == bench.desk.timers.acknowledge("t1")
    assert "heard" == only(bench).state
    with pytest.raises(NotPossibleNow, match="does not ring"):
        bench.desk.timers.acknowledge("t1")


def test_a_restart_and_a_long_sleep_change_nothing(bench: Bench) -> None:
    """The due instant is on disk: another desk nine hours later says the same as this one."""
    bench.desk.timers.set("Rinse", "10 min")
    bench.clock.advance(hours=9)
    assert bench.desk.timers.all() == bench.reopened().timers.all()
    assert "ended 8 h 50 min ago" == only(bench).words


def test_a_pause_keeps_what_is_left(bench: Bench) -> None:
    """Paused for an hour, the timer still has what it had."""
    bench.desk.timers.set("Rinse", "10 min")
    bench.clock.advance(minutes=4)
    assert "Timer “Rinse” is paused" == bench.desk.timers.pause_or_go_on("t1")
    bench.clock.advance(hours=1)
    assert "paused, 6 min left" == only(bench).words
    assert "Timer “Rinse” goes on" == bench.desk.timers.pause_or_go_on("t1")
    assert timedelta(minutes=6) == only(bench).left


def test_more_time_counts_from_the_end_or_from_now(bench: Bench) -> None:
    """A running one gets it on top, one that has ended from now, a paused one stays paused."""
    timers = bench.desk.timers
    timers.set("Rinse", "10 min")
    timers.extend("t1", "5 min")
    assert timedelta(minutes=15) == only(bench).left
    bench.clock.advance(minutes=30)
    timers.extend("t1", "5 min")
    assert ("running", timedelta(minutes=5)) == (only(bench).state, only(bench).left)
    timers.pause_or_go_on("t1")
    timers.extend("t1", "5 min")
    assert ("paused", timedelta(minutes=10)) == (only(bench).state, only(bench).left)


def test_one_that_has_ended_cannot_be_paused(bench: Bench) -> None:
    """It is over: more time, or heard."""
    bench.desk.timers.set("Rinse", "1 s")
    bench.clock.advance(seconds=2)
    with pytest.raises(NotPossibleNow, match="has ended: extend it, or acknowledge it"):
        bench.desk.timers.pause_or_go_on("t1")


def test_a_new_name_and_the_end(bench: Bench) -> None:
    """The sentence gives both names; a cancelled timer is gone."""
    bench.desk.timers.set("Rinse", "10 min")
    assert "Timer “Rinse” is now called “Borax”" == bench.desk.timers.rename("t1", "Borax")
    assert "Timer “Borax” cancelled" == bench.desk.timers.cancel("t1")
    assert () == bench.desk.timers.all()


@pytest.mark.parametrize(
    ("name", "duration", "field"),
    [
        ("", "5 min", "name"),
        ("a\tb", "5 min", "name"),
        ("tea", "", "time"),
        ("tea", "5", "time"),
        ("tea", "0 min", "time"),
        ("tea", "-5 min", "time"),
        ("tea", "401 d", "time"),
        ("tea", "1e9 h", "time"),
    ],
)
def test_a_timer_that_cannot_be_is_refused(
    bench: Bench, name: str, duration: str, field: str
) -> None:
    """The field is named and nothing is stored."""
    with pytest.raises(BadInput, match=rf"^{field}: "):
        bench.desk.timers.set(name, duration)
    assert 0 == bench.taps


@pytest.mark.parametrize("paused", [False, True])
def test_a_timer_never_grows_past_its_bound(bench: Bench, paused: bool) -> None:
    """Extending again and again stops at the bound, running or paused, not at an overflow."""
    bench.desk.timers.set("Rinse", "300 d")
    if paused:
        bench.desk.timers.pause_or_go_on("t1")
    with pytest.raises(BadInput, match="longer than 400 days"):
        bench.desk.timers.extend("t1", "101 d")
    bench.desk.timers.extend("t1", "100 d")
    assert timedelta(days=400) == only(bench).left


def test_an_unknown_timer_is_told_what_there_is(bench: Bench) -> None:
    """Every act on a timer answers alike."""
    bench.desk.timers.set("Rinse", "10 min")
    timers = bench.desk.timers
    for ask in (timers.pause_or_go_on, timers.cancel, timers.acknowledge):
        with pytest.raises(NotKnown, match="there is t1"):
            ask("x9")


def test_a_wait_between_coats_belongs_to_its_hide(bench: Bench) -> None:
    """It can be heard, and its hearing taken back, but neither paused nor cancelled."""
    hides, timers = bench.desk.hides, bench.desk.timers
    hide_id = bench.take_in()
    while bench.desk.hides.action_of(hide_id).kind != "coat":
        looks = hides.action_of(hide_id).kind in ("check", "attend")
        (hides.passed if looks else hides.done)(hide_id)
    wait = f"coat/{hide_id}/oil/2"
    assert wait == only(bench).id
    for ask in (timers.pause_or_go_on, timers.cancel):
        with pytest.raises(NotPossibleNow, match="belongs to its hide"):
            ask(wait)
    bench.clock.advance(minutes=50)
    timers.acknowledge(wait)
    assert "heard" == only(bench).state
    timers.undo(wait)
    assert "ringing" == only(bench).state
    hides.done(hide_id)
    assert () == timers.all()
