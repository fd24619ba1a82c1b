"""Closed days, extra openings, what comes again and time away, in two zones; and why, in words."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta, tzinfo
from typing import Any

import msgspec
import pytest
from dateutil.rrule import rrulestr
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.model.opening import (
    DatedOpening,
    DayRule,
    DaySpan,
    OpenRule,
    OpenSpan,
    TimeSpan,
)
from benchconsole.model.recurrence import Rule
from benchconsole.model.shop import Shop
from benchconsole.schedule.hours import SEARCH_DAYS, Hours
from benchconsole.schedule.windows import inside_hours

WEEK = tuple(OpenSpan(weekday=day, opens=time(8), closes=time(18)) for day in range(6))
"""Monday to Saturday."""
YEAR_END = DayRule(rule=Rule("FREQ=YEARLY;BYMONTH=12;BYMONTHDAY=24"), days=9)


def _utc(text: str) -> datetime:
    return datetime.fromisoformat(text).replace(tzinfo=UTC)


def _days(first: str, last: str = "") -> DaySpan:
    return DaySpan(first=date.fromisoformat(first), last=date.fromisoformat(last or first))


def _hours(zone: tzinfo = UTC, **said: Any) -> Hours:
    return Hours.of(Shop(**{"hours": WEEK, **said}), zone)


@pytest.mark.parametrize(
    ("said", "closing", "opening"),
    [
        ({"closed": (_days("2026-12-24", "2027-01-01"),)}, "2026-12-23 18:00", "2027-01-02 08:00"),
        ({"closed_by_rule": (YEAR_END,)}, "2026-12-23 18:00", "2027-01-02 08:00"),
        ({"away": (_days("2026-12-24", "2027-01-01"),)}, "2026-12-23 18:00", "2027-01-02 08:00"),
        (
            {"closed": (_days("2026-12-20", "2026-12-26"), _days("2026-12-25", "2026-12-29"))},
            "2026-12-19 18:00",
            "2026-12-30 08:00",
        ),
        (
            {
                "away_times": (
                    TimeSpan(start=_utc("2026-12-24 10:00"), end=_utc("2027-01-04 15:00")),
                )
            },
            "2026-12-24 10:00",
            "2027-01-04 15:00",
        ),
    ],
)
def test_nothing_is_open_over_the_years_end(
    said: dict[str, Any], closing: str, opening: str
) -> None:
    """Closed by date, by a yearly rule, away by days or from one moment to another."""
    hours, inside = _hours(**said), _utc("2026-12-28 12:00")
    assert not hours.is_open(inside)
    assert _utc(closing) == hours.last_open_before(inside)
    assert _utc(opening) == hours.next_open(inside)
    assert () == hours.between(_utc(closing), _utc(opening))


def test_a_yearly_closure_comes_every_year() -> None:
    """The ninth day lies in the next year, every time."""
    hours = _hours(closed_by_rule=(YEAR_END,))
    for year in (2026, 2027, 2028, 2040):
        assert () == hours.openings_on(date(year, 12, 24))
        assert () == hours.openings_on(date(year + 1, 1, 1))
        around = (date(year, 12, 23), date(year + 1, 1, 2))
        assert all(hours.openings_on(day) for day in around if day.weekday() != 6)


def test_an_opening_by_rule_stands_besides_the_week() -> None:
    """Every first Sunday is open, the others are not; leap day's month has its own first one."""
    first = OpenRule(rule=Rule("FREQ=MONTHLY;BYDAY=1SU"), opens=time(9), closes=time(12))
    hours = _hours(hours_by_rule=(first,))
    sundays = [date(2028, 2, 6) + timedelta(weeks=weeks) for weeks in range(5)]
    assert [True, False, False, False, True] == [bool(hours.openings_on(day)) for day in sundays]
    only = Hours.of(Shop(hours=(), hours_by_rule=(first,)), UTC)
    assert only.ever_open
    assert _utc("2028-03-05 09:00") == only.next_open(_utc("2028-02-06 12:00:01"))


def test_an_extra_opening_wins_over_a_closed_day_but_not_over_time_away() -> None:
    """On the closed day the extra opening alone stands; on another it comes to the day's own."""
    extra = (
        DatedOpening(day=date(2026, 12, 28), opens=time(10), closes=time(11)),
        DatedOpening(day=date(2026, 12, 22), opens=time(18), closes=time(20)),
    )
    closed = {"closed": (_days("2026-12-24", "2027-01-01"),), "extra": extra}
    hours = _hours(**closed)
    assert ((_utc("2026-12-28 10:00"), _utc("2026-12-28 11:00")),) == hours.openings_on(
        date(2026, 12, 28)
    )
    assert ((_utc("2026-12-22 08:00"), _utc("2026-12-22 20:00")),) == hours.openings_on(
        date(2026, 12, 22)
    )
    away = _hours(**closed, away=(_days("2026-12-28"),))
    assert () == away.openings_on(date(2026, 12, 28))


