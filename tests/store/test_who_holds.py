"""Who holds a store's lock: the note in its file, what it says, and that nobody trusts it."""

from __future__ import annotations

import errno
import os
import socket
import subprocess
import sys
import threading
from datetime import UTC, datetime, timedelta
from pathlib import Path
from time import monotonic

import pytest
from dateutil import tz

from benchconsole.errors import StoreBusy, StoreError
from benchconsole.model.events import NoteWritten
from benchconsole.store import os_lock
from benchconsole.store.holders import Holder
from benchconsole.store.lock import WriterLock, holder_of, lock_path
from benchconsole.store.repository import TinyRepository

HOLD = """
import sys
from pathlib import Path
from benchconsole.store.lock import WriterLock
lock = WriterLock(Path(sys.argv[1]), who=sys.argv[2])
print("held", flush=True)
sys.stdin.read()
"""
NOW = datetime(2026, 3, 4, 13, 30, tzinfo=UTC)
GARBAGE = (
    b"",
    b"\x00\xff\xfe" * 999,
    b"4711",
    b"[" * 5000,
    b'{"who": 3}',
    b'{"process": -1}',
    b'{"process": 99999999999999999999999}',
    b'{"since": "yesterday"}',
    b'{"since": "2026-03-04T08:00:00"}',
    b'{"computer": "\xff"}',
    b'{"who": "' + b"x" * 900 + b'"}',
)


@pytest.fixture
def store(tmp_path: Path) -> Path:
    """A store's place in a folder that is there, as the lock wants it."""
    return tmp_path / "shop.json"


def holding(store: Path, who: str = "console") -> subprocess.Popen[str]:
    """Another process that holds the lock until it is killed or its input ends."""
    other = subprocess.Popen(
        [sys.executable, "-c", HOLD, str(store), who],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )
    assert other.stdout is not None
    assert "held\n" == other.stdout.readline()
    return other


def test_a_refused_writer_is_told_who_since_when_and_where(store: Path) -> None:
    """One sentence with the kind of program, the time and the process of the holder."""
    with holding(store) as other:
        with pytest.raises(StoreBusy) as caught:
            WriterLock(store)
        other.communicate(timeout=20)
    assert str(caught.value).startswith("Another console has had this shop open since ")
    assert f"(process {other.pid} on this computer)" in str(caught.value)
    assert str(caught.value).endswith(".")


def test_a_restore_is_not_called_a_console(store: Path) -> None:
    """A person cannot close a restore: they are told to wait for it."""
    with holding(store, "restore") as other:
        with pytest.raises(StoreBusy, match=r"^A restore of this shop .* wait until it is done"):
            WriterLock(store)
        other.communicate(timeout=20)


def test_after_kill_9_the_lock_is_free_and_the_stale_note_is_taken_over(store: Path) -> None:
    """The killed holder's note stays in the file and hinders nobody."""
    with holding(store) as other:
        assert holder_of(store) is not None
        other.kill()
        other.wait(timeout=20)
    left = lock_path(store).read_bytes()
    assert str(other.pid).encode() in left
    assert holder_of(store) is None
    lock = WriterLock(store, who="archive")
    held = holder_of(store)
    assert held is not None and ("archive", os.getpid()) == (held.who, held.process)
    lock.release()
    assert holder_of(store) is None


@pytest.mark.parametrize("garbage", GARBAGE, ids=range(len(GARBAGE)))
def test_garbage_in_the_lock_file_hinders_nobody_and_is_believed_in_nothing(
    store: Path, garbage: bytes
) -> None:
    """Free: taken over. Held by something that wrote garbage: told without what is not known."""
    lock_path(store).write_bytes(garbage)
    lock = WriterLock(store)
    lock_path(store).write_bytes(garbage)
    assert Holder() == holder_of(store)
    with pytest.raises(StoreBusy, match=r"^Another program has had this shop open for a while, so"):
        WriterLock(store)
    lock.release()


