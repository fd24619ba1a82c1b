"""A sheet of writing that scrolls: long texts stay quick, since only what is seen is drawn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar, Literal

from rich.cells import cell_len
from rich.segment import Segment
from textual.content import Content
from textual.geometry import Size
from textual.scroll_view import ScrollView
from textual.strip import Strip

from benchconsole.console.widgets.cells import fitted, plain

Look = Literal["text", "head", "strong", "soft", "overdue", "due", "ready"]

WIDEST = 96
"""Cells in the longest line; wider ones are hard to follow with the eye."""


@dataclass(frozen=True)
class Written:
    """A paragraph: ``text`` wraps, and its later lines stand ``hang`` cells in."""

    text: str
    look: Look = "text"
    hang: int = 0


BLANK = Written("")


class Paper(ScrollView, can_focus=True):
    """Paragraphs one under the other; anything in them is shown as plain writing."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {
        "paper--text",
        "paper--head",
        "paper--strong",
        "paper--soft",
        "paper--overdue",
        "paper--due",
        "paper--ready",
    }

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._paragraphs: tuple[Written, ...] = ()
        self._lines: list[tuple[str, Look]] = []
        self._wrapped_at = 0

    @property
    def lines(self) -> list[str]:
        """The lines as they are wrapped now."""
        return [text for text, _ in self._lines]

    def show(self, paragraphs: Sequence[Written]) -> None:
        """Write these paragraphs; nothing happens when they are the ones there."""
        written = tuple(paragraphs)
        if written != self._paragraphs:
            self._paragraphs = written
            self._wrap()

    def on_resize(self) -> None:
        """Lines are as long as the sheet is wide."""
        self._fit()

    def _fit(self) -> None:
        """Wrap anew if the room is another, be it for a scroll bar that came or went."""
        if self._room() != self._wrapped_at:
            self._wrap()
        self._tell_more()

    def _room(self) -> int:
        return max(min(self.scrollable_content_region.width, WIDEST), 8)

    def _wrap(self) -> None:
        room = self._wrapped_at = self._room()
        self._lines = [
            (line, paragraph.look)
            for paragraph in self._paragraphs
            for line in wrapped(paragraph, room)
        ]
        self.virtual_size = Size(room, len(self._lines))
        self.refresh()
        self.call_after_refresh(self._fit)

    def watch_scroll_y(self, old_value: float, new_value: float) -> None:
        """Say whether there is more below."""
        super().watch_scroll_y(old_value, new_value)
        self._tell_more()

    def _tell_more(self) -> None:
        below = len(self._lines) - self.scroll_offset.y - self.scrollable_content_region.height
        self.border_subtitle = (
            f"▼ {below} more {'line' if below == 1 else 'lines'}" if below > 0 else ""
        )

    def render_line(self, y: int) -> Strip:
        """One line of the sheet."""
        width = self.size.width
        place = y + self.scroll_offset.y
        if place >= len(self._lines):
            return Strip.blank(width, self.rich_style)
        text, look = self._lines[place]
        style = self.get_component_rich_style(f"paper--{look}")
        return Strip([Segment(fitted(text, width), style)], width)


def wrapped(paragraph: Written, room: int) -> list[str]:
    """The lines of a paragraph in ``room`` cells; line ends in it are kept."""
    lines: list[str] = []
    for piece in paragraph.text.split("\n"):
        text = plain(piece.replace("\t", "    "))
        if len(text) * 2 <= room or cell_len(text) <= room:
            lines.append(text)
            continue
        hang = min(paragraph.hang, room // 2)
        first, *_ = Content(text).wrap(room)
        lines.append(first.plain.rstrip())
        rest = text[len(first.plain) :].lstrip(" ")
        if rest:
            blank = " " * hang
            lines += [blank + line.plain.rstrip() for line in Content(rest).wrap(room - hang)]
    return lines
