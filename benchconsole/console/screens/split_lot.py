"""The form that lets some skins of a lot go on by themselves."""

from __future__ import annotations

from collections.abc import Iterable

from textual.containers import Horizontal
from textual.widget import Widget

from benchconsole.console.acts import Act
from benchconsole.console.screens.forms import FormScreen
from benchconsole.console.widgets.entries import Field, Line


class KeepSplit(Act["SplitLotScreen"]):
    """Split the lot; enter on the last field does the same."""

    keys = "f2"
    label = "Split"
    records = True
    while_typing = True

    def run(self, screen: SplitLotScreen) -> None:
        """Give it to the desk."""
        screen.attempt()


class SplitLotScreen(FormScreen[str]):
    """Dismissed with the sentence to show, or None."""

    ACTS = (KeepSplit,)
    keep = KeepSplit

    def __init__(self, hide_id: str) -> None:
        super().__init__()
        self.hide = hide_id

    def heading(self) -> str:
        """What it is about."""
        hide = self.console.desk.hides.get(self.hide)
        return f"Split {hide.name}, a lot of {hide.count}"

    def entries(self) -> Iterable[Widget]:
        """How many go, and what they are called from then on."""
        hide = self.console.desk.hides.get(self.hide)
        with Horizontal(classes="row"):
            yield Field(
                "count", f"How many go (of {hide.count})", Line("1", replace=True), id="count"
            )
            yield Field(
                "name",
                "Their name from now on",
                Line(f"{hide.name}, part", replace=True),
                id="name",
            )

    def hint(self) -> str:
        """What becomes of the two."""
        return "They stand where the lot stands, with its times and their share of its weight."

    def hand_in(self) -> str:
        """Split it; the sentence to show."""
        return self.console.desk.moves.split(
            self.hide, count=self.text("count"), name=self.text("name")
        )
