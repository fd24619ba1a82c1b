"""What a log or a copy of it holds, without opening it as a store: for lists and comparisons.

Nothing here reads or writes files.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

import msgspec

from benchconsole.errors import StoreDamaged, StoreError, StoreTooNew
from benchconsole.model.events import Event
from benchconsole.model.record import Instant
from benchconsole.store.entries import KeptTap
from benchconsole.store.faults import too_new
from benchconsole.store.lines import VERSION, Document, Parsed, parsed, version_of
from benchconsole.store.migrations import first_version, migrated

DAMAGED = "it is damaged"
EMPTY = "it holds no taps"
NEWER = "a newer version wrote it"


@dataclass(frozen=True)
class Holding:
    """How much a log holds. ``last_at`` is when its last tap happened (aware).

    ``fault`` says why it cannot be used, in words for the end of a sentence; empty if it can.
    """

    taps: int = 0
    last_at: datetime | None = None
    fault: str = ""


class Tap(msgspec.Struct, frozen=True):
    """One tap of a log as it is told to a person; ``at`` is when it happened (aware).

    One that this version cannot read has no events, or not even a time.
    """

    number: int
    at: datetime | None
    events: tuple[Event, ...]


@dataclass(frozen=True)
class Difference:
    """What putting one log in another's place would change: taps that go, and that come back."""

    gone: tuple[Tap, ...]
    back: tuple[Tap, ...]


def as_log(body: bytes, name: str) -> bytes:
    """A log of this version that says the same as a file's content; ``name`` is told to a person.

    A line that was being written when the copy was made is left out. Raises StoreTooNew, and
    StoreDamaged for what is not whole: nothing is mended here.
    """
    version = refuse_newer(body, name)
    log = body
    if version is not None and version < VERSION:
        done = migrated(body, version, name)
        if done.damaged:
            raise StoreDamaged(f"{name[:1].upper()}{name[1:]} is damaged.")
        log = done.body
    found = parsed(log)
    if not found.is_whole or not found.lines:
        fault = "holds no taps of Bench Console"
        if found.is_ours and not found.is_whole:
            fault = "is damaged"
        raise StoreDamaged(f"{name[:1].upper()}{name[1:]} {fault}.")
    return log[: found.sound_until]


def refuse_newer(body: bytes, name: str) -> int | None:
    """The version of a store's content, None if it is none; StoreTooNew for one not yet known."""
    version = version_of(body) or first_version(body)
    if version is not None and version > VERSION:
        raise too_new(name, version)
    return version


class Holdings:
    """Tells what copies hold; many copies of one log are read through once.

    What a copy holds is mostly the beginning of what a later one holds, byte for byte.
    """

    def __init__(self) -> None:
        self._sound: list[bytes] = []

    def of(self, body: bytes) -> Holding:
        """What a file's content holds."""
        if not any(known.startswith(body) for known in self._sound) or not body.endswith(b"\n"):
            try:
                body = as_log(body, "it")
            except StoreTooNew:
                return Holding(fault=NEWER)
            except StoreError:
                return Holding(fault=DAMAGED)
            self._sound.append(body)
        taps = body.count(b"\n") - 1
        if taps < 1:
            return Holding(fault=EMPTY)
        last = body[body.rfind(b"\n", 0, -1) + 1 :]
        lines = parsed(last).lines
        at = tap_of(lines[0].tap, lines[0].doc).at if lines else None
        return Holding(taps=taps, last_at=at)


def taps_of(found: Parsed) -> dict[int, Document]:
    """The taps of a log by their numbers."""
    return {line.tap: line.doc for line in found.lines}


def difference(present: Mapping[int, Document], copy: Mapping[int, Document]) -> Difference:
    """What putting ``copy`` in the place of ``present`` would change, tap by tap."""
    return Difference(gone=_only_in(present, copy), back=_only_in(copy, present))


def _only_in(these: Mapping[int, Document], those: Mapping[int, Document]) -> tuple[Tap, ...]:
    return tuple(tap_of(tap, these[tap]) for tap in sorted(these) if these[tap] != those.get(tap))


def tap_of(number: int, document: Document) -> Tap:
    """A tap's document read, as far as it can be."""
    try:
        read = msgspec.convert(document, KeptTap, str_keys=True)
        return Tap(number, read.at, tuple(each.event for each in read.events))
    except msgspec.ValidationError:
        pass
    try:
        return Tap(number, msgspec.convert(document.get("at"), Instant), ())
    except msgspec.ValidationError:
        return Tap(number, None, ())
