"""The log's storage: the order of its steps, and every one of them failing."""

from __future__ import annotations

import errno
import os
import stat
from pathlib import Path

import pytest

from benchconsole.errors import StoreDamaged, StoreError
from benchconsole.store.disk import words_for
from benchconsole.store.log import LogStorage
from tests.store.failing_disk import (
    NEW,
    OLD,
    STEPS,
    RecordingDisk,
    names_in,
    opened,
    tables,
    tap,
)


def test_the_steps_come_in_the_order_that_makes_it_durable(store: Path) -> None:
    """Content is on the disk before the name points to it, and the name before write returns."""
    disk = RecordingDisk()
    storage = opened(store, disk)
    disk.steps.clear()
    storage.write(OLD)
    assert list(STEPS) == disk.steps
    assert tables(store) == OLD


def test_a_new_folder_is_made_durable_too(store: Path) -> None:
    """The folder's own name is synced before anything is kept in it."""
    disk = RecordingDisk()
    LogStorage(store, writing=True, disk=disk)
    assert disk.steps == ["sync_folder"]
    assert store.parent.is_dir()


@pytest.mark.parametrize("step", STEPS)
@pytest.mark.parametrize("fault", [errno.ENOSPC, errno.EROFS, errno.EIO])
def test_a_step_that_fails_leaves_the_old_content(store: Path, step: str, fault: int) -> None:
    """Whatever step fails and however, the old file is whole and the person gets a sentence."""
    LogStorage(store, writing=True).write(OLD)
    storage = opened(store, RecordingDisk(step, fault))
    with pytest.raises(StoreError) as caught:
        storage.write(NEW)
    told = str(caught.value)
    assert words_for(OSError(fault, os.strerror(fault))) in told
    assert told.startswith("Nothing was saved") and told.endswith(".") and "\n" not in told
    assert tables(store) == OLD
    assert names_in(store.parent) == ["store.json", "store.json.tip"]


@pytest.mark.parametrize("step", STEPS)
def test_after_a_failure_the_next_write_succeeds(store: Path, step: str) -> None:
    """A full disk that has been cleared needs no restart."""
    LogStorage(store, writing=True).write(OLD)
    storage = opened(store, RecordingDisk(step))
    with pytest.raises(StoreError):
        storage.write(NEW)
    assert storage.read() is not None
    storage.write(NEW)
    assert tables(store) == NEW


@pytest.mark.parametrize("step", STEPS[:-1])
def test_a_first_write_that_fails_leaves_no_file(store: Path, step: str) -> None:
    """A shop that could not be begun is still an empty shop, not a damaged one."""
    storage = LogStorage(store, writing=True, disk=RecordingDisk(step))
    with pytest.raises(StoreError):
        storage.write(OLD)
    assert tables(store) is None
    assert names_in(store.parent) == []


def test_a_first_write_whose_folder_cannot_be_synced_is_taken_back(store: Path) -> None:
    """What was not confirmed is not there, even when only the very last step failed."""
    store.parent.mkdir()
    storage = opened(store, RecordingDisk("sync_folder"))
    with pytest.raises(StoreError):
        storage.write(OLD)
    assert tables(store) is None
    storage.write(NEW)
    assert tables(store) == NEW


def test_a_disk_that_stays_broken_never_leaves_a_torn_file(store: Path) -> None:
    """When even putting the old content back fails, the file is still one of the two, whole."""
    LogStorage(store, writing=True).write(OLD)

    class Dying(RecordingDisk):
        """Breaks at the folder's sync and refuses everything after."""

        def sync_folder(self, folder: Path) -> None:
            """Breaks the disk."""
            if not self.fails_at:
                return
            self.fails_at, self.times = "create", 99
            raise OSError(errno.EIO, os.strerror(errno.EIO))

    storage = opened(store, Dying("sync_folder"))
    for _ in range(2):
        with pytest.raises(StoreError):
            storage.write(NEW)
        assert tables(store) in (OLD, NEW)
    with pytest.raises(StoreError):
        storage.read()  # nobody knows whether it would outlast a power cut


