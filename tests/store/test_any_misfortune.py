"""Taps, crashes, full disks and meddling in any order: the store against a plain list of taps."""

from __future__ import annotations

import shutil
import tempfile
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import Phase, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)

from benchconsole.errors import BadInput, StoreError
from benchconsole.model.events import Entry, Event, HideTakenIn, NoteWritten, TimerSet, Undone
from benchconsole.store import MemoryRepository, TinyRepository, log
from benchconsole.store.backups import Backups
from benchconsole.store.tip import tip_path
from tests.store.damaged_worlds import NOW
from tests.store.memory_disk import Killed, MemoryDisk

texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=9)
events: st.SearchStrategy[Event] = st.one_of(
    st.builds(NoteWritten, hide=st.just("h1"), text=texts),
    st.builds(
        HideTakenIn,
        hide=texts,
        name=texts,
        species=st.just("goat"),
        route=texts,
        stage=texts,
        came=texts,
        mass_g=st.none() | st.floats(0, 1e6),
    ),
    st.builds(TimerSet, timer=texts, name=texts, ends_at=st.just(NOW)),
    st.builds(Undone, tap=st.integers(1, 9)),
)
taps = st.lists(events, min_size=1, max_size=3)
HALF = NoteWritten(hide="h1", text="\ud83d")


