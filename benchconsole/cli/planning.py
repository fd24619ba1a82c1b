"""The plan that a command writes down: what every hide asks for now, each at its own due time."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from benchconsole.model.routes import Route
from benchconsole.schedule import Action, Hours, open_actions
from benchconsole.schedule.hours import Opening
from benchconsole.schedule.planning.plans import Given, HidePlan, Plan, Round, Visit, VisitKind

if TYPE_CHECKING:
    from benchconsole.desk import Desk

FARTHEST = timedelta(days=366)
"""Openings are listed no farther ahead."""


def plan_for_calendar(desk: Desk) -> Plan:
    """The next acts as a plan, as the day sheet tells them: nothing beyond, no hide for another.

    What is due already stands at the next open moment. Attentions of one instant are one round.
    """
    hours, now, routes = desk.hides.hours(), desk.now(), desk.library.routes
    asked = [
        (action, _asked_of(desk, action, routes.get(desk.hides.get(action.hide).route)))
        for action in desk.hides.day_sheet()
        if action.state != "finished"
    ]
    every = [action for _, actions in asked for action in actions]
    until = max([now, *(action.latest or action.due for action in every)])
    return Plan(
        made_at=now,
        until=until,
        hides=tuple(_hide_plan(first, actions, hours, now) for first, actions in asked),
        openings=_openings(hours, now, min(until, now + FARTHEST)),
        rounds=_rounds(every, hours, now),
    )


def _asked_of(desk: Desk, first: Action, route: Route | None) -> tuple[Action, ...]:
    """Everything a hide asks for now; ``first`` alone where its route is not known."""
    if route is None or first.kind == "none":
        return (first,)
    hide = desk.hides.get(first.hide)
    return open_actions(hide, route, hours=desk.hides.hours(), now=desk.now())


def _hide_plan(first: Action, actions: tuple[Action, ...], hours: Hours, now: datetime) -> HidePlan:
    visits = tuple(visit for action in actions if (visit := _visit(action, hours, now)) is not None)
    return HidePlan(
        hide=first.hide,
        hide_name=first.hide_name,
        lies_in=first.stage,
        since=None,
        visits=visits,
        in_store=first.state == "stored",
        unplanned=first.action if first.kind == "none" else "",
    )


def _visit(action: Action, hours: Hours, now: datetime) -> Visit | None:
    kinds: dict[str, VisitKind] = {"begin": "begin", "coat": "coat", "check": "check"}
    kind = kinds.get(action.kind)
    if kind is None:
        return None
    starts = _when(action, hours, now)
    return Visit(
        hide=action.hide,
        hide_name=action.hide_name,
        stage=action.stage,
        stage_name=action.stage_name,
        kind=kind,
        action=action.action,
        starts=starts,
        ends=starts + action.work,
        earliest=action.earliest,
        due=action.due,
        latest=action.latest,
        ready=((f"the mix {action.mix}",) if action.mix else ()) + action.needs,
        spoils=action.spoils,
        why=action.why,
        number=max(1, action.coat),
    )


def _rounds(actions: list[Action], hours: Hours, now: datetime) -> tuple[Round, ...]:
    gathered: dict[datetime, list[Action]] = {}
    for action in actions:
        if action.kind == "attend":
            gathered.setdefault(_when(action, hours, now), []).append(action)
    return tuple(
        Round(
            at=at,
            gives=tuple(_given(action) for action in together),
            latest=min(action.latest or action.due for action in together),
        )
        for at, together in sorted(gathered.items())
    )


def _given(action: Action) -> Given:
    return Given(
        hide=action.hide,
        hide_name=action.hide_name,
        stage=action.stage,
        attention=action.attention or 0,
        do=action.action,
    )


def _when(action: Action, hours: Hours, now: datetime) -> datetime:
    return action.due if action.due >= now else hours.next_open(now) or now


def _openings(hours: Hours, now: datetime, until: datetime) -> tuple[Opening, ...]:
    day = hours.local(now).date()
    openings: list[Opening] = []
    while day <= hours.local(until).date():
        openings += hours.openings_on(day)
        day += timedelta(days=1)
    return tuple(opening for opening in openings if opening[1] > now)
