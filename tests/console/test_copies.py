"""The backup copies in the console: made by themselves, listed, looked at, put back."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from benchconsole import bootstrap
from benchconsole.clock import ManualClock
from benchconsole.store import TinyRepository
from benchconsole.store.backups import Backup, Backups
from benchconsole.store.disk import Disk
from benchconsole.store.lock import WriterLock
from tests.console.at_the_bench import Person, at_the_bench
from tests.console.reading_the_screen import screen_lines, wait_until
from tests.console.small_shop import showing, with_a_goat

HOUR = datetime(2026, 3, 18, 13, 20, tzinfo=UTC)
SIZES = [(80, 24), (200, 60)]


@pytest.fixture
def clock() -> ManualClock:
    """A Wednesday afternoon."""
    return ManualClock(HOUR)


@pytest.fixture
def demo(tmp_path: Path, clock: ManualClock) -> Path:
    """The demo shop on disk."""
    path = tmp_path / "shop.json"
    bootstrap.fill_demo(path, clock)
    return path


@pytest.fixture
def backups(demo: Path) -> Backups:
    """Its copies: one of yesterday without the last ten taps, one damaged."""
    found = Backups(demo)
    lines = demo.read_bytes().splitlines(keepends=True)
    found.keep(b"".join(lines[:-10]), HOUR - timedelta(days=1, minutes=20))
    bad = found.keep(b"".join(lines[:-20]), HOUR - timedelta(days=3))
    assert bad is not None
    bad.path.write_bytes(b"\0" * 50)
    return found


async def copies_are(person: Person, backups: Backups, count: int) -> tuple[Backup, ...]:
    """Wait until there are so many copies made in turn."""

    def in_turn() -> list[Backup]:
        return [copy for copy in backups.all() if not copy.before]

    await wait_until(person.pilot, lambda: len(in_turn()) == count, f"{count} copies")
    return backups.all()


async def notes(person: Person, hide: str, text: str) -> None:
    """Something happens."""
    person.app.desk.hides.note(hide, text)
    await person.pilot.pause()


# --- made by themselves ---------------------------------------------------------------


async def test_a_copy_is_made_after_opening_and_then_hourly(demo: Path, clock: ManualClock) -> None:
    """The first second brings one; an hour without a tap none, an hour with one the next."""
    backups = Backups(demo)
    async with at_the_bench(demo, clock) as person:
        assert backups.all() == ()
        await person.later(seconds=1)
        (first,) = await copies_are(person, backups, 1)
        assert backups.read(first) == demo.read_bytes()
        await person.later(hours=2)
        await notes(person, "brown-goat", "soft")
        await person.later(seconds=1)
        second, _ = await copies_are(person, backups, 2)
        assert backups.read(second) == demo.read_bytes()
        assert second.at - first.at == timedelta(hours=2, seconds=1)
        for _ in range(3):
            await notes(person, "brown-goat", "softer")
            await person.later(minutes=15)
        await copies_are(person, backups, 2)
        await person.later(minutes=16)
        newest = (await copies_are(person, backups, 3))[0]
        assert backups.read(newest) == demo.read_bytes()


async def test_opened_again_within_the_hour_no_copy_is_made(demo: Path, clock: ManualClock) -> None:
    """However often the console is opened."""
    backups = Backups(demo)
    for _ in range(3):
        async with at_the_bench(demo, clock) as person:
            await notes(person, "brown-goat", "soft")
            await person.later(minutes=1)
            await wait_until(person.pilot, lambda: not person.app.workers, "no copying")
        assert len(backups.all()) == 1


async def test_that_no_copy_can_be_made_hinders_nothing(
    demo: Path, clock: ManualClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It is told once, with what it means; taps go on; when there is room again, copies do."""
    backups = Backups(demo)
    monkeypatch.setattr(Disk, "free_bytes", lambda *_: 1000)
    async with at_the_bench(demo, clock) as person:
        await person.later(seconds=1)
        await person.sees("No backup copy was made", "nearly full", "Your taps are saved")
        await notes(person, "brown-goat", "soft all over")
        assert "soft all over" in demo.read_text("utf-8")
        monkeypatch.undo()
        await person.later(hours=1)
        (only,) = await copies_are(person, backups, 1)
        assert backups.read(only) == demo.read_bytes()


