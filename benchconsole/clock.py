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
        self.zone: tzinfo = zone or tz.tzlocal()

    def now(self) -> datetime:
        """The present instant, aware, in UTC."""
        return datetime.now(UTC)


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
