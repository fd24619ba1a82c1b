"""The drying page: a hide's moisture curve, when it is damp or soft, and its weighings."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.containers import Container, Horizontal
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from benchconsole.console.acts import Act
from benchconsole.console.screens.forms import FormScreen
from benchconsole.console.screens.history_acts import PutBackOfHide
from benchconsole.console.screens.pages import PageScreen
from benchconsole.console.screens.writing import when
from benchconsole.console.widgets.act_buttons import act_buttons
from benchconsole.console.widgets.cells import plain
from benchconsole.console.widgets.curve import CurvePicture
from benchconsole.console.widgets.entries import Field, Line
from benchconsole.console.widgets.paper import BLANK, Paper, Written
from benchconsole.errors import BenchError
from benchconsole.quantities import format_mass

if TYPE_CHECKING:
    from benchconsole.desk.drying import DryingView

BOUNCE_S = 1.0
"""No one covers a hide and lays it open again within a second. Our own choice, no source."""
COVER_NOW = {"open": "lies open", "loose": "loosely covered", "plastic": "under plastic"}


class WeighNow(Act["DryingScreen"]):
    """Write down what the hide weighs now: each weighing makes the forecast surer."""

    keys = "s"
    label = "Weigh"
    records = True

    def run(self, screen: DryingScreen) -> None:
        """Open the form."""
        screen.app.push_screen(WeighDryingScreen(screen.hide), screen.told)


class PlasticOnOff(Act["DryingScreen"]):
    """Say that the hide was put under plastic, or laid open again."""

    keys = "p"
    label = "Plastic"
    records = True
    settle_s = BOUNCE_S

    def run(self, screen: DryingScreen) -> None:
        """Note it."""
        screen.cover_with("plastic")


class ClothOnOff(Act["DryingScreen"]):
    """Say that the hide was loosely covered with cloth or paper, or laid open again."""

    keys = "l"
    label = "Cloth"
    records = True
    settle_s = BOUNCE_S
    has_button = False

    def run(self, screen: DryingScreen) -> None:
        """Note it."""
        screen.cover_with("loose")


class DryingWorking(Act["DryingScreen"]):
    """How the forecast came about: air, rate, curve, and what the states are called by."""

    keys = "k"
    label = "Working"

    def run(self, screen: DryingScreen) -> None:
        """Open the working."""
        from benchconsole.console.screens.working import WorkingScreen

        view = screen.console.desk.drying.forecast(screen.hide)
        screen.app.push_screen(WorkingScreen(f"drying of {view.hide.name}", view.workings))


class UndoDrying(Act["DryingScreen"]):
    """Take back the last tap about this hide: a weighing, a cover, or what was before."""

    keys = "u"
    label = "Undo"
    records = True

    def run(self, screen: DryingScreen) -> None:
        """Take it back."""
        screen.told(screen.console.desk.hides.undo(screen.hide, taking_in=False))


class DryingScreen(PageScreen):
    """The curve of one hide in a stage that dries it."""

    ACTS = (WeighNow, PlasticOnOff, ClothOnOff, DryingWorking, UndoDrying, PutBackOfHide)
    AUTO_FOCUS: ClassVar[str] = "#left"

    def __init__(self, hide_id: str) -> None:
        super().__init__()
        self.hide = hide_id
        self._view: DryingView | None = None

    def compose(self) -> ComposeResult:
        """Heading, the picture and the words beside or below it, a button for every act."""
        yield Static(id="heading", classes="heading")
        with Container(classes="sheets"):
            yield CurvePicture(id="curve")
            yield Paper(id="left")
        with Horizontal(classes="buttons"):
            for button in act_buttons(self.acts()):
                # It gives way first where six do not fit.
                button.set_class(
                    button.action == f"screen.act('{DryingWorking.__name__}')", "spare"
                )
                yield button

    def told(self, sentence: str | None) -> None:
        """Show what a tap did."""
        if sentence:
            self.tell(sentence)
        self.look_again()

    def cover_with(self, cover: str) -> None:
        """Cover the hide so, or lay it open if it lies so already."""
        drying = self.console.desk.drying
        now = drying.cover_of(self.console.desk.hides.get(self.hide))
        self.told(drying.cover(self.hide, "open" if now == cover else cover))

    def write(self) -> None:
        """Ask for the forecast once; a hide that has left the stage has none any more."""
        try:
            self._view = self.console.desk.drying.forecast(self.hide)
        except BenchError as fault:
            self.tell(str(fault), fault=True)
            self.dismiss(None)
            return
        self.query_one("#heading", Static).update(Content(plain(self.heading())))
        self.query_one("#left", Paper).show(list(self.left()))
        picture = self.query_one(CurvePicture)
        picture.display = bool(self._view.forecast.band)
        picture.show(self._view.forecast, self.console.desk.zone)

    @property
    def view(self) -> DryingView:
        """The forecast as it stands."""
        assert self._view is not None, "it is asked for before the page is written"
        return self._view

    def heading(self) -> str:
        """Name, cover, the moisture it should have now."""
        view = self.view
        words = [f"Drying  ·  {view.hide.name}"]
        cover = COVER_NOW[view.forecast.cover]
        words.append(cover if view.begun else f"“{view.stage_name}” as if begun now")
        if (now := view.forecast.now) is not None:
            low, mid, high = (100 * share for share in (now.low, now.mid, now.high))
            words.append(f"now {mid:.0f} % moist ({low:.0f} to {high:.0f} %)")
        return "  ·  ".join(words)

    def left(self) -> Sequence[Written]:
        """When it is what, when to look, and the weighings."""
        first, *others = self.view.words
        return [
            Written(first, "due" if self.view.forecast.unknown else "strong", 2),
            *self._looks(),
            *(Written(words, hang=2) for words in others),
            *self._weighings(),
        ]

    def _looks(self) -> Iterator[Written]:
        desk = self.console.desk
        if self.view.looks:
            told = "; ".join(
                f"{when(look.at, desk.now(), desk.zone)} ({look.why})" for look in self.view.looks
            )
            yield Written(f"Look at it: {told}.", "strong", 2)

    def _weighings(self) -> Iterator[Written]:
        desk = self.console.desk
        if not self.view.forecast.weighings:
            return
        yield BLANK
        yield Written("WEIGHINGS, newest first", "head")
        for each in reversed(self.view.forecast.weighings):
            mass = format_mass(
                each.mass_g, measures=desk.shop.measures, step_g=desk.shop.scale.step_g
            )
            at = when(each.at, desk.now(), desk.zone)
            yield Written(f"● {at:<12}  {mass}, about {100 * each.moisture:.0f} % moist", hang=16)


class KeepWeighing(Act["WeighDryingScreen"]):
    """Write the weight down, with the time; enter does the same."""

    keys = "f2"
    label = "Write down"
    records = True
    while_typing = True

    def run(self, screen: WeighDryingScreen) -> None:
        """Give it to the desk."""
        screen.attempt()


class WeighDryingScreen(FormScreen[str]):
    """Dismissed with the sentence to show, or None."""

    ACTS = (KeepWeighing,)
    keep = KeepWeighing

    def __init__(self, hide_id: str) -> None:
        super().__init__()
        self._hide = hide_id

    def heading(self) -> str:
        """Whose weight it is."""
        return f"What {self.console.desk.hides.get(self._hide).name} weighs now"

    def entries(self) -> Iterable[Widget]:
        """The weight alone."""
        example = "1480 g" if self.console.desk.shop.measures == "metric" else "3 lb 4 oz"
        lot = self.console.desk.hides.get(self._hide).count > 1
        yield Field(
            "weight", f"Weight{' of all together' if lot else ''}, such as {example}", Line()
        )

    def hint(self) -> str:
        """How to weigh so that it is of use."""
        return "The hide alone, or less its frame; each time the same way."

    def hand_in(self) -> str:
        """Write it down; the sentence to show."""
        return self.console.desk.drying.weigh(self._hide, self.text("weight"))
