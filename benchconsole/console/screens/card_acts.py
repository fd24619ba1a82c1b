"""What a person can do on a hide's card, one class an act."""

from __future__ import annotations

from typing import TYPE_CHECKING

from benchconsole.console.acts import Act

if TYPE_CHECKING:
    from benchconsole.console.screens.card import CardScreen


class NoteOnCard(Act["CardScreen"]):
    """Write a remark on this card, with the time."""

    keys = "o"
    label = "Note"

    def run(self, screen: CardScreen) -> None:
        """Open the note form."""
        from benchconsole.console.screens.note import NoteScreen

        screen.app.push_screen(NoteScreen(screen.hide), screen.told)


class UndoOnCard(Act["CardScreen"]):
    """Take back the last tap about this hide; pressing again takes back the one before."""

    keys = "u"
    label = "Undo"

    def run(self, screen: CardScreen) -> None:
        """Take it back."""
        screen.told(screen.console.desk.hides.undo(screen.hide))


class OpenCurve(Act["CardScreen"]):
    """How the hide dries: its moisture curve, when it will be damp, soft or dry."""

    keys = "c"
    label = "Curve"

    def run(self, screen: CardScreen) -> None:
        """Open the drying page; a hide that does not dry now is told so."""
        from benchconsole.console.screens.drying import DryingScreen

        screen.console.desk.drying.must_dry(screen.hide)
        screen.app.push_screen(DryingScreen(screen.hide), lambda _: screen.told(None))


class WeighOnCard(Act["CardScreen"]):
    """Write down what a drying hide weighs now; for another hide, its weight for the recipes."""

    keys = "s"
    label = "Weigh"
    has_button = False

    def run(self, screen: CardScreen) -> None:
        """Open the form that fits."""
        if screen.console.desk.drying.dries(screen.hide):
            from benchconsole.console.screens.drying import WeighDryingScreen

            screen.app.push_screen(WeighDryingScreen(screen.hide), screen.told)
        else:
            from benchconsole.console.screens.correct_hide import CorrectHideScreen

            screen.app.push_screen(CorrectHideScreen(screen.hide), screen.told)


class MoveOnCard(Act["CardScreen"]):
    """Put this hide at another stage, ahead or back, or on another route."""

    keys = "m"
    label = "Move"

    def run(self, screen: CardScreen) -> None:
        """Open the form."""
        from benchconsole.console.screens.move_hide import MoveHideScreen

        screen.console.desk.moves.in_shop(screen.hide)
        screen.app.push_screen(MoveHideScreen(screen.hide), screen.told)


class SplitOnCard(Act["CardScreen"]):
    """Let some skins of this lot go on as a hide of their own."""

    keys = "p"
    label = "Split"

    def run(self, screen: CardScreen) -> None:
        """Open the form."""
        from benchconsole.console.screens.split_lot import SplitLotScreen

        screen.console.desk.moves.lot(screen.hide)
        screen.app.push_screen(SplitLotScreen(screen.hide), screen.told)


class SpoiledOnCard(Act["CardScreen"]):
    """A liquor of this hide can no longer be used: what lies in it is to come out now."""

    keys = "x"
    label = "Spoiled"

    def run(self, screen: CardScreen) -> None:
        """Open the form."""
        from benchconsole.console.screens.spoiled_liquor import SpoiledLiquorScreen

        screen.console.desk.moves.usable_liquors(screen.hide)
        screen.app.push_screen(SpoiledLiquorScreen(screen.hide), screen.told)


class LostOnCard(Act["CardScreen"]):
    """Take this hide out of work: it is lost, sold raw or given away. Its card stays."""

    keys = "k"
    label = "Lost"

    def run(self, screen: CardScreen) -> None:
        """Open the form."""
        from benchconsole.console.screens.lose_hide import LoseHideScreen

        screen.console.desk.moves.in_work(screen.hide)
        screen.app.push_screen(LoseHideScreen(screen.hide), screen.told)
