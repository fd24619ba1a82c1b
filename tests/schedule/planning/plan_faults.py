"""Every broken promise of a plan in the shop's words, read off its instants and the routes.

Shares nothing with the planner: hours are read from the wall clock, waits from the route's own
stages, hands and vessels are counted between every two instants at which anything changes.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, date, datetime, time, timedelta, tzinfo
from itertools import pairwise, zip_longest

from benchconsole.model.routes import Route, Stage
from benchconsole.model.state import HideState
from benchconsole.schedule.planning.plans import HidePlan, Plan, Visit

QUARTER = timedelta(minutes=15)
NOTHING = timedelta(0)
Limits = tuple[timedelta, timedelta, timedelta | None]


@dataclass(frozen=True, kw_only=True)
class PlainShop:
    """A shop said plainly: open from and to by weekday (0 is Monday), days closed, zone, means."""

    open_on: Mapping[int, tuple[time, time]]
    zone: tzinfo = UTC
    closed: tuple[date, ...] = ()
    hands: int = 1
    vessels: Mapping[str, int] = field(default_factory=dict)

    def is_open(self, begin: datetime, end: datetime) -> bool:
        """Whether all of a time lies within the hours of its own day."""
        opens, closes = begin.astimezone(self.zone), end.astimezone(self.zone)
        hours = self.open_on.get(opens.weekday())
        if hours is None or opens.date() in self.closed or opens.date() != closes.date():
            return False
        return hours[0] <= opens.time() and closes.time() <= hours[1]


def faults_of_plan(
    plan: Plan, hides: Sequence[HideState], routes: Mapping[str, Route], shop: PlainShop
) -> list[str]:
    """One sentence for each promise that the plan breaks; none means it can be worked."""
    faults = []
    by_id = {hide.id: hide for hide in hides}
    for each in plan.hides:
        hide = by_id[each.hide]
        route = routes.get(hide.route)
        if route is not None:
            faults += _faults_of_hide(each, hide, route, plan)
    for visit in plan.visits:
        if not shop.is_open(visit.starts, visit.ends):
            faults.append(f"{_name(visit)} is outside the open hours: {visit.starts}")
    faults += _doubly_used(plan, by_id, routes, shop)
    return faults


def _name(visit: Visit) -> str:
    return f"{visit.hide} {visit.kind} {visit.stage} {visit.number}"


def _faults_of_hide(each: HidePlan, hide: HideState, route: Route, plan: Plan) -> Iterator[str]:
    for visit in each.visits:
        if visit.starts < max(visit.earliest, plan.made_at):
            yield f"{_name(visit)} begins {visit.starts}, before {visit.earliest}"
        if visit.ends > plan.until:
            yield f"{_name(visit)} ends after the plan"
        if (visit.starts - datetime(2020, 1, 1, tzinfo=UTC)) % QUARTER:
            yield f"{_name(visit)} begins off the quarter hour"
        if visit.ends - visit.starts < route.stage(visit.stage).work and visit.kind != "check":
            yield f"{_name(visit)} is shorter than its work"
    for before, visit in pairwise(each.visits):
        limits = _limits(before, visit, hide, route)
        if limits is None:
            yield f"{_name(visit)} does not follow {_name(before)}"
            continue
        yield from _faults_of_the_wait(before, visit, limits)
    if each.visits:
        yield from _faults_of_the_end(each.visits[-1], hide, route, plan)


def _faults_of_the_wait(before: Visit, visit: Visit, limits: Limits) -> Iterator[str]:
    least, due, latest = limits
    if visit.starts - before.ends < least:
        yield f"{_name(visit)} cuts the hold short: {visit.starts - before.ends} < {least}"
    if visit.earliest != before.ends + _up(least):
        yield f"{_name(visit)} shows {visit.earliest} as earliest"
    most = None if latest is None else latest - latest % QUARTER
    target = max(_up(due) if most is None else min(_up(due), most), _up(least))
    if visit.due != before.ends + target:
        yield f"{_name(visit)} shows {visit.due} as due"
    # Acts stand on the quarter hour; the latest time is told as it is.
    wanted = None if latest is None else before.ends + max(latest, target)
    if visit.latest != wanted:
        yield f"{_name(visit)} shows {visit.latest} as latest, the route says {wanted}"


def _faults_of_the_end(last: Visit, hide: HideState, route: Route, plan: Plan) -> Iterator[str]:
    """The plan goes on to the end of the route where there is time left for it."""
    stage = route.stage(last.stage)
    hold = stage.hold_for(hide.species, hide.came)
    if plan.until - last.ends < timedelta(days=20) + (hold.target if hold else NOTHING):
        return
    coats = stage.coats.count if stage.coats else 1
    waits = stage.hold_for(hide.species, hide.came) is not None or stage.check is not None
    over = last.kind == "check" or (not waits and last.number >= coats)
    if route.after(last.stage) is not None or not over:
        yield f"{_name(last)} is not the end of the route"


def _limits(before: Visit, visit: Visit, hide: HideState, route: Route) -> Limits | None:
    """The wait that the route asks for between two visits; None where they do not follow."""
    stage = route.stage(before.stage)
    if visit.kind == "coat":
        waits = stage.coats
        follows = visit.stage == before.stage and visit.number == before.number + 1
        if waits is None or not follows or visit.number > waits.count:
            return None
        return waits.wait_min, waits.wait_target, waits.wait_max
    hold = stage.hold_for(hide.species, hide.came)
    held: Limits | None = None if hold is None else (hold.min, hold.target, hold.max)
    if visit.kind == "check":
        return (held or (NOTHING, NOTHING, None)) if visit.stage == before.stage else None
    following = route.after(before.stage)
    if following is None or visit.stage != following.id:
        return None
    if before.kind != "check" and not stage.keeps:
        if held is not None:
            return held
        if stage.check is not None:
            return NOTHING, NOTHING, None
    return _kept(stage, following)


def _kept(stage: Stage, following: Stage) -> Limits:
    latest = min(
        (limit for limit in (stage.keeps, following.soon) if limit is not None), default=None
    )
    return NOTHING, latest if stage.keeps and latest else NOTHING, latest


def _up(wait: timedelta) -> timedelta:
    return -(-wait // QUARTER) * QUARTER


def stays_of(
    each: HidePlan, hide: HideState, route: Route, plan: Plan
) -> Iterator[tuple[str, datetime, datetime]]:
    """The vessels a hide is in, from when until when; a visit takes it out of the one before."""
    visits = each.visits
    if hide.begun_at is not None:
        kind = route.stage(hide.stage).vessel
        yield kind, plan.made_at, visits[0].starts if visits else plan.until
    elif hide.left_stage and hide.left_stage in {stage.id for stage in route.stages}:
        left = route.stage(hide.left_stage)
        if not left.keeps or hide.left_at is None:
            yield left.vessel, plan.made_at, visits[0].starts if visits else plan.until
    for visit, after in zip_longest(visits, visits[1:]):
        if visit.kind != "check":
            until = visit.ends if after is None else after.starts
            yield route.stage(visit.stage).vessel, visit.starts, until


def _doubly_used(
    plan: Plan, hides: Mapping[str, HideState], routes: Mapping[str, Route], shop: PlainShop
) -> Iterator[str]:
    for at, busy in _most([(visit.starts, visit.ends) for visit in plan.visits]):
        if busy > shop.hands:
            yield f"{busy} visits at once at {at}"
    kinds: dict[str, list[tuple[datetime, datetime]]] = {kind: [] for kind in shop.vessels}
    for each in plan.hides:
        hide = hides[each.hide]
        if hide.route in routes:
            before = ("", plan.made_at)
            for kind, begin, end in stays_of(each, hide, routes[hide.route], plan):
                if kind in kinds and before == (kind, begin):
                    # From one tub into a tub at once: it has one all along.
                    begin = kinds[kind].pop()[0]
                if kind in kinds:
                    kinds[kind].append((begin, end))
                before = (kind, end)
    for kind, spans in kinds.items():
        for at, count in _most(spans):
            # That more lie in tubs than there are is a fact; that one is put to them a fault.
            if count > shop.vessels[kind] and at > plan.made_at:
                yield f"{count} of {shop.vessels[kind]} {kind} in use at {at}"


def _most(spans: Sequence[tuple[datetime, datetime]]) -> Iterator[tuple[datetime, int]]:
    """At every beginning, how many spans hold that instant."""
    for begin in {begin for begin, _ in spans}:
        yield begin, sum(low <= begin < high for low, high in spans)
