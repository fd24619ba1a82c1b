"""Changes in the settings: each makes the shop that was meant, and no other."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

import pytest
from dateutil import tz
from hypothesis import given
from hypothesis import strategies as st

from benchconsole.errors import NotPossibleNow
from benchconsole.model.opening import DatedOpening, DaySpan, TimeSpan
from benchconsole.model.shop import Shop
from benchconsole.schedule.hours import Hours
from benchconsole.schedule.planning.changes import (
    HANDS,
    Away,
    Closed,
    ComeIn,
    Means,
    OpenToo,
    StartAt,
    change_words,
    shop_with,
)

WEDNESDAY = datetime(2026, 3, 4, 9, tzinfo=UTC)
SPAN = (DaySpan(first=date(2026, 3, 6), last=date(2026, 3, 9)),)
BERLIN = tz.gettz("Europe/Berlin")


def test_coming_in_leaves_the_rest_of_the_time_away() -> None:
    """Back for an hour on Sunday: open then, and away before and after as before."""
    shop = shop_with(Shop(away=SPAN), (_sunday(9, 10),), UTC)
    opened = Hours.of(shop, UTC).between(*_days(5, 11))
    assert [(at.day, at.hour, until.hour) for at, until in opened] == [
        (5, 8, 18),
        (8, 9, 10),
        (10, 8, 18),
    ]
    assert shop.away == (
        DaySpan(first=date(2026, 3, 6), last=date(2026, 3, 7)),
        DaySpan(first=date(2026, 3, 9), last=date(2026, 3, 9)),
    )


def test_coming_in_twice_on_a_day_away_from_moment_to_moment() -> None:
    """Two holes in one time away."""
    gone = TimeSpan(
        start=datetime(2026, 3, 6, 15, tzinfo=UTC), end=datetime(2026, 3, 10, 9, tzinfo=UTC)
    )
    shop = shop_with(Shop(away_times=(gone,)), (_sunday(9, 10), _sunday(14, 15)), UTC)
    opened = Hours.of(shop, UTC).between(*_days(8, 9))
    assert [(at.hour, until.hour) for at, until in opened] == [(9, 10), (14, 15)]
    assert len(shop.away_times) == 3


@given(
    first=st.integers(27, 30),
    start=st.integers(0, 22),
    length=st.integers(1, 6),
    day=st.integers(27, 30),
)
def test_open_time_only_grows_by_coming_in_at_a_clock_change(
    first: int, start: int, length: int, day: int
) -> None:
    """Over the last weekend of March in Berlin: open just at that time as well, nowhere less."""
    assert BERLIN is not None
    closed_all_week = Shop(hours=(), extra=(), away=(_span(first, 31),))
    at = datetime(2026, 3, day, start, tzinfo=BERLIN).astimezone(UTC)
    until = at + timedelta(minutes=15 * length)
    if at.astimezone(BERLIN).date() != until.astimezone(BERLIN).date():
        return
    shop = shop_with(closed_all_week, (ComeIn(start=at, end=until),), BERLIN)
    opened = Hours.of(shop, BERLIN).between(*_days(20, 31))
    # An hour that the clocks skip, or that comes twice, cannot be told on the wall.
    assert len(opened) <= 1
    if at.astimezone(BERLIN).date() != date(2026, 3, 29):
        assert opened == ((at, until),)


def test_other_changes_do_what_they_say() -> None:
    """Away, closed, open too and more; a start leaves the settings as they are."""
    opening = DatedOpening(day=date(2026, 3, 8), opens=time(9), closes=time(12))
    shop = Shop(vessels={"tub": 2})
    assert shop_with(shop, (Away(days=SPAN),), UTC).away == SPAN
    assert shop_with(shop, (Closed(days=SPAN),), UTC).closed == SPAN
    assert shop_with(shop, (OpenToo(openings=(opening,)),), UTC).extra == (opening,)
    assert shop_with(shop, (Means(kind="tub", more=-2),), UTC).vessels == {"tub": 0}
    assert shop_with(shop, (Means(kind=HANDS, more=1),), UTC).hands == 2
    assert shop_with(shop, (StartAt(hide="h", hide_name="H", at=None),), UTC) is shop
    with pytest.raises(NotPossibleNow, match="1 to 9 pairs of hands"):
        shop_with(shop, (Means(kind=HANDS, more=9),), UTC)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (Away(days=SPAN), "away 6 Mar to 9 Mar"),
        (Closed(days=(DaySpan(first=date(2026, 3, 6), last=date(2026, 3, 6)),)), "closed 6 Mar"),
        (Means(kind="tub", more=1), "one more tub"),
        (Means(kind=HANDS, more=-1), "one fewer pair of hands"),
        (Means(kind="tub", more=2), "2 more of the kind tub"),
        (
            OpenToo(openings=(DatedOpening(day=date(2026, 3, 8), opens=time(9), closes=time(12)),)),
            "open too 8 Mar 09:00 to 12:00",
        ),
        (
            ComeIn(
                start=datetime(2026, 3, 7, 9, tzinfo=UTC),
                end=datetime(2026, 3, 7, 10, 30, tzinfo=UTC),
                what_for="Brown goat: Rinse",
            ),
            "come in Saturday 09:00 to 10:30 for Brown goat: Rinse",
        ),
        (StartAt(hide="h", hide_name="Doe", at=None), "leave the start of Doe to the plan"),
        (
            StartAt(hide="h", hide_name="Doe", at=datetime(2026, 3, 7, 9, tzinfo=UTC)),
            "begin Doe Saturday 09:00",
        ),
    ],
)
def test_changes_are_said_in_words(change: Away, words: str) -> None:
    """Each as a person would say it."""
    assert change_words(change, WEDNESDAY, UTC) == words


def _sunday(start: int, end: int) -> ComeIn:
    day = datetime(2026, 3, 8, tzinfo=UTC)
    return ComeIn(start=day + timedelta(hours=start), end=day + timedelta(hours=end))


def _days(first: int, last: int) -> tuple[datetime, datetime]:
    return datetime(2026, 3, first, tzinfo=UTC), datetime(2026, 3, last, tzinfo=UTC)


def _span(first: int, last: int) -> DaySpan:
    return DaySpan(first=date(2026, 3, first), last=date(2026, 3, last))
