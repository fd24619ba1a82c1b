"""Repositories: what goes in comes out, on the disk as in memory, all of a tap or none of it."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta, timezone
from pathlib import Path

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.errors import BadInput, StoreError
from benchconsole.model.events import Event, HideTakenIn, NoteWritten, TimerPaused, TimerSet, Undone
from benchconsole.model.state import fold
from benchconsole.store.disk import Disk
from benchconsole.store.memory import MemoryRepository
from benchconsole.store.repository import Repository, TinyRepository
from tests.model.test_fold import CASES

NOW = datetime(2026, 3, 1, 8, tzinfo=UTC)
NOTE = NoteWritten(hide="h1", text="thin belly")

texts = st.text(st.characters(exclude_categories=("Cs",)), max_size=20)
instants = st.integers(-(10**9), 10**9).map(lambda seconds: NOW + timedelta(seconds=seconds))
finite = st.floats(allow_nan=False, allow_infinity=False)
events: st.SearchStrategy[Event] = st.one_of(
    st.builds(NoteWritten, hide=texts, text=texts),
    st.builds(
        HideTakenIn,
        hide=texts,
        name=texts,
        species=texts,
        route=texts,
        stage=texts,
        came=texts,
        count=st.integers(1, 2**53),
        mass_g=st.none() | finite,
    ),
    st.builds(TimerSet, timer=texts, name=texts, ends_at=instants),
    st.builds(TimerPaused, timer=texts, left_s=finite),
    st.builds(Undone, tap=st.integers(1, 9)),
)
taps = st.lists(st.tuples(st.lists(events, max_size=3), instants), max_size=5)


@pytest.fixture(params=["file", "memory"])
def repository(request: pytest.FixtureRequest, store: Path) -> Iterator[Repository]:
    """Either kind; what is asked of one is asked of the other."""
    if request.param == "memory":
        with MemoryRepository() as memory:
            yield memory
    else:
        with TinyRepository(store, writing=True) as tiny:
            yield tiny


@settings(max_examples=40, deadline=None)
@given(taps=taps)
def test_memory_and_file_agree(taps: list[tuple[list[Event], datetime]]) -> None:
    """Any taps give the same entries in both, and again when the file is opened anew."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "store.json"
        memory = MemoryRepository()
        with TinyRepository(path, writing=True) as tiny:
            for together, at in taps:
                expected = memory.append(together, at=at, recorded=NOW)
                assert expected == tiny.append(together, at=at, recorded=NOW)
            assert memory.entries() == tiny.entries()
        with TinyRepository(path, writing=False) as again:
            assert memory.entries() == again.entries()
            assert fold(memory.entries()) == fold(again.entries())


@pytest.mark.parametrize("events", [events for events, _ in CASES.values()], ids=list(CASES))
def test_every_kind_of_event_is_read_as_it_was_written(
    store: Path, events: tuple[Event, ...]
) -> None:
    """All there are, with what they hold: a map by place, for one, is text in JSON."""
    with TinyRepository(store, writing=True) as tiny:
        written = tiny.append(events, at=NOW, recorded=NOW)
    with TinyRepository(store, writing=False) as again:
        assert written == again.entries()
        assert events == tuple(entry.event for entry in again.entries())


def test_events_of_a_tap_share_it_and_are_numbered_on(repository: Repository) -> None:
    """seq counts events, tap counts taps, both from 1 and without a gap."""
    repository.append([NOTE, NOTE], at=NOW, recorded=NOW)
    repository.append([], at=NOW, recorded=NOW)
    repository.append([Undone(tap=1)], at=NOW, recorded=NOW + timedelta(hours=1))
    numbers = [(entry.seq, entry.tap) for entry in repository.entries()]
    assert numbers == [(1, 1), (2, 1), (3, 2)]
    assert repository.entries()[2].recorded == NOW + timedelta(hours=1)


@pytest.mark.parametrize(
    "text",
    [
        "[/] [b]bold[/b] <b>&amp;</b>",
        "🦌 👩🏽‍🔧 ﷽",
        "\u202eright to left\u202c עור",
        "\x00\x01\x1b[31m\x7f\r\n\t\u2028\u2029\ufeff\uffff",
        "quotes \" \\ / \\u0041 ' ",
        "e\u0301 is not é",
        "x" * 100_000,
    ],
)
def test_hostile_text_is_kept_exactly(store: Path, text: str) -> None:
    """Markup, emoji, direction marks and control characters come back letter by letter."""
    with TinyRepository(store, writing=True) as repository:
        repository.append([NoteWritten(hide=text, text=text)], at=NOW, recorded=NOW)
    with TinyRepository(store, writing=False) as again:
        assert [NoteWritten(hide=text, text=text)] == [e.event for e in again.entries()]


