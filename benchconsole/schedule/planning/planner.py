"""From the hides, routes and hours of a shop to its plan, and back from slots to instants."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from dataclasses import replace as dataclass_replace
from datetime import UTC, datetime, timedelta

from msgspec.structs import replace

from benchconsole.model.routes import Route
from benchconsole.model.state import HideState
from benchconsole.schedule.hours import Hours
from benchconsole.schedule.planning.courses import SLOT, Course, Window, course_of
from benchconsole.schedule.planning.plans import HidePlan, Plan, Visit
from benchconsole.schedule.planning.problems import DUE_COST, Problem, Schedule, Span
from benchconsole.schedule.planning.reasons import Reasons
from benchconsole.schedule.planning.search import solve
from benchconsole.schedule.planning.tending import rounds_of

LEAST_AHEAD, MOST_AHEAD = timedelta(days=35), timedelta(days=400)
"""How far a plan reaches; our own choice. What lies further off is planned another day."""
ROOM = timedelta(days=21)
"""Time beyond the longest course, for waiting."""
CROWDED = 1.25
"""How much longer everything takes than if no vessel stood empty for a night; our own choice."""
WEEKS_SEEN = timedelta(weeks=4)
"""The time that tells how much of a week the shop is open."""

_NOTHING = timedelta(0)


@dataclass(frozen=True, kw_only=True)
class Question:
    """Everything that a plan follows from; nothing else does it depend on.

    ``drying`` has, by hide, when its drying is forecast to have come far enough: earliest, due
    and latest instants. ``mixes`` are the names of formulas, by id. ``now`` aware, UTC.
    """

    hides: tuple[HideState, ...]
    routes: Mapping[str, Route]
    hours: Hours
    now: datetime
    hands: int = 1
    vessels: Mapping[str, int] = field(default_factory=dict)
    drying: Mapping[str, tuple[datetime, datetime, datetime]] = field(default_factory=dict)
    mixes: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True)
class Asked:
    """The question on the grid: slot 0 begins at ``start``."""

    start: datetime
    until: datetime
    stretch: timedelta
    courses: tuple[Course, ...]
    problem: Problem
    mixes: Mapping[str, str] = field(default_factory=dict)


def make_plan(
    question: Question,
    *,
    like: Plan | None = None,
    steps: int | None = None,
    seed: int = 1,
    between: Callable[[], None] | None = None,
) -> Plan:
    """The plan of the shop; pure, and the same for the same question.

    ``like`` is an earlier plan: where nothing better is found its times stand, as far as they
    still can. ``steps`` limits the search, another ``seed`` makes it go another way. ``between``
    is called now and then while it is worked out, and ends it by what it raises.
    """

    def solved() -> Schedule:
        known = times_of(like, asked)
        return solve(asked.problem, start_from=known, steps=steps, seed=seed, between=between)

    ahead = time_ahead(question)
    asked = asked_on_grid(question, ahead)
    schedule = solved()
    if len(schedule.starts) < len(asked.problem.chains) and ahead < MOST_AHEAD:
        asked = asked_on_grid(question, MOST_AHEAD)
        schedule = solved()
    return with_rounds(plan_of(question, asked, schedule, between), question)


def time_ahead(question: Question) -> timedelta:
    """How far to look: for the longest course, and for all of them to have hands and vessels.

    Each by its due times and with some room; what may wait in store is begun when it suits.
    """
    start = _next_quarter(question.now)
    openings = question.hours.between(start, start + WEEKS_SEEN)
    stretch = max((closes - opens for opens, closes in openings), default=_NOTHING)
    spent: Counter[str] = Counter()
    longest = 0
    for course in _courses(question, start, start + MOST_AHEAD, stretch):
        taken = _taken_by(course)
        longest = max(longest, sum(taken.values()))
        spent.update(taken)
        spent["hands"] += sum(step.work for step in course.chain.steps) if course.chain else 0
    is_open = sum((closes - opens for opens, closes in openings), _NOTHING)
    needs = [longest * SLOT]
    if is_open:
        needs.append(spent["hands"] * SLOT * (WEEKS_SEEN / is_open) / question.hands)
    needs += [spent[kind] * SLOT / number for kind, number in question.vessels.items() if number]
    return min(MOST_AHEAD, max(LEAST_AHEAD, CROWDED * max(needs) + ROOM))


def _taken_by(course: Course) -> Counter[str]:
    """The slots a course takes in each kind of vessel by its due times, in none as ``""``."""
    taken: Counter[str] = Counter()
    kind = course.chain.lies_in if course.chain else ""
    steps = course.chain.steps if course.chain else ()
    for step, meaning in zip(steps, course.meanings, strict=True):
        waited = step.least if meaning.in_store else max(step.target, step.least)
        taken[kind] += max(waited, 0)
        kind = step.vessel
        taken[kind] += step.work
    return taken


def asked_on_grid(question: Question, ahead: timedelta) -> Asked:
    """The question on the grid, so far ahead from the first quarter of an hour at its ``now``."""
    start = _next_quarter(question.now)
    until = start + ahead
    openings = question.hours.between(start, until)
    spans = tuple(span for opens, closes in openings if (span := _span(opens, closes, start)))
    stretch = max((high - low for low, high in spans), default=0) * SLOT
    courses = _courses(question, start, until, stretch)
    problem = Problem(
        slots=ahead // SLOT,
        open_spans=spans,
        chains=tuple(course.chain for course in courses if course.chain is not None),
        hands=question.hands,
        vessels=_free(question.vessels, courses),
    )
    return Asked(
        start=start,
        until=until,
        stretch=stretch,
        courses=courses,
        problem=problem,
        mixes=question.mixes,
    )


def _courses(
    question: Question, start: datetime, until: datetime, stretch: timedelta
) -> tuple[Course, ...]:
    """What lies before every hide, in the order of their ids."""
    found = (
        course_of(
            hide,
            question.routes.get(hide.route),
            hours=question.hours,
            start=start,
            now=question.now,
            until=until,
            stretch=stretch,
            drying=_counted_from(question.drying.get(hide.id), start),
        )
        for hide in sorted(question.hides, key=lambda hide: hide.id)
    )
    return tuple(course for course in found if course is not None)


def _free(vessels: Mapping[str, int], courses: Sequence[Course]) -> dict[str, int]:
    """The vessels without those in which hides rest all the time of the plan."""
    resting = Counter(course.rests_in for course in courses)
    return {kind: max(0, number - resting[kind]) for kind, number in vessels.items()}


def asked_like(question: Question, plan: Plan) -> Asked:
    """The question on the grid of a plan, as of the plan's own moment, so that its times fit."""
    start = _next_quarter(plan.made_at)
    return asked_on_grid(dataclass_replace(question, now=plan.made_at), plan.until - start)


