"""The sums on the screen: found by first letters, answered at every keystroke, refused in place."""

from __future__ import annotations

import pytest

from benchconsole.console.screens.sum_form import SumFieldBox, SumScreen
from benchconsole.console.screens.sums import ShowSums, SumsScreen
from benchconsole.console.screens.working import WorkingScreen
from benchconsole.console.widgets.entries import Choice
from benchconsole.desk.sums import SUMS, examples, sum_named, sums_matching
from tests.console.reading_the_screen import screen_text, wait_until
from tests.console.small_shop import HOSTILE, put, showing, small_shop, written

SIZES = [(60, 20), (80, 24), (120, 36), (200, 60)]


def _sheet(form: SumScreen) -> str:
    return " ".join(" ".join(form.sheet.lines).split())


async def test_a_sum_is_found_by_first_letters_and_answered() -> None:
    """Letters narrow the list, enter opens the form, a rinse of 40 L wants 1200 g of salt."""
    desk, _ = small_shop()
    desk.settings.set({"measures": "metric"})
    page = SumsScreen()
    async with showing(page, desk) as (app, pilot):
        await pilot.press(*"sal", "space", *"rin")
        await wait_until(
            pilot, lambda: [name for name, _ in page.found.offered][:1] == ["rinses"], "the list"
        )
        await pilot.press("down", "enter")
        await wait_until(pilot, lambda: isinstance(app.screen, SumScreen), "the form")
        form = app.screen
        assert isinstance(form, SumScreen)
        assert "rinse-salt" == form.asked.name
        await pilot.press("4", "0", "space", "L")
        await wait_until(pilot, lambda: "1200 g of salt" in _sheet(form), "the answer")
        await pilot.press("f2")
        await wait_until(pilot, lambda: isinstance(app.screen, WorkingScreen), "the working")
        assert isinstance(app.screen, WorkingScreen)
        assert "water × strength" in written(app.screen)
        await pilot.press("escape", "escape", "escape")
        await wait_until(pilot, lambda: app.came_back == [None], "the way back")


async def test_a_fault_stands_beside_its_field_once_it_is_left() -> None:
    """While it is typed only the sheet tells; the next field shows it in place, mending ends it."""
    desk, _ = small_shop()
    form = SumScreen(sum_named("hot-and-cold"))
    async with showing(form, desk) as (_, pilot):
        await pilot.press(*"35")
        await wait_until(pilot, lambda: "“35” has no unit" in _sheet(form), "the fault")
        box = form.field("temperature-wanted")
        assert not box.has_class("-faulty")
        await pilot.press("enter")
        await wait_until(pilot, lambda: box.has_class("-faulty"), "the mark")
        assert "has no unit" in str(box.query_one(".fault").render())
        put(form, "temperature-wanted", "35 °C")
        await wait_until(pilot, lambda: not box.has_class("-faulty"), "the mark to go")


async def test_what_is_wanted_is_said_and_gone_to() -> None:
    """Without an answer F2 goes to the first field that is still empty."""
    desk, _ = small_shop()
    form = SumScreen(sum_named("volume-at-depth"))
    async with showing(form, desk) as (_, pilot):
        await wait_until(pilot, lambda: "Its inside sizes" in _sheet(form), "what is wanted")
        put(form, "shape", "box")
        await wait_until(pilot, lambda: "length, width, depth" in _sheet(form), "the order")
        await pilot.press("f2")
        await wait_until(pilot, lambda: form.field("sizes").entry.has_focus, "the keys to go there")


@pytest.mark.parametrize("size", SIZES, ids=str)
async def test_sums_are_answered_on_every_screen(size: tuple[int, int]) -> None:
    """Some of each kind, with their examples in them, show their answer in each size."""
    desk, _ = small_shop()
    for asked in SUMS[::5] if size == (80, 24) else SUMS[4::12]:
        form = SumScreen(asked)
        async with showing(form, desk, size) as (_, pilot):
            for name, text in examples(asked, desk.shop.measures).items():
                put(form, name, text)
            await wait_until(pilot, lambda form=form: form.answer is not None, asked.name)
            assert form.answer is not None
            assert " ".join(form.answer.says.split()) in _sheet(form)
            assert form.sheet.size.height >= 5


async def test_hostile_text_is_refused_on_the_form() -> None:
    """Markup, controls and length in every field: sentences, and the form stays."""
    desk, _ = small_shop()
    form = SumScreen(sum_named("top-up"))
    async with showing(form, desk) as (app, pilot):
        put(form, "shape", "measured")
        for text in HOSTILE:
            for box in form.query(SumFieldBox):
                if not isinstance(box.entry, Choice):
                    put(form, box.field, text)
            await pilot.press("f2")
            await pilot.pause()
            assert app.screen is form
            assert form.answer is None
        assert "▲" in screen_text(app)


async def test_nothing_matches_and_nothing_opens() -> None:
    """Letters that no sum begins with: a sentence, and enter opens nothing."""
    desk, _ = small_shop()
    page = SumsScreen()
    async with showing(page, desk) as (app, pilot):
        await pilot.press(*"zzz", "enter")
        await wait_until(pilot, lambda: "No sum" in screen_text(app), "the sentence")
        assert app.screen is page


def test_sums_are_matched_by_beginnings_of_words() -> None:
    """Every typed word begins a word of the sum; nothing typed is all of them."""
    assert SUMS == sums_matching("")
    assert {"pickle-ph"} <= {one.name for one in sums_matching("pick")}
    assert {"coats-by-level"} == {one.name for one in sums_matching("coat lev")}
    assert () == sums_matching("ickle")


def test_the_act_is_the_key_of_the_bench() -> None:
    """x, and a help that says what it is for."""
    assert ("x", "Sums") == (ShowSums.keys, ShowSums.label)
