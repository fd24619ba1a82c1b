"""What comes next, and why, after acts that were late by days, early by hours, or failed."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import msgspec
import pytest

from benchconsole.model.events import (
    Attended,
    CheckFailed,
    CoatGiven,
    Event,
    StageBegun,
    StageLeft,
    StageSkipped,
)
from benchconsole.model.routes import Route
from benchconsole.model.state import HideState
from benchconsole.schedule.actions import Action
from benchconsole.schedule.beginnings import lying_in
from benchconsole.schedule.hours import Hours
from benchconsole.schedule.next_action import next_action, open_actions

History = Callable[..., HideState]
T0 = datetime(2026, 3, 2, 8, tzinfo=UTC)
"""A Monday morning."""


def _h(count: float) -> timedelta:
    return timedelta(hours=count)


def _begun(stage: str, after_h: float = 0) -> tuple[datetime, Event]:
    return T0 + _h(after_h), StageBegun(hide="h1", stage=stage)


def _left(stage: str, following: str, after_h: float) -> tuple[datetime, Event]:
    return T0 + _h(after_h), StageLeft(hide="h1", stage=stage, next=following)


def _moved(stage: str, to: str, after_h: float) -> tuple[datetime, Event]:
    return T0 + _h(after_h), StageSkipped(hide="h1", stage=stage, next=to)


def _window(action: Action) -> tuple[float | None, ...]:
    """Earliest, due and latest in hours after T0."""
    instants = (action.earliest, action.due, action.latest)
    return tuple(None if at is None else (at - T0) / _h(1) for at in instants)


def test_a_bath_begun_days_late_has_its_whole_hold(
    route: Route, history: History, always: Hours
) -> None:
    """The hold counts from the act, not from when it should have been."""
    hide = history(T0, _begun("pickle", 60), stage="pickle", came="salted")
    (check,) = (
        each
        for each in open_actions(hide, route, hours=always, now=T0 + _h(60))
        if each.kind == "check"
    )
    assert (84, 132, 180) == _window(check)


def test_a_check_passed_hours_early_moves_everything_up(
    route: Route, history: History, always: Hours
) -> None:
    """The next stage is due at once; the bath's own limit is where it was."""
    hide = history(T0, _begun("pickle"), _left("pickle", "rinse", 20), stage="pickle")
    action = next_action(hide, route, hours=always, now=T0 + _h(20))
    assert ("begin", "rinse", "due") == (action.kind, action.stage, action.state)
    assert (20, 20, 120) == _window(action)


def test_a_check_passed_days_late_is_past_and_forgotten(
    route: Route, history: History, always: Hours
) -> None:
    """The hide was looked at and let pass: the next stage is due, and not late for the last."""
    hide = history(T0, _begun("pickle"), _left("pickle", "rinse", 200), stage="pickle")
    action = next_action(hide, route, hours=always, now=T0 + _h(200))
    assert ("due", "") == (action.state, action.inspect)
    assert (200, 200, None) == _window(action)


def test_three_failed_looks_past_the_maximum(route: Route, history: History, always: Hours) -> None:
    """Each asks again after its interval; the hide stays late by the hold, and stirring goes on."""
    looks = [(T0 + _h(at), CheckFailed(hide="h1", stage="pickle")) for at in (121.0, 133.0, 145.0)]
    hide = history(T0, _begun("pickle"), *looks, stage="pickle")
    now = T0 + _h(146)
    stir, check = open_actions(hide, route, hours=always, now=now)
    assert ("attend", 153) == (stir.kind, _window(stir)[1])
    assert "looked at Sunday 09:00" in stir.why
    assert (157, 120) == _window(check)[1:]
    assert ("overdue", "Smell it, pull the hair.") == (check.state, check.inspect)
    assert check.why == ("Not yet ready Sunday 09:00; look again after 12 h. Late by 1 d 2 h.")
    later = next_action(hide, route, hours=always, now=T0 + _h(157))
    assert ("check", "overdue") == (later.kind, later.state)


@pytest.mark.parametrize(("given_h", "due_h"), [(0.1, 0.1), (50.0, 50.0)])
def test_the_hold_after_coats_counts_from_the_last_however_early_or_late(
    route: Route, history: History, always: Hours, given_h: float, due_h: float
) -> None:
    """Here the stage is left with its last coat: drying is due then, and limited from then."""
    hide = history(
        T0,
        _begun("oil"),
        (T0 + _h(given_h), CoatGiven(hide="h1", stage="oil", coat=2)),
        _left("oil", "dry", given_h),
        stage="oil",
    )
    action = next_action(hide, route, hours=always, now=T0 + _h(given_h))
    assert ("begin", "dry") == (action.kind, action.stage)
    assert (due_h, due_h) == _window(action)[:2]


