"""A whole file put in another's place in one step: the old content or the new, never a mix.

The order is the guarantee (the usual recipe for an atomic replace on POSIX systems): write a
temporary file in the same folder, sync it, put it in the file's place, sync the folder.
"""

from __future__ import annotations

import contextlib
import secrets
from pathlib import Path

from benchconsole.store.disk import Disk

_LEFTOVER = ".part"


def put_whole(disk: Disk, path: Path, body: bytes) -> None:
    """Replace a file or make it; when this returns, the content is on the disk.

    Raises OSError. What fails before the file's place is taken leaves the old content. A
    folder that cannot be synced afterwards is told too: the new content is then in place but
    may not outlast a power cut.
    """
    put_new(disk, path, new_beside(disk, path, body))


def new_beside(disk: Disk, path: Path, body: bytes) -> Path:
    """A temporary file beside a file, with this content on the disk. Raises OSError."""
    new = path.with_name(f"{_leftover_start(path)}{secrets.token_hex(4)}{_LEFTOVER}")
    try:
        descriptor = disk.create(new)
        try:
            disk.write(descriptor, body)
            disk.sync(descriptor)
        finally:
            disk.close(descriptor)
    except BaseException:
        with contextlib.suppress(OSError):
            disk.remove(new)
        raise
    return new


def put_new(disk: Disk, path: Path, new: Path) -> None:
    """Put a file of :func:`new_beside` in its place. Raises OSError as :func:`put_whole`."""
    try:
        disk.replace(new, path)
    except BaseException:
        with contextlib.suppress(OSError):
            disk.remove(new)
        raise
    disk.sync_folder(path.parent)


def sweep(disk: Disk, path: Path) -> None:
    """Remove what killed writes of this file left behind. Raises OSError."""
    for name in leftovers(disk, path):
        with contextlib.suppress(OSError):
            disk.remove(path.parent / name)


def leftovers(disk: Disk, path: Path) -> list[str]:
    """The names of temporary files that killed writes of this file left. Raises OSError."""
    start = _leftover_start(path)
    return [name for name in disk.names(path.parent) if is_leftover(name, start)]


def is_leftover(name: str, start: str = ".") -> bool:
    """Whether a name is that of a temporary file, of whatever file it was to become."""
    return name.startswith(start) and name.endswith(_LEFTOVER)


def _leftover_start(path: Path) -> str:
    return f".{path.name}."
