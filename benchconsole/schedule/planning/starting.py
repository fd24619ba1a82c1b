"""When to begin with one hide: every start of the coming days with what would come of it.

All the others keep the times of a plan; the hide is taken out of it and put back at each start,
its later visits at their cheapest times in what the others leave.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from functools import cached_property
from typing import Literal

from msgspec.structs import replace as changed

from benchconsole.errors import NotPossibleNow
from benchconsole.model.record import Record
from benchconsole.quantities import format_duration
from benchconsole.schedule.planning.courses import SLOT, Course
from benchconsole.schedule.planning.grids import Grid
from benchconsole.schedule.planning.markets import HardMarket
from benchconsole.schedule.planning.occupancy import Occupancy, Starts
from benchconsole.schedule.planning.planner import (
    Asked,
    Question,
    asked_like,
    times_of,
    visit_of,
)
from benchconsole.schedule.planning.plans import Plan, Visit
from benchconsole.schedule.planning.problems import (
    DUE_COST,
    FINISH_COST,
    Chain,
    Schedule,
    chain_cost,
)
from benchconsole.schedule.planning.reasons import Reasons
from benchconsole.schedule.planning.timing import best_times

AHEAD = timedelta(days=14)
"""How far ahead starts are looked for; our own choice."""

AS_GOOD = 240.0
"""Minutes past due by which a start may be worse than the best and is good still; our choice."""

_MINUTE = timedelta(minutes=1)

Grade = Literal["good", "poor", "bad"]
"""A bad start breaks a latest time or cannot be; a poor one keeps them all, but less well."""


class StartChoice(Record, frozen=True, kw_only=True):
    """One start, and what would come of it.

    ``visits`` are the hide's as they would be planned, none where it cannot begin then. ``cost``
    is in minutes past due (see ``problems``); ``past_latest`` and ``past_due`` are the sums over
    the visits. ``words`` say what goes wrong, empty where nothing does. ``at`` aware, UTC.
    """

    at: datetime
    visits: tuple[Visit, ...]
    cost: float
    past_latest: timedelta
    past_due: timedelta
    finish: datetime | None
    grade: Grade
    words: str = ""


class StartsOfHide(Record, frozen=True, kw_only=True):
    """The starts of one hide, the cheapest first, and the best of each local day in order.

    ``chosen`` is the start that the person has chosen, ``planned`` that of the plan.
    """

    hide: str
    hide_name: str
    stage_name: str
    ranked: tuple[StartChoice, ...]
    by_day: tuple[StartChoice, ...]
    chosen: datetime | None = None
    planned: datetime | None = None


def starts_of(
    question: Question,
    plan: Plan,
    hide_id: str,
    *,
    between: Callable[[], None] = lambda: None,
) -> StartsOfHide:
    """Every start of a hide in the coming days; pure.

    ``plan`` is a plan for the same shop. ``between`` is called now and then, and ends the work by
    what it raises. Raises ``NotPossibleNow`` for a hide that does not wait
    to begin a stage.
    """
    bench = _bench(question, plan, hide_id)
    first = bench.course.meanings[0]
    choices = []
    for slot in _slots(bench, question.now):
        between()
        choices.append(_choice(bench, slot))
    choices = _graded(choices, bench.asked.start)
    ranked = sorted(choices, key=lambda choice: (choice.cost, choice.at))
    hide = next(hide for hide in question.hides if hide.id == hide_id)
    of_plan = plan.of(hide_id)
    return StartsOfHide(
        hide=hide_id,
        hide_name=hide.name,
        stage_name=first.stage.name,
        ranked=tuple(ranked),
        by_day=tuple(_best_of_days(ranked, question)),
        chosen=hide.start_at,
        planned=of_plan.visits[0].starts if of_plan and of_plan.visits else None,
    )


@dataclass(frozen=True)
class _Bench:
    """The shop without the hide: who has the hands and the vessels when."""

    asked: Asked
    course: Course
    chain: Chain
    planned: Mapping[str, Starts]
    question: Question

    @cached_property
    def grid(self) -> Grid:
        return Grid(self.asked.problem)

    @cached_property
    def market(self) -> HardMarket:
        taken = Occupancy(self.asked.problem, self.grid)
        for chain in self.asked.problem.chains:
            if chain.id == self.chain.id or chain.id in self.planned:
                taken.lift(chain)
            if chain.id != self.chain.id and chain.id in self.planned:
                taken.place(chain, self.planned[chain.id])
        return HardMarket(self.grid, self.chain, taken)

    def reasons(self, starts: Starts) -> Reasons:
        """Why the hide's visits stand where they do, were it begun so."""
        others = {name: times for name, times in self.planned.items() if name != self.chain.id}
        schedule = Schedule(starts={**others, self.chain.id: starts} if starts else others, cost=0)
        asked = self.asked
        return Reasons(asked.problem, asked.courses, schedule, self.question.hours, asked.start)

    @cached_property
    def alone(self) -> Reasons:
        """The same of the others alone."""
        return self.reasons(())


