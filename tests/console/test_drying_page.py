"""The drying page: what its picture and its words show, and what its keys do."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, timedelta

import pytest
from textual.widgets import Button

from benchconsole.clock import ManualClock
from benchconsole.console.screens.card import CardScreen
from benchconsole.console.screens.drying import DryingScreen, WeighDryingScreen
from benchconsole.console.widgets.curve import CurvePicture, curve_rows
from benchconsole.desk import Desk
from benchconsole.model.drying import Climate
from benchconsole.model.events import ShopSet, StageBegun
from benchconsole.model.shop import Shop
from tests.console.reading_the_screen import screen_lines, screen_text, wait_until
from tests.console.small_shop import HOSTILE, goat_named, put, showing, small_shop, written

SIZES = [(80, 24), (120, 36), (200, 60)]
WEIGHINGS = ("1000 g", "940 g", "888 g")


def drying_goat(
    *, name: str = "kid", air: str = "18 °C, 58 %, moving", weighings: Sequence[str] = WEIGHINGS
) -> tuple[Desk, ManualClock]:
    """A goat stretched at nine, weighed every hour, in the metric shop's air."""
    desk, clock = small_shop()
    desk.settings.set({"air": air, "measures": "metric"})
    hide = desk.hides.take_in(
        name=name, species="goat", route="hair-on-alum-pelt", came="salted"
    ).id
    while desk.hides.get(hide).stage != "stretch" or desk.hides.get(hide).begun_at is None:
        action = desk.hides.action_of(hide)
        (desk.hides.done if action.kind == "begin" else desk.hides.passed)(hide)
    for weight in weighings:
        desk.drying.weigh(hide, weight)
        clock.advance(hours=1)
    return desk, clock


def plotted(rows: Sequence[str], mark: str) -> int:
    """How often a mark stands in the plot, its legend and bar left out."""
    return sum(row.count(mark) for row in rows[:-3])


@pytest.mark.parametrize("size", SIZES)
async def test_the_picture_shows_curve_band_window_and_weighings(size: tuple[int, int]) -> None:
    """At every size: marks for each, percent and hours on the axes, a legend, all acts at hand."""
    desk, _ = drying_goat()
    page = DryingScreen("kid")
    async with showing(page, desk, size) as (app, pilot):
        picture = page.query_one(CurvePicture)
        await wait_until(pilot, lambda: bool(picture.lines), "the picture")
        rows, text = picture.lines, screen_text(app)
        assert all(len(row) == picture.size.width for row in rows)
        assert len(rows) == picture.size.height
        assert 3 >= plotted(rows, "●") >= 1
        assert plotted(rows, "░") > 10
        assert plotted(rows, "│") > 3
        assert sum(plotted(rows, half) for half in "▀▄█") >= picture.size.width - 12
        assert rows[-2].startswith(" damp ")
        assert "▒" in rows[-2]
        for words in ("likely", "four in five", "damp for the dressing", "● weighed", "│ now"):
            assert words in rows[-1]
        assert "50 %┤" in text
        assert "Wed 4" in text
        assert "Drying  ·  kid  ·  lies open  ·  now " in text
        assert "Damp for the dressing: from about Wednesday" in text
        await wait_until(
            pilot,
            lambda: all(0 < b.region.right <= size[0] for b in page.query(Button) if b.display),
            "all buttons inside",
        )
        assert len([button for button in page.query(Button) if button.display]) >= 5


async def test_words_are_all_there_is_of_what_is_not_known() -> None:
    """No air said: no picture, a sentence that says what to do, and the weighings."""
    desk, _ = drying_goat(air="", weighings=("1000 g",))
    page = DryingScreen("kid")
    async with showing(page, desk) as (app, _):
        assert "Not known. Nobody said what air" in written(page)
        assert "1000 g" in written(page)
        assert not page.query_one(CurvePicture).display
        assert "░" not in screen_text(app)


async def test_a_weighing_is_taken_on_the_page() -> None:
    """s opens the form; a bare number is refused in words; grams are noted and shown."""
    desk, _ = drying_goat(weighings=())
    page = DryingScreen("kid")
    async with showing(page, desk) as (app, pilot):
        assert "general figures alone" in written(page)
        await pilot.press("s")
        await wait_until(pilot, lambda: isinstance(app.screen, WeighDryingScreen), "the form")
        form = app.screen
        assert isinstance(form, WeighDryingScreen)
        put(form, "weight", "1000")
        await pilot.press("f2")
        await wait_until(pilot, lambda: "▲ weight:" in screen_text(app), "the refusal")
        put(form, "weight", "1000 g")
        await pilot.press("f2")
        await wait_until(pilot, lambda: "WEIGHINGS" in written(page), "the weighing")
    assert [1000.0] == [each.mass_g for each in desk.hides.get("kid").weighed]


