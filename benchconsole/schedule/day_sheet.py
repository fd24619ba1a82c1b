"""The day sheet: the next action of every hide, the most pressing first."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import UTC, datetime

from benchconsole.model.routes import Route
from benchconsole.model.state import HideState
from benchconsole.schedule.actions import STATE_ORDER, Action
from benchconsole.schedule.hours import Hours
from benchconsole.schedule.next_action import finished_action, lost_action, next_action

_NEVER = datetime.max.replace(tzinfo=UTC)


def day_sheet(
    hides: Iterable[HideState], routes: Mapping[str, Route], *, hours: Hours, now: datetime
) -> tuple[Action, ...]:
    """One action a hide, by urgency, then due time, then latest, then the hide's id.

    Each hide is still planned as if it were alone in the shop. Where several want the same
    pair of hands or the same vessel at one time, it is here that it will be decided which goes
    first: the actions come in with their windows and leave with their due times moved and
    their ``why`` saying so.
    """
    return tuple(sorted((_of(hide, routes, hours, now) for hide in hides), key=_urgency))


def _of(hide: HideState, routes: Mapping[str, Route], hours: Hours, now: datetime) -> Action:
    route = routes.get(hide.route)
    if route is None and hide.stage:
        return lost_action(hide, now)
    if route is None:
        return finished_action(hide)
    return next_action(hide, route, hours=hours, now=now)


def _urgency(action: Action) -> tuple[int, datetime, datetime, str]:
    return STATE_ORDER[action.state], action.due, action.latest or _NEVER, action.hide
