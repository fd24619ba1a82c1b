"""What a person can do at the bench about the plan of the whole shop, one class an act."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from benchconsole.console.acts import Act
from benchconsole.console.screens.hide_acts import HideAct

if TYPE_CHECKING:
    from benchconsole.console.screens.bench import BenchScreen
    from benchconsole.desk.views import HideRow
    from benchconsole.schedule.planning.changes import Change


class ShowTimeline(Act["BenchScreen"]):
    """The plan as a picture: hides by days, with holds, visits and rounds."""

    keys = "z"
    label = "Timeline"

    def run(self, screen: BenchScreen) -> None:
        """Open the timeline."""
        from benchconsole.console.screens.timeline import TimelineScreen

        screen.app.push_screen(TimelineScreen())


class WhenToStart(HideAct):
    """When to begin the chosen hide: the best start of every day, and what would come of it."""

    keys = "b"
    label = "Begin when"

    def fits(self, row: HideRow) -> bool:
        """While a stage is to be begun."""
        return row.action.kind == "begin"

    def run(self, screen: BenchScreen) -> None:
        """Open the page of its starts."""
        from benchconsole.console.screens.starts import StartsScreen

        hide = self.chosen(screen).hide.id
        # A hide that waits for no start is told at once.
        screen.console.desk.moves.waiting(hide)
        screen.app.push_screen(StartsScreen(hide), screen.answers_for(f"hide/{hide}"))


class SupposeChange(Act["BenchScreen"]):
    """What if: time away, closed days, more or fewer vessels or hands; nothing is changed yet."""

    keys = "j"
    label = "What if"

    def run(self, screen: BenchScreen) -> None:
        """Ask for the change, then show what would come of it."""
        from benchconsole.console.screens.what_if import WhatIfScreen
        from benchconsole.console.screens.what_if_form import WhatIfFormScreen

        def accepted(answer: tuple[str, str] | None) -> None:
            screen.look_again()
            if answer is not None:
                subject, sentence = answer
                if subject == "shop/":
                    screen.mix.settings_changed()
                screen.answered(subject, sentence)

        def typed(changes: tuple[Change, ...] | None) -> None:
            if changes:
                screen.app.push_screen(WhatIfScreen(changes), accepted)

        row = screen.chosen_row
        waits = row is not None and row.action.kind == "begin"
        hide = row.hide.id if row is not None and waits else ""
        screen.app.push_screen(WhatIfFormScreen(hide), typed)


PLANNING_ACTS: tuple[type[Act[Any]], ...] = (ShowTimeline, WhenToStart, SupposeChange)
"""The acts of the bench that are about the plan, in the order of its help."""
