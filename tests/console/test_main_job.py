"""The whole job by keys: a goat from salted hide to finished pelt, read off the screen."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

from benchconsole.clock import ManualClock
from tests.console.at_the_bench import Person, at_the_bench


async def test_a_goat_from_salted_hide_to_finished_pelt(tmp_path: Path) -> None:
    """Take in, mix, weigh with an over-pour, hold, attend, check, coats, dry, finish; restarts."""
    clock = ManualClock(datetime(2026, 3, 2, 9, 0, tzinfo=UTC))
    path = tmp_path / "shop.json"

    async with at_the_bench(path, clock) as person:
        await person.sees("No hides yet")
        await take_in(person)
        await soak_flesh_and_wash(person)
        await begin_weighing(person)

    async with at_the_bench(path, clock) as person:  # the plug was pulled in mid-weighing
        await go_on_weighing_and_rebalance(person)
        await alum_bath(person)
        await rinse_drain_and_sam(person)
        await first_coat(person)

    async with at_the_bench(path, clock) as person:  # and again between the coats
        await second_coat(person)
        await dry_age_and_finish(person)
        await read_the_record(person)


async def take_in(person: Person) -> None:
    """A salted goat hide of 3.2 kg."""
    await person.press("i")
    await person.sees("Take in a hide")
    await person.write("Old billy")
    await person.press("enter")
    await person.write("3.2 kg")
    await person.press("enter", "enter")
    await person.write("go")
    await person.press("enter")
    await person.press("h", "h", "h", "enter")  # each goes to the next such route
    await person.sees("▸ Hair-on alum pelt")
    await person.press("s", "enter")
    await person.sees("Old billy", "Soak: Sink the hide", "Taken in: Old billy")


async def soak_flesh_and_wash(person: Person) -> None:
    """The short stages before the bath, with a look that said not yet."""
    await person.press("d")
    await person.sees("“Soak” begun")
    await person.later(hours=1)
    await person.press("a")
    await person.sees("attended")
    await person.later(hours=1, minutes=5)
    await person.sees("● DUE", "Limp as fresh")
    await person.press("v")
    await person.sees("“Soak” done", "Flesh: Work the hide")
    for stage, ask in (("Flesh", "Uniform"), ("Wash", "squeak")):
        await person.press("d")
        await person.sees(f"“{stage}” begun", ask)
        await person.later(minutes=30)
        await person.press("v")
        await person.sees(f"“{stage}” done")
    await person.sees("Alum bath", "m: the mix, Alum and salt bath")


async def begin_weighing(person: Person) -> None:
    """The mix for this hide; the water goes in, then too much salt."""
    await person.press("m")
    await person.sees("for Old billy", "salt", "ammonium alum", "5 US gal")
    await person.press("w")
    await person.sees("BEFORE YOU BEGIN", "Nothing here", "says that a mix is safe")
    await person.press("enter")
    await person.sees("pour WATER with the jug")
    await person.press("enter")
    await person.sees("add SALT until the scale reads", "✓ DONE", "▶ NOW")
    await person.write("1300")
    await person.press("enter")
    await person.sees("TOO MUCH SALT", "Rebalance", "Carry on", "New bowl")


async def go_on_weighing_and_rebalance(person: Person) -> None:
    """The same tap after the restart; rebalance asks for more water first."""
    await person.press("w")
    await person.sees("TOO MUCH SALT", "1300 g is in")
    await person.press("r")
    await person.sees("pour more WATER with the jug", "TOP UP after rebalancing")
    await person.press("enter")
    await person.sees("THE BRINE IS WEIGHED OUT", "stir until it is all dissolved")
    await person.press("enter")
    await person.sees("BUCKET (ALUM JUG): pour WATER")
    await person.press("enter")
    await person.sees("add AMMONIUM ALUM")
    await person.press("u")
    await person.sees("pour WATER with the jug")
    await person.press("enter")
    await person.sees("add AMMONIUM ALUM")
    await person.press("enter")
    await person.sees("EVERYTHING IS IN")
    await person.press("f")
    await person.sees("L1", "salt", "1300 g")
    await person.press("enter")
    await person.sees("L1 is recorded")


async def alum_bath(person: Person) -> None:
    """Into the bath; stirred by day; not yet; then white right through."""
    await person.press("d")
    await person.sees("“Alum bath” begun with liquor L1")
    await person.later(minutes=10)
    await person.sees("● DUE", "Move the hide and push it under")
    await person.press("a")
    await person.sees("attended to: move the hide")
    await person.press("u")
    await person.sees("taken back")
    await person.press("d")
    await person.sees("attended to: move the hide")
    await person.later(hours=8)
    await person.press("a")
    await person.sees("attended to: stir, refold")
    await person.until(lambda: "Cut at the neck edge" in person.text, "the check", hours=6)
    await person.until(lambda: "● DUE" in person.text, "the check is due", hours=1)
    await person.press("n")
    await person.sees("not yet")
    await person.later(hours=24)
    await person.press("v")
    await person.sees("“Alum bath” done", "Rinse and neutralise")


async def rinse_drain_and_sam(person: Person) -> None:
    """Rinse, drain, stretch until damp."""
    for stage, wait in (
        ("Rinse and neutralise", timedelta(minutes=10)),
        ("Drain and set out", timedelta(hours=3)),
        ("Stretch and sam", timedelta(hours=12)),
    ):
        await person.sees(stage)
        await person.press("d")
        await person.sees(f"“{stage}” begun")
        await person.later(seconds=wait.total_seconds())
        await person.press("v")
        await person.sees(f"“{stage}” done")
    await person.sees("Oil in two coats")


async def first_coat(person: Person) -> None:
    """The first half of the oil; its wait counts down in big digits."""
    await person.press("d")
    await person.sees("“Oil in two coats” begun", "Old billy: coat 2 of 2", "0:45:00", "RUNNING")
    await person.later(minutes=20)
    await person.sees("0:25:00", "○ WAITING")


async def second_coat(person: Person) -> None:
    """The wait went on while the program was down; it rings until heard."""
    await person.sees("0:25:00")
    await person.later(minutes=25, seconds=30)
    await person.sees("RINGING", "TIME IS UP: Old billy", "● DUE", "Second of 2 coats")
    await person.later(minutes=2)
    await person.sees("RINGING")
    await person.press("y")
    await person.sees("heard", "ENDED")
    await person.press("d")
    await person.sees("coat 2 given")


async def dry_age_and_finish(person: Person) -> None:
    """Covered overnight, dried and broken, aged, cleaned."""
    await person.later(hours=12)
    await person.sees("Even colour")
    await person.press("v")
    await person.sees("“Oil in two coats” done")
    await person.press("d")
    await person.sees("“Dry slowly and break” begun")
    await person.later(minutes=40)
    await person.sees("Work the hide over the edge")
    await person.press("a")
    await person.sees("attended to: work the hide")
    await person.later(hours=24)
    await person.press("v")
    await person.sees("“Dry slowly and break” done")
    await person.press("d")
    await person.sees("“Age” begun")
    await person.later(days=30)
    await person.press("v")
    await person.sees("“Age” done")
    await person.press("d")
    await person.sees("“Soften again and clean” begun")
    await person.press("v")
    await person.sees("■ FINISHED", "the piece is finished")


async def read_the_record(person: Person) -> None:
    """The card tells it all again, with what was really put in."""
    await person.press("enter")
    await person.sees("Old billy", "LIQUORS", "L1", "salt: 2 lb 13.85 oz", "HISTORY")
    await person.sees("“Soften again and clean” done; the piece")
    await person.press("escape")
    await person.sees("Hides", "Mix", "Timers")
