"""A disk kept in memory: thousands of damaged stores are opened in seconds."""

from __future__ import annotations

import errno
import itertools
import os
from dataclasses import dataclass, field
from pathlib import Path

from benchconsole.store.disk import FILE_MODE, FOLDER_MODE, Disk, Mark

ROOM_BYTES = 2**40


class Killed(BaseException):
    """The process ends here."""


@dataclass
class Node:
    """A file's content under whatever names it has, and when it was changed."""

    number: int
    body: bytearray = field(default_factory=bytearray)
    changed: int = 0


class MemoryDisk(Disk):
    """Files by path. Folders are there as soon as something is in them.

    ``fails_in`` counts changes down to the one that fails; ``kill_in`` to the one at which the
    process is killed, after which nothing is changed any more; while ``is_full`` nothing can be
    written. Of a write that comes to nothing, half is done.
    """

    def __init__(self, files: dict[Path, bytes] | None = None) -> None:
        self._numbers = itertools.count(3)
        self._names: dict[Path, Node] = {}
        self._opened: dict[int, tuple[Node, bool, int]] = {}
        self.fails_in: int | None = None
        self.kill_in: int | None = None
        self.is_full = False
        for path, body in (files or {}).items():
            self.put(path, body)

    # --- for the tests --------------------------------------------------------------------

    def put(self, path: Path, body: bytes) -> None:
        """Another program puts a file there."""
        node = Node(next(self._numbers), bytearray(body))
        self._names[path] = node
        self._changed(node)

    def files(self) -> dict[Path, bytes]:
        """Everything on the disk."""
        return {path: bytes(node.body) for path, node in self._names.items()}

    def restart(self) -> None:
        """The process is gone, and what it had open with it; the disk works again."""
        self._opened.clear()
        self.fails_in = self.kill_in = None

    # --- what is asked of it --------------------------------------------------------------

    def mark(self, path: Path) -> Mark | None:
        """As of the real one."""
        node = self._names.get(path)
        return None if node is None else (node.number, node.changed, len(node.body))

    def read(self, path: Path) -> bytes | None:
        """As of the real one."""
        node = self._names.get(path)
        return None if node is None else bytes(node.body)

    def read_start(self, path: Path, size: int) -> bytes:
        """The first bytes of a file; none of what is not there."""
        return (self.read(path) or b"")[:size]

    def make_folder(self, folder: Path) -> None:
        """Nothing to do."""

    def create(self, path: Path) -> int:
        """A new file."""
        self._step()
        if path in self._names:
            raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST))
        self.put(path, b"")
        return self._open(path, appends=True)

    def open_to_append(self, path: Path) -> int:
        """An existing file."""
        self._step()
        return self._open(path, appends=True)

    def open_slot(self, path: Path) -> int:
        """A file, made if it is not there."""
        self._step()
        if path not in self._names:
            self.put(path, b"")
        return self._open(path, appends=False)

    def write(self, descriptor: int, body: bytes) -> None:
        """All of it, or half of it when it comes to nothing."""
        is_dead = self.kill_in == 0
        try:
            self._step()
            if self.is_full:
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        except (OSError, Killed):
            if not is_dead:
                self._write(descriptor, bytes(body[: len(body) // 2]))
            raise
        self._write(descriptor, bytes(body))

    def write_over(self, descriptor: int, body: bytes) -> None:
        """At the beginning."""
        node, _, _ = self._opened[descriptor]
        self._opened[descriptor] = (node, False, 0)
        self.write(descriptor, body)

    def truncate(self, descriptor: int, size: int) -> None:
        """Cut."""
        self._step()
        node = self._opened[descriptor][0]
        del node.body[size:]
        self._changed(node)

    def sync(self, descriptor: int) -> None:
        """All is as durable as it gets."""
        self._step()

    def close(self, descriptor: int) -> None:
        """Let go."""
        self._opened.pop(descriptor, None)

    def link(self, path: Path, new: Path) -> None:
        """A second name."""
        self._step()
        if new in self._names:
            raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST))
        self._names[new] = self._names[path]

    def names(self, folder: Path) -> list[str]:
        """Those of the files in a folder, and of the folders in it."""
        depth = len(folder.parts)
        below = (path.parts for path in self._names if folder in path.parents)
        return sorted({parts[depth] for parts in below})

    def mode(self, path: Path) -> int | None:
        """Private."""
        if path in self._names:
            return FILE_MODE
        return FOLDER_MODE if self.names(path) else None

    def free_bytes(self, folder: Path) -> int:
        """More than enough."""
        return ROOM_BYTES

    def replace(self, new: Path, path: Path) -> None:
        """In one step."""
        self._step()
        self._names[path] = self._names.pop(new)

    def sync_folder(self, folder: Path) -> None:
        """All is as durable as it gets."""
        self._step()

    def remove(self, path: Path) -> None:
        """Take a name away."""
        self._step()
        self._names.pop(path, None)

    # --- inside ---------------------------------------------------------------------------

    def _open(self, path: Path, *, appends: bool) -> int:
        descriptor = next(self._numbers)
        self._opened[descriptor] = (self._names[path], appends, 0)
        return descriptor

    def _write(self, descriptor: int, body: bytes) -> None:
        node, appends, at = self._opened[descriptor]
        at = len(node.body) if appends else at
        node.body[at : at + len(body)] = body
        self._opened[descriptor] = (node, appends, at + len(body))
        self._changed(node)

    def _changed(self, node: Node) -> None:
        node.changed = next(self._numbers)

    def _step(self) -> None:
        """Before every change: whether it fails, or the process is dead."""
        if self.kill_in is not None:
            self.kill_in = max(self.kill_in - 1, 0)
            if self.kill_in == 0:
                raise Killed
        if self.fails_in is not None:
            self.fails_in -= 1
            if self.fails_in == 0:
                self.fails_in = None
                raise OSError(errno.EIO, os.strerror(errno.EIO))
