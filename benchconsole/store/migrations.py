"""Reading what earlier versions of this program wrote, one small step a version.

``STEPS`` says for every earlier version how its file is read as one of the next. When version 3
comes, a step from 2 joins it, and what writes version 2 (``lines.whole_log``) moves here.

Version 1 kept the whole history as one JSON document of TinyDB tables, an entry a document,
and had no checksums: what is damaged in it is read entry by entry.
"""

from __future__ import annotations

import contextlib
import json
import re
from bisect import bisect_right
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import msgspec

from benchconsole.model.events import Entry
from benchconsole.store.faults import count, damaged, told_fault
from benchconsole.store.lines import SCHEMA, VERSION, Document, whole_log

ABOUT, HISTORY = "_about", "history"

_FIELDS = {"seq", "tap", "at", "recorded", "event"}
"""Those of an entry in version 1."""
_ENTRY = re.compile(r'"([0-9]{1,15})"\s*:\s*(?=\{)')


@dataclass(frozen=True, kw_only=True)
class Migrated:
    """A file as this version writes it (empty: nothing was in it), and what a person is told.

    ``damaged`` says that something in the old file could not be read.
    """

    body: bytes
    notices: tuple[str, ...] = ()
    damaged: bool = False


def migrated(text: bytes, version: int, name: str) -> Migrated:
    """An earlier version's file as this version writes it; ``name`` is told to a person.

    Raises StoreDamaged where nothing of the old file can be read.
    """
    done = Migrated(body=text)
    for step in range(version, VERSION):
        new = STEPS[step](done.body, name)
        done = Migrated(
            body=new.body,
            notices=(*done.notices, *new.notices),
            damaged=done.damaged or new.damaged,
        )
    return done


def first_version(text: bytes) -> int | None:
    """The version of a store that is one JSON document; None if it is no such store."""
    about: Any = _tables(text).get(ABOUT)
    try:
        schema, version = about["1"]["schema"], about["1"]["version"]
    except (TypeError, KeyError, IndexError):
        return None
    is_ours = schema == SCHEMA and type(version) is int and version >= 1
    return version if is_ours else None


def is_damaged_version_1(text: bytes) -> bool:
    """Whether entries of version 1 stand in a file that is no store any more, nor another's."""
    about = _tables(text).get(ABOUT)
    about = about.get("1") if isinstance(about, Mapping) else None
    if isinstance(about, Mapping) and about.get("schema", SCHEMA) != SCHEMA:
        return False
    return any(_entry(number, plain, []) is not None for number, plain in _numbered(text))


def log_from_version_1(text: bytes, name: str) -> Migrated:
    """The log that says the same as a version 1 document.

    Raises StoreDamaged where there are entries and none is as version 1 wrote it.
    """
    tables = _tables(text)
    history = tables.get(HISTORY, {} if ABOUT in tables else None)
    wrong: list[str] = []
    entries = _entries(history.items(), wrong) if isinstance(history, Mapping) else []
    is_damaged = not isinstance(history, Mapping) or bool(wrong) or _has_gaps(entries)
    if is_damaged:
        entries = _entries(_numbered(text), wrong)
        if not entries:
            raise damaged(name, wrong[0] if wrong else "its history is not a table")
    if not entries:
        return Migrated(body=b"")
    return Migrated(
        body=whole_log(entries[0][0].recorded, _taps(entries)),
        notices=_told(entries, is_whole=bool(tables)) if is_damaged else (),
        damaged=is_damaged,
    )


STEPS: Mapping[int, Callable[[bytes, str], Migrated]] = {1: log_from_version_1}
"""For each earlier version the step to the next."""


def _tables(text: bytes) -> Mapping[str, Any]:
    """The tables of a document that can be read as a whole; empty for any other file."""
    try:
        tables = msgspec.json.decode(text)
    except (msgspec.MsgspecError, UnicodeDecodeError, RecursionError):
        return {}
    return tables if isinstance(tables, dict) else {}


