"""Files that are not a store of ours: refused by name, with what to do, and never touched."""

from __future__ import annotations

import os
from datetime import UTC, datetime
from pathlib import Path

import pytest

from benchconsole.errors import StoreDamaged, StoreError, StoreTooNew
from benchconsole.model.events import NoteWritten
from benchconsole.store.lines import SCHEMA, VERSION, header_line
from benchconsole.store.repository import TinyRepository

NOW = datetime(2026, 3, 1, 8, tzinfo=UTC)
ABOUT = b'{"_about":{"1":{"schema":"benchconsole.store","version":1}}'
ENTRY = (
    b'{"seq":1,"tap":1,"at":"2026-03-01T08:00:00Z","recorded":"2026-03-01T08:00:00Z",'
    b'"event":{"type":"note-written","hide":"h1","text":"thin"}}'
)


def history(*numbered: bytes) -> bytes:
    """A store of ours with these numbered documents in its history."""
    return ABOUT + b',"history":{' + b",".join(numbered) + b"}}"


DAMAGED = {
    "cut short": history(b'"1":' + ENTRY)[:-30],
    "not json": b"Doe 7, 2.1 kg\n",
    "zeros after a power cut": bytes(4096),
    "not utf-8": history(b'"1":' + ENTRY.replace(b"thin", b"\xff\xfe")),
    "half a surrogate pair": history(b'"1":' + ENTRY.replace(b"thin", b"\\ud800")),
    "endless nesting": b"[" * 200_000,
    "not a number": history(b'"1":{"seq":NaN}'),
    "a list": b"[1, 2]",
    "a bare number": b"7",
    "null": b"null",
    "another program's": b'{"_default": {"1": {"name": "milk"}}}',
    "another schema": b'{"_about":{"1":{"schema":"milk.store","version":1}}}',
    "version in words": b'{"_about":{"1":{"schema":"benchconsole.store","version":"1"}}}',
    "version nought": b'{"_about":{"1":{"schema":"benchconsole.store","version":0}}}',
    "version true": b'{"_about":{"1":{"schema":"benchconsole.store","version":true}}}',
    "table is a list": ABOUT + b',"history":[]}',
    "document is text": history(b'"1":"thin"'),
    "number is a word": history(b'"one":' + ENTRY),
    "number too long": history(b'"' + b"9" * 5000 + b'":' + ENTRY),
    "unknown event": history(b'"1":' + ENTRY.replace(b"note-written", b"hide-eaten")),
    "wrong type": history(b'"1":' + ENTRY.replace(b'"h1"', b"1")),
    "unknown field": history(b'"1":' + ENTRY.replace(b'"tap":1', b'"tap":1,"colour":1')),
    "number of another": history(b'"2":' + ENTRY),
    "tap nought": history(b'"1":' + ENTRY.replace(b'"tap":1', b'"tap":0')),
    "instant without zone": history(b'"1":' + ENTRY.replace(b":00Z", b":00", 1)),
}


@pytest.mark.parametrize("case", DAMAGED)
def test_a_damaged_or_foreign_file_is_refused_and_left_alone(store: Path, case: str) -> None:
    """One sentence names the file and the way out; neither looking nor tapping changes a byte."""
    store.parent.mkdir()
    store.write_bytes(DAMAGED[case])
    with TinyRepository(store, writing=True) as repository:
        for _ in range(2):
            with pytest.raises(StoreDamaged) as caught:
                repository.entries()
            with pytest.raises(StoreDamaged):
                repository.append([NoteWritten(hide="h1", text="")], at=NOW, recorded=NOW)
    told = str(caught.value)
    assert str(store) in told and "backup" in told
    assert told.endswith(".") and "\n" not in told and "`" not in told
    assert store.read_bytes() == DAMAGED[case]


def test_a_wrong_field_is_named_with_its_entry(store: Path) -> None:
    """Whoever mends the file by hand is told where to look."""
    store.parent.mkdir()
    store.write_bytes(DAMAGED["wrong type"])
    with (
        TinyRepository(store, writing=False) as repository,
        pytest.raises(StoreDamaged, match=r"entry 1 is wrong \(event.hide: expected str, got int"),
    ):
        repository.entries()


def test_a_newer_store_asks_for_a_newer_program(store: Path) -> None:
    """It is not called damaged, whatever shape it has, and it is not changed."""
    newer = b'{"_about":{"1":{"schema":"benchconsole.store","version":3}},"history":["new shape"]}'
    store.parent.mkdir()
    store.write_bytes(newer)
    with (
        TinyRepository(store, writing=True) as repository,
        pytest.raises(StoreTooNew, match="version 3 of the store, this program knows 2"),
    ):
        repository.append([NoteWritten(hide="h1", text="")], at=NOW, recorded=NOW)
    assert store.read_bytes() == newer


def test_a_good_file_of_the_same_make_is_read(store: Path) -> None:
    """The cases above are refused for their fault alone: without one the same file opens."""
    store.parent.mkdir()
    store.write_bytes(history(b'"1":' + ENTRY))
    with TinyRepository(store, writing=False) as repository:
        (entry,) = repository.entries()
    assert entry.event == NoteWritten(hide="h1", text="thin")


def test_the_schema_stands_first_in_the_file() -> None:
    """Anyone opening the file in an editor sees at once what it is."""
    assert (SCHEMA, VERSION) == ("benchconsole.store", 2)
    assert header_line(NOW) == (
        b'{"schema":"benchconsole.store","version":2,"began":"2026-03-01T08:00:00Z",'
        b'"crc":"3a65ed02"}\n'
    )


def test_an_empty_file_is_an_empty_shop(store: Path) -> None:
    """Nothing was in it to lose; a person is told, and the first tap makes a store of it."""
    store.parent.mkdir()
    store.write_bytes(b" \n")
    with TinyRepository(store, writing=True) as repository:
        assert repository.entries() == ()
        assert "was empty" in repository.notices[0]
        repository.append([NoteWritten(hide="h1", text="")], at=NOW, recorded=NOW)
    with TinyRepository(store, writing=False) as again:
        assert len(again.entries()) == 1
        assert again.notices == ()


@pytest.mark.parametrize("kind", ["folder", "pipe", "below a file"])
def test_what_is_no_ordinary_file_is_refused_at_once(tmp_path: Path, kind: str) -> None:
    """A folder, a pipe (which would be read for ever) or a path through a file: one sentence."""
    path = tmp_path / "store.json"
    if kind == "folder":
        path.mkdir()
    elif kind == "pipe":
        os.mkfifo(path)
    else:
        path.write_text("", encoding="utf-8")
        path = path / "store.json"
    with TinyRepository(path, writing=False) as repository, pytest.raises(StoreError) as caught:
        repository.entries()
    assert str(path) in str(caught.value) and str(caught.value).endswith(".")