def test_time_away_cuts_an_opening_in_two() -> None:
    """Until the moment of leaving and from the moment of coming back the shop is open."""
    hours = _hours(
        away_times=(TimeSpan(start=_utc("2026-03-04 10:00"), end=_utc("2026-03-04 12:30")),)
    )
    expected = (
        (_utc("2026-03-04 08:00"), _utc("2026-03-04 10:00")),
        (_utc("2026-03-04 12:30"), _utc("2026-03-04 18:00")),
    )
    assert expected == hours.openings_on(date(2026, 3, 4))
    assert _utc("2026-03-04 10:00") == hours.open_until(_utc("2026-03-04 09:00"))
    assert hours.first_with_room(_utc("2026-03-04 09:00"), timedelta(hours=2)) == expected[1][0]


def test_time_away_ends_an_opening_past_midnight() -> None:
    """The first day away begins at midnight on the wall, also within an opening."""
    late = (OpenSpan(weekday=2, opens=time(20), closes=time(4)),)
    hours = Hours.of(Shop(hours=late, away=(_days("2026-03-05"),)), UTC)
    assert ((_utc("2026-03-04 20:00"), _utc("2026-03-05 00:00")),) == hours.openings_on(
        date(2026, 3, 4)
    )


@pytest.mark.parametrize(("place", "away_h"), [("berlin", 23), ("chicago", 24)])
def test_a_day_away_is_a_day_on_the_shops_walls(
    place: str, away_h: int, request: pytest.FixtureRequest
) -> None:
    """29 March 2026 has 23 hours in Berlin, whose clocks change then, and 24 in Chicago.

    Dates of the changes: the IANA time zone database, by way of the installed zone files.
    """
    always = tuple(OpenSpan(weekday=day, opens=time(0), closes=time(0)) for day in range(7))
    shop = Shop(hours=always, away=(_days("2026-03-29"),))
    hours = Hours.of(shop, request.getfixturevalue(place))
    gap = hours.next_gap(_utc("2026-03-27 12:00"))
    assert gap is not None
    assert timedelta(hours=away_h) == gap[1] - gap[0]
    assert (0, 0) == (hours.local(gap[0]).hour, hours.local(gap[1]).hour)


def test_another_zone_moves_openings_and_closed_days_but_not_moments(
    berlin: tzinfo, chicago: tzinfo
) -> None:
    """The same shop in two zones: the same days and wall times, and the same instants away."""
    away = TimeSpan(start=_utc("2026-03-11 12:00"), end=_utc("2026-03-11 15:00"))
    shop = Shop(
        hours=WEEK,
        closed=(_days("2026-03-05", "2026-03-07"),),
        closed_by_rule=(DayRule(rule=Rule("FREQ=MONTHLY;BYDAY=-1MO")),),
        extra=(DatedOpening(day=date(2026, 3, 6), opens=time(9), closes=time(10)),),
    )
    month = (_utc("2026-02-28 00:00"), _utc("2026-04-02 23:00"))
    walls = [
        {
            tuple(hours.local(at).replace(tzinfo=None) for at in opening)
            for opening in hours.between(*month)
            if date(2026, 3, 1) <= hours.local(opening[0]).date() <= date(2026, 3, 31)
        }
        for hours in (Hours.of(shop, berlin), Hours.of(shop, chicago))
    ]
    assert walls[0] == walls[1]
    # 26 working days, less Thursday to Saturday, less the last Monday, and one extra opening.
    assert 26 - 3 - 1 + 1 == len(walls[0])
    for zone in (berlin, chicago):
        hours = Hours.of(msgspec.structs.replace(shop, away_times=(away,)), zone)
        assert () == hours.between(away.start, away.end)
        assert hours.away_words(away.start, away.start) and not hours.away_words(away.end, away.end)


@pytest.mark.parametrize(
    ("at", "why"),
    [
        ("2026-03-04 12:00", ""),
        ("2026-03-04 20:00", "outside hours"),
        ("2026-03-08 12:00", "closed Sunday"),
        ("2026-12-28 12:00", "closed 24 Dec to 1 Jan"),
        ("2026-12-30 12:00", "outside hours"),
        ("2026-05-04 12:00", "closed 4 May"),
        ("2026-12-05 12:00", "you are away until Sunday 6 Dec"),
        ("2026-12-06 23:00", "you are away until Sunday 6 Dec"),
        ("2026-03-11 13:00", "you are away until Wednesday 11 Mar 15:00"),
    ],
)
def test_why_the_shop_is_closed(at: str, why: str) -> None:
    """In the words of the day: away, closed by date or rule, a weekday off, or just not now."""
    hours = _hours(
        closed=(_days("2026-12-24", "2027-01-01"),),
        closed_by_rule=(DayRule(rule=Rule("FREQ=MONTHLY;BYDAY=1MO")),),
        extra=(DatedOpening(day=date(2026, 12, 30), opens=time(10), closes=time(11)),),
        away=(_days("2026-12-03", "2026-12-06"),),
        away_times=(TimeSpan(start=_utc("2026-03-11 12:00"), end=_utc("2026-03-11 15:00")),),
    )
    assert why == hours.why_closed(_utc(at))


