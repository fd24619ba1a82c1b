"""Open hours as instants: boundaries, merging, closed days, and both clock changes."""

from __future__ import annotations

import itertools
from datetime import UTC, date, datetime, time, timedelta, tzinfo

import pytest
from dateutil import tz
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.model.shop import OpenSpan, Shop
from benchconsole.schedule.hours import SEARCH_DAYS, Hours

MONDAY = date(2026, 3, 2)


def _span(weekday: int, opens: str, closes: str) -> OpenSpan:
    return OpenSpan(
        weekday=weekday, opens=time.fromisoformat(opens), closes=time.fromisoformat(closes)
    )


def _utc(text: str) -> datetime:
    return datetime.fromisoformat(text).replace(tzinfo=UTC)


@pytest.mark.parametrize(
    ("at", "open_then"),
    [
        ("2026-03-02 07:59", False),
        ("2026-03-02 08:00", True),
        ("2026-03-02 18:00", True),
        ("2026-03-02 18:00:01", False),
        ("2026-03-01 12:00", False),
    ],
)
def test_both_ends_of_an_opening_count_as_open(hours: Hours, at: str, open_then: bool) -> None:
    """The door is open from the moment of opening to the moment of closing, both included."""
    assert open_then == hours.is_open(_utc(at))


@pytest.mark.parametrize(
    ("at", "following", "before"),
    [
        ("2026-03-02 12:00", "2026-03-02 12:00", "2026-03-02 12:00"),
        ("2026-03-02 20:00", "2026-03-03 08:00", "2026-03-02 18:00"),
        ("2026-03-01 12:00", "2026-03-02 08:00", "2026-02-28 18:00"),
        ("2027-12-31 23:00", "2028-01-01 08:00", "2027-12-31 18:00"),
        ("2028-02-28 23:00", "2028-02-29 08:00", "2028-02-28 18:00"),
        ("2028-02-29 18:30", "2028-03-01 08:00", "2028-02-29 18:00"),
    ],
)
def test_the_nearest_open_moments(hours: Hours, at: str, following: str, before: str) -> None:
    """Next and last open moment: itself if open, over a Sunday, a year's end and a leap day."""
    assert _utc(following) == hours.next_open(_utc(at))
    assert _utc(before) == hours.last_open_before(_utc(at))


@pytest.mark.parametrize(
    ("at", "shut", "opens"),
    [
        ("2026-03-02 12:00", "2026-03-02 18:00", "2026-03-03 08:00"),
        ("2026-03-02 18:00", "2026-03-02 18:00", "2026-03-03 08:00"),
        ("2026-03-02 20:00", "2026-03-02 20:00", "2026-03-03 08:00"),
        ("2026-03-07 09:00", "2026-03-07 18:00", "2026-03-09 08:00"),
    ],
)
def test_the_closed_time_that_comes(hours: Hours, at: str, shut: str, opens: str) -> None:
    """From closing to opening, over a Sunday too; what is left of it when it has begun."""
    assert (_utc(shut), _utc(opens)) == hours.next_gap(_utc(at))


def test_a_shop_that_never_closes_or_never_opens_has_no_closed_time(always: Hours) -> None:
    """Nobody goes home from the one, and nobody comes to the other."""
    assert always.next_gap(_utc("2026-03-02 12:00")) is None
    assert Hours((), (), UTC).next_gap(_utc("2026-03-02 12:00")) is None


def test_overlapping_and_touching_openings_are_one() -> None:
    """Openings may be typed in pieces and in any order."""
    pieces = [_span(0, "12:00", "15:00"), _span(0, "08:00", "12:00"), _span(0, "14:00", "18:00")]
    hours = Hours([*pieces, _span(0, "20:00", "21:00")], (), UTC)
    expected = (
        (_utc("2026-03-02 08:00"), _utc("2026-03-02 18:00")),
        (_utc("2026-03-02 20:00"), _utc("2026-03-02 21:00")),
    )
    assert expected == hours.openings_on(MONDAY)
    assert _utc("2026-03-02 18:00") == hours.open_until(_utc("2026-03-02 12:00"))
    assert hours.open_until(_utc("2026-03-02 19:00")) is None


