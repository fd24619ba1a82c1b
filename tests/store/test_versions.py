"""Stores of every version that ever was: opened, brought up, and never lost on the way."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable, Mapping
from pathlib import Path
from random import Random
from typing import Any

import msgspec
import pytest

from benchconsole.errors import StoreDamaged, StoreError, StoreTooNew
from benchconsole.model.events import Entry, NoteWritten
from benchconsole.model.state import fold
from benchconsole.store import migrations
from benchconsole.store.copies import copies_folder
from benchconsole.store.lines import VERSION, sealed
from benchconsole.store.repository import TinyRepository
from tests.store.damaged_worlds import NOW, Sample, World
from tests.store.damaging import PLAIN, Damage
from tests.store.memory_disk import Killed, MemoryDisk

FOLDER = Path(__file__).parent / "samples"
SAMPLES = sorted(
    path.stem for path in FOLDER.glob("version-*[a-z].json") if "state" not in path.stem
)
OLD = [name for name in SAMPLES if name.startswith("version-1-")]
GONE = {"taken_in_at"}
"""Fields of the state that are no longer kept; the entries still tell it."""
ROUNDS = 40


def sample(name: str) -> bytes:
    """A store as it was written then."""
    return (FOLDER / f"{name}.json").read_bytes()


def told_then(name: str) -> list[dict[str, Any]]:
    """The entries in a sample, read without the program."""
    body = sample(name)
    if name.startswith("version-1-"):
        return list(json.loads(body)["history"].values())
    return [
        {"seq": kept["seq"], "tap": line["tap"], "event": kept["event"]}
        | {field: line["doc"][field] for field in ("at", "recorded")}
        for line in map(json.loads, body.splitlines()[1:])
        for kept in line["doc"]["events"]
    ]


def read(
    store: Path, disk: MemoryDisk, *, writing: bool
) -> tuple[tuple[Entry, ...], tuple[str, ...]]:
    """The entries and the notices of an opening."""
    with TinyRepository(store, writing=writing, disk=disk) as repository:
        return repository.entries(), repository.notices


def plain(value: object) -> Any:
    """A value as it would stand in a file."""
    return msgspec.json.decode(msgspec.json.encode(value))


def says(now: Any, then: Any) -> bool:
    """Whether a value says all that one said then; records may have got new fields since."""
    if isinstance(then, Mapping) and isinstance(now, Mapping):
        return all(key in now and says(now[key], then[key]) for key in then if key not in GONE)
    if isinstance(then, list) and isinstance(now, list):
        return len(now) == len(then) and all(map(says, now, then))
    return bool(now == then)


def test_there_are_samples_of_every_version() -> None:
    """A version without a sample is a version nobody looks after."""
    assert {f"version-{number}" for number in range(1, VERSION + 1)} == {
        name.rpartition("-")[0][:9] for name in SAMPLES
    }
    assert len(OLD) >= 4
    assert sorted(migrations.STEPS) == list(range(1, VERSION))


@pytest.mark.parametrize("name", SAMPLES)
def test_an_old_store_says_what_it_said_then(tmp_path: Path, name: str) -> None:
    """Every entry and the whole folded state are as they were; looking writes nothing."""
    store = tmp_path / "shop.json"
    disk = MemoryDisk({store: sample(name)})
    entries, notices = read(store, disk, writing=False)
    assert (disk.files(), notices) == ({store: sample(name)}, ())
    then = told_then(name)
    assert len(then) > 50
    assert says(plain(entries), then)
    state = json.loads((FOLDER / f"{name}.state.json").read_text("utf-8"))
    assert len(state["hides"]) > 3
    assert says(plain(fold(entries)), state)


@pytest.mark.parametrize("name", OLD)
def test_a_writer_brings_an_old_store_up_and_keeps_it(tmp_path: Path, name: str) -> None:
    """The new file says the same and goes on with the next tap; the old one is a copy."""
    store = tmp_path / "shop.json"
    disk = MemoryDisk({store: sample(name)})
    before, _ = read(store, disk, writing=False)
    with TinyRepository(store, writing=True, disk=disk) as repository:
        assert (before, ()) == (repository.entries(), repository.notices)
        new = repository.append([NoteWritten(hide="h", text="")], at=NOW, recorded=NOW)
    assert (new[0].seq, new[0].tap) == (before[-1].seq + 1, before[-1].tap + 1)
    assert read(store, disk, writing=True) == ((*before, *new), ())
    assert disk.files()[store].startswith(b'{"schema":"benchconsole.store","version":2,')
    kept = [body for path, body in disk.files().items() if path.parent == copies_folder(store)]
    assert kept == [sample(name)]


def test_every_failure_on_the_way_leaves_the_old_store(tmp_path: Path) -> None:
    """Each step of the migration fails once, or is the last before a kill; then all goes well."""
    store, old = tmp_path / "shop.json", sample(OLD[0])
    whole = read(store, MemoryDisk({store: old}), writing=False)
    ends: Counter[str] = Counter()
    for kind in ("fails_in", "kill_in"):
        for step in range(1, 40):
            disk = MemoryDisk({store: old})
            setattr(disk, kind, step)
            try:
                found = read(store, disk, writing=True)
            except (StoreError, Killed) as fault:
                ends[type(fault).__name__] += 1
                assert kind == "kill_in" or disk.files()[store] == old
            else:
                ends["went well"] += 1
                assert found == whole
            disk.restart()
            assert read(store, disk, writing=True) == whole
            assert old in disk.files().values()
    assert ends["StoreError"] > 5 and ends["Killed"] > 8 and ends["went well"] > 20


def test_a_full_disk_leaves_the_old_store(tmp_path: Path) -> None:
    """One sentence, and once there is room the store is brought up."""
    store, old = tmp_path / "shop.json", sample(OLD[0])
    disk = MemoryDisk({store: old})
    disk.is_full = True
    with pytest.raises(StoreError, match=r"the disk is full\.$"):
        read(store, disk, writing=True)
    assert {store: old} == {
        path: body for path, body in disk.files().items() if body and path.suffix == ".json"
    }
    disk.is_full = False
    assert len(read(store, disk, writing=True)[0]) == len(told_then(OLD[0]))


HEADER = b'{"schema":"benchconsole.store","version":3,"began":"2026-03-01T08:00:00Z"}'
NEWER = {
    "as ours": sealed(HEADER) + b'{"tap":1}\n',
    "another checksum": HEADER[:-1] + b',"sha":"00"}\nwhatever\n',
    "no checksum": HEADER + b"\n\x00\x01\x02",
    "nothing but the first line": HEADER,
    "more in the first line": HEADER[:-1] + b',"sealed":[1,{"a":"b"}]}\n{}\n',
    "one document": b'{"_about":{"1":{"schema":"benchconsole.store","version":9}},"history":[7]}',
}


@pytest.mark.parametrize("shape", NEWER)
def test_a_newer_store_is_refused_and_untouched(tmp_path: Path, shape: str) -> None:
    """Whatever its shape, and though there are copies and a tip of ours that look newer."""
    store = tmp_path / "shop.json"
    ours = Sample.of(5)
    disk = World(body=NEWER[shape], tip=ours.tip, copies=(ours.body,)).disk(store)
    before = disk.files()
    for writing in (False, True):
        with pytest.raises(StoreTooNew) as caught:
            read(store, disk, writing=writing)
        assert "update the program; the store is unchanged." in str(caught.value)
    assert disk.files() == before


def test_a_rotten_version_number_is_no_newer_version(tmp_path: Path) -> None:
    """Behind a damaged first line stand lines of ours: they are read, and the damage told."""
    store, ours = tmp_path / "shop.json", Sample.of(5)
    body = ours.body.replace(b'"version":2', b'"version":3', 1)
    entries, notices = read(store, World(body=body, tip=ours.tip).disk(store), writing=True)
    assert entries[-1].tap == 5 and "damaged" in notices[0]


@pytest.mark.parametrize("damage", PLAIN, ids=lambda damage: damage.__name__)
def test_a_damaged_old_store_is_read_entry_by_entry(tmp_path: Path, damage: Damage) -> None:
    """Every entry that stands whole is read, a missing one is told, the file is kept as it was."""
    store, random = tmp_path / "shop.json", Random(f"{damage.__name__} 2")
    body = sample("version-1-moves-demo")
    old = World(body=body, tip=None)
    whole = {entry.seq: entry for entry in read(store, old.disk(store), writing=False)[0]}
    alone = {seq: f'"{seq}":'.encode() + written(body, seq) for seq in whole}
    parts = Sample(
        body=body.replace(b'},"', b'},\n"'),
        tip=b"",
        other_body=b"",
        foreign_body=b"",
        foreign_tip=b"",
        apart=0,
    )
    faults: Counter[str] = Counter()
    for _ in range(ROUNDS):
        worse = damage(random, parts)
        disk = World(body=worse, tip=None).disk(store)
        standing = {seq for seq in whole if alone[seq] in worse}
        try:
            entries, notices = read(store, disk, writing=True)
        except StoreDamaged as refused:
            faults[f"refused: {refused}"] += bool(standing) or disk.files() != {store: worse}
            continue
        found = {entry.seq for entry in entries}
        faults["whole entries left out"] += bool(standing - found)
        faults["silently lost"] += bool(set(whole) - found) and not notices
        faults["not kept"] += bool(worse.strip()) and worse not in disk.files().values()
        faults["not clean afterwards"] += read(store, disk, writing=True) != (entries, ())
    assert not +faults


def written(body: bytes, seq: int) -> bytes:
    """An entry as it stands in a version 1 file."""
    history = json.loads(body)["history"]
    text = json.dumps(history[str(seq)], ensure_ascii=False, separators=(",", ":")).encode()
    assert text in body
    return text


def entries_changed(change: Callable[[dict[str, Any]], object]) -> bytes:
    """A version 1 file with something changed in its entries."""
    tables = json.loads(sample("version-1-moves-demo"))
    change(tables["history"])
    return json.dumps(tables).encode()


def drop(history: dict[str, Any]) -> None:
    """Two entries are gone."""
    del history["7"], history["8"]


def spoil_one(history: dict[str, Any]) -> None:
    """One is of no known kind."""
    history["9"]["event"]["type"] = "hide-eaten"


def turn_round(history: dict[str, Any]) -> None:
    """All are there, in another order."""
    turned = dict(reversed(history.items()))
    history.clear()
    history.update(turned)


def misnumber(history: dict[str, Any]) -> None:
    """One says that it belongs to a much earlier tap."""
    history["40"]["tap"] = 3


START = "The store was damaged, in a form without checksums:"
UNKNOWN = "Whether anything was recorded after entry 58 cannot be told."
SALVAGED: dict[str, tuple[bytes, tuple[str, ...]]] = {
    "two are gone": (
        entries_changed(drop),
        (f"{START} 56 entries could be read; 2 entries were found nowhere.",),
    ),
    "one is unknown": (
        entries_changed(spoil_one),
        (f"{START} 57 entries could be read; 1 entry was found nowhere.",),
    ),
    "one is in the wrong place": (
        entries_changed(misnumber),
        (f"{START} 57 entries could be read; 1 entry was found nowhere.",),
    ),
    "another order": (entries_changed(turn_round), ()),
    "no longer a document": (
        sample("version-1-moves-demo")[:-1] + b"]",
        (f"{START} 58 entries could be read.", UNKNOWN),
    ),
}


@pytest.mark.parametrize("case", SALVAGED)
def test_what_is_told_of_a_damaged_old_store(tmp_path: Path, case: str) -> None:
    """How much could be read and how much is gone, counted, and whether more may be."""
    store, (body, told) = tmp_path / "shop.json", SALVAGED[case]
    disk = MemoryDisk({store: body})
    assert read(store, disk, writing=False)[1] == told
    _, notices = read(store, disk, writing=True)
    aside = [path.name for path in disk.files() if ".damaged-" in path.name]
    assert bool(told) == bool(aside)
    if told:
        kept = next(name for name in aside if not name.endswith(".txt"))
        assert notices == (*told, f"The file as it was is kept as {kept}.")
