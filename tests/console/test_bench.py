"""The bench: hides by urgency, acts on the chosen one, own timers, first run, hostile names."""

from __future__ import annotations

import re
from datetime import UTC, datetime
from pathlib import Path

import pytest

from benchconsole import bootstrap
from benchconsole.clock import ManualClock
from tests.console.at_the_bench import at_the_bench
from tests.console.small_shop import HOSTILE

MORNING = datetime(2026, 3, 4, 9, 0, tzinfo=UTC)
SIZES = [(80, 24), (120, 36), (200, 60)]


@pytest.fixture
def clock() -> ManualClock:
    """A Wednesday morning."""
    return ManualClock(MORNING)


@pytest.fixture
def demo(tmp_path: Path, clock: ManualClock) -> Path:
    """The demo shop on disk."""
    path = tmp_path / "shop.json"
    bootstrap.fill_demo(path, clock)
    return path


def states(text: str) -> list[str]:
    """The state words of the hide list, from top to bottom."""
    return re.findall(r"[▲●◐○□■] (OVERDUE|DUE|READY|WAITING|IN STORE|FINISHED) ", text)


@pytest.mark.parametrize("size", SIZES)
async def test_hides_stand_in_order_of_urgency_told_by_shape_and_word(
    demo: Path, clock: ManualClock, size: tuple[int, int]
) -> None:
    """Past the latest first, the finished last; in every size, without colour."""
    order = ["OVERDUE", "DUE", "READY", "WAITING", "IN STORE", "FINISHED"]
    async with at_the_bench(demo, clock, size) as person:
        await person.sees("▲ OVERDUE", "● DUE", "◐ READY", "○ WAITING")
        seen = states(person.text)
        await person.press("end")
        await person.sees("□ IN STORE", "■ FINISHED")
        later = states(person.text)
        assert later == sorted(later, key=order.index)
        assert seen == sorted(seen, key=order.index)
        await person.sees("▲ 1 overdue", "● 2 due", "2 running")


async def test_an_empty_shop_says_what_to_press(tmp_path: Path, clock: ManualClock) -> None:
    """The first run teaches itself, and its keys do what it says."""
    async with at_the_bench(tmp_path / "shop.json", clock, (80, 24)) as person:
        await person.sees("No hides yet", "take in a hide", "your shop", "every key")
        await person.press("i")
        await person.sees("Take in a hide")
        await person.press("escape", "question_mark")
        await person.sees("Help", "KEYS")
        await person.press("escape", "d")
        await person.sees("No hides yet")


async def test_the_line_on_top_says_that_one_is_away(demo: Path, clock: ManualClock) -> None:
    """Away is told apart from closed, with when the shop opens again."""
    async with at_the_bench(demo, clock, (80, 24)) as person:
        await person.sees("open until")
        person.app.desk.settings.set({"away": "4-5 Mar"})
        await person.press("down")
        await person.sees("away, opens Fri")


async def test_done_not_yet_and_undo_answer_in_words(demo: Path, clock: ManualClock) -> None:
    """One key an act; the answer stands above the keys; undo takes back the last tap."""
    async with at_the_bench(demo, clock) as person:
        await person.sees("▲ OVERDUE  Grey")
        await person.press("n")
        await person.sees("Grey rabbits: ", "not yet")
        await person.press("u")
        await person.sees("taken back")
        await person.press("v")
        await person.sees("“Soak” done", "Flesh and wash")


async def test_an_act_that_does_not_fit_is_refused_in_a_sentence(
    demo: Path, clock: ManualClock
) -> None:
    """Nothing happens, and the reason stands on the screen."""
    async with at_the_bench(demo, clock) as person:
        await person.press("m")
        await person.sees("▲ The next action of this hide needs no mix")
        await person.press("w")
        await person.sees("▲ There is nothing to weigh")
        await person.press("y")
        await person.sees("▲ Nothing rings")


