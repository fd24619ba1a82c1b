"""The check: every fault it looks for, planted one at a time, is found; nothing else is."""

from __future__ import annotations

import os
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from benchconsole.store import TinyRepository
from benchconsole.store.backups import Backups
from benchconsole.store.checking import Finding, findings
from benchconsole.store.disk import Disk
from benchconsole.store.lines import whole_log
from benchconsole.store.lock import WriterLock
from benchconsole.store.tip import Tip, write_tip
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


@pytest.fixture
def shop(store: Path) -> Path:
    """A sound store of five taps with its tip and a copy made an hour ago."""
    store.parent.mkdir(mode=0o700)
    with TinyRepository(store, writing=True) as repository:
        for number in range(1, 6):
            at = BEGAN + timedelta(hours=number)
            repository.append([note(number)], at=at, recorded=at)
    Backups(store).keep(store.read_bytes(), NOW - timedelta(hours=1))
    return store


def look(store: Path, now: datetime = NOW, disk: Disk | None = None) -> list[Finding]:
    """What there is to look at."""
    return [each for each in findings(store, now, UTC, disk) if not each.good]


def test_nothing_is_wrong_with_a_sound_shop(shop: Path) -> None:
    """Nothing to look at, and every kind of check has said that it looked."""
    found = findings(shop, NOW, UTC)
    assert [each for each in found if not each.good] == []
    assert {each.about for each in found} == {
        "store",
        "taps",
        "tip",
        "lock",
        "copies",
        "private",
        "room",
    }


def _plant_archive(shop: Path, body: bytes) -> None:
    folder = shop.with_name(f"{shop.name}.archive")
    folder.mkdir(mode=0o700)
    year = folder / "2025.json"
    year.write_bytes(body)
    year.chmod(0o600)


def _plant_other(shop: Path, body: bytes, name: str = "store (conflict).json") -> None:
    other = shop.with_name(name)
    other.write_bytes(body)
    other.chmod(0o600)


def _damage_copy(shop: Path) -> None:
    copy = Backups(shop).all()[0]
    Backups(shop).keep(log_of(7), NOW)
    copy.path.write_bytes(damaged(log_of(5)))


def _chmod(path: Callable[[Path], Path], mode: int) -> Callable[[Path], None]:
    return lambda shop: path(shop).chmod(mode)


def _set_aside(shop: Path) -> None:
    aside = shop.with_name(f"{shop.name}.damaged-01234567")
    aside.write_bytes(b"x")
    aside.chmod(0o600)


def _newer(shop: Path) -> None:
    shop.write_bytes(sealed_again(log_of(5).replace(b'"version":2', b'"version":9', 1)))


def _unknown_event(shop: Path) -> None:
    document = tap_document(6)
    document["events"][0]["event"]["type"] = "dance-danced"
    shop.write_bytes(whole_log(BEGAN, [(1, tap_document(1)), (6, document)]))


