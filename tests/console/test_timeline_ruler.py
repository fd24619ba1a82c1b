"""The ruler: elapsed columns under wall-clock labels, over clock changes, month and year ends."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta, tzinfo

import pytest
from dateutil import tz
from hypothesis import example, given
from hypothesis import strategies as st

from benchconsole.console.widgets.timeline_ruler import (
    DAY,
    HOUR,
    STEPS,
    Ruler,
    aligned,
    labelled,
    midnight,
)

ZONES = ("UTC", "Europe/Berlin", "America/Chicago", "Australia/Lord_Howe", "Asia/Kathmandu")
"""Also one whose clocks change by half an hour, and one that is off by three quarters of one."""


def zone_of(name: str) -> tzinfo:
    """A zone by its name."""
    zone = tz.gettz(name)
    assert zone is not None
    return zone


BERLIN = zone_of("Europe/Berlin")

zones = st.sampled_from([zone_of(name) for name in ZONES])
steps = st.sampled_from(STEPS)
instants = st.integers(0, 3 * 365 * 96).map(
    lambda quarters: datetime(2025, 1, 1, tzinfo=UTC) + quarters * HOUR / 4
)


@given(instants, steps, st.integers(1, 200), zones)
def test_a_column_holds_what_begins_in_it(
    instant: datetime, step: timedelta, columns: int, zone: tzinfo
) -> None:
    """From its first moment to before the next column's, and to no other."""
    ruler = Ruler(aligned(instant, step, zone), step, columns, zone)
    for column in (0, columns // 2, columns - 1):
        assert ruler.column(ruler.begins(column)) == column
        assert ruler.column(ruler.begins(column + 1) - timedelta.resolution) == column
        assert ruler.column_after(ruler.begins(column)) == column
        assert ruler.column_after(ruler.begins(column) + timedelta.resolution) == column + 1


@given(instants, steps, zones)
@example(datetime(2025, 10, 26, 19, tzinfo=UTC), 6 * HOUR, BERLIN)
def test_the_left_edge_is_near_and_on_whole_steps(
    instant: datetime, step: timedelta, zone: tzinfo
) -> None:
    """At most half a step away, a whole number of steps after midnight, and stays there."""
    left = aligned(instant, step, zone)
    # Where the day before has 23 hours its last step is a shorter one.
    assert abs(left - instant) <= step / 2 + HOUR
    local = left.astimezone(zone)
    assert (left - midnight(local.date(), zone)) % step == timedelta(0)
    assert aligned(left, step, zone) == left


@given(instants, steps, st.integers(2, 250), zones)
def test_every_label_stands_over_its_own_time(
    instant: datetime, step: timedelta, columns: int, zone: tzinfo
) -> None:
    """Each column's day is the one its middle lies in; lines are as long as there are columns."""
    ruler = Ruler(aligned(instant, step, zone), step, columns, zone)
    days = ruler.day_columns()
    begun = dict(days)
    shown = date.min
    for column in range(columns):
        shown = begun.get(column, shown)
        assert shown == (ruler.begins(column) + step / 2).astimezone(zone).date()
    assert len(ruler.upper_line()) == len(ruler.lower_line()) == columns


@pytest.mark.parametrize(
    ("day", "hours", "to_six"),
    [
        (date(2026, 3, 28), 24, 5),
        (date(2026, 3, 29), 23, 6),
        (date(2026, 10, 24), 24, 7),
        (date(2026, 10, 25), 25, 6),
    ],
)
def test_a_day_takes_the_columns_of_its_hours(day: date, hours: int, to_six: int) -> None:
    """23 in spring, 25 in autumn; German clocks change at 01:00 UTC on those Sundays."""
    ruler = Ruler(midnight(day, BERLIN), HOUR, 48, BERLIN)
    assert ruler.day_columns()[:2] == [(0, day), (hours, day + DAY)]
    line = ruler.lower_line()
    six = hours - 18
    assert line[six : six + 5] == "06:00"
    assert line[hours : hours + 2] == "00"
    assert line[hours + to_six : hours + to_six + 5] == "06:00"


def test_the_hour_that_comes_twice_is_named_twice() -> None:
    """Autumn, a quarter of an hour a column: 02:00 stands on the wall two times, an hour apart."""
    ruler = Ruler(midnight(date(2026, 10, 25), BERLIN), HOUR / 4, 8 * 4, BERLIN)
    assert ruler.lower_line() == "00:00   02  02:00   04:00   06  "


def test_the_hour_that_is_skipped_is_not_named() -> None:
    """Spring: 02:00 never stands on the wall, and 04:00 follows three hours after midnight."""
    ruler = Ruler(midnight(date(2026, 3, 29), BERLIN), HOUR / 4, 24, BERLIN)
    assert ruler.lower_line() == "00:00       04:00   06  "


def test_month_and_year_ends_are_named() -> None:
    """Columns of a day over the turn of the year: months with their years, weeks by Mondays."""
    ruler = Ruler(midnight(date(2026, 12, 20), BERLIN), DAY, 60, BERLIN)
    upper, lower = ruler.upper_line(), ruler.lower_line()
    assert upper.startswith("Dec 2026    January 2027")
    assert upper.index("January 2027") == 12
    assert upper.index("February 2027") == 43
    assert lower.index("Mon 21") == 1
    assert lower.index("Mon 4") == 15


def test_columns_of_hours_name_day_month_and_year() -> None:
    """The day at the left edge is named even though it began before."""
    ruler = Ruler(datetime(2026, 12, 31, 17, tzinfo=UTC), HOUR, 60, UTC)
    assert ruler.upper_line().startswith("Thu 31 Friday 1 January 2027")
    assert ruler.lower_line().startswith(" 18:00 00:00 06:00")


def test_three_hours_a_column_name_every_day() -> None:
    """Weekday and number over eight columns each, the month above."""
    ruler = Ruler(datetime(2026, 4, 29, tzinfo=UTC), 3 * HOUR, 40, UTC)
    assert ruler.lower_line().split("  ")[:4] == ["Wed 29", "Thu 30", "Fri 1", " Sat 2"]
    assert ruler.upper_line().startswith("April 2026      May 2026")


def test_a_midnight_that_is_skipped_begins_the_day_at_its_first_moment() -> None:
    """In Beirut the clocks go forward at midnight, so that day begins at 01:00."""
    beirut = zone_of("Asia/Beirut")
    begins = midnight(date(2026, 3, 29), beirut)
    assert begins == datetime(2026, 3, 28, 22, tzinfo=UTC)
    assert f"{begins.astimezone(beirut):%d %H:%M}" == "29 01:00"


@given(
    st.lists(st.tuples(st.integers(0, 60), st.sampled_from(["a", "bcd", "efghij"])), max_size=12),
    st.integers(1, 60),
)
def test_labels_never_touch(labels: list[tuple[int, str]], width: int) -> None:
    """What is written is whole labels at their own columns with a gap between, or nothing."""
    placed = sorted(dict(labels).items())
    line = labelled([(column, (text,)) for column, text in placed if column < width], width)
    assert len(line) == width
    for column, text in placed:
        if column < width and line[column] != " " and (column == 0 or line[column - 1] == " "):
            assert line[column : column + len(text) + 1].rstrip() == text
    assert set(line.split()) <= {text for _, text in placed}
