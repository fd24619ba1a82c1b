"""The log's file on the disk: lines put at its end, or a whole new file in its place.

What is safe when, and what a reader finds after a cut at any point, is argued in DEVELOPERS.md.
"""

from __future__ import annotations

import contextlib
from pathlib import Path

from benchconsole.errors import StoreError
from benchconsole.store.disk import Disk, Mark, shown
from benchconsole.store.whole_file import put_new, put_whole


class LogFile:
    """A file of which every byte is known; ``body`` is what it holds, None while there is none.

    Every method raises OSError; what it was to write is then not in the file or, where
    ``is_unsure`` says so, nobody knows.
    """

    def __init__(self, path: Path, disk: Disk) -> None:
        self._path = path
        self._disk = disk
        self._mark: Mark | None = None
        self._seen: Mark | None = None
        self._distrusted = False
        self.is_unsure = False

    def look(self) -> bytes | None:
        """What the file holds now; see ``take``."""
        self._mark = None
        self._seen = self._disk.mark(self._path)
        return self._disk.read(self._path)

    def take(self) -> None:
        """What was looked at is right: the file stands for it until it changes."""
        self._mark, self.is_unsure = self._seen, False

    def is_same(self) -> bool:
        """Whether it is the file that was last taken or written."""
        return self._disk.mark(self._path) == self._mark

    def make_sure(self) -> bool:
        """Wait until what was looked at is on the disk: a killed program may not have waited.

        Else a tap that is shown from now on could still be lost, or the folder of the next one.
        False for a disk that refuses, which is put up with: what is written next then goes into
        a new file.
        """
        self._distrusted = True
        with contextlib.suppress(OSError):
            if self._mark is None:
                self._disk.sync_folder(self._path.parent.parent)
                return False
            descriptor = self._disk.open_to_append(self._path)
            try:
                self._disk.sync(descriptor)
            finally:
                with contextlib.suppress(OSError):
                    self._disk.close(descriptor)
            self._disk.sync_folder(self._path.parent)
            self._distrusted = False
        return not self._distrusted

    def add(self, body: bytes | bytearray, line: bytes) -> None:
        """Put a line behind ``body``, which the file holds; when this returns, it is safe.

        After a failed sync the system may take for written what never was (Rebello and others,
        "Can Applications Recover from fsync Failures?", USENIX ATC 2020; from memory), so
        the next line goes into a whole new file.
        """
        if self._distrusted:
            self.put(bytes(body) + line, before=body)
            return
        descriptor = self._disk.open_to_append(self._path)
        try:
            self._write(descriptor, line, len(body))
        finally:
            with contextlib.suppress(OSError):  # the line is safe already, or given up
                self._disk.close(descriptor)
        was, self._mark = self._mark, None
        try:
            self._mark = self._disk.mark(self._path)
        except OSError:
            return  # the line is safe; unmarked, the file is read once more before the next
        if self._mark is None or (was and self._mark[0] != was[0]):
            raise StoreError(
                f"The store {shown(self._path)} was moved or replaced while it was being written "
                "to: close this console and open it again."
            )

    def _write(self, descriptor: int, line: bytes, size: int) -> None:
        try:
            self._disk.write(descriptor, line)
            self._distrusted = True
            self._disk.sync(descriptor)
            self._distrusted = False
        except BaseException:
            self.is_unsure = True
            with contextlib.suppress(OSError):
                self._disk.truncate(descriptor, size)
                self._disk.sync(descriptor)
                self.is_unsure = False
            raise

    def put(
        self, body: bytes, *, before: bytes | bytearray | None, ready: Path | None = None
    ) -> None:
        """Put a whole new file in the place of one that holds ``before``; then it is safe.

        ``ready`` is a file with this content that lies beside it already.
        """
        self._mark = None
        try:
            if ready is None:
                put_whole(self._disk, self._path, body)
            else:
                put_new(self._disk, self._path, ready)
        except OSError:
            self._put_back(body, before)
            raise
        self._distrusted = self.is_unsure = False
        with contextlib.suppress(OSError):  # unmarked, the file is only read once more
            self._mark = self._disk.mark(self._path)

    def _put_back(self, body: bytes, before: bytes | bytearray | None) -> None:
        """Undo a replace that could not be made durable, as far as the failing disk lets us."""
        self.is_unsure = True
        with contextlib.suppress(OSError):
            if self._disk.read(self._path) == body:
                if before is None:
                    self._disk.remove(self._path)
                else:
                    put_whole(self._disk, self._path, bytes(before))
            self.is_unsure = False