class Misfortunes(RuleBasedStateMachine):
    """``model`` holds the taps that were acknowledged, in memory."""

    def __init__(self) -> None:
        super().__init__()
        self.folder = Path(tempfile.mkdtemp())
        self.store = self.folder / "shop.json"
        self.disk = MemoryDisk()
        self.model = MemoryRepository()
        self.now = NOW
        self.reader = TinyRepository(self.store, writing=False, disk=self.disk)
        self.may_notice = False

    @initialize()
    def begin(self) -> None:
        """The first opening of an empty shop."""
        self.writer = self.opened()

    @property
    def backups(self) -> Backups:
        """The copies beside the store."""
        return Backups(self.store, self.disk)

    def opened(self) -> TinyRepository:
        """A writer that has read the store."""
        writer = TinyRepository(self.store, writing=True, disk=self.disk)
        writer.entries()
        return writer

    def later(self) -> datetime:
        """Time goes on."""
        self.now += timedelta(minutes=7)
        return self.now

    def tap_on(self, together: list[Event]) -> tuple[Entry, ...]:
        """One tap at the writer."""
        at = self.later()
        return self.writer.append(together, at=at, recorded=at)

    def acknowledge(self, together: list[Event]) -> tuple[Entry, ...]:
        """The same tap in the model."""
        return self.model.append(together, at=self.now, recorded=self.now)

    def reopen(self, *, may_notice: bool = False) -> None:
        """The process is gone, and another one opens the shop."""
        self.disk.restart()
        self.writer.close()  # as the system does: the lock is let go, nothing is written
        self.writer = self.opened()
        self.may_notice = may_notice

    # --- what people do -------------------------------------------------------------------

    @rule(together=taps)
    def tap(self, together: list[Event]) -> None:
        """A tap is confirmed."""
        assert self.tap_on(together) == self.acknowledge(together)

    @rule(together=taps)
    def refused_tap(self, together: list[Event]) -> None:
        """One event that no file can hold: none of the tap is kept."""
        with pytest.raises(BadInput):
            self.tap_on([*together, HALF])

    @rule()
    def close_and_open(self) -> None:
        """An orderly end."""
        self.writer.close()
        self.writer = self.opened()
        self.may_notice = False

    @rule()
    def reader_follows(self) -> None:
        """Another program looks on."""
        assert self.reader.entries() == self.model.entries()

    @rule()
    def copy(self) -> None:
        """A rotating copy is made, as far as there is anything new."""
        body = self.disk.read(self.store)
        if body:
            self.backups.keep(body, self.later())

    @precondition(lambda self: self.backups.all())
    @rule(data=st.data())
    def restore(self, data: st.DataObject) -> None:
        """An earlier copy is put in the store's place."""
        copy = data.draw(st.sampled_from(self.backups.all()))
        self.writer.restore(copy, self.later())
        self.model = MemoryRepository(self.writer.entries())
        assert tuple(self.writer.entries()) == self.model.entries()

    @precondition(lambda self: self.model.entries())
    @rule()
    def write_anew(self) -> None:
        """The whole file is put in its own place, as archiving does."""
        storage = self.writer._storage
        tables = storage.read()
        assert tables is not None
        storage.write(tables)

    # --- what befalls them ----------------------------------------------------------------

    @rule()
    def crash(self) -> None:
        """The program is killed while nothing is tapped."""
        self.reopen()

    @rule(together=taps, step=st.integers(1, 9))
    def killed_while_saving(self, together: list[Event], step: int) -> None:
        """The tap is there whole or not at all, and the one that was never confirmed is told."""
        self.disk.kill_in = step
        try:
            self.tap_on(together)
        except Killed:
            before = self.model.entries()
            self.reopen(may_notice=True)
            if self.writer.entries() != before:
                self.acknowledge(together)
        else:
            self.disk.restart()
            self.acknowledge(together)

    @rule(together=taps)
    def full_disk(self, together: list[Event]) -> None:
        """Nothing is saved, it is said so, and once there is room all goes on."""
        self.disk.is_full = True
        for _ in range(2):
            with pytest.raises(StoreError, match="the disk is full"):
                self.tap_on(together)
            assert self.writer.entries() == self.model.entries()
        self.disk.is_full = False

    @rule(together=taps, step=st.integers(1, 9))
    def a_step_fails(self, together: list[Event], step: int) -> None:
        """The tap is confirmed, or it is refused and never was."""
        self.disk.fails_in = step
        try:
            self.tap_on(together)
        except StoreError:
            pass
        else:
            self.acknowledge(together)
        self.disk.fails_in = None

    @precondition(lambda self: self.model.entries())
    @rule(data=st.data())
    def older_file(self, data: st.DataObject) -> None:
        """A sync program puts an older file there; the copies bring back what is missing."""
        body = self.whole_copy()
        lines = body.splitlines(keepends=True)
        self.meddle(b"".join(lines[: data.draw(st.integers(0, len(lines)))]), body)

    @precondition(lambda self: self.model.entries())
    @rule(data=st.data())
    def rotten_file(self, data: st.DataObject) -> None:
        """Bits turn in the file; the copies bring back what is spoiled."""
        body = bytearray(self.whole_copy())
        for _ in range(data.draw(st.integers(1, 3))):
            body[data.draw(st.integers(0, len(body) - 1))] ^= data.draw(st.sampled_from([1, 4, 64]))
        self.meddle(bytes(body), self.disk.read(self.store) or b"")

    @precondition(lambda self: self.model.entries())
    @rule()
    def lost_tip(self) -> None:
        """A file of which the person has never heard is thrown away."""
        self.disk.remove(tip_path(self.store))
        self.reopen()

    def whole_copy(self) -> bytes:
        """What the file holds, of which there is a copy from now on, and a tip that is true."""
        self.reopen()
        body = self.disk.read(self.store)
        assert body
        self.backups.keep(body, self.later(), anew=True)
        return body

    def meddle(self, body: bytes, was: bytes) -> None:
        """Another file in its place while the shop is closed: all comes back, with a word."""
        self.disk.put(self.store, body)
        self.reopen(may_notice=True)
        assert bool(self.writer.notices) == (body != was)

    # --- what always holds ----------------------------------------------------------------

    @invariant()
    def everything_acknowledged_is_there(self) -> None:
        """The store says what the model says, entry by entry, and nothing else."""
        assert self.writer.entries() == self.model.entries()
        assert self.may_notice or self.writer.notices == ()

    @invariant()
    def numbers_grow(self) -> None:
        """Taps and events are numbered on, each once."""
        entries = self.writer.entries()
        assert [entry.seq for entry in entries] == list(range(1, len(entries) + 1))
        numbers = [entry.tap for entry in entries]
        assert numbers == sorted(numbers) and set(numbers) == set(range(1, len(set(numbers)) + 1))

    def teardown(self) -> None:
        """A newcomer reads the same."""
        self.writer.close()
        shutil.rmtree(self.folder)
        with TinyRepository(self.store, writing=False, disk=self.disk) as last:
            assert last.entries() == self.model.entries()


TestMisfortunes = Misfortunes.TestCase
TestMisfortunes.settings = settings(max_examples=100, stateful_step_count=30, deadline=None)


@pytest.mark.parametrize("mistake", ["no copies are looked at", "half a line is not cut off"])
def test_a_store_that_makes_a_mistake_is_found_out(
    monkeypatch: pytest.MonkeyPatch, mistake: str
) -> None:
    """The proof that this can fail."""
    if mistake.startswith("no"):
        monkeypatch.setattr(log, "copies", lambda disk, store: ())
    else:
        monkeypatch.setattr(MemoryDisk, "truncate", lambda disk, descriptor, size: None)
    once = settings(max_examples=40, phases=[Phase.generate], deadline=None, database=None)
    with pytest.raises((AssertionError, StoreError, ExceptionGroup)):
        run_state_machine_as_test(Misfortunes, settings=once)
