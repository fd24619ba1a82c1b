"""Putting a copy back: what stood there is kept first, and cut off anywhere nothing is lost."""

from __future__ import annotations

import errno
import os
from datetime import UTC, datetime, timedelta
from pathlib import Path

import msgspec
import pytest

from benchconsole.errors import StoreDamaged, StoreError, StoreTooNew
from benchconsole.store import TinyRepository
from benchconsole.store.backups import Backups
from benchconsole.store.disk import Disk
from benchconsole.store.holdings import Holding, Holdings
from benchconsole.store.restoring import restore
from benchconsole.store.tip import read_tip
from tests.store.some_logs import (
    BEGAN,
    damaged,
    log_of,
    note,
    put_store,
    sealed_again,
    tap_document,
)

NOW = datetime(2026, 3, 18, 13, 20, tzinfo=UTC)
STEPS = ("read", "create", "write", "sync", "replace", "sync_folder")


class FailingLater(Disk):
    """The real disk, of which the n-th call of one kind fails as a full disk does."""

    def __init__(self, fails_at: str, after: int) -> None:
        self.fails_at, self.left = fails_at, after

    def __getattribute__(self, name: str) -> object:
        found = object.__getattribute__(self, name)
        if name != object.__getattribute__(self, "fails_at"):
            return found
        self.left -= 1
        if self.left >= 0:
            return found

        def full(*_: object) -> None:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

        return full


def notes_in(store: Path) -> list[str]:
    """What a console reads in the store, notes only."""
    with TinyRepository(store, writing=True) as repository:
        texts = [getattr(entry.event, "text", "") for entry in repository.entries()]
        assert repository.notices == ()
    return texts


def test_the_store_is_what_the_copy_was_and_goes_on_from_there(store: Path) -> None:
    """Opened again it shows the old taps, says nothing of damage, and takes new ones."""
    put_store(store, log_of(5))
    backups = Backups(store)
    copy = backups.keep(log_of(3), NOW - timedelta(hours=2))
    assert copy is not None
    done = restore(store, copy, NOW, backups=backups)
    assert notes_in(store) == ["note 1", "note 2", "note 3"]
    with TinyRepository(store, writing=True) as repository:
        repository.append([note(4, "another")], at=NOW, recorded=NOW)
    assert notes_in(store) == ["note 1", "note 2", "note 3", "another"]
    assert done.before is not None
    assert backups.read(done.before) == log_of(5)


def test_a_restore_can_itself_be_taken_back(store: Path) -> None:
    """The copy of what stood there is in the list, and putting it back brings all of it back."""
    put_store(store, log_of(5))
    backups = Backups(store)
    copy = backups.keep(log_of(3), NOW)
    assert copy is not None
    done = restore(store, copy, NOW, backups=backups)
    assert done.before in backups.all()
    assert done.before is not None
    again = restore(store, done.before, NOW + timedelta(minutes=1), backups=backups)
    assert store.read_bytes() == log_of(5)
    assert again.before is not None
    assert backups.read(again.before) == log_of(3)


def test_the_newest_copy_is_then_of_what_was_put_back(store: Path) -> None:
    """Else damage right after a restore would be mended from what the person had given up."""
    put_store(store, log_of(5))
    backups = Backups(store)
    copy = backups.keep(log_of(3), NOW - timedelta(days=1))
    assert copy is not None
    restore(store, copy, NOW, backups=backups)
    assert [backups.read(each) for each in backups.all()] == [log_of(3), log_of(5), log_of(3)]
    store.write_bytes(b"\0" * 100)
    with TinyRepository(store, writing=True) as repository:
        assert [entry.tap for entry in repository.entries()] == [1, 2, 3]


@pytest.mark.parametrize("present", [None, b"", damaged(log_of(5)), log_of(5)[:-20], b"{}"])
def test_whatever_stood_there_is_kept(store: Path, present: bytes | None) -> None:
    """Also a damaged file, as it is; and a store that is gone is there again."""
    if present is not None:
        put_store(store, present)
    else:
        store.parent.mkdir()
    backups = Backups(store)
    copy = backups.keep(log_of(3), NOW)
    assert copy is not None
    done = restore(store, copy, NOW, backups=backups)
    assert notes_in(store) == ["note 1", "note 2", "note 3"]
    assert (done.before is None) == (not present)
    if done.before is not None:
        assert backups.read(done.before) == present


def test_a_copy_that_is_not_whole_is_not_put_back(store: Path) -> None:
    """The store stays as it is, and nothing is copied for it."""
    put_store(store, log_of(5))
    backups = Backups(store)
    copy = backups.keep_before("restore", damaged(log_of(4)), NOW)
    with pytest.raises(StoreDamaged, match="is damaged"):
        restore(store, copy, NOW, backups=backups)
    assert store.read_bytes() == log_of(5)
    assert backups.all() == (copy,)