def test_closing_at_midnight_is_the_end_of_the_day() -> None:
    """00:00 closes the day it belongs to; openings that meet at midnight are followed on."""
    hours = Hours([_span(0, "08:00", "00:00"), _span(1, "00:00", "02:00")], (), UTC)
    assert hours.is_open(_utc("2026-03-02 23:59"))
    assert _utc("2026-03-03 02:00") == hours.open_until(_utc("2026-03-02 09:00"))
    assert _utc("2026-03-03 02:00") == hours.open_until(_utc("2026-03-03 00:00"))


def test_an_opening_past_midnight_runs_into_the_next_day() -> None:
    """A closing before its opening lies on the next day, and outlasts a short one inside it."""
    hours = Hours([_span(0, "22:00", "04:00"), _span(1, "01:00", "02:00")], (), UTC)
    assert hours.is_open(_utc("2026-03-03 03:00"))
    assert _utc("2026-03-03 04:00") == hours.last_open_before(_utc("2026-03-03 12:00"))
    assert _utc("2026-03-03 04:00") == hours.open_until(_utc("2026-03-02 23:00"))
    assert _utc("2026-03-03 04:00") == hours.open_until(_utc("2026-03-03 01:30"))


def test_a_closed_day_has_no_opening(weekday_spans: tuple[OpenSpan, ...]) -> None:
    """A holiday is skipped in both directions."""
    hours = Hours(weekday_spans, (MONDAY,), UTC)
    assert _utc("2026-03-03 08:00") == hours.next_open(_utc("2026-03-02 09:00"))
    assert _utc("2026-02-28 18:00") == hours.last_open_before(_utc("2026-03-02 09:00"))


def test_a_shop_that_is_never_open() -> None:
    """No hours at all, or closed all through the search: None, and at once."""
    shut = [MONDAY + timedelta(days=days) for days in range(-SEARCH_DAYS - 3, SEARCH_DAYS + 4)]
    for hours in (Hours((), (), UTC), Hours([_span(0, "08:00", "18:00")], shut, UTC)):
        noon = _utc("2026-03-02 12:00")
        assert not hours.is_open(noon)
        assert hours.next_open(noon) is None
        assert hours.last_open_before(noon) is None
        assert hours.open_until(noon) is None


def test_always_open_ends_within_the_search(always: Hours) -> None:
    """Seven whole days a week: the end of the opening is a bound, not an endless walk."""
    noon = _utc("2026-03-02 12:00")
    until = always.open_until(noon)
    assert until is not None
    assert timedelta(days=SEARCH_DAYS) <= until - noon <= timedelta(days=SEARCH_DAYS + 2)


@pytest.mark.parametrize(
    ("place", "day", "opens", "closes"),
    [
        ("berlin", "2026-03-28", "07:00", "17:00"),
        ("berlin", "2026-03-29", "06:00", "16:00"),
        ("berlin", "2026-10-24", "06:00", "16:00"),
        ("berlin", "2026-10-25", "07:00", "17:00"),
        ("chicago", "2026-03-07", "14:00", "00:00"),
        ("chicago", "2026-03-08", "13:00", "23:00"),
        ("chicago", "2026-10-31", "13:00", "23:00"),
        ("chicago", "2026-11-01", "14:00", "00:00"),
    ],
)
def test_hours_stay_on_the_wall_over_clock_changes(
    place: str, day: str, opens: str, closes: str, request: pytest.FixtureRequest
) -> None:
    """08:00 to 18:00 stays 08:00 to 18:00: the instants move by an hour in UTC.

    Dates of the changes: the IANA time zone database, by way of the installed zone files.
    """
    zone: tzinfo = request.getfixturevalue(place)
    hours = Hours([_span(weekday, "08:00", "18:00") for weekday in range(7)], (), zone)
    ((first, last),) = hours.openings_on(date.fromisoformat(day))
    assert (opens, closes) == (f"{first:%H:%M}", f"{last:%H:%M}")
    assert (8, 18) == (hours.local(first).hour, hours.local(last).hour)


