"""Closed days, extra openings and time away as people type them."""

from __future__ import annotations

from datetime import UTC, date, datetime, time

import pytest
from dateutil import tz

from benchconsole.desk.days_off import (
    away_text,
    closed_text,
    extra_text,
    read_away,
    read_closed,
    read_extra,
)
from benchconsole.errors import BadInput
from benchconsole.model.opening import DatedOpening, DayRule, DaySpan, TimeSpan
from benchconsole.model.recurrence import Rule

TODAY = date(2026, 3, 4)


def days(first: str, last: str = "") -> DaySpan:
    """Days from one to another, or one day."""
    return DaySpan(first=date.fromisoformat(first), last=date.fromisoformat(last or first))


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ("3 May", days("2026-05-03")),
        ("May 3rd", days("2026-05-03")),
        ("Closed: 3. May", days("2026-05-03")),
        ("3 March", days("2027-03-03")),
        ("4 March", days("2026-03-04")),
        ("24 Dec - 1 Jan", days("2026-12-24", "2027-01-01")),
        ("24 Dec–1 Jan", days("2026-12-24", "2027-01-01")),
        ("Dec 24, 2027 to Jan 1", days("2027-12-24", "2028-01-01")),
        ("24 Dec - 1 Jan 2030", days("2029-12-24", "2030-01-01")),
        ("1 Mar - 5 Mar", days("2026-03-01", "2026-03-05")),
        ("28 Feb - 3 Mar", days("2027-02-28", "2027-03-03")),
        ("3-6 Dec", days("2026-12-03", "2026-12-06")),
        ("Dec 3 - 6", days("2026-12-03", "2026-12-06")),
        ("3-6 Dec 2025", days("2025-12-03", "2025-12-06")),
        ("29 Feb", days("2028-02-29")),
        ("2026-12-24", days("2026-12-24")),
        ("2026-12-24 - 2027-01-01", days("2026-12-24", "2027-01-01")),
        ("Sun 6 Dec", days("2026-12-06")),
    ],
)
def test_closed_days_as_people_write_them(typed: str, expected: DaySpan) -> None:
    """Either order, any dash; without a year the next that is not yet over."""
    assert ((expected,), ()) == read_closed(typed, TODAY)


@pytest.mark.parametrize(
    ("typed", "rule", "length"),
    [
        ("every first Monday", "FREQ=MONTHLY;BYDAY=1MO", 1),
        ("every Monday", "FREQ=WEEKLY;BYDAY=MO", 1),
        ("last Monday of May", "FREQ=YEARLY;BYMONTH=5;BYDAY=-1MO", 1),
        ("every fourth Thursday of November", "FREQ=YEARLY;BYMONTH=11;BYDAY=4TH", 1),
        ("3rd Wed of the month", "FREQ=MONTHLY;BYDAY=3WE", 1),
        ("every 25 Dec", "FREQ=YEARLY;BYMONTH=12;BYMONTHDAY=25", 1),
        ("every 24 Dec - 1 Jan", "FREQ=YEARLY;BYMONTH=12;BYMONTHDAY=24", 9),
        ("RRULE:FREQ=MONTHLY;BYDAY=1MO", "FREQ=MONTHLY;BYDAY=1MO", 1),
        ("RRULE:FREQ=YEARLY;BYMONTH=8;BYDAY=1MO for 5 days", "FREQ=YEARLY;BYMONTH=8;BYDAY=1MO", 5),
    ],
)
def test_closed_days_that_come_again(typed: str, rule: str, length: int) -> None:
    """In words or as a rule of RFC 5545, which is what is kept."""
    assert ((), (DayRule(rule=Rule(rule), days=length),)) == read_closed(typed, TODAY)


def test_yearly_days_over_the_end_of_february_are_told_apart() -> None:
    """27 Feb to 2 Mar are four or five days: each piece falls where it was said, every year."""
    spans, rules = read_closed("every 27 Feb - 2 Mar", TODAY)
    printed = "every 27 Feb - 28 Feb, every 29 Feb, every 1 Mar - 2 Mar"
    assert ((), printed) == (spans, closed_text(spans, rules))
    assert (spans, rules) == read_closed(printed, TODAY)


def test_closed_days_are_printed_with_their_year() -> None:
    """What is printed means the same next year too; days by date stand first."""
    typed = "every first Monday, 3 May, 24 Dec - 1 Jan, 3-6 Aug, 28 Sep - 2 Oct"
    printed = (
        "3 May 2026, 3-6 Aug 2026, 28 Sep - 2 Oct 2026, 24 Dec 2026 - 1 Jan 2027, "
        "every first Monday"
    )
    read = read_closed(typed, TODAY)
    assert printed == closed_text(*read)
    assert read == read_closed(printed, date(2031, 1, 1))


