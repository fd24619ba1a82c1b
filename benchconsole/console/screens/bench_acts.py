"""What a person can do at the bench, one class an act."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from benchconsole.console.acts import Act
from benchconsole.errors import NotPossibleNow

if TYPE_CHECKING:
    from benchconsole.console.screens.bench import BenchScreen


class BenchAct(Act["BenchScreen"]):
    """An act of the bench; needs the desk."""

    def possible(self, screen: BenchScreen) -> bool:
        """As soon as the shop is open."""
        return bool(screen.console.is_open)


class HideAct(BenchAct):
    """An act on the chosen hide."""

    kinds: tuple[str, ...] = ()
    """The kinds of next action it fits; empty for all."""

    def possible(self, screen: BenchScreen) -> bool:
        """When a hide is chosen whose next action fits."""
        row = screen.chosen_row
        return row is not None and (not self.kinds or row.action.kind in self.kinds)


def said(screen: BenchScreen, sentence: str) -> None:
    """Show what a tap did, and the new state."""
    screen.tell(sentence)
    screen.look_again()


class Done(HideAct):
    """What the chosen hide's next action asks for is done: put in, stirred, coat given, passed."""

    keys = "d"
    label = "Done"
    footer = True
    kinds = ("begin", "coat", "check", "attend")

    def run(self, screen: BenchScreen) -> None:
        """Record what the person saw asked for, and nothing that came up meanwhile."""
        row = screen.chosen_row
        if row is not None:
            said(screen, screen.console.desk.hides.done(row.hide.id, seen=row.action))


class Pass(HideAct):
    """The check is passed, be it due or early: the hide decides, and goes on along its route."""

    keys = "v"
    label = "Passed"
    footer = True
    kinds = ("check", "attend")

    def run(self, screen: BenchScreen) -> None:
        """Record the look and what follows from it."""
        said(screen, screen.console.desk.hides.passed(screen.hides.chosen))


class NotYet(HideAct):
    """The check was made and the hide is not ready: ask again after the route's interval."""

    keys = "n"
    label = "Not yet"
    footer = True
    kinds = ("check", "attend")

    def run(self, screen: BenchScreen) -> None:
        """Record the look."""
        said(screen, screen.console.desk.hides.not_yet(screen.hides.chosen))


class Attend(HideAct):
    """The chosen hide was stirred, turned or whatever its stage asks for in between."""

    keys = "a"
    label = "Attended"
    kinds = ("attend", "check")

    def run(self, screen: BenchScreen) -> None:
        """Record the attention."""
        said(screen, screen.console.desk.hides.attended(screen.hides.chosen))


class Undo(BenchAct):
    """Take back the last tap about the chosen hide (or timer, while the timers have the keys)."""

    keys = "u"
    label = "Undo"

    def run(self, screen: BenchScreen) -> None:
        """Take it back."""
        desk = screen.console.desk
        if screen.timers_focused and screen.timers.chosen:
            said(screen, desk.timers.undo(screen.timers.chosen))
        elif screen.hides.chosen:
            said(screen, desk.hides.undo(screen.hides.chosen))
        else:
            raise NotPossibleNow("There is nothing to take back.")


class OpenCard(HideAct):
    """Everything about the chosen hide on one page: route, next action, liquors, history."""

    keys = "enter"
    label = "Card"

    def run(self, screen: BenchScreen) -> None:
        """Open the hide card."""
        from benchconsole.console.screens.card import CardScreen

        screen.app.push_screen(CardScreen(screen.hides.chosen), _look(screen))


class WriteNote(HideAct):
    """Write a remark on the chosen hide's card."""

    keys = "o"
    label = "Note"

    def run(self, screen: BenchScreen) -> None:
        """Open the note form."""
        from benchconsole.console.screens.note import NoteScreen

        screen.app.push_screen(NoteScreen(screen.hides.chosen), _tell(screen))


class TakeIn(BenchAct):
    """Take a new hide, or a lot of like skins, into the shop."""

    keys = "i"
    label = "Take in"

    def run(self, screen: BenchScreen) -> None:
        """Open the form, and choose the hide that came of it."""
        from benchconsole.console.screens.take_in import TakeInScreen

        def taken(hide: str | None) -> None:
            screen.look_again()
            if hide:
                screen.hides.display = True
                screen.hides.chosen = hide
                screen.hides.focus()
                screen.tell(f"{screen.console.desk.hides.get(hide).name} is taken in.")

        screen.app.push_screen(TakeInScreen(), taken)


class ShowDaySheet(BenchAct):
    """All hides' coming actions, day by day."""

    keys = "l"
    label = "Day sheet"

    def run(self, screen: BenchScreen) -> None:
        """Open the day sheet."""
        from benchconsole.console.screens.day_sheet import DaySheetScreen

        screen.app.push_screen(DaySheetScreen())


class MixForHide(HideAct):
    """Bring up the mix that the chosen hide's next action needs, at the amount for this hide."""

    keys = "m"
    label = "Mix"
    footer = True

    def run(self, screen: BenchScreen) -> None:
        """Fill the mix pane."""
        row = screen.chosen_row
        if row is None or not row.action.mix:
            raise NotPossibleNow(
                "The next action of this hide needs no mix; press f to choose a formula."
            )
        screen.mix.mix_for(row.hide, row.action.mix)


class ChooseFormula(BenchAct):
    """Go to the mix pane to choose a formula and a target."""

    keys = "f"
    label = "Formula"

    def run(self, screen: BenchScreen) -> None:
        """Give the mix pane the keys."""
        screen.query_one("#formula").focus()


