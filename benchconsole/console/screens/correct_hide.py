"""The form that writes down a hide's weight, or corrects its name and number."""

from __future__ import annotations

from collections.abc import Iterable

from textual.containers import Horizontal
from textual.widget import Widget

from benchconsole.console.acts import Act
from benchconsole.console.screens.forms import FormScreen
from benchconsole.console.widgets.entries import Field, Line
from benchconsole.quantities import format_mass


class KeepCorrection(Act["CorrectHideScreen"]):
    """Write it down; enter on the last field does the same."""

    keys = "f2"
    label = "Write down"
    records = True
    while_typing = True

    def run(self, screen: CorrectHideScreen) -> None:
        """Give it to the desk."""
        screen.attempt()


class CorrectHideScreen(FormScreen[str]):
    """Dismissed with the sentence to show, or None."""

    ACTS = (KeepCorrection,)
    keep = KeepCorrection

    def __init__(self, hide_id: str) -> None:
        super().__init__()
        self.hide = hide_id

    def heading(self) -> str:
        """What it is about."""
        return f"Weight and name of {self.console.desk.hides.get(self.hide).name}"

    def entries(self) -> Iterable[Widget]:
        """What is known of it now."""
        desk = self.console.desk
        hide, shop = desk.hides.get(self.hide), desk.shop
        weight = (
            ""
            if hide.mass_g is None
            else format_mass(hide.mass_g, measures=shop.measures, step_g=shop.scale.step_g)
        )
        of_all = "Weight of all together" if hide.count > 1 else "Weight"
        yield Field("weight", of_all, Line(weight, replace=True))
        with Horizontal(classes="row"):
            yield Field("name", "Name", Line(hide.name))
            yield Field("count", "How many", Line(str(hide.count), replace=True))

    def hint(self) -> str:
        """When it matters."""
        return "Weigh the hide as the recipe asks: drained and wet for a bath, green for salt."

    def hand_in(self) -> str:
        """Write it down; the sentence to show."""
        return self.console.desk.hides.correct(
            self.hide, name=self.text("name"), weight=self.text("weight"), count=self.text("count")
        )
