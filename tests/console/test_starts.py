"""When to begin a hide, on the screen: days and hours to pick, chosen with one key."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from benchconsole import bootstrap
from benchconsole.clock import ManualClock
from benchconsole.console.screens.bench import BenchScreen
from tests.console.at_the_bench import Person, at_the_bench
from tests.console.reading_the_screen import screen_lines

SIZES = [(80, 24), (200, 60)]


@pytest.fixture
def clock() -> ManualClock:
    """A Wednesday afternoon."""
    return ManualClock(datetime(2026, 3, 18, 13, 20, tzinfo=UTC))


@pytest.fixture
def demo(tmp_path: Path, clock: ManualClock) -> Path:
    """The demo shop on disk."""
    path = tmp_path / "shop.json"
    bootstrap.fill_demo(path, clock)
    return path


async def choose(person: Person, hide: str) -> None:
    """Choose a hide on the bench."""
    bench = person.app.screen
    assert isinstance(bench, BenchScreen)
    bench.choose(hide)
    await person.pilot.pause()


@pytest.mark.parametrize("size", SIZES)
async def test_a_start_is_picked_chosen_and_taken_back(
    demo: Path, clock: ManualClock, size: tuple[int, int]
) -> None:
    """b lists the days, the arrows pick one, enter chooses it, u on the bench takes it back."""
    async with at_the_bench(demo, clock, size) as person:
        await choose(person, "autumn-buck")
        await person.press("b")
        await person.sees("When to begin Autumn buck", "“Soak”", "planned", "(as planned)", "good")
        await person.sees("▸ ✓ Sat 21 Mar", "Flesh: begin")
        await person.press("down")
        await person.sees("Begun Sun")
        await person.press("enter")
        await person.sees("Hides", "✓ Autumn buck: start chosen: Sun 22 Mar 2026")
        chosen = person.app.desk.hides.get("autumn-buck").start_at
        assert chosen is not None
        assert chosen.date().day == 22
        await person.press("u")
        await person.sees("taken back")
        assert person.app.desk.hides.get("autumn-buck").start_at is None


async def test_a_chosen_start_is_shown_and_cleared(demo: Path, clock: ManualClock) -> None:
    """It is named on top and in the list; c leaves the start to the plan again."""
    async with at_the_bench(demo, clock, (80, 24)) as person:
        person.app.desk.starting.choose("autumn-buck", datetime(2026, 3, 26, 8, tzinfo=UTC))
        await choose(person, "autumn-buck")
        await person.press("b")
        await person.sees("chosen Thu 26 Mar 08:00")
        await person.press("c")
        await person.sees("Hides", "no start chosen any more")
        await person.press("b")
        await person.sees("When to begin Autumn buck", "▸")
        await person.press("c")
        await person.sees("no start was chosen")
        await person.press("escape")
        await person.sees("Hides")


async def test_bad_starts_carry_a_mark_and_say_why(demo: Path, clock: ManualClock) -> None:
    """Not by colour alone: a mark, the word, and what goes wrong; hours of a day on a key."""
    async with at_the_bench(demo, clock) as person:
        await choose(person, "autumn-buck")
        await person.press("b")
        await person.sees("▲ Wed 25 Mar", "bad", "past its latest")
        await person.press("home")
        await person.sees("▸ ▲ Wed 18 Mar", "your hands are at")
        await person.press("h")
        await person.sees("Wed 18 Mar 17:00  bad: closing at")
        assert "Sat 21 Mar" not in person.text
        await person.press("h")
        await person.sees("▸ ▲ Wed 18 Mar", "✓ Sat 21 Mar")


async def test_a_tap_picks_and_the_button_begins(demo: Path, clock: ManualClock) -> None:
    """By mouse: a tap on a line only picks it; the button chooses it."""
    async with at_the_bench(demo, clock) as person:
        await choose(person, "autumn-buck")
        await person.press("b")
        await person.sees("Sun 22 Mar")
        await _tap(person, "Sun 22 Mar")
        await person.sees("Begun Sun")
        assert person.app.desk.hides.get("autumn-buck").start_at is None
        await _tap(person, "Begin then (enter)")
        await person.sees("start chosen: Sun 22 Mar 2026")


async def test_a_hide_in_a_stage_waits_for_no_start(demo: Path, clock: ManualClock) -> None:
    """The bench says so and opens nothing."""
    async with at_the_bench(demo, clock) as person:
        await choose(person, "red-calf")
        await person.press("b")
        await person.sees("▲ Red calf: there is no stage to begin")


async def _tap(person: Person, words: str) -> None:
    rows = screen_lines(person.app)
    y = next(row for row, line in enumerate(rows) if words in line)
    await person.pilot.click(offset=(rows[y].index(words), y))
