"""A plan made by hand, for the screens that draw plans: plausible days, worked out by nobody.

Stages, holds and windows are invented. Every visit lies in open hours, one after another.
"""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta, tzinfo

import msgspec

from benchconsole.model.shop import OpenSpan
from benchconsole.schedule.hours import Hours, Opening
from benchconsole.schedule.planning.plans import Given, HidePlan, Plan, Round, Visit, VisitKind

HOUR, DAY = timedelta(hours=1), timedelta(days=1)

STAGES: tuple[tuple[str, str, VisitKind, str, str, float, float, float, float | None], ...] = (
    ("soak", "Soak", "begin", "Sink the hide in cool water.", "tub", 0.25, 0, 0, 6),
    ("flesh", "Flesh", "begin", "Flesh the hide on the beam.", "beam", 1.5, 12, 20, 36),
    ("alum", "Alum bath", "begin", "Lay the hide in the bath and stir.", "tub", 0.5, 2, 4, 24),
    ("alum", "Alum bath", "check", "Cut the thick edge and look.", "tub", 0.25, 72, 120, 168),
    ("rinse", "Rinse", "begin", "Rinse twice in cool water.", "tub", 0.5, 0.5, 24, 48),
    ("stretch", "Stretch", "begin", "Lace the skin into the frame.", "frame", 0.75, 12, 18, 30),
    ("oil", "Oil", "coat", "Work in the first half of the oil.", "frame", 0.25, 24, 36, 48),
    ("oil", "Oil", "coat", "Work in the second half.", "frame", 0.25, 0.5, 2, 8),
    ("break", "Break", "begin", "Pull over the blade until it is white.", "bench", 1, 48, 72, 80),
    ("finish", "Finish", "begin", "Brush the hair and trim.", "bench", 2, 72, 168, None),
)
"""Stage, its name, kind, action, vessel, hours of work, earliest, due and latest (None: none)."""

NAMES = ("Brown goat", "Grey rabbits", "Old ewe", "Fallow deer", "Calf", "Red fox", "Hare")


def open_hours(zone: tzinfo = UTC, closed_on: tuple[date, ...] = ()) -> Hours:
    """Monday to Friday 8 to 12 and 13 to 18, Saturday 9 to 13."""
    spans = [
        OpenSpan(weekday=day, opens=time(opens), closes=time(closes))
        for day in range(5)
        for opens, closes in ((8, 12), (13, 18))
    ]
    return Hours([*spans, OpenSpan(weekday=5, opens=time(9), closes=time(13))], closed_on, zone)


def openings_between(hours: Hours, begins: datetime, until: datetime) -> tuple[Opening, ...]:
    """The open times, cut to the two instants."""
    day, found = begins.date() - DAY, []
    while day <= until.date() + DAY:
        for opens, closes in hours.openings_on(day):
            if closes > begins and opens < until:
                found.append((max(opens, begins), min(closes, until)))
        day += DAY
    return tuple(found)


def small_plan(
    now: datetime,
    *,
    hides: int = 8,
    days: int = 35,
    zone: tzinfo = UTC,
    rounds_a_day: int = 3,
    hands: int = 1,
) -> Plan:
    """Hides in different stages, one in store, one late, one that could not be planned."""
    hours, until = open_hours(zone), now + days * DAY
    busy: list[list[Opening]] = [[] for _ in range(hands)]
    planned = [_hide(place, now, until, hours, busy[place % hands]) for place in range(hides - 1)]
    planned.append(
        HidePlan(
            hide="lost",
            hide_name="Deer of last year",
            lies_in="Pickle",
            since=now - 40 * DAY,
            visits=(),
            unplanned="its route “deer-of-mine” is not in the library",
        )
    )
    openings = openings_between(hours, now, until)
    walks = _rounds(planned, openings, now, zone, rounds_a_day)
    return Plan(
        made_at=now, until=until, hides=tuple(planned), openings=openings, rounds=walks, cost=90.0
    )


