"""A disk that works on real files and writes down every operation, so that crashes can be replayed.

What a file system promises is taken at its weakest, in the spirit of the research on crash
consistency (Pillai et al., "All File Systems Are Not Created Equal", OSDI 2014; from memory): a
content is durable once its file was synced, a name once its folder was synced, and everything
else may or may not reach the disk, in any order, whole or torn. ``crash_states`` lists what a
crash may leave of it.
"""

from __future__ import annotations

import errno
import os
from dataclasses import dataclass, field
from pathlib import Path

from benchconsole.store.disk import Disk, Mark


class Killed(BaseException):
    """The process ends here: no later operation is performed either."""


@dataclass(frozen=True, kw_only=True)
class Operation:
    """One thing asked of the disk. ``file`` is the number of a content, whatever its names are."""

    kind: str
    """mkdir, create, write, truncate, sync, failed sync, link, replace, remove or sync folder."""
    path: str = ""
    old: str = ""
    file: int = 0
    offset: int = 0
    body: bytes = b""
    size: int = 0

    def __str__(self) -> str:
        size = f" {len(self.body)} B at {self.offset}" if self.kind == "write" else ""
        return f"{self.kind} {self.path}{size}"


@dataclass
class Recording:
    """What was on the disk in the beginning, all of it durable, and what was done since."""

    folders: set[str] = field(default_factory=set)
    names: dict[str, int] = field(default_factory=dict)
    contents: dict[int, bytes] = field(default_factory=dict)
    operations: list[Operation] = field(default_factory=list)

    @classmethod
    def of(cls, root: Path) -> Recording:
        """The folder as it is now; locks are left out, for they hold nothing."""
        recording = cls()
        for path in sorted(root.rglob("*")):
            name = path.relative_to(root).as_posix()
            if path.is_dir():
                recording.folders.add(name)
            elif path.suffix != ".lock":
                number = len(recording.contents) + 1
                recording.names[name] = number
                recording.contents[number] = path.read_bytes()
        return recording

    def __len__(self) -> int:
        return len(self.operations)


@dataclass
class Fault:
    """The ``nth`` operation of a kind from now on fails, and the ``times - 1`` after it.

    Of a failing write the ``share`` is written first, as on a disk that runs full. With
    ``after``, the operation is done all the same and only its success is not told.
    """

    kind: str
    number: int
    nth: int = 0
    times: int = 1
    share: float = 0.5
    after: bool = False

    def strikes(self) -> bool:
        """Whether this operation is the one; counts it."""
        self.nth -= 1
        return -self.times <= self.nth < 0

    def error(self) -> OSError:
        """What the system says."""
        return OSError(self.number, os.strerror(self.number))


