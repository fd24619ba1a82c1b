"""The history on disk and the state that follows from it, kept together."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta, tzinfo

from dateutil import tz

from benchconsole.clock import Clock
from benchconsole.errors import NotPossibleNow
from benchconsole.library import Library
from benchconsole.model.events import Entry, Event, Undone, subject_of
from benchconsole.model.shop import Shop
from benchconsole.model.state import ShopState, apply, fold, last_tap, standing
from benchconsole.store import Repository


class Ledger:
    """What every part of the desk works on: clock, library, history, state.

    ``version`` grows with every change, so that a screen can see whether to look again.
    """

    def __init__(self, repository: Repository, clock: Clock, library: Library) -> None:
        self._repository = repository
        self.clock = clock
        self.library = library
        self.version = 0
        self._state = fold(repository.entries())

    @property
    def state(self) -> ShopState:
        """How things stand now."""
        return self._state

    @property
    def shop(self) -> Shop:
        """The shop's settings."""
        return self._state.shop

    @property
    def zone(self) -> tzinfo:
        """The zone the shop's walls show."""
        return (tz.gettz(self.shop.zone) if self.shop.zone else None) or self.clock.zone

    @property
    def entries(self) -> tuple[Entry, ...]:
        """The whole history, undone taps included."""
        return self._repository.entries()

    def now(self) -> datetime:
        """The present instant, aware, UTC."""
        return self.clock.now()

    def record(self, events: Sequence[Event], *, at: datetime | None = None) -> ShopState:
        """Store the events of one tap, then move the state on; in that order, always.

        ``at`` is when it happened, now if None. Raises ``StoreError`` with nothing changed.
        """
        now = self.now()
        for entry in self._repository.append(events, at=at or now, recorded=now):
            self._state = apply(self._state, entry)
        self.version += 1
        return self._state

    def undo(self, subject: str) -> tuple[Event, ...]:
        """Take back the last standing tap about ``subject``; the events that no longer count.

        Raises ``NotPossibleNow`` when there is none.
        """
        tap = last_tap(self.entries, subject)
        if tap is None:
            raise NotPossibleNow("There is nothing to take back.")
        gone = tuple(entry.event for entry in self.entries if entry.tap == tap)
        now = self.now()
        self._repository.append([Undone(tap=tap)], at=now, recorded=now)
        self._state = fold(self._repository.entries())
        self.version += 1
        return gone

    def history(self, subject: str) -> tuple[Entry, ...]:
        """The standing entries about a subject, oldest first."""
        return tuple(e for e in standing(self.entries) if subject_of(e.event) == subject)

    def close(self) -> None:
        """Let go of the store."""
        self._repository.close()

    def in_the_future(self, at: datetime) -> bool:
        """Whether an instant lies further ahead than a clock may differ."""
        return at > self.now() + timedelta(minutes=1)
