"""The plan that a command writes down: what every hide asks for now, and the rounds between."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

import msgspec

from benchconsole.model.routes import Route
from benchconsole.schedule import Action, Hours, open_actions
from benchconsole.schedule.planning.plans import HidePlan, Plan, Visit, VisitKind
from benchconsole.schedule.planning.tending import rounds_of

if TYPE_CHECKING:
    from benchconsole.desk import Desk


def plan_for_calendar(desk: Desk, until: datetime) -> Plan:
    """The next acts as a plan, as the day sheet tells them: nothing after them, each for itself.

    What is due already stands at the next open moment. The rounds tend the holds that run now,
    up to ``until`` (aware) or to the look that ends them.
    """
    hours, now, routes = desk.hides.hours(), desk.now(), desk.library.routes
    hides = {hide_id: desk.hides.get(hide_id) for hide_id in desk.hides.ids()}
    plan = Plan(
        made_at=now,
        until=until,
        hides=tuple(
            _hide_plan(first, _asked(desk, first, routes.get(hides[first.hide].route)), hours, now)
            for first in desk.hides.day_sheet()
            if first.state != "finished"
        ),
        openings=hours.between(now, until),
    )
    tended = msgspec.structs.replace(plan, hides=tuple(map(_only_looks, plan.hides)))
    return msgspec.structs.replace(plan, rounds=rounds_of(tended, hides, routes, hours, now))


def _only_looks(hide: HidePlan) -> HidePlan:
    """A hide with the look that ends its hold alone.

    A hold that is still to begin has no end in this plan: to tend it would fill the calendar.
    """
    looks = tuple(visit for visit in hide.visits if visit.kind == "check")
    return msgspec.structs.replace(hide, visits=looks)


def _asked(desk: Desk, first: Action, route: Route | None) -> tuple[Action, ...]:
    """Everything a hide asks for now; ``first`` alone where its route does not say."""
    if route is None or first.kind == "none":
        return (first,)
    hide = desk.hides.get(first.hide)
    return open_actions(hide, route, hours=desk.hides.hours(), now=desk.now())


def _hide_plan(first: Action, asked: tuple[Action, ...], hours: Hours, now: datetime) -> HidePlan:
    visits = (_visit(action, hours, now) for action in asked)
    return HidePlan(
        hide=first.hide,
        hide_name=first.hide_name,
        lies_in=first.stage,
        since=None,
        visits=tuple(visit for visit in visits if visit is not None),
        in_store=first.state == "stored",
        unplanned=first.action if first.kind == "none" else "",
    )


def _visit(action: Action, hours: Hours, now: datetime) -> Visit | None:
    """The visit that an action is, None for an attention: those are given on rounds."""
    kinds: dict[str, VisitKind] = {"begin": "begin", "coat": "coat", "check": "check"}
    kind = kinds.get(action.kind)
    if kind is None:
        return None
    starts = action.due if action.due >= now else hours.next_open(now) or now
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
