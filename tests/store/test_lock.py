"""One writer at a time, across processes, and what a killed writer leaves behind."""

from __future__ import annotations

import json
import random
import subprocess
import sys
import textwrap
import threading
from datetime import UTC, datetime
from pathlib import Path

import pytest

from benchconsole.errors import StoreBusy, StoreError
from benchconsole.model.events import NoteWritten
from benchconsole.store.repository import TinyRepository

NOW = datetime(2026, 3, 1, 8, tzinfo=UTC)
KILLS = 12

WRITER = textwrap.dedent(
    """
    import sys
    from datetime import UTC, datetime
    from pathlib import Path
    from benchconsole.model.events import NoteWritten
    from benchconsole.store.repository import TinyRepository

    now = datetime(2026, 3, 1, 8, tzinfo=UTC)
    with TinyRepository(Path(sys.argv[1]), writing=True) as repository:
        taps = range(10**9) if sys.argv[2] == "taps" else range(1)
        for _ in taps:
            events = [NoteWritten(hide="h1", text=half * 40) for half in ("first", "second")]
            entries = repository.append(events, at=now, recorded=now)
            print(entries[-1].seq, flush=True)
        sys.stdin.read()
    """
)


def writer(store: Path, mode: str) -> subprocess.Popen[str]:
    """Another process with the store open: it says the number of each entry once it is safe."""
    return subprocess.Popen(
        [sys.executable, "-c", WRITER, str(store), mode],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )


def test_a_second_writer_is_told_and_a_reader_is_let_in(store: Path) -> None:
    """While another process has the shop open: no second writer, but `today` reads what is safe."""
    with writer(store, "once") as other:
        assert other.stdout is not None
        assert other.stdout.readline() == "2\n"
        with pytest.raises(
            StoreBusy, match="Another console has had this shop open since"
        ) as caught:
            TinyRepository(store, writing=True)
        assert "today" in str(caught.value) and "mix" in str(caught.value)
        with TinyRepository(store, writing=False) as reader:
            assert len(reader.entries()) == 2
        other.communicate(timeout=20)
    with TinyRepository(store, writing=True) as mine:
        assert len(mine.append([NoteWritten(hide="h1", text="")], at=NOW, recorded=NOW)) == 1


def test_killed_writers_lose_no_confirmed_tap_and_hold_no_lock(store: Path) -> None:
    """kill -9 at random moments of the writing: the file opens, taps are whole, none is missing."""
    chance = random.Random(20260301)
    confirmed = 0
    for _ in range(KILLS):
        with writer(store, "taps") as other:
            assert other.stdout is not None
            for _ in range(chance.randint(1, 12)):
                confirmed = int(other.stdout.readline())
            threading.Event().wait(chance.random() * 0.01)
            other.kill()
            confirmed = max([confirmed, *map(int, other.stdout.read().split("\n")[:-1])])
        with TinyRepository(store, writing=True) as mine:
            kept = mine.entries()
        assert len(kept) >= confirmed
        assert list(range(1, len(kept) + 1)) == [entry.seq for entry in kept]
        assert len(kept) == 2 * kept[-1].tap
    assert sorted(path.name for path in store.parent.iterdir()) == [
        "store.json",
        "store.json.lock",
        "store.json.tip",
    ]


def test_the_same_process_is_no_exception(store: Path) -> None:
    """Two repositories in one program would overwrite each other just the same."""
    with TinyRepository(store, writing=True), pytest.raises(StoreBusy):
        TinyRepository(store, writing=True)


def test_two_names_of_one_store_share_its_lock(store: Path, tmp_path: Path) -> None:
    """Through a link it is still the same shop, and the link stays a link."""
    link = tmp_path / "link.json"
    link.symlink_to(store)
    with TinyRepository(store, writing=True), pytest.raises(StoreBusy):
        TinyRepository(link, writing=True)
    with TinyRepository(link, writing=True) as repository:
        repository.append([NoteWritten(hide="h1", text="")], at=NOW, recorded=NOW)
    assert link.is_symlink() and store.is_file()


def test_close_lets_the_next_writer_in_from_any_thread(store: Path) -> None:
    """A worker opens and the main thread closes, twice: the lock is free after the first."""
    opened: list[TinyRepository] = []
    worker = threading.Thread(target=lambda: opened.append(TinyRepository(store, writing=True)))
    worker.start()
    worker.join()
    opened[0].close()
    opened[0].close()
    with TinyRepository(store, writing=True) as mine:
        assert mine.entries() == ()
        opened[0].close()
        with pytest.raises(StoreBusy):
            TinyRepository(store, writing=True)


def test_the_lock_is_private_and_holds_nothing_of_the_shop(store: Path) -> None:
    """The lock's file is readable to its user alone, and names a program, nothing else."""
    with TinyRepository(store, writing=True) as mine:
        mine.append([NoteWritten(hide="secret-hide", text="secret")], at=NOW, recorded=NOW)
        lock = store.with_name("store.json.lock")
        assert lock.stat().st_mode & 0o777 == 0o600
        assert {"who", "process", "computer", "since"} == set(json.loads(lock.read_bytes()))
        assert b"secret" not in lock.read_bytes()
    assert b"" == lock.read_bytes()


def test_a_lock_that_cannot_be_made_is_a_sentence(store: Path) -> None:
    """A folder in the lock's place, or a file in the folder's place, is told and not thrown."""
    store.with_name("store.json.lock").mkdir(parents=True)
    with pytest.raises(StoreError, match=r"^The lock .* cannot be set: .*\.$"):
        TinyRepository(store, writing=True)
    with pytest.raises(StoreError, match=r"^The folder .* cannot be made: .*\.$"):
        file = store.parent / "a file"
        file.write_text("", encoding="utf-8")
        TinyRepository(file / "shop" / "store.json", writing=True)
