"""A list of which one line is picked: the line carries a mark, and what is below hangs in."""

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


@dataclass(frozen=True)
class PickLine:
    """One line; later rows of long words hang in by ``hang`` cells."""

    id: str
    words: str
    hang: int = 0


class PickList(MarkedList):
    """Lines to pick one from; enter is left to the screen's acts, a tap picks."""

    @dataclass
    class Picked(Message):
        """Another line carries the mark."""

        line: str

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._offered: tuple[PickLine, ...] = ()

    @property
    def picked(self) -> str:
        """The id of the picked line, empty if there is none."""
        return "" if self.highlighted is None else self._offered[self.highlighted].id

    def show(self, lines: Sequence[PickLine], picked: str = "") -> None:
        """Draw these lines with one of them picked, the first if ``picked`` is none of them."""
        self._offered, self._marked = tuple(lines), None
        self.clear_options()
        self.add_options([Option(self._words(place)) for place in range(len(lines))])
        ids = [line.id for line in lines]
        self.highlighted = ids.index(picked) if picked in ids else (0 if ids else None)

    def watch_highlighted(self, highlighted: int | None) -> None:
        """Move the mark, and tell of it."""
        super().watch_highlighted(highlighted)
        if highlighted is not None:
            self.post_message(self.Picked(self.picked))

    def _words(self, place: int) -> Content:
        line = self._offered[place]
        width = max(self.scrollable_content_region.width, 20)
        rows = wrap(
            f"{self._mark_of(place)} {plain(line.words)}",
            width,
            subsequent_indent=" " * min(line.hang + 2, width // 2),
            drop_whitespace=True,
            replace_whitespace=False,
        )
        return Content("\n".join(rows))

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """A tap has moved the mark already; what becomes of it is the screen's."""
        event.stop()