def test_a_file_system_without_folder_sync_is_put_up_with(
    store: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Some network file systems refuse to sync a folder (EINVAL); nothing better can be had."""
    storage = LogStorage(store, writing=True)
    real = os.fsync

    def fsync(descriptor: int) -> None:
        if stat.S_ISDIR(os.fstat(descriptor).st_mode):
            raise OSError(errno.EINVAL, os.strerror(errno.EINVAL))
        real(descriptor)

    monkeypatch.setattr(os, "fsync", fsync)
    storage.write(OLD)
    assert tables(store) == OLD


def test_a_system_that_writes_a_little_at_a_time_still_writes_all(
    store: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """write(2) may take fewer bytes than it was given."""
    storage = LogStorage(store, writing=True)
    real = os.write
    monkeypatch.setattr(os, "write", lambda descriptor, body: real(descriptor, body[:7]))
    storage.write(NEW)
    monkeypatch.undo()
    assert tables(store) == NEW


def test_what_killed_writes_left_is_swept_up_on_opening(store: Path) -> None:
    """Leftovers go, and only ours: a neighbour's file and another store's stay."""
    LogStorage(store, writing=True).write(OLD)
    for name in (".store.json.0a1b2c3d.part", "store.json.part", ".other.json.0a1b2c3d.part"):
        (store.parent / name).write_text("{", encoding="utf-8")
    LogStorage(store, writing=False).read()
    assert len(names_in(store.parent)) == 5
    LogStorage(store, writing=True)
    assert names_in(store.parent) == [
        ".other.json.0a1b2c3d.part",
        "store.json",
        "store.json.part",
        "store.json.tip",
    ]
    assert tables(store) == OLD


@pytest.mark.parametrize("umask", [0o000, 0o022, 0o077])
def test_the_file_is_private_to_its_user(store: Path, umask: int) -> None:
    """0600 in a 0700 folder, whatever the umask, and after every replace."""
    before = os.umask(umask)
    try:
        storage = LogStorage(store, writing=True)
        storage.write(OLD)
        storage.write(NEW)
    finally:
        os.umask(before)
    assert (0o600, 0o700) == (store.stat().st_mode & 0o777, store.parent.stat().st_mode & 0o777)


def test_a_folder_of_the_persons_own_keeps_its_mode(tmp_path: Path) -> None:
    """A store kept in an existing folder does not lock others out of that folder."""
    tmp_path.chmod(0o755)
    LogStorage(tmp_path / "store.json", writing=True).write(OLD)
    assert tmp_path.stat().st_mode & 0o777 == 0o755


def test_a_reader_makes_nothing_and_writes_nothing(store: Path) -> None:
    """Looking at a shop that is not there leaves no trace, and a looker's write is refused."""
    storage = LogStorage(store, writing=False)
    assert storage.read() is None
    with pytest.raises(StoreError, match="only to look at"):
        storage.write(OLD)
    assert not store.parent.exists()


def test_what_another_program_wrote_is_never_written_over(store: Path) -> None:
    """A store changed under the writer is refused by name, and the change stays."""
    storage = LogStorage(store, writing=True)
    storage.write(OLD)
    LogStorage(store, writing=True).write(NEW)
    with pytest.raises(StoreError, match="Another program changed"):
        storage.read()
    assert tables(store) == NEW


def test_a_file_merely_copied_over_itself_is_no_change(store: Path) -> None:
    """The same content under another inode (a sync program's work) goes on as before."""
    storage = LogStorage(store, writing=True)
    storage.write(OLD)
    body = store.read_bytes()
    store.unlink()
    store.write_bytes(body)
    assert storage.read() is not None
    storage.write(NEW)
    assert tables(store) == NEW


def test_what_read_gave_out_is_the_callers_own(store: Path) -> None:
    """TinyDB edits what it read; a write that fails afterwards must not smuggle that in."""
    storage = LogStorage(store, writing=True)
    storage.write(OLD)
    first = storage.read()
    assert first is not None
    first["history"]["1"]["text"] = "never saved"
    first["history"]["2"] = tap("never saved")
    assert tables(store) == OLD
    second = storage.read()
    assert second is not None
    assert OLD["history"] == second["history"]


def test_a_damaged_file_is_never_written_over(store: Path) -> None:
    """Not by a write that follows a refused reading, nor by one that asked nothing before."""
    store.parent.mkdir()
    store.write_bytes(b"{")
    storage = LogStorage(store, writing=True)
    for act in (lambda: storage.write(NEW), storage.read, lambda: storage.write(NEW)):
        with pytest.raises(StoreDamaged):
            act()
    assert store.read_bytes() == b"{"
