"""The command that lists the backup copies of the store and puts one of them back."""

from __future__ import annotations

import sys
from datetime import datetime, tzinfo
from pathlib import Path
from typing import TYPE_CHECKING

from benchconsole import letters
from benchconsole.cli.output import print_text, put
from benchconsole.errors import BadInput, NotPossibleNow, StoreError
from benchconsole.store.disk import Disk, shown, words_for

if TYPE_CHECKING:
    from benchconsole.desk.copies import CopyRow
    from benchconsole.store.backups import Backups

MOST_TOLD = 20
"""So many taps of each kind are told one by one."""


def restore(store: Path, which: str | None, *, yes: bool, wait_s: float) -> int:
    """List the copies or, of the one that is named, show what it would change and put it back."""
    from benchconsole.clock import SystemClock
    from benchconsole.desk.copies import copy_rows, row_called, zone_of
    from benchconsole.store.backups import Backups
    from benchconsole.store.holdings import as_log

    if which is None and yes:
        raise BadInput("yes", "it only goes with a copy", "restore 1 --yes")
    store, clock = real_store(store), SystemClock()
    backups, present = Backups(store), content(store)
    now, zone = clock.now(), zone_of(present) or clock.zone
    rows = copy_rows(backups)
    if which is None:
        print_text(list_text(store, rows, now, zone))
        return 0
    row = row_called(which, rows, _as_instant(which, now, zone))
    body = backups.read(row.backup)
    if as_log(body, f"copy {row.number}") == present:
        print_text(f"Copy {row.number} is what the store holds now: there is nothing to do.")
        return 0
    print_text(_change_text(store, row, present, body, now, zone))
    if not yes and not _said_yes():
        print_text("Nothing was changed.")
        return 0
    print_text(_restored(store, backups, row, present, wait_s))
    return 0


def list_text(store: Path, rows: tuple[CopyRow, ...], now: datetime, zone: tzinfo) -> str:
    """The copies, a line each, and how one of them is put back."""
    from benchconsole.desk.copies import age_words, before_words, size_words
    from benchconsole.schedule.wording import at_the_wall

    if not rows:
        return (
            f"There are no backup copies of {shown(store)} yet. The console makes one after it "
            "was opened, and every hour while something changes."
        )
    lines = [f"Backup copies of {shown(store)}, the newest first:", ""]
    lines.append("  no  made                  age           taps  last tap                size")
    for row in rows:
        made, holding = at_the_wall(row.backup.at, now, zone), row.holding
        last = at_the_wall(holding.last_at, now, zone) if holding.last_at else ""
        held = f"{holding.taps:>6}  {last:<21}"
        if holding.fault:
            held = f"{f'▲ {holding.fault}':<29}"
        line = (
            f"{row.number:>4}  {made:<21} {age_words(row.backup.at, now):<12}{held}"
            f"{size_words(row.backup.size):>7}  {before_words(row.backup)}"
        )
        lines.append(line.rstrip())
    lines += [
        "",
        "To see what putting one back would change, and be asked: benchconsole restore 1",
        "Instead of the number also a time: the last copy made by then.",
    ]
    return "\n".join(lines)


def content(store: Path) -> bytes | None:
    """What a store's file holds, whatever it is; None if there is none."""
    try:
        return Disk().read(store)
    except OSError as fault:
        raise StoreError(f"The store {shown(store)} cannot be read: {words_for(fault)}.") from fault


def _change_text(
    store: Path, row: CopyRow, present: bytes | None, body: bytes, now: datetime, zone: tzinfo
) -> str:
    """What putting a copy back would change, tap by tap."""
    from benchconsole import bootstrap
    from benchconsole.desk.copies import age_words, change_of, tap_line, taps_words
    from benchconsole.schedule.wording import at_the_wall

    routes = bootstrap.library_with_own(store.parent)[0].routes
    change = change_of(present, body, f"copy {row.number}", routes=routes, zone=zone)
    made = at_the_wall(row.backup.at, now, zone)
    lines = [
        f"Copy {row.number}, made {made} ({age_words(row.backup.at, now)} ago): "
        f"{taps_words(row.holding.taps)}. Putting it back:"
    ]
    for taps, words in ((change.gone, "would be gone"), (change.back, "would come back")):
        if taps:
            lines.append(f"  {taps_words(len(taps))} {words}:")
            told = [tap_line(tap, now, zone) for tap in taps[-MOST_TOLD:]]
            lines += [f"    {letters.shown(line)}" for line in told]
        if len(taps) > MOST_TOLD:
            lines.append(f"    and {len(taps) - MOST_TOLD} before these")
    if not change.gone and not change.back:
        lines.append("  no tap would be gone; the file is written anew, whole.")
    return "\n".join(lines)


def _said_yes() -> bool:
    """Whether a person at a terminal answers with yes; without one it must be said before."""
    if sys.stdin is None or not sys.stdin.isatty():
        raise NotPossibleNow("Nothing was changed: to do it without being asked, add --yes.")
    put("Put it back? What is there now is kept as a copy first. (yes/no) ")
    return sys.stdin.readline().strip().lower() in ("y", "yes")


def _restored(
    store: Path, backups: Backups, row: CopyRow, present: bytes | None, wait_s: float
) -> str:
    """Put the copy back under the store's lock, if the store is still what was looked at."""
    from benchconsole.clock import SystemClock
    from benchconsole.desk.copies import taps_words
    from benchconsole.store.lock import WriterLock
    from benchconsole.store.restoring import restore as put_back

    try:
        Disk().make_folder(store.parent)
    except OSError as fault:
        raise StoreError(
            f"The folder {shown(store.parent)} cannot be made: {words_for(fault)}."
        ) from fault
    lock = WriterLock(store, who="restore", wait_s=wait_s)
    try:
        if content(store) != present:
            raise NotPossibleNow(
                "Nothing was changed: something was recorded since this was shown; look again."
            )
        done = put_back(store, row.backup, SystemClock().now(), backups=backups)
    finally:
        lock.release()
    said = f"Put back: {taps_words(row.holding.taps)}, from the copy {done.copy.name}."
    if done.before is None:
        return said
    number = next(n for n, each in enumerate(backups.all(), start=1) if each == done.before)
    return f"{said} What was there before is copy {number} now: benchconsole restore {number}"


def real_store(store: Path) -> Path:
    """The file behind a link: it is what the copies are kept of, and what is replaced."""
    try:
        return store.expanduser().resolve()
    except (OSError, RuntimeError, ValueError) as fault:
        raise StoreError(
            f"The store {shown(store)} cannot be found: its path is broken."
        ) from fault


def _as_instant(text: str, now: datetime, zone: tzinfo) -> datetime | None:
    from benchconsole.exchange import read_instant

    try:
        return read_instant(text, now, zone)
    except BadInput:
        return None
