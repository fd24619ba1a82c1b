"""The backup copies of the desk's own store: made in time, looked at, put back.

What reads or writes many bytes is given as a job for a thread, which touches nothing of the desk.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta

from benchconsole.desk.copies import Change, CopyRow, change_of, copy_rows, taps_words
from benchconsole.desk.ledger import Ledger
from benchconsole.errors import NotPossibleNow, StoreError
from benchconsole.schedule.wording import at_the_wall
from benchconsole.store.backups import Backups

SEE_ABOUT = timedelta(minutes=5)
"""How often it is seen whether the last copy is an hour old, while something is in none."""


@dataclass(frozen=True)
class Look:
    """What putting a copy back would change, and the version of the desk for which that is true."""

    row: CopyRow
    change: Change
    version: int


class OwnCopies:
    """The part of the desk that keeps and shows the copies of its store.

    A desk over memory has none: its list is empty and nothing is ever due.
    """

    def __init__(self, ledger: Ledger) -> None:
        self._ledger = ledger
        self._asked_at: datetime | None = None
        self._asked_version = -1
        self._kept_version = -1

    def is_due(self) -> bool:
        """Whether to see about a copy: now and then, while something is in none.

        Never where another console records, which makes them.
        """
        if self._ledger.repository.backups is None or self._ledger.only_looks:
            return False
        if self._kept_version == self._ledger.version:
            return False
        # A clock that was set back does not make the time longer.
        return self._asked_at is None or abs(self._ledger.now() - self._asked_at) >= SEE_ABOUT

    def copying(self) -> Callable[[], bool]:
        """The job of making a copy, if the last one is an hour old: whether all is in one now.

        It raises StoreError with a sentence; the taps go on whatever comes of it. Its answer is
        for :meth:`copied`.
        """
        backups, now = self._backups(), self._ledger.now()
        self._asked_at, self._asked_version = now, self._ledger.version
        return lambda: _copied(backups, now)

    def copied(self, everything: bool) -> None:
        """What came of the job."""
        if everything:
            self._kept_version = self._asked_version

    def listing(self) -> Callable[[], tuple[CopyRow, ...]]:
        """The job of reading through all copies. It raises StoreError."""
        backups = self._ledger.repository.backups
        return lambda: copy_rows(backups) if backups is not None else ()

    def looking(self, row: CopyRow) -> Callable[[], Look]:
        """The job of finding out what putting a copy back would change. It raises StoreError."""
        backups, version, zone = self._backups(), self._ledger.version, self._ledger.zone
        routes = self._ledger.library.routes

        def look() -> Look:
            present, copy = backups.present(), backups.read(row.backup)
            name = f"copy {row.number}"
            change = change_of(present, copy, name, routes=routes, zone=zone)
            return Look(row, change, version)

        return look

    def put_back(self, look: Look) -> str:
        """Put a copy back; the sentence to show. What was there is kept as a copy first.

        Raises ``NotPossibleNow`` if something was recorded since it was looked at, ``StoreBusy``
        where another console records, and ``StoreError`` where it cannot be done: nothing is
        changed then.
        """
        if self._ledger.version != look.version:
            raise NotPossibleNow(
                "Something was recorded since this was shown: leave the page and look again."
            )
        done = self._ledger.restore(look.row.backup)
        ledger = self._ledger
        made = at_the_wall(done.copy.at, ledger.now(), ledger.zone)
        said = f"Put back: {taps_words(look.row.holding.taps)}, as copied {made}."
        return f"{said} What was there is the newest copy “before a restore”."

    def _backups(self) -> Backups:
        backups = self._ledger.repository.backups
        if backups is None:
            raise StoreError("This shop is not kept on a disk, so there are no copies of it.")
        return backups


def _copied(backups: Backups, now: datetime) -> bool:
    """In a thread: a copy of what the store's file holds, if one is due."""
    if not backups.is_due(now):
        return False
    body = backups.present()
    if body:
        backups.keep(body, now)
    return True
