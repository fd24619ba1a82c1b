"""Proof that the crash tests can fail: the store itself with one mistake in it is found out."""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from benchconsole.store import lines, log, log_file
from benchconsole.store.disk import Disk
from benchconsole.store.opening import Opened
from benchconsole.store.tip import Tip, write_tip
from tests.store.crash_scripts import Break, Kill, Note, Step, TakeBack
from tests.store.simulated_disk import BROKEN, FULL
from tests.store.test_crash_catches import faults_found

Patch = pytest.MonkeyPatch

ORDINARY: list[Step] = [Note(), Note(parts=2, letters=900), TakeBack()]
RUNS_FULL: list[Step] = [Note(), Note(), Break("write", FULL), Note(parts=2), Note()]
SYNC_FAILS: list[Step] = [Note(), Break("sync", BROKEN), Note(parts=2), Note()]
CUT_FAILS: list[Step] = [Note(), Break("sync", BROKEN), Break("truncate", BROKEN), Note(), Note()]
FOLDER_FAILS: list[Step] = [Break("sync folder", BROKEN), Note(), Note()]
KILLED: list[Step] = [Note(), Note(), Kill(1), Note(), Note()]


def no_checksum(patch: Patch) -> None:
    """Any line that can be read is taken, torn or not."""
    patch.setattr(lines, "fits", lambda line: line.endswith(b'"}'))
    patch.setattr(lines, "crc_of", lambda line: line[-11:-3].decode("ascii", "replace"))


def no_cut(patch: Patch) -> None:
    """What a failed write left is not cut off."""
    patch.setattr(Disk, "truncate", lambda self, descriptor, size: None)


def failures_are_confirmed(patch: Patch) -> None:
    """What the disk refuses counts as done."""
    add = log_file.LogFile.add

    def add_anyway(self: log_file.LogFile, body: bytes, line: bytes) -> None:
        with contextlib.suppress(OSError):
            add(self, body, line)

    patch.setattr(log_file.LogFile, "add", add_anyway)


def no_sync_of_lines(patch: Patch) -> None:
    """A line is written and confirmed; only whole files are synced."""

    def write(self: log_file.LogFile, descriptor: int, line: bytes, size: int) -> None:
        self._disk.write(descriptor, line)

    patch.setattr(log_file.LogFile, "_write", write)


def nothing_is_put_back(patch: Patch) -> None:
    """A new file whose name could not be made safe stays."""
    patch.setattr(log_file.LogFile, "_put_back", lambda self, body, before: None)


def opened_without_sync(patch: Patch) -> None:
    """What a killed program left is shown without waiting for it."""
    patch.setattr(log_file.LogFile, "make_sure", lambda self: None)


def uncut_lines_are_believed(patch: Patch) -> None:
    """A line whose sync failed is shown because it can be read."""
    put = log_file.LogFile.put

    def put_nothing(self: log_file.LogFile, body: bytes, *, before: bytes | None) -> None:
        if before is None or self._mark is not None:
            put(self, body, before=before)
        else:
            self.take()

    patch.setattr(log_file.LogFile, "put", put_nothing)


def mended_in_memory(patch: Patch) -> None:
    """A torn end is left out when reading, but stays in the file that is written on."""

    def mend(self: log.LogStorage, body: bytes | None, found: Opened) -> Opened:
        return replace(found, mended=False)

    patch.setattr(log.LogStorage, "_mend", mend)


def tip_first(patch: Patch) -> None:
    """A tap is noted as confirmed before it is safe."""
    add = log_file.LogFile.add

    def add_after(self: log_file.LogFile, body: bytes, line: bytes) -> None:
        tap = lines.parsed(bytes(body) + line).lines[-1]
        write_tip(self._disk, self._path, Tip.of(tap), durably=True)
        add(self, body, line)

    patch.setattr(log_file.LogFile, "add", add_after)


def tip_before_the_file(patch: Patch) -> None:
    """The first tap is noted before the store is there."""

    @contextlib.contextmanager
    def around(disk: Disk, store: Path, tip: Tip) -> Iterator[None]:
        write_tip(disk, store, tip, durably=True)
        yield

    patch.setattr(log, "tip_for_another_log", around)


MISTAKES: dict[Callable[[Patch], None], list[Step]] = {
    no_checksum: ORDINARY,
    no_cut: RUNS_FULL,
    failures_are_confirmed: RUNS_FULL,
    no_sync_of_lines: ORDINARY,
    nothing_is_put_back: FOLDER_FAILS,
    opened_without_sync: KILLED,
    uncut_lines_are_believed: CUT_FAILS,
    mended_in_memory: ORDINARY,
    tip_first: ORDINARY,
    tip_before_the_file: ORDINARY,
}


@pytest.mark.parametrize("mistake", MISTAKES, ids=lambda mistake: mistake.__name__)
def test_a_store_with_a_mistake_is_found_out(
    tmp_path: Path, mistake: Callable[[Patch], None], monkeypatch: Patch
) -> None:
    """The script that passes without it loses a tap, halves one or frightens for nothing."""
    mistake(monkeypatch)
    assert faults_found(tmp_path, MISTAKES[mistake]) != []


@pytest.mark.parametrize("script", [SYNC_FAILS, CUT_FAILS, FOLDER_FAILS, KILLED])
def test_without_a_mistake_nothing_is_found(tmp_path: Path, script: list[Step]) -> None:
    """The same scripts with the store as it is; the others pass in ``test_crash_catches``."""
    assert faults_found(tmp_path, script) == []
