"""Power cuts and kills while a whole store is written anew: moved on, mended, put from a copy."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from pathlib import Path
from typing import Any

import msgspec
import pytest

from benchconsole.store.repository import TinyRepository
from tests.store.crash_checks import Examiner, quick_folder
from tests.store.crash_scripts import NOW, Do, Kill, Note, Player, Step, note
from tests.store.crash_states import Depth
from tests.store.fault_counts import COUNTS
from tests.store.some_logs import damaged

DEPTH = Depth(cuts=3, mixtures=1, every_byte=False, inside=8)
KILLED = Depth(cuts=0, mixtures=1, torn=False, inside=20)
"""How closely each crash is looked at here."""
TAPS = 4

Prepare = Callable[[Path], object]


def written(path: Path, *, copied: bool = False) -> None:
    """A store of four taps, and perhaps a copy of it."""
    with TinyRepository(path, writing=True) as repository:
        for number in range(TAPS):
            repository.append(list(note(number, 2, 300)), at=NOW, recorded=NOW)
    if copied:
        with TinyRepository(path, writing=False) as reader:
            assert reader.backups is not None
            reader.backups.keep(path.read_bytes(), NOW)


def of_version_1(path: Path) -> None:
    """A store as the first version of the program kept it: one document, an entry a number."""
    history: dict[str, Any] = {}
    for tap in range(1, TAPS + 1):
        for event in note(tap, 2, 60):
            seq = len(history) + 1
            history[str(seq)] = {
                "seq": seq,
                "tap": tap,
                "at": NOW,
                "recorded": NOW + timedelta(hours=tap),
                "event": event,
            }
    about = {"1": {"schema": "benchconsole.store", "version": 1}}
    path.parent.mkdir(mode=0o700)
    path.write_bytes(msgspec.json.encode({"_about": about, "history": history}))


def with_a_damaged_line(path: Path) -> None:
    """A letter in the middle is another; the copy has it right."""
    written(path, copied=True)
    path.write_bytes(damaged(path.read_bytes()))


def without_its_end(path: Path) -> None:
    """The last line is gone, as the tip knows; the copy has it."""
    written(path, copied=True)
    path.write_bytes(b"".join(path.read_bytes().splitlines(keepends=True)[:-1]))


def all_zeros(path: Path) -> None:
    """Nothing in the file can be read; the copy has everything."""
    written(path, copied=True)
    path.write_bytes(bytes(path.stat().st_size))


def removed(path: Path) -> None:
    """The file is gone; the copy is there."""
    written(path, copied=True)
    path.unlink()


def with_a_torn_end(path: Path) -> None:
    """Half a line stands at the end, and there is no tip that could tell whether it counted."""
    written(path)
    path.write_bytes(path.read_bytes() + b'{"tap":5,"after":"')
    path.with_name(f"{path.name}.tip").unlink()


def anew(repository: TinyRepository) -> None:
    """TinyDB writes its tables through the storage: the whole file is put anew."""
    tables = repository._storage.read()
    assert tables is not None
    repository._storage.write(tables)


STORES: dict[str, tuple[Prepare, list[Step]]] = {
    "version 1": (of_version_1, [Note(), Note()]),
    "a damaged line": (with_a_damaged_line, [Note()]),
    "no end": (without_its_end, [Note()]),
    "all zeros": (all_zeros, [Note()]),
    "no file": (removed, [Note()]),
    "a torn end": (with_a_torn_end, [Note()]),
    "put anew": (written, [Do(anew), Note(), Do(anew)]),
}


@pytest.mark.parametrize("name", STORES)
def test_a_power_cut_loses_no_tap(tmp_path: Path, name: str) -> None:
    """At every crash the taps of before are there, and what is tapped after it."""
    prepare, script = STORES[name]
    played = Player(tmp_path, prepare=prepare).play(script)
    assert len(played.promises.sure(0)) == TAPS
    with quick_folder() as folder:
        quiet = name in ("version 1", "put anew")
        assert Examiner(folder, COUNTS, DEPTH, may_tell=not quiet).examine(played) == []


@pytest.mark.parametrize("name", STORES)
def test_a_kill_and_then_a_power_cut_lose_no_tap(tmp_path: Path, name: str) -> None:
    """The program is killed after each change it makes, started again, and then the power goes."""
    prepare, script = STORES[name]
    kills = 0
    with quick_folder() as folder:
        examiner = Examiner(folder, COUNTS, KILLED, may_tell=True)
        for changes in range(1, 30):
            root = tmp_path / str(changes)
            root.mkdir()
            player = Player(root, prepare=prepare)
            played = player.play([Kill(changes), *script])
            assert examiner.examine(played) == []
            kills += player.kills
            if not player.kills:
                break
    assert kills > 5