def test_a_hostile_name_of_a_computer_stays_in_its_sentence(
    store: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Control characters, writing that turns round and a name without an end are shown tamely."""
    for name in ("\x1b[2J\nbench", "\u202eevil", "b" * 5000, "[/red]", "", "mühle\x00"):
        monkeypatch.setattr(socket, "gethostname", lambda name=name: name)
        lock = WriterLock(store)
        held = holder_of(store)
        assert held is not None
        sentence = held.words(datetime.now(UTC), UTC)
        assert sentence.isprintable()
        assert len(sentence) < 160
        assert not name or "on this computer" in sentence
        monkeypatch.setattr(socket, "gethostname", lambda: "elsewhere")
        sentence = held.words(datetime.now(UTC), UTC)
        assert sentence.isprintable()
        assert not name or "on the computer “" in sentence
        lock.release()


def test_a_note_from_elsewhere_is_tamed_when_it_is_read() -> None:
    """What another program wrote into the file is not printed as it stands."""
    held = Holder.from_note(b'{"who":"console","computer":"a\\u001b[2J\\nb","process":7}')
    assert (
        "Another console has had this shop open for a while (process 7 on the computer “a?[2J?b”)"
        == held.words(NOW, UTC)
    )


def test_where_there_is_little_room_another_computer_is_named_before_the_process() -> None:
    """Here the process finds it; elsewhere the computer does."""
    here = Holder.this_process("console")
    assert f"process {os.getpid()}" == here.short_place_words()
    there = Holder(who="console", process=7, computer="bench\x1b")
    assert "on “bench?”" == there.short_place_words()


def test_times_are_the_wall_clocks_with_the_day_where_it_is_not_today() -> None:
    """A time to come (a clock that was set back) is left out instead of told."""
    zone = tz.gettz("Europe/Berlin")
    assert zone is not None
    assert "14:02" == Holder(since=NOW.replace(hour=13, minute=2)).since_words(NOW, zone)
    assert "Mon 02 Mar 14:02" == Holder(since=NOW.replace(day=2, hour=13, minute=2)).since_words(
        NOW, zone
    )
    assert "" == Holder(since=NOW + timedelta(hours=1)).since_words(NOW, zone)
    assert "" == Holder().since_words(NOW, zone)


def test_a_patient_writer_gets_in_when_the_holder_leaves(store: Path) -> None:
    """With ``wait_s`` it waits for so long, and no longer than it must."""
    first = WriterLock(store)
    threading.Timer(0.1, first.release).start()
    began = monotonic()
    second = WriterLock(store, wait_s=20.0)
    assert monotonic() - began < 10.0
    began = monotonic()
    with pytest.raises(StoreBusy):
        WriterLock(store, wait_s=0.3)
    assert monotonic() - began >= 0.3
    second.release()


def test_asking_who_holds_it_keeps_no_writer_out(store: Path) -> None:
    """Readers who ask without a pause never make a writer believe that the shop is open."""
    lock_path(store).touch()
    stop = threading.Event()

    def ask() -> None:
        while not stop.is_set():
            holder_of(store)

    askers = [threading.Thread(target=ask) for _ in range(3)]
    for asker in askers:
        asker.start()
    try:
        for _ in range(20):
            WriterLock(store).release()
    finally:
        stop.set()
        for asker in askers:
            asker.join()


def test_asking_makes_and_changes_nothing(store: Path) -> None:
    """A reader of a shop that nobody ever opened leaves no file behind."""
    assert holder_of(store) is None
    assert [] == list(store.parent.iterdir())
    assert holder_of(store.parent / "gone" / "shop.json") is None
    lock_path(store).write_bytes(b"stale")
    assert holder_of(store) is None
    assert b"stale" == lock_path(store).read_bytes()


@pytest.mark.parametrize("number", [errno.ENOSYS, errno.EOPNOTSUPP, errno.ENOLCK, errno.EINVAL])
def test_a_drive_without_locks_is_told_in_words(
    store: Path, monkeypatch: pytest.MonkeyPatch, number: int
) -> None:
    """Some shares keep no locks: a sentence that says what to do, for writers and for askers."""
    import fcntl

    lock_path(store).touch()

    def refuse(descriptor: int, how: int) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(fcntl, "flock", refuse)
    for use in (WriterLock, holder_of):
        with pytest.raises(StoreError, match=r"keeps no locks.*disk of this computer") as caught:
            use(store)
        assert not isinstance(caught.value, StoreBusy)


def open_files() -> int:
    """How many files this process has open; 0 where the system does not tell."""
    told = Path("/proc/self/fd")
    return len(list(told.iterdir())) if told.is_dir() else 0


def test_no_descriptor_is_left_open(store: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A console that runs for weeks and asks every second must not run out of files."""
    before = open_files()
    lock = WriterLock(store)
    for _ in range(5):
        holder_of(store)
        with pytest.raises(StoreBusy):
            WriterLock(store)
    lock.confirm()
    lock.release()
    monkeypatch.setattr(os_lock, "take", lambda *_, **__: (_ for _ in ()).throw(OSError(5, "io")))
    for use in (WriterLock, holder_of):
        with pytest.raises(StoreError):
            use(store)
    assert before == open_files()


def test_links_and_relative_names_share_the_lock(
    store: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whatever a store is called by, it has one lock."""
    link = tmp_path / "a" / "link.json"
    link.parent.mkdir()
    link.symlink_to(store)
    folder = tmp_path / "b"
    folder.symlink_to(tmp_path)
    monkeypatch.chdir(tmp_path)
    lock = WriterLock(store)
    for name in (link, folder / "shop.json", Path("shop.json"), Path("a") / ".." / "shop.json"):
        assert holder_of(name) is not None
        with pytest.raises(StoreBusy):
            WriterLock(name)
    lock.release()


def test_a_link_in_the_locks_place_is_not_followed(store: Path, tmp_path: Path) -> None:
    """The note must not be written over a file that somebody made the lock point to."""
    precious = tmp_path / "precious"
    precious.write_text("precious", encoding="utf-8")
    lock_path(store).symlink_to(precious)
    with pytest.raises(StoreError, match=r"^The lock .* cannot be set: .*\.$"):
        WriterLock(store)
    assert "precious" == precious.read_text(encoding="utf-8")


def test_a_pipe_in_the_locks_place_is_refused(store: Path) -> None:
    """Opening it must neither hang nor throw."""
    os.mkfifo(lock_path(store))
    for use in (WriterLock, holder_of):
        with pytest.raises(StoreError, match="not an ordinary file"):
            use(store)


def test_a_full_disk_takes_no_note_and_the_lock_is_held(
    store: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The note is a courtesy: without it the shop is opened all the same, and kept."""

    def full(*_: object) -> int:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "write", full)
    lock = WriterLock(store)
    monkeypatch.undo()
    with pytest.raises(StoreBusy, match=r"^Another program has had this shop open for a while"):
        WriterLock(store)
    lock.release()


def test_a_writer_whose_lock_was_lost_saves_nothing(store: Path) -> None:
    """Its lock file was removed, and another console took over: a tap is refused, not mixed in."""
    note = NoteWritten(hide="h1", text="x")
    with TinyRepository(store, writing=True) as first:
        first.append([note], at=NOW, recorded=NOW)
        lock_path(store).unlink()
        with TinyRepository(store, writing=True) as second:
            second.append([note], at=NOW, recorded=NOW)
            before = store.read_bytes()
            with pytest.raises(StoreBusy, match="process"):
                first.append([note], at=NOW, recorded=NOW)
            assert before == store.read_bytes()
        with pytest.raises(StoreError):  # what it knows is not what the store holds
            first.append([note], at=NOW, recorded=NOW)
        assert before == store.read_bytes()


def test_a_writer_whose_drive_is_gone_says_so_and_goes_on_when_it_is_back(store: Path) -> None:
    """The folder is away for a while: the tap is refused in words, the next one is kept."""
    note = NoteWritten(hide="h1", text="x")
    store = store.parent / "drive" / "shop.json"
    with TinyRepository(store, writing=True) as repository:
        repository.append([note], at=NOW, recorded=NOW)
        away = store.parent.rename(store.parent.with_name("away"))
        with pytest.raises(StoreError, match=r"^Nothing was saved, "):
            repository.append([note], at=NOW, recorded=NOW)
        assert not store.parent.exists()
        away.rename(store.parent)
        repository.append([note], at=NOW, recorded=NOW)
    with TinyRepository(store, writing=False) as reader:
        assert 2 == len(reader.entries())


def test_a_removed_lock_file_is_noticed_before_the_next_write(store: Path) -> None:
    """Without another writer the lock is taken anew; with one, the first is told so."""
    first = WriterLock(store)
    first.confirm()
    lock_path(store).unlink()
    first.confirm()
    assert holder_of(store) is not None
    lock_path(store).unlink()
    second = WriterLock(store)
    with pytest.raises(StoreBusy):
        first.confirm()
    second.release()
    first.confirm()
    first.release()
    first.release()
    with pytest.raises(ValueError, match="released"):
        first.confirm()
