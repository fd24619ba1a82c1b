"""Asked when one weigh-out is unfinished and the mix pane shows another."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Button, Static

from benchconsole.console.acts import Act, ActScreen
from benchconsole.console.widgets.cells import plain

if TYPE_CHECKING:
    from benchconsole.model.weighing import WeighOut


class GoOn(Act["WhichWeighOutScreen"]):
    """Go on with the weigh-out that was left."""

    keys = "o"
    label = "Go on"

    def run(self, screen: WhichWeighOutScreen) -> None:
        """The old one."""
        screen.dismiss("go-on")


class Instead(Act["WhichWeighOutScreen"]):
    """Give up the weigh-out that was left, and begin the one in the mix pane."""

    keys = "n"
    label = "Give it up"
    records = True

    def run(self, screen: WhichWeighOutScreen) -> None:
        """The new one."""
        screen.dismiss("instead")


class Neither(Act["WhichWeighOutScreen"]):
    """Leave both as they are."""

    keys = "escape"
    label = "Leave"

    def run(self, screen: WhichWeighOutScreen) -> None:
        """Back to the bench."""
        screen.dismiss(None)


class WhichWeighOutScreen(ActScreen["str | None"], ModalScreen["str | None"]):
    """Dismissed with ``go-on``, ``instead`` or None."""

    ACTS = (GoOn, Instead, Neither)

    def __init__(self, left: WeighOut) -> None:
        super().__init__()
        self._left = left

    def compose(self) -> ComposeResult:
        """What waits, and the ways on."""
        plan = self._left.plan
        desk = self.console.desk
        names = [desk.hides.get(hide).name for hide in plan.hides if hide in desk.hides.ids()]
        whom = f" for {', '.join(names)}" if names else ""
        taps = len(self._left.taps)
        done = f"{taps} tap{'' if taps == 1 else 's'} were given" if taps else "nothing is in yet"
        with Vertical(classes="box"):
            yield Static(Content.styled("Another weigh-out is not finished", "bold $text-accent"))
            yield Static(
                Content(plain(f"{plan.formula_name}{whom}, {plan.target}: {done}.")), markup=False
            )
            yield Static(
                "Giving it up begins the one in the mix pane; u on the bench brings it back"
                " before the first pour.",
                markup=False,
            )
            with Horizontal(classes="buttons"):
                for act in self.ACTS:
                    key = "esc" if act is Neither else act.keys
                    yield Button(f"{act.label} ({key})", action=f"screen.act('{act.__name__}')")
