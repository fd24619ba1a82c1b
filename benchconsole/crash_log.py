"""What is kept of a defect of the program: where it happened, and not a word of the shop.

The message of an exception and the variables of its frames may hold names, notes and paths, so
neither is written: only the kinds of exceptions and the modules, lines and functions they went
through, which is what a mender needs.
"""

from __future__ import annotations

import contextlib
import platform
import traceback
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from benchconsole import __version__

if TYPE_CHECKING:
    from benchconsole.store.disk import Disk

CRASHED = 70
"""The exit code of a defect (EX_SOFTWARE of BSD's sysexits.h)."""

MOST_KEPT = 20
"""Logs that are kept; older ones go when a new one is written."""
MOST_FRAMES = 40
"""Frames told of one exception: the outermost and the innermost, half each."""
MOST_CHAINED = 10
"""Exceptions told of one chain."""


def log_folder() -> Path:
    """Where the logs are: the system's folder for a user's logs. Nothing is created."""
    import platformdirs

    return Path(platformdirs.user_log_dir("benchconsole", appauthor=False))


def crash_text(error: BaseException, now: datetime) -> str:
    """The log of one defect; ``now`` aware."""
    head = (
        "Bench Console had to stop, by a fault of its own. No words of the shop are in here.",
        f"{now.astimezone(UTC):%Y-%m-%d %H:%M:%S} UTC",
        f"benchconsole {__version__}, Python {platform.python_version()}, "
        f"{platform.system()} {platform.machine()}",
    )
    return "\n".join([*head, "", *_chain(error)]) + "\n"


def write_crash(error: BaseException, now: datetime) -> Path | None:
    """Write the log, private to the user; None where that cannot be done."""
    from benchconsole.store.disk import Disk

    disk, folder = Disk(), log_folder()
    try:
        disk.make_folder(folder)
        path, descriptor = _new_file(disk, folder, f"crash-{now.astimezone(UTC):%Y%m%dT%H%M%S}")
        try:
            disk.write(descriptor, crash_text(error, now).encode("utf-8", "backslashreplace"))
        finally:
            disk.close(descriptor)
    except OSError:
        return None
    with contextlib.suppress(OSError):
        for old in [n for n in disk.names(folder) if n.startswith("crash-")][:-MOST_KEPT]:
            disk.remove(folder / old)
    return path


def crash_words(error: BaseException, now: datetime) -> str:
    """Write the log and say so: what a person is told of a defect, two or three sentences."""
    from benchconsole.letters import shown

    said = (
        f"The program had to stop by a fault of its own ({type(error).__name__}). Every tap that "
        "was confirmed is kept."
    )
    path = write_crash(error, now)
    if path is None:
        return f"{said} No log of it could be written; it happened in {_innermost(error)}."
    return f"{said} Where it happened is written in {shown(str(path))}, with no word of your shop."


def _new_file(disk: Disk, folder: Path, stem: str) -> tuple[Path, int]:
    for number in range(1, 100):
        path = folder / (f"{stem}.txt" if number == 1 else f"{stem}-{number}.txt")
        with contextlib.suppress(FileExistsError):
            return path, disk.create(path)
    raise FileExistsError


def _chain(error: BaseException) -> Iterator[str]:
    """The exceptions one after the other, the one that ended it first."""
    told: list[BaseException] = []
    waiting: list[tuple[BaseException, str]] = [(error, "")]
    while waiting and len(told) < MOST_CHAINED:
        each, how = waiting.pop(0)
        if any(each is before for before in told):
            continue
        told.append(each)
        kind = type(each)
        number = f" (errno {each.errno})" if isinstance(each, OSError) else ""
        yield f"{how}{kind.__module__}.{kind.__qualname__}{number}"
        yield from _frames(each)
        if isinstance(each, BaseExceptionGroup):
            waiting += [(inner, "one of a group: ") for inner in each.exceptions]
        if each.__cause__ is not None:
            waiting.append((each.__cause__, "because of "))
        elif each.__context__ is not None and not each.__suppress_context__:
            waiting.append((each.__context__, "while handling "))


def _frames(error: BaseException) -> list[str]:
    rows = [f"  {place}" for place in _places(error)]
    if len(rows) <= MOST_FRAMES:
        return rows
    half = MOST_FRAMES // 2
    return [*rows[:half], f"  … {len(rows) - 2 * half} more …", *rows[-half:]]


def _places(error: BaseException) -> list[str]:
    """Module, line and function of every frame; paths may hold a person's name."""
    return [
        f"{frame.f_globals.get('__name__', '?')}, line {line}, in {frame.f_code.co_name}"
        for frame, line in traceback.walk_tb(error.__traceback__)
    ]


def _innermost(error: BaseException) -> str:
    places = _places(error)
    return places[-1] if places else "an unknown place"
