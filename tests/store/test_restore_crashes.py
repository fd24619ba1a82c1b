"""Power cuts at every point of keeping copies and of putting one back: the old shop or the new."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from benchconsole.store import TinyRepository
from benchconsole.store.backups import Backups
from benchconsole.store.restoring import restore
from tests.store.crash_checks import quick_folder
from tests.store.crash_scripts import STORE, taps_of
from tests.store.crash_states import Crashes, CrashState, Depth
from tests.store.simulated_disk import SimulatedDisk
from tests.store.some_logs import BEGAN, damaged, log_of, note

NOW = datetime(2026, 3, 18, 13, 20, tzinfo=UTC)
DEPTH = Depth(cuts=3, mixtures=2, every_byte=False)
OLD, NEW = 6, 3
"""Taps in the shop, and in the copy that is put back."""

Act = Callable[[Path, SimulatedDisk], None]


def by_the_command(store: Path, disk: SimulatedDisk) -> None:
    """As ``benchconsole restore`` does it, with the store closed."""
    backups = Backups(store, disk)
    restore(store, backups.all()[-1], NOW, backups=backups, disk=disk)


def by_the_console(store: Path, disk: SimulatedDisk) -> None:
    """As the console does it, with the store open."""
    with TinyRepository(store, writing=True, disk=disk) as repository:
        repository.entries()
        assert repository.backups is not None
        repository.restore(repository.backups.all()[-1], NOW)


def twice(store: Path, disk: SimulatedDisk) -> None:
    """Put back, and that taken back."""
    by_the_console(store, disk)
    with TinyRepository(store, writing=True, disk=disk) as repository:
        assert repository.backups is not None
        before = next(copy for copy in repository.backups.all() if copy.before)
        repository.restore(before, NOW + timedelta(minutes=1))


def prepare(store: Path) -> None:
    """A shop of six taps with its tip, and a copy of the first three."""
    with TinyRepository(store, writing=True) as repository:
        for number in range(1, OLD + 1):
            at = BEGAN + timedelta(hours=number)
            repository.append([note(number)], at=at, recorded=at)
    lines = store.read_bytes().splitlines(keepends=True)
    Backups(store).keep(b"".join(lines[: NEW + 1]), NOW - timedelta(hours=5))


def taps_after(state: CrashState, folder: Path) -> int:
    """How many taps the console finds after a crash; and the next one is kept."""
    root = folder / "crashed"
    root.mkdir()
    state.put_into(root)
    try:
        with TinyRepository(root / STORE, writing=True) as repository:
            taps = taps_of(repository.entries())
            repository.append([note(99)], at=NOW, recorded=NOW)
        with TinyRepository(root / STORE, writing=True) as repository:
            assert taps_of(repository.entries())[:-1] == taps
        backups = Backups(root / STORE)
        assert backups.read(backups.all()[-1]).count(b"\n") == NEW + 1
        return len(taps)
    finally:
        shutil.rmtree(root)


@pytest.mark.parametrize(
    ("act", "ends_with"), [(by_the_command, NEW), (by_the_console, NEW), (twice, OLD)]
)
def test_a_cut_anywhere_leaves_the_old_shop_or_the_new(
    tmp_path: Path, act: Act, ends_with: int
) -> None:
    """Never a mix, nothing lost, the copy still there; and once it is told, it lasts."""
    prepare(tmp_path / STORE)
    disk = SimulatedDisk(tmp_path)
    act(tmp_path.resolve() / STORE, disk)
    crashes = Crashes(disk.recording, DEPTH)
    known: dict[object, int] = {}
    with quick_folder() as folder:
        for state in crashes.states():
            if state.key not in known:
                known[state.key] = taps_after(state, folder)
        assert set(known.values()) == {OLD, NEW}
        assert len(known) > 50
        lasting = crashes.state(len(disk.recording), lost=True)
        assert taps_after(lasting, folder) == ends_with


def test_a_cut_while_a_copy_is_made_leaves_whole_copies(tmp_path: Path) -> None:
    """The store is not touched; a copy is there whole or not at all, and the old ones are."""
    store = tmp_path.resolve() / STORE
    prepare(store)
    body = store.read_bytes()
    disk = SimulatedDisk(tmp_path)
    backups = Backups(store, disk)
    for number in range(1, 4):
        backups.keep(log_of([number]), NOW + timedelta(hours=number))
    with quick_folder() as folder:
        for state in Crashes(disk.recording, DEPTH).states():
            root = folder / "crashed"
            root.mkdir()
            state.put_into(root)
            found = Backups(root / STORE)
            bodies = [found.read(copy) for copy in found.all()]
            assert set(bodies) <= {log_of([1]), log_of([2]), log_of([3]), bodies[-1]}
            assert bodies[-1].count(b"\n") == NEW + 1
            assert (root / STORE).read_bytes() == body
            shutil.rmtree(root)


def test_damage_after_a_restore_is_mended_from_the_restored_shop(tmp_path: Path) -> None:
    """What the person had given up does not come back through the copies."""
    store = tmp_path / STORE
    prepare(store)
    with TinyRepository(store, writing=True) as repository:
        assert repository.backups is not None
        repository.restore(repository.backups.all()[-1], NOW)
        repository.append([note(4, "anew")], at=NOW, recorded=NOW)
    for harm in (damaged(store.read_bytes()), b"", b"\0" * 900):
        store.write_bytes(harm)
        with TinyRepository(store, writing=True) as repository:
            texts = [getattr(entry.event, "text", "") for entry in repository.entries()]
        assert texts[:3] == ["note 1", "note 2", "note 3"]
        assert "note 5" not in texts