async def test_own_timers_are_set_paused_extended_renamed_cancelled(
    tmp_path: Path, clock: ManualClock
) -> None:
    """Every act on a timer by key, and the countdown in big digits' list beside it."""
    async with at_the_bench(tmp_path / "shop.json", clock) as person:
        await person.press("t")
        await person.write("warm water")
        await person.press("enter")
        await person.write("10 min")
        await person.press("f2")
        await person.sees("RUNNING", "warm water", "0:10:00")
        await person.later(minutes=4)
        await person.sees("0:06:00")
        await person.press("p")
        await person.sees("PAUSED")
        await person.later(minutes=30)
        await person.sees("PAUSED", "0:06:00")
        await person.press("p")
        await person.sees("RUNNING", "0:06:00")
        await person.press("e")
        await person.sees("More time for warm water")
        await person.write("5 min")
        await person.press("f2")
        await person.sees("0:11:00")
        await person.press("r")
        await person.press(*["backspace"] * 20)
        await person.write("borax")
        await person.press("f2")
        await person.sees("is now called “borax”")
        await person.press("c")
        await person.sees("cancelled", "No timer runs")


async def test_a_timer_rings_until_heard_also_over_a_restart(
    tmp_path: Path, clock: ManualClock
) -> None:
    """It ended while the program was down, and says how long ago."""
    path = tmp_path / "shop.json"
    async with at_the_bench(path, clock) as person:
        await person.press("t")
        await person.write("drum")
        await person.press("enter")
        await person.write("20 min")
        await person.press("f2")
        await person.sees("RUNNING", "0:20:00")
    clock.advance(hours=9)
    async with at_the_bench(path, clock) as person:
        await person.sees("RINGING", "TIME IS UP: drum", "8 h 40 min ago", "◆ 1 ringing")
        await person.press("y")
        await person.sees("ENDED")
        await person.sees_no_more("RINGING", "ringing")


@pytest.mark.parametrize("name", [text for text in HOSTILE if len(text) < 60])
async def test_hostile_names_are_shown_or_refused_and_never_crash(
    tmp_path: Path, clock: ManualClock, name: str
) -> None:
    """Markup, joined emoji, marks that turn the writing, control characters, in every pane."""
    path = tmp_path / "shop.json"
    desk = bootstrap.open_desk(path, writing=True, clock=clock)
    try:
        desk.hides.take_in(
            name="plain", species="goat", route="hair-on-alum-pelt", came="green", weight="2 lb"
        )
        for act in (
            lambda: desk.hides.take_in(
                name=name, species="goat", route="hair-on-alum-pelt", came="green"
            ),
            lambda: desk.timers.set(name, "5 min"),
            lambda: desk.hides.note("plain", name),
        ):
            try:
                act()
            except bootstrap.BadInput as refusal:
                faults = ("control character", "turns the direction", "can be seen", "longer")
                assert any(fault in str(refusal) for fault in faults)
    finally:
        desk.close()
    async with at_the_bench(path, clock) as person:
        await person.sees("plain")
        await person.press("down", "enter")
        await person.sees("HISTORY")
        await person.press("escape", "l")
        await person.sees("Day sheet")


async def test_a_refused_own_file_is_told_and_the_rest_works(
    tmp_path: Path, clock: ManualClock
) -> None:
    """By name, line and reason, on the screen that opens."""
    (tmp_path / "formulas").mkdir()
    (tmp_path / "formulas" / "mine.toml").write_text("[formula]\nid = 7\n")
    async with at_the_bench(tmp_path / "shop.json", clock) as person:
        await person.sees("Left out: ", "formulas/mine.toml")


async def test_a_clicked_hide_is_chosen(demo: Path, clock: ManualClock) -> None:
    """By mouse or finger as well as by key."""
    async with at_the_bench(demo, clock) as person:
        await person.pilot.click("#hides", offset=(5, 3))
        await person.sees("▌● DUE")