PLANTED: dict[str, tuple[Callable[[Path], object], str, str, str]] = {
    "a changed letter": (
        lambda shop: shop.write_bytes(damaged(shop.read_bytes())),
        "store",
        "The store is damaged: 1 stretch of it cannot be read",
        "brings back 1 tap from the copies and keeps the damaged file aside.",
    ),
    "a missing line": (
        lambda shop: shop.write_bytes(
            b"".join(line for n, line in enumerate(shop.read_bytes().splitlines(True)) if n != 3)
        ),
        "store",
        "in 1 place something is missing",
        "brings back 1 tap from the copies",
    ),
    "an end that is gone": (
        lambda shop: shop.write_bytes(b"".join(shop.read_bytes().splitlines(True)[:3])),
        "store",
        "its end, which was confirmed, is missing",
        "brings back 3 taps from the copies",
    ),
    "a torn end": (
        lambda shop: shop.write_bytes(shop.read_bytes() + b'{"tap":6,"after'),
        "store",
        "a tap that was cut off in the writing; it was never confirmed",
        "Open the console",
    ),
    "another file in its place": (
        lambda shop: shop.write_bytes(b"{}"),
        "store",
        "Nothing in",
        "benchconsole restore",
    ),
    "a newer version": (_newer, "store", "a newer version of this program", "Update the program"),
    "no store any more": (
        lambda shop: shop.unlink(),
        "store",
        "is gone, but there was one",
        "benchconsole restore",
    ),
    "an event of another version": (
        _unknown_event,
        "taps",
        "tap 6 is wrong",
        "update the program",
    ),
    "another last tap": (
        lambda shop: write_tip(Disk(), shop, Tip(5, "00000000")),
        "tip",
        "another one than was confirmed on this computer",
        "replaced by one from elsewhere",
    ),
    "a damaged copy": (_damage_copy, "copies", "1 copy cannot be used: 2026-03-18T122000Z", "Rem"),
    "no copy": (
        lambda shop: Backups(shop).all()[0].path.unlink(),
        "copies",
        "There is no backup copy",
        "The console makes one",
    ),
    "a damaged year": (
        lambda shop: _plant_archive(shop, damaged(log_of(5))),
        "archive",
        "The archive of 2025 cannot be read.",
        "There is no good copy of it",
    ),
    "a store that others may read": (
        _chmod(lambda shop: shop, 0o644),
        "private",
        "may read store.json",
        "chmod 600",
    ),
    "a copy that others may read": (
        _chmod(lambda shop: Backups(shop).all()[0].path, 0o640),
        "private",
        "may read 2026-03-18T122000Z.json",
        "chmod 600",
    ),
    "a folder that others may change": (
        _chmod(lambda shop: shop.parent, 0o777),
        "private",
        "get at what is in the folder",
        "chmod 700",
    ),
    "copies that others may list": (
        _chmod(lambda shop: Backups(shop).folder, 0o755),
        "private",
        "store.json.backups",
        "chmod 700",
    ),
    "a file left over": (
        lambda shop: _plant_other(shop, b"x", ".store.json.0a1b2c3d.part"),
        "left-over",
        "1 file of a write that was cut off",
        "the console removes it",
    ),
    "a damaged file set aside": (
        _set_aside,
        "set-aside",
        "1 damaged file was set aside earlier: store.json.damaged-01234567",
        "can be removed",
    ),
    "a conflict copy": (
        lambda shop: _plant_other(shop, log_of(7)),
        "other-files",
        "store (conflict).json is another copy of this store, with 2 taps",
        "move that file away",
    ),
    "a conflict copy with damage": (
        lambda shop: _plant_other(shop, log_of(7)[:-300] + log_of(7)[-200:]),
        "other-files",
        "with 1 tap that the store lacks",
        "move that file away",
    ),
}


@pytest.mark.parametrize("fault", PLANTED)
def test_what_is_planted_is_found_and_nothing_else(shop: Path, fault: str) -> None:
    """One finding, of the right kind, in words, with what to do; and looking changes nothing."""
    if fault == "a damaged copy":
        shop.write_bytes(log_of(7))
    plant, about, says, do = PLANTED[fault]
    plant(shop)
    before = {path: path.stat().st_mtime_ns for path in shop.parent.rglob("*")}
    (found,) = [each for each in look(shop) if each.about == about]
    assert says in found.says
    assert do in found.do
    assert [each.about for each in look(shop)] == [about]
    assert {path: path.stat().st_mtime_ns for path in shop.parent.rglob("*")} == before


def test_the_taps_of_a_conflict_copy_are_in_the_finding(shop: Path) -> None:
    """Those that the store lacks: other numbers, and the same number with another tap."""
    _plant_other(shop, log_of(6, note_5="typed elsewhere"))
    (found,) = look(shop)
    assert [tap.number for tap in found.taps] == [5, 6]
    assert getattr(found.taps[0].events[0], "text", "") == "typed elsewhere"


