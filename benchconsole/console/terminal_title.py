"""The title of the terminal's window, borrowed while there is something to say in it."""

from __future__ import annotations

import os
from typing import Any

from textual.app import App

_KEEP, _GIVE_BACK = "\x1b[22;2t", "\x1b]2;\x07\x1b[23;2t"
"""xterm's window operations 22 and 23: put the title on the terminal's own stack, take it off."""
_WITHOUT_TITLE = ("", "dumb", "linux")


def borrow_title(app: App[Any], words: str) -> None:
    """Let the window be called by our own words (no person's), until it is given back."""
    _write(app, f"{_KEEP}\x1b]2;{words}\x07")


def give_title_back(app: App[Any]) -> None:
    """Let the window be called as it was; a terminal that forgot it shows an empty title."""
    _write(app, _GIVE_BACK)


def _write(app: App[Any], sequence: str) -> None:
    driver = app._driver
    if driver is not None and not app.is_headless and os.environ.get("TERM") not in _WITHOUT_TITLE:
        driver.write(sequence)
        driver.flush()
