"""The history as the desk sees it: entries out, the events of a tap in."""

from __future__ import annotations

import contextlib
import gc
from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from benchconsole.errors import StoreError
from benchconsole.model.events import Entry, Event
from benchconsole.store.backups import Backup, Backups
from benchconsole.store.disk import Disk, shown, words_for
from benchconsole.store.entries import (
    document_of,
    documents_of,
    entries_from,
    next_entries,
    together,
)
from benchconsole.store.holdings import as_log
from benchconsole.store.lock import WriterLock
from benchconsole.store.migrations import HISTORY
from benchconsole.store.parcels import Prepared
from benchconsole.store.restoring import RESTORE, Restored, note_restored
from benchconsole.store.until_closed import UntilClosed

if TYPE_CHECKING:
    from benchconsole.store.archive import Archive


class Repository(Protocol):
    """What happened in the shop, in order; only ever added to."""

    def entries(self) -> tuple[Entry, ...]:
        """The whole history."""
        ...

    def append(
        self, events: Sequence[Event], *, at: datetime, recorded: datetime
    ) -> tuple[Entry, ...]:
        """Keep the events of one tap, all or none; the new entries, once they are safe."""
        ...

    @property
    def began(self) -> datetime | None:
        """When the first tap of all was recorded, for good; None before it."""
        ...

    @property
    def notices(self) -> tuple[str, ...]:
        """What a person must know of how the history was read, a sentence each."""
        ...

    @property
    def backups(self) -> Backups | None:
        """The rotating copies of the history; None where there can be none."""
        ...

    def restore(self, copy: Backup, now: datetime) -> Restored:
        """Let the history be what a copy holds, keeping a copy of what it was."""
        ...

    @property
    def archive(self) -> Archive:
        """Where finished hides go, a file a year."""
        ...

    def prepare(self, entries: Sequence[Entry]) -> Prepared:
        """Lay a history of these entries ready, the last tap's among them; see :meth:`take`.

        This is the slow part, and may be done in another thread. Raises StoreError.
        """
        ...

    def take(self, prepared: Prepared) -> bool:
        """Let the history be what was prepared; False, if anything was added to it meanwhile."""
        ...

    def put_in(
        self, old: Iterable[Entry], events: Sequence[Event], *, at: datetime, recorded: datetime
    ) -> tuple[Entry, ...]:
        """Put entries back where they were, and add a tap, all or nothing; the new history."""
        ...

    def close(self) -> None:
        """Give the store back; harmless when done twice."""
        ...


