"""What no route foresees, told on the card: forms by key and by mouse, refusals, the card after."""

from __future__ import annotations

from typing import Any

import pytest
from textual.widgets import Button

from benchconsole.console.screens.card import CardScreen
from benchconsole.console.screens.lose_hide import LoseHideScreen
from benchconsole.console.screens.move_hide import MoveHideScreen
from benchconsole.console.screens.split_lot import SplitLotScreen
from benchconsole.console.screens.spoiled_liquor import SpoiledLiquorScreen
from benchconsole.console.widgets.entries import Choice
from benchconsole.desk import Desk
from tests.console.reading_the_screen import screen_text, wait_until
from tests.console.small_shop import HOSTILE, put, showing, small_shop, with_a_goat, written

SIZES = [(80, 24), (120, 36), (200, 60)]
GOAT = "brown-goat"


def with_a_lot() -> Desk:
    """A desk with a lot of five salted goats of 10 kg."""
    desk, _ = small_shop()
    desk.hides.take_in(
        name="goats",
        species="goat",
        route="hair-on-alum-pelt",
        came="salted",
        weight="10 kg",
        count="5",
    )
    return desk


def in_the_bath() -> tuple[Desk, str]:
    """A desk with one goat in an alum bath; the bath's id."""
    desk, clock = with_a_goat()
    desk.moves.move(GOAT, stage="alum")
    name = desk.weigh_outs.begin(desk.worksheet("alum-salt-bath"), [GOAT]).weigh_out.id
    while not desk.weigh_outs.view(name).done:
        desk.weigh_outs.accept(name)
    liquor = desk.weigh_outs.finish(name).id
    desk.hides.done(GOAT)
    clock.advance(hours=20)
    return desk, liquor


async def shows(pilot: Any, words: str) -> None:
    """Wait until these words stand on the screen."""
    await wait_until(pilot, lambda: words in screen_text(pilot.app), words)


async def test_a_hide_is_moved_ahead_by_keys_alone() -> None:
    """From its card: a stage by its first letter, enter to the end; the card tells it at once."""
    desk, _ = with_a_goat()
    card = CardScreen(GOAT)
    async with showing(card, desk) as (_, pilot):
        await pilot.press("m")
        await shows(pilot, "Move brown goat, now at “Cool and trim”")
        await pilot.press("enter", "w", "enter", "enter")
        await wait_until(pilot, lambda: pilot.app.screen is card, "the form to close")
        text = written(card)
        assert "moved on from “Cool and trim” to “Wash”" in text
        assert "○ skipped First salting" in text
        await pilot.press("u")
        await wait_until(pilot, lambda: "moved on" not in written(card), "the move to be undone")
    assert "trim" == desk.hides.get(GOAT).stage


async def test_another_route_brings_its_stages_and_asks_whether_it_is_begun() -> None:
    """Only for a hide that is in a stage now, and only by another route."""
    desk, _ = in_the_bath()
    form = MoveHideScreen(GOAT)
    async with showing(form, desk) as (app, pilot):
        begun = form.field("begun").entry
        assert isinstance(begun, Choice)
        assert 1 == len(begun.offered)
        assert "(finished)" in [words for _, words in form.field("stage").entry.offered]
        put(form, "route", "small-fur-skin")
        await wait_until(pilot, lambda: 2 == len(begun.offered), "the question")
        assert "(finished)" not in [words for _, words in form.field("stage").entry.offered]
        put(form, "stage", "alum")
        put(form, "begun", "in-it")
        await pilot.pause()
        await pilot.click(".keep")
        await wait_until(pilot, lambda: app.came_back != [], "the form to close")
    hide = desk.hides.get(GOAT)
    assert ("small-fur-skin", "alum") == (hide.route, hide.stage)
    assert hide.begun_at is not None


async def test_a_move_without_a_stage_is_refused_and_the_form_stays() -> None:
    """The field is named and marked, and nothing is stored."""
    desk, _ = with_a_goat()
    form = MoveHideScreen(GOAT)
    async with showing(form, desk) as (app, pilot):
        await pilot.press("f2")
        await shows(pilot, "stage: nothing is chosen yet; for example Soak.")
        assert form.field("stage").has_class("-faulty")
        assert [] == app.came_back
    assert "trim" == desk.hides.get(GOAT).stage


async def test_a_piece_is_finished_early_from_the_form() -> None:
    """The last line of the stages ends the route."""
    desk, _ = with_a_goat()
    form = MoveHideScreen(GOAT)
    async with showing(form, desk) as (app, pilot):
        put(form, "stage", "*")
        await pilot.press("f2")
        await wait_until(pilot, lambda: app.came_back != [], "the form to close")
    assert "finished" == desk.hides.action_of(GOAT).state


