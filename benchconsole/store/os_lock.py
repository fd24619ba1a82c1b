"""The operating system's lock on an open file: it ends with the process, however that ends.

It belongs to one opening of the file, so two openings in one process shut each other out too.
Linux and macOS lock the whole file (flock), which others may read meanwhile; Windows locks one
byte far behind the note, since a locked byte cannot be read there. The choice between a true
lock and a marker file is deliberate: a marker outlives a killed holder.
"""

from __future__ import annotations

import contextlib
import errno
import os
import sys

_HELD = {errno.EWOULDBLOCK, errno.EAGAIN, errno.EACCES, errno.EDEADLK}
_NO_LOCKS = {errno.ENOSYS, errno.ENOTSUP, errno.EOPNOTSUPP, errno.ENOLCK, errno.EINVAL}
_FAR_BYTE = 1 << 30


class NoLocks(OSError):
    """The drive that holds the file keeps no locks."""


def take(descriptor: int, *, shared: bool = False) -> bool:
    """Lock an open file, at once or not at all; whether it is locked now.

    A shared lock only asks: it goes beside other shared ones, and not beside the writer's.
    Raises NoLocks where the file's drive keeps none, and OSError for every other fault.
    """
    try:
        _lock(descriptor, shared=shared)
    except OSError as fault:
        if fault.errno in _HELD:
            return False
        if fault.errno in _NO_LOCKS:
            raise NoLocks(fault.errno, os.strerror(fault.errno or 0)) from fault
        raise
    return True


def let_go(descriptor: int) -> None:
    """Unlock and close an open file; whatever fails, the system has let go after it."""
    with contextlib.suppress(OSError):
        _unlock(descriptor)
    with contextlib.suppress(OSError):
        os.close(descriptor)


if sys.platform == "win32":
    import msvcrt

    def _lock(descriptor: int, *, shared: bool) -> None:
        os.lseek(descriptor, _FAR_BYTE, os.SEEK_SET)
        msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)

    def _unlock(descriptor: int) -> None:
        os.lseek(descriptor, _FAR_BYTE, os.SEEK_SET)
        msvcrt.locking(descriptor, msvcrt.LK_UNLCK, 1)

else:
    import fcntl

    def _lock(descriptor: int, *, shared: bool) -> None:
        fcntl.flock(descriptor, (fcntl.LOCK_SH if shared else fcntl.LOCK_EX) | fcntl.LOCK_NB)

    def _unlock(descriptor: int) -> None:
        fcntl.flock(descriptor, fcntl.LOCK_UN)
