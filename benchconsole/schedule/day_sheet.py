"""The day sheet: the next action of every hide, and the two orders it is shown in."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import UTC, datetime

from benchconsole.model.routes import Route
from benchconsole.model.state import HideState
from benchconsole.schedule.actions import STATE_ORDER, Action
from benchconsole.schedule.hours import Hours
from benchconsole.schedule.next_action import (
    finished_action,
    lost_action,
    next_action,
    out_action,
)

_NEVER = datetime.max.replace(tzinfo=UTC)


def day_sheet(
    hides: Iterable[HideState], routes: Mapping[str, Route], *, hours: Hours, now: datetime
) -> tuple[Action, ...]:
    """The next action of every hide, :func:`by_urgency`; of those taken out of work none.

    Each hide is planned as if it were alone in the shop.
    """
    return by_urgency(
        action_of(hide, routes, hours=hours, now=now) for hide in hides if hide.out_at is None
    )


def by_urgency(actions: Iterable[Action]) -> tuple[Action, ...]:
    """The most pressing first: by state, then due time, then latest, then the hide's id."""
    return tuple(sorted(actions, key=lambda action: (STATE_ORDER[action.state], *_time(action))))


def by_due(actions: Iterable[Action]) -> tuple[Action, ...]:
    """As a calendar has it: by due time, latest and id; finished hides last, the newest first."""
    ordered = sorted(actions, key=_time)
    ended = [action for action in reversed(ordered) if action.state == "finished"]
    return (*(action for action in ordered if action.state != "finished"), *ended)


def action_of(
    hide: HideState, routes: Mapping[str, Route], *, hours: Hours, now: datetime
) -> Action:
    """The next action of a hide whose route may be missing."""
    route = routes.get(hide.route)
    if hide.out_at is not None:
        return out_action(hide)
    if route is None and hide.stage:
        return lost_action(hide, now)
    if route is None:
        return finished_action(hide)
    return next_action(hide, route, hours=hours, now=now)


def _time(action: Action) -> tuple[datetime, datetime, str]:
    return action.due, action.latest or _NEVER, action.hide
