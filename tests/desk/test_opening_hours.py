"""Open hours as a line that people type: by the week, by what comes again, as printed."""

from __future__ import annotations

from datetime import date, time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.desk.opening_hours import hours_text, pieces, read_hours
from benchconsole.errors import BadInput
from benchconsole.model.opening import OpenRule, OpenSpan
from benchconsole.model.recurrence import Rule
from tests.desk.rules_to_type import AGAIN

TODAY = date(2026, 3, 4)


def span(day: int, opens: str, closes: str) -> OpenSpan:
    """An opening from its clock times."""
    return OpenSpan(weekday=day, opens=time.fromisoformat(opens), closes=time.fromisoformat(closes))


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ("Mon 8-17", [span(0, "08:00", "17:00")]),
        ("monday 8:30-17:15", [span(0, "08:30", "17:15")]),
        ("Mon–Tue 8–17", [span(0, "08:00", "17:00"), span(1, "08:00", "17:00")]),
        ("Mon - Tue 8 - 17", [span(0, "08:00", "17:00"), span(1, "08:00", "17:00")]),
        ("Sat 8-12 13-17", [span(5, "08:00", "12:00"), span(5, "13:00", "17:00")]),
        ("Sun-Mon 9-10", [span(0, "09:00", "10:00"), span(6, "09:00", "10:00")]),
        ("Tue 0-24", [span(1, "00:00", "00:00")]),
        ("Wed 8am-5pm", [span(2, "08:00", "17:00")]),
        ("Wed 8 am - 12 pm", [span(2, "08:00", "12:00")]),
        ("Thu 9-10; Thu 9-10", [span(3, "09:00", "10:00")]),
        ("daily 9-10", [span(day, "09:00", "10:00") for day in range(7)]),
    ],
)
def test_hours_as_people_write_them(typed: str, expected: list[OpenSpan]) -> None:
    """Names, ranges over the week's end, any dash, halves of the day, several openings a day."""
    assert (tuple(expected), ()) == read_hours(typed, TODAY)


@pytest.mark.parametrize(
    "typed",
    (
        *("8-17", "Mon", "Mon 8", "Mon 17-8", "Mon 8-25", "Mon 8:70-9", "Monkey 8-9", "M 8-9"),
        *("Mon 8-170", "Mon 108-17", "Mon 8-12-17", "Mon 13am-2pm", "Mon ٨-٩", "Mon 8-17 x", ","),
    ),
)
def test_hours_that_cannot_be_meant(typed: str) -> None:
    """Neither a guess nor half of it is kept."""
    with pytest.raises(BadInput, match="Mon-Fri 8-12, 13-17, Sat 9-13"):
        read_hours(typed, TODAY)


openings = st.builds(
    lambda day, start, length: OpenSpan(
        weekday=day,
        opens=time(start // 60, start % 60),
        closes=time((start + length) // 60 % 24, (start + length) % 60),
    ),
    st.integers(0, 6),
    st.integers(0, 1200),
    st.integers(1, 240),
)


@settings(max_examples=150, deadline=None)
@given(spans=st.sets(openings, min_size=1, max_size=12))
def test_hours_are_read_as_they_are_printed(spans: set[OpenSpan]) -> None:
    """Any week survives being printed and typed again."""
    week = tuple(sorted(spans, key=lambda one: (one.weekday, one.opens, one.closes)))
    assert (week, ()) == read_hours(hours_text(week), TODAY)


def test_times_after_a_comma_belong_to_the_days_before() -> None:
    """A lunch break is written once: "Mon-Tue 7:30-12, 13:15-17"."""
    expected = [
        span(0, "07:30", "12:00"),
        span(0, "13:15", "17:00"),
        span(1, "07:30", "12:00"),
        span(1, "13:15", "17:00"),
    ]
    assert (tuple(expected), ()) == read_hours("Mon-Tue 7:30-12, 13:15-17", TODAY)
    with pytest.raises(BadInput, match="names no day"):
        read_hours("8-12, Mon 13-17", TODAY)


def by_rule(rule: str, opens: int, closes: int, starts: date | None = None) -> OpenRule:
    """An opening by a rule, from hour to hour."""
    return OpenRule(rule=Rule(rule), starts=starts, opens=time(opens), closes=time(closes))


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ("first Sunday 9-12", [by_rule("FREQ=MONTHLY;BYDAY=1SU", 9, 12)]),
        ("every last Friday of the month 9-12", [by_rule("FREQ=MONTHLY;BYDAY=-1FR", 9, 12)]),
        (
            "2nd sat of the month 9-12, 13-15",
            [
                by_rule("FREQ=MONTHLY;BYDAY=2SA", 9, 12),
                by_rule("FREQ=MONTHLY;BYDAY=2SA", 13, 15),
            ],
        ),
        (
            "every other Saturday 9-12",
            [by_rule("FREQ=WEEKLY;INTERVAL=2;BYDAY=SA", 9, 12, date(2026, 3, 7))],
        ),
        (
            "every other Saturday from 3 Jan 2026 9-12",
            [by_rule("FREQ=WEEKLY;INTERVAL=2;BYDAY=SA", 9, 12, date(2026, 1, 3))],
        ),
        (
            "RRULE:FREQ=MONTHLY;BYDAY=1SA,3SA 9-12",
            [by_rule("FREQ=MONTHLY;BYDAY=1SA,3SA", 9, 12)],
        ),
        (
            "rrule:freq=daily;interval=3 from 1 Mar 2026 8 am - 9 am",
            [by_rule("FREQ=DAILY;INTERVAL=3", 8, 9, date(2026, 3, 1))],
        ),
        ("RRULE:FREQ=WEEKLY 8-9", [by_rule("FREQ=WEEKLY", 8, 9, TODAY)]),
    ],
)
def test_openings_that_come_again(typed: str, expected: list[OpenRule]) -> None:
    """In words or as a rule; a rule that counts from a day counts from today if none is named."""
    assert ((), tuple(expected)) == read_hours(typed, TODAY)


