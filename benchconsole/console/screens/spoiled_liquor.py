"""The form that says that a liquor can no longer be used."""

from __future__ import annotations

from collections.abc import Iterable

from textual.widget import Widget

from benchconsole.console.acts import Act
from benchconsole.console.screens.forms import FormScreen
from benchconsole.console.screens.writing import when
from benchconsole.console.widgets.entries import Choice, Field, Line
from benchconsole.model.weighing import Liquor


class KeepSpoiled(Act["SpoiledLiquorScreen"]):
    """Write it down; enter on the last field does the same."""

    keys = "f2"
    label = "Spoiled"
    records = True
    while_typing = True

    def run(self, screen: SpoiledLiquorScreen) -> None:
        """Give it to the desk."""
        screen.attempt()


class SpoiledLiquorScreen(FormScreen[str]):
    """Dismissed with the sentence to show, or None."""

    ACTS = (KeepSpoiled,)
    keep = KeepSpoiled

    def __init__(self, hide_id: str) -> None:
        super().__init__()
        self.hide = hide_id

    def heading(self) -> str:
        """What it is about."""
        return f"A liquor of {self.console.desk.hides.get(self.hide).name} is spoiled"

    def entries(self) -> Iterable[Widget]:
        """Which one, and why."""
        desk = self.console.desk
        liquors = desk.moves.usable_liquors(self.hide)
        lies_in = desk.hides.get(self.hide).lies_in_liquor
        offered = [(each.id, self._words(each, lies_in)) for each in liquors]
        yield Field("liquor", "Which liquor", Choice(offered, liquors[0].id), id="liquor")
        yield Field("why", "Why (for example: smells, gone slimy)", Line(), id="why")

    def _words(self, liquor: Liquor, lies_in: str) -> str:
        desk = self.console.desk
        made = when(liquor.made_at, desk.now(), desk.zone)
        now = ", it lies in it" if liquor.id == lies_in else ""
        return f"{liquor.id} {liquor.formula_name}, made {made}{now}"

    def hint(self) -> str:
        """What becomes of what lies in it."""
        return "Every hide that lies in it is to come out now; u on the card takes this back."

    def hand_in(self) -> str:
        """Write it down; the sentence to show."""
        return self.console.desk.moves.spoil(self.text("liquor"), self.text("why"))
