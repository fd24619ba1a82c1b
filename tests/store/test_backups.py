"""The copies of the log: whole, private, rotating, and never in the way of a tap."""

from __future__ import annotations

import errno
import os
import stat
import threading
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from benchconsole.errors import StoreDamaged, StoreError
from benchconsole.store.backups import BEFORE_DAYS, EVERY, LEFT_FREE_BYTES, Backups
from benchconsole.store.disk import Disk
from benchconsole.store.rotation import MOST_KEPT
from tests.store.some_logs import damaged, log_of

NOW = datetime(2026, 3, 18, 13, 20, 30, 500, tzinfo=UTC)
STEPS = ("make_folder", "create", "write", "sync", "replace", "sync_folder")


class FailingDisk(Disk):
    """The real disk, with one step that fails as a full disk fails."""

    def __init__(self, fails_at: str) -> None:
        self._fails_at = fails_at

    def __getattribute__(self, name: str) -> object:
        found = object.__getattribute__(self, name)
        if name == object.__getattribute__(self, "_fails_at"):

            def full(*_: object) -> None:
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

            return full
        return found


class FullDisk(Disk):
    """A disk with so much room left."""

    def __init__(self, free_bytes: int) -> None:
        self._free_bytes = free_bytes

    def free_bytes(self, folder: Path) -> int:
        """As was said."""
        return self._free_bytes


@pytest.fixture
def backups(store: Path) -> Backups:
    """The copies of a store that was never copied."""
    store.parent.mkdir()
    return Backups(store)


def test_a_copy_is_the_log_itself_under_the_time(backups: Backups, store: Path) -> None:
    """The name says when, in UTC; the content is the file's; nobody else may read it."""
    kept = backups.keep(log_of(3), NOW)
    assert kept is not None
    assert kept.path == store.parent / "store.json.backups" / "2026-03-18T132030Z.json"
    assert backups.all() == (kept,)
    assert backups.read(kept) == log_of(3)
    assert (kept.at, kept.before, kept.size) == (NOW.replace(microsecond=0), "", len(log_of(3)))
    assert stat.S_IMODE(kept.path.stat().st_mode) == 0o600
    assert stat.S_IMODE(backups.folder.stat().st_mode) == 0o700


def test_only_what_changed_is_copied(backups: Backups) -> None:
    """The same content makes no second copy, other content does, and so does going back."""
    assert backups.keep(log_of(3), NOW)
    assert backups.keep(log_of(3), NOW + EVERY) is None
    assert backups.keep(log_of(4), NOW + 2 * EVERY)
    assert backups.keep(log_of(3), NOW + 3 * EVERY)
    assert len(backups.all()) == 3


def test_nothing_is_copied_of_nothing(backups: Backups) -> None:
    """A shop in which nothing happened yet has no copies, nor a folder for them."""
    assert backups.keep(log_of(0), NOW) is None
    assert backups.all() == ()
    assert not backups.folder.exists()


DAMAGE = {
    "empty": b"",
    "foreign": b"{}",
    "changed": damaged(log_of(5)),
    "beginning gone": log_of(5)[10:],
    "zeros": b"\0" * 99,
}


@pytest.mark.parametrize("body", DAMAGE.values(), ids=DAMAGE.keys())
def test_damage_is_never_copied_in_turn(backups: Backups, body: bytes) -> None:
    """What is not whole makes no copy, and takes none of the good ones away."""
    for hours in range(30):
        backups.keep(log_of(hours + 1), NOW + hours * EVERY)
    before = backups.all()
    with pytest.raises(StoreDamaged, match=r"No backup copy was made: .* is not whole"):
        backups.keep(body, NOW + timedelta(days=400))
    assert backups.all() == before


def test_a_line_that_is_being_written_is_left_out(backups: Backups) -> None:
    """The file may be copied in the middle of a tap: only its whole lines are taken."""
    kept = backups.keep(log_of(4)[:-9], NOW)
    assert kept is not None
    assert backups.read(kept) == log_of(3)


def test_old_copies_go_and_never_too_many_stay(backups: Backups) -> None:
    """A hundred and twenty copies over forty days: those of the rotation are there, no more."""
    for number in range(120):
        backups.keep(log_of([number + 1]), NOW + number * timedelta(hours=8))
    copies = backups.all()
    assert len(copies) <= MOST_KEPT < 120
    assert [copy.at for copy in copies] == sorted((c.at for c in copies), reverse=True)
    days = {copy.at.date() for copy in copies}
    last = (NOW + 119 * timedelta(hours=8)).date()
    assert {last - timedelta(days=n) for n in range(30)} <= days
    assert backups.read(copies[0]) == log_of([120])


