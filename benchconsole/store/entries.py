"""Entries on their way to and from the disk: numbered, made plain, checked both ways."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from datetime import UTC, datetime
from itertools import groupby
from operator import attrgetter
from typing import Any

import msgspec

from benchconsole.errors import BadInput
from benchconsole.model.events import Entry, Event
from benchconsole.model.record import Instant, Record
from benchconsole.store.faults import damaged, told_fault
from benchconsole.store.lines import Document


def next_entries(
    before: Sequence[Entry], events: Sequence[Event], *, at: datetime, recorded: datetime
) -> tuple[Entry, ...]:
    """The events of one tap as the entries that follow ``before``, exactly as they will be read.

    Instants become UTC. Raises BadInput for text or numbers that no file can hold, and
    ValueError for an instant without a zone or a value of the wrong type (both are defects).
    """
    seq, tap = (before[-1].seq, before[-1].tap) if before else (0, 0)
    return tuple(
        _storable(Entry(seq=seq + place, tap=tap + 1, at=at, recorded=recorded, event=event))
        for place, event in enumerate(events, start=1)
    )


class KeptEvent(Record, frozen=True, kw_only=True):
    """One event of a tap, as the log keeps it."""

    seq: int
    event: Event


class KeptTap(Record, frozen=True, kw_only=True):
    """One tap, as the log keeps it."""

    at: Instant
    recorded: Instant
    events: tuple[KeptEvent, ...]


def document_of(entries: Sequence[Entry]) -> Document:
    """The entries of one tap in plain JSON values."""
    first = entries[0]
    events = tuple(KeptEvent(seq=entry.seq, event=entry.event) for entry in entries)
    tap = KeptTap(at=first.at, recorded=first.recorded, events=events)
    plain: Document = msgspec.to_builtins(tap, str_keys=True)
    return plain


def documents_of(entries: Iterable[Entry]) -> Iterator[tuple[int, Document]]:
    """The taps of a history in order, each with its number."""
    for tap, group in groupby(entries, key=attrgetter("tap")):
        yield tap, document_of(tuple(group))


def together(entries: Iterable[Entry], others: Iterable[Entry]) -> tuple[Entry, ...]:
    """Two parts of one history as one, in order; of an entry in both the first part's counts."""
    by_seq = {entry.seq: entry for entry in (*others, *entries)}
    return tuple(by_seq[seq] for seq in sorted(by_seq))


def entries_from(
    documents: Iterable[tuple[int, Mapping[str, Any]]], name: str
) -> tuple[Entry, ...]:
    """The entries in the taps of the store ``name``, in order.

    Raises StoreDamaged with the tap and the path of the field that is wrong.
    """
    numbered = tuple(documents)
    entries: list[Entry] = []
    seq = last = 0
    for number, tap in _kept(numbered, name):
        if number <= last:
            raise damaged(name, f"tap {number} is out of order")
        last = number
        for kept in tap.events:
            if kept.seq <= seq:
                raise damaged(name, f"tap {number} has an event out of order")
            seq = kept.seq
            entry = Entry(seq=seq, tap=number, at=tap.at, recorded=tap.recorded, event=kept.event)
            entries.append(entry)
    return tuple(entries)


def _kept(
    numbered: Sequence[tuple[int, Mapping[str, Any]]], name: str
) -> Iterator[tuple[int, KeptTap]]:
    """All at once, which is quick; one by one only to find the one that is wrong."""
    documents = [document for _, document in numbered]
    try:
        taps = msgspec.convert(documents, list[KeptTap], str_keys=True)
    except msgspec.ValidationError:
        for number, document in numbered:
            try:
                yield number, msgspec.convert(document, KeptTap, str_keys=True)
            except msgspec.ValidationError as fault:
                raise damaged(name, f"tap {number} is wrong ({told_fault(fault)})") from fault
        return
    yield from zip((number for number, _ in numbered), taps, strict=True)


def _storable(entry: Entry) -> Entry:
    plain = msgspec.to_builtins(entry, builtin_types=(datetime,), str_keys=True)
    return msgspec.convert(_sound(plain, ""), Entry, str_keys=True)


def _sound(value: Any, field: str) -> Any:
    """The value with its instants in UTC, refused if a file could not give it back unchanged."""
    if isinstance(value, dict):
        return {_sound(key, field): _sound(inner, key) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_sound(inner, field) for inner in value]
    if isinstance(value, datetime):
        if value.tzinfo is None:
            raise ValueError(f"{field}: an instant needs a zone")
        return value.astimezone(UTC)
    if isinstance(value, float) and not math.isfinite(value):
        raise BadInput(field, f"{value} is not a number that can be kept", "1234.5")
    if isinstance(value, str) and any("\ud800" <= letter <= "\udfff" for letter in value):
        raise BadInput(field, "holds half a character, which no file can keep", "Doe 7")
    return value