def test_a_reason_far_off_carries_its_year() -> None:
    """Seen from another year a date alone would be read as the nearest one."""
    hours = _hours(closed=(_days("2027-12-24", "2028-01-01"),))
    why = hours.why_closed(_utc("2027-12-28 12:00"), near=_utc("2026-03-04 12:00"))
    assert "closed 24 Dec 2027 to 1 Jan 2028" == why
    assert "the shop has no open hours" == Hours((), ()).why_closed(_utc("2027-12-28 12:00"))


def test_a_due_time_in_time_away_says_so() -> None:
    """The reason that moves a due time is that nobody is there, or the days the shop is shut."""
    earliest, due = _utc("2026-12-03 12:00"), _utc("2026-12-04 12:00")
    for said, why in (
        ({"away": (_days("2026-12-03", "2026-12-06"),)}, "you are away until Sunday 6 Dec"),
        ({"closed": (_days("2026-12-03", "2026-12-06"),)}, "closed 3 Dec to 6 Dec"),
        ({"closed": (_days("2026-12-04"),)}, "closed Friday"),
    ):
        window = inside_hours(earliest, due, None, _hours(**said))
        assert window.why.startswith(f"{why}; ")


def test_a_winter_without_the_shop_is_not_for_ever() -> None:
    """Four months shut: the next opening is found; shut beyond the search there is none."""
    hours = _hours(away=(_days("2026-11-15", "2027-03-15"),))
    assert _utc("2027-03-16 08:00") == hours.next_open(_utc("2026-11-20 12:00"))
    far = date(2026, 11, 15) + timedelta(days=SEARCH_DAYS + 3)
    hours = _hours(away=(DaySpan(first=date(2026, 11, 15), last=far),))
    assert hours.next_open(_utc("2026-11-15 12:00")) is None


_CLOSED_RULES = st.sampled_from(
    ["FREQ=MONTHLY;BYDAY=1MO", "FREQ=WEEKLY;BYDAY=WE", "FREQ=MONTHLY;BYMONTHDAY=-1"]
)
_YEAR = st.dates(date(2027, 12, 1), date(2028, 3, 15))
_SPAN = st.builds(
    lambda first, length: DaySpan(first=first, last=first + timedelta(days=length)),
    _YEAR,
    st.integers(0, 5),
)


@settings(max_examples=60, deadline=None)
@given(
    closed=st.lists(_SPAN, max_size=3),
    away=st.lists(_SPAN, max_size=3),
    extra=st.lists(_YEAR, max_size=5),
    rules=st.lists(_CLOSED_RULES, max_size=2, unique=True),
    length=st.integers(1, 3),
)
def test_open_is_what_was_said(
    closed: list[DaySpan], away: list[DaySpan], extra: list[date], rules: list[str], length: int
) -> None:
    """Hour by hour over a year's end and a leap day, against the statements taken one by one."""
    start, end = datetime(2027, 12, 1, tzinfo=UTC), datetime(2028, 3, 20, tzinfo=UTC)
    hours = _hours(
        closed=tuple(closed),
        away=tuple(away),
        extra=tuple(DatedOpening(day=day, opens=time(17), closes=time(20)) for day in extra),
        closed_by_rule=tuple(DayRule(rule=Rule(rule), days=length) for rule in rules),
    )
    off = {
        (first + timedelta(days=ahead)).date()
        for rule in rules
        for first in rrulestr(rule, dtstart=start - timedelta(days=40), cache=True).between(
            start - timedelta(days=9), end
        )
        for ahead in range(length)
    }
    at = start + timedelta(minutes=30)
    while at < end:
        day = at.date()
        shut = day in off or any(span.first <= day <= span.last for span in closed)
        said = day.weekday() < 6 and not shut and 8 <= at.hour < 18
        said = said or (day in extra and 17 <= at.hour < 20)
        said = said and not any(span.first <= day <= span.last for span in away)
        assert said == hours.is_open(at), at
        assert said == (hours.why_closed(at) == "")
        assert said == bool(hours.between(at, at + timedelta(minutes=1)))
        at += timedelta(hours=3)