class SimulatedDisk(Disk):
    """The real disk below ``root``, recording; it fails, and dies, where it is told to.

    Nothing is really synced, for no power cut will come: that makes it quick.
    """

    def __init__(self, root: Path) -> None:
        self.root = root.resolve()
        self.recording = Recording.of(self.root)
        self.faults: list[Fault] = []
        self.kill_in: int | None = None
        """How many more changes are made before the process is killed."""
        self.struck = 0
        """How often it has failed."""
        self._names = dict(self.recording.names)
        self._folders = set(self.recording.folders)
        self._opened: dict[int, tuple[int, str]] = {}
        self._files = len(self.recording.contents)

    # --- what is asked of it --------------------------------------------------------------

    def read(self, path: Path) -> bytes | None:
        """Changes nothing, but may fail."""
        self._begin("read")
        return super().read(path)

    def mark(self, path: Path) -> Mark | None:
        """Changes nothing, but may fail."""
        self._begin("mark")
        return super().mark(path)

    def make_folder(self, folder: Path) -> None:
        """Recorded, with the folders above it that are new."""
        self._stop_if_dead()
        super().make_folder(folder)
        self._notice_folders(folder.parent)

    def create(self, path: Path) -> int:
        """Recorded as a name with an empty content."""
        self._begin("create")
        descriptor = super().create(path)
        self._name_new(path)
        return self._remember(descriptor, path)

    def open_slot(self, path: Path) -> int:
        """Recorded if it makes the file."""
        self._begin("open")
        is_new = self._place(path) not in self._names
        descriptor = super().open_slot(path)
        if is_new:
            self._name_new(path)
        return self._remember(descriptor, path)

    def open_to_append(self, path: Path) -> int:
        """An existing content; opening changes nothing."""
        self._begin("open")
        return self._remember(super().open_to_append(path), path)

    def write(self, descriptor: int, body: bytes) -> None:
        """Recorded at the place where it lands; a share of it when it fails."""
        fault = self._begin("write", raises=False)
        if fault is not None:
            body = body[: int(len(body) * fault.share)]
        file, name = self._opened[descriptor]
        found = os.fstat(descriptor).st_size
        appends = os.name != "nt" and _flags(descriptor) & os.O_APPEND
        offset = found if appends else os.lseek(descriptor, 0, os.SEEK_CUR)
        super().write(descriptor, body)
        if body:
            self._note(Operation(kind="write", path=name, file=file, offset=offset, body=body))
        if fault is not None:
            raise fault.error()

    def truncate(self, descriptor: int, size: int) -> None:
        """Recorded."""
        self._begin("truncate")
        super().truncate(descriptor, size)
        file, name = self._opened[descriptor]
        self._note(Operation(kind="truncate", path=name, file=file, size=size))

    def sync(self, descriptor: int) -> None:
        """Recorded. After a failed one the system may think what it lost is written.

        (Rebello et al., "Can Applications Recover from fsync Failures?", ATC 2020; from memory.)
        """
        file, name = self._opened[descriptor]
        fault = self._begin("sync", raises=False)
        self.note_sync(file, name, done=fault is None)
        if fault is not None:
            raise fault.error()

    def note_sync(self, file: int, name: str, *, done: bool = True) -> None:
        """A content's sync as it comes to the disk."""
        self._note(Operation(kind="sync" if done else "failed sync", path=name, file=file))

    def close(self, descriptor: int) -> None:
        """Lets go even when it fails or the process is killed, as the system does."""
        super().close(descriptor)
        self._opened.pop(descriptor)
        self._begin("close")

    def link(self, path: Path, new: Path) -> None:
        """Recorded."""
        self._begin("link")
        super().link(path, new)
        self._rename("link", self._place(path), self._place(new))

    def replace(self, new: Path, path: Path) -> None:
        """Recorded."""
        fault = self._begin("replace", raises=False)
        if fault is not None and not fault.after:
            raise fault.error()
        super().replace(new, path)
        self._rename("replace", self._place(new), self._place(path))
        if fault is not None:
            raise fault.error()

    def sync_folder(self, folder: Path) -> None:
        """Recorded; a failed one leaves the names in doubt until the next that succeeds."""
        self._notice_folders(folder)
        self._begin("sync folder")
        self._note(Operation(kind="sync folder", path=self._place(folder)))

    def remove(self, path: Path) -> None:
        """Recorded if it was there."""
        self._begin("remove")
        name = self._place(path)
        super().remove(path)
        if self._names.pop(name, None) is not None:
            self._note(Operation(kind="remove", path=name))

    # --- failing and dying ----------------------------------------------------------------

    def restart(self) -> None:
        """The process was killed and another one begins; nothing became durable by that."""
        self.kill_in = None
        self.faults.clear()

    def _begin(self, kind: str, *, raises: bool = True) -> Fault | None:
        self._stop_if_dead()
        for fault in self.faults:
            if fault.kind == kind and fault.strikes():
                self.struck += 1
                if raises:
                    raise fault.error()
                return fault
        return None

    def _stop_if_dead(self) -> None:
        if self.kill_in is not None and self.kill_in <= 0:
            raise Killed

    def _note(self, operation: Operation) -> None:
        self.recording.operations.append(operation)
        if self.kill_in is not None:
            self.kill_in -= 1
            self._stop_if_dead()

    # --- names and numbers ----------------------------------------------------------------

    def _place(self, path: Path) -> str:
        return path.relative_to(self.root).as_posix()

    def _name_new(self, path: Path) -> None:
        self._files += 1
        name = self._place(path)
        self._names[name] = self._files
        self._note(Operation(kind="create", path=name, file=self._files))

    def _remember(self, descriptor: int, path: Path) -> int:
        name = self._place(path)
        self._opened[descriptor] = (self._names[name], name)
        return descriptor

    def _rename(self, kind: str, old: str, new: str) -> None:
        file = self._names[old] if kind == "link" else self._names.pop(old)
        self._names[new] = file
        self._note(Operation(kind=kind, path=new, old=old, file=file))

    def _notice_folders(self, above: Path) -> None:
        """The base class makes folders itself: find them before anything depends on them."""
        for entry in sorted(os.scandir(above), key=lambda entry: entry.name):
            name = self._place(Path(entry.path))
            if entry.is_dir() and name not in self._folders:
                self._folders.add(name)
                self._note(Operation(kind="mkdir", path=name))


def _flags(descriptor: int) -> int:
    import fcntl

    return fcntl.fcntl(descriptor, fcntl.F_GETFL)


FULL = errno.ENOSPC
BROKEN = errno.EIO
