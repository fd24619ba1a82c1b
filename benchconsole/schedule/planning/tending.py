"""What has to be tended and when: from the holds that run now and from those that are planned."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime, timedelta
from itertools import pairwise
from typing import NamedTuple

from benchconsole.model.hides import HideState
from benchconsole.model.routes import Route, Stage
from benchconsole.schedule.coats import coats_left
from benchconsole.schedule.hours import Hours, Opening
from benchconsole.schedule.next_action import open_actions
from benchconsole.schedule.planning.plans import HidePlan, Plan, Round, Visit
from benchconsole.schedule.planning.rounds import Tended, rounds_for
from benchconsole.schedule.presence import is_stayed_for

SEEN_BEFORE = timedelta(days=8)
"""How far back openings are wanted: longer than any attention of the routes may wait."""
SEEN_BEYOND = timedelta(days=16)
"""How far openings are wanted past the last round, to know when a closed time ends."""

_AT_THE_VERY_END = timedelta.resolution
"""An attention whose interval ends with the time it is for is still given then."""

_DAY = timedelta(days=1)


def tended_of(hide: HideState, route: Route, plan: HidePlan, now: datetime) -> tuple[Tended, ...]:
    """Everything a hide wants tended: in the hold that runs now, and in those between its visits.

    A hold runs from the end of the visit that begins it (of its last coat) to the start of the
    next visit. A look gives attentions by the way, unless they are acts of their own. Attentions
    that somebody stays for are part of the visit and no rounds. A plan whose first visit should
    have begun before ``now`` is out of date: then only what runs now counts, without an end.
    """
    visits = plan.visits if not plan.visits or plan.visits[0].starts >= now else ()
    return (*_running(hide, route, visits), *_planned(hide, route, visits))


def unplanned(hide: HideState, route: Route, hours: Hours, now: datetime) -> HidePlan:
    """A hide as if it were alone in the shop: the look at it is all that is planned.

    A look that is due already is no visit any more: until somebody looks the hide lies there and
    is tended.
    """
    asked = open_actions(hide, route, hours=hours, now=now)
    look = next((each for each in asked if each.kind == "check" and each.due > now), None)
    visit = look and Visit(
        hide=hide.id,
        hide_name=hide.name,
        stage=hide.stage,
        stage_name=look.stage_name,
        kind="check",
        action=look.action,
        starts=look.due,
        ends=look.due,
        earliest=look.earliest,
        due=look.due,
        latest=look.latest,
    )
    return HidePlan(
        hide=hide.id,
        hide_name=hide.name,
        lies_in=hide.stage,
        since=hide.hold_from,
        visits=(visit,) if visit else (),
    )


def rounds_of(
    plan: Plan,
    hides: Mapping[str, HideState],
    routes: Mapping[str, Route],
    hours: Hours,
    now: datetime,
    *,
    hands: int = 1,
) -> tuple[Round, ...]:
    """The rounds that a plan of the shop wants, from ``now`` to its end.

    A walk stands where one of the pairs of hands is at no planned visit, if it can.
    """
    tended = [
        each
        for of_hide in plan.hides
        if (hide := hides.get(of_hide.hide)) is not None
        and (route := routes.get(hide.route)) is not None
        for each in tended_of(hide, route, of_hide, now)
    ]
    return rounds_for(
        tended,
        openings_around(hours, now, plan.until),
        now,
        plan.until,
        busy=all_busy(plan.visits, hands),
        come_in=come_in_hours(hours, now, plan.until),
    )


def all_busy(visits: Iterable[Visit], hands: int) -> tuple[Opening, ...]:
    """The spans in which every pair of hands is at a visit, in order."""
    changes = sorted(change for visit in visits for change in ((visit.ends, -1), (visit.starts, 1)))
    spans: list[Opening] = []
    at_work, since = 0, None
    for instant, change in changes:
        at_work += change
        if at_work >= hands and since is None:
            since = instant
        elif at_work < hands and since is not None:
            spans.append((since, instant))
            since = None
    return tuple(spans)


def openings_around(hours: Hours, now: datetime, until: datetime) -> tuple[Opening, ...]:
    """The open time, and enough before and after to tell how long closed times are.

    A shop without any open hours is taken for always open, as its hides' own times stand then.
    """
    first, last = now - SEEN_BEFORE, until + SEEN_BEYOND
    return hours.between(first, last) if hours.ever_open else ((first, last),)


def come_in_hours(hours: Hours, now: datetime, until: datetime) -> tuple[Opening, ...]:
    """On every closed day the hours of the next opening: when somebody may be asked to come in."""
    spans: list[Opening] = []
    day, last = hours.local(until).date() + SEEN_BEYOND, hours.local(now).date()
    decent: Hours | None = None
    while hours.ever_open and day >= last:
        openings = hours.openings_on(day)
        if openings:
            decent = hours.every_day_like(openings[0][0])
        elif decent is not None:
            spans += decent.openings_on(day)
        day -= _DAY
    return tuple(reversed(spans))


class _Run(NamedTuple):
    """One run of a hold: ``later`` are the visits after it began, ``looked`` the last look."""

    hide: HideState
    stage: Stage
    begun: datetime
    later: tuple[Visit, ...]
    looked: datetime | None = None
    given_at: Mapping[int, datetime] = {}
    facts: int = 0


def _running(hide: HideState, route: Route, visits: tuple[Visit, ...]) -> Iterator[Tended]:
    """What the hold that runs now wants."""
    begun = hide.hold_from
    stage = _stage(route, hide.stage)
    if stage is None or begun is None or coats_left(stage.coats, len(hide.coats_at)):
        return
    looked = hide.failed_at[-1] if hide.failed_at else None
    yield from _tended(_Run(hide, stage, begun, visits, looked, hide.attended_at, hide.facts))


def _planned(hide: HideState, route: Route, visits: tuple[Visit, ...]) -> Iterator[Tended]:
    """What the holds that are to come want."""
    for place, visit in enumerate(visits):
        stage = _stage(route, visit.stage)
        begins = visit.kind in ("begin", "coat")
        if stage is None or not begins or coats_left(stage.coats, _coats_by(hide, visits, place)):
            continue
        yield from _tended(_Run(hide, stage, visit.ends, visits[place + 1 :]))


def _coats_by(hide: HideState, visits: tuple[Visit, ...], place: int) -> int:
    """How many coats the hide has after a visit: those given already and those planned."""
    stage = visits[place].stage
    planned = sum(
        visit.stage == stage and visit.kind in ("begin", "coat") for visit in visits[: place + 1]
    )
    return planned + (len(hide.coats_at) if hide.stage == stage else 0)


def _tended(run: _Run) -> Iterator[Tended]:
    """The attentions of one run of a hold that are worth a round."""
    looks = _looks_at(run.stage, run.later)
    moved_on = run.later[len(looks)].starts if len(run.later) > len(looks) else None
    for place, attention in enumerate(run.stage.attend):
        if is_stayed_for(attention):
            continue
        over = None
        if attention.until is not None:
            over = run.begun + attention.until + _AT_THE_VERY_END
        ends = min((at for at in (moved_on, over) if at is not None), default=None)
        seen = (run.given_at.get(place), None if attention.own_act else run.looked)
        last = max((at for at in seen if at is not None), default=None)
        since = run.begun + attention.since
        for starts, looked in () if attention.own_act else looks:
            yield from _stretch(
                run, place, since, starts if ends is None else min(ends, starts), last
            )
            since, last = max(since, looked), None
        yield from _stretch(run, place, since, ends, last)


def _stretch(
    run: _Run, place: int, since: datetime, until: datetime | None, last: datetime | None
) -> Iterator[Tended]:
    """One stretch of an attention, if there is any time in it."""
    if until is not None and until <= since:
        return
    attention = run.stage.attend[place]
    yield Tended(
        hide=run.hide.id,
        hide_name=run.hide.name,
        stage=run.stage.id,
        attention=place,
        do=attention.do,
        every=attention.every,
        at_most=attention.at_most,
        since=since,
        until=until,
        last=last,
        facts=run.facts,
    )


def _looks_at(stage: Stage, later: tuple[Visit, ...]) -> tuple[Opening, ...]:
    """The planned looks that leave the hide where it is, one after another."""
    looks: list[Opening] = []
    for visit, following in pairwise(later):
        if visit.kind != "check" or (visit.stage, following.stage) != (stage.id, stage.id):
            break
        looks.append((visit.starts, visit.ends))
    return tuple(looks)


def _stage(route: Route, stage_id: str) -> Stage | None:
    return next((stage for stage in route.stages if stage.id == stage_id), None)
