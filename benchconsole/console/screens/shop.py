"""The shop's settings: measures, scale, jug, water, hours."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from textual.containers import Horizontal
from textual.widget import Widget

from benchconsole.console.acts import Act
from benchconsole.console.screens.forms import FormScreen
from benchconsole.console.widgets.entries import Choice, Field, Line

MEASURES = (
    ("us", "US: a gallon is 3.785 L, 128 US fl oz"),
    ("imperial", "imperial: a gallon is 4.546 L, 160 imp fl oz"),
    ("metric", "metric: grams and litres; a gallon must say whose"),
)
SHOWS = (
    ("g", "g: grams, 1134 g"),
    ("kg", "kg: kilograms, 1.134 kg"),
    ("oz", "oz: ounces, 40.0 oz"),
    ("lb oz", "lb oz: pounds, 2 lb 8.0 oz"),
)
CALENDAR = (
    ("hours", "Open, such as Mon-Fri 8-12, 13-17, first Sunday 9-12"),
    ("closed", "Closed, such as 24 Dec - 1 Jan, 3 May, every first Monday"),
    ("extra", "Open besides, such as 6 Dec 9-12 (also on a closed day)"),
    ("away", "You are away, such as 3-6 Dec, or 3 Dec 14:00 - 6 Dec 9:00"),
)
BELL = (("yes", "yes, ring the bell when a time is up"), ("no", "no, show it only"))


class KeepShop(Act["ShopScreen"]):
    """Keep the settings as they stand on the form; enter on the last field does the same."""

    keys = "f2"
    label = "Keep"
    records = True
    while_typing = True

    def run(self, screen: ShopScreen) -> None:
        """Give them to the desk."""
        screen.attempt()


class ShopScreen(FormScreen[str]):
    """Dismissed with a sentence when something was kept, or None."""

    ACTS = (KeepShop,)
    keep = KeepShop

    def heading(self) -> str:
        """What it is about."""
        return "Your shop: every worksheet and every time is made for this"

    def entries(self) -> Iterable[Widget]:
        """Every setting; what is not touched stays exactly as it is."""
        now = self.console.desk.settings.texts()
        yield Field("name", "Name", Line(now["name"]))
        yield Field("measures", "Measures", Choice(MEASURES, now["measures"]))
        with Horizontal(classes="row"):
            yield Field("scale step", "Scale steps by, such as 1 g", Line(now["scale step"]))
            yield Field(
                "scale capacity", "Scale carries, such as 5 kg", Line(now["scale capacity"])
            )
        yield Field("scale shows", "The scale shows", Choice(SHOWS, now["scale shows"]))
        with Horizontal(classes="row"):
            yield Field("jug", "Jug, such as 2 gal", Line(now["jug"]))
            yield Field("tub", "Largest tub", Line(now["tub"]))
            yield Field("water", "Tap water, as 12 °C", Line(now["water"]))
        yield from self._calendar(now)
        with Horizontal(classes="row"):
            yield Field("hands", "Pairs of hands, 1 to 9", Line(now["hands"]))
            yield Field("vessels", "Vessels, such as 3 tubs, 4 boards", Line(now["vessels"]))
        yield Field(
            "air", "Air where hides dry, such as 18 °C, 60 %, still/moving/fan", Line(now["air"])
        )
        yield Field(
            "zone", "Time zone, such as Europe/Lisbon (empty: this computer's)", Line(now["zone"])
        )
        yield Field("bell", "Bell", Choice(BELL, now["bell"]))

    @staticmethod
    def _calendar(now: Mapping[str, str]) -> Iterable[Field]:
        """When the shop is open, and when it is not."""
        for field, label in CALENDAR:
            yield Field(field, label, Line(now[field]))

    def hint(self) -> str:
        """How to get through it."""
        return "Enter goes on; scroll for more. F2 keeps all; u on the bench takes it back."

    def hand_in(self) -> str:
        """Keep them all."""
        fields = {field.field: field.value for field in self.query(Field)}
        self.console.desk.settings.set(fields)
        return "The shop's settings are kept"
