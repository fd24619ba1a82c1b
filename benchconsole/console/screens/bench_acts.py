"""What a person can do at the bench besides acting on a hide or a timer, one class an act."""

from __future__ import annotations

from typing import TYPE_CHECKING

from benchconsole.console.acts import Act
from benchconsole.errors import NotPossibleNow

if TYPE_CHECKING:
    from benchconsole.console.screens.bench import BenchScreen
    from benchconsole.model.weighing import WeighOut as WeighOutRecord


class Undo(Act["BenchScreen"]):
    """Take back the last tap: about what was just tapped, else about the chosen hide."""

    keys = "u"
    label = "Undo"
    records = True
    settle_s = 0.5

    def run(self, screen: BenchScreen) -> None:
        """Take it back; the next press goes on with the same thing."""
        desk = screen.console.desk
        tapped = screen.last_tapped or f"hide/{screen.hides.chosen}"
        kind, _, name = screen.last_tapped.partition("/")
        if kind == "weigh-out":
            left = desk.weigh_outs.undo(name).weigh_out
            sentence = f"{left.plan.formula_name}: taken up again; press w to go on with it"
        elif kind == "timer":
            sentence = desk.timers.undo(name)
        elif kind == "round":
            sentence = desk.rounds.undo(name)
        elif kind == "shop":
            desk.settings.undo()
            screen.mix.settings_changed()
            sentence = "The settings are as before"
        elif screen.hides.chosen:
            just_in = screen.last_tapped == f"taken-in/{screen.hides.chosen}"
            sentence = desk.hides.undo(screen.hides.chosen, taking_in=just_in)
        else:
            raise NotPossibleNow("There is nothing to take back.")
        screen.answered("" if kind in ("taken-in", "round") else screen.last_tapped, sentence)
        screen.taken_back = tapped


class TakeIn(Act["BenchScreen"]):
    """Take a new hide, or a lot of like skins, into the shop."""

    keys = "i"
    label = "Take in"
    records = True

    def run(self, screen: BenchScreen) -> None:
        """Open the form, and choose the hide that came of it."""
        from benchconsole.console.screens.take_in import TakeInScreen

        def taken(hide_id: str | None) -> None:
            screen.look_again()
            if hide_id:
                hide = screen.console.desk.hides.get(hide_id)
                screen.choose(hide_id)
                screen.answered(f"taken-in/{hide_id}", f"Taken in: {hide.name}")

        screen.app.push_screen(TakeInScreen(), taken)


class ShowDaySheet(Act["BenchScreen"]):
    """All hides' coming actions, day by day."""

    keys = "l"
    label = "Day sheet"

    def run(self, screen: BenchScreen) -> None:
        """Open the day sheet."""
        from benchconsole.console.screens.day_sheet import DaySheetScreen

        screen.app.push_screen(DaySheetScreen())


class ChooseFormula(Act["BenchScreen"]):
    """Open the list of formulas in the mix pane; typing searches it."""

    keys = "f"
    label = "Formula"

    def run(self, screen: BenchScreen) -> None:
        """Give the mix pane the keys, its list open."""
        screen.mix.open_formulas()


class ShowWorking(Act["BenchScreen"]):
    """Show how every figure of the worksheet came about, with sources."""

    keys = "k"
    label = "Working"

    def possible(self, screen: BenchScreen) -> bool:
        """When there is a worksheet."""
        return screen.mix.sheet is not None

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
        title = f"{sheet.formula.name}, {sheet.target_says}"
        screen.app.push_screen(WorkingScreen(title, workings))


class WeighOut(Act["BenchScreen"]):
    """Weigh out the worksheet in the mix pane, or go on with the weigh-out that was left."""

    keys = "w"
    label = "Weigh out"
    footer = True
    settle_s = 0.5

    def possible(self, screen: BenchScreen) -> bool:
        """A console that only looks on may watch one that was begun."""
        desk = screen.console.desk
        return not desk.refusal or desk.weigh_outs.unfinished() is not None

    def run(self, screen: BenchScreen) -> None:
        """Go on with what was left, begin what the pane shows, or ask which of the two."""
        left = screen.console.desk.weigh_outs.unfinished()
        if left is None:
            self._begin(screen)
        elif screen.mix.is_untouched or screen.mix.is_sheet_of(left.plan):
            self._open(screen, left.id)
        else:
            self._ask(screen, left)

    def _begin(self, screen: BenchScreen, *, instead_of: str = "") -> None:
        sheet = screen.mix.sheet
        if sheet is None:
            raise NotPossibleNow("There is nothing to weigh: press m or choose a formula (f).")
        hides = (screen.mix.hide,) if screen.mix.hide else ()
        view = screen.console.desk.weigh_outs.begin(sheet, hides, instead_of=instead_of)
        self._open(screen, view.weigh_out.id)

    def _ask(self, screen: BenchScreen, left: WeighOutRecord) -> None:
        from benchconsole.console.screens.which_weigh_out import WhichWeighOutScreen

        def answered(answer: str | None) -> None:
            if answer == "go-on":
                self._open(screen, left.id)
            elif answer == "instead":
                self._begin(screen, instead_of=left.id)

        screen.app.push_screen(WhichWeighOutScreen(left), answered)

    def _open(self, screen: BenchScreen, weigh_out: str) -> None:
        from benchconsole.console.screens.weigh_out import WeighOutScreen

        def ended(liquor_id: str | None) -> None:
            screen.hides.focus()
            desk = screen.console.desk
            if liquor_id:
                liquor = desk.liquor(liquor_id)
                then = " Press d when the hide's next step is done with it." if liquor.hides else ""
                screen.answered(f"weigh-out/{weigh_out}", f"{liquor_id} is recorded.{then}")
            elif (left := desk.weigh_outs.unfinished()) is not None and left.id == weigh_out:
                # Before its first tap it can still be taken back for the one it replaced.
                subject = "" if left.taps else f"weigh-out/{weigh_out}"
                screen.answered(subject, "The weigh-out is kept: press w to go on with it")
            else:
                screen.answered(f"weigh-out/{weigh_out}", "The weigh-out is given up")

        screen.app.push_screen(WeighOutScreen(weigh_out), ended)


class HearTimer(Act["BenchScreen"]):
    """Acknowledge what rings: a timer, or the wait between coats."""

    keys = "y"
    label = "Heard"

    def possible(self, screen: BenchScreen) -> bool:
        """When something rings."""
        return screen.timers.is_ringing

    def run(self, screen: BenchScreen) -> None:
        """Acknowledge the chosen timer if it rings, else the first that does."""
        timer, sentence = screen.console.alarm.hear(screen.timers.chosen)
        screen.answered(f"timer/{timer}", sentence)


class SetUpShop(Act["BenchScreen"]):
    """Your shop's settings: measures, scale, jug, tub, water, open hours."""

    keys = "g"
    label = "Shop"

    def run(self, screen: BenchScreen) -> None:
        """Open the settings."""
        from benchconsole.console.screens.shop import ShopScreen

        def kept(sentence: str | None) -> None:
            if sentence:
                screen.mix.settings_changed()
                screen.answered("shop/", sentence)

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
