"""Power cuts while finished hides move to their year and come back: nothing told is lost."""

from __future__ import annotations

import shutil
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from itertools import groupby
from pathlib import Path

import pytest

from benchconsole.clock import ManualClock
from benchconsole.desk import Desk
from benchconsole.errors import StoreError
from benchconsole.model.events import Entry, HidesArchived
from benchconsole.store.repository import TinyRepository
from tests.desk.small_bench import NOON
from tests.desk.test_any_taps import LIBRARY, busy, lose
from tests.store.crash_checks import quick_folder
from tests.store.crash_scripts import STORE
from tests.store.crash_states import Crashes, CrashState, Depth
from tests.store.fault_counts import COUNTS, Counts
from tests.store.simulated_disk import BROKEN, FULL, Fault, SimulatedDisk

DEPTH = Depth(cuts=2, mixtures=2, every_byte=False)
"""How closely each crash is looked at here."""
YEARS_ON = ManualClock(NOON)
YEARS_ON.advance(days=500)

Act = Callable[[Desk], object]


@dataclass
class Shop:
    """A shop that was archived in part while every step was written down."""

    disk: SimulatedDisk
    told: list[tuple[int, tuple[Entry, ...]]]
    """After how many operations of the disk the person could count on which entries."""

    def sure(self, point: int) -> tuple[Entry, ...]:
        """What no crash at this point may lose, wherever it is kept."""
        return [entries for at, entries in self.told if at <= point][-1]


def opened(root: Path, disk: SimulatedDisk | None = None) -> Desk:
    """The desk over the store below a folder, long after."""
    return Desk(TinyRepository(root / STORE, writing=True, disk=disk), YEARS_ON, LIBRARY)


def write(root: Path, entries: Iterable[Entry]) -> None:
    """A store with this history."""
    with TinyRepository(root / STORE, writing=True) as repository:
        for _, tap in groupby(entries, lambda entry: entry.tap):
            together = list(tap)
            at, recorded = together[0].at, together[0].recorded
            repository.append([each.event for each in together], at=at, recorded=recorded)


def archive(desk: Desk) -> None:
    """Move all that is ready."""
    desk.moving_out.all()


def bring_back(desk: Desk) -> None:
    """The first hide of the archive is on the bench again."""
    desk.archive.bring_back(next(iter(desk._ledger.state.archived)))


def tap(desk: Desk) -> None:
    """Something else is done."""
    desk.timers.set("Warm water", "5 min")


def shop_after(
    root: Path, acts: Iterable[Act | Fault], disk_of: type[SimulatedDisk] = SimulatedDisk
) -> Shop:
    """Three lots, two of them gone long ago; then these acts, each on its own opening."""
    bench = busy()
    bench.take_in("Black kid")
    bench.take_in("White kid")
    for place in (1, 2):
        lose(place)(bench.desk)
    write(root, bench.repository.entries())
    disk = disk_of(root)
    shop = Shop(disk, [(0, bench.repository.entries())])
    every = {entry.seq: entry for entry in bench.repository.entries()}
    for act in acts:
        if isinstance(act, Fault):
            disk.faults.append(act)
            continue
        desk = opened(root.resolve(), disk)
        try:
            act(desk)
        except StoreError as refusal:
            assert disk.struck and str(refusal).endswith(".")
        every.update((entry.seq, entry) for entry in desk._ledger.past.written)
        shop.told.append((len(disk.recording), tuple(every.values())))
        desk.close()
    return shop


def lost_in(root: Path, sure: Iterable[Entry]) -> list[Entry]:
    """What is neither in the history nor in the file of a year; then all is put to use."""
    desk = opened(root)
    try:
        lost = _missing(desk, sure)
        archived = set(desk._ledger.state.archived)
        assert not archived & set(desk.hides.ids())
        desk.moving_out.all()  # what was cut off goes on
        lost += _missing(desk, sure)
        for hide in list(desk._ledger.state.archived):
            if hide in desk._ledger.state.archived:
                desk.archive.bring_back(hide)
        lost += _missing(desk, sure)
        assert {"black-kid", "white-kid"} <= set(desk.hides.ids())
        return lost
    finally:
        desk.close()


def _missing(desk: Desk, sure: Iterable[Entry]) -> list[Entry]:
    here = {entry.seq: entry for entry in desk._ledger.past.written}
    away = [entry for entry in sure if here.get(entry.seq) != entry]
    lacking = desk._ledger.archive.lacks(away)
    return [entry for entry in away if entry.seq in lacking]


SHOPS: dict[str, list[Act | Fault]] = {
    "moved": [archive, tap],
    "moved and brought back": [archive, bring_back, tap],
    "a disk that runs full": [Fault("write", FULL), archive, archive, tap],
    "a sync that fails": [Fault("sync", BROKEN, nth=4), archive, archive, tap],
    "a name that is not taken": [Fault("replace", BROKEN, nth=2), archive, archive, tap],
    "a folder that cannot be synced": [Fault("sync folder", BROKEN, nth=5), archive, archive],
}


def faults_of(shop: Shop, counts: Counts) -> list[str]:
    """What is lost in the crashes of a shop, in words; nothing is what is wanted."""
    known: dict[object, list[Entry]] = {}
    with quick_folder() as folder:
        for state in Crashes(shop.disk.recording, DEPTH).states():
            sure = shop.sure(state.point)
            key = (state.key, len(sure))
            if key not in known:
                known[key] = lost_after(state, folder, sure)
                counts.folders += 1
            counts.points += 1
            counts.taps += len({entry.tap for entry in sure})
            counts.lost += len(known[key])
            if known[key]:
                return [f"{state.point}: {state.how}: {len(known[key])} entries lost"]
    assert len(known) > 30
    return []


@pytest.mark.parametrize("name", SHOPS)
def test_a_cut_while_hides_move_loses_nothing(tmp_path: Path, name: str) -> None:
    """At every crash each entry is in the history or in its year, and the move can go on."""
    shop = shop_after(tmp_path, SHOPS[name])
    assert any(isinstance(entry.event, HidesArchived) for entry in shop.told[-1][1])
    assert faults_of(shop, COUNTS) == []


class SyncsNoYears(SimulatedDisk):
    """The file of a year is called safe that was only handed to the system."""

    def sync(self, descriptor: int) -> None:
        """Forgotten for the archive and its copies."""
        if "archive/" not in self._opened[descriptor][1]:
            super().sync(descriptor)


def test_a_move_that_does_not_wait_for_the_years_is_found_out(tmp_path: Path) -> None:
    """Proof that the above can fail: the history is made shorter before the file is safe."""
    shop = shop_after(tmp_path, [archive, tap], SyncsNoYears)
    assert faults_of(shop, Counts()) != []


def lost_after(state: CrashState, folder: Path, sure: Iterable[Entry]) -> list[Entry]:
    """What is lost in one crash; all of it, if the shop cannot be used any more."""
    root = folder / "crashed"
    root.mkdir()
    state.put_into(root)
    try:
        return lost_in(root, sure)
    except StoreError:
        return list(sure)
    finally:
        shutil.rmtree(root)
