"""Wires clock, library, store and desk together, once; the only place that knows every part."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from benchconsole.errors import BadFile, BadInput

if TYPE_CHECKING:
    from benchconsole.clock import Clock
    from benchconsole.desk import Desk
    from benchconsole.library import Library

STORE_FILE = "shop.json"
OWN_FOLDERS = ("substances", "formulas", "routes")
LARGEST_OWN_FILE = 256 * 1024


def store_path(given: str | None = None) -> Path:
    """Where the store is: ``given``, else ``BENCHCONSOLE_STORE``, else the person's data folder.

    A folder means the file ``shop.json`` in it. Nothing is created.
    """
    named = given or os.environ.get("BENCHCONSOLE_STORE") or ""
    if "\0" in named:
        raise BadInput("store", "it holds a control character", "--store ~/hides/shop.json")
    if not named:
        import platformdirs

        return Path(platformdirs.user_data_dir("benchconsole", appauthor=False)) / STORE_FILE
    path = Path(named).expanduser()
    return path / STORE_FILE if path.is_dir() or named.endswith(("/", os.sep)) else path


def open_desk(path: Path, *, writing: bool, clock: Clock | None = None) -> Desk:
    """The desk over the store at ``path``, with the person's own files beside it.

    A reader creates nothing and waits for nobody. Raises ``StoreError``.
    """
    from benchconsole.clock import SystemClock
    from benchconsole.desk import Desk
    from benchconsole.store import TinyRepository

    library, refused = library_with_own(path.parent)
    repository = TinyRepository(path, writing=writing)
    try:
        return Desk(repository, clock or SystemClock(), library, refused)
    except BaseException:
        repository.close()
        raise


def library_with_own(folder: Path) -> tuple[Library, tuple[BadFile, ...]]:
    """The shipped library and the person's own files in ``folder``; what was refused and why."""
    from benchconsole.library import shipped_library, with_own_files

    texts: list[tuple[str, str]] = []
    unread: list[BadFile] = []
    for kind in OWN_FOLDERS:
        for file in sorted((folder / kind).glob("*.toml")):
            name = f"{kind}/{file.name}"
            try:
                if file.stat().st_size > LARGEST_OWN_FILE:
                    raise BadFile(name, 0, "the file is larger than 256 KB")
                texts.append((name, file.read_text(encoding="utf-8")))
            except BadFile as refusal:
                unread.append(refusal)
            except UnicodeDecodeError as fault:
                line = fault.object[: fault.start].count(b"\n") + 1
                unread.append(BadFile(name, line, "the file is not UTF-8 text"))
            except OSError as fault:
                unread.append(BadFile(name, 0, f"cannot be read ({fault.strerror})"))
    library, refused = with_own_files(shipped_library(), texts)
    return library, (*unread, *refused)


def demo_text() -> str:
    """The demo shop's file, from the wheel or from the source tree."""
    from importlib import resources

    packed = resources.files("benchconsole").joinpath("sample_data/demo_shop.toml")
    if packed.is_file():
        return packed.read_text(encoding="utf-8")
    return (Path(__file__).parent.parent / "sample_data" / "demo_shop.toml").read_text("utf-8")


@contextmanager
def demo_folder() -> Iterator[Path]:
    """A throw-away folder whose store is the demo shop, its dates moved to now."""
    import tempfile

    with tempfile.TemporaryDirectory(prefix="benchconsole-demo-") as folder:
        yield Path(folder)


def fill_demo(path: Path, clock: Clock | None = None) -> None:
    """Write the demo shop's history to a fresh store at ``path``."""
    from benchconsole.clock import SystemClock
    from benchconsole.exchange.rehearsal import rehearsal_taps
    from benchconsole.store import TinyRepository

    clock = clock or SystemClock()
    with TinyRepository(path, writing=True) as repository:
        for at, events in rehearsal_taps(demo_text(), clock.now(), clock.zone):
            repository.append(events, at=at, recorded=at)
