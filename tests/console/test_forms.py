"""The forms: what is typed reaches the shop whole, or a sentence says why not and all stays."""

from __future__ import annotations

from typing import Any

import pytest
from textual.events import Key

from benchconsole.console.screens.forms import FormScreen
from benchconsole.console.screens.note import NoteScreen
from benchconsole.console.screens.shop import ShopScreen
from benchconsole.console.screens.take_in import TakeInScreen
from benchconsole.console.screens.timer_form import TimerFormScreen
from benchconsole.console.widgets.entries import Choice
from tests.console.reading_the_screen import screen_text, wait_until
from tests.console.small_shop import fill, put, showing, small_shop, with_a_goat


async def test_a_hide_is_taken_in_by_keys_alone() -> None:
    """Name, enter, enter, enter, first letters and enters: a hide in the shop, and its id."""
    desk, _ = small_shop()
    form = TakeInScreen()
    async with showing(form, desk) as (app, pilot):
        await pilot.press(*"red", "space", *"goat", "enter")
        await pilot.press(*"3", "space", *"kg", "enter", "enter")
        await pilot.press("g", "enter", "h", "h", "h", "enter", "s", "enter")
        await wait_until(pilot, lambda: app.came_back != [], "the form to close")
    (hide,) = (row.hide for row in desk.hides.rows())
    assert ["red-goat"] == app.came_back
    assert ("red goat", "goat", "hair-on-alum-pelt", "salted", 3000.0, 1) == (
        hide.name,
        hide.species,
        hide.route,
        hide.came,
        hide.mass_g,
        hide.count,
    )


async def test_a_hide_is_taken_in_by_the_big_button() -> None:
    """The button does what F2 does."""
    desk, _ = small_shop()
    form = TakeInScreen()
    async with showing(form, desk) as (app, pilot):
        await fill(form, pilot)
        await pilot.click(".keep")
        await wait_until(pilot, lambda: app.came_back != [], "the form to close")
    assert ["red-goat"] == app.came_back


async def test_routes_that_fit_the_species_come_first() -> None:
    """A rabbit brings the routes made for it to the top; each of the rest says it is another."""
    desk, _ = small_shop()
    form = TakeInScreen()
    async with showing(form, desk) as (_, pilot):
        put(form, "species", "rabbit")
        route = form.field("route").entry
        assert isinstance(route, Choice)
        await wait_until(pilot, lambda: route.offered[-1][1].endswith("(other)"), "the routes")
        assert "" == route.value
        library = desk.library
        fits = ["rabbit" in library.route(name).species for name, _ in route.offered]
        assert {*library.routes} == {name for name, _ in route.offered}
        assert sorted(fits, reverse=True) == fits
        assert fits == [not words.endswith("(other)") for _, words in route.offered]
        assert 1 < sum(fits) < len(fits)


REFUSED = [
    ("name", "", "name: it is empty"),
    ("weight", "14", "has no unit"),
    ("weight", "-2 kg", "cannot be negative"),
    ("count", "two", "not a whole number"),
    ("count", "0", "from 1 to 999"),
]


async def test_a_refused_hide_stays_on_the_form() -> None:
    """One sentence, the keys in the faulty field, its label marked, everything typed kept."""
    desk, _ = small_shop()
    form = TakeInScreen()
    async with showing(form, desk) as (app, pilot):
        await fill(form, pilot)
        for field, typed, said in REFUSED:
            right = form.text(field)
            put(form, field, typed)
            await pilot.press("f2")
            await wait_until(pilot, lambda said=said: said in screen_text(app), "the refusal")
            await wait_until(
                pilot, lambda field=field: form.field(field).entry.has_focus, "the keys to go there"
            )
            assert (typed, "goat") == (form.text(field), form.text("species"))
            assert form.field(field).has_class("-faulty")
            assert () == desk.hides.rows()
            put(form, field, right)
            await wait_until(
                pilot, lambda said=said: said not in screen_text(app), "the sentence to go"
            )
            assert not form.field(field).has_class("-faulty")