@pytest.mark.parametrize(
    ("place", "day", "elapsed_h"),
    [
        ("berlin", "2026-03-29", 23),
        ("berlin", "2026-10-25", 25),
        ("chicago", "2026-03-08", 23),
        ("chicago", "2026-11-01", 25),
    ],
)
def test_a_whole_day_is_as_long_as_it_is(
    place: str, day: str, elapsed_h: int, request: pytest.FixtureRequest
) -> None:
    """A day open from midnight to midnight lasts 23 or 25 h when the clocks change."""
    zone: tzinfo = request.getfixturevalue(place)
    hours = Hours([_span(6, "00:00", "00:00")], (), zone)
    ((opens, closes),) = hours.openings_on(date.fromisoformat(day))
    assert timedelta(hours=elapsed_h) == closes - opens


def test_times_that_do_not_exist_move_on_and_repeated_ones_last(berlin: tzinfo) -> None:
    """02:30 is read as 03:30 in spring; in autumn 02:30 opens the first and closes the second."""
    spring = Hours([_span(6, "02:30", "05:00")], (), berlin)
    assert (_utc("2026-03-29 01:30"), _utc("2026-03-29 03:00")) == spring.openings_on(
        date(2026, 3, 29)
    )[0]
    autumn = Hours([_span(6, "02:15", "02:45")], (), berlin)
    assert (_utc("2026-10-25 00:15"), _utc("2026-10-25 01:45")) == autumn.openings_on(
        date(2026, 10, 25)
    )[0]


def test_an_opening_swallowed_by_the_spring_change_is_none(berlin: tzinfo) -> None:
    """An opening whose beginning moves past its end leaves nothing, and no fault."""
    hours = Hours([_span(6, "02:30", "03:10")], (), berlin)
    assert hours.openings_on(date(2026, 3, 29)) == ()


def test_hours_of_the_shops_settings() -> None:
    """A shop as it comes is open every day from eight to six."""
    hours = Hours.of(Shop(), UTC)
    assert _utc("2026-03-01 08:00") == hours.next_open(_utc("2026-03-01 05:00"))


_SPANS = st.lists(
    st.builds(
        OpenSpan,
        weekday=st.integers(0, 6),
        opens=st.times().map(lambda wall: wall.replace(second=0, microsecond=0)),
        closes=st.times().map(lambda wall: wall.replace(second=0, microsecond=0)),
    ),
    min_size=1,
    max_size=5,
)
_ZONES = st.sampled_from(
    ["Europe/Berlin", "America/Chicago", "Pacific/Kiritimati", "Pacific/Pago_Pago"]
)
_INSTANTS = st.integers(0, 3 * 365 * 24 * 60).map(
    lambda minutes: datetime(2026, 1, 1, tzinfo=UTC) + timedelta(minutes=minutes)
)


@settings(max_examples=80, deadline=None)
@given(spans=_SPANS, name=_ZONES, instant=_INSTANTS)
def test_open_moments_are_open_and_nearest(
    spans: list[OpenSpan], name: str, instant: datetime
) -> None:
    """What is called open is open, on the right side, and nothing nearer is."""
    hours = Hours(spans, (), tz.gettz(name) or UTC)
    following, before = hours.next_open(instant), hours.last_open_before(instant)
    assert following is not None and before is not None
    assert before <= instant <= following
    assert hours.is_open(following) and hours.is_open(before)
    for eighth in range(1, 8):
        for nearest in (following, before):
            between = instant + (nearest - instant) * eighth / 8
            assert between == nearest or not hours.is_open(between)


@pytest.mark.parametrize(
    ("room_h", "limit", "found"),
    [
        (1, None, "2026-03-02 17:00"),
        (1.01, None, "2026-03-03 08:00"),
        (1.01, "2026-03-03 07:59", None),
        (10, None, "2026-03-03 08:00"),
        (10.01, None, None),
    ],
)
def test_room_before_closing(
    hours: Hours, room_h: float, limit: str | None, found: str | None
) -> None:
    """From Monday 17:00 on: today while it fits, else from the next opening, or on no day."""
    room = timedelta(hours=room_h)
    last = None if limit is None else datetime.fromisoformat(limit).replace(tzinfo=UTC)
    at = hours.first_with_room(datetime(2026, 3, 2, 17, tzinfo=UTC), room, last)
    assert found == (at and at.strftime("%Y-%m-%d %H:%M"))