def test_files_that_are_no_conflict_are_left_out(shop: Path) -> None:
    """Another shop, an older copy, a person's own files, and what is no ordinary file."""
    _plant_other(shop, log_of(3), "old.json")
    other_shop = whole_log(BEGAN + timedelta(days=1), [(1, tap_document(1, note(1, "x")))])
    _plant_other(shop, other_shop, "second-shop.json")
    _plant_other(shop, b'{"schema":"something.else"}', "mine.json")
    _plant_other(shop, b"", "empty.json")
    os.mkfifo(shop.with_name("pipe"))
    shop.with_name("folder.json").mkdir()
    shop.with_name("nowhere.json").symlink_to("gone")
    assert look(shop) == []
    told = " ".join(each.says for each in findings(shop, NOW, UTC))
    assert "old.json is a copy of this store, with nothing in it that the store lacks" in told
    assert "second-shop.json is the store of another shop" in told
    assert "mine.json" not in told


def test_a_store_of_the_first_version_is_no_fault(store: Path) -> None:
    """Opening it brings it up; a conflict copy of that version is known too."""
    body = b'{"_about":{"1":{"schema":"benchconsole.store","version":1}},"history":{}}\n'
    put_store(store, body)
    assert look(store) == []
    assert "of an earlier version" in findings(store, NOW, UTC)[0].says


def test_old_copies_only_matter_when_something_happened_since(shop: Path) -> None:
    """A shop that was shut for a month needs no newer copy; one that was not does."""
    later = NOW + timedelta(days=30)
    assert look(shop, later) == []
    with TinyRepository(shop, writing=True) as repository:
        repository.append([note(6)], at=NOW, recorded=NOW)
    (found,) = look(shop, later)
    assert found.about == "copies"
    assert "The newest copy is 30 days old, and taps were made since." in found.says


def test_copies_that_are_kept_as_they_are_need_no_look(shop: Path) -> None:
    """What stood there before a restore may be damaged; a newer version may have made copies."""
    backups = Backups(shop)
    backups.keep_before("restore", damaged(log_of(4)), NOW)
    newer = backups.keep(log_of(9), NOW)
    assert newer is not None
    newer.path.write_bytes(sealed_again(log_of(9).replace(b'"version":2', b'"version":9', 1)))
    assert look(shop) == []


def test_a_nearly_full_disk_is_told(shop: Path) -> None:
    """Before it is full."""

    class Nearly(Disk):
        def free_bytes(self, folder: Path) -> int:
            return 5_000_000

    (found,) = look(shop, disk=Nearly())
    assert (found.about, found.says) == ("room", "Only 5 MB are free on the disk of the store.")


def test_while_a_console_writes_half_a_line_is_no_fault(shop: Path) -> None:
    """It is looked at again; the next moment it is whole."""
    whole = shop.read_bytes()

    class Growing(Disk):
        def __init__(self) -> None:
            self.reads = 0

        def read(self, path: Path) -> bytes | None:
            if path == shop:
                self.reads += 1
                return whole[:-20] if self.reads == 1 else whole
            return super().read(path)

    disk = Growing()
    assert look(shop, disk=disk) == []
    assert disk.reads == 2


def test_what_a_console_is_just_writing_is_not_left_over(shop: Path) -> None:
    """A temporary file belongs to somebody while the store is held."""
    _plant_other(shop, b"x", ".store.json.0a1b2c3d.part")
    lock = WriterLock(shop, who="console")
    try:
        assert look(shop) == []
        told = {each.about: each.says for each in findings(shop, NOW, UTC)}
        assert told["lock"].startswith("Another console has had this shop open")
    finally:
        lock.release()
    assert [each.about for each in look(shop)] == ["left-over"]


@pytest.mark.parametrize("step", ["read", "names", "mode", "free_bytes", "read_start"])
def test_what_cannot_be_looked_at_is_told(shop: Path, step: str) -> None:
    """A disk that refuses is a finding, not a traceback; the other checks go on."""

    def refuse(self: Disk, *_: object) -> None:
        raise PermissionError(13, "Permission denied")

    _plant_other(shop, b"x", "note.txt")
    refusing = type("Refusing", (Disk,), {step: refuse})()
    found = look(shop, disk=refusing)
    assert found
    assert all("this user may not use it" in each.says for each in found)
    assert all(each.do for each in found)