def test_a_stir_early_by_hours_puts_off_the_next(
    route: Route, history: History, always: Hours
) -> None:
    """The gap counts from the last time, and the hold does not notice."""
    stirred = T0 + _h(3), Attended(hide="h1", stage="pickle", attention=0)
    hide = history(T0, _begun("pickle"), stirred, stage="pickle")
    stir, check = open_actions(hide, route, hours=always, now=T0 + _h(3))
    assert (5, 11, 19) == _window(stir)
    assert (24, 72, 120) == _window(check)


# --- moved by a person ------------------------------------------------------------------


def test_a_green_hide_gains_no_time_by_skipping(
    route: Route, history: History, always: Hours
) -> None:
    """It lies since it came: to skip a stage does not let it lie six hours more."""
    hide = history(T0, _moved("salt", "oil", 5), stage="salt", came="green")
    action = next_action(hide, route, hours=always, now=T0 + _h(5))
    assert (5, 5, 10) == _window(action)
    assert "Moved here Monday 13:00; it may lie until Monday 18:00." == action.why


def test_a_store_keeps_no_longer_by_skipping(route: Route, history: History, always: Hours) -> None:
    """Keeping counts from when the store was passed, wherever the hide is to go."""
    hide = history(
        T0, _begun("salt"), _left("salt", "pickle", 48), _moved("pickle", "rinse", 48 + 170 * 24)
    )
    action = next_action(hide, route, hours=always, now=T0 + _h(48 + 171 * 24))
    assert ("stored", "rinse") == (action.state, action.stage)
    assert 48 + 180 * 24 == _window(action)[2]
    assert "It keeps in “salt” for 180 d from Wednesday 4 March 08:00" in action.why


def test_moved_twice_in_a_row_it_lies_where_it_lay(
    route: Route, history: History, always: Hours
) -> None:
    """The second move starts no new keeping, be it out of a store or of a salt not yet passed."""
    passed = history(
        T0,
        _begun("salt"),
        _left("salt", "pickle", 48),
        _moved("pickle", "rinse", 500),
        _moved("rinse", "oil", 600),
    )
    action = next_action(passed, route, hours=always, now=T0 + _h(600))
    assert 48 + 180 * 24 == (lying_in(passed, route).until - T0) / _h(1)
    assert ("stored", 610) == (action.state, _window(action)[2])
    raw = history(T0, _begun("salt"), _moved("salt", "pickle", 10), _moved("pickle", "rinse", 20))
    assert (20, 20, 72) == _window(next_action(raw, route, hours=always, now=T0 + _h(20)))


def test_out_of_a_spoiled_liquor_whatever_keeps(
    route: Route, history: History, always: Hours
) -> None:
    """A bath that does no harm does harm once it is spoiled: it keeps the hide no longer."""
    lain = history(T0, _begun("salt"), _left("salt", "pickle", 48))
    spoiled = msgspec.structs.replace(lain, spoiled_at=T0 + _h(60), spoiled_why="wet and red")
    action = next_action(spoiled, route, hours=always, now=T0 + _h(61))
    assert ("due", "begin", "pickle") == (action.state, action.kind, action.stage)
    assert (48, 60, None) == _window(action)
    assert "the skin swells" == action.spoils
    assert "Its liquor was found spoiled Wednesday 20:00: wet and red." == action.why


def test_taken_out_of_a_bath_before_its_time(route: Route, history: History, always: Hours) -> None:
    """It is due at the stage it was moved to, and the bath's maximum still counts till then."""
    hide = history(T0, _begun("pickle"), _moved("pickle", "rinse", 10), stage="pickle")
    action = next_action(hide, route, hours=always, now=T0 + _h(10))
    assert ("due", "the skin swells") == (action.state, action.spoils)
    assert (10, 10, 120) == _window(action)
    assert action.why.startswith("Moved here Monday 18:00 from “pickle”; it may lie until")
    late = next_action(hide, route, hours=always, now=T0 + _h(130))
    assert ("overdue", "Smell it, pull the hair.") == (late.state, late.inspect)


def test_back_into_the_bath(route: Route, history: History, always: Hours) -> None:
    """Rinsed and found raw inside: the bath is to begin at once, and its hold runs anew."""
    hide = history(
        T0,
        _begun("pickle"),
        _left("pickle", "rinse", 72),
        _begun("rinse", 73),
        _left("rinse", "oil", 73),
        _moved("oil", "pickle", 74),
        stage="pickle",
        came="salted",
    )
    action = next_action(hide, route, hours=always, now=T0 + _h(74))
    assert ("begin", "pickle", "due", "salt-acid") == (
        action.kind,
        action.stage,
        action.state,
        action.mix,
    )
    assert (74, 74, None) == _window(action)


def test_a_salt_left_before_its_look_is_no_store(
    route: Route, history: History, always: Hours
) -> None:
    """What was moved on out of a stage that keeps, before it passed, does not keep there."""
    hide = history(T0, _begun("salt"), _moved("salt", "pickle", 10))
    action = next_action(hide, route, hours=always, now=T0 + _h(10))
    assert ("due", (10, 10, 72)) == (action.state, _window(action))
