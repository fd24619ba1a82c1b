"""Countdowns from due instants: running, paused, ringing, heard."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import pytest

from benchconsole.model.events import CoatGiven, StageBegun
from benchconsole.model.routes import Route
from benchconsole.model.state import HideState, ShopState, TimerState, coat_wait_id
from benchconsole.schedule.countdowns import countdowns

History = Callable[..., HideState]
T0 = datetime(2026, 3, 2, 8, tzinfo=UTC)
NOTHING = timedelta(0)


def _min(count: float) -> timedelta:
    return timedelta(minutes=count)


@pytest.mark.parametrize(
    ("now_min", "state", "left_min", "over_min", "words"),
    [
        (0, "running", 30, 0, "30 min left"),
        (29.5, "running", 0.5, 0, "30 s left"),
        (30, "ringing", 0, 0, "ended 0 s ago"),
        (33, "ringing", 0, 3, "ended 3 min ago"),
        (30 + 9 * 60, "ringing", 0, 540, "ended 9 h ago"),
        (-10, "running", 40, 0, "40 min left"),
    ],
)
def test_a_timer_is_its_end(
    now_min: float, state: str, left_min: float, over_min: float, words: str
) -> None:
    """A night asleep, or a clock set back ten minutes, changes nothing but the difference."""
    shop = ShopState(timers={"t": TimerState(id="t", name="Glue", ends_at=T0 + _min(30))})
    (found,) = countdowns(shop, {}, T0 + _min(now_min))
    assert (state, _min(left_min), _min(over_min), words) == (
        found.state,
        found.left,
        found.over,
        found.words,
    )


@pytest.mark.parametrize(
    ("heard_min", "state"), [(None, "ringing"), (29, "ringing"), (30, "heard"), (31, "heard")]
)
def test_it_rings_until_heard(heard_min: float | None, state: str) -> None:
    """Heard counts only for this end: one set anew to a later end rings again."""
    heard = None if heard_min is None else T0 + _min(heard_min)
    timer = TimerState(id="t", name="Glue", ends_at=T0 + _min(30), acknowledged_at=heard)
    (found,) = countdowns(ShopState(timers={"t": timer}), {}, T0 + _min(40))
    assert (state, _min(10)) == (found.state, found.over)


@pytest.mark.parametrize(
    ("state", "later_min", "shown"),
    [("heard", 60, 1), ("heard", 60.1, 0), ("ringing", 9000, 1)],
)
def test_what_was_heard_leaves_the_board_after_an_hour(
    state: str, later_min: float, shown: int
) -> None:
    """One that nobody heard stays, however old; so does one set anew since it was heard."""
    heard = T0 + (_min(31) if state == "heard" else _min(29))
    timer = TimerState(id="t", name="Glue", ends_at=T0 + _min(30), acknowledged_at=heard)
    found = countdowns(ShopState(timers={"t": timer}), {}, heard + _min(later_min))
    assert [state] * shown == [countdown.state for countdown in found]


def test_a_paused_timer_keeps_what_is_left() -> None:
    """It has no end, whatever the hour."""
    shop = ShopState(timers={"t": TimerState(id="t", name="Glue", ends_at=None, left_s=90)})
    (found,) = countdowns(shop, {}, T0 + timedelta(days=3))
    assert ("paused", None, timedelta(seconds=90)) == (found.state, found.ends_at, found.left)
    assert "paused, 1 min 30 s left" == found.words


def test_the_wait_between_coats(route: Route, history: History) -> None:
    """It follows from the coats given, names the hide, and is heard under its own name."""
    hide = history(T0, (T0, StageBegun(hide="h1", stage="oil")), stage="oil")
    shop = ShopState(hides={"h1": hide})
    name = coat_wait_id("h1", "oil", 2)
    (found,) = countdowns(shop, {"pelt": route}, T0 + _min(20))
    assert ("coat/h1/oil/2", "Doe: coat 2 of 2", "coat") == (
        found.id,
        found.name,
        found.kind,
    )
    assert (T0 + _min(60), _min(40), "running") == (found.ends_at, found.left, found.state)
    heard = ShopState(hides={"h1": hide}, heard={name: T0 + _min(61)})
    (after,) = countdowns(heard, {"pelt": route}, T0 + _min(70))
    assert ("heard", _min(10)) == (after.state, after.over)


def test_no_wait_before_the_first_or_after_the_last_coat(route: Route, history: History) -> None:
    """Nor for a hide whose route is unknown, nor for one in another kind of stage."""
    begun = (T0, StageBegun(hide="h1", stage="oil"))
    done = (T0 + _min(60), CoatGiven(hide="h1", stage="oil", coat=2))
    waiting = history(T0, begun, stage="oil")
    salted = history(T0, (T0, StageBegun(hide="h1", stage="salt")))
    for hide in (history(T0, stage="oil"), history(T0, begun, done, stage="oil"), salted):
        assert () == countdowns(ShopState(hides={"h1": hide}), {"pelt": route}, T0 + _min(90))
    assert () == countdowns(ShopState(hides={"h1": waiting}), {}, T0)


def test_ringing_comes_first_then_what_ends_soonest(route: Route, history: History) -> None:
    """Longest ringing, then soonest ending, then paused, then heard."""
    hide = history(T0, (T0, StageBegun(hide="h1", stage="oil")), stage="oil")
    timers = [
        TimerState(id="paused", name="", ends_at=None, left_s=1),
        TimerState(id="later", name="", ends_at=T0 + _min(90)),
        TimerState(id="heard", name="", ends_at=T0, acknowledged_at=T0),
        TimerState(id="rang", name="", ends_at=T0 + _min(2)),
        TimerState(id="rang-longer", name="", ends_at=T0 + _min(1)),
    ]
    shop = ShopState(timers={timer.id: timer for timer in timers}, hides={"h1": hide})
    found = countdowns(shop, {"pelt": route}, T0 + _min(10))
    expected = ["rang-longer", "rang", "coat/h1/oil/2", "later", "paused", "heard"]
    assert expected == [countdown.id for countdown in found]
