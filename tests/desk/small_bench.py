"""A shop in memory whose desk can be closed and opened again over one history."""

from __future__ import annotations

from datetime import UTC, datetime
from functools import partial

from benchconsole.clock import ManualClock
from benchconsole.desk import Desk
from benchconsole.library import Library
from benchconsole.model.events import Entry
from benchconsole.model.history import standing
from benchconsole.model.state import ShopState, fold
from benchconsole.store import MemoryRepository

NOON = datetime(2026, 6, 1, 12, tzinfo=UTC)


class Bench:
    """``desk`` is open; ``reopened()`` is another desk over the same history."""

    def __init__(self, library: Library) -> None:
        self.repository = MemoryRepository()
        self.clock = ManualClock(NOON)
        self.reopened = partial(Desk, self.repository, self.clock, library)
        self.desk = self.reopened()

    @property
    def state(self) -> ShopState:
        """How things stand after reading the history afresh."""
        return fold(self.repository.entries())

    @property
    def counts(self) -> tuple[Entry, ...]:
        """The entries that still count."""
        return standing(self.repository.entries())

    @property
    def taps(self) -> int:
        """How many taps the history holds, the undoing ones included."""
        entries = self.repository.entries()
        return entries[-1].tap if entries else 0

    def take_in(self, name: str = "Brown goat", **given: str) -> str:
        """Take in a salted goat of 2.9 kg, apart from what is given; its id."""
        plain = {"species": "goat", "route": "hair-on-alum-pelt", "came": "salted"}
        return self.desk.hides.take_in(**{"name": name, "weight": "2.9 kg", **plain, **given}).id
