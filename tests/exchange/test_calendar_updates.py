"""Importing the calendar again: what moves, moves; what is done, falls silent; no ghosts stay."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.exchange.calendar import CALLED_OFF, CARRIED, read_export
from benchconsole.schedule.planning.plans import Plan
from tests.exchange.calendar_grammar import Component
from tests.exchange.planned import DAY, HOUR, NOW, events, plan_of, round_at, visit_of, written

MINUTE = timedelta(minutes=1)


def again(plan: Plan, earlier: bytes, now: datetime) -> list[Component]:
    """The events of an export that takes the place of an earlier one."""
    return events(written(plan, now=now, earlier=read_export(earlier, shop_tag="tag")))


def test_what_lay_ahead_and_is_not_planned_any_more_is_called_off() -> None:
    """Done early, or given up: the calendar learns of it, and nothing rings."""
    before = written(plan_of(visit_of()))
    (event,) = again(plan_of(), before, NOW + HOUR)
    assert "CANCELLED" == event.text("STATUS")
    assert f"{CALLED_OFF}Brown goat: Rinse and neutralise" == event.text("SUMMARY")
    assert NOW + DAY + HOUR == event.instant("DTSTART")
    assert [] == event.parts
    assert events(before)[0].text("UID") == event.text("UID")


def test_what_was_begun_stays_as_it_was_but_falls_silent() -> None:
    """An act that was done at its time is no cancelled one, and its last call must not ring."""
    (event,) = again(plan_of(), written(plan_of(visit_of())), NOW + DAY + HOUR + MINUTE)
    assert ("CONFIRMED", []) == (event.text("STATUS"), event.parts)
    assert "Brown goat: Rinse and neutralise" == event.text("SUMMARY")


def test_what_is_not_planned_any_more_is_told_for_a_while_and_then_dropped() -> None:
    """Not every export is imported, so it is told in each until it is long over."""
    body, now = written(plan_of(visit_of())), NOW
    ends = NOW + DAY + 2 * HOUR
    while now < ends + CARRIED - DAY:
        now += DAY
        earlier = read_export(body, shop_tag="tag")
        body = written(plan_of(until=now + 35 * DAY), now=now, earlier=earlier)
        (event,) = events(body)
        assert f"{CALLED_OFF}Brown goat: Rinse and neutralise" == event.text("SUMMARY")
    assert [] == again(plan_of(until=now + 35 * DAY), body, ends + CARRIED)


def test_an_act_that_is_planned_again_comes_back() -> None:
    """A tap taken back: the called-off event is itself again, with its alarms."""
    body = written(plan_of(visit_of()))
    off = written(plan_of(), now=NOW + HOUR, earlier=read_export(body, shop_tag="tag"))
    (event,) = again(plan_of(visit_of()), off, NOW + 2 * HOUR)
    assert ("CONFIRMED", 2) == (event.text("STATUS"), len(event.parts))
    assert "Brown goat: Rinse and neutralise" == event.text("SUMMARY")


def test_what_lies_beyond_the_plan_is_not_called_off() -> None:
    """A plan that reaches less far knows nothing of it: it is left as it is."""
    far = visit_of(starts=NOW + 30 * DAY, ends=NOW + 31 * DAY)
    earlier = read_export(written(plan_of(far)), shop_tag="tag")
    assert [] == events(written(plan_of(until=NOW + 7 * DAY), earlier=earlier))


def test_what_was_told_and_moves_beyond_the_days_asked_for_moves_in_the_calendar() -> None:
    """Left out of the new file it would stay where it was; what was never told is not in it."""
    near, other = visit_of(), visit_of(hide="roe", stage="oil")
    earlier = read_export(written(plan_of(near)), shop_tag="tag")
    later = {"starts": NOW + 9 * DAY, "ends": NOW + 9 * DAY + HOUR}
    moved = plan_of(visit_of(**later), msgspec.structs.replace(other, **later))
    (event,) = events(written(moved, until=NOW + 7 * DAY, earlier=earlier))
    assert NOW + 9 * DAY == event.instant("DTSTART")
    assert "CONFIRMED" == event.text("STATUS")


def test_a_clock_that_was_set_back_does_not_stop_an_update() -> None:
    """The number grows over what the earlier export holds, whatever the clock says."""
    before = written(plan_of(visit_of()))
    (event,) = again(plan_of(visit_of()), before, NOW - DAY)
    was = int(events(before)[0].properties["SEQUENCE"][1])
    assert was + 1 == int(event.properties["SEQUENCE"][1])


@pytest.mark.parametrize("year", [1971, 2019, 2999])
def test_numbers_stay_within_what_a_calendar_reads(year: int) -> None:
    """However the clock stands, SEQUENCE is a whole number from 0 on of 32 bits."""
    now = datetime(year, 1, 1, tzinfo=UTC)
    assert 1 == len(events(written(plan_of(visit_of()), now=now)))


class ACalendarProgram:
    """Takes in files by the rule of RFC 5546 section 2.1.5: the greater SEQUENCE, then DTSTAMP."""

    def __init__(self) -> None:
        self.holds: dict[str, Component] = {}

    def take_in(self, body: bytes) -> None:
        """Import a file."""
        for event in events(body):
            held = self.holds.get(event.text("UID"))
            if held is None or self._version(held) < self._version(event):
                self.holds[event.text("UID")] = event

    def _version(self, event: Component) -> tuple[int, datetime]:
        return int(event.properties["SEQUENCE"][1]), event.instant("DTSTAMP")

    def coming(self, now: datetime) -> list[tuple[datetime, str]]:
        """What it shows as still ahead."""
        return sorted(
            (event.instant("DTSTART"), event.text("SUMMARY"))
            for event in self.holds.values()
            if event.text("STATUS") != "CANCELLED" and event.instant("DTSTART") > now
        )

    def ringing_after(self, now: datetime) -> set[str]:
        """The names of the events that will still ring at an instant of their own."""
        return {
            name
            for name, event in self.holds.items()
            for alarm in event.parts
            if isinstance(alarm.trigger, datetime) and alarm.trigger > now
        }


acts = st.tuples(
    st.sampled_from(["goat", "kid"]),
    st.sampled_from(["soak", "alum"]),
    st.sampled_from(["begin", "check"]),
    st.integers(0, 300),
)
days_of_work = st.tuples(
    st.integers(1, 40),  # hours to this replanning
    st.booleans(),  # whether the export is imported
    st.lists(acts, unique_by=lambda act: act[:3], max_size=6),
    st.lists(st.integers(0, 60), unique=True, max_size=6),
)


@settings(max_examples=35, deadline=None)
@given(st.lists(days_of_work, min_size=1, max_size=6))
def test_a_calendar_that_imports_again_shows_the_plan(work: list[tuple]) -> None:
    """Whatever moves, comes and goes: after an import it shows what is planned, and no ghosts."""
    program, body, now = ACalendarProgram(), b"", NOW
    for hours, imported, planned, walks in work:
        now += hours * HOUR
        visits = [
            visit_of(
                hide=hide,
                stage=stage,
                kind=kind,
                starts=now + at * HOUR,
                ends=now + (at + 1) * HOUR,
            )
            for hide, stage, kind, at in planned
        ]
        rounds = tuple(round_at(now + at * HOUR) for at in walks)
        plan = plan_of(*visits, rounds=rounds, made_at=now, until=now + 35 * DAY)
        body = written(plan, now=now, earlier=read_export(body, shop_tag="tag") if body else ())
        if imported:
            program.take_in(body)
            expected = [event for event in events(written(plan)) if event.instant("DTSTART") > now]
            assert program.coming(now) == sorted(
                (event.instant("DTSTART"), event.text("SUMMARY")) for event in expected
            )
            assert program.ringing_after(now) <= {
                event.text("UID") for event in events(written(plan))
            }
