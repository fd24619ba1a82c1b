"""What copies cost a shop of so many taps: making, listing, looking at, putting back, checking.

``python tests/benchmarks/copies.py [TAPS ...]``. Told beside the reading and checking of the one
log, so that the machine's own pace shows.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import TypeVar

from benchconsole import bootstrap
from benchconsole.clock import ManualClock
from benchconsole.desk.copies import copy_rows
from benchconsole.store.backups import Backups
from benchconsole.store.checking import findings
from benchconsole.store.lines import parsed
from tests.store.some_logs import log_of, put_store

NOW = datetime(2026, 3, 18, 13, 20, tzinfo=UTC)
COPIES, TAPS_BETWEEN = 78, 20
T = TypeVar("T")


def measure(taps: int, folder: Path) -> None:
    """One shop: print what each costs, in ms and in readings of its log."""
    body = log_of(taps)
    store, backups = put_store(folder / "shop.json", body), Backups(folder / "shop.json")
    lines = body.splitlines(keepends=True)
    backups.folder.mkdir(mode=0o700)
    for back in range(COPIES, 0, -1):
        at = NOW - timedelta(hours=back)
        kept = b"".join(lines[: max(2, len(lines) - back * TAPS_BETWEEN)])
        (backups.folder / f"{at:%Y-%m-%dT%H%M%SZ}.json").write_bytes(kept)
    print(f"{taps} taps, {len(body) / 1e6:.1f} MB, {COPIES} copies")
    one = timed("read and check the log", lambda: parsed(body))[0]
    timed("list all copies (in a thread)", lambda: copy_rows(backups), one)
    timed("make a copy (in a thread)", lambda: backups.keep(body, NOW), one)
    timed("nothing to copy (in a thread)", lambda: backups.keep(body, NOW), one)
    timed("look everything through", lambda: findings(store, NOW, UTC), one)
    desk = bootstrap.open_desk(store, writing=True, clock=ManualClock(NOW))
    row = desk.copies.listing()()[5]
    look = timed("what would change (in a thread)", desk.copies.looking(row), one)[1]
    timed("put it back (on the loop)", lambda: desk.copies.put_back(look), one)
    desk.close()


def timed(what: str, act: Callable[[], T], one_s: float = 0.0) -> tuple[float, T]:
    """Do it once and print how long it took, also in readings of the log."""
    begun = time.perf_counter()
    result = act()
    took_s = time.perf_counter() - begun
    times = f"  {took_s / one_s:6.1f} readings" if one_s else ""
    print(f"  {what:<32} {took_s * 1000:8.1f} ms{times}")
    return took_s, result


def main(arguments: Sequence[str]) -> int:
    """Measure shops of these sizes."""
    for taps in map(int, arguments or ("2000", "20000")):
        with tempfile.TemporaryDirectory() as folder:
            measure(taps, Path(folder))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
