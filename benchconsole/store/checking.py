"""Looks a store through and says what it finds, without changing anything.

It may run while a console writes: what grows meanwhile is no damage.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime, tzinfo
from pathlib import Path
from time import sleep

from benchconsole.errors import StoreDamaged, StoreError
from benchconsole.model.state import fold
from benchconsole.store.backups import Backups
from benchconsole.store.disk import Disk, shown, words_for
from benchconsole.store.entries import entries_from
from benchconsole.store.holdings import Tap, tap_of
from benchconsole.store.lines import VERSION, Parsed, parsed, version_of
from benchconsole.store.lock import holder_of
from benchconsole.store.migrations import first_version
from benchconsole.store.recovery import Copy, is_another, is_cut_short, recovered
from benchconsole.store.tip import Tip, read_tip

LOOKS = 3
LOOK_AGAIN_S = 0.05
"""A line that is just being written is whole a moment later."""


@dataclass(frozen=True)
class Finding:
    """One thing that was looked at. ``about`` is one word, the same in every version.

    ``says`` is what was found and ``do`` what to do about it, each in sentences; ``taps`` are
    those of another file that the store lacks. ``good`` False is something to look at.
    """

    about: str
    good: bool
    says: str
    do: str = ""
    taps: tuple[Tap, ...] = ()


@dataclass(frozen=True)
class Looked:
    """What all checks look at: the store's file as it was read, and its copies."""

    store: Path
    disk: Disk
    now: datetime
    zone: tzinfo
    tip: Tip | None
    body: bytes | None
    found: Parsed

    @property
    def name(self) -> str:
        """The store as it is told to a person."""
        return shown(self.store)

    @property
    def is_ours(self) -> bool:
        """Whether the file is a log of this version, damaged or not."""
        return self.found.is_ours


def findings(
    store: Path, now: datetime, zone: tzinfo, disk: Disk | None = None
) -> tuple[Finding, ...]:
    """Everything that was looked at, in an order to read; raises nothing about the files."""
    from benchconsole.store.checking_beside import BESIDE

    disk = disk or Disk()
    try:
        looked = _look(store, now, zone, disk)
    except OSError as fault:
        return (
            Finding(
                "store",
                False,
                f"The store {shown(store)} cannot be read: {words_for(fault)}.",
                "See that this user may read it, and that its disk is there.",
            ),
        )
    found: list[Finding] = []
    for about, check in (("store", _store), ("lock", _lock), *BESIDE):
        found += _guarded(about, check, looked)
    return tuple(found)


def _guarded(
    about: str, check: Callable[[Looked], Iterator[Finding]], looked: Looked
) -> Iterator[Finding]:
    try:
        yield from check(looked)
    except (OSError, StoreError) as fault:
        words = words_for(fault) if isinstance(fault, OSError) else str(fault).rstrip(".")
        yield Finding(
            about,
            False,
            f"This could not be looked at: {words}.",
            "See that this user may read it.",
        )


def _look(store: Path, now: datetime, zone: tzinfo, disk: Disk) -> Looked:
    """Read the tip before the file, which may grow meanwhile; a torn end may be half a write."""
    for _ in range(LOOKS):
        tip, body = read_tip(disk, store), disk.read(store)
        found = parsed(body or b"")
        if not found.torn:
            break
        sleep(LOOK_AGAIN_S)
    return Looked(store, disk, now, zone, tip, body, found)


def _store(looked: Looked) -> Iterator[Finding]:
    name, body = looked.name, looked.body
    if body is None:
        yield _no_store(looked)
        return
    version = version_of(body) or first_version(body)
    if version is not None and version > VERSION:
        yield Finding(
            "store",
            False,
            f"{name} was written by a newer version of this program.",
            "Update the program; until then leave the file as it is.",
        )
    elif version is not None and version < VERSION:
        yield Finding("store", True, f"{name} is of an earlier version: opening it brings it up.")
    elif not looked.is_ours:
        yield Finding(
            "store",
            False,
            f"Nothing in {name} was written by Bench Console.",
            "If your shop should be there: benchconsole restore lists the copies of it.",
        )
    else:
        yield from _lines(looked)


