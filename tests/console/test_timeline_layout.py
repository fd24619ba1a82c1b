"""The layout: every visit has its mark, bars keep off their visits, closed columns are closed."""

from __future__ import annotations

import math
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.console.widgets.timeline_layout import (
    AT_WORK,
    BAR_MARKS,
    CLOSED,
    DUE,
    EARLIEST,
    LATEST,
    NOW_ON_TOP,
    PLAN_ENDS,
    Layout,
    closed_columns,
    holds_of,
    visit_columns,
)
from benchconsole.console.widgets.timeline_ruler import STEPS, Ruler, aligned
from benchconsole.exchange.marks import UNPLANNED, VISIT_MARKS
from benchconsole.exchange.plan_words import lateness
from benchconsole.schedule.planning.plans import Given, HidePlan, Plan, Round, Visit
from tests.console.small_plan import small_plan

NOW = datetime(2026, 3, 18, 13, 20, tzinfo=UTC)
HOUR, QUARTER = timedelta(hours=1), timedelta(minutes=15)

VISIT_CELLS = {*VISIT_MARKS.values(), *"23456789"}


def quarters(most: int, least: int = 0) -> st.SearchStrategy[timedelta]:
    """Whole quarters of an hour."""
    return st.integers(least, most).map(lambda count: count * QUARTER)


@st.composite
def hide_plans(draw: st.DrawFn, name: str) -> HidePlan:
    """Visits one after another, each before, in or past its window."""
    since = NOW - draw(quarters(400))
    before, visits = since, []
    starts = NOW
    for number in range(draw(st.integers(0, 6))):
        starts += draw(quarters(200))
        least, to_due, to_latest = draw(quarters(100)), draw(quarters(100)), draw(quarters(100))
        ends = starts + draw(quarters(8))
        latest = before + least + to_due + to_latest if draw(st.booleans()) else None
        visits.append(
            Visit(
                hide=name,
                hide_name=name,
                stage="soak",
                stage_name="Soak",
                kind="check",
                action="Look.",
                starts=starts,
                ends=ends,
                earliest=before + least,
                due=before + least + to_due,
                latest=latest,
                number=number + 1,
            )
        )
        before = starts = ends
    return HidePlan(
        hide=name,
        hide_name=name,
        lies_in="Soak",
        since=draw(st.sampled_from([since, None])),
        visits=tuple(visits),
        in_store=draw(st.booleans()),
    )


@st.composite
def plans(draw: st.DrawFn) -> Plan:
    """Hides, openings and rounds of every kind, empty openings too."""
    hides = tuple(draw(hide_plans(name)) for name in ("goat", "calf")[: draw(st.integers(0, 2))])
    at, openings = NOW, []
    for _ in range(draw(st.integers(0, 8))):
        opens = at + draw(quarters(80))
        at = opens + draw(st.one_of(quarters(40), st.timedeltas(timedelta(0), 4 * HOUR)))
        openings.append((opens, at))
    rounds = tuple(
        Round(
            at=NOW + draw(quarters(800)),
            gives=(Given(hide="goat", hide_name="goat", stage="soak", attention=0, do="Stir."),),
            latest=NOW + draw(quarters(800)),
        )
        for _ in range(draw(st.integers(0, 3)))
    )
    return Plan(
        made_at=NOW,
        until=NOW + draw(quarters(900)),
        hides=hides,
        openings=tuple(openings),
        rounds=rounds,
    )


@st.composite
def rulers(draw: st.DrawFn) -> Ruler:
    """Any step, from well before the plan to beyond its end."""
    step = draw(st.sampled_from(STEPS))
    left = aligned(NOW + draw(st.integers(-60, 200)) * step, step, UTC)
    return Ruler(left, step, draw(st.integers(1, 120)))


@settings(max_examples=60, deadline=None)
@given(plans(), rulers(), quarters(300))
def test_every_visit_has_its_mark_in_its_column(
    plan: Plan, ruler: Ruler, passed: timedelta
) -> None:
    """In the column its start lies in, told by lateness, whatever else is there."""
    layout = Layout(plan, ruler, NOW + passed)
    for hide in plan.hides:
        cells = layout.hide_line(hide)
        assert len(cells.marks) == len(cells.roles) == ruler.columns
        for visit in hide.visits:
            column = math.floor((visit.starts - ruler.left) / ruler.step)
            if not 0 <= column < ruler.columns:
                continue
            assert cells.marks[column] in VISIT_CELLS
            together = [v for v in hide.visits if ruler.column(v.starts) == column]
            worst = max(map(lateness, together), key=list(VISIT_MARKS).index)
            assert cells.roles[column] == worst
            assert len(together) == 1 or cells.marks[column] in (
                VISIT_MARKS[worst],
                str(len(together)),
            )


@settings(max_examples=60, deadline=None)
@given(plans(), rulers())
def test_bars_keep_off_visits_and_lie_between_them(plan: Plan, ruler: Ruler) -> None:
    """No bar in a column of hands-on time; none before the hide came or after its last visit."""
    layout = Layout(plan, ruler, NOW)
    for hide in plan.hides:
        cells = layout.hide_line(hide)
        bars = {c for c, role in enumerate(cells.roles) if role in BAR_MARKS}
        for visit in hide.visits:
            assert not bars & set(range(*visit_columns(visit, ruler)))
        if hide.visits:
            assert all(ruler.begins(c) < hide.visits[-1].starts for c in bars)
        if hide.since is not None:
            assert all(ruler.begins(c + 1) > hide.since for c in bars)


