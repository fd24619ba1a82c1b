"""The line on top: the hour, how long the shop is open, what calls."""

from __future__ import annotations

from datetime import tzinfo
from typing import TYPE_CHECKING

from textual.content import Content
from textual.widgets import Static

from benchconsole.console.widgets.cells import plain
from benchconsole.console.wording import at_the_wall

if TYPE_CHECKING:
    from benchconsole.desk.views import DayLine

ROOM_FOR_GAPS = 100
"""From this many columns on the calls stand well apart, and a due round says for how many."""


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
            opens = at_the_wall(day.opens_at, day.now, zone)
            hours = f"{'away' if day.away else 'closed'}, opens {opens}"
        else:
            hours = "away" if day.away else "closed"
        narrow = self.size.width < ROOM_FOR_GAPS
        is_due = day.round_at is not None and day.round_at <= day.now
        coming = _round_words(day, zone, short=narrow)
        parts = [
            (f"{day.now:%a %d %b %H:%M}", "bold"),
            (hours, ""),
            *_call(day.overdue, "▲", "overdue", "$text-error"),
            *_call(day.due, "●", "due", "$text-warning"),
            *_call(day.ringing, "◆", "ringing", "$text-error"),
            *(coming if is_due else ()),
            *_call(day.running, "◷", "running", "$text-success"),
            *(() if is_due else coming),
            (plain(shop_name), ""),
        ]
        gap = " " if narrow else "  "
        words = Content(" ") + Content(gap).join(Content.styled(*part) for part in parts)
        if words.plain != self._words:
            self._words = words.plain
            self.update(words)


def _call(count: int, mark: str, word: str, colour: str) -> list[tuple[str, str]]:
    return [(f"{mark} {count} {word}", f"bold {colour}")] if count else []


def _round_words(day: DayLine, zone: tzinfo, *, short: bool) -> list[tuple[str, str]]:
    """When the next round is due, or for how many hides it is due now; a tap on it opens it."""
    opens = "@click=screen.act('GoRound')"
    if day.round_at is None:
        return []
    if day.round_at > day.now:
        return [(f"↻ round {at_the_wall(day.round_at, day.now, zone)}", f"bold {opens}")]
    hides = f": {day.round_hides} hide{'' if day.round_hides == 1 else 's'}"
    return [(f"↻ round due{'' if short else hides}", f"bold $text-warning {opens}")]
