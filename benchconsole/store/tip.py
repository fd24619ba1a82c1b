"""The tip: a note beside the log of the last tap that was confirmed.

The log alone cannot tell that its end is missing: a file cut at a line's end, or an older copy
in its place, looks whole. The tip is written after the tap is safe and never waited for, so it
may lag behind the log but is never ahead of it, unless something was lost.
"""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

import msgspec

from benchconsole.store.disk import Disk
from benchconsole.store.lines import Line, fits, mark_of, sealed

LENGTH = 64
"""Bytes; always the same, so that one tip is written over another without cutting the file."""


@dataclass(frozen=True)
class Tip:
    """The number of a tap and ``mark_of`` its document."""

    tap: int
    mark: str

    @classmethod
    def of(cls, line: Line) -> Tip:
        """The tip of a log that ends with this line."""
        return cls(line.tap, mark_of(line.doc))


class _Written(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    tip: int
    mark: str
    crc: str


def tip_path(store: Path) -> Path:
    """Where the tip of a store is."""
    return store.with_name(f"{store.name}.tip")


def read_tip(disk: Disk, store: Path) -> Tip | None:
    """The tip of a store; None if there is none or it cannot be read, for it is only a hint."""
    try:
        body = disk.read(tip_path(store))
    except OSError:
        return None
    line = (body or b"").rstrip(b" \n")
    if not fits(line):
        return None
    try:
        written = msgspec.json.decode(line, type=_Written)
    except (msgspec.MsgspecError, UnicodeDecodeError):
        return None
    return Tip(written.tip, written.mark)


def write_tip(disk: Disk, store: Path, tip: Tip, *, durably: bool = False) -> None:
    """Note the last confirmed tap; a disk that refuses is put up with, for a tip may lag behind.

    ``durably`` waits for it.
    """
    line = sealed(msgspec.json.encode({"tip": tip.tap, "mark": tip.mark}))
    with contextlib.suppress(OSError):
        descriptor = disk.open_slot(tip_path(store))
        try:
            disk.write_over(descriptor, line[:-1].ljust(LENGTH - 1) + b"\n")
            if durably:
                disk.sync(descriptor)
        finally:
            disk.close(descriptor)


@contextlib.contextmanager
def tip_for_another_log(disk: Disk, store: Path, tip: Tip) -> Iterator[None]:
    """Around putting another whole log, which ends with this tip, in the place of the old one.

    At no moment does the tip name a tap that the log of that moment may not hold, or the end
    would be called lost: so it goes back before the log does, and forward only after it. When
    the log could not be put, the tip is what it was.
    """
    before = read_tip(disk, store)
    if before is not None and before.tap > tip.tap:
        write_tip(disk, store, tip, durably=True)
    elif before is not None and before.tap == tip.tap and before != tip:
        forget_tip(disk, store)
    try:
        yield
    except BaseException:
        if before is not None:
            write_tip(disk, store, before)
        raise
    write_tip(disk, store, tip)


def forget_tip(disk: Disk, store: Path) -> None:
    """Take the tip away and wait for it; a disk that refuses is put up with."""
    with contextlib.suppress(OSError):
        disk.remove(tip_path(store))
        disk.sync_folder(store.parent)
