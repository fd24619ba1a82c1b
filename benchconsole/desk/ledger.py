"""The history on disk and the state that follows from it, kept together."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime, tzinfo

from dateutil import tz

from benchconsole.clock import Clock
from benchconsole.errors import NotPossibleNow, StoreError
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

        ``at`` is when it happened, now if None. Raises ``StoreError`` when it could not be
        kept; the state is then what the disk says it is.
        """
        for entry in self._append(events, at):
            self._state = apply(self._state, entry)
        self.version += 1
        return self._state

    def undo(self, subject: str) -> tuple[Event, ...]:
        """Take back the last standing tap about ``subject``; the events that no longer count.

        What one tap did to several things is taken back for all of them. Raises
        ``NotPossibleNow`` when there is none, or when one of the others has had a tap since.
        """
        entries = self.entries
        tap = last_tap(entries, subject)
        if tap is None:
            raise NotPossibleNow("There is nothing to take back.")
        gone = tuple(entry.event for entry in entries if entry.tap == tap)
        for other in {subject_of(event) for event in gone}:
            if last_tap(entries, other) != tap:
                name = other.partition("/")[2]
                raise NotPossibleNow(
                    f"That tap was about “{name}” too, which has moved on since: "
                    "take that back first."
                )
        self._append([Undone(tap=tap)], None)
        self._state = fold(self.entries)
        self.version += 1
        return gone

    def _append(self, events: Sequence[Event], at: datetime | None) -> tuple[Entry, ...]:
        now = self.now()
        try:
            return self._repository.append(events, at=at or now, recorded=now)
        except StoreError:
            # The write may have come through before it failed: only the disk knows.
            self._state = fold(self.entries)
            self.version += 1
            raise

    def history(self, subject: str) -> tuple[Entry, ...]:
        """The standing entries about a subject, oldest first."""
        return tuple(e for e in standing(self.entries) if subject_of(e.event) == subject)

    def close(self) -> None:
        """Let go of the store."""
        self._repository.close()


def next_id(letter: str, used: Iterable[str]) -> str:
    """The next of the names ``t1``, ``t2``, ...; ``used`` holds every one the history names.

    A name is not given again after its tap was taken back: the history still speaks of it.
    """
    numbers = (int(name[1:]) for name in used if name[1:].isdecimal() and name[:1] == letter)
    return f"{letter}{max(numbers, default=0) + 1}"
