"""A list of things to tick: the chosen line carries one mark, the ticked ones another."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from textwrap import wrap

from textual.content import Content
from textual.message import Message
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from benchconsole.console.widgets.cells import plain
from benchconsole.console.widgets.marked_list import MarkedList

TICKED, UNTICKED = "[x]", "[ ]"
HANG = " " * 6
"""What stands below a line is as far in as its words."""


@dataclass(frozen=True)
class TickLine:
    """One thing to tick, or a heading (``id`` empty); ``below`` are further lines under it."""

    id: str
    words: str
    below: tuple[str, ...] = ()


class TickList(MarkedList):
    """Things to tick, under headings; enter and space are left to the screen's acts."""

    @dataclass
    class Tapped(Message):
        """A line was tapped with mouse or finger."""

        line: str

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._offered: tuple[TickLine, ...] = ()
        self._ticked: frozenset[str] = frozenset()

    @property
    def chosen(self) -> str:
        """The id of the chosen line, empty if there is none."""
        return "" if self.highlighted is None else self._offered[self.highlighted].id

    def show(self, lines: Sequence[TickLine], ticked: frozenset[str]) -> None:
        """Draw these; the chosen line stays chosen while it is there, else the first is."""
        before, ticks_before = self._offered, self._ticked
        self._offered, self._ticked = tuple(lines), ticked
        if before == self._offered:
            for place, line in enumerate(self._offered):
                if (line.id in ticked) != (line.id in ticks_before):
                    self._draw(place)
            return
        chosen = next((b.id for p, b in enumerate(before) if p == self.highlighted), "")
        self._marked = None
        self.clear_options()
        self.add_options(
            [Option(self._words(at), disabled=not line.id) for at, line in enumerate(lines)]
        )
        places = {line.id: place for place, line in enumerate(self._offered) if line.id}
        self.highlighted = places.get(chosen, min(places.values(), default=None))

    def watch_highlighted(self, highlighted: int | None) -> None:
        """Move the mark; the heading above is seen with its first line."""
        super().watch_highlighted(highlighted)
        if highlighted is not None and highlighted <= 1:
            self.scroll_to(y=0, animate=False)

    def _words(self, place: int) -> Content:
        line = self._offered[place]
        if not line.id:
            return Content.styled(plain(line.words), "bold")
        tick = TICKED if line.id in self._ticked else UNTICKED
        rows = [Content.styled(f"{self._mark_of(place)} {tick} {plain(line.words)}", "bold")]
        width = max(self.scrollable_content_region.width - len(HANG), len(HANG))
        for below in line.below:
            rows += [Content(f"{HANG}{row}") for row in wrap(plain(below), width)]
        return Content("\n").join(rows)

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """A tap on a line."""
        event.stop()
        self.post_message(self.Tapped(self._offered[event.option_index].id))
