"""What the daily work costs, each against something of the same run.

``python tests/benchmarks/work.py`` prints a line for each: reading amounts (ten times the text,
how many times the time), a worksheet and a next action against one frame of a screen at 60 Hz,
and a tap on the disk against a bare write with the same syncs.
"""

from __future__ import annotations

import os
import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path

from benchconsole.library import shipped_library
from benchconsole.mixing.targets import Make
from benchconsole.mixing.worksheet import worksheet
from benchconsole.model.events import Attended, HideTakenIn, StageBegun
from benchconsole.model.shop import Shop
from benchconsole.model.state import HideState
from benchconsole.quantities.notation import Asked, parts_of
from benchconsole.schedule import Hours, day_sheet
from benchconsole.store import TinyRepository

FRAME_SECONDS = 1 / 60
NOW = datetime(2026, 3, 4, 9, 0, tzinfo=UTC)


def median_seconds(work: Callable[[], object], rounds: int = 15) -> float:
    """Median time of one call."""
    taken = []
    for _ in range(rounds):
        began = time.perf_counter()
        work()
        taken.append(time.perf_counter() - began)
    return statistics.median(taken)


def reading() -> str:
    """Ten times the text against the text."""
    asked = Asked(field="F", example="1 g")
    once, tenfold = (
        median_seconds(lambda n=times: parts_of("1 lb " * n, asked), 5) for times in (2_000, 20_000)
    )
    return f"reading: ten times the text takes {tenfold / once:.1f} times as long"


def sheets() -> str:
    """The largest worksheet, as at every keystroke."""
    library, shop = shipped_library(), Shop()
    largest = max(library.formulas.values(), key=lambda f: sum(len(p.ingredients) for p in f.parts))
    seconds = median_seconds(
        lambda: worksheet(
            largest,
            Make(volume_l=20.0),
            substances=library.substances,
            shop=shop,
            rules=library.incompatible,
        )
    )
    return f"worksheet: {1000 * seconds:.2f} ms, {seconds / FRAME_SECONDS:.2f} of a frame"


def sheet_of_the_day(hides: int) -> str:
    """The next action of many hides in a bath."""
    library, shop = shipped_library(), Shop()
    states = tuple(
        HideState(
            id=f"h{n}",
            name=f"hide {n}",
            species="goat",
            route="hair-on-alum-pelt",
            came="salted",
            count=1,
            mass_g=None,
            stage="alum",
            arrived_at=NOW,
            begun_at=NOW,
            coats_at=(NOW,),
        )
        for n in range(hides)
    )
    hours = Hours.of(shop, UTC)
    seconds = median_seconds(lambda: day_sheet(states, library.routes, hours=hours, now=NOW), 5)
    return f"day sheet of {hides} hides: {1000 * seconds:.1f} ms"


def tap(entries: int) -> str:
    """One tap on a store of some size, against the same bytes written with the same syncs."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "shop.json"
        with TinyRepository(path, writing=True) as repository:
            first = HideTakenIn(
                hide="h", name="h", species="goat", route="r", stage="s", came="green"
            )
            given = Attended(hide="h", stage="s", attention=0)
            begun = StageBegun(hide="h", stage="s")
            repository.append([first, begun, *[given] * entries], at=NOW, recorded=NOW)
            ours = median_seconds(lambda: repository.append([given], at=NOW, recorded=NOW))
        content = path.read_bytes()
        bare = median_seconds(lambda: _synced_write(Path(folder) / "bare", content))
    return (
        f"tap with {entries} entries: {1000 * ours:.1f} ms, {ours / bare:.1f} times a bare write"
        f" of the {len(content) // 1024} KB with its syncs"
    )


def _synced_write(path: Path, content: bytes) -> None:
    temporary = path.with_suffix(".new")
    with temporary.open("wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())
    temporary.replace(path)
    folder = os.open(path.parent, os.O_RDONLY)
    os.fsync(folder)
    os.close(folder)


def main() -> int:
    """Print every line."""
    print(reading())
    print(sheets())
    print(sheet_of_the_day(8))
    print(sheet_of_the_day(1000))
    for entries in (50, 500, 5000):
        print(tap(entries))
    return 0


if __name__ == "__main__":
    sys.exit(main())
