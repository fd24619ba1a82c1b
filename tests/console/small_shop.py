"""A small shop for the screens to stand on: a real desk over memory, a clock that is moved."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from datetime import UTC, datetime
from pathlib import Path
from typing import Any, ClassVar

from textual.app import App
from textual.pilot import Pilot
from textual.screen import Screen

import benchconsole.console as styles
from benchconsole.clock import ManualClock
from benchconsole.console.app import HEIGHTS, WIDTHS
from benchconsole.console.screens.forms import FormScreen
from benchconsole.console.screens.pages import PageScreen
from benchconsole.console.screens.take_in import TakeInScreen
from benchconsole.console.themes import THEMES
from benchconsole.console.widgets.entries import Choice, Field, Line
from benchconsole.console.widgets.paper import Paper
from benchconsole.desk import Desk
from benchconsole.library import shipped_library
from benchconsole.model.events import Event, HideTakenIn
from benchconsole.schedule.planning.plans import Plan
from benchconsole.store import MemoryRepository
from tests.console.reading_the_screen import wait_until

HOSTILE = (
    "[/]",
    "[bold red]loud[/bold red] [@click=app.exit]x[/]",
    "\U0001f410\u200d\U0001f9f5 goat \ufe0f",
    "abc\u202eevil\u202c\u2066x\u2069",
    "bell\x07 esc\x1b[2J\x1b]0;title\x07 nul\x00",
    "g" * 10_000,
    "\u0300" * 50,
)
"""Markup, wide and joined emoji, marks that turn the writing, control characters, length."""


def small_shop(*events: Event) -> tuple[Desk, ManualClock]:
    """A desk on a Wednesday morning, with nothing in it but what these events say."""
    clock = ManualClock(datetime(2026, 3, 4, 9, 0, tzinfo=UTC))
    repository = MemoryRepository()
    if events:
        repository.append(events, at=clock.now(), recorded=clock.now())
    return Desk(repository, clock, shipped_library()), clock


def goat_named(name: str) -> HideTakenIn:
    """A green goat hide of this name, as the history would have it."""
    return HideTakenIn(
        hide="goat",
        name=name,
        species="goat",
        route="hair-on-alum-pelt",
        stage="trim",
        came="green",
        count=1,
        mass_g=None,
    )


def with_a_goat() -> tuple[Desk, ManualClock]:
    """A desk with one green goat hide taken in."""
    desk, clock = small_shop()
    desk.hides.take_in(
        name="brown goat", species="goat", route="hair-on-alum-pelt", came="green", weight="2 lb"
    )
    return desk, clock


class Stand(App[None]):
    """What a screen needs of the console: the desk, the styles, the themes."""

    CSS_PATH = sorted(Path(styles.__file__).parent.glob("styles/*.tcss"))
    HORIZONTAL_BREAKPOINTS: ClassVar[list[tuple[int, str]]] = list(WIDTHS)
    VERTICAL_BREAKPOINTS: ClassVar[list[tuple[int, str]]] = list(HEIGHTS)
    is_open: ClassVar[bool] = True
    plan: ClassVar[Plan | None] = None

    def __init__(self, desk: Desk, theme: str = THEMES[0].name) -> None:
        super().__init__()
        self.desk = desk
        self._begin_with = theme
        self.came_back: list[Any] = []

    def on_mount(self) -> None:
        """Our themes."""
        for theme in THEMES:
            self.register_theme(theme)
        self.theme = self._begin_with


@asynccontextmanager
async def showing(
    screen: Screen[Any], desk: Desk, size: tuple[int, int] = (80, 24), theme: str = THEMES[0].name
) -> AsyncIterator[tuple[Stand, Pilot[None]]]:
    """The screen on a stand; what it is dismissed with lands in ``came_back``."""
    app = Stand(desk, theme)
    async with app.run_test(size=size, notifications=True) as pilot:
        await app.push_screen(screen, app.came_back.append)
        await wait_until(pilot, lambda: app.screen is screen and screen.is_mounted, "the screen")
        yield app, pilot


def written(screen: PageScreen) -> str:
    """Everything on the sheets, also what must be scrolled to."""
    return "\n".join(line for paper in screen.query(Paper) for line in paper.lines)


def put(form: FormScreen[Any], field: str, text: str) -> None:
    """Set a field as typing or choosing would."""
    entry = form.field(field).entry
    if isinstance(entry, Choice):
        entry.highlighted = [name for name, _ in entry.offered].index(text)
    elif isinstance(entry, Line):
        entry.value = text
    else:
        entry.text = text


async def fill(form: TakeInScreen, pilot: Any, name: str = "red goat") -> None:
    """A take-in form filled so that it would be taken."""
    put(form, "name", name)
    put(form, "species", "goat")
    await wait_until(
        pilot, lambda: form.field("route").entry.offered[-1][1].endswith("(other)"), "routes"
    )
    put(form, "route", "hair-on-alum-pelt")
    await wait_until(
        pilot, lambda: len(form.query_one("#came", Field).query_one(Choice).offered) == 3, "starts"
    )
    put(form, "came in", "salted")
