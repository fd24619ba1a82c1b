"""Where the copies of a log are, and reading them, the newest first."""

from __future__ import annotations

import contextlib
import zlib
from collections.abc import Iterator
from pathlib import Path

from benchconsole.store.disk import Disk
from benchconsole.store.recovery import Copy
from benchconsole.store.whole_file import put_whole


def copies_folder(store: Path) -> Path:
    """The folder of a store's copies."""
    return store.with_name(f"{store.name}.backups")


def copies(disk: Disk, store: Path) -> Iterator[Copy]:
    """The copies that can be read, the newest first; their names begin with when they were made.

    A copy is only opened when it is asked for.
    """
    names: list[str] = []
    with contextlib.suppress(OSError):
        names = disk.names(copies_folder(store))
    for name in sorted(names, key=_age):
        with contextlib.suppress(OSError):
            body = disk.read(copies_folder(store) / name) if name.endswith(".json") else None
            if body:
                yield Copy(name, body)


def _age(name: str) -> tuple[bool, str]:
    """Sorts the rotating copies by their time, the newest first, and before all others.

    What was kept before a restore may tell of taps that were given up with it.
    """
    return "before-" in name or not name[:1].isdigit(), "".join(
        chr(0x10FFFF - ord(letter)) for letter in name
    )


def keep_before(disk: Disk, store: Path, what: str, body: bytes) -> Path:
    """Keep a log's content before it is changed by more than a tap; where it is kept.

    Raises OSError: what could not be kept must not be changed.
    """
    folder = copies_folder(store)
    disk.make_folder(folder)
    path = folder / f"before-{what}-{zlib.crc32(body):08x}.json"
    put_whole(disk, path, body)
    return path
