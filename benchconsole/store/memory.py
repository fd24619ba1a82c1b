"""A history in memory, for rehearsals, for looking back, and for tests."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import TYPE_CHECKING

from benchconsole.errors import StoreError
from benchconsole.model.events import Entry, Event
from benchconsole.store.backups import Backup, Backups
from benchconsole.store.entries import next_entries, together
from benchconsole.store.parcels import Prepared
from benchconsole.store.restoring import Restored
from benchconsole.store.until_closed import UntilClosed

if TYPE_CHECKING:
    from benchconsole.store.archive import Archive


class MemoryRepository(UntilClosed):
    """A history that lives as long as the process, for rehearsals and tests.

    It begins with ``entries``, and checks and numbers what it is given exactly as a file would.
    """

    def __init__(self, entries: Iterable[Entry] = ()) -> None:
        self._entries = tuple(entries)
        self._began = self._entries[0].recorded if self._entries else None
        self._archive: Archive | None = None
        self._closed = False

    def entries(self) -> tuple[Entry, ...]:
        """The whole history."""
        if self._closed:
            raise ValueError("the repository is closed")
        return self._entries

    def append(
        self, events: Sequence[Event], *, at: datetime, recorded: datetime
    ) -> tuple[Entry, ...]:
        """Keep the events of one tap. Raises BadInput as ``entries.next_entries`` does."""
        new = next_entries(self.entries(), events, at=at, recorded=recorded)
        self._entries += new
        self._began = self._began or (recorded if new else None)
        return new

    @property
    def began(self) -> datetime | None:
        """When the first entry was recorded."""
        return self._began

    @property
    def archive(self) -> Archive:
        """Years in memory."""
        from benchconsole.store.archive import Archive
        from benchconsole.store.shelves import MemoryShelf

        self._archive = self._archive or Archive(MemoryShelf(), lambda: self.began)
        return self._archive

    def prepare(self, entries: Sequence[Entry]) -> Prepared:
        """Nothing is slow in memory."""
        return Prepared(tuple(entries), self._entries)

    def take(self, prepared: Prepared) -> bool:
        """Let the history be what was prepared."""
        same = prepared.log is self._entries
        if same:
            self._entries = prepared.entries
        return same

    def put_in(
        self, old: Iterable[Entry], events: Sequence[Event], *, at: datetime, recorded: datetime
    ) -> tuple[Entry, ...]:
        """Put entries back where they were, and add a tap."""
        new = next_entries(self.entries(), events, at=at, recorded=recorded)
        self._entries = together(self._entries, old) + new
        return self._entries

    @property
    def notices(self) -> tuple[str, ...]:
        """Nothing ever happens to what is in memory."""
        return ()

    @property
    def backups(self) -> Backups | None:
        """None: nothing is kept anywhere."""
        return None

    def restore(self, copy: Backup, now: datetime) -> Restored:
        """Raises StoreError: there are no copies."""
        raise StoreError("This shop is not kept on a disk, so there are no copies of it.")

    def close(self) -> None:
        """Use is over."""
        self._closed = True
