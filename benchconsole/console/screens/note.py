"""A remark on a hide's card."""

from __future__ import annotations

from collections.abc import Iterable

from textual.widget import Widget

from benchconsole.console.acts import Act
from benchconsole.console.screens.forms import FormScreen
from benchconsole.console.widgets.entries import Field, Lines


class KeepNote(Act["NoteScreen"]):
    """Write the remark on the card; enter does the same."""

    keys = "f2"
    label = "Write down"
    records = True
    while_typing = True

    def run(self, screen: NoteScreen) -> None:
        """Give it to the desk."""
        screen.attempt()


class NoteScreen(FormScreen[str]):
    """Dismissed with the sentence to show, or None."""

    ACTS = (KeepNote,)
    keep = KeepNote

    def __init__(self, hide_id: str) -> None:
        super().__init__()
        self._hide = hide_id

    def heading(self) -> str:
        """Whose card it is written on."""
        return f"A note about {self.console.desk.hides.get(self._hide).name}"

    def entries(self) -> Iterable[Widget]:
        """Room for a few lines."""
        yield Field("note", "Note (for example: belly thin, watch it)", Lines(), id="note")

    def hint(self) -> str:
        """What enter does here."""
        return "Enter writes it down, with the time."

    def hand_in(self) -> str:
        """Write it down; the sentence to show."""
        return str(self.console.desk.hides.note(self._hide, self.text("note")))
