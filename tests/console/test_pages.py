"""The pages to read: card, day sheet, working, help."""

from __future__ import annotations

import re
from typing import Any

import pytest
from rich.cells import cell_len

from benchconsole.console.screens.card import CardScreen
from benchconsole.console.screens.day_sheet import DaySheetScreen
from benchconsole.console.screens.help import HelpScreen
from benchconsole.console.screens.pages import PageScreen
from benchconsole.console.screens.working import WorkingScreen
from benchconsole.console.widgets.paper import Paper, Written, wrapped
from benchconsole.console.wording import MARKS, WORDS
from benchconsole.desk import Desk
from benchconsole.letters import shown_lines
from benchconsole.mixing.working import Working
from benchconsole.model.events import NoteWritten
from tests.console.reading_the_screen import screen_text, wait_until
from tests.console.small_shop import HOSTILE, goat_named, showing, small_shop, with_a_goat, written

SIZES = [(80, 24), (120, 36), (200, 60)]


def weighed_out(desk: Desk, hide: str) -> None:
    """The alum bath for a hide, weighed out with a little too much salt."""
    sheet = desk.worksheet(
        "alum-salt-bath", desk.target_for(desk.hides.get(hide), "alum-salt-bath")
    )
    begun = desk.weigh_outs.begin(sheet, (hide,)).weigh_out.id
    while not (view := desk.weigh_outs.view(begun)).done:
        if view.over is not None:
            desk.weigh_outs.carry_on(begun)
        elif view.pour is not None and view.pour.planned.substance == "salt":
            desk.weigh_outs.read(begun, f"{view.pour.reading_g + 50:.0f}")
        else:
            desk.weigh_outs.accept(begun)
    desk.weigh_outs.finish(begun)


async def test_the_card_holds_everything_about_a_hide() -> None:
    """Name, weight, stages with mark and word, next action, liquor as made, history on top."""
    desk, clock = with_a_goat()
    desk.hides.done("brown-goat")
    clock.advance(hours=2)
    weighed_out(desk, "brown-goat")
    desk.hides.note("brown-goat", "belly thin")
    card = CardScreen("brown-goat")
    async with showing(card, desk) as (app, _):
        text = written(card)
        assert "brown goat  ·  goat  ·  2 lb  ·  Hair-on alum pelt" in screen_text(app)
    assert "▶ HERE    Cool and trim" in text
    assert "□ ahead   Soak" in text
    assert "due  " in text
    assert "Alum and salt bath" in text
    assert re.search(r"salt: .* \(\+[0-9.]+ %\)", text)
    assert text.index("note: belly thin") < text.index("taken in green")


async def test_the_card_claims_nothing_that_was_not_done_here() -> None:
    """A hide that came in salted was not salted by this shop: the stage says "before"."""
    desk, _ = small_shop()
    desk.hides.take_in(name="doe", species="deer", route="hair-on-alum-pelt", came="salted")
    card = CardScreen("doe")
    async with showing(card, desk) as (_, _):
        text = written(card)
    assert "– before  First salting" in text
    assert "▶ HERE    Soak" in text
    assert "■ done" not in text


async def test_the_card_follows_what_is_done_on_it() -> None:
    """A note typed on the card stands there at once, and undo takes it away."""
    desk, _ = with_a_goat()
    card = CardScreen("brown-goat")
    async with showing(card, desk) as (app, pilot):
        await pilot.press("o")
        await wait_until(pilot, lambda: app.screen is not card, "the note form")
        await pilot.press(*"torn", "enter")
        await wait_until(pilot, lambda: "note: torn" in written(card), "the note on the card")
        await pilot.press("u")
        await wait_until(pilot, lambda: "note: torn" not in written(card), "the note to go")
        await pilot.press("u")
        await wait_until(pilot, lambda: app.came_back == [None], "the card to close")
    assert () == desk.hides.rows()


async def test_a_card_with_a_long_history_draws_only_what_is_seen() -> None:
    """Ten thousand remarks: the newest stand on the card, and no widget is made for any."""
    remarks = [NoteWritten(hide="goat", text="stirred " * 9)] * 10_000
    desk, _ = small_shop(goat_named("old goat"), *remarks)
    card = CardScreen("goat")
    async with showing(card, desk, (120, 36)) as (app, pilot):
        assert "note: stirred" in screen_text(app)
        assert len(card.query("*")) < 40
        await pilot.press("escape")


