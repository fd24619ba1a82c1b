"""The buttons of a page: one for every act that has one, with its key."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from textual.content import Content
from textual.widgets import Button

from benchconsole.console.acts import Act
from benchconsole.console.keynames import key_words


def act_buttons(acts: Iterable[type[Act[Any]]]) -> Iterator[Button]:
    """A button for each of a screen's acts that has one: ``Take back (u)``."""
    for act in acts:
        if act.has_button:
            key = key_words(act.keys.split(",")[0])
            button = Button(Content(f"{act.label} ({key})"), action=f"screen.act('{act.__name__}')")
            # The longest label is as wide as its button inside the border; a style sheet of
            # Textual 8.2 takes no 0 for this.
            button.styles.line_pad = 0
            yield button
