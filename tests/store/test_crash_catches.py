"""Proof that the crash tests can fail: disks and stores with a mistake in them are found out."""

from __future__ import annotations

import contextlib
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.store.crash_checks import Examiner, quick_folder
from tests.store.crash_scripts import Break, Note, Player, Step, TakeBack
from tests.store.crash_states import Depth
from tests.store.fault_counts import Counts
from tests.store.simulated_disk import BROKEN, FULL, SimulatedDisk

ORDINARY: list[Step] = [Note(), Note(parts=2, letters=900), TakeBack()]
RUNS_FULL: list[Step] = [Note(), Note(), Break("write", FULL), Note(parts=2), Note()]
SYNC_FAILS: list[Step] = [Note(), Break("sync", BROKEN), Note(parts=2), Note()]


class NeverSyncs(SimulatedDisk):
    """A content is called safe that was only handed to the system."""

    def sync(self, descriptor: int) -> None:
        """Forgotten."""


class NeverSyncsFolders(SimulatedDisk):
    """A new name is called safe that may vanish."""

    def sync_folder(self, folder: Path) -> None:
        """Forgotten."""


class SyncsTooLate(SimulatedDisk):
    """The content is synced only with the next operation, after it was put in place or told."""

    def __init__(self, root: Path) -> None:
        super().__init__(root)
        self._owed: Callable[[], None] | None = None

    def sync(self, descriptor: int) -> None:
        """Put off."""
        file, name = self._opened[descriptor]
        self._owed = lambda: self.note_sync(file, name)

    def sync_folder(self, folder: Path) -> None:
        """Where it is caught up with."""
        self._catch_up()
        super().sync_folder(folder)

    def write(self, descriptor: int, body: bytes) -> None:
        """Or here."""
        self._catch_up()
        super().write(descriptor, body)

    def _catch_up(self) -> None:
        owed, self._owed = self._owed, None
        if owed is not None:
            owed()


class CopiesInPlace(SimulatedDisk):
    """Instead of taking a file's place, the new content is written over the old one."""

    def replace(self, new: Path, path: Path) -> None:
        """Cut, write, sync, remove: safe in the end, but not on the way."""
        body = new.read_bytes()
        descriptor = self.open_slot(path)
        try:
            self.truncate(descriptor, 0)
            self.write(descriptor, body)
            self.sync(descriptor)
        finally:
            self.close(descriptor)
        self.remove(new)


class RemovesFirst(SimulatedDisk):
    """The old file is taken away before the new one gets its name."""

    def replace(self, new: Path, path: Path) -> None:
        """Two steps for one."""
        self.remove(path)
        super().replace(new, path)


class OverlooksFullDisks(SimulatedDisk):
    """What a short write left out is not missed."""

    def write(self, descriptor: int, body: bytes) -> None:
        """A failed write counts as one that was done."""
        with contextlib.suppress(OSError):
            super().write(descriptor, body)


class OverlooksFailedSyncs(SimulatedDisk):
    """A sync that failed is not noticed."""

    def sync(self, descriptor: int) -> None:
        """A failed sync counts as one that was done."""
        with contextlib.suppress(OSError):
            super().sync(descriptor)


class ForgetsTheFolder(SimulatedDisk):
    """The new folder's own name is never made safe."""

    def sync_folder(self, folder: Path) -> None:
        """Without that of the folder above."""
        if folder != self.root:
            super().sync_folder(folder)


DISKS: dict[type[SimulatedDisk], list[Step]] = {
    NeverSyncs: ORDINARY,
    NeverSyncsFolders: ORDINARY,
    SyncsTooLate: ORDINARY,
    CopiesInPlace: ORDINARY,
    RemovesFirst: ORDINARY,
    OverlooksFullDisks: RUNS_FULL,
    OverlooksFailedSyncs: SYNC_FAILS,
    ForgetsTheFolder: ORDINARY,
}


DEPTH = Depth(cuts=4, mixtures=2, inside=10)


def faults_found(
    root: Path, script: list[Step], disk: Callable[[Path], SimulatedDisk] = SimulatedDisk
) -> list[str]:
    """What the crash tests say of a script on such a disk."""
    played = Player(root, disk=disk).play(script)
    with quick_folder() as folder:
        return Examiner(folder, Counts(), DEPTH, disk).examine(played, 1)


@pytest.mark.parametrize("disk", DISKS, ids=lambda disk: disk.__name__)
def test_a_disk_with_a_mistake_is_found_out(tmp_path: Path, disk: type[SimulatedDisk]) -> None:
    """The script that passes on a good disk loses a tap, or keeps half of one, on this one."""
    assert faults_found(tmp_path, DISKS[disk], disk) != []


@pytest.mark.parametrize("script", [ORDINARY, RUNS_FULL, SYNC_FAILS])
def test_without_a_mistake_nothing_is_found(tmp_path: Path, script: list[Step]) -> None:
    """The same scripts on a disk that does as it is told."""
    assert faults_found(tmp_path, script) == []
