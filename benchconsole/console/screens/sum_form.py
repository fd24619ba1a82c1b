"""The form of any sum: what it asks for on one side, the answer at every keystroke on the other."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import PurePath
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.getters import query_one
from textual.widget import Widget
from textual.widgets import Button, Static

from benchconsole.console.acts import Act
from benchconsole.console.screens.forms import FormScreen, LeaveForm
from benchconsole.console.widgets.cells import plain
from benchconsole.console.widgets.entries import FAULT_MARK, Choice, Entry, Field, Line
from benchconsole.console.widgets.paper import BLANK, Paper, Written
from benchconsole.desk.sums import Answer, Sum, SumField, SumLook, look, sizes_example

if TYPE_CHECKING:
    from benchconsole.quantities import Measures

NOT_SAID = ("", "not said")
"""The option of a choice that may stay open."""


class ShowSumWorking(Act["SumScreen"]):
    """Show how the answer came about, with sources; enter on the last field does the same."""

    keys = "f2"
    label = "Working"
    while_typing = True

    def possible(self, screen: SumScreen) -> bool:
        """When there is an answer."""
        return screen.answer is not None

    def run(self, screen: SumScreen) -> None:
        """Open the working, or go to what keeps it from being worked out."""
        screen.attempt()


class SumFieldBox(Field):
    """A field with room for the sentence on what is wrong with it."""

    def compose(self) -> ComposeResult:
        """The label, the entry, the sentence."""
        yield from super().compose()
        yield Static("", classes="fault", markup=False)

    def blame(self, sentence: str) -> None:
        """Show what is wrong, or nothing."""
        fault = self.query_one(".fault", Static)
        if bool(sentence) != self.has_class("-faulty"):
            self.accuse(bool(sentence))
        fault.display = bool(sentence)
        fault.update(Content(plain(sentence)))


class SumScreen(FormScreen[None]):
    """One form for every sum; nothing that is typed here is stored."""

    CSS_PATH: ClassVar[str | PurePath | list[str | PurePath] | None] = "../styles/sums.tcss"
    ACTS = (ShowSumWorking,)
    keep = ShowSumWorking

    sheet = query_one("#answer", Paper)

    def __init__(self, asked: Sum) -> None:
        super().__init__()
        self.asked = asked
        self.answer: Answer | None = None
        self._seen: SumLook | None = None

    def heading(self) -> str:
        """Which sum, and what it is for."""
        return f"{self.asked.title}  ·  {self.asked.purpose}"

    def compose(self) -> ComposeResult:
        """Fields and answer side by side, the buttons below."""
        yield Static(Content(plain(self.heading())), classes="heading")
        with Horizontal(classes="halves"):
            with VerticalScroll(classes="entries", can_focus=False):
                yield from self.entries()
            yield Paper(id="answer")
        with Horizontal(classes="buttons"):
            yield Button(
                Content(f"{ShowSumWorking.label}  (F2)"),
                variant="primary",
                action="screen.act('ShowSumWorking')",
                classes="keep",
            )
            yield Button(Content(f"{LeaveForm.label}  (esc)"), action="screen.act('LeaveForm')")

    def entries(self) -> Iterable[Widget]:
        """A field for everything the sum asks for."""
        for field in self.asked.fields:
            yield SumFieldBox(field.id, field.label, self._entry(field), id=f"ask-{field.id}")

    def _entry(self, field: SumField) -> Entry:
        if field.choices:
            return Choice([*((NOT_SAID,) if field.optional else ()), *field.choices])
        line = Line()
        line.placeholder = field.prompt_in(self._measures)
        return line

    @property
    def _measures(self) -> Measures:
        return self.console.desk.shop.measures

    def on_mount(self) -> None:
        """Show at once what is asked for."""
        super().on_mount()
        self.call_after_refresh(self._draw)

    def attempt(self) -> None:
        """Open the working; without an answer, go to the field that keeps it away."""
        from benchconsole.console.screens.working import WorkingScreen

        self._draw(blame_all=True)
        if self.answer is not None:
            self.app.push_screen(WorkingScreen(self.asked.title, self.answer.workings))
            return
        faults = self._seen.faults if self._seen else {}
        for box in self.query(SumFieldBox):
            needed = not _field(self.asked, box.field).optional
            if box.field in faults or (needed and not box.value.strip()):
                box.entry.focus()
                return

    def forgive(self) -> None:
        """Something was typed or chosen: work it out again."""
        self._draw()

    def on_descendant_blur(self) -> None:
        """What is wrong with a field stands beside it once the keys have left it."""
        self.call_after_refresh(self._draw)

    def _draw(self, *, blame_all: bool = False) -> None:
        """While a quantity is being typed it is not yet wrong: only the sheet tells of it."""
        if not self.is_mounted:
            return
        boxes = list(self.query(SumFieldBox))
        texts = {box.field: box.value for box in boxes}
        seen = look(self.asked, texts, self.console.desk.shop, self.console.desk.library)
        self._seen, self.answer = seen, seen.answer
        for box in boxes:
            told = blame_all or not box.entry.has_focus
            box.blame(seen.faults.get(box.field, "") if told else "")
            if isinstance(box.entry, Line):
                field = _field(self.asked, box.field)
                sized = field.asks == "sizes" and texts.get("shape")
                example = sizes_example(texts["shape"], self._measures) if sized else ""
                box.entry.placeholder = field.prompt_in(self._measures, example)
        self.sheet.show(list(_written(seen)))


def _field(asked: Sum, field_id: str) -> SumField:
    return next(field for field in asked.fields if field.id == field_id)


def _written(seen: SumLook) -> Iterator[Written]:
    if seen.answer is not None:
        yield from _answer_lines(seen.answer)
        return
    for sentence in seen.faults.values():
        yield Written(f"{FAULT_MARK} {sentence}", "due", 2)
    if seen.faults and seen.wanted:
        yield BLANK
    if seen.wanted:
        yield Written("Still to be said", "head")
    for phrase in seen.wanted:
        yield Written(f"· {phrase}", hang=2)


def _answer_lines(answer: Answer) -> Iterator[Written]:
    yield Written(answer.says, "strong")
    if answer.lines:
        yield BLANK
    for line in answer.lines:
        yield Written(f"· {line}", hang=2)
    if answer.cautions:
        yield BLANK
    for caution in answer.cautions:
        yield Written(f"{FAULT_MARK} {caution}", "due", 2)
    yield BLANK
    yield Written("F2 shows how it was worked out, the sources, and how sure it is.", "soft")
