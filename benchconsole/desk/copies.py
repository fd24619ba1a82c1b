"""The backup copies of a store for a person: which there are, and what one would bring back."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta, tzinfo

from dateutil import tz

from benchconsole.desk.told_taps import told_taps
from benchconsole.errors import BadInput, StoreDamaged, StoreError
from benchconsole.model.routes import Route
from benchconsole.model.state import fold
from benchconsole.schedule.wording import at_the_wall
from benchconsole.store.backups import Backup, Backups
from benchconsole.store.entries import entries_from
from benchconsole.store.holdings import (
    Holding,
    Holdings,
    Tap,
    as_log,
    difference,
    tap_of,
    taps_of,
)
from benchconsole.store.lines import Document, parsed

EXAMPLE = "1 or 2026-03-01T08:00"


@dataclass(frozen=True)
class CopyRow:
    """A copy in the list. ``number`` counts from 1, the newest."""

    number: int
    backup: Backup
    holding: Holding


ToldTap = tuple[Tap, str]
"""A tap and what it did, in words."""


@dataclass(frozen=True)
class Change:
    """What putting a copy back would change: the taps that would be gone, and those that return."""

    gone: tuple[ToldTap, ...]
    back: tuple[ToldTap, ...]


def copy_rows(backups: Backups) -> tuple[CopyRow, ...]:
    """Every copy, the newest first, with what it holds.

    Reads all of them: a second or two where they are large. Raises StoreError if they cannot be
    listed; one that cannot be read is in the list and says so.
    """
    holdings = Holdings()
    return tuple(
        CopyRow(number, backup, _holding(backups, backup, holdings))
        for number, backup in enumerate(backups.all(), start=1)
    )


def _holding(backups: Backups, backup: Backup, holdings: Holdings) -> Holding:
    try:
        return holdings.of(backups.read(backup))
    except StoreError:
        return Holding(fault="it cannot be read")


def row_called(text: str, rows: Sequence[CopyRow], until: datetime | None) -> CopyRow:
    """The copy that a person named: by its number, its file's name, or as the last up to ``until``.

    ``until`` is ``text`` read as a time, None if it is none. Raises ``BadInput`` if there is no
    such copy.
    """
    words = text.strip()
    if not rows:
        raise BadInput("which", "there are no backup copies yet")
    if words.isascii() and words.isdigit():
        number = int(words[:9])
        if not 1 <= number <= len(rows):
            raise BadInput("which", f"there are copies 1 to {len(rows)}", EXAMPLE)
        return rows[number - 1]
    for row in rows:
        if row.backup.name == words or (until is not None and row.backup.at <= until):
            return row
    if until is None:
        raise BadInput("which", f"“{text[:40]}” is no copy's number, nor a time", EXAMPLE)
    raise BadInput("which", "there is no copy as old as that", EXAMPLE)


def change_of(
    present: bytes | None, copy: bytes, name: str, *, routes: Mapping[str, Route], zone: tzinfo
) -> Change:
    """What putting a copy in the place of a store's present content would change, tap by tap.

    Of damaged present content counts what can be read. Raises StoreDamaged or StoreTooNew for a
    copy that cannot be put back; ``name`` is the copy as it is told to a person.
    """
    now_there = taps_of(parsed(_readable(present)))
    then = taps_of(parsed(as_log(copy, name)))
    found = difference(now_there, then)

    def told(taps: Sequence[Tap], of: Mapping[int, Document]) -> tuple[ToldTap, ...]:
        every = (tap_of(tap, of[tap]) for tap in sorted(of)) if taps else ()
        return told_taps(taps, all_taps=every, routes=routes, zone=zone)

    return Change(gone=told(found.gone, now_there), back=told(found.back, then))


def told_with(
    taps: Sequence[Tap],
    *,
    known: bytes | None,
    routes: Mapping[str, Route],
    now: datetime,
    zone: tzinfo,
) -> Iterator[str]:
    """Taps of another log, a line each, with the names that a store's content knows."""
    found = taps_of(parsed(_readable(known)))
    # The same number may stand for another tap there: theirs come last, and are told.
    every = (*(tap_of(tap, found[tap]) for tap in sorted(found)), *taps)
    for told in told_taps(taps, all_taps=every, routes=routes, zone=zone):
        yield tap_line(told, now, zone)


def tap_line(told: ToldTap, now: datetime, zone: tzinfo) -> str:
    """A tap on a line: ``Mon 08:00         Brown goat: note: …``."""
    tap, words = told
    return f"{at_the_wall(tap.at, now, zone) if tap.at else '':<16}  {words}"


def taps_words(count: int) -> str:
    """``1 tap``, ``12 taps``."""
    return f"{count} tap{'' if count == 1 else 's'}"


def zone_of(body: bytes | None) -> tzinfo | None:
    """The zone in the settings of a shop whose store holds this; None if it says none."""
    lines = parsed(_readable(body)).lines
    try:
        name = fold(entries_from(((line.tap, line.doc) for line in lines), "")).shop.zone
    except StoreDamaged:
        return None
    return tz.gettz(name) if name else None


def _readable(body: bytes | None) -> bytes:
    """Content as a log of this version, or as it is where that cannot be."""
    try:
        return as_log(body or b"", "the store")
    except StoreError:
        return body or b""


def before_words(backup: Backup) -> str:
    """Why a copy was made, if not in turn: ``before a restore``."""
    if not backup.before:
        return ""
    kind, _, number = backup.before.partition("-")
    if kind == "version":
        return f"as version {number} wrote it"
    return f"before {'an' if kind[0] in 'aeiou' else 'a'} {backup.before}"


def age_words(at: datetime, now: datetime) -> str:
    """How long ago, in short: ``20 min``, ``3 d 4 h``; of a time still to come, that it is."""
    from benchconsole.quantities import format_duration

    age = now - at
    if age < -timedelta(seconds=5):
        return "still to come"
    return format_duration(max(age, timedelta(0)))


def size_words(size: int) -> str:
    """``3 KB``, ``1.2 MB``: as a file's size is told."""
    if size < 1_000_000:
        return f"{max(1, round(size / 1000))} KB"
    return f"{size / 1_000_000:.1f} MB"