def _hide(
    place: int, now: datetime, until: datetime, hours: Hours, busy: list[Opening]
) -> HidePlan:
    name = NAMES[place % len(NAMES)] + (f" {place // len(NAMES) + 1}" if place >= 7 else "")
    hide_id = name.lower().replace(" ", "-")
    first = (place * 3) % 8
    in_store = first == 0
    since = None if in_store else now - (5 + 7 * place % 30) * HOUR
    visits: list[Visit] = []
    before = since or now
    for stage in STAGES[first:]:
        number = 1 + sum(visit.stage == stage[0] for visit in visits)
        visit = _visit((hide_id, name), stage, number, before, now, hours, busy)
        if visit is None or visit.ends > until:
            break
        visits.append(visit)
        before = visit.ends
    if place == 3 and visits:
        # One that comes too late: its latest time was an hour before the shop opens.
        late = visits[0]
        visits[0] = msgspec.structs.replace(
            late,
            earliest=late.starts - 9 * HOUR,
            due=late.starts - 5 * HOUR,
            latest=late.starts - HOUR,
        )
    return HidePlan(
        hide=hide_id,
        hide_name=name,
        lies_in="Store" if in_store else STAGES[first - 1][1],
        since=since,
        visits=tuple(visits),
        in_store=in_store,
    )


def _visit(
    hide: tuple[str, str],
    stage: tuple[str, str, VisitKind, str, str, float, float, float, float | None],
    number: int,
    before: datetime,
    now: datetime,
    hours: Hours,
    busy: list[Opening],
) -> Visit | None:
    stage_id, stage_name, kind, action, vessel, work, least, target, most = stage
    due, length = before + target * HOUR, work * HOUR
    starts = _free_from(max(due, now), length, hours, busy)
    if starts is None:
        return None
    busy.append((starts, starts + length))
    moved = "the shop is closed then, or hands are busy" if starts > due + HOUR else ""
    return Visit(
        hide=hide[0],
        hide_name=hide[1],
        stage=stage_id,
        stage_name=stage_name,
        kind=kind,
        action=action,
        starts=starts,
        ends=starts + length,
        earliest=before + least * HOUR,
        due=due,
        latest=None if most is None else before + most * HOUR,
        vessel=vessel,
        ready=("salt", "alum", "a clean paddle") if stage_id == "alum" else (),
        spoils="The hair slips, sooner in warm water." if most else "",
        why=moved,
        number=number,
    )


def _free_from(
    at: datetime, length: timedelta, hours: Hours, busy: list[Opening]
) -> datetime | None:
    """The first moment from which the work fits into an opening and between other work."""
    begins = hours.first_with_room(at, length)
    while begins is not None:
        clash = next((b for b in busy if b[0] < begins + length and begins < b[1]), None)
        if clash is None:
            return begins
        begins = hours.first_with_room(clash[1], length)
    return None


def _rounds(
    planned: list[HidePlan],
    openings: tuple[Opening, ...],
    now: datetime,
    zone: tzinfo,
    rounds_a_day: int,
) -> tuple[Round, ...]:
    """Walks round what lies in a bath, spread over the openings of each day."""
    walks: list[Round] = []
    for opens, closes in openings:
        for turn in range(max(rounds_a_day // 2, 1)):
            at = opens + (turn + 1) * (closes - opens) / (rounds_a_day // 2 + 1)
            gives = tuple(
                Given(
                    hide=hide.hide,
                    hide_name=hide.hide_name,
                    stage="alum",
                    attention=0,
                    do="Stir and push under.",
                )
                for hide in planned
                if _lies_in_bath(hide, at)
            )
            if gives:
                walks.append(Round(at=at, gives=gives, latest=at + 3 * HOUR))
    return tuple(walks)


def _lies_in_bath(hide: HidePlan, at: datetime) -> bool:
    lies_in = hide.lies_in
    for visit in hide.visits:
        if at < visit.starts:
            break
        if at < visit.ends:
            return False
        lies_in = visit.stage_name
    return lies_in == "Alum bath"
