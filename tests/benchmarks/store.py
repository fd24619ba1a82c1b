"""What a tap costs on the disk, and the opening of a shop that is ten years old.

``python tests/benchmarks/store.py [EVENTS]`` prints, for a shop of 20,000 events and about 1,000
hides: a durable tap, alone and through the desk, against one commit of SQLite (WAL,
synchronous=FULL) of a row of the same size, turn by turn on the same disk; and the opening in a
fresh process and in a warm one, before and after the finished hides went to the archive.
"""

from __future__ import annotations

import gc
import sqlite3
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

from benchconsole import bootstrap
from benchconsole.clock import ManualClock
from benchconsole.model.events import Attended
from benchconsole.store import TinyRepository
from benchconsole.store.lines import parsed
from tests.benchmarks.ten_years import BEGAN, YEARS, ten_years

ROUNDS = 300
NOW = BEGAN + YEARS
FRESH = """
import sys, time
from pathlib import Path
begun = time.perf_counter()
from benchconsole import bootstrap
from benchconsole.clock import ManualClock
from benchconsole.desk import Desk
from benchconsole.library import shipped_library
from benchconsole.store import TinyRepository
from datetime import datetime, UTC
import tinydb
library = shipped_library()
imported = time.perf_counter()
repository = TinyRepository(Path(sys.argv[1]), writing=True)
repository.entries()
read = time.perf_counter()
Desk(repository, ManualClock(datetime.fromisoformat(sys.argv[2])), library).hides.rows()
ready = time.perf_counter()
repository.close()
print(1000 * (imported - begun), 1000 * (read - imported), 1000 * (ready - read))
"""


def timed(act: Callable[[], object]) -> float:
    """Milliseconds of one call."""
    begun = time.perf_counter()
    act()
    return 1000 * (time.perf_counter() - begun)


def told(what: str, times: list[float], against: list[float] | None = None) -> str:
    """Median and 99th percentile in ms, and how many times the other's median that is."""
    median, late = statistics.median(times), statistics.quantiles(times, n=100)[98]
    ratio = f"; {median / statistics.median(against):.2f} times SQLite" if against else ""
    return f"  {what:<38} median {median:7.2f} ms, 99th percentile {late:7.2f} ms{ratio}"


def sqlite_rows(path: Path, rows: int, row: str) -> Callable[[], object]:
    """A database with as many rows, and the commit of one more; each outlives a power cut."""
    base = sqlite3.connect(path, isolation_level=None)
    base.execute("PRAGMA journal_mode=WAL")
    base.execute("PRAGMA synchronous=FULL")
    base.execute("CREATE TABLE history (number INTEGER PRIMARY KEY, tap TEXT)")
    base.execute("BEGIN")
    base.executemany("INSERT INTO history (tap) VALUES (?)", [(row,)] * rows)
    base.execute("COMMIT")
    return lambda: base.execute("INSERT INTO history (tap) VALUES (?)", (row,))


def taps(store: Path, folder: Path) -> None:
    """A tap in the repository and at the desk, each in turn with a commit of SQLite."""
    body = store.read_bytes()
    lines = body.count(b"\n") - 1
    row = "x" * (len(body.splitlines()[-1]) + 1)
    commit = sqlite_rows(folder / "beside.sqlite", lines, row)
    event = Attended(hide="h1", stage="soak", attention=0)
    alone: list[float] = []
    at_desk: list[float] = []
    commits: list[float] = []
    with TinyRepository(store, writing=True) as repository:
        repository.entries()
        for _ in range(ROUNDS):
            commits.append(timed(commit))
            alone.append(timed(lambda: repository.append([event], at=NOW, recorded=NOW)))
    desk = bootstrap.open_desk(store, writing=True, clock=ManualClock(NOW))
    hide = desk.hides.ids()[-1]
    for number in range(ROUNDS):
        commits.append(timed(commit))
        at_desk.append(timed(partial(desk.hides.note, hide, f"thin belly {number}")))
    desk.close()
    print(told("SQLite, WAL, synchronous=FULL", commits))
    print(told("a tap, in the repository", alone, commits))
    print(told("a tap, a note at the desk", at_desk, commits))


def opening(store: Path, what: str) -> None:
    """The opening in fresh processes and again in this one."""
    runs = []
    for _ in range(7):
        command = [sys.executable, "-c", FRESH, str(store), NOW.isoformat()]
        done = subprocess.run(command, capture_output=True, text=True, check=True)
        runs.append([float(word) for word in done.stdout.split()])
    imported, read, ready = (statistics.median(column) for column in zip(*runs, strict=True))

    def warm() -> None:
        with TinyRepository(store, writing=True) as repository:
            repository.entries()

    again = statistics.median(timed(warm) for _ in range(7))
    gc.disable()  # as the store does meanwhile
    whole = statistics.median(timed(lambda: parsed(store.read_bytes())) for _ in range(7))
    gc.enable()
    print(f"  {what}: {store.stat().st_size / 1e6:.1f} MB")
    print(f"    fresh process: entries {read:.0f} ms, then the desk and its rows {ready:.0f} ms")
    print(f"      (imports and library before that: {imported:.0f} ms)")
    print(f"    warm: entries {again:.0f} ms, of it reading and checking the lines {whole:.0f} ms")


def main(events: int) -> int:
    """Everything, one after the other."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        store = folder / "shop" / "shop.json"
        store.parent.mkdir(mode=0o700)
        store.write_bytes(ten_years(events))
        with TinyRepository(store, writing=False) as repository:
            entries = repository.entries()
        hides = len({entry.event.hide for entry in entries if hasattr(entry.event, "hide")})
        print(f"{len(entries):,} events in {entries[-1].tap:,} taps of {hides:,} hides")
        opening(store, "all in the store")
        taps(store, folder)
        desk = bootstrap.open_desk(store, writing=True, clock=ManualClock(NOW))
        moved = desk.moving_out.all()
        desk.close()
        opening(store, f"{moved:,} hides in the archive")
    return 0


if __name__ == "__main__":
    sys.exit(main(int(sys.argv[1]) if len(sys.argv) > 1 else 20_000))