def test_the_week_and_what_comes_again_stand_in_one_line() -> None:
    """Each part of the line is read by itself; “every Monday” is the week's own Monday."""
    weekly, again = read_hours("Open: every Monday 8-12, first Sunday 9-12; Tue 8-12", TODAY)
    assert (span(0, "08:00", "12:00"), span(1, "08:00", "12:00")) == weekly
    assert (by_rule("FREQ=MONTHLY;BYDAY=1SU", 9, 12),) == again


@pytest.mark.parametrize(
    ("typed", "fault"),
    [
        ("every second Monday 8-12", "may mean two things"),
        ("every 24 Dec - 1 Jan 8-12", "opens for days on end"),
        ("RRULE:FREQ=SECONDLY 8-12", "comes SECONDLY"),
        ("RRULE:FREQ=DAILY;BYHOUR=8 8-12", "clock times are typed beside the rule"),
        ("RRULE:FREQ=DAILY", "gives no times"),
        ("first Sunday", "gives no times"),
        ("first Sunday 12-9", "does not open before it closes"),
        ("first 8-12", "names no day"),
    ],
)
def test_what_comes_again_and_cannot_be_meant(typed: str, fault: str) -> None:
    """Refused in one sentence with what is wrong and an example."""
    with pytest.raises(BadInput, match=f"^hours: “.*” .*{fault}.*; for example Mon"):
        read_hours(typed, TODAY)


def test_a_line_is_cut_between_rules_and_dates() -> None:
    """Commas and semicolons within a rule, and that of an American date, do not cut."""
    typed = "Mon 8-9, RRULE:FREQ=MONTHLY;BYDAY=1MO,2MO, May 3, 2027; 3 May, 2026-12-24"
    expected = ["Mon 8-9", "RRULE:FREQ=MONTHLY;BYDAY=1MO,2MO", "May 3 2027", "3 May", "2026-12-24"]
    assert expected == pieces(typed)


openings_by_rule = st.builds(
    lambda again, start, length: OpenRule(
        rule=again.rule,
        starts=again.starts,
        opens=time(start // 60, start % 60),
        closes=time((start + length) // 60 % 24, (start + length) % 60),
    ),
    AGAIN,
    st.integers(0, 1200),
    st.integers(1, 240),
)


@settings(max_examples=150, deadline=None)
@given(opened=st.lists(openings_by_rule, min_size=1, max_size=4))
def test_rules_are_read_as_they_are_printed(opened: list[OpenRule]) -> None:
    """Any openings by rule survive being printed and typed again, as soon as they are in order."""
    _, once = read_hours(hours_text((), opened), TODAY)
    assert set(opened) == set(once)
    assert ((), once) == read_hours(hours_text((), once), TODAY)
