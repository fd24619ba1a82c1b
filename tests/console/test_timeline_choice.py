"""Choosing and moving on the timeline: what is chosen and where one is outlive a newer plan."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import msgspec
import pytest
from dateutil import tz
from hypothesis import given
from hypothesis import strategies as st

from benchconsole.console.widgets.timeline_choice import (
    Choice,
    chosen_at,
    first_choice,
    found_again,
    hold_or_visit,
    instant_of,
    other_line,
    other_step,
)
from benchconsole.console.widgets.timeline_layout import Lying
from benchconsole.console.widgets.timeline_place import first_place
from benchconsole.console.widgets.timeline_ruler import STEPS, Ruler
from benchconsole.schedule.planning.plans import Plan, Round, Visit
from tests.console.small_plan import small_plan

NOW = datetime(2026, 3, 18, 13, 20, tzinfo=UTC)
HOUR = timedelta(hours=1)
PLAN = small_plan(NOW)


def an_hour_later(plan: Plan) -> Plan:
    """The same plan, every visit an hour later."""
    replace = msgspec.structs.replace
    hides = tuple(
        replace(
            hide,
            visits=tuple(
                replace(visit, starts=visit.starts + HOUR, ends=visit.ends + HOUR)
                for visit in hide.visits
            ),
        )
        for hide in plan.hides
    )
    return replace(plan, made_at=plan.made_at + HOUR, hides=hides)


def test_the_very_next_visit_is_chosen_first() -> None:
    """Whatever hide it is of; an empty plan has nothing to choose."""
    assert first_choice(PLAN) == Choice(PLAN.visits[0].hide, PLAN.visits[0])
    empty = Plan(made_at=NOW, until=NOW, hides=(), openings=())
    assert first_choice(empty) == Choice("", None)


def test_every_visit_is_reached_by_stepping_and_no_further() -> None:
    """From the first to the last and back, over every line; the ends hold."""
    choice = other_line(first_choice(PLAN), PLAN, -99)
    assert choice.hide == ""
    for line in ("", *(hide.hide for hide in PLAN.hides)):
        assert choice.hide == line
        steps = PLAN.rounds if not line else PLAN.hides[_place(line)].visits
        choice = Choice(line, steps[0] if steps else None)
        walked = [choice.piece]
        for _ in range(len(steps) + 2):
            choice = other_step(choice, PLAN, 1)
            walked.append(choice.piece)
        assert tuple(dict.fromkeys(walked)) == (steps or (None,))
        for _ in range(len(steps) + 2):
            choice = other_step(choice, PLAN, -1)
        assert choice.piece == (steps[0] if steps else None)
        choice = other_line(choice, PLAN, 1)
    assert choice.hide == PLAN.hides[-1].hide


def _place(line: str) -> int:
    return [hide.hide for hide in PLAN.hides].index(line)


def test_another_line_is_taken_up_at_the_same_time() -> None:
    """The nearest in time, so that the picture need not jump."""
    last = PLAN.hides[0].visits[-1]
    below = other_line(Choice(PLAN.hides[0].hide, last), PLAN, 1)
    near = min(PLAN.hides[1].visits, key=lambda visit: abs(visit.starts - last.starts))
    assert below == Choice(PLAN.hides[1].hide, near)


def test_a_hold_lies_between_its_visits() -> None:
    """From a visit to the hold before it and back; stepping from a hold goes to its neighbours."""
    hide = PLAN.hides[1]
    first, second = hide.visits[:2]
    hold = hold_or_visit(Choice(hide.hide, second), PLAN)
    assert isinstance(hold.piece, Lying)
    assert (hold.piece.since, hold.piece.next, hold.piece.stage) == (
        first.ends,
        second,
        first.stage_name,
    )
    assert hold_or_visit(hold, PLAN).piece == second
    assert other_step(hold, PLAN, 1).piece == second
    assert other_step(hold, PLAN, -1).piece == first


def test_a_touch_chooses_what_is_drawn_there() -> None:
    """Visit, hold or round under the finger; beyond them the nearest."""
    ruler = Ruler(NOW - 12 * HOUR, HOUR / 4, 40 * 96)
    for hide in PLAN.hides[:-1]:
        for visit in hide.visits:
            at = chosen_at(PLAN, hide.hide, ruler.column(visit.starts), ruler)
            assert at.piece == visit
    hide = PLAN.hides[1]
    held = chosen_at(PLAN, hide.hide, ruler.column(hide.visits[0].ends + 2 * HOUR), ruler)
    assert isinstance(held.piece, Lying) and held.piece.next == hide.visits[1]
    assert chosen_at(PLAN, hide.hide, 40 * 96 - 1, ruler).piece == hide.visits[-1]
    walk = PLAN.rounds[1]
    assert chosen_at(PLAN, "", ruler.column(walk.at), ruler).piece == walk


def test_a_choice_is_found_again_in_a_newer_plan() -> None:
    """The same visit and hold at their new times; the nearest round; a lost hide's is given up."""
    newer = an_hour_later(PLAN)
    hide = PLAN.hides[2]
    visit = found_again(Choice(hide.hide, hide.visits[1]), newer).piece
    assert visit == newer.hides[2].visits[1]
    hold = found_again(hold_or_visit(Choice(hide.hide, hide.visits[1]), PLAN), newer).piece
    assert isinstance(hold, Lying) and hold.next == newer.hides[2].visits[1]
    assert found_again(Choice("", PLAN.rounds[3]), newer).piece == PLAN.rounds[3]
    done = msgspec.structs.replace(
        newer.hides[2], visits=newer.hides[2].visits[2:], lies_in="Alum bath"
    )
    later = msgspec.structs.replace(newer, hides=(done, *newer.hides[3:]))
    assert found_again(Choice(hide.hide, hide.visits[1]), later).piece == done.visits[0]
    gone = msgspec.structs.replace(newer, hides=newer.hides[3:])
    assert found_again(Choice(hide.hide, hide.visits[1]), gone) == first_choice(gone)


