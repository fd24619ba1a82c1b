"""Putting the content of a copy in the store's place, in such an order that nothing is lost.

The copy of what stood there is safe first, then the content is put in its place in one step.
Cut off anywhere, the store is what it was or what it was to be.
"""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from benchconsole.errors import StoreError
from benchconsole.store.backups import Backup, Backups
from benchconsole.store.content import Content
from benchconsole.store.disk import Disk, shown, words_for
from benchconsole.store.holdings import as_log, refuse_newer
from benchconsole.store.log_file import LogFile
from benchconsole.store.tip import tip_for_another_log

RESTORE = "restore"
"""What the copy of the state before a restore is named by."""


@dataclass(frozen=True)
class Restored:
    """What a restore did: the copy that was put back, and the one of what stood there before."""

    copy: Backup
    before: Backup | None


def restore(
    store: Path, copy: Backup, now: datetime, *, backups: Backups, disk: Disk | None = None
) -> Restored:
    """Put a copy's content in the place of a store whose lock is held and which is not open.

    What stood there, sound or not, is kept as a copy first. Raises StoreDamaged or StoreTooNew
    for a copy or a store that must be left as it is, and StoreError where it cannot be done;
    nothing is restored then.
    """
    disk = disk or Disk()
    body = as_log(backups.read(copy), f"copy {copy.name}")
    with _as_store_error(store):
        present = disk.read(store)
    if present:
        refuse_newer(present, shown(store))
    before = backups.keep_before(RESTORE, present, now) if present else None
    with _as_store_error(store):
        disk.make_folder(store.parent)
        with tip_for_another_log(disk, store, Content.of(body).tip):
            LogFile(store, disk).put(body, before=present)
    note_restored(backups, body, now)
    return Restored(copy, before)


def note_restored(backups: Backups, body: bytes, now: datetime) -> None:
    """Let the newest copy be of the content that was put back, and not of what it replaced.

    Where a copy cannot be made, the one that was put back is still there.
    """
    with contextlib.suppress(StoreError):
        backups.keep(body, now, anew=True)


@contextlib.contextmanager
def _as_store_error(store: Path) -> Iterator[None]:
    try:
        yield
    except OSError as fault:
        raise StoreError(
            f"Nothing was restored, the store {shown(store)} cannot be used: {words_for(fault)}."
        ) from fault
