"""What a person can do on a hide's card, one class an act."""

from __future__ import annotations

from typing import TYPE_CHECKING

from benchconsole.console.acts import Act

if TYPE_CHECKING:
    from textual.screen import Screen

    from benchconsole.console.screens.card import CardScreen


class _OpensForm(Act["CardScreen"]):
    """An act that asks further in a form; what the form says is told on the card."""

    keys = ""
    label = ""

    def form(self, screen: CardScreen) -> Screen[str]:
        """The form for the card's hide; raises ``NotPossibleNow`` where it makes no sense."""
        raise AssertionError("an act says which form it opens")

    def run(self, screen: CardScreen) -> None:
        """Open the form."""
        screen.app.push_screen(self.form(screen), screen.told)


class NoteOnCard(_OpensForm):
    """Write a remark on this card, with the time."""

    keys = "o"
    label = "Note"
    records = True

    def form(self, screen: CardScreen) -> Screen[str]:
        """The form."""
        from benchconsole.console.screens.note import NoteScreen

        return NoteScreen(screen.hide)


class UndoOnCard(Act["CardScreen"]):
    """Take back the last tap about this hide; pressing again takes back the one before."""

    keys = "u"
    label = "Undo"
    records = True

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


class WeighOnCard(_OpensForm):
    """Write down what a drying hide weighs now; for another hide, its weight for the recipes."""

    keys = "s"
    label = "Weigh"
    records = True
    has_button = False

    def form(self, screen: CardScreen) -> Screen[str]:
        """The form that fits."""
        if screen.console.desk.drying.dries(screen.hide):
            from benchconsole.console.screens.drying import WeighDryingScreen

            return WeighDryingScreen(screen.hide)
        from benchconsole.console.screens.correct_hide import CorrectHideScreen

        return CorrectHideScreen(screen.hide)


class MoveOnCard(_OpensForm):
    """Put this hide at another stage, ahead or back, or on another route."""

    keys = "m"
    label = "Move"
    records = True

    def form(self, screen: CardScreen) -> Screen[str]:
        """The form."""
        from benchconsole.console.screens.move_hide import MoveHideScreen

        screen.console.desk.moves.in_shop(screen.hide)
        return MoveHideScreen(screen.hide)


class SplitOnCard(_OpensForm):
    """Let some skins of this lot go on as a hide of their own."""

    keys = "p"
    label = "Split"
    records = True

    def form(self, screen: CardScreen) -> Screen[str]:
        """The form."""
        from benchconsole.console.screens.split_lot import SplitLotScreen

        screen.console.desk.moves.lot(screen.hide)
        return SplitLotScreen(screen.hide)


class SpoiledOnCard(_OpensForm):
    """A liquor of this hide can no longer be used: what lies in it is to come out now."""

    keys = "x"
    label = "Spoiled"
    records = True

    def form(self, screen: CardScreen) -> Screen[str]:
        """The form."""
        from benchconsole.console.screens.spoiled_liquor import SpoiledLiquorScreen

        screen.console.desk.moves.usable_liquors(screen.hide)
        return SpoiledLiquorScreen(screen.hide)


class LostOnCard(_OpensForm):
    """Take this hide out of work: it is lost, sold raw or given away. Its card stays."""

    keys = "k"
    label = "Lost"
    records = True

    def form(self, screen: CardScreen) -> Screen[str]:
        """The form."""
        from benchconsole.console.screens.lose_hide import LoseHideScreen

        screen.console.desk.moves.in_work(screen.hide)
        return LoseHideScreen(screen.hide)
