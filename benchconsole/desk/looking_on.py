"""A desk that only looks on: another program writes to the shop, and this one follows it.

Reading goes on beside the console, in a thread that touches nothing of the desk; what it found is
taken over on the desk's own thread. So a drive that does not answer never stops the console.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from benchconsole.desk.ledger import Ledger
from benchconsole.errors import NotPossibleNow, StoreError
from benchconsole.model.events import Entry
from benchconsole.model.history import History
from benchconsole.model.state import ShopState, after
from benchconsole.store import Holder, Repository

LASTS_LOOKS = 3
"""So many looks in a row must fail before it is told; our own choice. A file that is just being
replaced, or a drive that hiccups, is there again at the next one."""

Standing = Literal["held", "free", "lost"]
"""Another program writes; nobody does, so this one may; the store cannot be read."""


@dataclass(frozen=True, kw_only=True)
class Seen:
    """What one look found. ``fault`` says why there is nothing to see, else it is empty.

    ``news`` is None while the history is the one that was known before.
    """

    holder: Holder | None = None
    news: tuple[History, ShopState] | None = None
    fault: str = ""


class LookingOn:
    """The part of the desk that follows another console, and takes the writing over after it.

    ``who_writes`` tells who holds the store (None: nobody), ``sit_down`` opens it for writing
    and raises ``StoreBusy`` while somebody does; both raise ``StoreError``.
    """

    def __init__(
        self,
        ledger: Ledger,
        who_writes: Callable[[], Holder | None],
        sit_down: Callable[[], Repository],
        holder: Holder | None = None,
    ) -> None:
        self._ledger = ledger
        self._who_writes = who_writes
        self._sit_down = sit_down
        self._holder = self._last = holder
        self._failed = 0
        self._seen_at = ledger.now()
        self.fault = ""
        self.standing: Standing = "held"
        self._refuse()

    @property
    def since(self) -> datetime:
        """When the store was last seen, aware."""
        return self._seen_at

    @property
    def holder(self) -> Holder:
        """Who writes; nobody known, if that is not told."""
        return self._holder or Holder()

    def look(self) -> Seen:
        """Look at the store, in any thread: who writes, and what is new. Never raises a BenchError.

        Only one look may be under way at a time.
        """
        try:
            holder = self._who_writes()
            entries = self._ledger.repository.entries()
        except StoreError as fault:
            return Seen(fault=str(fault))
        known = self._ledger.past.written
        if entries is known or entries == known:
            return Seen(holder=holder)
        if not entries:
            # A history is only added to: an empty one after it is a drive that was taken away.
            return Seen(fault="The store is not where it was; is its drive still there?")
        return Seen(holder=holder, news=_read(entries))

    def take(self, seen: Seen) -> bool:
        """On the desk's thread: go by what was seen; whether there is anything else to show."""
        before = (self.standing, self._holder, self.fault)
        if seen.fault:
            self._failed += 1
            if self._failed >= LASTS_LOOKS:
                self.standing, self.fault = "lost", seen.fault
        else:
            self._failed, self.fault = 0, ""
            self._seen_at = self._ledger.now()
            self._holder = seen.holder
            self._last = seen.holder or self._last
            self.standing = "free" if seen.holder is None else "held"
            if seen.news is not None:
                self._ledger.go_by(*seen.news)
        self._refuse()
        return seen.news is not None or before != (self.standing, self._holder, self.fault)

    def open_to_write(self) -> tuple[Repository, Seen]:
        """Take the store for writing, in any thread, with what is in it.

        Raises ``StoreBusy``, which says who has it, and ``StoreError``.
        """
        repository = self._sit_down()
        try:
            entries = repository.entries()
            if self._ledger.entries and not entries:
                raise StoreError("The store is not where it was, so nothing can be recorded.")
            return repository, Seen(news=_read(entries))
        except BaseException:
            repository.close()
            raise

    def take_over(self, repository: Repository, seen: Seen) -> None:
        """On the desk's thread: from now on this desk records."""
        assert seen.news is not None, "what is written on was read"
        self._ledger.only_looks = ""
        self._ledger.go_by(*seen.news, repository)

    def refuse_taking_over(self) -> None:
        """Raises ``NotPossibleNow`` while somebody else writes or the store cannot be read."""
        if self.standing != "free":
            raise NotPossibleNow(self._ledger.only_looks)

    def gone_words(self) -> str:
        """What became of the one who wrote."""
        if self._last is not None and not self._last.is_console:
            return "the other program is done"
        return "the other console is closed"

    def _refuse(self) -> None:
        """The sentence for a tap that would be recorded."""
        if self.standing == "free":
            words = (
                f"This console only looks on, and {self.gone_words()}: press F8 to record here, "
                "then tap again."
            )
        elif self.standing == "lost":
            words = f"This console only looks on, and the shop cannot be read now: {self.fault}"
        else:
            then = "record there, or close it first" if self.holder.is_console else "wait for it"
            said = self.holder.words(self._ledger.now(), self._ledger.zone)
            words = f"{said}, so nothing is recorded from here: {then}."
        self._ledger.only_looks = words


def _read(entries: tuple[Entry, ...]) -> tuple[History, ShopState]:
    past = History(entries)
    return past, after(ShopState(), past.standing)
