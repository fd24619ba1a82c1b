"""Power cuts at every point of writing: no confirmed tap is lost, none is there by half."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.store.crash_checks import Examiner, quick_folder
from tests.store.crash_scripts import Break, Kill, Note, Player, Reopen, Step, TakeBack
from tests.store.crash_states import Depth
from tests.store.fault_counts import COUNTS
from tests.store.simulated_disk import BROKEN, FULL

DEPTH = Depth(cuts=6, mixtures=2, inside=10)
"""How closely each crash is looked at here; ``tests/benchmarks/faults.py`` goes deeper."""

SCRIPTS: dict[str, list[Step]] = {
    "the first tap of a new shop": [Note()],
    "taps one after another": [Note(), Note(parts=3), TakeBack(), Note(letters=40)],
    "taps as long as each other": [Note(), Note(), Note(), Note()],
    "a long note": [Note(), Note(parts=2, letters=900), Note()],
    "closed and opened between taps": [Note(), Reopen(), Note(parts=2), Reopen(), TakeBack()],
    "a disk that runs full": [Note(), Break("write", FULL), Note(parts=2), Note(), Reopen()],
    "a disk that runs full at the first tap": [Break("write", FULL), Note(), Note()],
    "a disk that stays full": [
        Note(),
        Break("write", FULL, times=4, share=0.9),
        *[Note()] * 4,
        TakeBack(),
    ],
    "a sync that fails": [Note(), Break("sync", BROKEN), Note(parts=2), Note(), TakeBack()],
    "a sync that fails twice": [Note(), Break("sync", BROKEN, times=2), Note(), Note(), Note()],
    "a sync that fails at the first tap": [Break("sync", BROKEN), Note(), Note()],
    "a folder that cannot be synced": [Break("sync folder", BROKEN), Note(), Note(), Note()],
    "killed before the sync": [Note(), Note(), Kill(1), Note(parts=2), Note(), Note()],
    "killed at the next change": [Note(), Kill(2), Note(parts=2), Note()],
    "killed at the one after": [Note(), Kill(3), Note(parts=2), Note()],
    "killed in the first opening": [Kill(1), Note(), Note()],
    "killed in the first tap": [Kill(4), Note(), Note()],
}


@pytest.fixture(scope="module")
def examiner() -> Iterator[Examiner]:
    """Shared by all scripts: what one has seen the next need not open again."""
    with quick_folder() as folder:
        yield Examiner(folder, COUNTS, DEPTH)


@pytest.mark.parametrize("name", SCRIPTS)
def test_no_confirmed_tap_is_lost(tmp_path: Path, examiner: Examiner, name: str) -> None:
    """At every crash of the script; the store then opens, takes a tap, and opens again."""
    played = Player(tmp_path).play(SCRIPTS[name])
    assert examiner.examine(played) == []
    assert len(played.promises.told) > 2
