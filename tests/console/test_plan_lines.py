"""The plan in writing: what is too late first, days in order, reasons near, less of what is far."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, timedelta

import msgspec
from dateutil import tz

from benchconsole.console.screens.plan_lines import plan_lines
from benchconsole.console.screens.plan_words import from_to
from benchconsole.schedule.planning.plans import Given, Plan, Round
from tests.console.small_plan import open_hours, openings_between, small_plan

NOW = datetime(2026, 3, 18, 13, 20, tzinfo=UTC)
BERLIN = tz.gettz("Europe/Berlin")
assert BERLIN is not None
MONTHS = ("January", "February", "March", "April", "May")
PLAN = small_plan(NOW, zone=BERLIN)


def texts(plan: Plan = PLAN, now: datetime = NOW) -> list[str]:
    """The lines as plain text."""
    return [line.text for line in plan_lines(plan, now, BERLIN)]


def section(head: str) -> list[str]:
    """The lines under a heading, up to the next one."""
    lines = plan_lines(PLAN, NOW, BERLIN)
    first = next(p for p, line in enumerate(lines) if line.look == "head" and head in line.text)
    found: list[str] = []
    for line in lines[first + 1 :]:
        if line.look == "head":
            break
        found.append(line.text)
    return found


def test_what_is_too_late_stands_first_and_marked() -> None:
    """Every visit past its latest time, with mark and words, before any day."""
    lines = plan_lines(PLAN, NOW, BERLIN)
    assert lines[0].text == "PAST THE LATEST TIME"
    late = [visit for visit in PLAN.visits if visit.past_latest]
    shown = [line for line in section("PAST THE LATEST") if line.startswith("▲ ")]
    assert late and len(shown) == len(late)
    for visit, line in zip(late, shown, strict=True):
        assert line.startswith(f"▲ {visit.hide_name}, {visit.stage_name}: ")
        assert line.endswith(" past its latest time")
    assert all(line.look == "overdue" for line in lines if line.text in shown)
    assert section("NOT PLANNED")[0].startswith("? Deer of last year: its route")


def test_every_visit_and_round_stands_under_its_day_in_order() -> None:
    """Near days in full, later ones short; none is left out, none twice."""
    lines = plan_lines(PLAN, NOW, BERLIN)
    heads = [line.text for line in lines if line.look == "head"]
    today = heads.index("TODAY, Wednesday 18 March")
    assert heads[today + 1] == "TOMORROW, Thursday 19 March"
    for head in heads[today:]:
        day = _day(head)
        visits = [v for v in PLAN.visits if v.starts.astimezone(BERLIN).date() == day]
        spans = [
            f"{v.starts.astimezone(BERLIN):%H:%M}-{v.ends.astimezone(BERLIN):%H:%M}" for v in visits
        ]
        begun = [line[:11] for line in section(head) if re.match(r"\d\d:\d\d-", line)]
        assert begun == spans
        rounds = [r for r in PLAN.rounds if r.at.astimezone(BERLIN).date() == day]
        clocks = [f"{r.at.astimezone(BERLIN):%H:%M}" for r in rounds]
        words = "\n".join(line for line in section(head) if "ound" in line)
        assert all(clock in words for clock in clocks)
    days = {v.starts.astimezone(BERLIN).date() for v in PLAN.visits}
    assert days <= {_day(head) for head in heads[today:]}


def _day(head: str) -> date:
    """The day of a heading: TODAY, Wednesday 18 March."""
    number, month = head.split()[-2:]
    return date(2026, MONTHS.index(month.title()) + 1, int(number))


def test_a_near_day_says_hours_vessel_reason_and_round() -> None:
    """Open hours (of today what is left), what to do, where into, why it was moved."""
    today = section("TODAY")
    assert today[0] == "open until 18:00"
    assert section("TOMORROW")[0] == "open 08:00 to 12:00, 13:00 to 18:00"
    assert "14:20-14:35  ● Brown goat, Soak: begin, into: tub" in today
    assert any(line.strip() == "do: Sink the hide in cool water. (15 min)" for line in today)
    assert any(line.strip().startswith("moved: the shop is closed then") for line in today)
    walk = next(p for p, line in enumerate(today) if re.match(r"16:10 +• Round", line))
    assert today[walk + 1].endswith(": Stir and push under.")
    assert any(line.strip() == "have ready: salt, alum, a clean paddle" for line in today)
    later = section("MONDAY 23 MARCH")
    assert not any("moved" in line or "do:" in line for line in later)


def test_the_same_round_again_is_one_line() -> None:
    """A hide worked every half hour fills no page; a round with a reason stands by itself."""
    given = Given(hide="kid", hide_name="Kid", stage="break", attention=0, do="Work it.")
    rounds = tuple(
        Round(
            at=NOW + timedelta(minutes=30 * turn),
            gives=(given,),
            latest=NOW + timedelta(hours=9),
            why="the hands are at a visit then" if turn == 2 else "",
        )
        for turn in range(4)
    )
    plan = Plan(made_at=NOW, until=NOW + timedelta(days=1), hides=(), openings=(), rounds=rounds)
    assert [line.split("•")[1].strip() for line in texts(plan) if "•" in line] == [
        "Round, and again 14:50, 15:50",
        "Round",
    ]


def test_a_quiet_or_closed_day_says_so() -> None:
    """Saturday, when nothing is planned, and Sunday, when the shop is shut."""
    friday = datetime(2026, 3, 20, 18, tzinfo=UTC)
    openings = openings_between(open_hours(BERLIN), friday, friday + timedelta(days=9))
    plan = Plan(made_at=friday, until=friday + timedelta(days=9), hides=(), openings=openings)
    lines = texts(msgspec.structs.replace(plan), friday)
    assert lines == ["TODAY, Friday 20 March", "closed", "nothing is planned"]
    visit = msgspec.structs.replace(
        PLAN.visits[0],
        starts=friday + timedelta(days=2, hours=14),
        ends=friday + timedelta(days=2, hours=15),
    )
    hide = msgspec.structs.replace(PLAN.hides[0], visits=(visit,))
    lines = texts(msgspec.structs.replace(plan, hides=(hide,)), friday)
    assert lines[lines.index("TOMORROW, Saturday 21 March") + 1] == "open 09:00 to 13:00"
    assert lines[lines.index("SUNDAY 22 MARCH") + 1] == "closed"


def test_the_year_is_said_when_it_turns() -> None:
    """A day of next year has its year."""
    now = datetime(2026, 12, 30, 9, tzinfo=UTC)
    plan = small_plan(now, zone=BERLIN)
    assert "MONDAY 4 JANUARY 2027" in texts(plan, now)


def test_a_span_over_the_clock_change_is_as_long_as_it_is() -> None:
    """From Saturday 18:00 to Sunday 18:00 on the wall are 23 hours at the end of March."""
    begins = datetime(2026, 3, 28, 17, tzinfo=UTC)
    ends = datetime(2026, 3, 29, 16, tzinfo=UTC)
    assert from_to(begins, ends, begins, BERLIN) == "18:00 to Sun 18:00, 23 h"
