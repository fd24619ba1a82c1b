"""A disk that takes its time: the screen shows a tap when it is safe and not before."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

from benchconsole.clock import ManualClock
from benchconsole.console import BenchApp
from benchconsole.desk import Desk
from benchconsole.library import shipped_library
from benchconsole.model.events import HideTakenIn, StageBegun, StageLeft
from benchconsole.store.repository import TinyRepository
from tests.console.at_the_bench import Person
from tests.console.reading_the_screen import screen_text, type_ahead
from tests.store.crash_scripts import NOW
from tests.store.small_disks import SlowDisk

SLOW_S = 0.3


async def test_nothing_is_shown_before_it_is_safe(tmp_path: Path) -> None:
    """While the disk syncs the screen does not say “begun”; keys pressed meanwhile keep order."""
    clock = ManualClock(datetime(2026, 3, 4, 9, 0, tzinfo=UTC))
    path = tmp_path / "shop.json"
    with TinyRepository(path, writing=True) as repository:
        goat = HideTakenIn(
            hide="goat",
            name="Billy",
            species="goat",
            route="hair-on-alum-pelt",
            stage="trim",
            came="green",
            count=1,
        )
        repository.append([goat], at=NOW, recorded=NOW)
    seen: list[str] = []
    disk = SlowDisk(SLOW_S, lambda: seen.append(screen_text(app)))

    def open_desk() -> Desk:
        return Desk(TinyRepository(path, writing=True, disk=disk), clock, shipped_library())

    app = BenchApp(open_desk, ticking=False, settling=False, planning=False)
    async with app.run_test(size=(120, 36)) as pilot:
        person = Person(app, pilot, clock)
        await person.sees("Billy")
        seen.clear()  # the opening waits for the disk, too
        type_ahead(app, "d", "v", "d")
        await person.sees("“First salting” begun")
    with TinyRepository(path, writing=False) as reader:
        kinds = [type(entry.event) for entry in reader.entries()]
    assert kinds == [HideTakenIn, StageBegun, StageLeft, StageBegun]
    assert len(seen) == 3
    assert "begun" not in seen[0] and "HERE    Cool and trim" not in seen[0]
    assert not any("“First salting” begun" in text for text in seen)
