"""What a person can do at the bench about the plan of the whole shop, one class an act."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from benchconsole.console.acts import Act

if TYPE_CHECKING:
    from benchconsole.console.screens.bench import BenchScreen


class ShowTimeline(Act["BenchScreen"]):
    """The plan as a picture: hides by days, with holds, visits and rounds."""

    keys = "z"
    label = "Timeline"

    def run(self, screen: BenchScreen) -> None:
        """Open the timeline."""
        from benchconsole.console.screens.timeline import TimelineScreen

        screen.app.push_screen(TimelineScreen())


PLANNING_ACTS: tuple[type[Act[Any]], ...] = (ShowTimeline,)
"""The acts of the bench that are about the plan, in the order of its help."""
