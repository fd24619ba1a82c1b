"""What a person can do on the timeline, one class an act."""

from __future__ import annotations

from typing import TYPE_CHECKING

from benchconsole.console.acts import Act
from benchconsole.console.widgets.timeline_choice import hold_or_visit, other_line, other_step
from benchconsole.console.widgets.timeline_ruler import STEPS
from benchconsole.errors import NotPossibleNow

if TYPE_CHECKING:
    from benchconsole.console.screens.timeline import TimelineScreen
    from benchconsole.console.widgets.timeline_choice import Choice
    from benchconsole.schedule.planning.plans import Plan


class _OnThePicture(Act["TimelineScreen"]):
    """An act on the picture: only while there is one."""

    keys = ""
    label = ""

    def possible(self, screen: TimelineScreen) -> bool:
        """When there is a plan."""
        return screen.plan is not None


class Later(_OnThePicture):
    """Scroll a quarter of the width into the future."""

    keys = "right"
    label = "Later"

    def run(self, screen: TimelineScreen) -> None:
        """Scroll."""
        screen.timeline.scroll_quarters(1)


class Earlier(_OnThePicture):
    """Scroll a quarter of the width into the past."""

    keys = "left"
    label = "Earlier"

    def run(self, screen: TimelineScreen) -> None:
        """Scroll."""
        screen.timeline.scroll_quarters(-1)


class BackToNow(_OnThePicture):
    """Scroll back to the present."""

    keys = "home"
    label = "Now"
    footer = True

    def run(self, screen: TimelineScreen) -> None:
        """Scroll."""
        screen.timeline.go_to_now()


class ZoomIn(_OnThePicture):
    """Less time in a column: 6 h, 3 h, 1 h, 15 min."""

    keys = "plus,add"
    label = "Finer"
    footer = True

    def possible(self, screen: TimelineScreen) -> bool:
        """While there is a finer step."""
        return super().possible(screen) and screen.timeline.step > STEPS[0]

    def run(self, screen: TimelineScreen) -> None:
        """Zoom; what is chosen stays where it is."""
        screen.timeline.zoom(-1)
        screen.write()


class ZoomOut(_OnThePicture):
    """More time in a column: 1 h, 3 h, 6 h, a day."""

    keys = "minus,subtract"
    label = "Coarser"
    footer = True

    def possible(self, screen: TimelineScreen) -> bool:
        """While there is a coarser step."""
        return super().possible(screen) and screen.timeline.step < STEPS[-1]

    def run(self, screen: TimelineScreen) -> None:
        """Zoom; what is chosen stays where it is."""
        screen.timeline.zoom(1)
        screen.write()


class _Chooses(_OnThePicture):
    """An act that chooses something else on the picture."""

    reveal = True
    """Whether the picture scrolls to what is chosen."""

    def chosen(self, choice: Choice, plan: Plan) -> Choice:
        """What is chosen instead."""
        raise AssertionError("an act says what it chooses")

    def run(self, screen: TimelineScreen) -> None:
        """Choose it."""
        timeline = screen.timeline
        if timeline.plan is not None:
            timeline.choose(self.chosen(timeline.choice, timeline.plan), reveal=self.reveal)


class LineAbove(_Chooses):
    """Choose the hide above; above the first are the rounds."""

    keys = "up"
    label = "Hide above"

    def chosen(self, choice: Choice, plan: Plan) -> Choice:
        """The line above."""
        return other_line(choice, plan, -1)


class LineBelow(_Chooses):
    """Choose the hide below."""

    keys = "down"
    label = "Hide below"

    def chosen(self, choice: Choice, plan: Plan) -> Choice:
        """The line below."""
        return other_line(choice, plan, 1)


class NextVisit(_Chooses):
    """The next visit of the chosen hide, or the next round."""

    keys = "n"
    label = "Next visit"
    footer = True

    def chosen(self, choice: Choice, plan: Plan) -> Choice:
        """The one after."""
        return other_step(choice, plan, 1)


class VisitBefore(_Chooses):
    """The visit of the chosen hide before this one, or the round before."""

    keys = "p"
    label = "Previous"
    footer = True

    def chosen(self, choice: Choice, plan: Plan) -> Choice:
        """The one before."""
        return other_step(choice, plan, -1)


class HoldBefore(_Chooses):
    """From a visit to the hold before it, and back."""

    keys = "h"
    label = "Hold before it"
    reveal = False

    def chosen(self, choice: Choice, plan: Plan) -> Choice:
        """The other of the two."""
        return hold_or_visit(choice, plan)


class ReadOn(_OnThePicture):
    """Scroll the words below the picture, where they are more than there is room for."""

    keys = "pagedown"
    label = "Read on"

    def run(self, screen: TimelineScreen) -> None:
        """Scroll them down."""
        screen.words.scroll_page_down(animate=False)


class ReadBack(_OnThePicture):
    """Scroll the words below the picture back."""

    keys = "pageup"
    label = "Read back"

    def run(self, screen: TimelineScreen) -> None:
        """Scroll them up."""
        screen.words.scroll_page_up(animate=False)


class OpenCardHere(_OnThePicture):
    """Everything about the chosen hide on one page."""

    keys = "enter"
    label = "Card"
    footer = True

    def possible(self, screen: TimelineScreen) -> bool:
        """When a hide is chosen."""
        return super().possible(screen) and bool(screen.timeline.choice.hide)

    def run(self, screen: TimelineScreen) -> None:
        """Open the card."""
        from benchconsole.console.screens.card import CardScreen

        hide = screen.timeline.choice.hide
        if not hide:
            raise NotPossibleNow("No hide is chosen: press the arrow down for the first.")
        # A plan may be older than the taking back of a hide: then this says that it is not known.
        screen.console.desk.hides.get(hide)
        screen.app.push_screen(CardScreen(hide))


class LeaveTimeline(_OnThePicture):
    """Back to where you came from."""

    keys = "escape,q"
    label = "Back"
    footer = True

    def possible(self, screen: TimelineScreen) -> bool:
        """Always."""
        return True

    def run(self, screen: TimelineScreen) -> None:
        """Close the timeline."""
        screen.dismiss(None)
