"""What a person would see on the screen, as text, and waiting for it without sleeping."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from textual.app import App
from textual.geometry import Region
from textual.pilot import Pilot

MOST_PAUSES = 200
"""So many rounds of the message queue without the awaited thing mean that it never comes."""


def screen_lines(app: App[Any]) -> list[str]:
    """The visible characters of the screen in front, one string a row, each as wide as it is."""
    screen = app.screen
    strips = screen._compositor.render_strips(screen.size)
    return [strip.text for strip in strips]


def screen_text(app: App[Any]) -> str:
    """The visible characters of the screen in front, line by line."""
    return "\n".join(screen_lines(app))


def region_text(app: App[Any], region: Region) -> str:
    """The visible characters inside a region of the screen."""
    lines = screen_lines(app)[region.y : region.bottom]
    return "\n".join(line[region.x : region.right] for line in lines)


async def wait_until(pilot: Pilot[Any], condition: Callable[[], bool], what: str) -> None:
    """Let the app work until the condition holds; fail with ``what`` and the screen if never."""
    for _ in range(MOST_PAUSES):
        if condition():
            return
        await pilot.pause()
    raise AssertionError(f"never seen: {what}; the screen shows:\n{screen_text(pilot.app)}")
