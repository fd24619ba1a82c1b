"""Fields of a form: a label in words, a line to type on or a list to choose from."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.message import Message
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from benchconsole.console.widgets.cells import plain
from benchconsole.console.widgets.lines import Line, Lines

__all__ = ["FAULT_MARK", "Choice", "Entry", "Field", "Line", "Lines"]

FAULT_MARK = "▲"


class Choice(OptionList):
    """A short list; the chosen line carries a mark, and a letter goes to the next name with it.

    ``value`` is the id of the chosen option, empty while nothing is chosen.
    """

    BINDINGS: ClassVar[list[BindingType]] = []

    @dataclass
    class Changed(Message):
        """Another option is chosen."""

        choice: Choice

    @dataclass
    class Entered(Message):
        """Enter or a tap settled the choice."""

        choice: Choice

    def __init__(self, options: Sequence[tuple[str, str]] = (), value: str = "") -> None:
        super().__init__(markup=False)
        self._names: tuple[tuple[str, str], ...] = ()
        self._marked: int | None = None
        self.offer(options, value)

    @property
    def value(self) -> str:
        """The id of the chosen option."""
        return "" if self.highlighted is None else self._names[self.highlighted][0]

    @property
    def offered(self) -> tuple[tuple[str, str], ...]:
        """The options as (id, words)."""
        return self._names

    def offer(self, options: Sequence[tuple[str, str]], value: str = "") -> None:
        """Offer these (id, words), with one of them chosen."""
        if tuple(options) == self._names and value == self.value:
            return
        self._names = tuple(options)
        self._marked = None
        self.clear_options()
        self.add_options([Option(self._words(words, False)) for _, words in self._names])
        ids = [name for name, _ in self._names]
        self.highlighted = ids.index(value) if value in ids else None

    def watch_highlighted(self, highlighted: int | None) -> None:
        """Move the mark, which tells the choice without any colour."""
        super().watch_highlighted(highlighted)
        for place, chosen in ((self._marked, False), (highlighted, True)):
            if place is not None and place < len(self._names):
                self.replace_option_prompt_at_index(
                    place, self._words(self._names[place][1], chosen)
                )
        if self._marked != highlighted:
            self._marked = highlighted
            self.post_message(self.Changed(self))

    @staticmethod
    def _words(words: str, chosen: bool) -> Content:
        return Content(f"{'▸' if chosen else ' '} {plain(words)}")

    def on_option_list_option_selected(self, event: OptionList.OptionSelected) -> None:
        """Enter or a tap on a line."""
        event.stop()
        self.post_message(self.Entered(self))

    def on_option_list_option_highlighted(self, event: OptionList.OptionHighlighted) -> None:
        """Told by ``Changed`` instead."""
        event.stop()

    def on_key(self, event: events.Key) -> None:
        """A letter goes to the next option that begins with it; enter chooses the first at need."""
        if event.key == "enter" and self.highlighted is None and self._names:
            event.stop()
            event.prevent_default()
            self.highlighted = 0
            return
        letter = (event.character or "").casefold()
        if not letter.isalnum():
            return
        event.stop()
        here = -1 if self.highlighted is None else self.highlighted
        places = [*range(here + 1, len(self._names)), *range(here + 1)]
        for place in places:
            if self._names[place][1].casefold().startswith(letter):
                self.highlighted = place
                return


Entry = Line | Lines | Choice


class Field(Vertical):
    """A labelled entry; ``field`` is the word by which the desk names it in a refusal."""

    DEFAULT_CLASSES = "field"

    def __init__(self, field: str, label: str, entry: Entry, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self.field = field
        self._label = label
        self.entry = entry
        if not isinstance(entry, Choice):
            entry.called = field

    def compose(self) -> ComposeResult:
        """The label above the entry."""
        yield Static(Content(plain(self._label)), classes="label")
        yield self.entry

    def on_descendant_focus(self) -> None:
        """The label is seen with its entry."""
        self.call_after_refresh(self.scroll_visible, animate=False)

    @property
    def value(self) -> str:
        """What was typed or chosen."""
        return self.entry.text if isinstance(self.entry, Lines) else self.entry.value

    def accuse(self, faulty: bool) -> None:
        """Mark the field as the one a refusal speaks of, or take the mark away."""
        self.set_class(faulty, "-faulty")
        mark = f"{FAULT_MARK} " if faulty else ""
        self.query_one(".label", Static).update(Content(plain(f"{mark}{self._label}")))
