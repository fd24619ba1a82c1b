"""How a weigh-out stands on its screen: which page is in front, and what can be done there."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from benchconsole.console.screens.weigh_out_words import part_of

if TYPE_CHECKING:
    from benchconsole.desk.views import WeighOutView

Page = Literal["opening", "cautions", "pour", "over", "part", "done", "giving up", "record"]
Front = Literal["", "cautions", "giving up", "record"]
"""A page that the person (or the end) has put in front of the weighing itself."""


@dataclass(frozen=True)
class Standing:
    """A weigh-out at its present tap, and what lies in front of it.

    ``parts_begun`` are the parts whose turning page was read, ``typed`` the half-typed reading.
    """

    view: WeighOutView | None
    front: Front
    parts_begun: frozenset[str]
    typed: str

    @property
    def page(self) -> Page:
        """What is in front."""
        if self.view is None:
            return "opening"
        if self.front:
            return self.front
        if self.view.done:
            return "done"
        if self.view.over is not None:
            return "over"
        return "part" if self._turns_to_a_part(self.view) else "pour"

    def _turns_to_a_part(self, view: WeighOutView) -> bool:
        """Whether the part before is in, and this one neither begun nor turned to."""
        pour, plan = view.pour, view.weigh_out.plan
        if pour is None or pour.line == 0 or pour.started:
            return False
        here, before = part_of(plan, pour.line), part_of(plan, pour.line - 1)
        return here != before and here.part not in self.parts_begun

    @property
    def at_the_scale(self) -> bool:
        """Whether the figure is in front, not a page of words."""
        return self.page in ("pour", "over")

    @property
    def is_typing(self) -> bool:
        """Whether a reading is half typed; then every letter belongs to it."""
        return self.at_the_scale and bool(self.typed)

    @property
    def is_weighing(self) -> bool:
        """Whether it goes on: no question in front, no record yet, nothing half typed."""
        return self.page in ("pour", "over", "part", "done") and not self.is_typing

    @property
    def is_off(self) -> bool:
        """Whether something is over, or short."""
        view = self.view
        if view is None:
            return False
        return view.over is not None or (view.pour is not None and view.pour.started)

    @property
    def can_rebalance(self) -> bool:
        """Whether too much is in and the batch may grow."""
        return self.view is not None and self.view.over is not None and not self.view.over.refused

    @property
    def has_something_in(self) -> bool:
        """Whether there is anything to throw away and begin again."""
        if self.view is None or self.view.done:
            return False
        return any(line.in_hand_g > 0 for line in self.view.lines)

    @property
    def can_undo(self) -> bool:
        """Whether there is a tap, or the end of the weigh-out, to take back."""
        going = self.is_weighing and self.view is not None and bool(self.view.weigh_out.taps)
        return going or self.page == "record"

    @property
    def has_cautions(self) -> bool:
        """Whether there is anything to warn of."""
        return self.view is not None and bool(self.view.weigh_out.plan.cautions)