@pytest.mark.parametrize("field", ["species", "route", "came in"])
async def test_nothing_is_chosen_for_the_person(field: str) -> None:
    """Species, route and how it came are asked for, never guessed."""
    desk, _ = small_shop()
    form = TakeInScreen()
    async with showing(form, desk) as (app, pilot):
        put(form, "name", "red goat")
        if field != "species":
            put(form, "species", "goat")
            await pilot.pause()
        if field == "came in":
            put(form, "route", "hair-on-alum-pelt")
            await pilot.pause()
        await pilot.press("f2")
        await wait_until(
            pilot, lambda: f"{field}: nothing is chosen yet" in screen_text(app), "the refusal"
        )
        assert () == desk.hides.rows()


async def test_escape_leaves_every_form_without_a_trace() -> None:
    """Leaving keeps nothing of what was typed."""
    desk, _ = with_a_goat()
    before = desk.version
    forms: list[FormScreen[Any]] = [
        TakeInScreen(),
        NoteScreen("brown-goat"),
        TimerFormScreen(),
        ShopScreen(),
    ]
    for form in forms:
        async with showing(form, desk) as (app, pilot):
            await pilot.press("z", "escape")
            await wait_until(pilot, lambda app=app: app.came_back == [None], "the form to close")
    assert before == desk.version


async def test_a_note_is_written_by_enter() -> None:
    """What was typed stands on the card; the sentence says so."""
    desk, _ = with_a_goat()
    async with showing(NoteScreen("brown-goat"), desk) as (app, pilot):
        await pilot.press(*"thin", "enter")
        await wait_until(pilot, lambda: app.came_back != [], "the form to close")
    assert "thin" in app.came_back[0]
    assert "thin" in desk.hides.card("brown-goat").history[-1][1]


async def test_an_empty_note_is_refused() -> None:
    """Enter in an empty note asks for one, and writes none."""
    desk, _ = with_a_goat()
    before = desk.version
    async with showing(NoteScreen("brown-goat"), desk) as (app, pilot):
        await pilot.press("enter")
        await wait_until(pilot, lambda: "note: it is empty" in screen_text(app), "the refusal")
    assert before == desk.version


async def test_keys_that_come_all_at_once_go_where_they_were_meant() -> None:
    """A quick hand, or a scale that types: what follows an enter is for the next field."""
    desk, clock = small_shop()
    async with showing(TimerFormScreen(), desk) as (app, pilot):
        for letter in "tea\r5 min\r":
            key = {"\r": "enter", " ": "space"}.get(letter, letter)
            app.post_message(Key(key, letter))
        await wait_until(pilot, lambda: app.came_back != [], "the form to close")
    (timer,) = desk.timers.all()
    assert ("tea", 300.0) == (timer.name, (timer.ends_at - clock.now()).total_seconds())


async def test_a_timer_is_set_with_a_name_and_one_tap() -> None:
    """A name and the button of a usual wait: the timer runs."""
    desk, clock = small_shop()
    async with showing(TimerFormScreen(), desk) as (app, pilot):
        await pilot.press(*"tea")
        await pilot.click("#quick Button")
        await wait_until(pilot, lambda: app.came_back != [], "the form to close")
    (timer,) = desk.timers.all()
    assert ("tea", 600.0) == (timer.name, (timer.ends_at - clock.now()).total_seconds())


async def test_the_quick_wait_is_kept_while_the_name_is_missing() -> None:
    """The tap fills in the time, the refusal asks for the name, and stays to be read."""
    desk, _ = small_shop()
    form = TimerFormScreen()
    async with showing(form, desk) as (app, pilot):
        await pilot.click("#quick Button")
        await wait_until(pilot, lambda: "name: it is empty" in screen_text(app), "the refusal")
        await pilot.pause()
        assert "name: it is empty" in screen_text(app)
        assert "10 min" == form.text("time")
        assert form.field("name").entry.has_focus
        await pilot.press(*"tea", "f2")
        await wait_until(pilot, lambda: app.came_back != [], "the form to close")
    assert ["tea"] == [timer.name for timer in desk.timers.all()]


