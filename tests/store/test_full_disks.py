"""A disk that runs full while somebody taps: a sentence, nothing lost, and on it goes with room."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import AbstractContextManager
from pathlib import Path

import pytest

from benchconsole.errors import StoreError
from benchconsole.store.repository import TinyRepository
from tests.store.crash_scripts import NOW, Tap, note, taps_of
from tests.store.fault_counts import COUNTS
from tests.store.small_disks import BALLAST_BYTES, SmallDisk, quota, small_disk

LETTERS = 700
MOST_TAPS = 500

KINDS = {"a small file system": small_disk, "a quota": quota}


def tap_until_full(repository: TinyRepository, kept: list[Tap]) -> str:
    """Tap until one is refused; the sentence. What was confirmed is put into ``kept``."""
    for number in range(len(kept), MOST_TAPS):
        events = note(number, 2, LETTERS)
        try:
            repository.append(list(events), at=NOW, recorded=NOW)
        except StoreError as refusal:
            return str(refusal)
        kept.append(events)
    raise AssertionError("the disk never ran full")


@pytest.mark.parametrize("kind", KINDS)
def test_a_full_disk_loses_nothing(
    tmp_path: Path, kind: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Taps until it is full, more taps on the full disk, room again, taps again: all are there."""
    make: Callable[[Path], AbstractContextManager[SmallDisk]] = KINDS[kind]
    kept: list[Tap] = []
    with make(tmp_path / "small") as small:
        store = small.folder / "shop" / "shop.json"
        small.fill(BALLAST_BYTES)
        with TinyRepository(store, writing=True, disk=small.disk) as repository:
            for _ in range(3):
                told = tap_until_full(repository, kept)
                assert told.startswith("Nothing was saved") and "the disk is full" in told
                assert str(store) in told and told.endswith(".") and "\n" not in told
                assert taps_of(repository.entries()) == tuple(kept)
                with TinyRepository(store, writing=False) as reader:
                    assert taps_of(reader.entries()) == tuple(kept)
            before = len(kept)
            small.clear()
            tap_until_full(repository, kept)
        assert 10 < before < len(kept)
        with TinyRepository(store, writing=True, disk=small.disk) as again:
            assert taps_of(again.entries()) == tuple(kept)
    COUNTS.taps += len(kept)


@pytest.mark.parametrize("kind", KINDS)
def test_a_full_disk_can_still_be_opened(tmp_path: Path, kind: str) -> None:
    """A console started when not one more byte fits shows everything, and says so when tapped."""
    kept: list[Tap] = []
    with KINDS[kind](tmp_path / "small") as small:
        store = small.folder / "shop" / "shop.json"
        with TinyRepository(store, writing=True, disk=small.disk) as repository:
            tap_until_full(repository, kept)
        small.fill(0)
        with TinyRepository(store, writing=True, disk=small.disk) as again:
            assert taps_of(again.entries()) == tuple(kept)
            with pytest.raises(StoreError, match="the disk is full"):
                again.append(list(note(0, 9, 20_000)), at=NOW, recorded=NOW)
            assert taps_of(again.entries()) == tuple(kept)


@pytest.mark.parametrize("kind", KINDS)
def test_a_shop_begun_on_a_full_disk_is_an_empty_shop(tmp_path: Path, kind: str) -> None:
    """The very first tap does not fit: nothing is damaged, and it does once there is room."""
    with KINDS[kind](tmp_path / "small") as small:
        store = small.folder / "shop" / "shop.json"
        first = note(1, 9, 30_000)
        with TinyRepository(store, writing=True, disk=small.disk) as repository:
            with pytest.raises(StoreError, match="the disk is full"):
                repository.append(list(first), at=NOW, recorded=NOW)
            assert repository.entries() == ()
            repository.append(list(note(2)), at=NOW, recorded=NOW)
        with TinyRepository(store, writing=False) as reader:
            assert taps_of(reader.entries()) == (note(2),)
