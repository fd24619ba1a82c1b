"""Ways out of what a change breaks: a small set that is tried, each with a plan of its own."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import timedelta
from typing import NamedTuple

from benchconsole.model.record import Record
from benchconsole.model.shop import Shop
from benchconsole.schedule.planning.changes import (
    HANDS,
    MOST_HANDS,
    Change,
    ComeIn,
    Means,
    StartAt,
    question_with,
)
from benchconsole.schedule.planning.coming_in import times_to_come_in
from benchconsole.schedule.planning.differences import Difference, difference
from benchconsole.schedule.planning.mending import mended
from benchconsole.schedule.planning.planner import Question, make_plan, with_rounds
from benchconsole.schedule.planning.plans import Plan, Visit
from benchconsole.schedule.planning.starting import starts_of

WORST, KINDS, HELD, TOLD = 4, 3, 3, 4
"""How much is tried, our own choice: the windows that break worst, the kinds of vessel,
the hides held back, and how many ways are planned in full and told."""

WAY_STEPS = 2_000
"""How much work goes into the plan of each way out, which begins near a good one; our choice."""

WORTH = timedelta(minutes=15)
"""A way out takes at least this off what is broken."""

_DAY = timedelta(days=1)


class WayOut(Record, frozen=True, kw_only=True):
    """Changes to make together with those supposed, and what would come of all of them."""

    changes: tuple[Change, ...]
    after: Plan
    difference: Difference


class Supposed(NamedTuple):
    """Changes made to the question that ``plan`` answers, and the plan ``after`` them."""

    question: Question
    shop: Shop
    changes: tuple[Change, ...]
    plan: Plan
    after: Plan
    difference: Difference

    def with_(self, more: tuple[Change, ...]) -> Question:
        """The question with those changes and some more."""
        return question_with(self.question, self.shop, (*self.changes, *more))


def ways_out_of(
    supposed: Supposed,
    *,
    steps: int | None = None,
    between: Callable[[], None] = lambda: None,
) -> tuple[WayOut, ...]:
    """What helps, the cheapest first, before all what leaves no window broken; pure.

    Every candidate is mended quickly, the best of them are planned in full. ``steps`` limits each
    search, ``between`` is called now and then.
    """
    if not supposed.difference.breaks:
        return ()
    found: dict[tuple[Change, ...], WayOut] = {}
    for way in (*_by_coming_in(supposed), *_otherwise(supposed)):
        between()
        if _helps(way, supposed):
            found[way.changes] = way
    best = []
    for way in sorted(found.values(), key=_order)[:TOLD]:
        between()
        best.append(_planned(supposed, way, steps))
    return tuple(sorted(best, key=_order))


def _mended(supposed: Supposed, changes: tuple[Change, ...], first: tuple[str, ...] = ()) -> WayOut:
    after = mended(supposed.with_(changes), supposed.after, first)
    return WayOut(changes=changes, after=after, difference=difference(supposed.plan, after))


def _planned(supposed: Supposed, way: WayOut, steps: int | None) -> WayOut:
    question = supposed.with_(way.changes)
    # What is accepted is planned anew at leisure: here it has to be told soon.
    searched = make_plan(question, like=way.after, steps=min(steps or WAY_STEPS, WAY_STEPS))
    plans = (searched, with_rounds(way.after, question))
    ways = [
        WayOut(changes=way.changes, after=after, difference=difference(supposed.plan, after))
        for after in plans
    ]
    return min(ways, key=_order)


def _order(way: WayOut) -> tuple[bool, float]:
    # One window broken for days is worse than two for minutes: the cost tells that.
    return way.difference.breaks > 0, way.after.cost


def _helps(way: WayOut, supposed: Supposed) -> bool:
    before, now = supposed.difference, way.difference
    if now.breaks != before.breaks:
        return now.breaks < before.breaks
    return before.broken_by - now.broken_by >= WORTH


def _otherwise(supposed: Supposed) -> Iterator[WayOut]:
    """Everything but coming in."""
    visits = [window.visit for window in supposed.difference.broken[:WORST]]
    candidates = (
        *_more_means(visits, supposed),
        *_other_starts(supposed),
        *_held_back(visits, supposed),
    )
    for changes in dict.fromkeys(candidates):
        yield _mended(supposed, changes)


def _by_coming_in(supposed: Supposed) -> Iterator[WayOut]:
    """Come in for each hide that suffers, when it helps that hide most; and for all of them."""
    broken = supposed.difference.broken[:WORST]
    hides = list(dict.fromkeys(window.visit.hide for window in broken))
    for hide in hides:
        times = times_to_come_in(supposed.with_(()), supposed.after, hide)
        if times:
            yield _mended(supposed, times, (hide,))
    every: tuple[ComeIn, ...] = ()
    after = supposed.after
    for hide in hides if len(hides) > 1 else ():
        question = supposed.with_(every)
        every = (*every, *times_to_come_in(question, after, hide))
        after = mended(supposed.with_(every), after, (hide,))
    if every:
        yield WayOut(changes=every, after=after, difference=difference(supposed.plan, after))


def _more_means(visits: list[Visit], supposed: Supposed) -> Iterator[tuple[Change, ...]]:
    """One more of the kinds that the hides concerned go into, and of hands."""
    question = supposed.with_(())
    hides = dict.fromkeys(visit.hide for visit in visits)
    # A hide without room at all has no visits to tell what it lacks: then every kind may be it.
    plans = [supposed.after.of(hide) for hide in hides] or list(supposed.plan.hides)
    used = dict.fromkeys(
        visit.vessel for plan in plans if plan is not None for visit in plan.visits
    )
    for kind in [kind for kind in used if kind in question.vessels][:KINDS]:
        yield (Means(kind=kind, more=1),)
    if question.hands < MOST_HANDS:
        yield (Means(kind=HANDS, more=1),)


def _other_starts(supposed: Supposed) -> Iterator[tuple[Change, ...]]:
    """Other starts for hides whose start was chosen, also by the change itself."""
    for hide in supposed.with_(()).hides:
        if hide.start_at is None:
            continue
        yield (StartAt(hide=hide.id, hide_name=hide.name, at=None),)
        if any(isinstance(each, StartAt) and each.hide == hide.id for each in supposed.changes):
            ranked = starts_of(supposed.question, supposed.plan, hide.id).ranked
            for choice in ranked[:2]:
                if choice.visits:
                    yield (StartAt(hide=hide.id, hide_name=hide.name, at=choice.at),)


def _held_back(visits: list[Visit], supposed: Supposed) -> Iterator[tuple[Change, ...]]:
    """Hides in store that would be begun before what breaks: after it instead."""
    if not visits:
        return
    over = max(visit.ends for visit in visits)
    later = supposed.with_(()).hours.next_open(over + _DAY)
    if later is None:
        return
    stored = [
        hide
        for hide in supposed.after.hides
        if hide.in_store and hide.visits and hide.visits[0].starts < over
    ]
    for hide in stored[:HELD]:
        yield (StartAt(hide=hide.hide, hide_name=hide.hide_name, at=later),)