async def test_plastic_and_cloth_go_on_and_off() -> None:
    """p and l cover and lay open; the heading says how it lies; u takes the last back."""
    desk, _ = drying_goat()
    page = DryingScreen("kid")
    async with showing(page, desk) as (app, pilot):
        for key, words in (
            ("p", "under plastic"),
            ("p", "lies open"),
            ("l", "loosely covered"),
            ("p", "under plastic"),
            ("u", "loosely covered"),
        ):
            await pilot.press(key)
            await wait_until(pilot, lambda w=words: f"·  {w}" in screen_text(app), words)
    assert ["plastic", "open", "loose"] == [each.cover for each in desk.hides.get("kid").covered]


async def test_the_working_explains_every_figure() -> None:
    """k shows air, rest moisture, rate, curve and what damp is called by, each with its source."""
    desk, _ = drying_goat()
    page = DryingScreen("kid")
    async with showing(page, desk, (120, 36)) as (app, pilot):
        await pilot.press("k")
        await wait_until(pilot, lambda: app.screen is not page, "the working")
        text = written(app.screen)
    for words in ("How thirsty the air is", "18 °C", "Bull, J. Am. Chem. Soc.", "bone-dry"):
        assert words in text
    assert "read in the source" in text


async def test_the_card_leads_to_the_curve_and_to_the_scale() -> None:
    """c opens the page, esc comes back; s weighs; a hide in a bath has no curve and says so."""
    desk, _ = drying_goat()
    desk.hides.take_in(name="doe", species="deer", route="hair-on-alum-pelt", came="salted")
    card = CardScreen("kid")
    async with showing(card, desk) as (app, pilot):
        await pilot.press("c")
        await wait_until(pilot, lambda: isinstance(app.screen, DryingScreen), "the curve")
        await pilot.press("escape")
        await wait_until(pilot, lambda: app.screen is card, "the card")
        await pilot.press("s")
        await wait_until(pilot, lambda: "kid weighs now" in screen_text(app), "the scale")
    other = CardScreen("doe")
    async with showing(other, desk) as (app, pilot):
        await pilot.press("c")
        await wait_until(pilot, lambda: "in no stage that dries" in screen_text(app), "the refusal")
        await pilot.press("s")
        await wait_until(pilot, lambda: "Weight and name of doe" in screen_text(app), "its weight")


async def test_a_page_whose_hide_has_gone_on_closes() -> None:
    """Passed by somebody else meanwhile: the page says so and goes."""
    desk, clock = drying_goat()
    page = DryingScreen("kid")
    async with showing(page, desk) as (app, pilot):
        desk.hides.passed("kid")
        clock.advance(minutes=1)
        page.look_again()
        await wait_until(pilot, lambda: app.screen is not page, "the page gone")
        await wait_until(
            pilot, lambda: "in no stage that dries it" in screen_text(app), "the reason"
        )


@pytest.mark.parametrize("name", HOSTILE)
async def test_a_name_is_never_markup(name: str) -> None:
    """Whatever an old history calls a hide, the page and its form stand."""
    desk, _ = small_shop(
        goat_named(name),
        StageBegun(hide="goat", stage="stretch"),
        ShopSet(shop=Shop(climate=Climate(celsius=18.0, humidity_pct=58.0))),
    )
    page = DryingScreen("goat")
    async with showing(page, desk) as (app, pilot):
        assert screen_lines(app)[0].startswith(" Drying")
        await pilot.press("s")
        await wait_until(pilot, lambda: isinstance(app.screen, WeighDryingScreen), "the form")


@pytest.mark.parametrize(("width", "height"), [(10, 10), (40, 7), (27, 8), (300, 90)])
def test_any_room_has_a_picture_or_none(width: int, height: int) -> None:
    """Too small a room gives no rows; any other is filled exactly."""
    desk, _ = drying_goat()
    rows = curve_rows(desk.drying.forecast("kid").forecast, width, height, UTC)
    assert len(rows) in (0, height)
    assert all(len(row) == width for row in rows)
    assert bool(rows) == (width >= 27 and height >= 8)


def test_a_month_in_the_cold_is_told_in_days() -> None:
    """Ticks are as far apart as their words need, whatever the span."""
    desk, clock = drying_goat(air="5 °C, 90 %, still", weighings=())
    clock.advance(days=20)
    rows = curve_rows(desk.drying.forecast("kid").forecast, 80, 20, UTC)
    line = "".join(character for character, _ in rows[-3])
    assert "Mar" not in line
    days = [word for word in line.split() if word.isdecimal()]
    assert len(days) >= 3
    assert [int(day) for day in days[:2]] == sorted(int(day) for day in days[:2])
    assert clock.now() - timedelta(days=20) == desk.drying.forecast("kid").forecast.starts_at