@pytest.mark.parametrize(
    ("typed", "fault"),
    [
        ("tomorrow", "names no day such as"),
        ("24/12", "names no day such as"),
        ("30 Feb", "names a day that no calendar has"),
        ("29 Feb 2027", "names a day that no calendar has"),
        ("3 Mayor", "names no month"),
        ("Mon 6 Dec", "does not fit: 6 Dec 2026 is a Sunday"),
        ("6-3 Dec", "ends before it begins"),
        ("6 Dec - 3 Dec", "ends before it begins"),
        ("24 Dec 2026 - 1 Dec 2026", "ends before it begins"),
        ("3 May 1890", "names a year that is not from 1970 to 2199"),
        (
            "every second Monday",
            "may mean two things: write “second Monday of the month” or “every other Monday”",
        ),
        ("every 3 May 2026", "comes every year and yet names one"),
        ("every 1 Jan - 30 Dec", "takes more than 100 days"),
        ("every moonday", "names no day"),
        ("every day", "names no day"),
        ("RRULE:FREQ=HOURLY", "comes HOURLY, and nothing here comes oftener than daily"),
        ("RRULE:FREQ=DAILY at noon", "says more than a rule"),
        ("RRULE:FREQ=DAILY for 101 days", "takes other than 1 to 100 days"),
        ("RRULE:FREQ=MONTHLY;BYDAY=1XX", "needs BYDAY as days such as MO"),
    ],
)
def test_closed_days_that_cannot_be_meant(typed: str, fault: str) -> None:
    """One sentence with the part at fault and an example."""
    with pytest.raises(BadInput, match=f"^closed: “.*” ({fault}).*; for example 24 Dec - 1 Jan"):
        read_closed(f"3 May, {typed}", TODAY)


def test_extra_openings_as_people_write_them() -> None:
    """A day with its times; times alone go on with the day before, several days open alike."""
    expected = (
        DatedOpening(day=date(2026, 12, 6), opens=time(9), closes=time(12)),
        DatedOpening(day=date(2026, 12, 6), opens=time(13), closes=time(15, 30)),
        DatedOpening(day=date(2026, 12, 12), opens=time(8), closes=time(0)),
        DatedOpening(day=date(2026, 12, 13), opens=time(8), closes=time(0)),
    )
    read = read_extra("extra: 12-13 Dec 8-24, Sun 6 Dec 9 am - 12 pm, 13-15:30", TODAY)
    assert expected == read
    printed = "Sun 6 Dec 2026 9-12 13-15:30, Sat 12 Dec 2026 8-24, Sun 13 Dec 2026 8-24"
    assert printed == extra_text(read)
    assert expected == read_extra(printed, date(2031, 1, 1))


@pytest.mark.parametrize(
    ("typed", "fault"),
    [
        ("6 Dec", "gives no times"),
        ("9-12", "names no day"),
        ("6 Dec 12-9", "does not open before it closes"),
        ("1 Jan - 3 Feb 9-12", "opens more than 31 days"),
        ("every first Sunday 9-12", "comes again: type it with the open hours"),
        ("6 Dec 9-25", "holds a time that no clock shows"),
    ],
)
def test_extra_openings_that_cannot_be_meant(typed: str, fault: str) -> None:
    """One sentence with the part at fault and an example."""
    with pytest.raises(BadInput, match=f"^extra: “.*” {fault}.*; for example 6 Dec 9-12"):
        read_extra(typed, TODAY)


def test_time_away_as_people_write_it() -> None:
    """Whole days stay days; with clock times they are moments, by the walls of the shop."""
    chicago = tz.gettz("America/Chicago")
    assert chicago is not None
    spans, moments = read_away(
        "away: 3-6 Dec, 9 Mar 14:00 - 10 Mar 9am, 11 Mar 2pm - 6pm, 12 Mar 8:00 - 13 Mar",
        TODAY,
        chicago,
    )
    assert (days("2026-12-03", "2026-12-06"),) == spans
    # Chicago is on summer time from 8 March 2026: UTC - 5 h (IANA time zone database).
    expected = [(9, 19, 10, 14), (11, 19, 11, 23), (12, 13, 14, 5)]
    assert [
        TimeSpan(
            start=datetime(2026, 3, day, hour, tzinfo=UTC),
            end=datetime(2026, 3, last, end, tzinfo=UTC),
        )
        for day, hour, last, end in expected
    ] == list(moments)
    assert (spans, moments) == read_away(away_text(spans, moments, chicago), TODAY, chicago)


def test_a_moment_that_the_walls_cannot_tell_is_printed_as_an_instant() -> None:
    """The second 01:30 of an autumn night is told in UTC, and read back as such."""
    chicago = tz.gettz("America/Chicago")
    assert chicago is not None
    span = TimeSpan(
        start=datetime(2026, 11, 1, 7, 30, tzinfo=UTC), end=datetime(2026, 11, 2, tzinfo=UTC)
    )
    printed = away_text((), (span,), chicago)
    assert printed.startswith("2026-11-01T07:30:00")
    assert ((), (span,)) == read_away(printed, TODAY, chicago)


@pytest.mark.parametrize(
    ("typed", "fault"),
    [
        ("9 Mar 14:00", "names no day such as"),
        ("9 Mar 14:00 - 12:00", "ends before it begins"),
        ("9 Mar 25:00 - 10 Mar", "holds a time that no clock shows"),
        ("every Monday", "comes again: type it with the closed days"),
        ("2026-03-09T10:00Z - 2026-03-09T09:00Z", "ends before it begins"),
        ("2026-03-09T99:00Z - 2026-03-09T09:00Z", "holds a moment that no calendar has"),
    ],
)
def test_time_away_that_cannot_be_meant(typed: str, fault: str) -> None:
    """One sentence with the part at fault and an example."""
    with pytest.raises(BadInput, match=f"^away: “.*” {fault}.*; for example 3-6 Dec"):
        read_away(typed, TODAY, UTC)
