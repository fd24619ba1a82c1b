"""Taps as wet fingers give them: bounced, early, about the wrong thing, over other screens."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from benchconsole import bootstrap
from benchconsole.clock import ManualClock
from tests.console.at_the_bench import Person, at_the_bench
from tests.console.reading_the_screen import type_ahead


@pytest.fixture
def clock() -> ManualClock:
    """A Wednesday morning."""
    return ManualClock(datetime(2026, 3, 4, 9, 0, tzinfo=UTC))


@pytest.fixture
def goat(tmp_path: Path, clock: ManualClock) -> Path:
    """A shop with one salted goat of known weight and one hare of unknown weight."""
    path = tmp_path / "shop.json"
    desk = bootstrap.open_desk(path, writing=True, clock=clock)
    try:
        desk.hides.take_in(
            name="Billy", species="goat", route="hair-on-alum-pelt", came="green", weight="6 lb"
        )
        clock.advance(seconds=1)
        desk.hides.take_in(
            name="Hare", species="hare", route="small-fur-skin", came="salted", count="6"
        )
    finally:
        desk.close()
    return path


async def choose(person: Person, name: str) -> None:
    """Move to a hide of the list."""
    await person.press("home")
    for _ in range(8):
        lines = (line.lstrip("┃│") for line in person.text.split("\n"))
        if any(line.startswith("▌") and name in line for line in lines):
            return
        await person.press("down")
    raise AssertionError(person.text)


async def test_a_bounced_key_counts_once(goat: Path, clock: ManualClock) -> None:
    """Two presses in a burst begin a stage, and do not pass its check as well."""
    async with at_the_bench(goat, clock, settling=True) as person:
        await choose(person, "Billy")
        type_ahead(person.app, "d", "d", "d")
        await person.sees("pressed twice at once")
        await person.press("enter")
        await person.sees("▶ HERE    Cool and trim", "“Cool and trim” begun")


async def test_an_early_tap_says_how_early(goat: Path, clock: ManualClock) -> None:
    """The hide decides, but a soak passed long before its time is named so."""
    async with at_the_bench(goat, clock) as person:
        await choose(person, "Hare")
        await person.press("d")
        await person.sees("“Soak” begun")
        await person.press("v")
        await person.sees("early; u takes it back")
        await person.pilot.resize_terminal(80, 24)
        await person.sees("early; u takes it back")
        await person.press("u")
        await person.sees("taken back", "Soak: ")


async def test_u_takes_back_the_timer_that_was_cancelled(goat: Path, clock: ManualClock) -> None:
    """And not the last tap about whatever hide happens to be chosen."""
    async with at_the_bench(goat, clock) as person:
        await choose(person, "Billy")
        await person.press("d")
        await person.sees("“Cool and trim” begun")
        await person.press("t")
        await person.write("drum")
        await person.press("enter")
        await person.write("10 min")
        await person.press("f2")
        await person.sees("RUNNING", "drum")
        await person.press("c")
        await person.sees("No timer runs")
        await person.press("u")
        await person.sees("RUNNING", "drum")
        await person.press("enter")
        await person.sees("▶ HERE    Cool and trim", "“Cool and trim” begun")


async def test_another_mix_does_not_take_over_a_weigh_out(goat: Path, clock: ManualClock) -> None:
    """w asks which of the two is meant, names both ways, and does what is answered."""
    async with at_the_bench(goat, clock) as person:
        await choose(person, "Hare")
        await person.press("m")
        await person.sees("weight not known")
        await person.press("w")
        await person.sees("BEFORE YOU BEGIN")
        await person.press("escape")
        await person.sees("The weigh-out is kept")
        await choose(person, "Billy")
        await person.press("d")
        await person.sees("“Cool and trim” begun")
        await person.press("v")
        await person.sees("First salting")
        await person.press("m")
        await person.sees("Salt cure", "for Billy")
        await person.press("w")
        await person.sees("Another weigh-out is not finished", "for Hare")
        await person.press("n")
        await person.sees("Salt cure", "BEFORE YOU BEGIN")


async def test_an_unfinished_weigh_out_is_told_at_the_start(goat: Path, clock: ManualClock) -> None:
    """After a restart the bench says that it waits."""
    async with at_the_bench(goat, clock) as person:
        await choose(person, "Hare")
        await person.press("m", "w")
        await person.sees("BEFORE YOU BEGIN")
    async with at_the_bench(goat, clock) as person:
        await person.sees("A weigh-out waits", "Press w to go on with it")


async def test_a_weight_can_be_written_down_later(goat: Path, clock: ManualClock) -> None:
    """And the mix is then reckoned on it."""
    async with at_the_bench(goat, clock) as person:
        await choose(person, "Hare")
        await person.press("s")
        await person.sees("Weight of all together")
        await person.write("2 lb")
        await person.press("f2")
        await person.sees("weighed or corrected: Hare, a lot of 6")
        await person.press("m")
        await person.sees("for Hare", "for hide weight", "2 lb")


async def test_an_alarm_stands_over_every_screen_until_it_is_heard(
    goat: Path, clock: ManualClock
) -> None:
    """While weighing, too; F9 hears it there."""
    async with at_the_bench(goat, clock) as person:
        await person.press("t")
        await person.write("drum")
        await person.press("enter")
        await person.write("5 min")
        await person.press("f2")
        await person.sees("RUNNING")
        await choose(person, "Hare")
        await person.press("m", "w")
        await person.sees("BEFORE YOU BEGIN")
        await person.later(minutes=6)
        await person.sees("◆ TIME IS UP: drum", "BEFORE YOU BEGIN")
        await person.later(minutes=6)
        await person.sees("◆ TIME IS UP: drum")
        await person.press("f9")
        await person.sees_no_more("TIME IS UP")


async def test_settings_left_alone_leave_the_mix_alone(goat: Path, clock: ManualClock) -> None:
    """Looking at the shop's settings is not changing them."""
    async with at_the_bench(goat, clock) as person:
        await choose(person, "Hare")
        await person.press("m")
        await person.sees("weight not known")
        await person.press("g")
        await person.sees("Your shop")
        await person.press("escape")
        await person.sees("weight not known")


