"""A start that the person has chosen, as the next action has it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import pytest

from benchconsole.model.events import StageBegun, StageLeft, StartChosen
from benchconsole.model.routes import Route
from benchconsole.model.state import HideState
from benchconsole.schedule.hours import Hours
from benchconsole.schedule.next_action import next_action

History = Callable[..., HideState]
T0 = datetime(2026, 3, 2, 8, tzinfo=UTC)
"""A Monday morning."""


def _h(count: float) -> timedelta:
    return timedelta(hours=count)


def _stored(history: History, start_at: datetime | None) -> HideState:
    """A hide that keeps in salt since hour 48, with a start chosen two hours later."""
    return history(
        T0,
        (T0, StageBegun(hide="h1", stage="salt")),
        (T0 + _h(48), StageLeft(hide="h1", stage="salt", next="pickle")),
        (T0 + _h(50), StartChosen(hide="h1", start_at=start_at)),
    )


def test_a_stored_hide_is_due_when_it_was_chosen(
    route: Route, history: History, hours: Hours
) -> None:
    """The store's end stays the latest; the words say both."""
    chosen = T0 + _h(7 * 24)
    hide = _stored(history, chosen)
    action = next_action(hide, route, hours=hours, now=T0 + _h(51))
    assert ("stored", T0 + _h(48), chosen) == (action.state, action.earliest, action.due)
    assert T0 + _h(48) + timedelta(days=180) == action.latest
    assert action.why.startswith("You chose to begin it Monday 08:00; it may lie until ")
    assert "due" == next_action(hide, route, hours=hours, now=chosen).state


def test_a_choice_in_closed_time_stands_and_says_so(
    route: Route, history: History, hours: Hours
) -> None:
    """A person may come in on Sunday: the hour is theirs."""
    sunday = T0 + _h(6 * 24)
    action = next_action(_stored(history, sunday), route, hours=hours, now=T0 + _h(51))
    assert sunday == action.due
    assert action.why.endswith("; the shop is closed then.")


@pytest.mark.parametrize("days", [200, 4000])
def test_no_choice_outlives_the_latest(
    route: Route, history: History, hours: Hours, days: int
) -> None:
    """However a choice past the latest came about, the hide is due at its latest and late after."""
    hide = _stored(history, T0 + timedelta(days=days))
    latest = T0 + _h(48) + timedelta(days=180)
    action = next_action(hide, route, hours=hours, now=T0 + _h(51))
    assert (latest, latest) == (action.due, action.latest)
    assert "but it may lie no longer than" in action.why
    assert "overdue" == next_action(hide, route, hours=hours, now=latest + _h(1)).state


def test_without_a_choice_the_store_decides(route: Route, history: History, hours: Hours) -> None:
    """A choice taken away leaves the action as it was before."""
    now = T0 + _h(51)
    action = next_action(_stored(history, None), route, hours=hours, now=now)
    assert "stored" == action.state
    assert "start when it suits" in action.why
