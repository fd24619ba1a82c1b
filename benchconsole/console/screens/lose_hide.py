"""The form that takes a hide out of work."""

from __future__ import annotations

from collections.abc import Iterable

from textual.widget import Widget

from benchconsole.console.acts import Act
from benchconsole.console.screens.forms import FormScreen
from benchconsole.console.widgets.entries import Field, Line


class KeepLoss(Act["LoseHideScreen"]):
    """Take the hide out of work; enter does the same."""

    keys = "f2"
    label = "Take out"
    records = True
    while_typing = True

    def run(self, screen: LoseHideScreen) -> None:
        """Give it to the desk."""
        screen.attempt()


class LoseHideScreen(FormScreen[str]):
    """Dismissed with the sentence to show, or None."""

    ACTS = (KeepLoss,)
    keep = KeepLoss

    def __init__(self, hide_id: str) -> None:
        super().__init__()
        self.hide = hide_id

    def heading(self) -> str:
        """What it is about."""
        return f"Take {self.console.desk.hides.get(self.hide).name} out of work"

    def entries(self) -> Iterable[Widget]:
        """Why."""
        yield Field("why", "Why (for example: hair slips; sold raw)", Line(), id="why")

    def hint(self) -> str:
        """What becomes of it."""
        return "Nothing more is asked for it; its card stays, and u on the card takes this back."

    def hand_in(self) -> str:
        """Take it out; the sentence to show."""
        return self.console.desk.moves.out_of_work(self.hide, self.text("why"))
