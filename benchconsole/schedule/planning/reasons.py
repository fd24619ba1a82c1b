"""Why a visit does not stand at its ideal time, in words a person can check."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from functools import cached_property

from benchconsole.quantities import format_duration
from benchconsole.schedule.hours import Hours
from benchconsole.schedule.planning.courses import SLOT, Course, too_long
from benchconsole.schedule.planning.problems import Chain, Problem, Schedule, Span, Step
from benchconsole.schedule.wording import wall_time


class Reasons:
    """The plan as far as one visit has to give way to others: who has the hands and vessels."""

    def __init__(
        self,
        problem: Problem,
        courses: Sequence[Course],
        schedule: Schedule,
        hours: Hours,
        start: datetime,
    ) -> None:
        self._problem, self._schedule = problem, schedule
        self._courses = {course.hide.id: course for course in courses}
        self._hours, self._start = hours, start
        self._opens = [low for low, _ in problem.open_spans]

    def why(self, course: Course, place: int) -> str:
        """What moved a visit from its due time, and what it costs; empty where nothing did."""
        starts = self._schedule.starts[course.hide.id]
        step, start = course.step(place), starts[place]
        before = starts[place - 1] + course.step(place - 1).work if place else 0
        said = [self.moved(course, place)]
        if step.most is not None and start > before + step.most:
            over = format_duration((start - before - step.most) * SLOT)
            said.append(f"that is {over} past its latest")
        said.append(too_long(course.meanings[place], self._stretch))
        return "; ".join(filter(None, said))

    def moved(self, course: Course, place: int) -> str:
        """What moved a visit from its due time, without what it costs; empty where nothing did."""
        starts = self._schedule.starts[course.hide.id]
        step, start = course.step(place), starts[place]
        before = starts[place - 1] + course.step(place - 1).work if place else 0
        due = max(before + step.target, 0)
        if course.meanings[place].in_store:
            # It may begin at once: what has to be said is why it waits.
            due = max(before + step.least, 0)
        return self._moved(course, place, due, start) if start != due else ""

    def wanted_by(self, course: Course, kind: str, slot: int) -> str:
        """Who fills the last vessel of a kind at or after a slot, and when; empty if nobody."""
        number = self._problem.vessels.get(kind)
        if number is None:
            return ""
        comes = sorted(
            (start, self._courses[chain.id].hide.name)
            for chain, starts in self._others(course.hide.id)
            for step, start in zip(chain.steps, starts, strict=True)
            if step.vessel == kind and start >= slot
        )
        for start, name in comes:
            if len(self._lying(course.hide.id, kind, start)) >= number:
                return f"{name} goes in {self._wall(start)}"
        return ""

    def hindrance(self, course: Course, place: int, slot: int) -> str:
        """Why a visit cannot begin at a slot whatever comes after it; empty if it can."""
        return self._hours_say(course.step(place), slot) or self._held(course, place, slot)

    @cached_property
    def _stretch(self) -> timedelta:
        return max((high - low for low, high in self._problem.open_spans), default=0) * SLOT

    def _moved(self, course: Course, place: int, due: int, start: int) -> str:
        step = course.step(place)
        at_due = self._hours_say(step, due)
        if start < due:
            held = at_due or self._held(course, place, due)
            return (
                f"{held}; earlier is still inside its window" if held else self._for(course, place)
            )
        sooner = self._last_open(step, start, due)
        if sooner is None:
            return at_due
        # What holds it up to the end is the reason, not what was in the way at first.
        return self._held(course, place, sooner) or self._for(course, place)

    # --- hours --------------------------------------------------------------------

    def _at(self, slot: int) -> datetime:
        return self._start + slot * SLOT

    def _wall(self, slot: int) -> str:
        return wall_time(self._at(slot), self._hours.zone, self._start)

    def _span_at(self, slot: int) -> Span | None:
        place = bisect_right(self._opens, slot) - 1
        if place < 0 or slot >= self._problem.open_spans[place][1]:
            return None
        return self._problem.open_spans[place]

    def _hours_say(self, step: Step, slot: int) -> str:
        """Why a visit cannot begin at a slot by the hours alone; empty if it can."""
        span = self._span_at(slot)
        if span is None:
            return self._hours.why_closed(self._at(slot), self._start) or "closed then"
        if slot + step.work + step.stay > span[1]:
            needs = format_duration((step.work + step.stay) * SLOT)
            return f"it takes {needs} and closing is {self._wall(span[1])}"
        return ""

    def _last_open(self, step: Step, before: int, since: int) -> int | None:
        """The last slot before one at which the hours would let a visit begin."""
        for low, high in reversed(self._problem.open_spans):
            at = min(high - step.work - step.stay, before - 1)
            if at >= max(low, since):
                return at
        return None

    # --- the others ---------------------------------------------------------------

    def _held(self, course: Course, place: int, slot: int) -> str:
        """Who has the hands, or the vessel it needs, if it began at a slot."""
        step = course.step(place)
        busy = self._at_work(course.hide.id, (slot, slot + step.work))
        if len(busy) >= self._problem.hands:
            return f"your hands are at {_listed(busy)}"
        kind = step.vessel
        number = self._problem.vessels.get(kind)
        if number is None:
            return ""
        there = self._lying(course.hide.id, kind, slot)
        if len(there) < number:
            return ""
        return f"no {kind} is free: {_listed(there)}" if number else f"there is no {kind}"

    def _at_work(self, but: str, span: Span) -> list[str]:
        return [
            f"{self._courses[chain.id].hide.name} ({meaning.stage.name})"
            for chain, starts in self._others(but)
            for meaning, step, start in zip(
                self._courses[chain.id].meanings, chain.steps, starts, strict=True
            )
            if start < span[1] and span[0] < start + step.work
        ]

    def _lying(self, but: str, kind: str, slot: int) -> list[str]:
        found = []
        for chain, starts in self._others(but):
            edges = (0, *starts, starts[-1] + chain.steps[-1].work)
            kinds = (chain.lies_in, *(step.vessel for step in chain.steps))
            if any(
                each == kind and low <= slot < high
                for each, low, high in zip(kinds, edges, edges[1:], strict=False)
            ):
                found.append(self._courses[chain.id].hide.name)
        return found

    def _others(self, but: str) -> list[tuple[Chain, tuple[int, ...]]]:
        starts: Mapping[str, tuple[int, ...]] = self._schedule.starts
        return [
            (chain, starts[chain.id])
            for chain in self._problem.chains
            if chain.id != but and chain.id in starts
        ]

    def _for(self, course: Course, place: int) -> str:
        """The first later visit of the hide that would fall badly were this one on time."""
        starts = self._schedule.starts[course.hide.id]
        moved = starts[place] - (
            (starts[place - 1] + course.step(place - 1).work if place else 0)
            + (
                course.step(place).least
                if course.meanings[place].in_store
                else course.step(place).target
            )
        )
        for later in range(place + 1, len(starts)):
            step = course.step(later)
            due = starts[later - 1] - moved + course.step(later - 1).work + step.target
            words = self._hours_say(step, due) or self._held(course, later, due)
            if words:
                return f"so “{course.meanings[later].stage.name}” falls in time, not: {words}"
        return "so the plan as a whole keeps its times"


def _listed(names: Sequence[str]) -> str:
    if len(names) <= 1:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"
