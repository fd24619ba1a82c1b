"""The line that says over any screen that a time is up, until somebody heard it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from textual.content import Content
from textual.screen import Screen
from textual.widgets import Static

from benchconsole.console.widgets.cells import plain


class AlarmLine(Static):
    """Stands on top of a screen while something rings; a touch hears it."""

    DEFAULT_CSS = """
    AlarmLine {
        dock: top;
        height: 1;
        background: $error;
        color: $background;
        text-style: bold;
        text-wrap: nowrap;
        text-overflow: ellipsis;
    }
    """

    async def on_click(self) -> None:
        """Heard, by mouse or finger."""
        await self.run_action("screen.act('HearAlarm')")


def show_alarm(screen: Screen[Any], names: Sequence[str]) -> None:
    """Let a screen say what rings, or take the line away when nothing does."""
    lines = screen.query(AlarmLine)
    if not names:
        lines.remove()
        return
    more = f" and {len(names) - 1} more" if len(names) > 1 else ""
    words = Content(f" ◆ TIME IS UP: {plain(names[0])}{more}   (F9 or a touch: heard)")
    if lines:
        line = lines.first(AlarmLine)
        if line.content != words:
            line.update(words)
    else:
        screen.mount(AlarmLine(words, markup=False))
