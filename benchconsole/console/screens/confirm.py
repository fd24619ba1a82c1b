"""One question with two answers."""

from __future__ import annotations

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Button, Static

from benchconsole.console.acts import Act, ActScreen
from benchconsole.console.widgets.cells import plain


class AnswerYes(Act["ConfirmScreen"]):
    """Yes, do it."""

    keys = "y"
    label = "Yes"

    def run(self, screen: ConfirmScreen) -> None:
        """Close with True."""
        screen.dismiss(True)


class AnswerNo(Act["ConfirmScreen"]):
    """No, leave everything as it is."""

    keys = "n,escape"
    label = "No"

    def run(self, screen: ConfirmScreen) -> None:
        """Close with False."""
        screen.dismiss(False)


class ConfirmScreen(ActScreen[bool], ModalScreen[bool]):
    """A question; No has the focus, so that a slip of the hand changes nothing.

    ``yes`` and ``no`` are what the buttons say.
    """

    ACTS = (AnswerYes, AnswerNo)
    AUTO_FOCUS = "#no"

    def __init__(self, question: str, *, yes: str = "Yes", no: str = "No") -> None:
        super().__init__()
        self._question = question
        self._yes = yes
        self._no = no

    def compose(self) -> ComposeResult:
        """The question and two big buttons."""
        with Vertical(classes="box"):
            yield Static(Content(plain(self._question)), id="question")
            with Horizontal(classes="buttons"):
                yield Button(
                    Content(f"{self._yes}  (y)"), id="yes", action="screen.act('AnswerYes')"
                )
                yield Button(Content(f"{self._no}  (n)"), id="no", action="screen.act('AnswerNo')")
