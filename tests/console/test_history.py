"""The history on the screen: looked through, taken back, put back, times corrected, by key."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from benchconsole import bootstrap
from benchconsole.clock import ManualClock
from benchconsole.console.screens.bench import BenchScreen
from benchconsole.console.screens.card import CardScreen
from benchconsole.console.screens.history import HistoryScreen
from benchconsole.console.screens.shop import ShopScreen
from benchconsole.console.screens.take_in import TakeInScreen
from benchconsole.console.screens.timer_form import TimerFormScreen
from benchconsole.desk import Desk
from benchconsole.library import shipped_library
from benchconsole.model.events import Entry, Event, NoteWritten
from benchconsole.store import MemoryRepository
from tests.console.at_the_bench import Person, at_the_bench
from tests.console.reading_the_screen import screen_lines, screen_text, wait_until
from tests.console.small_shop import HOSTILE, fill, goat_named, put, showing, small_shop

SIZES = [(80, 24), (120, 36), (200, 60)]
NINE = datetime(2026, 3, 4, 9, 0, tzinfo=UTC)
"""A Wednesday morning."""


@pytest.fixture
def clock() -> ManualClock:
    """It is nine."""
    return ManualClock(NINE)


@pytest.fixture
def goats(tmp_path: Path, clock: ManualClock) -> Path:
    """Two salted goats put into the soak one after the other, the first with a remark.

    Nine: taken in, taken in. Half past: Billy begun, Nanny begun; then the remark.
    """
    path = tmp_path / "shop.json"
    desk = bootstrap.open_desk(path, writing=True, clock=clock)
    try:
        for name in ("Billy", "Nanny"):
            desk.hides.take_in(
                name=name, species="goat", route="hair-on-alum-pelt", came="salted", weight="6 lb"
            )
        clock.advance(minutes=30)
        desk.hides.done("billy")
        clock.advance(minutes=1)
        desk.hides.done("nanny")
        clock.advance(minutes=1)
        desk.hides.note("billy", "belly thin")
        clock.advance(minutes=1)
    finally:
        desk.close()
    return path


def lines_with(person: Person, words: str) -> list[str]:
    """The lines of the screen in front on which these words stand."""
    return [line for line in screen_lines(person.app) if words in line]


def picked(person: Person) -> str:
    """The line with the mark."""
    (line,) = lines_with(person, "▸")
    return line


@pytest.mark.parametrize("size", SIZES)
async def test_the_history_of_the_shop(
    goats: Path, clock: ManualClock, size: tuple[int, int]
) -> None:
    """F4: every tap newest first, the newest picked, its keys on the screen."""
    async with at_the_bench(goats, clock, size) as person:
        await person.press("f4")
        await person.sees("History of the shop", "Take back (u)", "Put back (F2)", "Time (t)")
        told = ["note: belly thin", "Nanny: “Soak” begun", "Billy: “Soak” begun"]
        told += ["Nanny: taken in salted", "Billy: taken in salted"]
        places = [person.text.index(words) for words in told]
        assert sorted(places) == places
        assert "09:32" in picked(person)
        await person.press("end")
        assert "Billy: taken in salted" in picked(person)
        await person.sees("happened Wed 4 Mar 2026 09:00")
        await person.press("escape")
        await person.sees("Hides", "Mix", "Timers")


@pytest.mark.parametrize("size", SIZES[:2])
async def test_back_to_an_early_tap_and_forward_again(
    goats: Path, clock: ManualClock, size: tuple[int, int]
) -> None:
    """What goes is shown first; it goes as one; one F2 brings it back; marked by word."""
    async with at_the_bench(goats, clock, size) as person:
        await person.press("f4")
        await person.sees("History of the shop")
        await person.press("down", "down")
        assert "Billy: “Soak” begun" in picked(person)
        await person.press("u")
        await person.sees("Take these 2 taps back?", "note: belly thin")
        assert not lines_with(person, "✗ taken back")
        await person.press("escape")
        await person.sees_no_more("Take these")
        await person.press("u", "enter")
        await person.sees("Taken back: Billy: note: belly thin; Billy: “Soak” begun")
        assert 2 == len(lines_with(person, "✗ taken back  Billy"))
        await person.sees("✗ taken back Wed 4 Mar 2026 09:33")
        await person.press("escape")
        await person.sees("Sink the hide in the soak")
        await person.press("f4", "f2")
        await person.sees("Put back: Billy: note: belly thin; Billy: “Soak” begun")
        assert not lines_with(person, "✗ taken back")


async def test_leaving_the_question_changes_nothing(goats: Path, clock: ManualClock) -> None:
    """By key, and by the button that says so."""
    async with at_the_bench(goats, clock, (80, 24)) as person:
        await person.press("f4", "end", "u")
        await person.sees("Take these 3 taps back?")
        buttons = person.app.screen.query("Button")
        await person.pilot.click(buttons.last())
        await person.sees_no_more("Take these")
        assert not lines_with(person, "✗ taken back")


@pytest.mark.parametrize("size", SIZES[:2])
async def test_a_time_is_corrected(goats: Path, clock: ManualClock, size: tuple[int, int]) -> None:
    """Typed as a time of day; a wrong one is refused with what would do, the typing kept."""
    async with at_the_bench(goats, clock, size) as person:
        await person.press("f4", "down", "down", "t")
        await person.sees("When was it really?", "Billy: “Soak” begun", "Wed 4 Mar 2026 09:30")
        await person.sees("From Wed 4 Mar 2026 09:00 to Wed 4 Mar 2026 09:32")
        await person.write("8:00")
        await person.press("enter")
        await person.sees("▲ time: it must lie from Wed 4 Mar 2026 09:00", "8:00")
        await person.press("ctrl+u")
        await person.write("15 min earlier")
        await person.press("f2")
        await person.sees("now Wed 4 Mar 2026 09:15")
        await person.sees("09:15            Billy: “Soak” begun  (written 09:30)")
        await person.sees("written down Wed 4 Mar 2026 09:30")
        await person.press("escape", "f4")
        await person.sees("time corrected to Wed 4 Mar 2026 09:15")
        await person.press("u")
        await person.sees("Taken back: Billy: time corrected")
        await person.sees_no_more("(written 09:30)")


async def test_what_has_no_time_is_told_before_anything_is_typed(
    goats: Path, clock: ManualClock
) -> None:
    """No form for a tap that was taken back."""
    async with at_the_bench(goats, clock, (80, 24)) as person:
        await person.press("f4", "u")
        await person.sees("✗ taken back  Billy: note")
        await person.press("t")
        await person.sees("It was taken back: its time counts for nothing.")
        await person.press("u")
        await person.sees("It was taken back before")


@pytest.mark.parametrize("size", SIZES[:2])
async def test_the_history_of_one_hide(
    goats: Path, clock: ManualClock, size: tuple[int, int]
) -> None:
    """From its card, its taps alone; and back on the card F2 puts back what u took."""
    async with at_the_bench(goats, clock, size) as person:
        person.app.push_screen(CardScreen("nanny"))
        await person.sees("Taps (h)")
        await person.press("h")
        await person.sees("History of Nanny", "09:31            “Soak” begun")
        assert not lines_with(person, "Billy")
        await person.press("escape", "u")
        await person.sees("Nanny: taken back: “Soak” begun", "Sink the hide in the soak")
        await person.press("f2")
        await person.sees("Put back: Nanny: “Soak” begun")
        await person.sees_no_more("Sink the hide in the soak")


async def test_a_hide_taken_back_altogether_leaves_the_shop_history(
    goats: Path, clock: ManualClock
) -> None:
    """The page stays, and with it the way to bring the hide back."""
    async with at_the_bench(goats, clock) as person:
        person.app.push_screen(CardScreen("nanny"))
        await person.press("h", "end", "u", "enter")
        await person.sees("Taken back: Nanny: “Soak” begun; Nanny: taken in salted")
        assert 2 == len(lines_with(person, "✗ taken back  "))
        assert not lines_with(person, "Billy")
        await person.press("f2")
        await person.sees("Put back: Nanny")
        await person.press("escape")
        await person.sees("Nanny  ·  goat")


# --- u and F2 on the bench ------------------------------------------------------------


async def test_f2_puts_back_what_u_took_back(goats: Path, clock: ManualClock) -> None:
    """Step by step of the chosen hide, down and up, and then there is no more."""
    async with at_the_bench(goats, clock) as person:
        bench = person.app.screen
        assert isinstance(bench, BenchScreen)
        bench.choose("billy")
        await person.press("u")
        await person.sees("taken back: note: belly thin")
        await person.press("u")
        await person.sees("taken back: “Soak” begun")
        await person.press("f2")
        await person.sees("Put back: Billy: “Soak” begun")
        await person.press("f2")
        await person.sees("Put back: Billy: note: belly thin")
        await person.press("f2")
        await person.sees("There is nothing to put back.")
        await person.press("u")
        await person.sees("taken back: note: belly thin")


async def test_f2_brings_back_a_hide_whose_taking_in_was_undone(
    goats: Path, clock: ManualClock
) -> None:
    """It is not in the list to be chosen, but it was what u just took back."""
    async with at_the_bench(goats, clock) as person:
        bench, desk = person.app.screen, person.app.desk
        await person.press("i")
        await person.sees("Name")
        form = person.app.screen
        assert isinstance(form, TakeInScreen)
        await fill(form, person.pilot, "Kid")
        await person.press("f2")
        await person.sees("Taken in: Kid")
        await person.press("u")
        await person.sees("taken back: taken in salted")
        assert "kid" not in desk.hides.ids()
        await person.press("f2")
        await person.sees("Put back: Kid: taken in salted")
        assert "kid" == bench.hides.chosen


async def test_f2_follows_the_timer_and_the_settings(goats: Path, clock: ManualClock) -> None:
    """What u took back was a timer, or the settings: that comes back, not the chosen hide's."""
    async with at_the_bench(goats, clock) as person:
        await person.press("t")
        form = person.app.screen
        assert isinstance(form, TimerFormScreen)
        put(form, "name", "Rinse")
        put(form, "time", "5 min")
        await person.press("f2")
        await person.sees("Timer “Rinse” runs")
        await person.press("u")
        await person.sees("Taken back: timer “Rinse” set")
        await person.press("f2")
        await person.sees("Put back: Rinse: timer “Rinse” set")
        await person.press("escape", "g")
        await person.sees("Your shop")
        form = person.app.screen
        assert isinstance(form, ShopScreen)
        put(form, "name", "The yard")
        await person.press("f2")
        await person.sees("The yard")
        await person.press("u")
        await person.sees("The settings are as before", "My shop")
        await person.press("f2")
        await person.sees("Put back: shop: the shop's settings", "The yard")