@pytest.mark.parametrize(
    ("event", "sentence"),
    [
        (
            NoteWritten(hide="h1", text="half \ud83d"),
            "text: holds half a character, which no file can keep; for example Doe 7.",
        ),
        (
            TimerPaused(timer="t1", left_s=float("nan")),
            "left_s: nan is not a number that can be kept; for example 1234.5.",
        ),
        (
            TimerPaused(timer="t1", left_s=float("-inf")),
            "left_s: -inf is not a number that can be kept; for example 1234.5.",
        ),
    ],
)
def test_what_no_file_can_keep_is_refused(
    repository: Repository, event: Event, sentence: str
) -> None:
    """Half a surrogate pair and endless numbers: one sentence, and nothing of the tap is kept."""
    with pytest.raises(BadInput) as caught:
        repository.append([NOTE, event], at=NOW, recorded=NOW)
    assert sentence == str(caught.value)
    assert repository.entries() == ()
    assert len(repository.append([NOTE], at=NOW, recorded=NOW)) == 1


def test_a_defect_cannot_spoil_the_store(repository: Repository) -> None:
    """A value of the wrong type or an instant without zone stops the tap, not the next reading."""
    wrong = msgspec.structs.replace(NOTE, text=7)
    naive = NOW.replace(tzinfo=None)
    for event, at in (
        (wrong, NOW),
        (NOTE, naive),
        (TimerSet(timer="", name="", ends_at=naive), NOW),
    ):
        with pytest.raises(ValueError):
            repository.append([event], at=at, recorded=NOW)
    assert repository.entries() == ()


def test_instants_are_kept_in_utc(repository: Repository) -> None:
    """A local time is stored as the moment it was."""
    local = NOW.astimezone(timezone(timedelta(hours=-7)))
    event = TimerSet(timer="t1", name="", ends_at=local)
    (entry,) = repository.append([event], at=local, recorded=local)
    assert isinstance(entry.event, TimerSet)
    for instant in (entry.at, entry.recorded, entry.event.ends_at):
        assert (NOW, UTC) == (instant, instant.tzinfo)


class CountingDisk(Disk):
    """The real disk, counting what a tap costs, and full while told to be."""

    def __init__(self) -> None:
        self.reads = 0
        self.writes = 0
        self.full = False

    def read(self, path: Path) -> bytes | None:
        """Counted."""
        self.reads += 1
        return super().read(path)

    def write(self, descriptor: int, body: bytes) -> None:
        """Counted, or refused while the disk is full."""
        if self.full:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        self.writes += 1
        super().write(descriptor, body)


def test_a_tap_costs_one_write_and_no_reading(store: Path) -> None:
    """The history is read once; three events of a tap are one line, and one note of the tip."""
    disk = CountingDisk()
    with TinyRepository(store, writing=True, disk=disk) as repository:
        repository.entries()
        repository.append([NOTE], at=NOW, recorded=NOW)
        reads, writes = disk.reads, disk.writes
        repository.append([NOTE, NOTE, NOTE], at=NOW, recorded=NOW)
        repository.append([NOTE], at=NOW, recorded=NOW)
        repository.entries()
    assert (2 * 2, 0) == (disk.writes - writes, disk.reads - reads)


def test_a_tap_that_could_not_be_saved_never_happened(store: Path) -> None:
    """On a full disk none of the tap's events counts, now or after the next tap that is saved."""
    disk = CountingDisk()
    with TinyRepository(store, writing=True, disk=disk) as repository:
        first = repository.append([NOTE], at=NOW, recorded=NOW)
        disk.full = True
        for _ in range(2):
            with pytest.raises(StoreError, match="the disk is full"):
                repository.append([Undone(tap=1), NOTE], at=NOW, recorded=NOW)
        assert first == repository.entries()
        disk.full = False
        second = repository.append([NOTE], at=NOW, recorded=NOW)
        assert first + second == repository.entries()
    with TinyRepository(store, writing=False) as again:
        assert first + second == again.entries()


def test_a_reader_follows_the_writer_and_leaves_no_trace(store: Path) -> None:
    """It sees each confirmed tap, takes no lock, makes no file, and may not write."""
    with TinyRepository(store, writing=False) as reader:
        assert reader.entries() == ()
        assert not store.parent.exists()
        with TinyRepository(store, writing=True) as repository:
            for count in (1, 2):
                repository.append([NOTE], at=NOW, recorded=NOW)
                assert count == len(reader.entries())
        with pytest.raises(StoreError, match="only to look at"):
            reader.append([NOTE], at=NOW, recorded=NOW)
        assert len(reader.entries()) == 2


def test_a_closed_repository_is_of_no_more_use(repository: Repository) -> None:
    """Going on after close is a defect and says so."""
    repository.close()
    with pytest.raises(ValueError, match="closed"):
        repository.entries()
    with pytest.raises(ValueError, match="closed"):
        repository.append([NOTE], at=NOW, recorded=NOW)


def test_importing_the_store_loads_no_database() -> None:
    """In a fresh interpreter TinyDB stays out until a store is opened."""
    code = (
        "import sys, benchconsole.store.repository;"
        "print(sorted({'tinydb', 'textual', 'pint'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout == "[]\n"
