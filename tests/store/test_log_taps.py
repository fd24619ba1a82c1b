"""A tap at the end of the log: its steps, every one of them failing, what is made sure of."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from benchconsole.errors import StoreError
from benchconsole.store.disk import Disk, Mark, words_for
from benchconsole.store.lines import mark_of
from benchconsole.store.log import LogStorage
from benchconsole.store.tip import Tip, write_tip
from tests.store.failing_disk import (
    NEW,
    OLD,
    STEPS,
    RecordingDisk,
    opened,
    tables,
    tap,
)

ADDING = ("open_to_append", "write", "sync", "close")


def test_a_tap_is_one_line_and_one_sync(store: Path) -> None:
    """The line is on the disk before append returns; the rest of the file is not touched."""
    disk = RecordingDisk()
    storage = LogStorage(store, writing=True, disk=disk)
    storage.append(1, tap("old"))
    before = store.read_bytes()
    disk.steps.clear()
    storage.append(2, tap("new"))
    assert list(ADDING) == disk.steps
    assert tables(store) == NEW
    assert store.read_bytes().startswith(before)


@pytest.mark.parametrize("step", ADDING[:-1])
@pytest.mark.parametrize("fault", [errno.ENOSPC, errno.EROFS, errno.EIO])
def test_a_tap_that_fails_leaves_no_trace_and_the_next_succeeds(
    store: Path, step: str, fault: int
) -> None:
    """The half line is cut off again, a sentence is told, and nothing needs a restart."""
    storage = LogStorage(store, writing=True, disk=RecordingDisk())
    storage.append(1, tap("old"))
    before = store.read_bytes()
    storage = opened(store, RecordingDisk(step, fault))
    with pytest.raises(StoreError, match=words_for(OSError(fault, os.strerror(fault)))):
        storage.append(2, tap("never"))
    assert store.read_bytes() == before
    storage.append(2, tap("new"))
    assert tables(store) == NEW


def test_a_file_that_cannot_be_closed_holds_the_tap_all_the_same(store: Path) -> None:
    """The line was synced before: what closing says is no matter any more."""
    LogStorage(store, writing=True).append(1, tap("old"))
    opened(store, RecordingDisk("close")).append(2, tap("new"))
    assert tables(store) == NEW


def test_a_file_that_cannot_be_asked_about_holds_the_tap_all_the_same(store: Path) -> None:
    """The line was synced before; who it is, is found out before the next tap."""

    class Shy(RecordingDisk):
        """Will not say what a file is, the first time after it was synced."""

        asked = False

        def mark(self, path: Path) -> Mark | None:
            """Refused once."""
            if self.steps[-1:] == ["close"] and not self.asked:
                self.asked = True
                raise OSError(errno.EIO, os.strerror(errno.EIO))
            return super().mark(path)

    LogStorage(store, writing=True).append(1, tap("old"))
    disk = Shy()
    storage = opened(store, disk)
    disk.steps.clear()
    storage.append(2, tap("new"))
    assert disk.asked
    storage.append(3, tap("later"))
    assert tables(store) == {"history": {**NEW["history"], "3": tap("later")}}


def test_after_a_failed_sync_all_goes_into_a_new_file(store: Path) -> None:
    """The system may take for written what never reached the disk, so none of it is relied on."""
    LogStorage(store, writing=True).append(1, tap("old"))
    disk = RecordingDisk("sync", errno.EIO)
    storage = opened(store, disk)
    with pytest.raises(StoreError):
        storage.append(2, tap("never"))
    disk.steps.clear()
    storage.append(2, tap("new"))
    assert [step for step in disk.steps if step != "link"] == list(STEPS)
    assert tables(store) == NEW


def test_an_opening_makes_sure_of_what_a_killed_program_left(store: Path) -> None:
    """A line that was written but never synced is shown from now on: it is waited for first."""
    LogStorage(store, writing=True).append(1, tap("old"))
    disk = RecordingDisk()
    storage = LogStorage(store, writing=True, disk=disk)
    disk.steps.clear()
    assert storage.read() is not None
    assert disk.steps == ["open_to_append", "sync", "close", "sync_folder"]
    storage.append(2, tap("new"))
    assert tables(store) == NEW


@pytest.mark.parametrize("step", ["open_to_append", "sync", "sync_folder"])
def test_a_disk_that_cannot_make_sure_is_opened_and_distrusted(store: Path, step: str) -> None:
    """What can be read is shown all the same, and the next tap goes into a whole new file."""
    LogStorage(store, writing=True).append(1, tap("old"))
    disk = RecordingDisk(step, errno.EIO)
    storage = LogStorage(store, writing=True, disk=disk)
    assert storage.read() is not None
    disk.steps.clear()
    storage.append(2, tap("new"))
    assert list(STEPS) == disk.steps
    assert tables(store) == NEW


@pytest.mark.parametrize("half", [False, True])
def test_a_line_that_could_not_be_cut_off_is_never_taken_for_safe(store: Path, half: bool) -> None:
    """The disk refuses the sync and then the cut: the line there goes into a new file, or out."""
    LogStorage(store, writing=True).append(1, tap("old"))

    class Stuck(RecordingDisk):
        """Refuses to cut a file, once."""

        stuck = True

        def truncate(self, descriptor: int, size: int) -> None:
            """Refused the first time."""
            if self.stuck:
                self.stuck = False
                raise OSError(errno.EIO, os.strerror(errno.EIO))
            super().truncate(descriptor, size)

    disk = Stuck("write" if half else "sync", errno.EIO)
    storage = opened(store, disk)
    with pytest.raises(StoreError):
        storage.append(2, tap("new"))
    disk.steps.clear()
    kept = storage.read()
    assert kept is not None
    assert kept["history"] == (OLD if half else NEW)["history"]
    assert disk.steps == list(STEPS)
    storage.append(3, tap("later"))
    assert tables(store) == {"history": {**(OLD if half else NEW)["history"], "3": tap("later")}}


def test_a_reader_makes_no_news_of_a_line_that_is_being_written(store: Path) -> None:
    """It shows what is confirmed and is silent; a writer that finds the same tells what it is."""
    LogStorage(store, writing=True).append(1, tap("old"))
    LogStorage(store, writing=True).append(2, tap("new"))
    whole = store.read_bytes()
    write_tip(Disk(), store, Tip(1, mark_of(tap("old"))))
    store.write_bytes(whole[:-20])
    reader, writer = (LogStorage(store, writing=writing) for writing in (False, True))
    kept = reader.read()
    assert kept is not None
    assert (OLD["history"], ()) == (kept["history"], reader.notices)
    writer.read()
    assert "was being saved" in writer.notices[0]
