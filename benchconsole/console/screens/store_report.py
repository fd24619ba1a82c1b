"""What was found when the store was opened: it stays on the screen until somebody has read it."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import PurePath
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Button, Static

from benchconsole.console.acts import Act, ActScreen
from benchconsole.console.widgets.paper import Paper, Written

if TYPE_CHECKING:
    from benchconsole.console.app import BenchApp


def tell_notices(app: BenchApp) -> None:
    """Say what a person should know of this shop: in passing, or to be read, about its store."""
    of_the_store = app.desk.store_notices
    for notice in app.desk.notices[len(of_the_store) :]:
        app.notify(notice, severity="warning", timeout=15)
    if of_the_store:
        app.push_screen(StoreReportScreen(of_the_store))


class ReportRead(Act["StoreReportScreen"]):
    """Go on to the bench; the report stays where the store is."""

    keys = "enter,escape,q"
    label = "Read"
    settle_s = 0.5

    def run(self, screen: StoreReportScreen) -> None:
        """Leave it."""
        screen.dismiss(None)


class StoreReportScreen(ActScreen[None], ModalScreen[None]):
    """The sentences about a store that was not found as it was left."""

    ACTS = (ReportRead,)
    AUTO_FOCUS = "Paper"
    CSS_PATH: ClassVar[str | PurePath | list[str | PurePath] | None] = "../styles/question.tcss"

    def __init__(self, sentences: Sequence[str]) -> None:
        super().__init__()
        self.add_class("-question")
        self._sentences = tuple(sentences)

    def compose(self) -> ComposeResult:
        """A heading, the sentences, one button."""
        with Vertical(classes="box"):
            yield Static(Content("▲ Something happened to the store"), classes="heading")
            yield Paper(id="report")
            yield Static(
                Content("“benchconsole check” looks it through and says what to do."),
                classes="says",
            )
            with Horizontal(classes="buttons"):
                yield Button(
                    Content("Read  (enter)"), variant="primary", action="screen.act('ReportRead')"
                )

    def on_mount(self) -> None:
        """Write the sentences, one a paragraph."""
        self.query_one(Paper).show([Written(each) for each in self._sentences])
        self.query_one(Paper).styles.max_height = 15