def _numbered(text: bytes) -> Iterator[tuple[str, Any]]:
    """All that looks like a numbered document in a damaged file, one within another too."""
    # What is no UTF-8 becomes half characters, which no entry may hold.
    whole = text.decode(errors="surrogateescape")
    decoder = json.JSONDecoder()
    for found in _ENTRY.finditer(whole):
        with contextlib.suppress(ValueError, RecursionError):
            yield found[1], decoder.raw_decode(whole, found.end())[0]


def _entries(
    numbered: Iterable[tuple[str, Any]], wrong: list[str]
) -> list[tuple[Entry, Mapping[str, Any]]]:
    """The entries that are right, with what was written of them; the first of each number."""
    found: dict[int, tuple[Entry, Mapping[str, Any]]] = {}
    for number, plain in numbered:
        entry = _entry(number, plain, wrong)
        if entry is not None:
            found.setdefault(entry.seq, (entry, plain))
    return _in_order([found[seq] for seq in sorted(found)])


def _has_gaps(entries: Sequence[tuple[Entry, Any]]) -> bool:
    """Whether entries are missing: version 1 numbered them without a gap."""
    return bool(entries) and len(entries) < entries[-1][0].seq


def _entry(number: str, plain: Any, wrong: list[str]) -> Entry | None:
    """One entry; None for what version 1 did not write, and ``wrong`` then says why."""
    shown = f"entry {number[:20]}"
    if not isinstance(plain, Mapping) or set(plain) != _FIELDS:
        wrong.append(f"{shown} is wrong")
        return None
    try:
        msgspec.json.encode(plain)
        entry = msgspec.convert(plain, Entry)
    except msgspec.ValidationError as fault:
        wrong.append(f"{shown} is wrong ({told_fault(fault)})")
        return None
    except (UnicodeEncodeError, OverflowError, RecursionError):
        wrong.append(f"{shown} is wrong")
        return None
    if str(entry.seq) != number or not 1 <= entry.tap <= entry.seq:
        wrong.append(f"{shown} has the number of another")
        return None
    return entry


def _in_order(entries: Sequence[tuple[Entry, Any]]) -> list[tuple[Entry, Any]]:
    """As many as can stand together: by their numbers, with no tap before an earlier one.

    One wrong tap number would else put all entries after it out of order.
    """
    ends: list[int] = []  # for each length the lowest tap that so many entries can end with
    lengths: list[int] = []
    for entry, _ in entries:
        place = bisect_right(ends, entry.tap)
        ends[place : place + 1] = [entry.tap]
        lengths.append(place)
    row: list[tuple[Entry, Any]] = []
    wanted = len(ends) - 1
    for (entry, plain), length in zip(reversed(entries), reversed(lengths), strict=True):
        if length == wanted and (not row or entry.tap <= row[-1][0].tap):
            row.append((entry, plain))
            wanted -= 1
    return row[::-1]


def _taps(entries: Iterable[tuple[Entry, Mapping[str, Any]]]) -> Iterator[tuple[int, Document]]:
    taps: dict[int, Document] = {}
    for entry, plain in entries:
        new = {"at": plain["at"], "recorded": plain["recorded"], "events": []}
        document = taps.setdefault(entry.tap, new)
        document["events"].append({"seq": entry.seq, "event": plain["event"]})
    yield from taps.items()


def _told(entries: Sequence[tuple[Entry, Any]], *, is_whole: bool) -> tuple[str, ...]:
    """What a person is told of a damaged file."""
    found, last = len(entries), entries[-1][0].seq
    lost = f"; {count(last - found, 'entry was', 'entries were')} found nowhere"
    notices = [
        "The store was damaged, in a form without checksums: "
        f"{count(found, 'entry', 'entries')} could be read{lost if last > found else ''}."
    ]
    if not is_whole:
        notices.append(f"Whether anything was recorded after entry {last} cannot be told.")
    return tuple(notices)
