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


NAMES = (
    "[/] \u200fעור",
    "\U0001f469\u200d\U0001f33e goat \ufe0f",
    "e\u0301\u0301\u0301\u0301\u0301",
)


@pytest.mark.parametrize("name", NAMES, ids=ascii)
async def test_a_name_of_any_letters_is_kept_to_the_letter(name: str) -> None:
    """Markup, right-to-left, joined emoji: pasted, drawn with dots, stored as it was."""
    desk, _ = small_shop()
    form = TakeInScreen()
    async with showing(form, desk) as (app, pilot):
        await fill(form, pilot, "")
        form.field("name").entry.focus()
        await pilot.pause()
        app.post_message(events.Paste(name))
        await wait_until(pilot, lambda: form.text("name") == name, "the paste")
        await pilot.press("f2")
        await wait_until(pilot, lambda: app.came_back != [], "the form to close")
    assert [name] == [row.hide.name for row in desk.hides.rows()]


REFUSED = {
    "red\u202egoat": "name: it holds a mark that turns the direction of writing (U+202E); for",
    "red\x1b[2J": "name: it holds a control character (U+001B); for example “brown goat”.",
    "red\tgoat": "name: it holds a tab (U+0009)",
    "red\ngoat": "name: it holds a line end (U+000A)",
    "red\u2028goat": "name: it holds a line end (U+2028)",
    "red\ufffe": "name: it holds a code that is no character (U+FFFE)",
    "red\ud83d": "name: it holds half a character (U+D83D)",
    "\u200b\u0300": "name: nothing of it can be seen",
    "x" * 100: "name: longer than 60 characters",
}


async def test_what_is_not_taken_in_is_refused_in_a_sentence() -> None:
    """Field, fault and an example; the field stays as it was pasted and nothing is stored."""
    desk, _ = small_shop()
    form = TakeInScreen()
    async with showing(form, desk, (120, 36)) as (app, pilot):
        await fill(form, pilot, "")
        for name, said in REFUSED.items():
            put(form, "name", "")
            form.field("name").entry.focus()
            await pilot.pause()
            app.post_message(events.Paste(name))
            await wait_until(pilot, lambda name=name: form.text("name") == name, "the paste")
            await pilot.press("f2")
            words = " ".join(said.split()[:5])
            await wait_until(pilot, lambda words=words: words in screen_text(app), said)
            assert () == tuple(app.came_back)
            assert name == form.text("name")
    assert () == desk.hides.rows()


NOTE = "one\n\ttwo \U0001f469\u200d\U0001f33e\ue000 e\u0301\u200f"


async def test_a_pasted_note_keeps_its_lines_and_letters() -> None:
    """A paste of several lines is one note; what is drawn as a dot is stored as it was."""
    desk, _ = with_a_goat()
    form = NoteScreen("brown-goat")
    async with showing(form, desk) as (app, pilot):
        app.post_message(events.Paste(NOTE.replace("\n", "\r\n")))
        await wait_until(pilot, lambda: form.text("note") == NOTE, "the paste")
        assert "·two 👩·🌾· e\u0301·" in screen_text(app)
        await pilot.press("f2")
        await wait_until(pilot, lambda: app.came_back != [], "the form to close")
    assert f"note: {NOTE}" == desk.hides.card("brown-goat").history[-1][1]


@pytest.mark.parametrize("form", FORMS)
async def test_a_megabyte_pasted_by_mistake_is_refused_at_once(form: Any) -> None:
    """One sentence that names the field; what stood there stays, and the form goes on."""
    desk, _ = with_a_goat()
    screen: FormScreen[Any] = form()
    async with showing(screen, desk) as (app, pilot):
        fields = [field for field in screen.query(Field) if not isinstance(field.entry, Choice)]
        fields[0].entry.focus()
        await pilot.pause()
        before = fields[0].value
        app.post_message(events.Paste("skin " * 200_000))
        await wait_until(pilot, lambda: "1,000,000 characters" in screen_text(app), "a sentence")
        assert f"{fields[0].field}: what was pasted" in screen_text(app)
        assert before == fields[0].value


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