@given(st.lists(st.sampled_from(["later", "earlier", "in", "out", "now", "chosen"]), max_size=30))
def test_moves_stay_on_the_wall_clock_and_near_the_plan(moves: list[str]) -> None:
    """However one scrolls and zooms, something of the plan's time is to be seen."""
    place = first_place(PLAN, NOW, UTC, 60)
    chosen = instant_of(PLAN.visits[7])
    for move in moves:
        column = place.ruler.column(chosen)
        if move in ("in", "out"):
            moved = place.zoomed(-1 if move == "in" else 1, chosen)
            kept = moved.ruler.column(chosen)
            near_an_end = not place.first < moved.ruler.left < moved.ruler.right < place.last
            if 0 <= column < 60 and not near_an_end:
                assert abs(kept - column) <= 1
        elif move == "chosen":
            moved = place.showing(chosen)
            assert 0 <= moved.ruler.column(chosen) < 60
        elif move == "now":
            moved = place.at(NOW)
            assert moved.ruler.column(NOW) in (7, 6)
        else:
            moved = place.scrolled(1 if move == "later" else -1)
        place = moved
        assert place.ruler.right > place.first and place.ruler.left < place.last
        assert (place.ruler.left - NOW.replace(hour=0, minute=0)) % place.ruler.step == 0 * HOUR


@pytest.mark.parametrize(("columns", "step"), [(60, 3 * HOUR), (100, 3 * HOUR), (180, HOUR)])
def test_the_first_look_shows_about_a_week(columns: int, step: timedelta) -> None:
    """At the finest step that does, with the present near the left edge."""
    place = first_place(PLAN, NOW, UTC, columns)
    assert place.ruler.step == step
    assert 0 < place.ruler.column(NOW) <= columns // 8


def test_scrolling_there_and_back_comes_back_over_a_clock_change() -> None:
    """A quarter of the width each way, on every step, over the end of March in Berlin."""
    berlin = tz.gettz("Europe/Berlin")
    assert berlin is not None
    for step in STEPS[:-1]:
        place = first_place(PLAN, NOW, berlin, 80)
        while place.ruler.step != step:
            place = place.zoomed(1 if step > place.ruler.step else -1, None)
        there = place.at(datetime(2026, 3, 28, 12, tzinfo=UTC))
        assert there.scrolled(1).scrolled(-1).ruler == there.ruler
        assert there.scrolled(1).ruler.left > there.ruler.left


def test_pieces_know_where_they_are_looked_for() -> None:
    """A visit's or round's start, a hold's end."""
    visit, walk = PLAN.visits[3], PLAN.rounds[0]
    assert isinstance(visit, Visit) and isinstance(walk, Round)
    assert instant_of(visit) == visit.starts
    assert instant_of(walk) == walk.at
    assert instant_of(Lying("Soak", None, visit)) == visit.starts
