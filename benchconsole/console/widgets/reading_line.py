"""A line that takes what a scale shows, typed at any moment, without ever having the focus.

It begins only with a digit, a decimal point or comma, or a minus. From then on letters belong
to it as well ("2 lb 8 oz", "4 gal"), until it is sent, cleared or wiped; while it is empty
every letter stays an act. So the keypad alone is enough, and no key has two meanings.
"""

from __future__ import annotations

from textual import events
from textual.content import Content
from textual.widgets import Static

LONGEST = 24
"""Characters in the longest reading that can be typed."""
_STARTS = frozenset("0123456789.,-−")
# A keypad's signs have names of their own, and under some terminals no character.
_KEYPAD = {
    "decimal": ".",
    "separator": ",",
    "subtract": "-",
    "minus": "-",
    "divide": "/",
    "full_stop": ".",
    "comma": ",",
    "slash": "/",
}
_WIPES = ("backspace", "ctrl+h", "delete")


class ReadingLine(Static):
    """Shows a prompt and what was typed so far."""

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id, markup=False)
        self.typed = ""
        self._prompt = ""
        self._hint = ""

    def take(self, event: events.Key) -> bool:
        """Whether the key was typing; then it has been typed."""
        if event.key in _WIPES and self.typed:
            self.typed = self.typed[:-1]
        else:
            mark = _KEYPAD.get(event.key) or (event.character if event.is_printable else None)
            if mark is None or len(mark) != 1:
                return False
            if not self.typed and mark not in _STARTS:
                return False
            self.typed = (self.typed + mark)[:LONGEST]
        self._draw()
        return True

    def ask(self, prompt: str, hint: str) -> None:
        """The words before the typed text, and those in its place while there is none."""
        self._prompt, self._hint = prompt, hint
        self._draw()

    def clear(self) -> None:
        """Forget what was typed."""
        self.typed = ""
        self._draw()

    def _draw(self) -> None:
        self.set_class(bool(self.typed), "-typing")
        tail = f"{self.typed}▌  enter sends it, escape wipes it" if self.typed else self._hint
        self.update(Content(f"{self._prompt} {tail}"))
