"""Lines to type on: they keep what was typed to the letter, and draw what is safe to draw.

What may not be stored is refused by the desk, in a sentence, and not quietly altered here.
"""

from __future__ import annotations

from dataclasses import dataclass

from rich.cells import cell_len
from rich.text import Text
from textual import events
from textual.document._document import EditResult
from textual.message import Message
from textual.widgets import Input, TextArea
from textual.widgets.text_area import Edit

from benchconsole.errors import BadInput
from benchconsole.letters import DOT, shown_one_for_one

LONGEST_PASTE = 20_000
"""Characters of a paste that is taken at all: many times the longest text of any field."""

_STAND_INS = 0xF0000
"""The first of Unicode's private letters (plane 15) that stand for others while they are edited."""


@dataclass
class PasteRefused(Message):
    """More was pasted than any field holds."""

    fault: BadInput


def _taken(event: events.Paste, entry: Line | Lines) -> bool:
    """Whether a paste has a size to be taken; the form is told otherwise."""
    event.prevent_default()
    event.stop()
    if len(event.text) <= LONGEST_PASTE:
        return True
    words = f"what was pasted has {len(event.text):,} characters, more than {LONGEST_PASTE:,}"
    entry.post_message(PasteRefused(BadInput(entry.called, words, "a few words")))
    return False


class Line(Input):
    """One line to type on; what would move the cursor or turn the writing is drawn as a dot.

    ``called`` is the word for it in a refusal.
    """

    called = "paste"

    def __init__(self, value: str = "", *, replace: bool = False) -> None:
        """``replace``: what is typed takes the place of what stands there."""
        super().__init__(value, select_on_focus=replace)

    def _forward_event(self, event: events.Event) -> None:
        """Enter moves on before the next key is given out.

        The keys of a quick hand, or of a scale that types, reach us all at once; those after
        enter would still be ours if the focus only moved when we came to read the enter.
        """
        moves_on = getattr(self.screen, "moves_on", None)
        is_enter = isinstance(event, events.Key) and event.key == "enter"
        if not (is_enter and moves_on is not None and moves_on(self)):
            super()._forward_event(event)

    def on_paste(self, event: events.Paste) -> None:
        """All of it is taken, line ends inside too: the desk says what it makes of them."""
        if _taken(event, self):
            self.replace(event.text.strip("\r\n"), *self.selection)

    # Each letter of the value has one in the drawing, so that the cursor stands where it belongs.

    @property
    def _value(self) -> Text:
        return Text(shown_one_for_one(self.value), no_wrap=True, overflow="ignore", end="")

    def _position_to_cell(self, position: int) -> int:
        return cell_len(shown_one_for_one(self.value[:position]))

    def _cell_offset_to_index(self, offset: int) -> int:
        wanted, drawn = offset + self.scroll_offset.x, shown_one_for_one(self.value)
        cells = 0
        for index, letter in enumerate(drawn):
            cells += cell_len(letter)
            if wanted < cells:
                return index
        return len(drawn)


class Lines(TextArea):
    """Several lines to type on, without code's habits; enter hands it in, pasted lines stay.

    A text area lays its lines out by the letters in its document. So the letters that are not
    drawn as they are (a joiner, a tab) are kept in there as private letters of one cell, which
    stand for them until the text is asked for.
    """

    called = "paste"

    @dataclass
    class Entered(Message):
        """Enter was pressed: the text is ready."""

        lines: Lines

    def __init__(self, text: str = "") -> None:
        self._stand_in: dict[int, str] = {}
        self._stands_for: dict[int, str] = {}
        super().__init__(text, soft_wrap=True, tab_behavior="focus", highlight_cursor_line=False)

    def on_key(self, event: events.Key) -> None:
        """Enter is for handing in, as on every other form."""
        if event.key == "enter":
            event.prevent_default()
            event.stop()
            self.post_message(self.Entered(self))

    def on_paste(self, event: events.Paste) -> None:
        """All of it is taken, its lines kept."""
        if _taken(event, self):
            self.insert(event.text)

    @property
    def text(self) -> str:
        """The text to the letter."""
        return self.document.text.translate(self._stands_for)

    @text.setter
    def text(self, value: str) -> None:
        self.load_text(value)

    def get_text_range(self, start: tuple[int, int], end: tuple[int, int]) -> str:
        """A piece of the text to the letter, for the clipboard."""
        return super().get_text_range(start, end).translate(self._stands_for)

    def load_text(self, text: str) -> None:
        """Put a text in the place of what stands there."""
        super().load_text(self._stood_in(text))

    def edit(self, edit: Edit) -> EditResult:
        """Every change of the text, whether typed or pasted."""
        edit.text = self._stood_in(edit.text)
        return super().edit(edit)

    def get_line(self, line_index: int) -> Text:
        """A line as it is drawn."""
        line = self.document.get_line(line_index).translate(dict.fromkeys(self._stands_for, DOT))
        return Text(line, end="", no_wrap=True)

    def _stood_in(self, text: str) -> str:
        text = text.replace("\r\n", "\n")
        if text.isascii() and text.replace("\n", "").isprintable():
            return text
        drawn = shown_one_for_one(text)
        return "".join(
            letter if letter in ("\n", shows) else self._private(letter)
            for letter, shows in zip(text, drawn, strict=True)
        )

    def _private(self, letter: str) -> str:
        code = ord(letter)
        if code not in self._stand_in:
            private = _STAND_INS + len(self._stand_in)
            self._stand_in[code], self._stands_for[private] = chr(private), letter
        return self._stand_in[code]
