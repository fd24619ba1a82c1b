"""The forms at their limits: hostile text, pasted text, small and large screens."""

from __future__ import annotations

from typing import Any

import pytest
from textual import events
from textual.widgets import Button

from benchconsole.console.screens.forms import FormScreen
from benchconsole.console.screens.note import NoteScreen
from benchconsole.console.screens.shop import ShopScreen
from benchconsole.console.screens.take_in import TakeInScreen
from benchconsole.console.screens.timer_form import TimerFormScreen
from benchconsole.console.widgets.entries import Choice, Field
from benchconsole.errors import BadInput
from tests.console.reading_the_screen import screen_text, wait_until
from tests.console.small_shop import HOSTILE, fill, put, showing, small_shop, with_a_goat

SIZES = [(80, 24), (120, 36), (200, 60)]
FORMS = [TakeInScreen, lambda: NoteScreen("brown-goat"), TimerFormScreen, ShopScreen]


@pytest.mark.parametrize("form", FORMS)
async def test_hostile_text_is_refused_or_shown_safely(form: Any) -> None:
    """In every field: no crash, nothing that moves the cursor or turns the writing is drawn."""
    desk, _ = with_a_goat()
    screen: FormScreen[Any] = form()
    async with showing(screen, desk) as (app, pilot):
        for text in HOSTILE:
            for field in screen.query(Field):
                if not isinstance(field.entry, Choice):
                    put(screen, field.field, text)
            await pilot.pause()
            drawn = screen_text(app)
            screen.refuse(BadInput("name", f"“{text}” is not one"))
            await pilot.pause()
            drawn += screen_text(app)
            assert not any(c in drawn for c in "\x07\x1b\x00\u202e\u202c\u2066\u2069\u200d")
            if not isinstance(screen, NoteScreen):
                screen.attempt()
                assert () == tuple(app.came_back)


async def test_a_hostile_name_is_taken_and_shown_safely() -> None:
    """Markup is a name like any other; marks that turn the writing become dots."""
    desk, _ = small_shop()
    form = TakeInScreen()
    async with showing(form, desk) as (app, pilot):
        await fill(form, pilot, "[/] \u202egoat")
        await pilot.press("f2")
        await wait_until(pilot, lambda: app.came_back != [], "the form to close")
    assert ["[/] ·goat"] == [row.hide.name for row in desk.hides.rows()]


async def test_a_pasted_note_keeps_its_lines() -> None:
    """A paste of several lines is one note; what does not print becomes a dot."""
    desk, _ = with_a_goat()
    form = NoteScreen("brown-goat")
    async with showing(form, desk) as (app, pilot):
        app.post_message(events.Paste("one\ntwo\x1b[2J"))
        await wait_until(pilot, lambda: form.text("note") != "", "the paste")
        await pilot.press("f2")
        await wait_until(pilot, lambda: app.came_back != [], "the form to close")
    assert "note: one\ntwo·[2J" == desk.hides.card("brown-goat").history[-1][1]


@pytest.mark.parametrize("form", FORMS)
async def test_forms_fit_the_screen(form: Any) -> None:
    """Centred, at most 76 wide, whole on the screen, buttons to hit with a wet finger."""
    desk, _ = with_a_goat()
    screen: FormScreen[Any] = form()
    async with showing(screen, desk, SIZES[0]) as (_, pilot):
        for size in SIZES:
            await pilot.resize_terminal(*size)
            await wait_until(pilot, lambda size=size: tuple(screen.size) == size, "the new size")
            await pilot.pause()
            box = screen.query_one(".box").region
            assert box.width <= 76
            assert abs((size[0] - box.width) / 2 - box.x) <= 1
            assert abs((size[1] - box.height) / 2 - box.y) <= 1
            for button in screen.query(".buttons Button").results(Button):
                assert screen.query_one(".box").content_region.contains_region(button.region)
                assert button.region.height >= 3
                assert button.region.width >= 12
