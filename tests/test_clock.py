"""The clocks: aware, in UTC, and the manual one moves only when told to."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from dateutil import tz

from benchconsole.clock import JUMP, ClockWatch, ManualClock, SystemClock

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


@pytest.mark.parametrize(("month", "hour"), [(1, 13), (7, 14)], ids=["winter time", "summer time"])
def test_the_computers_zone_is_read_by_its_name(
    monkeypatch: pytest.MonkeyPatch, month: int, hour: int
) -> None:
    """TZ names a place, and the place's clock changes hold."""
    monkeypatch.setenv("TZ", "Europe/Berlin")
    assert hour == NOON.replace(month=month).astimezone(SystemClock().zone).hour


def test_a_watch_sees_the_clock_being_set_and_the_computer_sleeping() -> None:
    """The wall clock against one that runs on: by more than the bound it is a jump, once."""
    watch = ClockWatch()
    assert watch.look(NOON, 1000.0) is None
    assert watch.look(NOON + timedelta(seconds=1), 1001.0) is None
    slept = NOON + timedelta(hours=8)
    assert timedelta(hours=8) - timedelta(seconds=2) == watch.look(slept, 1002.0)
    assert watch.look(slept + timedelta(seconds=1), 1003.0) is None
    set_back = slept + timedelta(seconds=1) - timedelta(hours=1)
    assert timedelta(hours=-1) == watch.look(set_back, 1003.0)


@pytest.mark.parametrize("sign", [1, -1])
def test_a_late_tick_and_a_small_correction_are_no_jump(sign: int) -> None:
    """A busy computer looks late by both clocks, and a time server moves the wall by little."""
    watch = ClockWatch()
    watch.look(NOON, 0.0)
    assert watch.look(NOON + timedelta(minutes=5), 300.0) is None
    moved = NOON + timedelta(minutes=10) + sign * JUMP
    assert watch.look(moved, 600.0) is None
    more = JUMP + timedelta(milliseconds=1)
    assert sign * more == watch.look(moved + sign * more, 600.0)
