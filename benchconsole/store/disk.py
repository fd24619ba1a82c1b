"""The system calls that a durable write is made of, in one place so that each can be made to fail.

Also the words for their failures: a person is told about a full disk, not about an errno.
"""

from __future__ import annotations

import errno
import os
import shutil
import stat
from pathlib import Path

FOLDER_MODE = 0o700
FILE_MODE = 0o600

Mark = tuple[int, int, int]
"""Tells one content of a file from the next: inode, time of change in ns, size in bytes."""

_UNSUPPORTED = {errno.EINVAL, errno.ENOTSUP, errno.ENOSYS}
_WORDS = {
    errno.ENOSPC: "the disk is full",
    errno.EDQUOT: "the disk is full for this user",
    errno.EROFS: "the disk is read-only",
    errno.EACCES: "this user may not use it",
    errno.EPERM: "this user may not use it",
    errno.EISDIR: "it is a folder",
    errno.ENOTDIR: "a part of its path is not a folder",
    errno.ENAMETOOLONG: "its name is too long",
    errno.ELOOP: "its links run in a circle",
}


def words_for(fault: OSError) -> str:
    """What went wrong, for a sentence: ``the disk is full``."""
    if fault.errno in _WORDS:
        return _WORDS[fault.errno]
    return (fault.strerror or type(fault).__name__).lower()


def shown(path: Path) -> str:
    """A path as it may be put before a person: what cannot be printed becomes ``?``."""
    return "".join(letter if letter.isprintable() else "?" for letter in str(path))


class Disk:
    """The real disk. Every method raises OSError; paths are absolute."""

    def mark(self, path: Path) -> Mark | None:
        """What tells this content from the next one; None if there is no such file."""
        try:
            found = path.stat()
        except FileNotFoundError:
            return None
        return found.st_ino, found.st_mtime_ns, found.st_size

    def read(self, path: Path) -> bytes | None:
        """The whole content, None if there is no such file.

        Only ordinary files are opened: reading a pipe or a device would never end.
        """
        try:
            found = path.stat()
        except FileNotFoundError:
            return None
        if stat.S_ISDIR(found.st_mode):
            raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR))
        if not stat.S_ISREG(found.st_mode):
            raise OSError(errno.EINVAL, "it is not an ordinary file")
        return path.read_bytes()

    def read_start(self, path: Path, size: int) -> bytes:
        """The first bytes of an ordinary file; none of anything else, nor of what is gone."""
        try:
            if not stat.S_ISREG(path.stat().st_mode):
                return b""
            with path.open("rb") as file:
                return file.read(size)
        except FileNotFoundError:
            return b""

    def make_folder(self, folder: Path) -> None:
        """Make a folder private to the user, and those above it; an existing one is left as it is.

        The names of the new folders are made durable too, or a power cut could take the
        folder away with a confirmed tap in it.
        """
        if folder.is_dir():
            return
        if not folder.parent.is_dir():
            self.make_folder(folder.parent)
        folder.mkdir(mode=FOLDER_MODE, exist_ok=True)
        self.sync_folder(folder.parent)

    def create(self, path: Path) -> int:
        """A descriptor of a new file, private to the user; FileExistsError if it is there."""
        flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
        return os.open(path, flags, FILE_MODE)

    def open_to_append(self, path: Path) -> int:
        """A descriptor of an existing file; what is written to it lands at the file's end."""
        return os.open(path, os.O_WRONLY | os.O_APPEND | getattr(os, "O_BINARY", 0))

    def open_slot(self, path: Path) -> int:
        """A descriptor of a file of fixed length, made if it is not there; see ``write_over``."""
        return os.open(path, os.O_WRONLY | os.O_CREAT | getattr(os, "O_BINARY", 0), FILE_MODE)

    def write(self, descriptor: int, body: bytes) -> None:
        """Write all of it, however many calls the system needs."""
        rest = memoryview(body)
        while rest:
            rest = rest[os.write(descriptor, rest) :]

    def write_over(self, descriptor: int, body: bytes) -> None:
        """Write at the file's beginning, over what was there."""
        os.lseek(descriptor, 0, os.SEEK_SET)
        self.write(descriptor, body)

    def truncate(self, descriptor: int, size: int) -> None:
        """Cut a file down to so many bytes."""
        os.ftruncate(descriptor, size)

    def sync(self, descriptor: int) -> None:
        """Wait until the content is on the disk itself."""
        os.fsync(descriptor)

    def close(self, descriptor: int) -> None:
        """Let go of a descriptor."""
        os.close(descriptor)

    def link(self, path: Path, new: Path) -> None:
        """Give a file a second name; FileExistsError if that name is taken."""
        os.link(path, new)

    def names(self, folder: Path) -> list[str]:
        """The names in a folder, sorted; none if there is no such folder."""
        try:
            return sorted(path.name for path in folder.iterdir())
        except FileNotFoundError:
            return []

    def mode(self, path: Path) -> int | None:
        """Who may do what with a file or folder, as in ``0o600``; None if there is none."""
        try:
            return stat.S_IMODE(path.stat().st_mode)
        except FileNotFoundError:
            return None

    def free_bytes(self, folder: Path) -> int:
        """How much this user may still write to the disk that a folder is on."""
        return shutil.disk_usage(folder).free

    def replace(self, new: Path, path: Path) -> None:
        """Put a file in another's place in one step."""
        new.replace(path)

    def sync_folder(self, folder: Path) -> None:
        """Wait until the folder's names are on the disk, where the system can do that."""
        if os.name == "nt":
            return
        descriptor = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(descriptor)
        except OSError as fault:
            if fault.errno not in _UNSUPPORTED:
                raise
        finally:
            os.close(descriptor)

    def remove(self, path: Path) -> None:
        """Take a file away; nothing happens if it is gone."""
        path.unlink(missing_ok=True)
