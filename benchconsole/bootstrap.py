"""Wires clock, library, store and desk together, once; the only place that knows every part."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from benchconsole.errors import BadFile, BadInput, StoreError

if TYPE_CHECKING:
    from benchconsole.clock import Clock
    from benchconsole.desk import Desk
    from benchconsole.library import Library

STORE_FILE = "shop.json"
OWN_FOLDERS = ("substances", "formulas", "routes")
STORE_EXAMPLE = "--store ~/hides/shop.json"


def store_path(given: str | None = None) -> Path:
    """Where the store is: ``given``, else ``BENCHCONSOLE_STORE``, else the person's data folder.

    A folder means the file ``shop.json`` in it. Nothing is created. Raises ``BadInput`` for
    a text that is no path and ``StoreError`` for a path that cannot be followed.
    """
    if given is not None and not given.strip():
        raise BadInput("store", "it is empty", STORE_EXAMPLE)
    named = given or os.environ.get("BENCHCONSOLE_STORE") or ""
    if "\0" in named:
        raise BadInput("store", "it holds a control character", STORE_EXAMPLE)
    if not named:
        import platformdirs

        return Path(platformdirs.user_data_dir("benchconsole", appauthor=False)) / STORE_FILE
    try:
        path = Path(named).expanduser()
        is_folder = path.is_dir() or named.endswith(("/", os.sep))
    except RuntimeError:
        raise BadInput("store", f"nobody here is called {named[:40]}", STORE_EXAMPLE) from None
    except OSError as fault:
        raise _no_way_to(Path(named), fault) from fault
    return path / STORE_FILE if is_folder else path


def _no_way_to(path: Path, fault: OSError) -> StoreError:
    from benchconsole.store.disk import shown, words_for

    return StoreError(f"The store {shown(path)} cannot be reached: {words_for(fault)}.")


def open_desk(
    path: Path,
    *,
    writing: bool,
    clock: Clock | None = None,
    who: str = "console",
    wait_s: float = 0.0,
) -> Desk:
    """The desk over the store at ``path``, with the person's own files beside it.

    A reader creates nothing and waits for nobody; ``who`` and ``wait_s`` are for a writer (see
    ``TinyRepository``). Raises ``StoreError``.
    """
    from benchconsole.clock import SystemClock
    from benchconsole.desk import Desk
    from benchconsole.store import TinyRepository

    library, refused = library_with_own(path.parent)
    repository = TinyRepository(path, writing=writing, who=who, wait_s=wait_s)
    try:
        return Desk(repository, clock or SystemClock(), library, refused)
    except BaseException:
        repository.close()
        raise


def open_console(path: Path, *, clock: Clock | None = None) -> Desk:
    """The desk of a console: it records or, while another program does, looks on and follows it.

    Raises ``StoreError``.
    """
    from benchconsole.errors import StoreBusy
    from benchconsole.store import TinyRepository, holder_of

    try:
        return open_desk(path, writing=True, clock=clock)
    except StoreBusy:
        desk = open_desk(path, writing=False, clock=clock)
    desk.look_on(lambda: holder_of(path), lambda: TinyRepository(path, writing=True))
    return desk


def library_with_own(folder: Path) -> tuple[Library, tuple[BadFile, ...]]:
    """The shipped library and the person's own files in ``folder``; what was refused and why."""
    from benchconsole.library import shipped_library, with_own_files

    texts: list[tuple[str, str]] = []
    unread: list[BadFile] = []
    for kind in OWN_FOLDERS:
        try:
            files = _own_files(folder / kind)
        except BadFile as refusal:
            unread.append(refusal)
            continue
        for file in files:
            try:
                texts.append((f"{kind}/{file.name}", _own_text(file, f"{kind}/{file.name}")))
            except BadFile as refusal:
                unread.append(refusal)
    library, refused = with_own_files(shipped_library(), texts)
    return library, (*unread, *refused)


def _own_files(folder: Path) -> list[Path]:
    """The TOML files in one of the person's folders; hidden ones are an editor's, not theirs."""
    from benchconsole.store.disk import words_for

    try:
        return sorted(
            file
            for file in folder.iterdir()
            if file.suffix == ".toml" and not file.name.startswith(".")
        )
    except (FileNotFoundError, NotADirectoryError):
        return []
    except OSError as fault:
        raise BadFile(f"{folder.name}/", 0, f"it cannot be read, {words_for(fault)}") from fault


def _own_text(file: Path, name: str) -> str:
    """The text of an ordinary file of reasonable size; ``BadFile`` for anything else."""
    from benchconsole.library.opening import LARGEST_FILE_BYTES
    from benchconsole.store.disk import words_for

    try:
        found = file.stat()
        if not stat.S_ISREG(found.st_mode):
            raise BadFile(name, 0, "it is not an ordinary file")
        if found.st_size > LARGEST_FILE_BYTES:
            raise BadFile(name, 0, f"it is larger than {LARGEST_FILE_BYTES // 1024} KB")
        return file.read_text(encoding="utf-8")
    except UnicodeDecodeError as fault:
        line = fault.object[: fault.start].count(b"\n") + 1
        raise BadFile(name, line, "it is not UTF-8 text") from fault
    except OSError as fault:
        raise BadFile(name, 0, f"it cannot be read, {words_for(fault)}") from fault


def demo_text() -> str:
    """The demo shop's file, from the wheel or from the source tree."""
    from importlib import resources

    packed = resources.files("benchconsole").joinpath("sample_data/demo_shop.toml")
    if packed.is_file():
        return packed.read_text(encoding="utf-8")
    return (Path(__file__).parent.parent / "sample_data" / "demo_shop.toml").read_text("utf-8")


@contextmanager
def demo_folder() -> Iterator[Path]:
    """A throw-away folder for the demo shop; it is gone when the block ends."""
    import tempfile

    with tempfile.TemporaryDirectory(prefix="benchconsole-demo-") as folder:
        yield Path(folder)


def fill_demo(path: Path, clock: Clock | None = None) -> None:
    """Write the demo shop's history to a fresh store at ``path``, its dates moved to now."""
    from benchconsole.clock import SystemClock
    from benchconsole.exchange.rehearsal import rehearsal_taps
    from benchconsole.store import TinyRepository

    clock = clock or SystemClock()
    with TinyRepository(path, writing=True) as repository:
        for at, events in rehearsal_taps(demo_text(), clock.now(), clock.zone):
            repository.append(events, at=at, recorded=at)
