"""Where the years of the archive lie: beside the store with copies of them, or in memory."""

from __future__ import annotations

import contextlib
import zlib
from pathlib import Path
from typing import Protocol

from benchconsole.errors import StoreError
from benchconsole.store.copies import copies_folder
from benchconsole.store.disk import Disk, Mark, shown, words_for
from benchconsole.store.whole_file import put_whole, sweep

_ENDING = ".json"


class Shelf(Protocol):
    """The files of the years, and a copy of each."""

    def years(self) -> tuple[int, ...]:
        """The years there is a file or a copy of, in order."""
        ...

    def name(self, year: int) -> str:
        """A year's file as it is told to a person."""
        ...

    def mark(self, year: int) -> Mark | None:
        """What tells this content of a year from the next; None if there is no file."""
        ...

    def read(self, year: int, *, copy: bool = False) -> bytes | None:
        """The file of a year, or its copy; None if there is none. Raises OSError."""
        ...

    def put(self, year: int, body: bytes) -> None:
        """Put a new file in a year's place, and its copy; then both are safe. Raises StoreError."""
        ...

    def set_aside(self, year: int, body: bytes) -> str:
        """Keep what a year's file is before it is replaced; its name. Raises StoreError."""
        ...


class FileShelf:
    """The folder ``<store>.archive``, and for the copies ``archive`` in ``<store>.backups``."""

    def __init__(self, store: Path, disk: Disk, *, writing: bool) -> None:
        self._disk = disk
        self._writing = writing
        self._folder = store.with_name(f"{store.name}.archive")
        self._copies = copies_folder(store) / "archive"

    def years(self) -> tuple[int, ...]:
        """By the names of the files; what cannot be listed is not there."""
        names: set[str] = set()
        for folder in (self._folder, self._copies):
            with contextlib.suppress(OSError):
                names.update(self._disk.names(folder))
        stems = (name.removesuffix(_ENDING) for name in names if name.endswith(_ENDING))
        return tuple(sorted(int(each) for each in stems if each.isascii() and each.isdigit()))

    def name(self, year: int) -> str:
        """Its path."""
        return shown(self._path(year))

    def mark(self, year: int) -> Mark | None:
        """Its place, time and size."""
        try:
            return self._disk.mark(self._path(year))
        except OSError:
            return None

    def read(self, year: int, *, copy: bool = False) -> bytes | None:
        """Its content."""
        return self._disk.read(self._path(year, copy=copy))

    def put(self, year: int, body: bytes) -> None:
        """First the file, then the copy, each in one step."""
        if not self._writing:
            raise StoreError("This shop was opened only to look at; nothing was saved.")
        for copy in (False, True):
            path = self._path(year, copy=copy)
            try:
                self._disk.make_folder(path.parent)
                sweep(self._disk, path)
                put_whole(self._disk, path, body)
            except OSError as fault:
                raise StoreError(
                    f"The archive {shown(path)} cannot be written: {words_for(fault)}; what was to "
                    "go there stays where it is."
                ) from fault

    def set_aside(self, year: int, body: bytes) -> str:
        """As a file beside it whose name tells the content."""
        path = self._path(year)
        aside = path.with_name(f"{path.name}.damaged-{zlib.crc32(body):08x}")
        try:
            put_whole(self._disk, aside, body)
        except OSError as fault:
            raise StoreError(
                f"The archive {shown(path)} cannot be set aside: {words_for(fault)}."
            ) from fault
        return aside.name

    def _path(self, year: int, *, copy: bool = False) -> Path:
        return (self._copies if copy else self._folder) / f"{year}{_ENDING}"


class MemoryShelf:
    """Years that live as long as the process."""

    def __init__(self) -> None:
        self._bodies: dict[int, bytes] = {}
        self._puts = 0

    def years(self) -> tuple[int, ...]:
        """In order."""
        return tuple(sorted(self._bodies))

    def name(self, year: int) -> str:
        """The year alone."""
        return str(year)

    def mark(self, year: int) -> Mark | None:
        """How often something was put here."""
        return (0, self._puts, 0) if year in self._bodies else None

    def read(self, year: int, *, copy: bool = False) -> bytes | None:
        """What was put last."""
        return self._bodies.get(year)

    def put(self, year: int, body: bytes) -> None:
        """Keep it."""
        self._bodies[year] = body
        self._puts += 1

    def set_aside(self, year: int, body: bytes) -> str:
        """Nothing is ever damaged in memory."""
        return ""