def _no_store(looked: Looked) -> Finding:
    if looked.tip is None and not Backups(looked.store, looked.disk).all():
        return Finding("store", True, f"There is no store {looked.name} yet: an empty shop.")
    return Finding(
        "store",
        False,
        f"The store {looked.name} is gone, but there was one.",
        "See whether it was moved; else benchconsole restore lists the copies of it.",
    )


def _lines(looked: Looked) -> Iterator[Finding]:
    found = looked.found
    if not found.is_whole or is_cut_short(found, looked.tip):
        yield _damage(looked)
    elif found.torn:
        yield Finding(
            "store",
            False,
            "At the end of the store stands a tap that was cut off in the writing; it was never "
            "confirmed.",
            "Open the console: it leaves it out. Then look at what was done last.",
        )
    else:
        yield Finding(
            "store",
            True,
            f"{looked.name}: {_count(len(found.lines), 'tap')}; every line is whole and follows "
            "the one before.",
        )
    yield from _entries(looked)
    if is_another(found, looked.tip):
        yield Finding(
            "tip",
            False,
            "The last tap in the store is another one than was confirmed on this computer.",
            "See whether the file was replaced by one from elsewhere.",
        )
    elif not is_cut_short(found, looked.tip):
        yield Finding("tip", True, "The last tap that was confirmed here is in the store.")


def _damage(looked: Looked) -> Finding:
    """What is wrong with the lines, and how much of it opening the store would mend."""
    found = looked.found
    stretches, gaps = found.unreadable + found.torn, len(found.breaks)
    parts = []
    if stretches:
        parts.append(f"{_count(stretches, 'stretch', 'stretches')} of it cannot be read")
    if gaps or not found.header:
        parts.append(f"in {_count(max(gaps, 1), 'place')} something is missing")
    if is_cut_short(found, looked.tip):
        parts.append("its end, which was confirmed, is missing")
    if not parts:
        parts.append("another program changed its line ends or put blanks in")
    rescued = recovered(found, looked.tip, _copies(looked))
    if rescued is None:
        do = "benchconsole restore lists the copies; none of them fits what is left here."
    else:
        back = sum(rescued.brought_back.values())
        lost = sum(last - first + 1 for first, last in rescued.lost)
        do = f"Open the console: it brings back {_count(back, 'tap')} from the copies and keeps "
        do += "the damaged file aside"
        do += f"; {_count(lost, 'tap')} at most are nowhere." if lost else "."
    return Finding("store", False, f"The store is damaged: {'; '.join(parts)}.", do)


def _copies(looked: Looked) -> Iterator[Copy]:
    backups = Backups(looked.store, looked.disk)
    for backup in backups.all():
        try:
            yield Copy(backup.name, backups.read(backup))
        except StoreError:
            continue


def _entries(looked: Looked) -> Iterator[Finding]:
    """Whether what the lines say can be read, and leads to a state."""
    lines = looked.found.lines
    try:
        entries = entries_from(((line.tap, line.doc) for line in lines), looked.name)
    except StoreDamaged as fault:
        yield Finding(
            "taps",
            False,
            str(fault).partition(":")[0] + ".",
            "Its line is whole, so another version wrote it: update the program.",
        )
        return
    try:
        state = fold(entries)
    except Exception as fault:
        # Whatever it is, it is a defect of ours, and the person wants to know where they stand.
        yield Finding(
            "taps",
            False,
            f"The taps can be read, but make no shop ({type(fault).__name__}).",
            "Keep the file, and report this.",
        )
        return
    last = tap_of(lines[-1].tap, lines[-1].doc).at if lines else None
    when = f", the last on {_day(last, looked.zone)}" if last else ""
    hides = _count(len(state.hides), "hide")
    yield Finding("taps", True, f"Every tap can be read{when}; they make a shop of {hides}.")


def _lock(looked: Looked) -> Iterator[Finding]:
    holder = holder_of(looked.store)
    if holder is None:
        yield Finding("lock", True, "Nobody writes to the store just now.")
    else:
        yield Finding("lock", True, f"{holder.words(looked.now, looked.zone)}.")


def _day(at: datetime, zone: tzinfo) -> str:
    local = at.astimezone(zone)
    return f"{local:%a} {local.day} {local:%b %Y %H:%M}"


def _count(number: int, one: str, more: str = "") -> str:
    return f"{number} {one if number == 1 else more or f'{one}s'}"