async def test_damage_on_the_disk_is_noticed_and_not_copied(
    demo: Path, clock: ManualClock, backups: Backups
) -> None:
    """What the console holds in memory is not what is on the disk: the person is told."""
    async with at_the_bench(demo, clock) as person:
        body = bytearray(demo.read_bytes())
        body[len(body) // 2] ^= 1
        with demo.open("r+b") as file:
            file.write(body)
        before = backups.all()
        await person.later(seconds=1)
        await person.sees("No backup copy was made", "is not whole", "benchconsole check")
        assert backups.all() == before


async def test_a_console_that_looks_on_makes_none_and_puts_none_back(
    demo: Path, clock: ManualClock, backups: Backups
) -> None:
    """The list and the look are there; putting back is refused in a sentence, and nothing done."""
    lock = WriterLock(demo)
    try:
        async with at_the_bench(demo, clock) as person:
            before, body = backups.all(), demo.read_bytes()
            await person.later(seconds=1)
            await person.sees("LOOKING ONLY")
            await person.press("f7")
            await person.sees("It holds")
            await person.press("enter")
            await person.sees("10 taps would be gone")
            await person.press("p")
            await person.sees("Another console has had this")
            assert "Put this copy back?" not in person.text
            assert backups.all() == before
            assert demo.read_bytes() == body
    finally:
        lock.release()


# --- the screens ----------------------------------------------------------------------


@pytest.mark.parametrize("size", SIZES)
async def test_a_copy_is_looked_at_put_back_and_that_taken_back(
    demo: Path, clock: ManualClock, backups: Backups, size: tuple[int, int]
) -> None:
    """F7, enter, p, y: the bench shows the shop of then; the same way back it is as it was."""
    whole = demo.read_bytes()
    async with at_the_bench(demo, clock, size) as person:
        hides = len(person.app.desk.hides.rows())
        await person.press("f7")
        await person.sees("Backup copies of the shop", "▸ Tue 13:00", "▲ it is damaged")
        await person.sees("It holds", "enter shows what putting it back would change")
        await person.press("enter")
        await person.sees("Putting back the copy made Tue 13:00", "10 taps would be gone (−).")
        await person.sees("▸ − ", "nothing is changed yet")
        await person.press("p")
        await person.sees("Put this copy back?", "Yes, put it back (y)")
        await person.press("y")
        await person.sees("Hides", "✓ Put back: ", "as copied Tue 13:00")
        assert demo.read_bytes().count(b"\n") == whole.count(b"\n") - 10
        await person.press("f7")
        await person.sees("before a restore")
        await person.press("down", "enter")
        await person.sees("10 taps would come back (+).", "▸ + ")
        await person.press("p", "y")
        await person.sees("Hides", "✓ Put back: ")
        assert len(person.app.desk.hides.rows()) == hides
        assert demo.read_bytes() == whole
        await notes(person, "brown-goat", "and on it goes")
    with TinyRepository(demo, writing=True) as repository:
        assert repository.notices == ()
        assert getattr(repository.entries()[-1].event, "text", "") == "and on it goes"


async def test_by_mouse_too(demo: Path, clock: ManualClock, backups: Backups) -> None:
    """A tap picks, the buttons do the rest."""
    async with at_the_bench(demo, clock) as person:
        await person.press("f7")
        await person.sees("▲ it is damaged")
        await _tap(person, "Tue 13:00")
        await _tap(person, "Look at it (enter)")
        await person.sees("10 taps would be gone")
        await _tap(person, "Put it back (p)")
        await person.sees("Put this copy back?")
        await _tap(person, "Yes, put it back (y)")
        await person.sees("✓ Put back: ")


async def test_no_is_no(demo: Path, clock: ManualClock, backups: Backups) -> None:
    """Leaving any of the three pages changes nothing."""
    whole, before = demo.read_bytes(), backups.all()
    async with at_the_bench(demo, clock) as person:
        await person.press("f7")
        await person.sees("It holds")
        await person.press("enter")
        await person.sees("10 taps would be gone")
        await person.press("p")
        await person.sees("Put this copy back?")
        await person.press("n")
        await person.sees_no_more("Put this copy back?")
        await person.press("escape")
        await person.sees("Backup copies of the shop")
        await person.press("escape")
        await person.sees("Hides", "Mix")
    assert demo.read_bytes() == whole
    assert backups.all() == before


async def test_a_damaged_copy_is_not_looked_at(
    demo: Path, clock: ManualClock, backups: Backups
) -> None:
    """It is in the list with a mark, and a sentence says why nothing comes of it."""
    async with at_the_bench(demo, clock) as person:
        await person.press("f7")
        await person.sees("▲ it is damaged")
        await person.press("end")
        await person.sees("It cannot be put back: it is damaged")
        await person.press("enter")
        await person.sees("This copy cannot be put back: it is damaged.")


async def test_without_copies_the_page_says_when_there_will_be(
    demo: Path, clock: ManualClock
) -> None:
    """An empty list is no riddle."""
    async with at_the_bench(demo, clock) as person:
        await person.press("f7")
        await person.sees("There are no copies yet.")
        await person.press("enter")
        await person.sees("No copy is picked.")


async def test_a_shop_in_memory_has_no_copies() -> None:
    """Nothing is made and nothing is due."""
    from benchconsole.console.screens.copies import CopiesScreen

    desk, _ = with_a_goat()
    assert not desk.copies.is_due()
    async with showing(CopiesScreen(), desk) as (app, pilot):
        assert app.screen is not None
        await wait_until(
            pilot,
            lambda: any("There are no copies yet" in line for line in screen_lines(app)),
            "the words",
        )


async def _tap(person: Person, words: str) -> None:
    rows = screen_lines(person.app)
    y = next(row for row, line in enumerate(rows) if words in line)
    await person.pilot.click(offset=(rows[y].index(words), y))
