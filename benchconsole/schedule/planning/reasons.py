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
        start = starts[place]
        before = starts[place - 1] + course.step(place - 1).work if place else 0
        said = [self.moved(course, place)]
        limit = course.limit(place)
        if limit is not None and (start - before) * SLOT > limit:
            over = format_duration((start - before) * SLOT - limit)
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
            if held:
                return f"{held}; so it comes earlier, inside its window"
            later = self._for(course, place, start - due)
            return later or "it comes earlier, inside its window, to be done the sooner"
        sooner = self._last_open(step, start, due)
        if sooner is None:
            return at_due
        # What holds it up to the end is the reason, not what was in the way at first; but where
        # the hands only took out who lay in its vessel, it waited for the vessel.
        emptied = self._emptied_by(course.hide.id, sooner)
        held = self._full(course.hide.id, step.vessel, emptied - 1) if emptied > due else ""
        held = held or self._held(course, place, sooner) or self._for(course, place, start - due)
        return held or "so that the shop as a whole is least late"

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
            return self._hours.why_closed(self._at(slot), self._start) or "the shop closes then"
        if slot + step.work + step.stay > span[1]:
            needs = format_duration((step.work + step.stay) * SLOT)
            return f"closing at {self._wall(span[1])} leaves less than the {needs} it takes"
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
        for at in range(slot, slot + course.step(place).work):
            busy = self._at_work(course.hide.id, at)
            if len(busy) >= self._problem.hands:
                return f"your hands are at {_listed(busy)}"
        return self._no_vessel(course, place, slot)

    def _no_vessel(self, course: Course, place: int, slot: int) -> str:
        """Who has the vessel it needs if it began at a slot, or at any time of its stay."""
        step, but = course.step(place), course.hide.id
        if step.vessel not in self._problem.vessels:
            return ""
        starts = self._schedule.starts.get(but, ())
        until = starts[place + 1] if place + 1 < len(starts) else slot + step.work
        # It is counted where another goes in; between that nothing gets fuller.
        others = sorted(each for _, theirs in self._others(but) for each in theirs)
        later = (self._full(but, step.vessel, at) for at in others if slot < at < until)
        full = next(filter(None, later), "").replace("is free", "is free long enough", 1)
        return self._full(but, step.vessel, slot) or full

    def _full(self, but: str, kind: str, slot: int) -> str:
        """Who has the vessels of a kind at a slot, if none is free."""
        number = self._problem.vessels.get(kind)
        there = [] if number is None else self._lying(but, kind, slot)
        if number is None or len(there) < number:
            return ""
        there += [each.hide.name for each in self._courses.values() if each.rests_in == kind]
        return f"no {kind} is free: {_listed(there)}" if there else f"there is no {kind}"

    def _emptied_by(self, but: str, slot: int) -> int:
        """When the first of the visits of others under way at a slot began; 0 if none is."""
        begun = [
            start
            for chain, starts in self._others(but)
            for step, start in zip(chain.steps, starts, strict=True)
            if start <= slot < start + step.work
        ]
        return min(begun, default=0)

    def _at_work(self, but: str, slot: int) -> list[str]:
        return [
            f"{self._courses[chain.id].hide.name} ({meaning.stage.name})"
            for chain, starts in self._others(but)
            for meaning, step, start in zip(
                self._courses[chain.id].meanings, chain.steps, starts, strict=True
            )
            if start <= slot < start + step.work
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

    def _for(self, course: Course, place: int, moved: int) -> str:
        """The first later visit in time that would fall badly were this one on time."""
        starts = self._schedule.starts[course.hide.id]
        for later in range(place + 1, len(starts)):
            if course.meanings[later].in_store:
                break
            step = course.step(later)
            before = starts[later - 1] + course.step(later - 1).work
            if starts[later] > before + step.target:
                continue
            due = before - moved + step.target
            words = self._hours_say(step, due) or self._held(course, later, due)
            if words:
                return f"else “{course.meanings[later].stage.name}” came at a bad time: {words}"
        return ""


def _listed(names: Sequence[str]) -> str:
    if len(names) <= 1:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"