class TinyRepository(UntilClosed):
    """The history in TinyDB's table over the log at ``path``.

    A writer holds the store's lock until ``close``, as ``who`` (see ``lock``), and waits
    ``wait_s`` seconds for one who holds it; a reader makes nothing and locks nothing,
    and sees what the writer has confirmed. TinyDB is imported here and not before, to keep
    the first frame early. Raises StoreBusy or StoreError when it cannot be opened.
    """

    def __init__(
        self,
        path: Path,
        *,
        writing: bool,
        disk: Disk | None = None,
        who: str = "console",
        wait_s: float = 0.0,
    ) -> None:
        from tinydb import TinyDB

        from benchconsole.store.log import HistoryTable, LogStorage

        disk = disk or Disk()
        self._path = _real(path)
        self._backups = Backups(self._path, disk)
        self._writing = writing
        self._closed = False
        self._disk = disk
        self._archive: Archive | None = None
        self._entries: tuple[Entry, ...] | None = None
        self._lock = _locked(self._path, disk, who, wait_s) if writing else None
        try:
            self._storage = LogStorage(self._path, writing=writing, disk=disk)
            TinyDB(storage=lambda: self._storage)
            self._history = HistoryTable(self._storage, HISTORY)
        except BaseException:
            self.close()
            raise

    def entries(self) -> tuple[Entry, ...]:
        """The whole history, read once by a writer and again by a reader when it has changed.

        Raises StoreDamaged, StoreTooNew or StoreError; the file is left as it is.
        """
        _refuse_closed(self._closed)
        if self._entries is None or (not self._writing and self._storage.is_stale()):
            with _no_collecting():
                documents = ((document.doc_id, document) for document in self._history.all())
                self._entries = entries_from(documents, shown(self._path))
        return self._entries

    def append(
        self, events: Sequence[Event], *, at: datetime, recorded: datetime
    ) -> tuple[Entry, ...]:
        """Keep the events of one tap in one write; the new entries, once they are on the disk.

        Raises StoreError if they could not be saved, StoreBusy among them if another writer has
        the lock by now, and BadInput as ``entries.next_entries``.
        """
        from tinydb.table import Document

        before = self.entries()
        new = next_entries(before, events, at=at, recorded=recorded)
        if not new:
            return ()
        if self._lock is not None:
            self._lock.confirm()
        # After a failed write only the disk knows how things stand: forget, and read again.
        self._entries = None
        self._history.insert(Document(document_of(new), doc_id=new[0].tap))
        self._entries = before + new
        return new

    @property
    def began(self) -> datetime | None:
        """When the first tap was recorded, by the log's first line."""
        return self._storage.began

    @property
    def notices(self) -> tuple[str, ...]:
        """What was found when the file was opened: damage, what was brought back, what is lost."""
        return self._storage.notices

    @property
    def backups(self) -> Backups | None:
        """The copies beside the log."""
        return self._backups

    def restore(self, copy: Backup, now: datetime) -> Restored:
        """Put a copy's content in the log's place; ``entries`` are then those of the copy.

        What the log held is kept as a copy first. Raises StoreDamaged or StoreTooNew for a copy
        that cannot be used and StoreError where it cannot be done; the log is then what it was.
        """
        _refuse_closed(self._closed)
        if self._lock is None:
            raise StoreError("This shop was opened only to look at, so no copy can be put back.")
        self._lock.confirm()
        body = as_log(self._backups.read(copy), f"copy {copy.name}")
        present = self._storage.body if self.entries() else b""
        before = self._backups.keep_before(RESTORE, present, now) if present else None
        self._entries = None
        self._storage.replace(body)
        self._history.clear_cache()
        note_restored(self._backups, body, now)
        return Restored(copy, before)

    @property
    def archive(self) -> Archive:
        """The years beside the log."""
        from benchconsole.store.archive import Archive
        from benchconsole.store.shelves import FileShelf

        if self._archive is None:
            shelf = FileShelf(self._path, self._disk, writing=self._writing)
            self._archive = Archive(shelf, lambda: self.began)
        return self._archive

    def prepare(self, entries: Sequence[Entry]) -> Prepared:
        """Write a log of these entries beside the log. Raises StoreError."""
        return Prepared(tuple(entries), self._storage.prepare(documents_of(entries)))

    def take(self, prepared: Prepared) -> bool:
        """Put that in the log's place. Raises StoreError; the log is then what it was."""
        _refuse_closed(self._closed)
        if self._lock is not None:
            self._lock.confirm()
        if not self._storage.take(prepared.log):
            return False
        self._history.clear_cache()
        self._entries = prepared.entries
        return True

    def put_in(
        self, old: Iterable[Entry], events: Sequence[Event], *, at: datetime, recorded: datetime
    ) -> tuple[Entry, ...]:
        """Write the log anew with these entries in their places and one more tap.

        Raises StoreError if it could not be saved, and BadInput as ``entries.next_entries``.
        """
        before = self.entries()
        new = next_entries(before, events, at=at, recorded=recorded)
        whole = together(before, old) + new
        if self._lock is not None:
            self._lock.confirm()
        self._entries = None
        self._storage.write({HISTORY: {str(tap): doc for tap, doc in documents_of(whole)}})
        self._history.clear_cache()
        self._entries = whole
        return whole

    def close(self) -> None:
        """Let the next writer in."""
        self._closed = True
        if self._lock is not None:
            self._lock.release()


def _real(path: Path) -> Path:
    """The file behind a link: two names of one store share its lock, and a link stays a link."""
    try:
        return path.expanduser().resolve()
    except (OSError, RuntimeError, ValueError) as fault:
        raise StoreError(f"The store {shown(path)} cannot be found: its path is broken.") from fault


def _locked(path: Path, disk: Disk, who: str, wait_s: float) -> WriterLock:
    try:
        disk.make_folder(path.parent)
    except OSError as fault:
        raise StoreError(
            f"The folder {shown(path.parent)} cannot be made: {words_for(fault)}."
        ) from fault
    return WriterLock(path, who, wait_s)


@contextlib.contextmanager
def _no_collecting() -> Iterator[None]:
    """Holds back the search for cycles while tens of thousands of records are made at once.

    There are none in plain records; looking for them takes longer than making them.
    """
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()


def _refuse_closed(closed: bool) -> None:
    if closed:
        raise ValueError("the repository is closed")
