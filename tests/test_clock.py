"""The clocks: aware, in UTC, and the manual one moves only when told to."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from dateutil import tz

from benchconsole.clock import ManualClock, SystemClock

NOON = datetime(2026, 6, 1, 12, tzinfo=UTC)
NAIVE = NOON.replace(tzinfo=None)


def test_the_system_clock_is_aware_and_goes_forward() -> None:
    """Two looks in a row are in UTC and in order."""
    clock = SystemClock()
    first, second = clock.now(), clock.now()
    assert UTC == first.tzinfo
    assert timedelta(0) <= second - first < timedelta(minutes=1)


def test_the_shop_has_the_zone_it_asks_for() -> None:
    """The computer's own zone unless another is given."""
    berlin = tz.gettz("Europe/Berlin")
    assert berlin == SystemClock(berlin).zone
    assert SystemClock().zone is not None


def test_a_manual_clock_stands_still() -> None:
    """Nothing but its owner moves it."""
    clock = ManualClock(NOON)
    assert NOON == clock.now() == clock.now()


def test_a_manual_clock_moves_both_ways() -> None:
    """Forward, back, and to an instant; each move answers with the new time."""
    clock = ManualClock(NOON)
    assert NOON + timedelta(hours=2) == clock.advance(hours=2)
    assert NOON + timedelta(hours=1) == clock.advance(hours=-1)
    assert NOON == clock.move_to(NOON) == clock.now()


def test_waits_are_elapsed_time_over_a_clock_change() -> None:
    """Twelve hours over the spring change are twelve hours, and thirteen on the wall."""
    berlin = tz.gettz("Europe/Berlin")
    assert berlin is not None
    clock = ManualClock(datetime(2026, 3, 28, 20, tzinfo=berlin), berlin)
    before = clock.now()
    after = clock.advance(hours=12)
    assert timedelta(hours=12) == after - before
    assert 9 == after.astimezone(berlin).hour


def test_an_instant_in_another_zone_becomes_utc() -> None:
    """A clock told the time on a wall answers in UTC."""
    tokyo = tz.tzoffset("Tokyo", 9 * 3600)
    clock = ManualClock(datetime(2026, 6, 1, 21, tzinfo=tokyo))
    assert (NOON, UTC) == (clock.now(), clock.now().tzinfo)
    clock.move_to(datetime(2026, 6, 1, 22, tzinfo=tokyo))
    assert (NOON + timedelta(hours=1), UTC) == (clock.now(), clock.now().tzinfo)


def test_a_time_without_a_zone_is_refused() -> None:
    """A naive time is a defect, at the start and later."""
    with pytest.raises(ValueError, match="aware"):
        ManualClock(NAIVE)
    with pytest.raises(ValueError, match="aware"):
        ManualClock(NOON).move_to(NAIVE)
