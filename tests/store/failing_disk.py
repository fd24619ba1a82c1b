"""A log on the real disk that writes down its steps, and fails at the one it is told to."""

from __future__ import annotations

import errno
import os
from pathlib import Path
from typing import Any

from benchconsole.store.disk import Disk
from benchconsole.store.log import LogStorage

BEGUN = "2026-03-01T08:00:00Z"


def tap(text: str) -> dict[str, Any]:
    """A tap's document; the storage only asks when it was recorded."""
    return {"recorded": BEGUN, "text": text}


OLD = {"history": {"1": tap("old")}}
NEW = {"history": {"1": tap("old"), "2": tap("new")}}
STEPS = ("create", "write", "sync", "close", "replace", "sync_folder")


class RecordingDisk(Disk):
    """The real disk, writing down what was asked of it, and failing at one step if told to.

    A failing ``write`` first writes half, as a full disk does. The tip, for which nothing waits,
    is left out of it.
    """

    def __init__(self, fails_at: str = "", fault: int = errno.ENOSPC, times: int = 1) -> None:
        self.steps: list[str] = []
        self.fails_at = fails_at
        self.fault = fault
        self.times = times
        self.tips: set[int] = set()

    def _step(self, name: str) -> None:
        self.steps.append(name)
        if name == self.fails_at and self.times:
            self.times -= 1
            raise OSError(self.fault, os.strerror(self.fault))

    def create(self, path: Path) -> int:
        """Recorded."""
        self._step("create")
        return super().create(path)

    def open_slot(self, path: Path) -> int:
        """Remembered, so that the tip is told from the log."""
        descriptor = super().open_slot(path)
        self.tips.add(descriptor)
        return descriptor

    def open_to_append(self, path: Path) -> int:
        """Recorded."""
        self._step("open_to_append")
        return super().open_to_append(path)

    def truncate(self, descriptor: int, size: int) -> None:
        """Recorded."""
        self._step("truncate")
        super().truncate(descriptor, size)

    def write(self, descriptor: int, body: bytes) -> None:
        """Recorded; half of it when it fails."""
        if descriptor in self.tips:
            super().write(descriptor, body)
            return
        if self.fails_at == "write" and self.times:
            super().write(descriptor, body[: len(body) // 2])
        self._step("write")
        super().write(descriptor, body)

    def sync(self, descriptor: int) -> None:
        """Recorded."""
        if descriptor not in self.tips:
            self._step("sync")
        super().sync(descriptor)

    def close(self, descriptor: int) -> None:
        """Recorded; like the system's, it lets go even when it fails."""
        super().close(descriptor)
        if descriptor in self.tips:
            self.tips.remove(descriptor)
        else:
            self._step("close")

    def replace(self, new: Path, path: Path) -> None:
        """Recorded."""
        self._step("replace")
        super().replace(new, path)

    def sync_folder(self, folder: Path) -> None:
        """Recorded."""
        self._step("sync_folder")
        super().sync_folder(folder)


def opened(store: Path, disk: RecordingDisk) -> LogStorage:
    """A storage that has read its file; only from here on its disk fails."""
    fails_at, disk.fails_at = disk.fails_at, ""
    storage = LogStorage(store, writing=True, disk=disk)
    storage.read()
    disk.fails_at = fails_at
    return storage


def tables(path: Path) -> dict[str, Any] | None:
    """What a newcomer reads in the file, without the line about the schema."""
    read = LogStorage(path, writing=False).read()
    return None if read is None else {name: read[name] for name in read if name != "_about"}


def names_in(folder: Path) -> list[str]:
    """Every name in the folder, hidden ones too."""
    return sorted(path.name for path in folder.iterdir())