def test_nothing_is_put_in_the_place_of_a_newer_store(store: Path) -> None:
    """What a newer version wrote is left alone, and so is a copy that it made."""
    newer = log_of(1).replace(b'"version":2', b'"version":3', 1)
    newer = sealed_again(newer)
    put_store(store, newer)
    backups = Backups(store)
    copy = backups.keep(log_of(3), NOW)
    of_newer = backups.keep_before("restore", newer, NOW)
    assert copy is not None
    for each in (copy, of_newer):
        with pytest.raises(StoreTooNew):
            restore(store, each, NOW, backups=backups)
    assert store.read_bytes() == newer


@pytest.mark.parametrize("step", STEPS)
@pytest.mark.parametrize("after", range(6))
def test_a_restore_that_fails_leaves_all_as_it_was(store: Path, step: str, after: int) -> None:
    """Whatever step fails: the store is what it was, with no tip ahead of it, or it is restored."""
    put_store(store, b"")
    store.unlink()
    with TinyRepository(store, writing=True) as repository:
        for number in range(1, 6):
            at = BEGAN + timedelta(hours=number)
            repository.append([note(number)], at=at, recorded=at)
    before, tip = store.read_bytes(), read_tip(Disk(), store)
    backups = Backups(store)
    copy = backups.keep(b"".join(before.splitlines(keepends=True)[:4]), NOW)
    assert copy is not None
    disk = FailingLater(step, after)
    try:
        restore(store, copy, NOW, backups=Backups(store, disk), disk=disk)
    except StoreError as fault:
        assert str(fault).endswith(".")
        assert store.read_bytes() == before
        lagging = read_tip(Disk(), store)
        assert lagging == tip or (step == "write" and lagging and tip and lagging.tap < tip.tap)
        assert len(notes_in(store)) == 5
    else:
        assert len(notes_in(store)) == 3
    assert not [path for path in store.parent.iterdir() if path.name.endswith(".part")]


def test_a_cut_between_tip_and_file_costs_nothing(store: Path) -> None:
    """The tip goes first: with the old file still there it lags behind, which does no harm."""

    class Killed(BaseException):
        pass

    class KilledBeforeTheFile(Disk):
        def replace(self, new: Path, path: Path) -> None:
            if path == store:
                raise Killed
            super().replace(new, path)

    put_store(store, log_of(5))
    backups = Backups(store)
    copy = backups.keep(log_of(3), NOW)
    assert copy is not None
    with pytest.raises(Killed):
        restore(store, copy, NOW, backups=backups, disk=KilledBeforeTheFile())
    assert notes_in(store) == [f"note {n}" for n in range(1, 6)]


def version_1(taps: int) -> bytes:
    """A store of the first version: one document of tables, an entry a document."""
    entries = {}
    for tap in range(1, taps + 1):
        document = tap_document(tap)
        (kept,) = document.pop("events")
        entries[str(tap)] = {**document, "tap": tap, **kept}
    about = {"1": {"schema": "benchconsole.store", "version": 1}}
    return msgspec.json.encode({"_about": about, "history": entries}) + b"\n"


def test_what_a_migration_kept_can_be_put_back(store: Path) -> None:
    """A copy of the first version is listed, and comes back as a log with the same taps."""
    put_store(store, version_1(3))
    with TinyRepository(store, writing=True) as repository:
        assert len(repository.entries()) == 3
        repository.append([note(4)], at=NOW, recorded=NOW)
    backups = Backups(store)
    (copy,) = backups.all()
    assert copy.before == "version-1"
    assert Holdings().of(backups.read(copy)) == Holding(taps=3, last_at=BEGAN + timedelta(hours=3))
    restore(store, copy, NOW, backups=backups)
    assert notes_in(store) == ["note 1", "note 2", "note 3"]
    assert store.read_bytes() == log_of(3)
    assert copy in backups.all()


def test_a_damaged_copy_of_the_first_version_is_told_as_damaged() -> None:
    """Its tables cut short, or with something else in them."""
    for body in (
        version_1(3)[:-40],
        version_1(3).replace(b'"tap":2', b'"tap":"x"'),
        version_1(0),
        b'{"_about":{"1":{"schema":"benchconsole.store","version":1}},"history":7}',
    ):
        assert Holdings().of(body).fault == "it is damaged"


def test_a_copy_that_is_the_beginning_of_a_good_one_is_told_without_reading_it_anew() -> None:
    """Many copies of one log are quick to list; one with a letter changed is not among them."""
    holdings = Holdings()
    assert holdings.of(log_of(9)).taps == 9
    assert holdings.of(log_of(4)) == Holding(taps=4, last_at=BEGAN + timedelta(hours=4))
    assert holdings.of(log_of(4)[:-1]).taps == 3
    assert holdings.of(damaged(log_of(4))).fault == "it is damaged"
    assert holdings.of(log_of(0)).fault == "it holds no taps"
    assert holdings.of(log_of(1)).taps == 1
