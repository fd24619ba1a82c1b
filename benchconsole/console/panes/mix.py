"""The mix pane: choose a formula and a target, and see the worksheet at every keystroke."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from rich.text import Text
from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Input, Select, Static

from benchconsole.console.panes.worksheet_text import worksheet_content
from benchconsole.console.widgets.cells import plain
from benchconsole.errors import BenchError

if TYPE_CHECKING:
    from benchconsole.desk import Desk
    from benchconsole.mixing.worksheet import Worksheet
    from benchconsole.model.state import HideState


class MixPane(Vertical):
    """A live calculator; ``sheet`` is the worksheet shown, None while something is wrong."""

    BORDER_TITLE = "Mix"

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self.sheet: Worksheet | None = None
        self.hide = ""
        """The hide it is mixed for, empty when for none in particular."""
        self._desk: Desk | None = None
        self._filling = False

    def compose(self) -> ComposeResult:
        """Formula, target, water; then the worksheet."""
        yield Select([], prompt="choose a formula", id="formula", compact=True)
        with Horizontal(id="target-row"):
            yield Select(
                [("as written", "as-written")], allow_blank=False, id="target-kind", compact=True
            )
            yield Input(id="target-text", compact=True)
        with Horizontal(id="water-row"):
            yield Static("water at hand", id="water-label", markup=False)
            yield Input(id="water", compact=True)
        with VerticalScroll(id="sheet-scroll", can_focus=True):
            yield Static("", id="sheet", markup=False)

    def open(self, desk: Desk) -> None:
        """Fill the choices, once the desk is there."""
        from benchconsole.mixing.targets import TARGET_KINDS
        from benchconsole.quantities import format_temperature

        self._desk = desk
        self._filling = True
        formulas = sorted(desk.library.formulas.values(), key=lambda formula: formula.name)
        self.query_one("#formula", Select).set_options(
            [(Text(plain(formula.name)), formula.id) for formula in formulas]
        )
        self.query_one("#target-kind", Select).set_options(
            [(words, kind) for kind, (words, _) in TARGET_KINDS.items()]
        )
        water = format_temperature(desk.shop.water_celsius, measures="metric")
        self.query_one("#water", Input).value = water
        self._filling = False
        self.recompute()

    def show_formula(self, formula: str) -> None:
        """Choose a formula as written."""
        self._set(formula, "as-written", "")

    def mix_for(self, hide: HideState, formula: str) -> None:
        """Choose what a hide's next action asks for, at the amount that fits the hide."""
        from benchconsole.quantities import format_mass

        desk = self._desk
        assert desk is not None
        target: Any = desk.target_for(hide, formula)
        kind = target.__struct_config__.tag
        text = ""
        if kind == "hide-mass":
            text = format_mass(target.mass_g, measures=desk.shop.measures, step_g=1.0)
        elif kind == "hides":
            text = str(target.count)
        self._set(formula, kind, text)
        self.hide = hide.id
        self.recompute()

    def _set(self, formula: str, kind: str, text: str) -> None:
        self._filling = True
        self.hide = ""
        with self.prevent(Select.Changed, Input.Changed):
            self.query_one("#formula", Select).value = formula
            self.query_one("#target-kind", Select).value = kind
            self.query_one("#target-text", Input).value = text
        self._filling = False
        self.recompute()

    @on(Select.Changed)
    @on(Input.Changed)
    def _typed(self, event: Select.Changed | Input.Changed) -> None:
        event.stop()
        if isinstance(event, Select.Changed) and event.select.id == "formula":
            self.hide = ""
        if isinstance(event, Select.Changed) and event.select.id == "target-kind":
            self._offer_example()
        self.recompute()

    def _offer_example(self) -> None:
        """An amount of the kind just chosen, so that no kind starts from an error."""
        from benchconsole.mixing.targets import TARGET_KINDS

        kind = self.query_one("#target-kind", Select).value
        target = self.query_one("#target-text", Input)
        example = TARGET_KINDS.get(str(kind), ("", ""))[1]
        if self._desk is not None and self._desk.shop.measures == "metric":
            example = {"make": "20 L"}.get(str(kind), example)
        with self.prevent(Input.Changed):
            target.value = example
        target.disabled = not example

    @on(Input.Submitted)
    def _entered(self, event: Input.Submitted) -> None:
        event.stop()
        self.screen.focus_next()

    def recompute(self) -> None:
        """The worksheet of what is chosen and typed, or the sentence that says what is wrong."""
        if self._desk is None or self._filling:
            return
        formula = self.query_one("#formula", Select).value
        kind = str(self.query_one("#target-kind", Select).value)
        self.query_one("#target-text", Input).disabled = kind == "as-written"
        if not isinstance(formula, str):
            self.sheet = None
            self._draw(Content("Choose a formula, or press m on a hide that needs a mix."))
            return
        try:
            self.sheet = self._computed(self._desk, formula, kind)
        except BenchError as fault:
            self.sheet = None
            self._draw(Content.styled(str(fault), "$text-warning"))
            return
        self._draw(worksheet_content(self.sheet, self._desk.shop, self._for_words()))

    def _computed(self, desk: Desk, formula: str, kind: str) -> Worksheet:
        from benchconsole.mixing.targets import read_target
        from benchconsole.quantities import read_temperature

        hide = desk.hides.get(self.hide) if self.hide else None
        target = read_target(
            kind,
            self.query_one("#target-text", Input).value,
            measures=desk.shop.measures,
            species=hide.species if hide is not None and kind == "hides" else "",
        )
        water = self.query_one("#water", Input).value
        return desk.worksheet(
            formula, target, water_celsius=read_temperature(water, field="water temperature")
        )

    def _for_words(self) -> str:
        if not self.hide or self._desk is None:
            return ""
        return self._desk.hides.get(self.hide).name

    def _draw(self, content: Content) -> None:
        self.query_one("#sheet", Static).update(content)