async def test_the_eye_moves_on_and_so_does_f2(goats: Path, clock: ManualClock) -> None:
    """After moving to another hide it is that one's, which has nothing to put back."""
    async with at_the_bench(goats, clock) as person:
        bench = person.app.screen
        assert isinstance(bench, BenchScreen)
        bench.choose("billy")
        await person.press("u")
        await person.sees("taken back: note: belly thin")
        await person.press("home", "end", "home")
        if bench.hides.chosen == "billy":
            await person.press("end")
        await person.press("f2")
        await person.sees("There is nothing to put back.")


# --- much, and hostile ----------------------------------------------------------------


def long_history(many: int) -> tuple[Entry, ...]:
    """A goat with that many remarks, one a minute."""
    events: list[Event] = [goat_named("Billy")]
    events += [NoteWritten(hide="goat", text=f"remark {number}") for number in range(1, many)]
    return tuple(
        Entry(
            seq=place,
            tap=place,
            at=NINE + timedelta(minutes=place),
            recorded=NINE + timedelta(minutes=place),
            event=event,
        )
        for place, event in enumerate(events, start=1)
    )


async def test_only_what_is_seen_is_worked_out(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of 20,000 taps no more are put into words than the list was lines on the screen."""
    entries = long_history(20_000)
    clock = ManualClock(entries[-1].at)
    desk = Desk(MemoryRepository(entries), clock, shipped_library())
    asked: set[int] = set()
    line_of = desk.taps.line

    def counted(tap: int) -> object:
        asked.add(tap)
        return line_of(tap)

    monkeypatch.setattr(desk.taps, "line", counted)
    screen = HistoryScreen()
    async with showing(screen, desk) as (app, pilot):
        assert "remark 19999" in screen_text(app)
        await pilot.press("end")
        await wait_until(pilot, lambda: "▸" in screen_text(app), "the end")
        await wait_until(pilot, lambda: "taken in green" in screen_text(app), "the first tap")
        await pilot.press("pageup")
        await wait_until(pilot, lambda: "remark 10" in screen_text(app), "a page newer")
    assert 100 > len(asked)


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
async def test_hostile_names_and_remarks_stay_on_their_line(text: str) -> None:
    """Markup is not obeyed, and nothing leaves the list's frame."""
    desk, _ = small_shop(goat_named(text), NoteWritten(hide="goat", text=text))
    screen = HistoryScreen("goat")
    async with showing(screen, desk) as (app, pilot):
        for key in ("down", "u"):
            await pilot.press(key)
        assert "\x1b" not in screen_text(app)
        assert app.is_running


async def test_an_empty_history_says_so() -> None:
    """No tap yet: every key answers in a sentence."""
    desk, _ = small_shop()
    async with showing(HistoryScreen(), desk) as (app, pilot):
        assert "Nothing was tapped yet." in screen_text(app)
        for key in ("down", "end", "u", "f2", "t"):
            await pilot.press(key)
        await wait_until(
            pilot, lambda: screen_text(app).count("Nothing was tapped yet.") > 1, "the answer"
        )


async def test_a_click_picks(goats: Path, clock: ManualClock) -> None:
    """By mouse or finger, as by key."""
    async with at_the_bench(goats, clock, (80, 24)) as person:
        await person.press("f4")
        await person.sees("History of the shop")
        await person.pilot.click("#history", offset=(20, 3))
        assert "Billy: “Soak” begun" in picked(person)
        await person.sees("happened Wed 4 Mar 2026 09:30")


async def test_at_the_scale_f2_puts_back_what_u_took_back(
    tmp_path: Path, clock: ManualClock
) -> None:
    """Tap by tap until another is given, the end of the weigh-out too."""
    path = tmp_path / "shop.json"
    async with at_the_bench(path, clock) as person:
        desk = person.app.desk
        name = desk.weigh_outs.begin(desk.worksheet("salt-cure")).weigh_out.id
        tapped = desk.weigh_outs.view
        await person.press("w")
        await person.sees("Understood")
        await person.press("enter")
        await person.sees("Accept")
        await person.press("enter")
        await wait_until(person.pilot, lambda: tapped(name).done, "the only line is in")
        before = tapped(name)
        await person.press("u")
        await wait_until(person.pilot, lambda: not tapped(name).weigh_out.taps, "it is out again")
        await person.sees("Accept")
        await person.press("f2")
        await wait_until(person.pilot, lambda: before == tapped(name), "it is back")
        await person.sees("Finish")
