"""Laws that hold for any route, any hours and any history of acts."""

from __future__ import annotations

from datetime import timedelta

from hypothesis import given, settings

from benchconsole.model.state import ShopState
from benchconsole.schedule.countdowns import countdowns
from benchconsole.schedule.day_sheet import day_sheet
from benchconsole.schedule.next_action import next_action, open_actions
from tests.schedule.lives import Life, lives, spans


@settings(max_examples=150, deadline=None)
@given(life=lives(off_route=True), moved=spans(-3000, 90000))
def test_every_history_has_a_next_action_with_its_times_in_order(
    life: Life, moved: timedelta
) -> None:
    """Whatever was done and whenever it is asked: an answer, in words, its times in order."""
    now = life.now + moved
    hide = life.hide
    for action in open_actions(hide, life.route, hours=life.hours, now=now):
        assert action.earliest <= action.due
        assert action.earliest <= action.ideal
        assert action.latest is None or action.earliest <= action.latest
        assert action.action and action.why.endswith(".")
        if action.state == "overdue":
            assert action.latest is not None and action.latest < now
    assert (
        next_action(hide, life.route, hours=life.hours, now=now)
        == (open_actions(hide, life.route, hours=life.hours, now=now)[0])
    )
    assert 1 == len(day_sheet([hide], {"r": life.route}, hours=life.hours, now=now))
    for countdown in countdowns(ShopState(hides={"h": hide}), {"r": life.route}, now):
        assert timedelta(0) in (countdown.left, countdown.over)


@settings(max_examples=100, deadline=None)
@given(life=lives(off_route=True), moved=spans(0, 20000), further=spans(0, 20000))
def test_time_passing_brings_nothing_forward(
    life: Life, moved: timedelta, further: timedelta
) -> None:
    """For the same facts a later now never asks for something earlier than was foreseen."""
    first = life.now + moved
    foreseen = open_actions(life.hide, life.route, hours=life.hours, now=first)
    later = next_action(life.hide, life.route, hours=life.hours, now=first + further)
    assert min(action.due for action in foreseen) <= later.due


@settings(max_examples=100, deadline=None)
@given(life=lives(off_route=True))
def test_doing_each_thing_when_due_finishes_the_hide(life: Life) -> None:
    """Done always leads on: within a bounded number of acts the piece is finished."""
    for _ in range(1000):
        action = life.asked()
        if action.kind == "none":
            break
        life.now = max(life.now, action.due)
        life.act("done")
    assert "finished" == life.asked().state


@settings(max_examples=150, deadline=None)
@given(life=lives(off_route=True))
def test_a_due_time_is_in_open_hours_whenever_its_window_has_any(life: Life) -> None:
    """Attentions, checks and beginnings stand in closed time only if no open moment fits.

    A beginning that the person put there stays there.
    """
    for action in open_actions(life.hide, life.route, hours=life.hours, now=life.now):
        chosen = action.kind == "begin" and life.hide.start_at is not None
        if action.kind in ("coat", "none") or chosen or life.hours.is_open(action.due):
            continue
        opening = life.hours.next_open(action.earliest)
        assert opening is None or (action.latest is not None and action.latest < opening)
