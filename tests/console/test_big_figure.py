"""The big figures: exact shapes, the largest that fits, never cut."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from textual.app import App, ComposeResult
from textual.content import Content
from textual.widgets import Static

from benchconsole.console.widgets.big_figure import BigFigure, big_picture

FIGURES = st.one_of(
    st.sampled_from(["2 lb 8.05 oz", "4 gal 1 qt 8 fl oz", "0:45:00", "−12.5 g", "1.235 kg"]),
    st.text(alphabet="0123456789.,:−/ gkblozfusimpqtdea☃", max_size=20),
)


def test_a_figure_is_drawn_pixel_for_pixel() -> None:
    """The shapes are these and no others: a one, a comma on the ground line, a seven, a unit."""
    assert (
        "  ▄      ▄▄▄▄▄         ",
        "▄▀█          █         ",
        "  █         █     ▄▀▀▀█",
        "  █   ▄▄   █      ▀▄▄▄█",
        "▄▄█▄▄ ▀█  █        ▄▄▄▀",
    ) == big_picture("1,7 g", 30, 5)


@pytest.mark.parametrize(
    ("text", "size", "expected"),
    [
        ("1234 g", (80, 9), (64, 9)),
        ("1234 g", (120, 15), (96, 14)),
        ("1234 g", (200, 40), (188, 32)),
        ("0:45:00", (80, 10), (70, 9)),
        ("1234 g", (80, 8), (32, 5)),
    ],
)
def test_the_figure_is_as_large_as_the_room_allows(
    text: str, size: tuple[int, int], expected: tuple[int, int]
) -> None:
    """Twice the room gives twice the figure; one row too few gives the next smaller scale."""
    picture = big_picture(text, *size)
    assert expected == (len(picture[0]), len(picture))


def test_a_long_figure_keeps_its_digits_large_and_halves_its_letters() -> None:
    """Pounds and ounces stay nine rows high at 80 columns, because only the units shrink."""
    assert 9 == len(big_picture("2 lb 8.05 oz", 80, 9))
    assert 9 == len(big_picture("5 gal 1 qt", 80, 9))


def test_a_long_figure_is_broken_before_a_number_where_that_is_larger() -> None:
    """Two lines under each other, centred, each number with its unit."""
    assert (
        "  ▄█                 ▄",
        " █ █      ▄▄▄▄  ▄▄▄  █",
        "█  █     █   █  ▄▄▄█ █",
        "▀▀▀█▀     ▀▀▀█ █   █ █",
        "   ▀      ▀▀▀   ▀▀▀▀ ▀",
        "   ▄             ▄    ",
        " ▄▀█             █    ",
        "   █      ▄▀▀▀█ ▀█▀▀  ",
        "   █      ▀▄▄▄█  █    ",
        " ▄▄█▄▄        █  ▀▄▄  ",
    ) == big_picture("4 gal 1 qt", 30, 12)


def test_where_no_pixel_fits_the_text_itself_is_shown_whole() -> None:
    """A figure that lost a digit would be a wrong one: plain text, or only an ellipsis."""
    assert ("1234 g",) == big_picture("1234 g", 20, 3)
    assert ("…",) == big_picture("1234 g", 5, 3)
    assert () == big_picture("1234 g", 0, 3)


@settings(max_examples=60, deadline=None)
@given(text=FIGURES, width=st.integers(1, 130), height=st.integers(1, 30))
def test_no_picture_leaves_its_room(text: str, width: int, height: int) -> None:
    """Whatever the text and the room: the lines are equally wide and inside it."""
    picture = big_picture(text, width, height)
    assert len(picture) <= height
    assert {len(line) for line in picture} <= {len(picture[0])}
    assert len(picture[0]) <= width


@settings(max_examples=40, deadline=None)
@given(first=st.integers(0, 9999), second=st.integers(0, 9999))
def test_two_numbers_never_look_alike(first: int, second: int) -> None:
    """Different readings give different pictures at every size that draws pixels."""
    same = big_picture(f"{first} g", 80, 9) == big_picture(f"{second} g", 80, 9)
    assert (first == second) == same


class CountedFigure(BigFigure):
    """Counts how often it is drawn."""

    drawn = 0

    def render(self) -> Content:
        """Draw, and count."""
        self.drawn += 1
        return super().render()


class OneFigure(App[None]):
    """A figure above a line of text."""

    def compose(self) -> ComposeResult:
        yield CountedFigure("1 g", id="figure")
        yield Static("below", id="below")


async def test_a_longer_figure_moves_nothing_and_the_same_one_draws_nothing() -> None:
    """The widget keeps its place when the text grows, and is drawn only when the text changes."""
    app = OneFigure()
    async with app.run_test(size=(80, 12)) as pilot:
        await pilot.pause()
        figure = app.query_one(CountedFigure)
        before, drawn = (figure.region, app.query_one("#below").region), figure.drawn
        figure.show("1234 g")
        await pilot.pause()
        assert before == (figure.region, app.query_one("#below").region)
        assert drawn + 1 == figure.drawn
        figure.show("1234 g")
        await pilot.pause()
        assert drawn + 1 == figure.drawn
        assert "1234 g" == figure.text
