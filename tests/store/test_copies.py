"""Which copies are looked through, and in which order."""

from __future__ import annotations

from pathlib import Path

import pytest

from benchconsole.store.copies import copies, copies_folder, keep_before
from tests.store.memory_disk import MemoryDisk

STORE = Path("/shop/shop.json")
FOLDER = copies_folder(STORE)


def test_the_newest_comes_first_and_what_was_given_up_last() -> None:
    """What was kept before a restore tells of taps that were given up with it."""
    names = [
        "2026-03-02T080000Z.json",
        "2026-03-04T080000Z-before-restore.json",
        "2026-03-03T080000Z.json",
        "before-version-1-1a2b3c4d.json",
        "notes.txt",
    ]
    disk = MemoryDisk({FOLDER / name: b"{}" for name in names})
    assert [copy.name for copy in copies(disk, STORE)] == [
        "2026-03-03T080000Z.json",
        "2026-03-02T080000Z.json",
        "before-version-1-1a2b3c4d.json",
        "2026-03-04T080000Z-before-restore.json",
    ]


def test_a_copy_that_cannot_be_read_is_passed_over() -> None:
    """The next one is asked instead; without a folder there is none."""

    class Failing(MemoryDisk):
        """Fails to read one file."""

        def read(self, path: Path) -> bytes | None:
            """Refused for the newest."""
            if path.name.startswith("2026-03-03"):
                raise OSError
            return super().read(path)

    disk = Failing({FOLDER / f"2026-03-0{day}T080000Z.json": b"{}" for day in (2, 3)})
    assert [copy.name for copy in copies(disk, STORE)] == ["2026-03-02T080000Z.json"]
    assert list(copies(MemoryDisk(), STORE)) == []


def test_what_is_kept_before_a_change_is_there_under_one_name() -> None:
    """Twice the same is one file; a disk that refuses stops the change."""
    disk = MemoryDisk()
    path = keep_before(disk, STORE, "version-1", b"old")
    assert path == keep_before(disk, STORE, "version-1", b"old")
    assert disk.files() == {path: b"old"}
    disk.is_full = True
    with pytest.raises(OSError):
        keep_before(disk, STORE, "version-1", b"other")
