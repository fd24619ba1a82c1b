"""The line on top: the hour, how long the shop is open, what calls."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.content import Content
from textual.widgets import Static

from benchconsole.console.wording import at_the_wall

if TYPE_CHECKING:
    from benchconsole.desk.views import DayLine


class DayLineBar(Static):
    """One line, redrawn only when its words change."""

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__("Opening the shop …", id=id, markup=False)
        self._words = ""

    def show(self, day: DayLine, shop_name: str) -> None:
        """Draw the day line."""
        zone = day.now.tzinfo
        assert zone is not None
        if day.open_until is not None:
            hours = f"open until {at_the_wall(day.open_until, day.now, zone)}"
        elif day.opens_at is not None:
            hours = f"closed, opens {at_the_wall(day.opens_at, day.now, zone)}"
        else:
            hours = "closed"
        calls = [
            (day.overdue, "▲", "overdue", "$text-error"),
            (day.due, "●", "due", "$text-warning"),
            (day.ringing, "◆", "ringing", "$text-error"),
            (day.running, "◷", "running", "$text-success"),
        ]
        parts: list[Content | str | tuple[str, str]] = [
            (f" {day.now:%a %d %b %H:%M} ", "bold"),
            f" {hours}  ",
        ]
        for count, mark, word, colour in calls:
            if count:
                parts.append((f" {mark} {count} {word} ", f"bold {colour}"))
        words = Content.assemble(*parts, f"  {shop_name}")
        if words.plain != self._words:
            self._words = words.plain
            self.update(words)
