"""The line that says on every screen that this console only looks on."""

from __future__ import annotations

from typing import Any

from textual.content import Content
from textual.screen import Screen
from textual.widgets import Static

from benchconsole.console.widgets.alarm_line import AlarmLine
from benchconsole.console.widgets.cells import plain


class LookingLine(Static):
    """Stands on top of a screen while another program records; a touch takes the writing over."""

    DEFAULT_CSS = """
    LookingLine {
        dock: top;
        height: 1;
        background: $warning;
        color: $background;
        text-style: bold;
        text-wrap: nowrap;
        text-overflow: ellipsis;
    }
    LookingLine.-below {
        margin-top: 1;
    }
    """

    async def on_click(self) -> None:
        """The key's act, by mouse or finger."""
        await self.run_action("screen.act('TakeWritingOver')")


def show_looking(screen: Screen[Any], words: str) -> None:
    """Let a screen say that it only shows, or take the line away where there are no words."""
    lines = screen.query(LookingLine)
    if not words:
        lines.remove()
        return
    content = Content(plain(words))
    if not lines:
        line = LookingLine(content, markup=False)
        screen.mount(line)
    else:
        line = lines.first(LookingLine)
        if line.content != content:
            line.update(content)
    # An alarm has the first line.
    line.set_class(bool(screen.query(AlarmLine)), "-below")
