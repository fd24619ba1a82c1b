"""What all forms share: fields, one sentence for a refusal, two big buttons.

A form stays as it was typed until the desk has taken it; the desk stores all of it or nothing.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, ClassVar, TypeVar

from textual import on
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widget import Widget
from textual.widgets import Button, Input, Static

from benchconsole.console.acts import Act, ActScreen
from benchconsole.console.widgets.cells import plain
from benchconsole.console.widgets.entries import FAULT_MARK, Choice, Field, Lines
from benchconsole.console.widgets.lines import PasteRefused
from benchconsole.errors import BadInput, BenchError

R = TypeVar("R")


class LeaveForm(Act["FormScreen[Any]"]):
    """Leave without keeping anything that was typed here."""

    keys = "escape"
    label = "Leave"
    while_typing = True

    def run(self, screen: FormScreen[Any]) -> None:
        """Close the form."""
        screen.dismiss(None)


class HelpHere(Act["ActScreen[Any]"]):
    """Every key of this page or form, and what the marks mean."""

    keys = "f1"
    label = "Help"
    while_typing = True

    def run(self, screen: ActScreen[Any]) -> None:
        """Open the help page."""
        from benchconsole.console.screens.help import HelpScreen

        screen.app.push_screen(HelpScreen(type(screen)))


class FormScreen(ActScreen[R], ModalScreen[R]):
    """A form in the middle of the screen; enter goes from field to field and hands in the last.

    A subclass says its ``heading``, its fields, the act that hands it in (``keep``) and what
    the desk makes of it (:meth:`hand_in`).
    """

    AUTO_FOCUS = "Line, Lines, Choice"
    ACTS: ClassVar[tuple[type[Act[Any]], ...]] = (LeaveForm, HelpHere)
    keep: ClassVar[type[Act[Any]]]

    def __init__(self) -> None:
        super().__init__()
        self._refused: tuple[str, ...] | None = None

    def heading(self) -> str:
        """The line on top."""
        raise AssertionError("a form says what it is for")

    def entries(self) -> Iterable[Widget]:
        """The fields, laid out."""
        raise AssertionError("a form has fields")

    def hand_in(self) -> R | None:
        """Give the fields to the desk; what the screen is dismissed with."""
        raise AssertionError("a form hands in")

    def hint(self) -> str:
        """What stands above the buttons while nothing is wrong."""
        return ""

    def keep_label(self) -> str:
        """What the big button says."""
        return self.keep.label

    def compose(self) -> ComposeResult:
        """Heading, fields that scroll when there is no room, a sentence, two buttons."""
        with Vertical(classes="box"):
            yield Static(Content(plain(self.heading())), classes="heading")
            with VerticalScroll(classes="entries", can_focus=False):
                yield from self.entries()
            yield Static(Content(plain(self.hint())), classes="says")
            with Horizontal(classes="buttons"):
                yield Button(
                    Content(f"{self.keep_label()}  (F2)"),
                    variant="primary",
                    action=f"screen.act('{self.keep.__name__}')",
                    classes="keep",
                )
                yield Button(Content(f"{LeaveForm.label}  (esc)"), action="screen.act('LeaveForm')")

    def on_mount(self) -> None:
        """Begin at the top, label and all; the first focus scrolls to the entry alone."""
        self.call_after_refresh(self.call_after_refresh, self._from_the_top)

    def _from_the_top(self) -> None:
        if self.query(Field).first().entry.has_focus:
            self.query_one(".entries", VerticalScroll).scroll_home(animate=False)

    def text(self, field: str) -> str:
        """What stands in a field."""
        return self.field(field).value

    def field(self, name: str) -> Field:
        """The field that the desk knows by this name."""
        return next(field for field in self.query(Field) if field.field == name)

    def attempt(self) -> None:
        """Hand in; a refusal is told here and everything typed stays."""
        try:
            result = self.hand_in()
        except BenchError as fault:
            self.refuse(fault)
        else:
            self.dismiss(result)

    def refuse(self, fault: BenchError) -> None:
        """Say what was wrong, mark the field and go there."""
        self._refused = self._texts()
        self.say(f"{FAULT_MARK} {fault}", faulty=True)
        named = fault.field if isinstance(fault, BadInput) else ""
        for field in self.query(Field):
            field.accuse(field.field == named)
            if field.field == named:
                field.entry.focus()

    def refuse_recording(self, sentence: str) -> None:
        """Say it in the form, where the eyes are; everything typed stays."""
        self.say(f"{FAULT_MARK} {sentence}", faulty=True)

    def say(self, sentence: str, *, faulty: bool = False) -> None:
        """Write the sentence above the buttons."""
        says = self.query_one(".says", Static)
        says.set_class(faulty, "-faulty")
        says.update(Content(plain(sentence)))

    def forgive(self) -> None:
        """What was wrong is being mended: take the sentence and the marks away.

        A change made before the refusal may be told only after it, so the texts are compared.
        """
        if self._refused is not None and self._refused == self._texts():
            return
        if self._refused is not None:
            self._refused = None
            for field in self.query(Field):
                field.accuse(False)
        self.say(self.hint())

    def _texts(self) -> tuple[str, ...]:
        return tuple(field.value for field in self.query(Field))

    @on(Input.Changed)
    @on(Lines.Changed)
    @on(Choice.Changed)
    def _mended(self) -> None:
        self.forgive()

    @on(PasteRefused)
    def _not_pasted(self, event: PasteRefused) -> None:
        event.prevent_default()
        self.refuse(event.fault)

    @on(Input.Submitted)
    @on(Lines.Entered)
    @on(Choice.Entered)
    def _entered(self) -> None:
        if self.focused is None or not self.moves_on(self.focused):
            self.attempt()

    def moves_on(self, entry: Widget) -> bool:
        """Give the focus to the entry after this one, at once; False after the last."""
        entries: list[Widget] = [field.entry for field in self.query(Field)]
        following = entries[entries.index(entry) + 1 :] if entry in entries else []
        if following:
            self.set_focus(following[0])
        return bool(following)
