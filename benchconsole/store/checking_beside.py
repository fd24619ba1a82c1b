"""What the check looks at beside the store: its copies, files left over, who may read, the room."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from datetime import datetime, timedelta
from pathlib import Path

from benchconsole.errors import StoreError
from benchconsole.store.backups import Backup, Backups
from benchconsole.store.checking import Finding, Looked
from benchconsole.store.copies import copies_folder
from benchconsole.store.disk import FILE_MODE, FOLDER_MODE, shown, words_for
from benchconsole.store.holdings import NEWER, Holdings, as_log, difference, taps_of
from benchconsole.store.lines import Document, parsed
from benchconsole.store.lock import holder_of, lock_path
from benchconsole.store.shelves import FileShelf
from benchconsole.store.tip import tip_path
from benchconsole.store.whole_file import is_leftover
from benchconsole.store.year_file import HIDES, HISTORY, YearRefused, read_year

ROOM_BYTES = 200 * 1024 * 1024
"""Less than this free on the disk is worth a word (our own choice)."""

STALE = timedelta(days=2)
"""A newest copy that is so much older than the last tap shows that none are made."""

MOST_NAMED = 3
_STARTS = (b'{"schema":"benchconsole.store"', b'{"_about":{"1":{"schema":"benchconsole.store"')
_OTHERS, _CHANGED = 0o077, 0o022


def _copies(looked: Looked) -> Iterator[Finding]:
    """Whether each copy can be used, and whether the newest is new enough."""
    backups = Backups(looked.store, looked.disk)
    holdings = Holdings()
    faults = {backup: _fault_of(backups, backup, holdings) for backup in backups.all()}
    usable = [backup for backup, fault in faults.items() if not fault]
    # What was kept before a restore is kept as it was, sound or not.
    faulty = [
        backup.name
        for backup, fault in faults.items()
        if fault not in ("", NEWER) and not backup.before
    ]
    if faulty:
        yield Finding(
            "copies",
            False,
            f"{_many(len(faulty), 'copy', 'copies')} cannot be used: {_names(faulty)}.",
            f"Remove {'it' if len(faulty) == 1 else 'them'} from {backups.folder.name}; "
            "if more are damaged soon, the disk is failing.",
        )
    lines = looked.found.lines
    if not usable and not lines:
        return
    if not usable:
        yield Finding(
            "copies",
            False,
            "There is no backup copy of the store.",
            "The console makes one when it is opened, and then hourly: open it, and look again.",
        )
    elif looked.now - usable[0].at > STALE and backups.read(usable[0]) != looked.body:
        days = (looked.now - usable[0].at).days
        yield Finding(
            "copies",
            False,
            f"The newest copy is {days} days old, and taps were made since.",
            "Open the console, which makes one; if it says that it cannot, it says why.",
        )
    else:
        yield Finding(
            "copies", True, f"{_many(len(usable), 'backup copy', 'backup copies')} can be used."
        )


def _fault_of(backups: Backups, backup: Backup, holdings: Holdings) -> str:
    try:
        return holdings.of(backups.read(backup)).fault
    except StoreError:
        return "it cannot be read"


def _archive(looked: Looked) -> Iterator[Finding]:
    """The finished hides of the years."""
    shelf = FileShelf(looked.store, looked.disk, writing=False)
    shop = looked.found.header.began if looked.found.header else None
    years = shelf.years()
    faulty = [(year, why) for year in years if (why := _year_fault(shelf, year, shop))]
    for year, why in faulty:
        copied = not _year_fault(shelf, year, shop, copy=True)
        folder = copies_folder(looked.store).name
        yield Finding(
            "archive",
            False,
            f"The archive of {year} {why}.",
            f"There is a good copy in {folder}/archive, which the console uses until it writes the "
            "year anew; what is in its place is then kept beside it."
            if copied
            else "There is no good copy of it: put one in its place if you have one elsewhere.",
        )
    if years and not faulty:
        yield Finding("archive", True, f"{_many(len(years), 'year')} of the archive can be read.")


def _year_fault(shelf: FileShelf, year: int, shop: datetime | None, *, copy: bool = False) -> str:
    """What is wrong with the file of a year, or with its copy; empty if nothing is."""
    try:
        body = shelf.read(year, copy=copy)
    except OSError as fault:
        return f"cannot be read ({words_for(fault)})"
    if body is None:
        return "is gone"
    try:
        tables = read_year(body, shop, year)
        for name in (HIDES, HISTORY):
            tables[name]
    except YearRefused as fault:
        return str(fault)
    return ""


def _private(looked: Looked) -> Iterator[Finding]:
    """Whether nobody else may read the files, nor get at them."""
    if os.name == "nt":
        return
    open_files = []
    for path in _files_of(looked):
        mode = looked.disk.mode(path)
        if mode is not None and mode & _OTHERS:
            open_files.append(path.name)
    if open_files:
        yield Finding(
            "private",
            False,
            f"Others on this computer may read {_names(open_files)}.",
            f"Take that away: chmod {FILE_MODE:o} on each.",
        )
    open_folders = [folder for folder in _folders_of(looked) if _is_open(looked, folder)]
    for folder in open_folders:
        yield Finding(
            "private",
            False,
            f"Others on this computer may get at what is in the folder {shown(folder)}.",
            f"Take that away: chmod {FOLDER_MODE:o} on it.",
        )
    if not open_files and not open_folders and looked.body is not None:
        yield Finding("private", True, "Nobody else on this computer may read any of it.")


def _folders_of(looked: Looked) -> tuple[Path, ...]:
    store = looked.store
    return store.parent, copies_folder(store), archive_folder(store)


def _is_open(looked: Looked, folder: Path) -> bool:
    """Whether others may look into a folder of ours, or change what is in the store's.

    The store's own folder may hold other things of the person's: its files are private anyway.
    """
    mode = looked.disk.mode(folder)
    return mode is not None and bool(
        mode & (_CHANGED if folder == looked.store.parent else _OTHERS)
    )


def _files_of(looked: Looked) -> Iterator[Path]:
    store = looked.store
    yield from (store, tip_path(store), lock_path(store))
    for name in _beside(looked):
        if name.startswith(f"{store.name}.damaged-"):
            yield store.with_name(name)
    for folder in (copies_folder(store), archive_folder(store)):
        for name in looked.disk.names(folder):
            yield folder / name


def _left_over(looked: Looked) -> Iterator[Finding]:
    """What killed writes left, unless one is just being made."""
    names = [name for name in _beside(looked) if is_leftover(name, f".{looked.store.name}.")]
    if names and holder_of(looked.store) is None:
        yield Finding(
            "left-over",
            False,
            f"{_many(len(names), 'file')} of a write that was cut off: {_names(names)}.",
            "Nothing in it was confirmed; the console removes it when it opens.",
        )
    aside = [
        name
        for name in _beside(looked)
        if name.startswith(f"{looked.store.name}.damaged-") and not name.endswith(".txt")
    ]
    if aside:
        yield Finding(
            "set-aside",
            False,
            f"{_many(len(aside), 'damaged file')} was set aside earlier: {_names(aside)}.",
            "What could be read of it is in the store; the .txt beside it says what could not. "
            "When you have entered that again, both can be removed.",
        )


def _other_copies(looked: Looked) -> Iterator[Finding]:
    """Files in the folder that begin like a store: what a sync program makes of two writers."""
    store, ours = looked.store, taps_of(looked.found)
    own = {store.name, tip_path(store).name, lock_path(store).name}
    for name in _beside(looked):
        path = store.with_name(name)
        if name in own or name.startswith(f"{store.name}.damaged-") or is_leftover(name):
            continue
        if not looked.disk.read_start(path, 64).startswith(_STARTS):
            continue
        yield _compared(looked, name, looked.disk.read(path) or b"", ours)


def _compared(looked: Looked, name: str, body: bytes, ours: dict[int, Document]) -> Finding:
    try:
        found = parsed(as_log(body, name))
    except StoreError:
        found = parsed(body)
    header, own = found.header, looked.found.header
    if header and own and header.began != own.began:
        return Finding("other-files", True, f"{name} is the store of another shop.")
    lacking = difference(ours, taps_of(found)).back
    if not lacking:
        return Finding(
            "other-files",
            True,
            f"{name} is a copy of this store, with nothing in it that the store lacks.",
        )
    return Finding(
        "other-files",
        False,
        f"{name} is another copy of this store, with {_many(len(lacking), 'tap')} that the store "
        "lacks:",
        "Enter what is missing by hand, then move that file away. If a program that keeps folders "
        "alike made it, two computers had the shop open: let it be one at a time.",
        lacking,
    )


def _room(looked: Looked) -> Iterator[Finding]:
    """Whether the disk has room for what is to come."""
    folder = looked.store.parent
    if not folder.is_dir():
        return
    free = looked.disk.free_bytes(folder)
    much = f"{free / 1e9:.1f} GB" if free >= 1e9 else f"{free // 1_000_000} MB"
    if free < ROOM_BYTES:
        yield Finding(
            "room",
            False,
            f"Only {much} are free on the disk of the store.",
            "Make room: on a full disk nothing more can be recorded.",
        )
    else:
        yield Finding("room", True, f"{much} are free on the disk of the store.")


def archive_folder(store: Path) -> Path:
    """Where the finished hides of the years are."""
    return store.with_name(f"{store.name}.archive")


def _beside(looked: Looked) -> list[str]:
    """The names of files in the store's folder."""
    return looked.disk.names(looked.store.parent)


def _names(names: list[str]) -> str:
    more = len(names) - MOST_NAMED
    told = ", ".join(names[:MOST_NAMED])
    return f"{told} and {more} more" if more > 0 else told


def _many(number: int, one: str, more: str = "") -> str:
    return f"{number} {one if number == 1 else more or f'{one}s'}"


BESIDE: tuple[tuple[str, Callable[[Looked], Iterator[Finding]]], ...] = (
    ("copies", _copies),
    ("archive", _archive),
    ("left-over", _left_over),
    ("other-files", _other_copies),
    ("private", _private),
    ("room", _room),
)
"""The checks in the order in which they are told."""
