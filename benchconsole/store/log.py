"""TinyDB's tables over an append-only log: a tap is one line, all else a whole new file."""

from __future__ import annotations

import contextlib
import zlib
from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime
from pathlib import Path
from typing import Any, NamedTuple

import msgspec
from tinydb.storages import Storage
from tinydb.table import Document as TinyDocument
from tinydb.table import Table

from benchconsole.errors import StoreError
from benchconsole.store.content import Content
from benchconsole.store.copies import copies, keep_before
from benchconsole.store.disk import Disk, shown, words_for
from benchconsole.store.lines import Document, whole_log
from benchconsole.store.log_file import LogFile
from benchconsole.store.migrations import ABOUT, HISTORY
from benchconsole.store.opening import Opened, opened
from benchconsole.store.tip import Tip, read_tip, tip_for_another_log, write_tip
from benchconsole.store.whole_file import new_beside, put_whole, sweep

Tables = dict[str, dict[str, dict[str, Any]]]
"""Table name -> document number (as text) -> document, the shape TinyDB works on."""


class HistoryTable(Table):
    """A table whose new documents are appended; TinyDB's own would write the whole table anew."""

    def insert(self, document: Mapping[str, Any]) -> int:
        """Append one document under its own number, which must follow all others."""
        assert isinstance(document, TinyDocument) and isinstance(self._storage, LogStorage)
        self._storage.append(document.doc_id, dict(document))
        self.clear_cache()
        return document.doc_id


class Ready(NamedTuple):
    """A log that lies ready beside the one it was made ``of``, when that ended with ``since``."""

    of: Content
    since: Tip
    content: Content
    file: Path


