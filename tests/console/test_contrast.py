"""The colours: what is written can be read, in every theme of ours."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

import pytest
from rich.color import ColorType
from rich.style import Style
from textual.color import Color

from benchconsole.console.screens.card import CardScreen
from benchconsole.console.screens.day_sheet import DaySheetScreen
from benchconsole.console.screens.shop import ShopScreen
from benchconsole.console.screens.take_in import TakeInScreen
from benchconsole.console.screens.timeline import TimelineScreen
from benchconsole.console.themes import THEMES
from tests.console.small_plan import small_plan
from tests.console.small_shop import showing, with_a_goat

READABLE = 4.5
"""WCAG 2.1, success criterion 1.4.3: contrast of text at level AA."""

PLAN = small_plan(datetime(2026, 3, 4, 9, 0, tzinfo=UTC))
PLAN_MARKS = "●◆▲█─━═▓•[◇]▼│"
"""What the timeline says by characters must be seen as well as letters."""

ROLES = ("foreground", "text-primary", "text-secondary", "text-accent", "text-error")
ROLES += ("text-warning", "text-success", "text-muted")


def luminance(color: Color) -> float:
    """Relative luminance as WCAG 2.1 defines it."""
    linear = [v / 12.92 if v <= 0.03928 else ((v + 0.055) / 1.055) ** 2.4 for v in color.normalized]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: Color, other: Color) -> float:
    """Contrast ratio as WCAG 2.1 defines it."""
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


@pytest.mark.parametrize("role", ROLES)
@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
def test_text_roles_can_be_read(theme: Any, role: str) -> None:
    """Every text role on every ground of ours has the contrast of WCAG 2.1 AA."""
    colours = theme.to_color_system().generate()
    for ground in ("background", "surface", "panel"):
        back = Color.parse(colours[ground])
        wanted = colours[role]
        if wanted.startswith("auto"):
            ink = back.get_contrast_text(float(wanted.split()[1].rstrip("%")) / 100)
        else:
            ink = Color.parse(wanted)
        assert contrast(back + ink, back) >= READABLE


def _triplet(style: Style, which: str) -> Color | None:
    colour = getattr(style, which)
    if colour is None or colour.type is not ColorType.TRUECOLOR:
        return None
    return Color(*colour.triplet)


@pytest.mark.parametrize("theme", THEMES, ids=lambda theme: theme.name)
@pytest.mark.parametrize(
    ("screen", "marks"),
    [
        (TakeInScreen, ""),
        (ShopScreen, ""),
        (lambda: CardScreen("brown-goat"), ""),
        (DaySheetScreen, ""),
        (lambda: TimelineScreen(lambda: PLAN), PLAN_MARKS),
    ],
    ids=["take-in", "shop", "card", "day-sheet", "timeline"],
)
async def test_words_on_the_screen_can_be_read(screen: Any, marks: str, theme: Any) -> None:
    """Every letter and telling mark, in both themes, against the ground it is drawn on."""
    desk, _ = with_a_goat()
    seen = 0
    async with showing(screen(), desk, (120, 36), theme.name) as (app, pilot):
        await pilot.pause()
        for strip in app.screen._compositor.render_strips(app.screen.size):
            for text, style, _ in strip:
                if style is None or not any(c.isalnum() or c in marks for c in text):
                    continue
                ink, back = _triplet(style, "color"), _triplet(style, "bgcolor")
                if ink is not None and back is not None:
                    seen += 1
                    assert contrast(ink, back) >= READABLE, text
    assert seen > 5
