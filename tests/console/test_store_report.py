"""A store that was not found as it was left: the console says so until somebody has read it."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from benchconsole import bootstrap
from benchconsole.clock import ManualClock
from benchconsole.console.app import BenchApp
from tests.console.at_the_bench import Person, at_the_bench
from tests.console.reading_the_screen import screen_lines

NOON = datetime(2026, 3, 18, 13, 20, tzinfo=UTC)


@pytest.mark.parametrize("size", [(80, 24), (200, 60)])
async def test_damage_is_told_until_it_was_read(tmp_path: Path, size: tuple[int, int]) -> None:
    """What was lost and where the file went; keys do nothing else; then never again."""
    clock = ManualClock(NOON)
    store = tmp_path / "shop.json"
    bootstrap.fill_demo(store, clock)
    lines = store.read_bytes().splitlines(keepends=True)
    lines[7] = lines[7].replace(b'"event"', b'"evemt"', 1)
    store.write_bytes(b"".join(lines))
    app = BenchApp(
        lambda: bootstrap.open_console(store, clock=clock), ticking=False, planning=False
    )
    async with app.run_test(size=size) as pilot:
        person = Person(app, pilot, clock)
        await person.sees("Something happened to the store", "Found nowhere: tap number 7.")
        (report,) = tmp_path.glob("*.damaged-*.txt")
        assert f"The file as it was is kept as {report.stem}." in person.text
        await person.later(hours=1)
        await person.press("d")
        await person.sees("Found nowhere: tap number 7.")
        assert all(len(line) <= size[0] for line in screen_lines(person.app))
        await person.press("enter")
        await person.sees_no_more("Found nowhere")
    async with at_the_bench(store, clock, size=size) as person:
        await person.sees("Brown goat")
        assert "Something happened" not in person.text


async def test_a_sound_store_is_not_talked_about(tmp_path: Path) -> None:
    """The bench stands at once."""
    clock = ManualClock(NOON)
    store = tmp_path / "shop.json"
    bootstrap.fill_demo(store, clock)
    async with at_the_bench(store, clock) as person:
        await person.sees("Brown goat")
        assert "Something happened" not in person.text