class ShowWorking(BenchAct):
    """Show how every figure of the worksheet came about, with sources."""

    keys = "k"
    label = "Working"

    def run(self, screen: BenchScreen) -> None:
        """Open the working of the sheet in the mix pane."""
        from benchconsole.console.screens.working import WorkingScreen

        sheet = screen.mix.sheet
        if sheet is None:
            raise NotPossibleNow("There is no worksheet to explain: choose a formula first.")
        workings = (
            *sheet.workings,
            *(line.working for line in sheet.lines),
            *(check.working for check in sheet.checks),
        )
        screen.app.push_screen(
            WorkingScreen(f"{sheet.formula.name}, {sheet.target_says}", workings)
        )


class WeighOut(BenchAct):
    """Weigh out the worksheet in the mix pane, or go on with the weigh-out that was left."""

    keys = "w"
    label = "Weigh out"
    footer = True

    def run(self, screen: BenchScreen) -> None:
        """Take the sheet to the scale."""
        from benchconsole.console.screens.weigh_out import WeighOutScreen

        desk = screen.console.desk
        left = desk.weigh_outs.unfinished()
        if left is None:
            sheet = screen.mix.sheet
            if sheet is None:
                raise NotPossibleNow("There is nothing to weigh: press m or choose a formula (f).")
            hides = (screen.mix.hide,) if screen.mix.hide else ()
            left = desk.weigh_outs.begin(sheet, hides).weigh_out

        def ended(liquor: str | None) -> None:
            screen.look_again()
            if liquor:
                screen.tell(f"{liquor} is recorded. Press d when the next step is done with it.")
            elif desk.weigh_outs.unfinished() is not None:
                screen.tell("The weigh-out is kept: press w to go on with it.")

        screen.app.push_screen(WeighOutScreen(left.id), ended)


class NewTimer(BenchAct):
    """Set a timer of your own: a name and a time."""

    keys = "t"
    label = "Timer"

    def run(self, screen: BenchScreen) -> None:
        """Open the timer form."""
        from benchconsole.console.screens.timer_form import TimerFormScreen

        screen.app.push_screen(TimerFormScreen(), _tell(screen))


class TimerAct(BenchAct):
    """An act on a timer: the chosen one, else the one that rings or ends first."""

    def possible(self, screen: BenchScreen) -> bool:
        """When there is a timer."""
        return super().possible(screen) and bool(screen.timers.chosen)


class HearTimer(TimerAct):
    """Acknowledge what rings."""

    keys = "y"
    label = "Heard"

    def run(self, screen: BenchScreen) -> None:
        """Acknowledge the chosen timer if it rings, else the first that does."""
        desk = screen.console.desk
        ringing = [c.id for c in desk.timers.all() if c.state == "ringing"]
        if not ringing:
            raise NotPossibleNow("Nothing rings.")
        chosen = screen.timers.chosen
        said(screen, desk.timers.acknowledge(chosen if chosen in ringing else ringing[0]))


class PauseTimer(TimerAct):
    """Hold the chosen timer, or let it go on."""

    keys = "p"
    label = "Pause"

    def run(self, screen: BenchScreen) -> None:
        """Pause or go on."""
        said(screen, screen.console.desk.timers.pause_or_go_on(screen.timers.chosen))


class ExtendTimer(TimerAct):
    """Give the chosen timer more time."""

    keys = "e"
    label = "Extend"

    def run(self, screen: BenchScreen) -> None:
        """Ask how much."""
        from benchconsole.console.screens.timer_form import TimerFormScreen

        screen.app.push_screen(TimerFormScreen(extend=screen.timers.chosen), _tell(screen))


class NameTimer(TimerAct):
    """Give the chosen timer another name."""

    keys = "r"
    label = "Rename"

    def run(self, screen: BenchScreen) -> None:
        """Ask for the name."""
        from benchconsole.console.screens.timer_form import TimerFormScreen

        screen.app.push_screen(TimerFormScreen(rename=screen.timers.chosen), _tell(screen))


class CancelTimer(TimerAct):
    """Take the chosen timer away; undo brings it back."""

    keys = "c"
    label = "Cancel timer"

    def run(self, screen: BenchScreen) -> None:
        """Cancel it."""
        said(screen, screen.console.desk.timers.cancel(screen.timers.chosen))


class SetUpShop(BenchAct):
    """Your shop's settings: measures, scale, jug, water, open hours."""

    keys = "g"
    label = "Shop"

    def run(self, screen: BenchScreen) -> None:
        """Open the settings."""
        from benchconsole.console.screens.shop import ShopScreen

        def kept(sentence: str | None) -> None:
            screen.settings_changed()
            if sentence:
                screen.tell(f"{sentence}.")

        screen.app.push_screen(ShopScreen(), kept)


class Help(Act["BenchScreen"]):
    """Every key of this screen, what the marks mean, and the first steps."""

    keys = "question_mark,f1"
    label = "Help"
    footer = True

    def run(self, screen: BenchScreen) -> None:
        """Open the help page."""
        from benchconsole.console.screens.help import HelpScreen

        screen.app.push_screen(HelpScreen(type(screen)))


class LeavePane(Act["BenchScreen"]):
    """Back to the hides, from typing in the mix pane or from the timers."""

    keys = "escape"
    label = "Back to the hides"

    def run(self, screen: BenchScreen) -> None:
        """Give the hides the keys."""
        screen.hides.focus()


class Quit(Act["BenchScreen"]):
    """Leave the console; everything is kept."""

    keys = "q"
    label = "Quit"

    def run(self, screen: BenchScreen) -> None:
        """End the program."""
        screen.app.exit(0)


def _look(screen: BenchScreen) -> Callable[[Any], None]:
    return lambda _: screen.look_again()


def _tell(screen: BenchScreen) -> Callable[[str | None], None]:
    def tell(sentence: str | None) -> None:
        screen.look_again()
        if sentence:
            screen.tell(sentence)

    return tell
