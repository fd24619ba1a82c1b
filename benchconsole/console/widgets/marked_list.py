"""What all lists with a mark on one line share: the mark, which tells the choice without colour."""

from __future__ import annotations

from typing import ClassVar

from textual import events
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.widgets import OptionList

CHOSEN = "▸"


class MarkedList(OptionList, inherit_bindings=False):
    """Lines of which one is marked; a subclass words them in :meth:`_words`.

    Enter and space are left to the screen's acts.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "cursor_up", "Line above", show=False),
        Binding("down", "cursor_down", "Line below", show=False),
        Binding("home", "first", "First line", show=False),
        Binding("end", "last", "Last line", show=False),
        Binding("pageup", "page_up", "A page up", show=False),
        Binding("pagedown", "page_down", "A page down", show=False),
    ]

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id, markup=False)
        self._marked: int | None = None

    def watch_highlighted(self, highlighted: int | None) -> None:
        """Move the mark."""
        super().watch_highlighted(highlighted)
        before, self._marked = self._marked, highlighted
        for place in {before, highlighted} - {None}:
            if place is not None and place < self.option_count:
                self._draw(place)

    def on_resize(self, event: events.Resize) -> None:
        """The lines are as wide as the list."""
        for place in range(self.option_count):
            self._draw(place)

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """The mark has moved already."""
        event.stop()

    def _mark_of(self, place: int) -> str:
        return CHOSEN if place == self._marked else " "

    def _draw(self, place: int) -> None:
        self.replace_option_prompt_at_index(place, self._words(place))

    def _words(self, place: int) -> Content:
        raise AssertionError("a list words its lines")