class LogStorage(Storage):
    """The table ``history`` in a log at an absolute path, one document a tap.

    With ``writing`` it takes itself for the only writer (``lock`` sees to that): it makes the
    folder, removes what killed writes left behind, mends what is damaged, and refuses to write
    over a change that another program made meanwhile. Without, it touches nothing.
    ``notices`` say, in sentences, what a person must know of the last opening.
    """

    def __init__(self, path: Path, *, writing: bool, disk: Disk | None = None) -> None:
        self._path = path
        self._writing = writing
        self._disk = disk or Disk()
        self._file = LogFile(path, self._disk)
        self._content: Content | None = None
        self._looked = False
        self.notices: tuple[str, ...] = ()
        if writing:
            with self._as_store_error("cannot be opened for writing"):
                self._disk.make_folder(path.parent)
                sweep(self._disk, path)

    @property
    def body(self) -> bytes:
        """The log as it was last read or written, verified; empty while there is none."""
        return bytes(self._content.body) if self._content else b""

    @property
    def began(self) -> datetime | None:
        """When the history began, as it was last read or written; None while there is none."""
        return self._content.began if self._content else None

    def is_stale(self) -> bool:
        """Whether the file is another one than was last read or written."""
        with self._as_store_error("cannot be read"):
            return not self._looked or not self._file.is_same()

    def read(self) -> Tables | None:
        """A fresh copy of the tables, None if there is no store yet.

        Raises StoreDamaged, StoreTooNew, or StoreError if the file cannot be reached or
        changed under the writer.
        """
        self._look()
        if self._content is None:
            return None
        about = {"1": {"began": self._content.began.isoformat()}}
        return {ABOUT: about, HISTORY: {str(tap): doc for tap, doc in self._content.taps()}}

    def append(self, tap: int, document: Document) -> None:
        """Add one tap; when this returns, it is on the disk.

        Raises StoreError, and the store then holds what it held before or, if not even that
        could be made sure, is looked at again before anything else is written.
        """
        content = self._ready_to_write()
        if content is None:
            self.replace(whole_log(_recorded(document), [(tap, document)]))
            return
        line = content.line(tap, document)
        with self._as_store_error("cannot be written", "Nothing was saved, the"):
            self._file.add(content.body, line)
        content.add(line, tap, document)
        write_tip(self._disk, self._path, content.tip)

    def write(self, data: dict[str, dict[str, Any]]) -> None:
        """Replace the whole file; when this returns, the tables are on the disk.

        Raises StoreError, and the file then holds what it held before.
        """
        content = self._ready_to_write()
        taps = sorted((int(number), dict(doc)) for number, doc in data[HISTORY].items())
        began = content.began if content else _recorded(taps[0][1])
        self.replace(whole_log(began, taps))

    def replace(self, body: bytes) -> None:
        """Put another whole log in this one's place; it may end earlier. Raises StoreError."""
        before = self._ready_to_write()
        after = Content.of(body)
        with (
            self._as_store_error("cannot be written", "Nothing was saved, the"),
            tip_for_another_log(self._disk, self._path, after.tip),
        ):
            self._file.put(body, before=before.body if before else None)
        self._content = after

    def prepare(self, taps: Iterable[tuple[int, Document]]) -> Ready:
        """A log of these taps beside this one, safe on the disk, for :meth:`take`.

        The last must be that of the log. This may be done in another thread. Raises StoreError.
        """
        content = self._content
        if content is None or not self._writing:
            raise StoreError("This shop was opened only to look at; nothing was saved.")
        since = content.tip
        body = whole_log(content.began, taps)
        with self._as_store_error("cannot be written", "Nothing was saved, the"):
            file = new_beside(self._disk, self._path, body)
        return Ready(content, since, Content.of(body), file)

    def take(self, ready: Ready) -> bool:
        """Put a prepared log in this one's place; False if something was tapped meanwhile.

        Raises StoreError, and the file then holds what it held before.
        """
        content = self._ready_to_write()
        if content is not ready.of or not content.tip == ready.since == ready.content.tip:
            with contextlib.suppress(OSError):
                self._disk.remove(ready.file)
            return False
        with self._as_store_error("cannot be written", "Nothing was saved, the"):
            self._file.put(bytes(ready.content.body), before=content.body, ready=ready.file)
        self._content = ready.content
        return True

    def _ready_to_write(self) -> Content | None:
        if not self._writing:
            raise StoreError("This shop was opened only to look at; nothing was saved.")
        self._look()
        return self._content

    def _look(self) -> None:
        if not self.is_stale():
            return
        with self._as_store_error("cannot be read"):
            tip = read_tip(self._disk, self._path)  # before the log, which may grow meanwhile
            body = self._file.look()
        if self._writing and self._looked:
            self._check(body)
            return
        found = opened(body, tip, copies(self._disk, self._path), shown(self._path))
        self._file.take()
        if self._writing and found.mended:
            found = self._mend(body, found)
        elif self._writing:
            is_sure = self._file.make_sure()
            if found.content and is_sure and tip != found.content.tip:
                # It lagged behind, or is of another log.
                write_tip(self._disk, self._path, found.content.tip)
        # What a reader finds half written, the writer may be writing just now: no news yet.
        self.notices = () if found.is_unfinished and not self._writing else found.notices
        self._content, self._looked = found.content, True

    def _check(self, body: bytes | None) -> None:
        """A writer knows what the file holds; only a write that failed halfway may be in it too."""
        known = bytes(self._content.body) if self._content else None
        if body == known:
            self._file.take()
            return
        if body is None:
            raise StoreError(
                f"The store {shown(self._path)} is no longer there, so nothing was saved: bring "
                "its drive or folder back, or close this console and open it again."
            )
        if not self._file.is_unsure or not body.startswith(known or b""):
            raise StoreError(
                f"Another program changed the store {shown(self._path)} while it was open here, "
                "so nothing was saved over it: close this console and open it again."
            )
        # Whatever of the line is there, it is not known to be safe: all goes into a new file.
        found = opened(body, None, (), shown(self._path))
        whole = bytes(found.content.body) if found.content else b""
        with self._as_store_error("cannot be written"):
            self._file.put(whole, before=body)
        self._content = found.content

    def _mend(self, body: bytes | None, found: Opened) -> Opened:
        """Write the file as it is to be, after setting aside what it was."""
        notices = found.notices
        with self._as_store_error("is damaged and cannot be mended"):
            if found.keep == "damaged" and body:
                aside = self._set_aside(body, notices)
                notices = (*notices, f"The file as it was is kept as {aside.name}.")
            elif found.keep and body:
                keep_before(self._disk, self._path, found.keep, body)
            if found.content is None:
                return found
            self._file.put(bytes(found.content.body), before=body)
            # Not before: cut off between the two, the next opening tells once more what is lost.
            write_tip(self._disk, self._path, found.content.tip, durably=True)
        return Opened(content=found.content, notices=notices)

    def _set_aside(self, body: bytes, notices: tuple[str, ...]) -> Path:
        aside = self._path.with_name(f"{self._path.name}.damaged-{zlib.crc32(body):08x}")
        try:
            self._disk.link(self._path, aside)  # needs no room, where the system can do that
        except FileExistsError:
            return aside
        except OSError:
            put_whole(self._disk, aside, body)
        report = aside.with_name(f"{aside.name}.txt")
        with contextlib.suppress(OSError):
            put_whole(self._disk, report, "\n".join((*notices, "")).encode())
        return aside

    @contextlib.contextmanager
    def _as_store_error(self, fault: str, start: str = "The") -> Iterator[None]:
        try:
            yield
        except OSError as error:
            raise StoreError(
                f"{start} store {shown(self._path)} {fault}: {words_for(error)}."
            ) from error


def _recorded(document: Document) -> datetime:
    return msgspec.convert(document["recorded"], datetime)