@pytest.mark.parametrize(
    ("room_h", "floor_day", "found"),
    [
        (0, 1, "2026-03-02 09:00"),
        (9, 1, "2026-03-02 09:00"),
        (9.5, 1, "2026-03-02 08:30"),
        (10.01, 1, None),
        (9.5, 2, "2026-03-02 08:30"),
        (0, 3, None),
    ],
)
def test_the_last_room_before(
    hours: Hours, room_h: float, floor_day: int, found: str | None
) -> None:
    """Up to Monday 09:00, and not from before the floor."""
    floor = datetime(2026, 3, floor_day, tzinfo=UTC)
    room = timedelta(hours=room_h)
    at = hours.last_with_room(datetime(2026, 3, 2, 9, tzinfo=UTC), room, floor)
    assert found == (at and at.strftime("%Y-%m-%d %H:%M"))


def test_the_last_room_may_lie_days_back(hours: Hours) -> None:
    """On a Sunday: the Saturday before, early enough to be done by its closing."""
    sunday = datetime(2026, 3, 8, 12, tzinfo=UTC)
    at = hours.last_with_room(sunday, timedelta(hours=3), sunday - timedelta(days=3))
    assert datetime(2026, 3, 7, 15, tzinfo=UTC) == at


def test_every_day_like_an_opening_has_no_closed_day(hours: Hours) -> None:
    """The clock times of Monday, on a Sunday too."""
    decent = hours.every_day_like(datetime(2026, 3, 9, 8, tzinfo=UTC))
    sunday = (datetime(2026, 3, 8, 8, tzinfo=UTC), datetime(2026, 3, 8, 18, tzinfo=UTC))
    assert (sunday,) == decent.openings_on(sunday[0].date())


def test_the_open_time_between_two_instants(hours: Hours) -> None:
    """In order, over a Sunday, cut off at both ends; nothing where nothing is open or no time."""
    expected = (
        (_utc("2026-03-06 17:00"), _utc("2026-03-06 18:00")),
        (_utc("2026-03-07 08:00"), _utc("2026-03-07 18:00")),
        (_utc("2026-03-09 08:00"), _utc("2026-03-09 08:30")),
    )
    assert expected == hours.between(_utc("2026-03-06 17:00"), _utc("2026-03-09 08:30"))
    assert () == hours.between(_utc("2026-03-07 18:00"), _utc("2026-03-09 08:00"))
    assert () == hours.between(_utc("2026-03-09 12:00"), _utc("2026-03-09 12:00"))
    assert () == hours.between(_utc("2026-03-09 12:00"), _utc("2026-03-09 10:00"))


def test_openings_that_meet_at_midnight_are_one_between(always: Hours) -> None:
    """A shop that never closes has one opening, as long as asked for."""
    start, end = _utc("2026-12-30 10:00"), _utc("2027-01-02 10:00")
    assert ((start, end),) == always.between(start, end)


@settings(max_examples=60, deadline=None)
@given(spans=_SPANS, name=_ZONES, instant=_INSTANTS, hours_on=st.integers(1, 400))
def test_open_between_is_open_at_each_moment(
    spans: list[OpenSpan], name: str, instant: datetime, hours_on: int
) -> None:
    """The spans are apart and in order, and hold exactly the moments that are called open."""
    zone = tz.gettz(name) or UTC
    hours, end = Hours(spans, (), zone), instant + timedelta(hours=hours_on)
    found = hours.between(instant, end)
    assert found == hours.between(instant.astimezone(zone), end.astimezone(zone))
    for before, after in itertools.pairwise(found):
        assert before[1] < after[0]
    for eighth in range(1, 40):
        at = instant + (end - instant) * eighth / 40
        inside = any(opens <= at <= closes for opens, closes in found)
        assert inside == hours.is_open(at)
