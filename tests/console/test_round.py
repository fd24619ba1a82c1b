"""The round on the screen: the walk, the ticks, one key for all, and back again."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from benchconsole import bootstrap
from benchconsole.clock import ManualClock
from tests.console.at_the_bench import at_the_bench
from tests.console.reading_the_screen import screen_lines

SIZES = [(80, 24), (120, 36), (200, 60)]


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


@pytest.mark.parametrize("size", SIZES)
async def test_a_round_is_walked_logged_and_taken_back(
    demo: Path, clock: ManualClock, size: tuple[int, int]
) -> None:
    """The line on top says it is due; h lists it, enter logs all of it, u takes all back."""
    async with at_the_bench(demo, clock, size) as person:
        await person.sees("↻ round due")
        await person.press("h")
        await person.sees("Round", "3 hides ticked, about", "next 13:50")
        await person.sees("TUB  ·  Alum bath", "[x] Brown goat", "[x] White kid", "push it under")
        assert "[ ]" not in person.text
        await person.press("enter")
        await person.sees("✓ Round logged for 3 hides", "Hides", "↻ round")
        assert "round due" not in person.text
        await person.press("u")
        await person.sees("✓ Taken back: the round for 3 hides", "↻ round due")


async def test_a_hide_is_left_out_by_space_and_by_a_tap(demo: Path, clock: ManualClock) -> None:
    """Space unticks the chosen line, a tap the one it falls on; only what is ticked is logged."""
    async with at_the_bench(demo, clock) as person:
        await person.press("h")
        await person.sees("▸ [x] White kid")
        await person.press("space")
        await person.sees("▸ [ ] White kid", "2 hides ticked")
        rows = screen_lines(person.app)
        y = next(row for row, line in enumerate(rows) if "Brown goat" in line)
        await person.pilot.click(offset=(rows[y].index("Brown goat"), y))
        await person.sees("▸ [ ] Brown goat", "1 hide ticked")
        await person.press("enter")
        await person.sees("Round logged for 1 hide: Grey rabbits", "↻ round due: 2 hides")


async def test_the_line_on_top_opens_the_round(demo: Path, clock: ManualClock) -> None:
    """On the smallest screen, where the key line has no room for it, a tap there does."""
    async with at_the_bench(demo, clock, (80, 24)) as person:
        await person.sees("↻ round due")
        row = screen_lines(person.app)[0]
        await person.pilot.click(offset=(row.index("round due"), 0))
        await person.sees("3 hides ticked")


async def test_a_round_with_nothing_ticked_is_refused(demo: Path, clock: ManualClock) -> None:
    """The page stays, with a sentence; escape leaves it and nothing was logged."""
    async with at_the_bench(demo, clock, (80, 24)) as person:
        await person.press("h")
        await person.sees("3 hides ticked")
        await person.press("space", "down", "space", "down", "space")
        await person.sees("0 hides ticked")
        await person.press("enter")
        await person.sees("Nothing is ticked")
        await person.press("escape")
        await person.sees("Hides", "↻ round due")


async def test_between_rounds_the_bench_says_when_the_next_is(
    demo: Path, clock: ManualClock
) -> None:
    """Pressed again right after a round, h opens nothing and names the time."""
    async with at_the_bench(demo, clock) as person:
        await person.press("h")
        await person.sees("3 hides ticked")
        await person.press("enter")
        await person.sees("Round logged")
        await person.press("h")
        await person.sees("▲ Nothing may be given yet; the next round is 13:50, for 1 hide")


async def test_a_round_left_open_goes_with_the_clock(demo: Path, clock: ManualClock) -> None:
    """After a minute the times are new, and what was left out by hand stays left out."""
    async with at_the_bench(demo, clock) as person:
        await person.press("h")
        await person.sees("21 min ago")
        await person.press("space")
        await person.sees("[ ] White kid")
        await person.later(minutes=5)
        await person.sees("26 min ago", "[ ] White kid", "2 hides ticked")


async def test_a_name_that_looks_like_markup_is_shown_as_it_is(
    demo: Path, clock: ManualClock
) -> None:
    """What people typed is never markup, in the walk and in the answer."""
    async with at_the_bench(demo, clock) as person:
        desk = person.app.desk
        desk.hides.correct("brown-goat", name="[/] goat [b]", weight="", count="1")
        await person.press("h")
        await person.sees("[x] [/] goat [b]")
        await person.press("enter")
        await person.sees("Round logged for 3 hides: ", "[/] goat [b]")
