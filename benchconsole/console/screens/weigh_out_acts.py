"""What can be done at the scale, one class an act.

While a reading is being typed the letters belong to it, so only enter and escape act then.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from benchconsole.console.acts import Act

if TYPE_CHECKING:
    from benchconsole.console.screens.weigh_out import WeighOutScreen


class ScaleAct(Act["WeighOutScreen"]):
    """An act on the weigh-out as it stands: not while a page of words is in front."""

    def possible(self, screen: WeighOutScreen) -> bool:
        """Whether the scale is in front and nothing is being typed."""
        return screen.stands.at_the_scale and not screen.stands.is_typing


class AcceptReading(Act["WeighOutScreen"]):
    """Say that the scale shows the target, send the reading that was typed, or read on."""

    keys = "enter"
    label = "Accept"

    def possible(self, screen: WeighOutScreen) -> bool:
        """Everywhere but where only a choice helps."""
        return screen.stands.page not in ("opening", "done") and (
            screen.stands.page != "over" or screen.stands.is_typing or screen.asks_zero
        )

    def run(self, screen: WeighOutScreen) -> None:
        """Accept, send or turn the page, whichever the page in front asks for."""
        screen.enter()


class CarryOnAsItIs(ScaleAct):
    """Leave too much or too little as it is and go on; the record keeps the deviation."""

    keys = "c"
    label = "Carry on"
    records = True

    def possible(self, screen: WeighOutScreen) -> bool:
        """When something is over, or short."""
        return super().possible(screen) and screen.stands.is_off

    def run(self, screen: WeighOutScreen) -> None:
        """Settle the line with its deviation."""
        screen.tap(screen.console.desk.weigh_outs.carry_on)


class RebalanceBatch(ScaleAct):
    """Raise the other ingredients until the proportions hold again."""

    keys = "r"
    label = "Rebalance"
    records = True

    def possible(self, screen: WeighOutScreen) -> bool:
        """When too much is in and the batch may grow."""
        return super().possible(screen) and screen.stands.can_rebalance

    def run(self, screen: WeighOutScreen) -> None:
        """Scale the batch up to what went in too much."""
        screen.tap(screen.console.desk.weigh_outs.rebalance)


class StartBowlAgain(ScaleAct):
    """Throw away what is in this bowl and weigh it afresh; undo takes that back."""

    keys = "s"
    label = "New bowl"
    records = True
    footer = True

    def possible(self, screen: WeighOutScreen) -> bool:
        """When something is in the bowl."""
        return super().possible(screen) and screen.stands.has_something_in

    def run(self, screen: WeighOutScreen) -> None:
        """Count the bowl as wasted and ask for its lines again."""
        screen.tap(screen.console.desk.weigh_outs.bowl_again)


class SetLeftoverZero(ScaleAct):
    """Tell what the scale shows with the empty bowl on, when it is not quite zero."""

    keys = "z"
    label = "Zero"
    records = True
    footer = True

    def run(self, screen: WeighOutScreen) -> None:
        """Let the next number typed be the zero."""
        screen.ask_zero()


class ChangeBowlMode(ScaleAct):
    """Change between leaving the bowl on, so that readings add up, and zeroing each time."""

    keys = "m"
    label = "Zeroing"
    records = True
    footer = True

    def run(self, screen: WeighOutScreen) -> None:
        """Go over to the other way of using the bowl."""
        screen.tap(screen.console.desk.weigh_outs.change_mode)


class UndoTap(Act["WeighOutScreen"]):
    """Take back the last tap, then the one before it; after the end, the end itself."""

    keys = "u"
    label = "Undo"
    records = True

    def possible(self, screen: WeighOutScreen) -> bool:
        """When there is a tap."""
        return screen.stands.can_undo

    def run(self, screen: WeighOutScreen) -> None:
        """Take the tap back and stand where it was given."""
        screen.tap(screen.console.desk.weigh_outs.undo)


class PutBackTap(Act["WeighOutScreen"]):
    """Put back the tap that undo took back last, until another one is given."""

    keys = "f2"
    label = "Put back"
    records = True
    settle_s = 0.5

    def possible(self, screen: WeighOutScreen) -> bool:
        """While it goes on."""
        return screen.stands.is_weighing

    def run(self, screen: WeighOutScreen) -> None:
        """Put it back and stand where it left off; its end leads back to the bench."""
        desk = screen.console.desk
        desk.taps.put_back_last(f"weigh-out/{screen.view.weigh_out.id}")
        screen.tap(desk.weigh_outs.view)
        if screen.view.weigh_out.ended_at is not None:
            screen.dismiss(screen.view.weigh_out.liquor or None)


class ShowCautions(Act["WeighOutScreen"]):
    """Read the cautions for this mix again."""

    keys = "w"
    label = "Warnings"
    footer = True

    def possible(self, screen: WeighOutScreen) -> bool:
        """When there are any."""
        return screen.stands.is_weighing and screen.stands.has_cautions

    def run(self, screen: WeighOutScreen) -> None:
        """Bring the cautions in front of the scale."""
        screen.put_in_front("cautions")


class GiveUpWeighOut(Act["WeighOutScreen"]):
    """Leave this weigh-out for good, after asking; leaving with escape keeps it instead."""

    keys = "g"
    label = "Give up"
    records = True
    footer = True

    def possible(self, screen: WeighOutScreen) -> bool:
        """Until it is finished."""
        return screen.stands.is_weighing

    def run(self, screen: WeighOutScreen) -> None:
        """Ask whether it is meant."""
        screen.put_in_front("giving up")


class ConfirmGivingUp(Act["WeighOutScreen"]):
    """Yes: nothing comes of this weigh-out."""

    keys = "y"
    label = "Yes, give up"
    records = True

    def possible(self, screen: WeighOutScreen) -> bool:
        """Only when asked."""
        return screen.stands.page == "giving up"

    def run(self, screen: WeighOutScreen) -> None:
        """End it with nothing made, and leave the screen."""
        screen.give_up()


class FinishWeighOut(Act["WeighOutScreen"]):
    """Everything is in: record what was really made."""

    keys = "f"
    label = "Finish"
    records = True

    def possible(self, screen: WeighOutScreen) -> bool:
        """When everything is in."""
        return screen.stands.page == "done"

    def run(self, screen: WeighOutScreen) -> None:
        """Store the liquor and show its record."""
        screen.finish()


class LeaveWeighOut(Act["WeighOutScreen"]):
    """Wipe what is typed, go back a page, or leave: the weigh-out stays at this very tap."""

    keys = "escape"
    label = "Leave"

    def run(self, screen: WeighOutScreen) -> None:
        """Go one step back: what is typed, the page, or the screen."""
        screen.go_back()


WEIGH_OUT_ACTS: tuple[type[Act[WeighOutScreen]], ...] = (
    AcceptReading,
    CarryOnAsItIs,
    FinishWeighOut,
    ConfirmGivingUp,
    RebalanceBatch,
    UndoTap,
    PutBackTap,
    StartBowlAgain,
    SetLeftoverZero,
    ChangeBowlMode,
    ShowCautions,
    GiveUpWeighOut,
    LeaveWeighOut,
)
"""In the order of the buttons."""
