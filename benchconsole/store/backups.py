"""Rotating copies of the log beside it, in the folder ``<store>.backups``.

A copy is a whole file that can be put in the store's place as it is. Only what was read through
and found whole is copied in turn, so that damage never pushes a good copy out.
"""

from __future__ import annotations

import contextlib
import re
import threading
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from benchconsole.errors import StoreDamaged, StoreError
from benchconsole.store.copies import copies_folder
from benchconsole.store.disk import Disk, shown, words_for
from benchconsole.store.lines import parsed
from benchconsole.store.rotation import kept
from benchconsole.store.whole_file import is_leftover, put_whole

EVERY = timedelta(hours=1)
"""How far apart the console makes copies while something changes."""

BEFORE_DAYS = 90
"""So long a copy stays that was made before a restore or a migration; the last of each, longer."""

LEFT_FREE_BYTES = 16 * 1024 * 1024
"""What a copy leaves free on the disk (our own choice): room for thousands of taps."""

_NAME = re.compile(r"(\d{4}-\d\d-\d\dT\d{6}Z)(?:-before-([a-z0-9-]{1,40}))?\.json")
_KEPT_AT_OPENING = re.compile(r"before-([a-z0-9-]{1,40})-[0-9a-f]{8}\.json")
_STAMP = "%Y-%m-%dT%H%M%SZ"


@dataclass(frozen=True)
class Backup:
    """One copy. ``at`` is when it was made (aware, UTC); ``before`` names what it was made before:
    ``restore``, ``migration``; empty for those that are made in turn and rotate."""

    path: Path
    at: datetime
    before: str
    size: int

    @property
    def name(self) -> str:
        """The name of the file."""
        return self.path.name


class Backups:
    """The copies of one file. Every method raises StoreError with a sentence for a person.

    One object may be used from several threads at once.
    """

    def __init__(self, store: Path, disk: Disk | None = None) -> None:
        self._store = store
        self._disk = disk or Disk()
        # What one thread sweeps away as left over is what another has just begun.
        self._turn = threading.RLock()
        self.folder = copies_folder(store)

    def all(self) -> tuple[Backup, ...]:
        """Every copy, the newest first. A file with another name is none of ours."""
        with self._in_words("The backup copies cannot be listed"):
            found = [self._seen(name) for name in self._disk.names(self.folder)]
        copies = [backup for backup in found if backup is not None]
        return tuple(sorted(copies, key=_age, reverse=True))

    def read(self, backup: Backup) -> bytes:
        """The content of a copy, whatever it is."""
        with self._in_words(f"The backup copy {backup.name} cannot be read"):
            body = self._disk.read(backup.path)
        if body is None:
            raise StoreError(f"The backup copy {backup.name} is gone.")
        return body

    def present(self) -> bytes | None:
        """What the file that is copied holds now; None if there is none."""
        try:
            return self._disk.read(self._store)
        except OSError as fault:
            raise StoreError(
                f"The store {shown(self._store)} cannot be read: {words_for(fault)}."
            ) from fault

    def is_due(self, now: datetime) -> bool:
        """Whether the last copy made in turn is older than ``EVERY``, or from after ``now``."""
        made = [backup.at for backup in self.all() if not backup.before]
        return not any(now - EVERY < at <= now for at in made)

    def keep(self, body: bytes, now: datetime, *, anew: bool = False) -> Backup | None:
        """Copy the whole lines of a log, and let old copies go; None if nothing changed.

        ``anew`` makes one also where the newest that was made in turn holds the same. ``body``
        may end in a line that is just being written: it is left out. Raises StoreDamaged for
        content that is not whole; it is not copied, and no copy goes.
        """
        found = parsed(body)
        if not found.is_whole:
            raise StoreDamaged(
                f"No backup copy was made: what {shown(self._store)} holds is not whole."
            )
        sound = body[: found.sound_until]
        with self._turn:
            if not found.lines or (not anew and self._is_newest(sound, now)):
                return None
            backup = self._put("", sound, now)
            self.sweep(now)
            return backup

    def keep_before(self, reason: str, body: bytes, now: datetime) -> Backup:
        """Copy content as it is, sound or not, before it is replaced; ``reason`` is one word.

        The copy stays for ``BEFORE_DAYS`` days beside those that rotate. What was copied for the
        same reason within the hour is not copied again: the copy there is, is given.
        """
        with self._turn:
            for backup in self.all():
                fresh = backup.before == reason and abs(now - backup.at) < EVERY
                if fresh and backup.size == len(body) and self.read(backup) == body:
                    return backup
            return self._put(reason, body, now)

    def sweep(self, now: datetime) -> None:
        """Let go of the copies whose time is over, and of what a killed write left behind."""
        with self._turn, self._in_words("Old backup copies cannot be removed"):
            for name in filter(is_leftover, self._disk.names(self.folder)):
                self._disk.remove(self.folder / name)
            copies = self.all()
            stay = kept((backup.at for backup in copies if not backup.before), now)
            seen: set[str] = set()
            for backup in copies:
                old = now - backup.at > timedelta(days=BEFORE_DAYS)
                # A clock that ran ahead for a day must not cost the last of these.
                newest = backup.before not in seen
                seen.add(backup.before)
                if (old and not newest) if backup.before else backup.at not in stay:
                    self._disk.remove(backup.path)

    def _is_newest(self, body: bytes, now: datetime) -> bool:
        """Whether the newest copy up to now, among those made in turn, holds just this."""
        made = (backup for backup in self.all() if not backup.before and backup.at <= now)
        newest = next(made, None)
        return newest is not None and newest.size == len(body) and self.read(newest) == body

    def _put(self, before: str, body: bytes, now: datetime) -> Backup:
        at = now.astimezone(UTC).replace(microsecond=0)
        with self._in_words("No backup copy was made"):
            self._disk.make_folder(self.folder)
            names = self._disk.names(self.folder)
            while _name(at, before) in names:
                at += timedelta(seconds=1)
            if self._disk.free_bytes(self.folder) < len(body) + LEFT_FREE_BYTES:
                raise StoreError(
                    f"No backup copy was made in {shown(self.folder)}: the disk is nearly full, "
                    "and what is left is kept for the taps."
                )
            path = self.folder / _name(at, before)
            put_whole(self._disk, path, body)
        return Backup(path, at, before, len(body))

    def _seen(self, name: str) -> Backup | None:
        timed, untimed = _NAME.fullmatch(name), _KEPT_AT_OPENING.fullmatch(name)
        # It may have been swept by another process since its name was listed.
        mark = self._disk.mark(self.folder / name) if timed or untimed else None
        if mark is None:
            return None
        if untimed:
            at = datetime.fromtimestamp(mark[1] // 10**9, UTC)
            return Backup(self.folder / name, at, untimed[1], mark[2])
        assert timed is not None
        with contextlib.suppress(ValueError):
            at = datetime.strptime(timed[1], _STAMP).replace(tzinfo=UTC)
            return Backup(self.folder / name, at, timed[2] or "", mark[2])
        return None

    @contextlib.contextmanager
    def _in_words(self, start: str) -> Iterator[None]:
        try:
            yield
        except OSError as fault:
            raise StoreError(f"{start} ({shown(self.folder)}): {words_for(fault)}.") from fault


def _name(at: datetime, before: str) -> str:
    return f"{at:{_STAMP}}{f'-before-{before}' if before else ''}.json"


def _age(backup: Backup) -> tuple[datetime, bool, str]:
    """For sorting: what was made after a restore is newer than the copy before it."""
    return backup.at, not backup.before, backup.before
