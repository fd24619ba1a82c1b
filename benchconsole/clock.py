"""Time as an object: everything that needs the hour gets it from one of these.

Instants are always aware and in UTC; the shop's zone only shows them and decides what is
"tomorrow at eight". Waits are elapsed time and so are added in UTC, never on the wall.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta, tzinfo
from typing import Protocol

from dateutil import tz


class Clock(Protocol):
    """What the program asks about time."""

    zone: tzinfo

    def now(self) -> datetime:
        """The present instant, aware, in UTC."""
        ...


class SystemClock:
    """The computer's clock, shown in the shop's zone."""

    def __init__(self, zone: tzinfo | None = None) -> None:
        # gettz reads TZ and the system's own file; tzlocal knows no clock change but this year's.
        self.zone: tzinfo = zone or tz.gettz() or tz.tzlocal()

    def now(self) -> datetime:
        """The present instant, aware, in UTC."""
        return datetime.now(UTC)


JUMP = timedelta(seconds=5)
"""What the wall clock may go astray between two looks; our own choice: no tick is that late."""


class ClockWatch:
    """Notices when the computer's clock was set, or the computer slept, between two looks.

    It compares the wall clock with one that nobody can set and that stands still in sleep
    (``time.monotonic``). Both readings are given to it.
    """

    def __init__(self) -> None:
        self._seen: tuple[datetime, float] | None = None

    def look(self, now: datetime, monotonic_s: float) -> timedelta | None:
        """How far the wall clock jumped since the last look; None if by no more than ``JUMP``.

        ``now`` is aware. Ahead (also after a sleep) is positive, back is negative.
        """
        seen, self._seen = self._seen, (now, monotonic_s)
        if seen is None:
            return None
        jumped = (now - seen[0]) - timedelta(seconds=monotonic_s - seen[1])
        return jumped if abs(jumped) > JUMP else None


class ManualClock:
    """A clock that moves only when told to: for tests and rehearsals.

    >>> clock = ManualClock(datetime(2026, 3, 1, 8, tzinfo=UTC))
    >>> clock.advance(hours=2).hour
    10
    """

    def __init__(self, now: datetime, zone: tzinfo = UTC) -> None:
        if now.tzinfo is None:
            raise ValueError("a clock starts at an aware instant")
        self.zone = zone
        self._now = now.astimezone(UTC)

    def now(self) -> datetime:
        """The instant it was last moved to, aware, in UTC."""
        return self._now

    def advance(self, **spans: float) -> datetime:
        """Move on by a ``timedelta`` given in keywords (``hours=2``); back if negative."""
        self._now += timedelta(**spans)
        return self._now

    def move_to(self, instant: datetime) -> datetime:
        """Jump to an aware instant."""
        if instant.tzinfo is None:
            raise ValueError("a clock moves to an aware instant")
        self._now = instant.astimezone(UTC)
        return self._now