async def test_a_timer_is_extended_and_renamed() -> None:
    """The same form asks for the time alone, or for the name alone."""
    desk, clock = small_shop()
    desk.timers.set("tea", "10 min")
    (timer,) = desk.timers.all()
    async with showing(TimerFormScreen(extend=timer.id), desk) as (app, pilot):
        assert "More time for tea" in screen_text(app)
        await pilot.press(*"5", "space", *"min", "enter")
        await wait_until(pilot, lambda: app.came_back != [], "the form to close")
    (timer,) = desk.timers.all()
    assert 900.0 == (timer.ends_at - clock.now()).total_seconds()
    async with showing(TimerFormScreen(rename=timer.id), desk) as (app, pilot):
        await pilot.press("2", "f2")
        await wait_until(pilot, lambda: app.came_back != [], "the form to close")
    assert ["tea2"] == [timer.name for timer in desk.timers.all()]


async def test_the_shop_is_set_up() -> None:
    """Choices and amounts reach the shop; what was not touched stays."""
    desk, _ = small_shop()
    form = ShopScreen()
    async with showing(form, desk) as (app, pilot):
        put(form, "measures", "metric")
        put(form, "jug", "10 L")
        put(form, "bell", "no")
        await pilot.press("f2")
        await wait_until(pilot, lambda: app.came_back != [], "the form to close")
    assert ("metric", 10.0, False, 15.0) == (
        desk.shop.measures,
        desk.shop.jug_l,
        desk.shop.bell,
        desk.shop.water_celsius,
    )


async def test_when_the_shop_is_open_is_typed_in_plain_lines() -> None:
    """Hours, closed days, an opening besides, days away and means, typed and kept on 80x24."""
    desk, clock = small_shop()
    form = ShopScreen()
    typed = {
        "hours": "Mon-Fri 8-12, 13-17, first Sunday 9-12",
        "closed": "24 Dec - 1 Jan, every first Monday",
        "extra": "Mon 6 Apr 10-11",
        "away": "4-5 Mar",
        "hands": "2",
        "vessels": "3 tubs, 1 beam",
    }
    async with showing(form, desk) as (app, pilot):
        for field, text in typed.items():
            form.field(field).entry.focus()
            form.field(field).entry.clear()
            await pilot.press(*("space" if letter == " " else letter for letter in text))
            await wait_until(
                pilot, lambda text=text: text in screen_text(app), f"“{text}” to be seen"
            )
        await pilot.press("f2")
        await wait_until(pilot, lambda: app.came_back != [], "the form to close")
    texts = desk.settings.texts()
    assert "Mon-Fri 8-12 13-17, every first Sunday 9-12" == texts["hours"]
    assert "24 Dec 2026 - 1 Jan 2027, every first Monday" == texts["closed"]
    assert ("Mon 6 Apr 2026 10-11", "4-5 Mar 2026") == (texts["extra"], texts["away"])
    assert (2, {"tub": 3, "beam": 1}) == (desk.shop.hands, desk.shop.vessels)
    why = desk.hides.hours().why_closed(clock.now())
    assert "you are away until Thursday 5 Mar" == why


async def test_a_rule_that_comes_too_often_is_refused_where_it_stands() -> None:
    """The sentence names the field and the fault; nothing of the form is kept."""
    desk, _ = small_shop()
    form = ShopScreen()
    before = desk.version
    async with showing(form, desk) as (app, pilot):
        put(form, "vessels", "3 tubs")
        put(form, "closed", "RRULE:FREQ=SECONDLY")
        await pilot.press("f2")
        await wait_until(pilot, lambda: "▲ Closed, such as" in screen_text(app), "the field")
        assert "comes SECONDLY" in screen_text(app)
    assert before == desk.version


async def test_a_refused_setting_comes_into_view() -> None:
    """A fault far down the longest form is scrolled to, on the smallest screen."""
    desk, _ = small_shop()
    form = ShopScreen()
    before = desk.version
    async with showing(form, desk) as (app, pilot):
        put(form, "zone", "Mars")
        await pilot.press("f2")
        await wait_until(pilot, lambda: "▲ Time zone" in screen_text(app), "the field to be seen")
        assert "“Mars” is not a time zone" in screen_text(app)
        assert form.field("zone").entry.has_focus
    assert before == desk.version
