"""When somebody would have to come in on closed days for one hide, so that it suffers least."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta

import numpy as np
from msgspec.structs import replace

from benchconsole.schedule.planning.changes import ComeIn
from benchconsole.schedule.planning.courses import SLOT, Course
from benchconsole.schedule.planning.grids import Grid, Whole
from benchconsole.schedule.planning.markets import HardMarket
from benchconsole.schedule.planning.occupancy import Occupancy, Starts
from benchconsole.schedule.planning.planner import Asked, Question, asked_like, times_of
from benchconsole.schedule.planning.plans import Plan
from benchconsole.schedule.planning.problems import (
    LATEST_COST,
    SLOT_MINUTES,
    Chain,
    Problem,
    Span,
    Step,
)
from benchconsole.schedule.planning.timing import best_times

COMING_COST = 2 * SLOT_MINUTES * LATEST_COST
"""Of coming in once: as if something were half an hour past its latest; our own choice."""

SOON = timedelta(hours=2)
"""What is done so soon after each other is done in one coming in; our own choice."""

AHEAD = timedelta(days=28)
"""How far ahead anybody is asked to come in; our own choice."""


def times_to_come_in(question: Question, plan: Plan, hide_id: str) -> tuple[ComeIn, ...]:
    """The times to come in for a hide, all the others keeping the times of the plan; pure.

    On closed days the hours of an opening are taken for those at which people can be asked to
    come. Empty where coming in does not help.
    """
    asked = asked_like(question, plan)
    course = next((each for each in asked.courses if each.hide.id == hide_id), None)
    if course is None or course.chain is None:
        return ()
    wider = replace(asked.problem, open_spans=_with_decent_hours(question, asked))
    grid = Grid(wider)
    taken = Occupancy(wider, grid)
    planned = times_of(plan, asked) or {}
    for chain in wider.chains:
        if chain.id == hide_id or chain.id in planned:
            taken.lift(chain)
        if chain.id != hide_id and chain.id in planned:
            taken.place(chain, planned[chain.id])
    market = _ComingIn(grid, course.chain, taken, asked.problem)
    times = best_times(market)
    return () if times is None else tuple(_comings(course, times.starts, asked, market))


class _ComingIn(HardMarket):
    """What is taken cannot be had, and the closed time costs that somebody comes in."""

    def __init__(self, grid: Grid, chain: Chain, taken: Occupancy, problem: Problem) -> None:
        super().__init__(grid, chain, taken)
        self._spans = problem.open_spans
        self._opens: Whole = np.array([low for low, _ in problem.open_spans], dtype=np.int64)
        self._closes: Whole = np.array([high for _, high in problem.open_spans], dtype=np.int64)
        self._dearer: dict[tuple[int, int], Whole] = {}

    def hands(self, step: Step) -> Whole:
        """As the others leave them, at a price where the shop is closed."""
        key = (step.work, step.stay)
        if key not in self._dearer:
            self._dearer[key] = super().hands(step) + COMING_COST * self._is_closed(step)
        return self._dearer[key]

    def is_closed(self, step: Step, start: int) -> bool:
        """Whether the step cannot be done then in open time."""
        length = step.work + step.stay
        return not any(low <= start and start + length <= high for low, high in self._spans)

    def _is_closed(self, step: Step) -> Whole:
        starts = self.grid.starts
        place = np.searchsorted(self._opens, starts, side="right") - 1
        ends = np.where(place >= 0, self._closes[np.maximum(place, 0)], -1)
        closed: Whole = (starts + step.work + step.stay > ends).astype(np.int64)
        return closed


def _with_decent_hours(question: Question, asked: Asked) -> tuple[Span, ...]:
    """The open slots, and on every day of the coming weeks those of the next opening's hours."""
    opening = question.hours.next_open(asked.start)
    spans = list(asked.problem.open_spans)
    if opening is not None:
        decent = question.hours.every_day_like(opening)
        until = min(asked.start + AHEAD, asked.until)
        for opens, closes in decent.between(asked.start, until):
            low, high = -(-(opens - asked.start) // SLOT), (closes - asked.start) // SLOT
            spans.append((low, high))
    return tuple(_merged(span for span in spans if span[0] < span[1]))


def _merged(spans: Iterator[Span]) -> list[Span]:
    whole: list[Span] = []
    for low, high in sorted(spans):
        if whole and low <= whole[-1][1]:
            whole[-1] = (whole[-1][0], max(whole[-1][1], high))
        else:
            whole.append((low, high))
    return whole


def _comings(course: Course, starts: Starts, asked: Asked, market: _ComingIn) -> Iterator[ComeIn]:
    """The visits in closed time, those soon after each other as one coming in."""
    now: ComeIn | None = None
    for place, start in enumerate(starts):
        step = course.step(place)
        if not market.is_closed(step, start):
            continue
        begins, ends = _at(asked, start), _at(asked, start + step.work + step.stay)
        name = course.meanings[place].stage.name
        if now is not None and begins - now.end <= SOON:
            names = now.what_for if now.what_for.endswith(name) else f"{now.what_for}, {name}"
            now = replace(now, end=max(now.end, ends), what_for=names)
            continue
        if now is not None:
            yield now
        now = ComeIn(start=begins, end=ends, what_for=f"{course.hide.name}: {name}")
    if now is not None:
        yield now


def _at(asked: Asked, slot: int) -> datetime:
    return asked.start + slot * SLOT