async def test_f_opens_the_list_and_letters_search_it(goat: Path, clock: ManualClock) -> None:
    """Typing the name of a formula chooses it, and does nothing to any hide."""
    async with at_the_bench(goat, clock) as person:
        await person.press("f")
        await person.write("borax")
        await person.press("enter")
        await person.sees("Borax rinse", "borax")
        await person.press("escape")
        assert not person.app.desk.hides.card("billy").history[1:]


async def test_the_order_stays_until_the_person_moves(tmp_path: Path, clock: ManualClock) -> None:
    """A hide that was attended to keeps its place, so that the row below is the one seen."""
    path = tmp_path / "shop.json"
    bootstrap.fill_demo(path, clock)
    async with at_the_bench(path, clock) as person:
        await choose(person, "Brown goat")
        await person.press("a")
        await person.sees("Brown goat: “Alum bath”, attended to")
        await person.press("down")
        lines = [line.lstrip("┃│") for line in person.text.split("\n")]
        assert any(line.startswith("▌") and "Black kid" in line for line in lines)


async def test_undo_goes_where_the_last_tap_went(goat: Path, clock: ManualClock) -> None:
    """Two timers: the second is taken back; the settings: they are; never the hide meanwhile."""
    async with at_the_bench(goat, clock) as person:
        await choose(person, "Billy")
        await person.press("d")
        await person.sees("“Cool and trim” begun")
        for name, wait in (("one", "5 min"), ("two", "50 min")):
            await person.press("t")
            await person.write(name)
            await person.press("enter")
            await person.write(wait)
            await person.press("f2")
            await person.sees(f"Timer “{name}” runs")
        await person.press("u")
        await person.sees_no_more("two  ")
        await person.sees("one")
        await person.press("enter")
        await person.sees("“Cool and trim” begun")


async def test_undo_never_takes_a_hide_away_by_the_way(goat: Path, clock: ManualClock) -> None:
    """On the bench the taking-in stays, unless it was what was just done."""
    async with at_the_bench(goat, clock) as person:
        await choose(person, "Billy")
        await person.press("d")
        await person.sees("“Cool and trim” begun")
        await person.press("u")
        await person.sees("taken back")
        await person.press("u")
        await person.sees("only its taking-in is left")
        assert ("billy", "hare") == person.app.desk.hides.ids()


async def test_f9_hears_over_a_form(goat: Path, clock: ManualClock) -> None:
    """Also where a field has the keys."""
    async with at_the_bench(goat, clock) as person:
        await person.press("t")
        await person.write("drum")
        await person.press("enter")
        await person.write("5 min")
        await person.press("f2")
        await person.sees("RUNNING")
        await person.press("o")
        await person.sees("A note about")
        await person.later(minutes=6)
        await person.sees("◆ TIME IS UP: drum")
        await person.press("f9")
        await person.sees_no_more("TIME IS UP")
