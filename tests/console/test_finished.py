"""Finished hides at the console: moved while it runs, found by typing, read, brought back."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from benchconsole import bootstrap
from benchconsole.clock import ManualClock
from tests.console.at_the_bench import Person, at_the_bench
from tests.console.reading_the_screen import wait_until

HOUR = datetime(2026, 3, 18, 13, 20, tzinfo=UTC)


@pytest.fixture
def clock() -> ManualClock:
    """A Wednesday in March."""
    return ManualClock(HOUR)


@pytest.fixture
def store(tmp_path: Path, clock: ManualClock) -> Path:
    """The demo shop, with one finished hide on which a note was written."""
    path = tmp_path / "shop.json"
    bootstrap.fill_demo(path, clock)
    desk = bootstrap.open_desk(path, writing=True, clock=clock)
    desk.hides.note("spotted-goat", "belly thin, sold to the Kröger girl")
    desk.close()
    return path


async def moved(person: Person) -> None:
    """A month goes by, and the console sees to the archive."""
    person.app.tick()
    await person.later(days=31)
    await wait_until(
        person.pilot, lambda: "spotted-goat" not in person.app.desk.hides.ids(), "the move"
    )
    await wait_until(
        person.pilot, lambda: not person.app.workers._workers, "the end of what runs beside"
    )


async def test_the_console_moves_a_finished_hide_and_finds_it_again(
    store: Path, clock: ManualClock
) -> None:
    """It leaves the bench by itself; F6 finds it by a word of its note and shows its card."""
    async with at_the_bench(store, clock) as person:
        await person.sees("Spotted goat")
        await moved(person)
        await person.sees("1 finished hide was moved to the archive: F6 finds it.")
        await person.sees_no_more("Spotted goat")
        await person.press("f6")
        await person.sees("Spotted goat, goat, Hair-on alum pelt, archive of 2026")
        await person.write("kroger thin")
        await person.sees("1 hide out of work.", "Spotted goat")
        await person.write("x")
        await person.sees("Nothing is found by that.")
        await person.press("backspace", "enter")
        await person.sees(
            "IN THE ARCHIVE OF 2026", "16 Mar 2026: finished, after 67 days.", "sold to the Kröger"
        )
        assert not store.with_name("shop.json").read_bytes().count(b"Kr\xc3\xb6ger")


async def test_a_hide_is_brought_back_and_that_is_taken_back(
    store: Path, clock: ManualClock
) -> None:
    """The bench shows it chosen, as it was; undo puts it into the archive again."""
    async with at_the_bench(store, clock) as person:
        await moved(person)
        await person.press("f6")
        await person.sees("archive of 2026")
        await person.press("enter")
        await person.sees("IN THE ARCHIVE OF 2026")
        await person.press("b")
        await person.sees("Spotted goat brought back from the archive of 2026", "Hides")
        assert "spotted-goat" == person.app.screen.hides.chosen
        await person.press("u")
        await person.sees("taken back: brought back from the archive")
        assert "spotted-goat" not in person.app.desk.hides.ids()
        assert ["spotted-goat"] == [row.hide.id for row in person.app.desk.archive.finished()]


async def test_a_year_that_is_gone_is_told_and_never_a_crash(
    store: Path, clock: ManualClock
) -> None:
    """Without the file its copy is used; without both the hide is listed, and the loss told."""
    async with at_the_bench(store, clock) as person:
        await moved(person)
        (store.parent / "shop.json.archive" / "2026.json").unlink()
        await person.press("f6")
        await person.sees("The archive of 2026 is gone; its copy is used instead.", "Spotted goat")
        await person.press("enter")
        await person.sees("IN THE ARCHIVE OF 2026", "sold to the Kröger")
        await person.press("escape", "escape")
        (store.parent / "shop.json.backups" / "archive" / "2026.json").unlink()
        await person.press("f6")
        await person.sees("The archive of 2026 is gone, and so is its copy", "Spotted goat")
        await person.press("enter")
        await person.sees("The story of Spotted goat is not in the archive of 2026")


@pytest.mark.parametrize("size", [(80, 24), (120, 36), (200, 60)])
async def test_the_list_is_worked_with_the_mouse_too(
    store: Path, clock: ManualClock, size: tuple[int, int]
) -> None:
    """A tap picks the line, and the buttons open the card and bring the hide back."""
    async with at_the_bench(store, clock, size) as person:
        await moved(person)
        person.app.clear_notifications()  # one would lie over the buttons
        await person.press("f6")
        await person.sees("1 hide out of work.")
        await person.pilot.click("#found", offset=(6, 1))
        await person.pilot.click("FinishedScreen Button.-primary")
        await person.sees("IN THE ARCHIVE OF 2026", "Bring back (b)")
        await person.pilot.click("ArchivedCardScreen Button")
        await person.sees("brought back from the archive of 2026")


async def test_many_go_in_several_steps_without_waiting_for_a_day(
    store: Path, clock: ManualClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What is left after the first step goes within the minute."""
    monkeypatch.setattr("benchconsole.desk.leaving.AT_ONCE", 1)
    desk = bootstrap.open_desk(store, writing=True, clock=clock)
    desk.moves.out_of_work("roe-doe", "sold raw")
    desk.close()
    async with at_the_bench(store, clock) as person:
        person.app.tick()
        await person.later(days=31)
        for left in (1, 2):
            await wait_until(
                person.pilot,
                lambda left=left: left == len(person.app.desk._ledger.state.archived),
                f"{left} in the archive",
            )
            await wait_until(
                person.pilot, lambda: not person.app.workers._workers, "the end of the step"
            )
            await person.later(minutes=1)