def test_copies_before_something_stay_beside_the_others(backups: Backups) -> None:
    """Whatever they hold: they are not rotated for ninety days; then all but the last go."""
    kept = backups.keep_before("restore", b"no log at all", NOW)
    assert kept.name == "2026-03-18T132030Z-before-restore.json"
    last = backups.keep_before("restore", b"another", NOW + timedelta(days=1))
    for number in range(60):
        backups.keep(log_of(number + 1), NOW + number * timedelta(hours=1))
    assert {kept, last} <= set(backups.all())
    assert backups.read(kept) == b"no log at all"
    backups.sweep(kept.at + timedelta(days=BEFORE_DAYS))
    assert {kept, last} <= set(backups.all())
    backups.sweep(kept.at + timedelta(days=73 * 365))
    assert kept not in backups.all()
    assert last in backups.all()


def test_the_same_is_not_kept_twice_before_the_same(backups: Backups) -> None:
    """A migration that is tried again and again within the hour leaves one copy."""
    first = backups.keep_before("migration", b"old", NOW)
    assert backups.keep_before("migration", b"old", NOW + EVERY / 2) == first
    assert backups.keep_before("migration", b"new", NOW) != first
    assert backups.keep_before("restore", b"old", NOW) != first
    assert backups.keep_before("migration", b"old", NOW + 2 * EVERY) != first
    assert len(backups.all()) == 4


def test_two_in_the_same_second_are_two(backups: Backups) -> None:
    """A copy never takes another's place."""
    assert backups.keep(log_of(1), NOW)
    assert backups.keep(log_of(2), NOW)
    assert [backups.read(each) for each in backups.all()] == [log_of(2), log_of(1)]


def test_after_an_hour_a_copy_is_due(backups: Backups) -> None:
    """None yet, or none within the hour; one of a time still to come does not count."""
    assert backups.is_due(NOW)
    backups.keep_before("restore", log_of(1), NOW)
    assert backups.is_due(NOW)
    backups.keep(log_of(1), NOW)
    assert not backups.is_due(NOW + timedelta(minutes=59))
    assert backups.is_due(NOW + timedelta(minutes=61))
    assert backups.is_due(NOW - timedelta(hours=5))


@pytest.mark.parametrize("step", STEPS)
def test_a_full_disk_is_told_and_leaves_nothing(store: Path, step: str) -> None:
    """Whatever step fails: one sentence, the older copies there, no half copy among them."""
    good = Backups(store)
    if step != "make_folder":
        good.keep(log_of(1), NOW)
    with pytest.raises(StoreError) as caught:
        Backups(store, FailingDisk(step)).keep(log_of(2), NOW + EVERY)
    told = str(caught.value)
    assert told.startswith("No backup copy was made (") and told.endswith("the disk is full.")
    bodies = {good.read(copy) for copy in good.all()}
    assert bodies <= {log_of(1), log_of(2)}
    assert step == "make_folder" or log_of(1) in bodies
    assert not good.folder.exists() or not any(good.folder.glob(".*"))


def test_the_last_room_on_the_disk_is_left_for_the_taps(store: Path) -> None:
    """A copy that would nearly fill the disk is not made."""
    body = log_of(3)
    store.parent.mkdir()
    with pytest.raises(StoreError, match="the disk is nearly full, and what is left is kept"):
        Backups(store, FullDisk(LEFT_FREE_BYTES + len(body) - 1)).keep(body, NOW)
    assert Backups(store).all() == ()
    assert Backups(store, FullDisk(LEFT_FREE_BYTES + len(body))).keep(body, NOW)


def test_what_a_killed_write_left_is_swept(backups: Backups) -> None:
    """A temporary file goes with the next copy; what people put there themselves stays."""
    backups.folder.mkdir()
    for name in (".2026-03-18T132030Z.json.0a1b2c3d.part", "my own notes.txt", "x.json"):
        (backups.folder / name).write_text("x")
    (backups.folder / "9999-99-99T999999Z.json").write_text("x")
    kept = backups.keep(log_of(1), NOW)
    assert kept is not None
    names = ["2026-03-18T132030Z.json", "9999-99-99T999999Z.json", "my own notes.txt", "x.json"]
    assert sorted(path.name for path in backups.folder.iterdir()) == names
    assert backups.all() == (kept,)


def test_a_file_in_the_folders_place(backups: Backups) -> None:
    """A sentence, and the file is left alone."""
    backups.folder.write_text("mine")
    with pytest.raises(StoreError, match=r"store\.json\.backups"):
        backups.keep(log_of(1), NOW)
    with pytest.raises(StoreError, match="cannot be listed"):
        backups.all()
    assert backups.folder.read_text() == "mine"


def test_two_threads_do_not_sweep_each_other_away(backups: Backups) -> None:
    """The hourly copy and one before a restore, at once: all of them are made."""
    faults: list[BaseException] = []

    def keep(of: int) -> None:
        try:
            for number in range(20):
                backups.keep(log_of([of + number]), NOW + number * timedelta(hours=1))
                backups.keep_before("restore", log_of([of + number]), NOW)
        except BaseException as fault:
            faults.append(fault)

    threads = [threading.Thread(target=keep, args=(of,)) for of in (1, 101)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert faults == []
    assert len([copy for copy in backups.all() if copy.before]) == 40