async def test_a_lot_is_split_from_its_card() -> None:
    """How many and a name, enter and enter; both parts are on the bench."""
    desk = with_a_lot()
    card = CardScreen("goats")
    async with showing(card, desk) as (_, pilot):
        await pilot.press("p")
        await shows(pilot, "Split goats, a lot of 5")
        await pilot.press("2", "enter", *"thin", "enter")
        await wait_until(pilot, lambda: pilot.app.screen is card, "the form to close")
        assert "lot split: 2 skins of “goats” as “thin”" in written(card)
        assert "a lot of 3" in screen_text(pilot.app)
    assert [("goats", 3), ("thin", 2)] == [
        (row.hide.id, row.hide.count) for row in desk.hides.rows()
    ]


async def test_more_skins_than_there_are_cannot_go() -> None:
    """The number is named with what would do."""
    form = SplitLotScreen("goats")
    async with showing(form, with_a_lot()) as (app, pilot):
        put(form, "count", "5")
        await pilot.press("f2")
        await shows(pilot, "count: 1 to 4 of its 5 skins can go")
        assert [] == app.came_back


async def test_a_spoiled_liquor_calls_its_hide_out_of_it() -> None:
    """From the card: why, enter; what comes next, the liquor and the history all say so."""
    desk, liquor = in_the_bath()
    card = CardScreen(GOAT)
    async with showing(card, desk) as (_, pilot):
        await pilot.press("x")
        await shows(pilot, f"{liquor} Alum and salt bath")
        await shows(pilot, "it lies in it")
        await pilot.press("enter", *"slimy", "enter")
        await wait_until(pilot, lambda: pilot.app.screen is card, "the form to close")
        text = " ".join(written(card).split())
        assert "Take it out of the spoiled liquor; make a fresh one." in text
        assert "SPOILED: slimy" in text
        assert f"liquor {liquor} spoiled: slimy" in text
        await pilot.press("u")
        await wait_until(pilot, lambda: "SPOILED" not in written(card), "undo")


async def test_a_hide_is_taken_out_of_work_from_its_card() -> None:
    """A reason is wanted; the card stays and says it, and undo brings the hide back."""
    desk, _ = with_a_goat()
    card = CardScreen(GOAT)
    async with showing(card, desk) as (_, pilot):
        await pilot.press("k")
        await shows(pilot, "Take brown goat out of work")
        await pilot.press("enter")
        await shows(pilot, "why: it is empty; for example “sold raw”.")
        await pilot.press(*"torn", "enter")
        await wait_until(pilot, lambda: "Out of work: torn." in written(card), "the card")
        assert "× OUT" in written(card)
        await pilot.press("u")
        await wait_until(pilot, lambda: "Out of work" not in written(card), "undo")
    assert "due" == desk.hides.action_of(GOAT).state


@pytest.mark.parametrize(
    ("key", "words"),
    [
        ("p", "brown goat is one skin: there is nothing to split."),
        ("x", "brown goat: no liquor of it is known that could spoil."),
        ("m", "brown goat is out of work"),
        ("k", "brown goat is out of work"),
    ],
)
async def test_what_makes_no_sense_opens_no_form(key: str, words: str) -> None:
    """One sentence on the card, before anything is typed in vain."""
    desk, _ = with_a_goat()
    if key in "mk":
        desk.moves.out_of_work(GOAT, "torn")
    card = CardScreen(GOAT)
    async with showing(card, desk, (120, 36)) as (app, pilot):
        await pilot.press(key)
        await shows(pilot, words)
        assert app.screen is card


@pytest.mark.parametrize("size", SIZES)
async def test_every_button_of_the_card_can_be_read_and_pressed(size: tuple[int, int]) -> None:
    """On the smallest screen they stand in two rows; each label is whole and inside."""
    desk = with_a_lot()
    card = CardScreen("goats")
    async with showing(card, desk, size) as (app, pilot):
        text = screen_text(app)
        for label in ("Move (m)", "Split (p)", "Spoiled (x)", "Lost (k)", "Undo (u)", "Back (esc)"):
            assert label in text
        for button in card.query(Button):
            assert card.region.contains_region(button.region)
        split = next(b for b in card.query(Button) if "Split" in str(b.label))
        await pilot.pause()
        await pilot.click(split)
        await shows(pilot, "Split goats, a lot of 5")


FORMS = [MoveHideScreen, SplitLotScreen, SpoiledLiquorScreen, LoseHideScreen]


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("form", FORMS)
async def test_the_forms_fit_the_screen(form: Any, size: tuple[int, int]) -> None:
    """Both buttons are inside on every screen, and a hostile name and refusal do no harm."""
    desk, liquor = in_the_bath()
    desk.hides.correct(GOAT, name="[/] [bold]goats", weight="", count="4")
    screen = form(GOAT)
    async with showing(screen, desk, size) as (app, pilot):
        for field in ("name", "why"):
            if any(each.field == field for each in screen.query("Field")):
                for text in HOSTILE:
                    put(screen, field, text)
        await pilot.pause()
        drawn = screen_text(app)
        assert "[/] [bold]goats" in drawn
        assert not any(c in drawn for c in "\x07\x1b\x00\u202e\u202c\u2066\u2069\u200d")
        for button in screen.query(Button):
            assert screen.region.contains_region(button.region)
        assert liquor in drawn or form is not SpoiledLiquorScreen