def _next_quarter(now: datetime) -> datetime:
    """The first quarter of an hour at or after an instant."""
    since = (now - datetime(1970, 1, 1, tzinfo=UTC)) % SLOT
    return now if not since else now + (SLOT - since)


def _span(opens: datetime, closes: datetime, start: datetime) -> Span | None:
    """The slots that lie wholly within an opening."""
    low, high = -(-(opens - start) // SLOT), (closes - start) // SLOT
    return (low, high) if low < high else None


def _counted_from(
    window: tuple[datetime, datetime, datetime] | None, start: datetime
) -> Window | None:
    if window is None:
        return None
    earliest, due, latest = window
    return earliest - start, due - start, latest - start


def times_of(plan: Plan | None, asked: Asked) -> dict[str, tuple[int, ...]] | None:
    """The times of an earlier plan for the visits that are still to come."""
    if plan is None:
        return None
    known = {
        (visit.hide, visit.stage, visit.kind, visit.number): visit.starts for visit in plan.visits
    }
    found: dict[str, tuple[int, ...]] = {}
    for course in asked.courses:
        keys = ((course.hide.id, m.stage.id, m.kind, m.number) for m in course.meanings)
        starts = [known.get(key) for key in keys]
        if starts and all(each is not None and each >= asked.start for each in starts):
            found[course.hide.id] = tuple(
                (each - asked.start) // SLOT for each in starts if each is not None
            )
    return found


def plan_of(
    question: Question,
    asked: Asked,
    schedule: Schedule,
    between: Callable[[], None] | None = None,
) -> Plan:
    """A schedule as a plan, still without rounds; ``between`` as in :func:`make_plan`."""
    reasons = Reasons(asked.problem, asked.courses, schedule, question.hours, asked.start)
    hides = []
    for course in asked.courses:
        if between is not None:
            between()
        hides.append(_hide_plan(course, asked, schedule, reasons))
    return Plan(
        made_at=question.now,
        until=asked.until,
        hides=tuple(hides),
        openings=question.hours.between(question.now, asked.until),
        cost=schedule.cost / DUE_COST,
        bound=schedule.bound / DUE_COST,
    )


def with_rounds(plan: Plan, question: Question) -> Plan:
    """The plan with the rounds that it wants."""
    hides = {hide.id: hide for hide in question.hides}
    rounds = rounds_of(
        plan, hides, question.routes, question.hours, question.now, hands=question.hands
    )
    return replace(plan, rounds=rounds)


def _hide_plan(course: Course, asked: Asked, schedule: Schedule, reasons: Reasons) -> HidePlan:
    hide = course.hide
    starts = schedule.starts.get(hide.id, ())
    unplanned = course.unplanned
    if course.chain is not None and not starts:
        days = (asked.until - asked.start).days
        unplanned = f"there is no room for it in the next {days} days"
    visits = []
    before = 0
    for place, start in enumerate(starts):
        visits.append(visit_of(course, place, start, before, asked, reasons))
        before = start + course.step(place).work
    return HidePlan(
        hide=hide.id,
        hide_name=hide.name,
        lies_in=course.lies_in,
        since=None if course.in_store else course.since,
        visits=tuple(visits),
        in_store=course.in_store,
        unplanned=unplanned,
    )


def visit_of(
    course: Course, place: int, start: int, before: int, asked: Asked, reasons: Reasons
) -> Visit:
    """A step of a course that begins at a slot, as a visit; ``before`` is where the last ended."""
    meaning, step, limit = course.meanings[place], course.step(place), course.limit(place)

    def at(slot: int) -> datetime:
        return asked.start + slot * SLOT

    stage = meaning.stage
    mix = stage.mix_for(course.hide.came) if meaning.kind == "begin" else ""
    return Visit(
        hide=course.hide.id,
        hide_name=course.hide.name,
        stage=stage.id,
        stage_name=stage.name,
        kind=meaning.kind,
        action=meaning.words,
        starts=at(start),
        ends=at(start + step.work),
        earliest=at(before + step.least),
        due=at(before + step.target),
        latest=None if limit is None else at(before) + limit,
        vessel=step.vessel,
        spoils=meaning.harm.late,
        why=reasons.why(course, place),
        number=meaning.number,
        ready=(*((f"the mix “{asked.mixes.get(mix, mix)}”",) if mix else ()), *stage.needs)
        if meaning.kind != "check"
        else (),
    )
