"""Disks that run full, go away or take their time: real ones where this user may mount them."""

from __future__ import annotations

import errno
import os
import subprocess
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

from benchconsole.store.disk import Disk

SMALL_BYTES = 192 * 1024
BALLAST_BYTES = 96 * 1024


class QuotaDisk(Disk):
    """The real disk, on which the files of one folder may only grow to ``limit`` bytes together."""

    def __init__(self, folder: Path, limit: int) -> None:
        self._folder = folder
        self._limit = limit

    def write(self, descriptor: int, body: bytes) -> None:
        """As much as there is room for; the system then says that the disk is full."""
        used = sum(path.stat().st_size for path in self._folder.rglob("*") if path.is_file())
        room = max(self._limit - used, 0)
        super().write(descriptor, body[:room])
        if room < len(body):
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))


class SlowDisk(Disk):
    """The real disk, taking its time over each sync; ``meanwhile`` is asked during it."""

    def __init__(self, seconds: float, meanwhile: Callable[[], object]) -> None:
        self._seconds = seconds
        self._meanwhile = meanwhile

    def sync(self, descriptor: int) -> None:
        """Slow."""
        time.sleep(self._seconds / 2)
        self._meanwhile()
        time.sleep(self._seconds / 2)
        super().sync(descriptor)


class BrokenDisk(Disk):
    """The real disk, on which some operations fail while ``number`` is not nought."""

    def __init__(self) -> None:
        self.number = 0

    def create(self, path: Path) -> int:
        """Refused while broken."""
        self._refuse()
        return super().create(path)

    def open_to_append(self, path: Path) -> int:
        """Refused while broken."""
        self._refuse()
        return super().open_to_append(path)

    def open_slot(self, path: Path) -> int:
        """Refused while broken."""
        self._refuse()
        return super().open_slot(path)

    def _refuse(self) -> None:
        if self.number:
            raise OSError(self.number, os.strerror(self.number))


@dataclass
class SmallDisk:
    """A folder with little room, part of it taken by something that can be thrown away."""

    folder: Path
    is_real: bool
    disk: Disk = field(default_factory=Disk)

    def fill(self, count: int) -> None:
        """Take room away."""
        (self.folder / "ballast").write_bytes(b"x" * count)

    def clear(self) -> None:
        """Give it back."""
        (self.folder / "ballast").unlink()


def mounted(folder: Path) -> bool:
    """Mount a small file system of its own there; False where that is not to be had."""
    folder.mkdir()
    command = ["mount", "-t", "tmpfs", "-o", f"size={SMALL_BYTES}", "tmpfs", str(folder)]
    try:
        return subprocess.run(command, capture_output=True, check=False).returncode == 0
    except FileNotFoundError:
        return False


def unmount(folder: Path) -> None:
    """Take the file system away, even under an open program."""
    subprocess.run(["umount", "--lazy", str(folder)], check=True)


@contextmanager
def small_disk(folder: Path) -> Iterator[SmallDisk]:
    """A really small file system if it can be mounted, else a quota."""
    is_real = mounted(folder)
    disk = Disk() if is_real else QuotaDisk(folder, SMALL_BYTES)
    try:
        yield SmallDisk(folder, is_real, disk)
    finally:
        if is_real and os.path.ismount(folder):
            unmount(folder)


@contextmanager
def quota(folder: Path) -> Iterator[SmallDisk]:
    """The same with a quota everywhere, which cuts writes at any byte and not only at pages."""
    folder.mkdir()
    yield SmallDisk(folder, False, QuotaDisk(folder, SMALL_BYTES))