async def test_the_day_sheet_is_in_due_order_under_its_days() -> None:
    """What is due today stands before what is due later, each under its day, with why."""
    desk, clock = with_a_goat()
    desk.hides.done("brown-goat")
    desk.hides.take_in(
        name="rabbit", species="rabbit", route="small-fur-skin", came="dried", count="6"
    )
    clock.advance(minutes=5)
    sheet = DaySheetScreen()
    async with showing(sheet, desk) as (app, _):
        text = written(sheet)
        assert "Day sheet  ·  Wednesday 04 March 2026, 09:05" in screen_text(app)
    assert text.index("TODAY, Wednesday 04 March") < text.index("rabbit: Soak")
    assert "why then  Taken in" in text
    assert "hands-on" in text


async def test_an_empty_day_sheet_says_what_to_do() -> None:
    """No hides: how to take one in."""
    desk, _ = small_shop()
    sheet = DaySheetScreen()
    async with showing(sheet, desk) as (app, _):
        assert "press i to take one in" in screen_text(app)


async def test_every_working_shows_all_it_has() -> None:
    """Inputs, equation, result, source and certainty, the first asked for on top."""
    desk, _ = small_shop()
    sheet = desk.worksheet("alum-salt-bath")
    workings = (*(line.working for line in sheet.lines), *(c.working for c in sheet.checks))
    page = WorkingScreen("Alum and salt bath", workings)
    async with showing(page, desk, (200, 60)) as (app, _):
        assert "Working  ·  Alum and salt bath" in screen_text(app)
        words = " ".join(written(page).split())
        assert page.query_one("#left", Paper).lines[0] == workings[0].title
    for working in workings:
        said = [working.title, working.equation, working.result, working.source, working.sure]
        said += [text for pair in working.inputs for text in pair]
        for text in said:
            assert " ".join(text.split()) in words


async def test_hostile_text_on_pages_is_only_writing() -> None:
    """Markup and marks in names, notes and titles are drawn as they are, or as dots."""
    name = "[/] [b]x\u202e \U0001f410"
    remarks = [NoteWritten(hide="goat", text=text) for text in HOSTILE]
    desk, _ = small_shop(goat_named(name), *remarks)
    evil = Working(title=name, result="[/]\x1b[2J", inputs=(("[/]", "\x07"),), source="\u2066")
    pages = [CardScreen("goat"), DaySheetScreen(), WorkingScreen(name, (evil,))]
    for page in pages:
        async with showing(page, desk, (120, 36)) as (app, _):
            drawn = screen_text(app) + written(page).replace("\n", "")
            assert "[/] [b]x·" in drawn
            assert not any(c in drawn for c in "\x07\x1b\x00\u202e\u202c\u2066\u2069\u200d")


def _fits(screen: PageScreen) -> bool:
    """Whether no line is longer than its sheet; it is wrapped again when a scroll bar comes."""
    return all(
        cell_len(line) <= paper.scrollable_content_region.width
        for paper in screen.query(Paper)
        if paper.display
        for line in paper.lines
    )


@pytest.mark.parametrize(
    "page", [lambda: CardScreen("brown-goat"), DaySheetScreen, lambda: HelpScreen(CardScreen)]
)
async def test_pages_fit_the_screen(page: Any) -> None:
    """At every size: no line is longer than its sheet, the buttons are whole and large."""
    desk, _ = with_a_goat()
    screen: PageScreen = page()
    async with showing(screen, desk, SIZES[0]) as (_, pilot):
        for size in SIZES:
            await pilot.resize_terminal(*size)
            await wait_until(pilot, lambda size=size: tuple(screen.size) == size, "the new size")
            await wait_until(pilot, lambda: _fits(screen), "lines that fit their sheets")
            for button in screen.query(".buttons Button"):
                assert screen.region.contains_region(button.region)
                assert button.region.height >= 3
                assert button.region.width >= 12


@pytest.mark.parametrize("room", [8, 20, 79])
@pytest.mark.parametrize("text", [*HOSTILE, "one two three four five", "皮" * 60, "", "a\n\nb"])
def test_wrapping_loses_nothing_and_fits(text: str, room: int) -> None:
    """Every line fits its room, and all that is shown of it is still there."""
    lines = wrapped(Written(text, hang=6), room)
    assert all(cell_len(line) <= room for line in lines)
    assert "".join(shown_lines(text).split()) == "".join("".join(lines).split())


async def test_an_empty_shop_gets_its_first_steps() -> None:
    """Help in an empty shop begins with how to begin; with a hide it goes straight to the keys."""
    for (desk, _), first in ((small_shop(), "FIRST STEPS"), (with_a_goat(), "KEYS")):
        page = HelpScreen(CardScreen)
        async with showing(page, desk) as (_, _):
            assert written(page).startswith(first)
            for state, mark in MARKS.items():
                assert f"{mark} {WORDS[state]}" in written(page)
