"""Two consoles on one shop: one records, the other looks on, follows, and takes over after it."""

from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from datetime import UTC, datetime, timedelta
from pathlib import Path
from threading import Event

import pytest
from textual.widgets import Button

from benchconsole import bootstrap
from benchconsole.clock import ManualClock
from benchconsole.console import onlooker
from benchconsole.console.acts import Act, ActScreen
from benchconsole.console.screens.bench import BenchScreen
from benchconsole.desk.looking_on import LASTS_LOOKS
from benchconsole.errors import StoreError
from benchconsole.store.lock import holder_of, lock_path
from tests.console.at_the_bench import Person, at_the_bench
from tests.console.reading_the_screen import region_text, screen_lines, wait_until

NARROW = (80, 24)
LOOKS = "LOOKING ONLY"
BEGUN = "it wants 30"
"""What the bench says of the goat when its first stage was begun."""
HOLD = """
import sys
from pathlib import Path
from benchconsole.store.lock import WriterLock
lock = WriterLock(Path(sys.argv[1]))
print("held", flush=True)
sys.stdin.read()
"""


@pytest.fixture
def clock() -> ManualClock:
    """A Wednesday morning."""
    return ManualClock(datetime(2026, 3, 4, 9, 0, tzinfo=UTC))


@pytest.fixture
def shop(tmp_path: Path, clock: ManualClock) -> Path:
    """A store with one goat in it."""
    path = tmp_path / "shop.json"
    desk = bootstrap.open_desk(path, writing=True, clock=clock)
    desk.hides.take_in(
        name="brown goat", species="goat", route="hair-on-alum-pelt", came="green", weight="2 lb"
    )
    desk.close()
    return path


@asynccontextmanager
async def two_consoles(path: Path, clock: ManualClock) -> AsyncIterator[tuple[Person, Person]]:
    """The one that records, and the one that looks on, at 80 by 24."""
    async with (
        at_the_bench(path, clock, NARROW) as first,
        at_the_bench(path, clock, NARROW) as second,
    ):
        await second.sees(LOOKS)
        yield first, second


