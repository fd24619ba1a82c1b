"""The mix pane: choose a formula and a target, and see the worksheet at every keystroke."""

from __future__ import annotations

from typing import TYPE_CHECKING

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
    from benchconsole.model.weighing import Plan


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

        self._desk = desk
        self._filling = True
        formulas = sorted(desk.library.formulas.values(), key=lambda formula: formula.name)
        self.query_one("#formula", Select).set_options(
            [(Text(plain(formula.name)), formula.id) for formula in formulas]
        )
        self.query_one("#target-kind", Select).set_options(
            [(words, kind) for kind, (words, _) in TARGET_KINDS.items()]
        )
        self._filling = False
        self.settings_changed()

    def settings_changed(self) -> None:
        """Measures, scale or water may differ: what is chosen stays and is worked out anew."""
        from benchconsole.quantities import format_temperature

        if self._desk is None:
            return
        shop = self._desk.shop
        # Of "59 °F (15 °C)" the first alone is what a person types.
        water = format_temperature(shop.water_celsius, measures=shop.measures).partition(" (")[0]
        with self.prevent(Input.Changed):
            self.query_one("#water", Input).value = water
        self.recompute()

    def open_formulas(self) -> None:
        """Open the list of formulas, ready to be searched by typing."""
        formulas = self.query_one("#formula", Select)
        formulas.focus()
        formulas.action_show_overlay()

    @property
    def is_untouched(self) -> bool:
        """Whether no formula is chosen."""
        return not isinstance(self.query_one("#formula", Select).value, str)

    def is_sheet_of(self, plan: Plan) -> bool:
        """Whether a weigh-out's plan is what the pane shows."""
        sheet = self.sheet
        return (
            sheet is not None
            and (sheet.formula.id, sheet.target_says) == (plan.formula, plan.target)
            and plan.hides == ((self.hide,) if self.hide else ())
        )

    def mix_for(self, hide: HideState, formula: str) -> None:
        """Choose what a hide's next action asks for, at the amount that fits the hide."""
        from benchconsole.mixing.target_kinds import ForHideMass, ForHides, kind_of
        from benchconsole.quantities import format_mass

        desk = self._desk
        assert desk is not None
        target = desk.target_for(hide, formula)
        kind = kind_of(target)
        text = ""
        if isinstance(target, ForHideMass):
            text = format_mass(target.mass_g, measures=desk.shop.measures, step_g=1.0)
        elif isinstance(target, ForHides):
            text = str(target.count)
        self._set(formula, kind, text)
        self.hide = hide.id
        self.recompute()

    def hide_changed(self, hide: HideState) -> None:
        """The hide it is mixed for weighs something else now."""
        formula = self.query_one("#formula", Select).value
        if self.hide == hide.id and isinstance(formula, str):
            self.mix_for(hide, formula)

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
        formula = self.query_one("#formula", Select).value
        chosen_anew = isinstance(event, Select.Changed) and event.select.id == "formula"
        if chosen_anew and self.sheet is None and isinstance(formula, str):
            # What the last formula was asked for may make no sense for this one.
            self._set(formula, "as-written", "")

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
            self._draw(Content.styled(plain(str(fault)), "$text-warning"))
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
        hide = self._desk.hides.get(self.hide)
        as_written = str(self.query_one("#target-kind", Select).value) == "as-written"
        if as_written and hide.mass_g is None and self._wants_weight():
            return f"{hide.name}: weight not known, the recipe as written (s: weight)"
        return f"{hide.name}: the recipe as written" if as_written else hide.name

    def _wants_weight(self) -> bool:
        from benchconsole.mixing.targets import wants_weight

        return self.sheet is not None and wants_weight(self.sheet.formula)

    def _draw(self, content: Content) -> None:
        self.query_one("#sheet", Static).update(content)
        self.call_after_refresh(self._tell_of_more)

    def _tell_of_more(self) -> None:
        """Say on the border that the sheet goes on below."""
        scroll = self.query_one("#sheet-scroll", VerticalScroll)
        below = scroll.max_scroll_y - scroll.scroll_offset.y
        self.border_subtitle = f"▼ {below} more lines" if below > 0 else ""

    def on_mount(self) -> None:
        """Follow the scrolling of the sheet."""
        scroll = self.query_one("#sheet-scroll", VerticalScroll)
        self.watch(scroll, "scroll_y", self._tell_of_more, init=False)

    def on_resize(self) -> None:
        """Another size shows more or less of it."""
        self.call_after_refresh(self._tell_of_more)
