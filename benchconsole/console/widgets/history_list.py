"""The taps of a history, one line each: however many there are, only what is seen is worked out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import ClassVar, Literal

from rich.segment import Segment
from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Region, Size
from textual.message import Message
from textual.scroll_view import ScrollView
from textual.strip import Strip

from benchconsole.console.widgets.cells import fitted, plain
from benchconsole.console.widgets.marked_list import CHOSEN

Look = Literal["counts", "in-part", "gone"]


@dataclass(frozen=True)
class HistoryLine:
    """What a tap looks like: ``look`` tells again what the words say already."""

    words: str
    look: Look = "counts"


class HistoryList(ScrollView, can_focus=True):
    """Lines by the numbers of their taps; the picked one carries a mark."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {
        "history--counts",
        "history--in-part",
        "history--gone",
        "history--picked",
    }
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "step(-1)", "Newer tap", show=False),
        Binding("down", "step(1)", "Older tap", show=False),
        Binding("pageup", "page(-1)", "A page newer", show=False),
        Binding("pagedown", "page(1)", "A page older", show=False),
        Binding("home", "step(-9999999)", "Newest tap", show=False),
        Binding("end", "step(9999999)", "Oldest tap", show=False),
    ]

    @dataclass
    class Picked(Message):
        """Another tap carries the mark; 0 if there is none."""

        tap: int

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._taps: tuple[int, ...] = ()
        self._line: Callable[[int], HistoryLine] = lambda tap: HistoryLine("")
        self._place = 0

    @property
    def picked(self) -> int:
        """The number of the picked tap, 0 if there is none."""
        return self._taps[self._place] if self._taps else 0

    def show(self, taps: Sequence[int], line: Callable[[int], HistoryLine]) -> None:
        """Draw these taps, newest first; ``line`` is asked for each one that is seen.

        The picked tap stays picked while it is there, else the newest is.
        """
        before, self._taps, self._line = self.picked, tuple(taps), line
        # Newest first: the numbers fall.
        self._place = self._taps.index(before) if before in self._taps else 0
        self._measure()
        self.refresh()
        if self.picked != before:
            self.post_message(self.Picked(self.picked))

    def _measure(self) -> None:
        self.virtual_size = Size(self.scrollable_content_region.width, len(self._taps))

    def on_resize(self) -> None:
        """Lines are as wide as the list; the picked one stays in sight."""
        self._measure()
        self.refresh()
        self.call_after_refresh(self._show_picked)

    def action_step(self, by: int) -> None:
        """Move the mark by lines."""
        self.pick(self._place + by)

    def action_page(self, by: int) -> None:
        """Move the mark by as many lines as are seen."""
        self.pick(self._place + by * max(self.scrollable_content_region.height - 1, 1))

    def pick(self, place: int) -> None:
        """Move the mark to a place, the nearest there is."""
        place = min(max(place, 0), len(self._taps) - 1)
        if not self._taps or place == self._place:
            return
        before, self._place = self._place, place
        for each in (before, place):
            self.refresh(Region(0, each - self.scroll_offset.y, self.size.width, 1))
        self._show_picked()
        self.post_message(self.Picked(self.picked))

    def _show_picked(self) -> None:
        if self._taps:
            self.scroll_to_region(Region(0, self._place, 1, 1), animate=False, force=True)

    def on_click(self, event: events.Click) -> None:
        """Pick by mouse or finger."""
        inside = event.get_content_offset(self)
        if inside is not None and inside.y + self.scroll_offset.y < len(self._taps):
            self.pick(inside.y + self.scroll_offset.y)

    def render_line(self, y: int) -> Strip:
        """One line of the list."""
        width, place = self.scrollable_content_region.width, y + self.scroll_offset.y
        if place >= len(self._taps):
            return Strip.blank(width, self.rich_style)
        line = self._line(self._taps[place])
        style = self.get_component_rich_style(f"history--{line.look}")
        mark = " "
        if place == self._place:
            mark, style = CHOSEN, style + self.get_component_rich_style("history--picked")
        return Strip([Segment(fitted(f"{mark} {plain(line.words)}", width), style)], width)
