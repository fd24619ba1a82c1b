"""One writer at a time, across processes, and who that is."""

from __future__ import annotations

import contextlib
import os
import stat
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from time import monotonic, sleep

from benchconsole.errors import StoreBusy, StoreError
from benchconsole.store import os_lock
from benchconsole.store.disk import FILE_MODE, shown, words_for
from benchconsole.store.holders import LONGEST_NOTE_BYTES, Holder

GRACE_S = 0.15
"""How long a writer tries in any case: somebody may be asking who holds the lock just then."""
TRY_EVERY_S = 0.02
_NEVER_FOLLOW = getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)
_PLAIN = getattr(os, "O_CLOEXEC", 0) | getattr(os, "O_BINARY", 0) | _NEVER_FOLLOW


class WriterLock:
    """The right to write to a store, held from construction to ``release``.

    The lock is the operating system's, on ``<store>.lock``: it ends with the process however
    that ends. The file itself stays, for a removed file could be locked twice; in it stands who
    holds it (``who``: console, restore, archive, command) while it is held. All names of one
    store share its lock. The folder must exist.

    Raises StoreBusy, which says who, if another holds it for ``wait_s`` more seconds, and
    StoreError where the drive keeps no locks or the file cannot be had.
    """

    def __init__(self, store: Path, who: str = "console", wait_s: float = 0.0) -> None:
        self._path = lock_path(store)
        self._who = who
        self._descriptor: int | None = self._locked(wait_s)

    def confirm(self) -> None:
        """Make sure before a write that the lock is still the store's.

        Its file may have been removed, or come back as another with its drive: then the lock is
        taken anew. Raises StoreBusy if another writer has it now, and StoreError as above.
        """
        if self._descriptor is None:
            raise ValueError("the lock was released")
        start = "Nothing was saved, the"
        with _as_store_error(self._path, start):
            if _is_at(self._descriptor, self._path):
                return
        fresh = self._locked(0.0, start)
        os_lock.let_go(self._descriptor)
        self._descriptor = fresh

    def release(self) -> None:
        """Let the next writer in; harmless when done twice."""
        descriptor, self._descriptor = self._descriptor, None
        if descriptor is not None:
            with contextlib.suppress(OSError):
                os.ftruncate(descriptor, 0)
            os_lock.let_go(descriptor)

    def _locked(self, wait_s: float, start: str = "The") -> int:
        """A descriptor of the store's lock, locked, with our note in it."""
        give_up = monotonic() + max(wait_s, GRACE_S)
        with _as_store_error(self._path, start):
            while True:
                descriptor = _opened(self._path)
                try:
                    # Between opening and locking the file may have been removed and made anew.
                    if os_lock.take(descriptor) and _is_at(descriptor, self._path):
                        self._sign(descriptor)
                        return descriptor
                    holder = _read_note(descriptor)
                except BaseException:
                    os_lock.let_go(descriptor)
                    raise
                os_lock.let_go(descriptor)
                left = give_up - monotonic()
                if left <= 0.0:
                    raise StoreBusy(_busy(holder))
                sleep(min(TRY_EVERY_S, left))

    def _sign(self, descriptor: int) -> None:
        # A full disk takes no note, and the lock is held all the same.
        with contextlib.suppress(OSError):
            os.ftruncate(descriptor, 0)
            os.lseek(descriptor, 0, os.SEEK_SET)
            os.write(descriptor, Holder.this_process(self._who).note())


def lock_path(store: Path) -> Path:
    """Where the lock of a store lies, whatever name the store is called by.

    Raises StoreError for a path that leads nowhere.
    """
    try:
        real = store.expanduser().resolve()
    except (OSError, RuntimeError, ValueError) as fault:
        raise StoreError(
            f"The store {shown(store)} cannot be found: its path is broken."
        ) from fault
    return real.with_name(f"{real.name}.lock")


def holder_of(store: Path) -> Holder | None:
    """Who writes to a store just now; None if nobody does. Nothing is written or made.

    Raises StoreError if it cannot be found out.
    """
    path = lock_path(store)
    with _as_store_error(path, fault="cannot be looked at"):
        try:
            descriptor = os.open(path, os.O_RDONLY | _PLAIN)
        except FileNotFoundError:
            return None
        try:
            _refuse_odd(descriptor)
            return None if os_lock.take(descriptor, shared=True) else _read_note(descriptor)
        finally:
            os_lock.let_go(descriptor)


def _opened(path: Path) -> int:
    """A descriptor of the lock's file, made if it is not there; only an ordinary one will do."""
    descriptor = os.open(path, os.O_RDWR | os.O_CREAT | _PLAIN, FILE_MODE)
    try:
        _refuse_odd(descriptor)
    except OSError:
        os.close(descriptor)
        raise
    return descriptor


def _refuse_odd(descriptor: int) -> None:
    if not stat.S_ISREG(os.fstat(descriptor).st_mode):
        raise OSError(None, "it is not an ordinary file")


def _is_at(descriptor: int, path: Path) -> bool:
    """Whether the open file is still the one that has this name."""
    try:
        return os.path.samestat(os.fstat(descriptor), path.lstat())
    except FileNotFoundError:
        return False


def _read_note(descriptor: int) -> Holder:
    try:
        os.lseek(descriptor, 0, os.SEEK_SET)
        return Holder.from_note(os.read(descriptor, LONGEST_NOTE_BYTES))
    except OSError:
        return Holder()


def _busy(holder: Holder) -> str:
    said = holder.words(datetime.now(UTC), datetime.now().astimezone().tzinfo or UTC)
    then = "use that one or close it" if holder.is_console else "wait until it is done"
    return (
        f"{said}, so nothing can be recorded from here: {then} (“today” and “mix” work meanwhile)."
    )


@contextlib.contextmanager
def _as_store_error(path: Path, start: str = "The", fault: str = "cannot be set") -> Iterator[None]:
    try:
        yield
    except os_lock.NoLocks as no_locks:
        raise StoreError(
            f"The drive of {shown(path.parent)} keeps no locks, so two consoles could not be kept "
            "apart there: keep the shop on a disk of this computer, and copies of it there."
        ) from no_locks
    except OSError as cause:
        told = f"{start} lock {shown(path)} {fault}: {words_for(cause)}."
        raise StoreError(told) from cause
