"""What a person can do at the bench with the chosen hide, one class an act."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from benchconsole.console.acts import Act
from benchconsole.errors import NotPossibleNow
from benchconsole.quantities import format_duration

if TYPE_CHECKING:
    from benchconsole.console.screens.bench import BenchScreen
    from benchconsole.desk.views import HideRow
    from benchconsole.schedule import Action

BOUNCE_S = 1.0
"""No one does the same thing to a hide twice within a second. Our own choice, no source."""


class HideAct(Act["BenchScreen"]):
    """An act on the chosen hide."""

    def possible(self, screen: BenchScreen) -> bool:
        """When a hide is chosen that it fits."""
        row = screen.chosen_row
        return row is not None and self.fits(row)

    def fits(self, row: HideRow) -> bool:
        """Whether it fits this hide as it stands."""
        return True

    def chosen(self, screen: BenchScreen) -> HideRow:
        """The chosen hide as the person sees it; ``NotPossibleNow`` if there is none."""
        row = screen.chosen_row
        if row is None:
            raise NotPossibleNow("There is no hide to do it with: press i to take one in.")
        return row


class Tap(HideAct):
    """An act that moves the hide along; it answers in words, and says when it came early."""

    settle_s = BOUNCE_S

    def run(self, screen: BenchScreen) -> None:
        """Record it for what the person saw, and nothing that came up meanwhile."""
        row = self.chosen(screen)
        action = self.meant(screen, row)
        early = action.earliest - screen.console.desk.now()
        sentence = self.record(screen, row)
        if self.has_window and early.total_seconds() >= 60:
            sentence += f" — {format_duration(early)} early; u takes it back"
        screen.answered(f"hide/{row.hide.id}", sentence)

    def meant(self, screen: BenchScreen, row: HideRow) -> Action:
        """The action that the tap answers."""
        return row.action

    has_window = True
    """Whether the action's earliest time is meant for this act."""

    def record(self, screen: BenchScreen, row: HideRow) -> str:
        """Tell the desk; the sentence that answers."""
        raise AssertionError("a tap says what it records")


class Done(Tap):
    """What the chosen hide's next action asks for is done: put in, stirred, coat given, passed."""

    keys = "d"
    label = "Done"
    records = True
    footer = True

    def fits(self, row: HideRow) -> bool:
        """Whatever is asked for can be done."""
        return "done" in row.allowed

    def record(self, screen: BenchScreen, row: HideRow) -> str:
        """The act itself."""
        return screen.console.desk.hides.done(row.hide.id, seen=row.action)


class Pass(Tap):
    """The check is passed, be it due or early: the hide decides, and goes on along its route."""

    keys = "v"
    label = "Passed"
    records = True
    footer = True

    def fits(self, row: HideRow) -> bool:
        """While the stage has a check."""
        return "passed" in row.allowed

    def meant(self, screen: BenchScreen, row: HideRow) -> Action:
        """The check, also while an attention comes first."""
        return screen.console.desk.hides.look_of(row.hide.id)

    def record(self, screen: BenchScreen, row: HideRow) -> str:
        """The look and what follows from it."""
        return screen.console.desk.hides.passed(row.hide.id, seen=row.action)


class NotYet(Tap):
    """The check was made and the hide is not ready: ask again after the route's interval."""

    keys = "n"
    label = "Not yet"
    records = True
    footer = True
    has_window = False

    def fits(self, row: HideRow) -> bool:
        """While the stage has a check."""
        return "not-yet" in row.allowed

    def record(self, screen: BenchScreen, row: HideRow) -> str:
        """The look."""
        return screen.console.desk.hides.not_yet(row.hide.id, seen=row.action)


class Attend(Tap):
    """The chosen hide was stirred, turned or whatever its stage asks for in between."""

    keys = "a"
    label = "Attended"
    records = True
    has_window = False

    def fits(self, row: HideRow) -> bool:
        """While the stage has something to attend to."""
        return "attended" in row.allowed

    def record(self, screen: BenchScreen, row: HideRow) -> str:
        """The attention."""
        return screen.console.desk.hides.attended(row.hide.id, seen=row.action)


class OpenCard(HideAct):
    """Everything about the chosen hide on one page: route, next action, liquors, history."""

    keys = "enter"
    label = "Card"

    def run(self, screen: BenchScreen) -> None:
        """Open the hide card."""
        from benchconsole.console.screens.card import CardScreen

        def closed(_: Any) -> None:
            screen.forget_answer()
            screen.look_again()

        screen.app.push_screen(CardScreen(self.chosen(screen).hide.id), closed)


class WriteNote(HideAct):
    """Write a remark on the chosen hide's card."""

    keys = "o"
    label = "Note"
    records = True

    def run(self, screen: BenchScreen) -> None:
        """Open the note form."""
        from benchconsole.console.screens.note import NoteScreen

        hide = self.chosen(screen).hide.id
        screen.app.push_screen(NoteScreen(hide), screen.answers_for(f"hide/{hide}"))


class CorrectHide(HideAct):
    """Write down the chosen hide's weight, or correct its name or how many it is."""

    keys = "s"
    label = "Weight"
    records = True

    def run(self, screen: BenchScreen) -> None:
        """Open the form."""
        from benchconsole.console.screens.correct_hide import CorrectHideScreen

        hide = self.chosen(screen).hide.id

        def corrected(sentence: str | None) -> None:
            if sentence:
                screen.answered(f"hide/{hide}", sentence)
                screen.mix.hide_changed(screen.console.desk.hides.get(hide))

        screen.app.push_screen(CorrectHideScreen(hide), corrected)


class MixForHide(HideAct):
    """Bring up the mix that the chosen hide's next action needs, at the amount for this hide."""

    keys = "m"
    label = "Mix"
    footer = True

    def fits(self, row: HideRow) -> bool:
        """When its next action needs one."""
        return bool(row.action.mix)

    def run(self, screen: BenchScreen) -> None:
        """Fill the mix pane, and let it have the keys for scrolling."""
        row = self.chosen(screen)
        if not row.action.mix:
            raise NotPossibleNow(
                "The next action of this hide needs no mix; press f to choose a formula."
            )
        screen.mix.mix_for(row.hide, row.action.mix)
        screen.query_one("#sheet-scroll").focus()
