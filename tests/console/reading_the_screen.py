"""What a person would see on the screen, as text, and waiting for it without sleeping."""

from __future__ import annotations

import asyncio
import time
from collections.abc import Callable
from typing import Any

from textual.app import App
from textual.events import Key
from textual.geometry import Region
from textual.keys import _character_to_key
from textual.pilot import Pilot

PATIENCE_SECONDS = 10.0
"""What has not been seen by then never comes, even on a busy machine."""
LOOK_SECONDS = 0.005
_MARKS = {"enter": "\r", "space": " ", "comma": ",", "minus": "-", "full_stop": "."}


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
    given_up = time.monotonic() + PATIENCE_SECONDS
    while not condition():
        if time.monotonic() > given_up:
            raise AssertionError(f"never seen: {what}; the screen shows:\n{screen_text(pilot.app)}")
        await asyncio.sleep(LOOK_SECONDS)


def type_ahead(app: App[Any], *keys: str) -> None:
    """Send keys all at once, as a slow line delivers them; what they do is waited for after."""
    for key in keys:
        mark = _MARKS.get(key, key if len(key) == 1 else None)
        app.post_message(Key(_character_to_key(key) if len(key) == 1 else key, mark))
