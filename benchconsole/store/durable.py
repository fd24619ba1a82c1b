"""A TinyDB storage that replaces its file in one step: the old content or the new, never a mix.

The order is the guarantee (the usual recipe for an atomic replace on POSIX systems): write a
temporary file in the same folder, sync it, put it in the file's place, sync the folder. Only
then is a tap confirmed.
"""

from __future__ import annotations

import contextlib
import secrets
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from tinydb.storages import Storage

from benchconsole.errors import StoreError
from benchconsole.store.disk import Disk, Mark, shown, words_for
from benchconsole.store.documents import Tables, decoded, encoded

_LEFTOVER = ".part"


class DurableStorage(Storage):
    """The tables in one JSON file at an absolute path.

    With ``writing`` it takes itself for the only writer (``lock`` sees to that): it makes the
    folder, removes what killed writes left behind, and refuses to write over a change that
    another program made meanwhile. Without, it touches nothing.
    """

    def __init__(self, path: Path, *, writing: bool, disk: Disk | None = None) -> None:
        self._path = path
        self._writing = writing
        self._disk = disk or Disk()
        self._mark: Mark | None = None
        self._body: bytes | None = None
        self._looked = False
        if writing:
            with _as_store_error(f"The store {shown(path)} cannot be opened for writing"):
                self._disk.make_folder(path.parent)
                self._sweep()

    def is_stale(self) -> bool:
        """Whether the file is another one than was last read or written."""
        with _as_store_error(f"The store {shown(self._path)} cannot be read"):
            return not self._looked or self._disk.mark(self._path) != self._mark

    def read(self) -> Tables | None:
        """A fresh copy of the tables, None if there is no file yet.

        Raises StoreDamaged, StoreTooNew, or StoreError if the file cannot be reached or
        changed under the writer.
        """
        if self.is_stale():
            self._look()
        if self._body is None:
            return None
        try:
            return decoded(self._body, shown(self._path))
        except StoreError:
            self._looked = False  # what cannot be read must not be written over either
            raise

    def write(self, data: dict[str, dict[str, Any]]) -> None:
        """Replace the file; when this returns, the tables are on the disk.

        Raises StoreError, and the file then holds what it held before. A file that cannot be
        read, or that another program changed, is never written over.
        """
        if not self._writing:
            raise StoreError("This shop was opened only to look at; nothing was saved.")
        if self.is_stale():
            self.read()
        body = encoded(data)
        with _as_store_error(f"Nothing was saved, the store {shown(self._path)} cannot be written"):
            before = self._body
            self._put(body)
            try:
                self._disk.sync_folder(self._path.parent)
            except OSError:
                self._put_back(before)
                raise

    def _look(self) -> None:
        with _as_store_error(f"The store {shown(self._path)} cannot be read"):
            mark = self._disk.mark(self._path)
            body = self._disk.read(self._path)
        if self._writing and self._looked and body != self._body:
            raise StoreError(
                f"Another program changed the store {shown(self._path)} while it was open here, "
                "so nothing was saved over it: close this console and open it again."
            )
        self._mark, self._body, self._looked = mark, body, True

    def _put(self, body: bytes) -> None:
        new = self._path.with_name(f"{self._leftover_start}{secrets.token_hex(4)}{_LEFTOVER}")
        try:
            descriptor = self._disk.create(new)
            try:
                self._disk.write(descriptor, body)
                self._disk.sync(descriptor)
            finally:
                self._disk.close(descriptor)
            self._disk.replace(new, self._path)
        except BaseException:
            with contextlib.suppress(OSError):
                self._disk.remove(new)
            raise
        self._body, self._looked, self._mark = body, True, None
        with contextlib.suppress(OSError):  # unmarked, the file is only read once more
            self._mark = self._disk.mark(self._path)

    def _put_back(self, body: bytes | None) -> None:
        """Undo a replace that could not be made durable, as far as the failing disk lets us."""
        with contextlib.suppress(OSError):
            if body is not None:
                self._put(body)
                return
            self._disk.remove(self._path)
            self._mark, self._body = None, None

    def _sweep(self) -> None:
        for name in self._disk.names(self._path.parent):
            if name.startswith(self._leftover_start) and name.endswith(_LEFTOVER):
                with contextlib.suppress(OSError):
                    self._disk.remove(self._path.parent / name)

    @property
    def _leftover_start(self) -> str:
        return f".{self._path.name}."


@contextlib.contextmanager
def _as_store_error(start: str) -> Iterator[None]:
    try:
        yield
    except OSError as fault:
        raise StoreError(f"{start}: {words_for(fault)}.") from fault
