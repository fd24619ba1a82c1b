"""Which copies stay: laws that hold for any copies at any hour, and a year of working days."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from benchconsole.store.rotation import DAYS, HOURS, MONTHS, MOST_KEPT, kept

BEGAN = datetime(2020, 1, 1, tzinfo=UTC)
NOW = datetime(2026, 3, 18, 13, 20, tzinfo=UTC)

instants = st.integers(0, 6 * 365 * 24 * 60).map(lambda minutes: BEGAN + timedelta(minutes=minutes))
close_instants = st.integers(0, 60 * 24 * 60).map(lambda m: NOW - timedelta(minutes=m))
many = st.frozensets(st.one_of(instants, close_instants), max_size=200)


@given(many, instants)
def test_never_more_than_the_places_there_are(copies: frozenset[datetime], now: datetime) -> None:
    """However many copies and whatever the clock says: a bounded number, all of them given."""
    stay = kept(copies, now)
    assert len(stay) <= MOST_KEPT == 24 + 30 + 24
    assert stay <= copies


@given(many, instants)
def test_the_newest_stay_whichever_clock_was_right(
    copies: frozenset[datetime], now: datetime
) -> None:
    """The newest up to now, and the newest of all even if the clock was set back since."""
    stay = kept(copies, now)
    past = [at for at in copies if at <= now]
    if past:
        assert max(past) in stay
    if copies:
        assert max(copies) in stay


@given(many, instants)
def test_keeping_twice_is_keeping_once(copies: frozenset[datetime], now: datetime) -> None:
    """What was kept is kept again: sweeping more often takes nothing more away."""
    stay = kept(copies, now)
    assert kept(stay, now) == stay


@given(many, st.integers(0, 72))
def test_the_last_of_every_recent_day_stays(copies: frozenset[datetime], hours: int) -> None:
    """Of the past, the last copy of each of the last days with copies is never taken away."""
    now = NOW + timedelta(hours=hours)
    past = {at for at in copies if at <= now}
    stay = kept(past, now)
    days = sorted({at.date() for at in past}, reverse=True)[:DAYS]
    assert all(max(at for at in past if at.date() == day) in stay for day in days)


@given(many, st.timedeltas(timedelta(minutes=1), timedelta(days=2)))
def test_a_clock_that_jumps_back_loses_little(copies: frozenset[datetime], back: timedelta) -> None:
    """Copies of the time before the jump keep half the places of each kind, the newest ones."""
    ahead = max(copies, default=NOW)
    stay = kept(copies, ahead - back)
    after = sorted((at for at in copies if at > ahead - back), reverse=True)
    last_of_hours = {at.replace(minute=0, second=0, microsecond=0): at for at in reversed(after)}
    newest_hours = sorted(last_of_hours, reverse=True)[: HOURS // 2]
    assert {last_of_hours[hour] for hour in newest_hours} <= stay


def test_a_wrong_year_costs_nothing_of_the_past() -> None:
    """A clock that fell back to 2020 rotates only what is made then; the rest waits for it."""
    work = [NOW - timedelta(hours=hours) for hours in range(100)]
    before = kept(work, NOW)
    assert kept(before, BEGAN) == before


def test_two_years_of_hourly_copies() -> None:
    """Swept every hour of 26 months, as the console does it, the ladder is full and in order."""
    copies: frozenset[datetime] = frozenset()
    at = datetime(2024, 1, 20, 8, 30, tzinfo=UTC)
    while at <= NOW:
        copies = kept(copies | {at}, at)
        at += timedelta(hours=1 if at.hour < 17 else 15)
    newest_first = sorted(copies, reverse=True)
    assert newest_first[0] == NOW.replace(hour=12, minute=30)
    # Five hours of today, ten of yesterday, nine of the day before.
    assert newest_first[HOURS - 1] == datetime(2026, 3, 16, 9, 30, tzinfo=UTC)
    days = sorted({at.date() for at in copies}, reverse=True)
    assert days[:DAYS] == [(NOW - timedelta(days=n)).date() for n in range(DAYS)]
    assert len({(at.year, at.month) for at in copies}) == MONTHS
    assert newest_first[-1] == datetime(2024, 4, 30, 17, 30, tzinfo=UTC)


def test_weeks_shut_cost_nothing() -> None:
    """After a long holiday the hours from before it are all still there."""
    before = [NOW - timedelta(days=40, hours=hours) for hours in range(HOURS)]
    after = [*before, NOW]
    assert kept(after, NOW) >= set(before[: HOURS - 1]) | {NOW}