@asynccontextmanager
async def held_elsewhere(path: Path) -> AsyncIterator[subprocess.Popen[str]]:
    """Another process that holds the shop until it is killed, or the block ends."""
    with subprocess.Popen(
        [sys.executable, "-c", HOLD, str(path)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    ) as other:
        assert other.stdout is not None and "held\n" == other.stdout.readline()
        try:
            yield other
        finally:
            other.kill()


async def ticks_until(person: Person, seen: Callable[[], bool], what: str) -> None:
    """Let the second-hand go on, as the console itself does, until something is seen."""

    def tick_and_look() -> bool:
        with person.app._context():  # two programs share this thread
            person.app.tick()
        return seen()

    await wait_until(person.pilot, tick_and_look, what)


async def test_the_second_shows_what_the_first_records_without_a_key(
    shop: Path, clock: ManualClock
) -> None:
    """A tap at the first console stands on the second one's screen after a tick of its own."""
    async with two_consoles(shop, clock) as (first, second):
        assert LOOKS not in first.text
        await first.press("d")
        await first.sees(BEGUN)
        await ticks_until(second, lambda: BEGUN in second.text, "the tap of the first")
        assert LOOKS in screen_lines(second.app)[0]
        assert "another console records here" in screen_lines(second.app)[0]
        assert "looking only" in second.app.title
        assert "looking only" not in first.app.title


async def test_every_act_of_the_bench_that_would_record_is_refused_in_words(
    shop: Path, clock: ManualClock
) -> None:
    """All of them, one by one: a sentence on the screen, nothing in the store."""
    async with two_consoles(shop, clock) as (first, second):
        bench = second.app.screen
        assert isinstance(bench, BenchScreen)
        acts: list[type[Act[ActScreen[None]]]] = [act for act in bench.acts() if act.records]
        assert {"Done", "Undo", "TakeIn", "NewTimer"} < {act.__name__ for act in acts}
        before = len(first.app.desk.hides.card("brown-goat").history)
        for act in acts:
            assert not bench.can(act)
            bench.said.update("")
            bench.action_act(act.__name__)
            await second.sees("nothing is recorded")
            assert second.app.screen is bench
        assert before == len(first.app.desk.hides.card("brown-goat").history)
        await second.press("d")
        await second.sees("nothing is recorded from here")


async def test_reading_goes_on_as_ever(shop: Path, clock: ManualClock) -> None:
    """Card, day sheet, settings, mix and what if open, with the line on top of each."""
    async with two_consoles(shop, clock) as (_, second):
        for key, words in (
            ("enter", "ROUTE"),
            ("l", "Day sheet"),
            ("g", "Your shop"),
            ("j", "What if"),
            ("question_mark", "Help"),
        ):
            await second.press(key)
            await second.sees(words)
            await second.sees(LOOKS)
            assert LOOKS in screen_lines(second.app)[0]
            await second.press("escape")
            await second.sees("Timers")
        await second.press("f")
        await second.write("pickle")
        await second.press("enter")
        await second.sees("Rising pickle")


async def test_settings_can_be_read_and_not_kept(shop: Path, clock: ManualClock) -> None:
    """The form opens; keeping it says why not, and what was typed stays."""
    async with two_consoles(shop, clock) as (first, second):
        await second.press("g")
        await second.sees("Your shop")
        await second.press("f2")
        await second.sees("nothing is recorded")
        assert first.app.desk.settings.are_unset


async def test_the_buttons_of_a_card_are_greyed(shop: Path, clock: ManualClock) -> None:
    """A button that would record looks like it cannot, and a touch on it says why."""
    async with two_consoles(shop, clock) as (_, second):
        await second.press("enter")
        await second.sees("Note (o)")
        by_name = {str(b.label).split(" ")[0]: b for b in second.app.screen.query(Button)}
        assert by_name["Note"].has_class("-not-here")
        assert not by_name["Back"].has_class("-not-here")
        await second.pilot.click(by_name["Note"])
        await second.sees("recorded")


async def test_a_weigh_out_is_watched_and_not_touched(shop: Path, clock: ManualClock) -> None:
    """The second sees each tap of the first; its own keys and digits do nothing but say why."""
    async with two_consoles(shop, clock) as (first, second):
        await second.press("w")
        await second.sees("There is nothing to weigh")
        await first.press("f")
        await first.write("alum")
        await first.press("enter")
        await first.press("escape", "w")
        await first.sees("Understood")
        await ticks_until(second, lambda: second.app.desk.weigh_outs.unfinished() is not None, "it")
        await second.press("w")
        await second.sees("Understood")
        await first.press("enter")
        await second.press("enter")
        await first.sees("step 1 of")
        await second.sees("step 1 of", LOOKS)
        await second.press("enter")
        await second.sees("nothing is recorded")
        await second.press("5")
        await second.sees("nothing is recorded")
        await second.press("s")
        await first.press("enter")
        await first.sees("step 2 of")
        await ticks_until(second, lambda: "step 2 of" in second.text, "the tap of the first")
        await first.press("g", "y")
        await first.sees("given up")
        await ticks_until(second, lambda: "Timers" in second.text, "the bench")


async def test_when_the_first_is_closed_the_second_takes_over(
    shop: Path, clock: ManualClock
) -> None:
    """It says so, F8 takes the writing over, and its taps are recorded from then on."""
    async with at_the_bench(shop, clock, NARROW) as first:
        opened = at_the_bench(shop, clock, NARROW)
        second = await opened.__aenter__()
        await second.press("f8")
        await second.sees("nothing is recorded")
        await first.press("d")
        await first.sees(BEGUN)
    try:
        await ticks_until(second, lambda: "is closed. F8" in second.text, "that it is closed")
        await second.press("d")
        await second.sees("press F8")
        await second.press("f8")
        await second.sees("records from now on")
        await second.sees_no_more(LOOKS)
        assert "Bench Console" == second.app.title
        assert holder_of(shop) is not None
        await second.press("u")
        await second.sees_no_more(BEGUN)
    finally:
        await opened.__aexit__(None, None, None)
    assert holder_of(shop) is None
    reader = bootstrap.open_desk(shop, writing=False, clock=clock)
    assert 1 == len(reader.hides.card("brown-goat").history)


async def test_when_the_first_is_killed_the_second_takes_over(
    shop: Path, clock: ManualClock
) -> None:
    """kill -9 leaves a note in the lock's file, and no lock: a touch on the line is enough."""
    async with held_elsewhere(shop) as other, at_the_bench(shop, clock, NARROW) as second:
        await second.sees(f"(process {other.pid} on this computer)")
        other.kill()
        other.wait()
        assert str(other.pid).encode() in lock_path(shop).read_bytes()
        await ticks_until(second, lambda: "is closed. F8" in second.text, "that it is closed")
        await second.pilot.click("LookingLine")
        await second.sees("records from now on")
        await second.press("d")
        await second.sees(BEGUN)


async def test_a_page_whose_hide_was_taken_back_is_left(shop: Path, clock: ManualClock) -> None:
    """The card of a hide that is no more closes by itself, with a sentence."""
    async with two_consoles(shop, clock) as (first, second):
        await second.press("enter")
        await second.sees("ROUTE")
        first.app.desk.hides.undo("brown-goat", taking_in=True)
        await ticks_until(second, lambda: "No hides yet" in second.text, "the empty bench")


async def test_a_bell_can_be_stopped_here_though_nothing_is_recorded(
    shop: Path, clock: ManualClock
) -> None:
    """What rings is heard at this console alone; the first one rings on."""
    async with two_consoles(shop, clock) as (first, second):
        first.app.desk.timers.set("Rinse", "1 min")
        await ticks_until(second, lambda: "Rinse" in second.text, "the timer")
        clock.advance(minutes=2)
        await second.press("l")
        await ticks_until(second, lambda: "TIME IS UP" in second.text, "the alarm")
        assert "TIME IS UP" in screen_lines(second.app)[0]
        assert LOOKS in screen_lines(second.app)[1]
        await second.press("f9")
        await second.sees("Quiet here")
        await ticks_until(second, lambda: LOOKS in screen_lines(second.app)[0], "quiet")
        assert "TIME IS UP" not in second.text
        assert ["ringing"] == [c.state for c in first.app.desk.timers.all()]


async def test_a_drive_that_goes_and_comes_back(shop: Path, clock: ManualClock) -> None:
    """The folder vanishes under the second console: it says so, shows what it knew, recovers."""
    away = shop.parent.with_name("away")
    async with held_elsewhere(shop), at_the_bench(shop, clock, NARROW) as second:
        await second.sees("brown goat", LOOKS)
        shop.parent.rename(away)
        await ticks_until(
            second, lambda: "the shop cannot be read" in second.text, "that it is gone"
        )
        await second.sees("brown goat")
        await second.press("d")
        await second.sees("cannot be read now")
        away.rename(shop.parent)
        await ticks_until(second, lambda: "records here" in second.text, "that it is back")
        await second.sees("The shop can be read again")


async def test_one_failed_look_is_not_told(
    shop: Path, clock: ManualClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file that is being replaced just then is there at the next tick."""
    async with two_consoles(shop, clock) as (first, second):
        looking = second.app.desk.looking_on
        assert looking is not None
        looks = []
        read = looking._who_writes

        def hiccup() -> object:
            looks.append(1)
            if len(looks) < LASTS_LOOKS:
                raise StoreError("The store cannot be read.")
            return read()

        monkeypatch.setattr(looking, "_who_writes", hiccup)
        await first.press("d")
        await ticks_until(second, lambda: BEGUN in second.text, "the tap of the first")
        assert "cannot be read" not in second.text


async def test_a_drive_that_never_answers_stops_nothing(
    shop: Path, clock: ManualClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The look hangs: the console says so, works on, and can be left."""
    monkeypatch.setattr(onlooker, "SILENT_S", 0.0)
    answer = Event()
    async with two_consoles(shop, clock) as (_, second):
        looking = second.app.desk.looking_on
        assert looking is not None
        monkeypatch.setattr(looking, "_who_writes", lambda: answer.wait(20) and None)
        await ticks_until(second, lambda: "gives no answer" in second.text, "the silence")
        await second.press("enter")
        await second.sees("ROUTE")
    answer.set()


async def test_the_line_fits_every_width(shop: Path) -> None:
    """Who records and since when are whole at every size; the place as far as there is room."""
    clock = ManualClock(datetime.now(UTC) + timedelta(days=1))
    async with held_elsewhere(shop) as other, at_the_bench(shop, clock, NARROW) as second:
        for size, place in (
            ((80, 24), ""),
            ((90, 30), f" (process {other.pid})"),
            ((120, 36), f" (process {other.pid} on this computer)"),
            ((200, 60), f" (process {other.pid} on this computer)"),
        ):
            await second.pilot.resize_terminal(*size)
            told = re.compile(
                r"records here since \w+ \d\d \w+ \d\d:\d\d" + re.escape(place) + " *$"
            )
            await ticks_until(
                second, lambda told=told: told.search(screen_lines(second.app)[0]), told.pattern
            )
            keys = second.app.screen.query_one("#keys")
            assert "d Done" in region_text(second.app, keys.region)
            assert keys.region.bottom == size[1]