@settings(max_examples=60, deadline=None)
@given(plans(), rulers())
def test_a_bar_says_how_the_hide_lies(plan: Plan, ruler: Ruler) -> None:
    """Where a column lies within one phase of the window, its mark is that phase's."""
    layout = Layout(plan, ruler, NOW)
    for hide in plan.hides:
        cells = layout.hide_line(hide)
        for lying in holds_of(hide):
            visit = lying.next
            for column in range(ruler.columns):
                begins, ends = ruler.begins(column), ruler.begins(column + 1)
                within = (lying.since or begins) <= begins and ends <= visit.starts
                if not within or cells.roles[column] in ("round", "now"):
                    continue
                if lying.in_store:
                    assert cells.roles[column] == "store"
                elif ends <= visit.earliest:
                    assert cells.roles[column] == "early"
                elif visit.latest is not None and begins >= visit.latest:
                    assert cells.roles[column] == "past-latest"
                elif visit.earliest <= begins and ends <= visit.due:
                    assert cells.roles[column] == "open"
                elif visit.due <= begins and (visit.latest is None or ends <= visit.latest):
                    assert cells.roles[column] == "past-due"
                assert cells.marks[column] == BAR_MARKS[cells.roles[column]]


@settings(max_examples=80, deadline=None)
@given(plans(), rulers())
def test_closed_columns_are_those_without_open_time(plan: Plan, ruler: Ruler) -> None:
    """Exactly, for as far as the plan reaches; before and after it nothing is said."""
    closed = closed_columns(plan, ruler)
    assert len(closed) == ruler.columns
    for column in range(ruler.columns):
        begins, ends = ruler.begins(column), ruler.begins(column + 1)
        known = begins < plan.until and ends > plan.made_at
        is_open = any(max(opens, begins) < min(closes, ends) for opens, closes in plan.openings)
        assert closed[column] == (known and not is_open)
    shop = Layout(plan, ruler, NOW).shop_line()
    for column, mark in enumerate(shop.marks):
        if shop.roles[column] == "blank":
            assert mark == (CLOSED if closed[column] else " ") or mark == PLAN_ENDS


def test_windows_show_earliest_due_and_latest() -> None:
    """By different characters, each in its column."""
    visit = Visit(
        hide="goat",
        hide_name="goat",
        stage="soak",
        stage_name="Soak",
        kind="check",
        action="Look.",
        starts=NOW + 6 * HOUR,
        ends=NOW + 7 * HOUR,
        earliest=NOW + 2 * HOUR,
        due=NOW + 5 * HOUR,
        latest=NOW + 9 * HOUR,
    )
    hide = HidePlan(hide="goat", hide_name="goat", lies_in="Soak", since=NOW, visits=(visit,))
    opening = (NOW, NOW + 12 * HOUR)
    plan = Plan(made_at=NOW, until=NOW + 24 * HOUR, hides=(hide,), openings=(opening,))
    layout = Layout(plan, Ruler(NOW, HOUR, 16), NOW - HOUR)
    assert "".join(layout.window_line([visit]).marks) == "  [╌╌◇╌╌╌]      "
    assert "".join(layout.hide_line(hide).marks) == "──━━━═◆     ░░░░"
    layout.lay(Ruler(NOW, HOUR / 4, 36), NOW)
    assert "".join(layout.hide_line(hide).marks)[24:29] == "◆███ "


@pytest.mark.parametrize("step", STEPS)
def test_marks_are_one_cell_wide_and_differ(step: timedelta) -> None:
    """On every step of a whole plan: nothing is told by colour alone."""
    from rich.cells import cell_len

    plan = small_plan(NOW)
    layout = Layout(plan, Ruler(aligned(NOW - 8 * step, step, UTC), step, 150), NOW)
    lines = [layout.shop_line(), *(layout.hide_line(hide) for hide in plan.hides)]
    lines += [layout.window_line(hide.visits) for hide in plan.hides]
    assert all(cell_len(mark) == 1 for line in lines for mark in line.marks)
    assert NOW_ON_TOP in lines[0].marks
    assert UNPLANNED in lines[len(plan.hides)].marks
    told = [*BAR_MARKS.values(), *VISIT_MARKS.values(), AT_WORK, CLOSED, EARLIEST, DUE, LATEST]
    assert len(set(told)) == len(told)


def test_a_hide_that_could_not_be_planned_ends_in_a_question() -> None:
    """It lies until now; what comes then is not drawn, since nobody knows it."""
    plan = small_plan(NOW)
    layout = Layout(plan, Ruler(NOW - 6 * HOUR, HOUR, 16), NOW)
    assert "".join(layout.hide_line(plan.hides[-1]).marks[:9]) == "──────│? "


def test_visits_that_share_a_column_are_counted() -> None:
    """Two in time make a 2; a late one among them is shown before the count."""
    plan = small_plan(NOW)
    ruler = Ruler(datetime(2026, 3, 18, tzinfo=UTC), 24 * HOUR, 40)
    layout = Layout(plan, ruler, NOW)
    shared = {"2": 0, "late": 0}
    for hide in plan.hides:
        cells = layout.hide_line(hide)
        for column in range(40):
            together = [v for v in hide.visits if ruler.column(v.starts) == column]
            if len(together) == 2 and not any(v.past_due for v in together):
                assert cells.marks[column] == "2"
                shared["2"] += 1
            elif len(together) == 2:
                assert cells.marks[column] in "◆▲"
                shared["late"] += 1
    assert all(shared.values())
