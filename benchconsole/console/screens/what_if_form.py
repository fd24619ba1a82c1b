"""The form that says what would be different: what, and when or which."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from textual.widget import Widget

from benchconsole.console.acts import Act
from benchconsole.console.screens.forms import FormScreen
from benchconsole.console.widgets.entries import Choice, Field, Line
from benchconsole.desk.typed_changes import EXAMPLES, KINDS, START

if TYPE_CHECKING:
    from benchconsole.schedule.planning.changes import Change


class WorkItOut(Act["WhatIfFormScreen"]):
    """Work out what would be; enter on the last field does the same, and nothing is changed."""

    keys = "f2"
    label = "Work it out"
    while_typing = True

    def run(self, screen: WhatIfFormScreen) -> None:
        """Let the desk read it."""
        screen.attempt()


class WhatIfFormScreen(FormScreen["tuple[Change, ...]"]):
    """Dismissed with the changes that were typed, or None."""

    ACTS = (WorkItOut,)
    keep = WorkItOut

    def __init__(self, hide_id: str = "") -> None:
        """``hide_id``: the hide that may be begun at another time, empty for none."""
        super().__init__()
        self.hide = hide_id

    def heading(self) -> str:
        """What it is about."""
        return "What if …"

    def entries(self) -> Iterable[Widget]:
        """What, and when or which."""
        yield Field("what", "What", Choice(self._kinds(), KINDS[0][0]), id="what")
        yield Field("when or which", "When, or which", Line(), id="when")

    def _kinds(self) -> list[tuple[str, str]]:
        if not self.hide:
            return [kind for kind in KINDS if kind[0] != START]
        name = self.console.desk.hides.get(self.hide).name
        return [(k, f"{name} is begun then" if k == START else words) for k, words in KINDS]

    def hint(self) -> str:
        """An example for the chosen kind."""
        if not self.is_mounted:
            return ""
        example = EXAMPLES.get(self.text("what"))
        return f"For example: {example}. Nothing is changed yet." if example else ""

    def hand_in(self) -> tuple[Change, ...]:
        """The changes, read."""
        return self.console.desk.supposing.read(
            self.text("what"), self.text("when or which"), self.hide
        )