def _bench(question: Question, plan: Plan, hide_id: str) -> _Bench:
    hides = tuple(
        changed(hide, start_at=None) if hide.id == hide_id else hide for hide in question.hides
    )
    question = replace(question, hides=hides)
    asked = asked_like(question, plan)
    course = next((each for each in asked.courses if each.hide.id == hide_id), None)
    if course is None:
        raise NotPossibleNow("This hide is not in work: there is nothing to begin.")
    name = course.hide.name
    if course.chain is None:
        why = course.unplanned or "its next visit is too far off"
        raise NotPossibleNow(f"{name}: no start can be worked out, {why}.")
    if course.meanings[0].kind != "begin" or course.hide.begun_at is not None:
        raise NotPossibleNow(f"{name} is in “{course.lies_in}” and waits for no start.")
    return _Bench(asked, course, course.chain, times_of(plan, asked) or {}, question)


def _slots(bench: _Bench, now: datetime) -> Iterator[int]:
    """The starts to look at: every hour that the shop is open, and where the plan begins."""
    asked = bench.asked
    soonest = max(0, -((asked.start - now) // SLOT), bench.chain.steps[0].least)
    last = min((now + AHEAD - asked.start) // SLOT, asked.problem.slots)
    mine = bench.planned.get(bench.chain.id, ())
    found = {mine[0]} if mine else set()
    for low, high in asked.problem.open_spans:
        begin = max(low, soonest)
        for slot in range(begin, min(high, last)):
            # At the first moment of an opening, and on the hour of the wall.
            on_the_wall = bench.question.hours.local(asked.start + slot * SLOT)
            if slot == begin or not on_the_wall.minute:
                found.add(slot)
    yield from sorted(slot for slot in found if soonest <= slot < last)


def _choice(bench: _Bench, slot: int) -> StartChoice:
    at = bench.asked.start + slot * SLOT
    times = best_times(bench.market, begin=(slot, slot + 1))
    if times is None:
        return StartChoice(
            at=at,
            visits=(),
            cost=float("inf"),
            past_latest=timedelta(0),
            past_due=timedelta(0),
            finish=None,
            grade="bad",
            words=_why_not(bench, slot),
        )
    starts, mine = times.starts, bench.planned.get(bench.chain.id, ())
    cost = chain_cost(bench.chain, starts)
    if mine[:1] == (slot,) and chain_cost(bench.chain, mine) <= cost:
        starts = mine  # Of times as good as the plan's, the plan's own.
    reasons = bench.reasons(starts)
    visits = _visits(bench, starts, reasons)
    return StartChoice(
        at=at,
        visits=visits,
        cost=cost / DUE_COST,
        past_latest=sum((visit.past_latest for visit in visits), timedelta(0)),
        past_due=sum((visit.past_due for visit in visits), timedelta(0)),
        finish=visits[-1].ends,
        grade="good",
        words=_worst(bench, visits, reasons),
    )


def _visits(bench: _Bench, starts: Starts, reasons: Reasons) -> tuple[Visit, ...]:
    visits, before = [], 0
    for place, start in enumerate(starts):
        visits.append(visit_of(bench.course, place, start, before, bench.asked, reasons))
        before = start + bench.course.step(place).work
    return tuple(visits)


def _worst(bench: _Bench, visits: tuple[Visit, ...], reasons: Reasons) -> str:
    """The visit that suffers most, by how much and why."""

    def harm(place: int) -> tuple[timedelta, timedelta]:
        visit = visits[place]
        return visit.past_latest * bench.course.step(place).stake, visit.past_due

    place = max(range(len(visits)), key=harm)
    visit = visits[place]
    late = sum(1 for each in visits if each.past_latest)
    if not visit.past_due and not visit.past_latest:
        return ""
    name = f"“{visit.stage_name}”"
    if visit.kind == "coat":
        name = f"coat {visit.number} of {name}"
    over = visit.past_latest or visit.past_due
    words = f"{name} {format_duration(over)} past {'its latest' if late else 'due'}"
    # That the first one waits is the person's own choice.
    if moved := reasons.moved(bench.course, place) if place else "":
        words += f", {moved}"
    if late and visit.spoils:
        words += f"; {visit.spoils[:1].lower()}{visit.spoils[1:].rstrip('.')}"
    if late > 1:
        words += f"; and {late - 1} more past the latest"
    return words


def _why_not(bench: _Bench, slot: int) -> str:
    """Why the hide cannot be begun at a slot."""
    if words := bench.alone.hindrance(bench.course, 0, slot):
        return words
    first = bench.chain.steps[0]
    wanted = bench.alone.wanted_by(bench.course, first.vessel, slot)
    if wanted:
        return f"the {first.vessel} is not free long enough: {wanted}"
    days = (bench.asked.until - bench.asked.start).days
    return f"its later visits find no room in the next {days} days"


def _graded(choices: list[StartChoice], start: datetime) -> list[StartChoice]:
    """The same with how good each is beside the others; ``start`` is where costs count from."""

    def late(choice: StartChoice) -> float:
        if choice.finish is None:
            return float("inf")
        return choice.cost - (choice.finish - start) / _MINUTE * FINISH_COST / DUE_COST

    least = min(map(late, choices), default=0.0)
    return [
        changed(choice, grade=_grade(choice, late(choice) - least)) if choice.visits else choice
        for choice in choices
    ]


def _grade(choice: StartChoice, worse: float) -> Grade:
    if choice.past_latest:
        return "bad"
    return "good" if worse <= AS_GOOD else "poor"


def _best_of_days(ranked: list[StartChoice], question: Question) -> Iterator[StartChoice]:
    """The best start of every local day, in order."""
    found: dict[date, StartChoice] = {}
    for choice in ranked:
        found.setdefault(question.hours.local(choice.at).date(), choice)
    for day in sorted(found):
        yield found[day]
