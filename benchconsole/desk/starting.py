"""When to begin with one hide, at the desk: asked for here, worked out anywhere."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from benchconsole.desk.ledger import Ledger
from benchconsole.desk.moves import Moves
from benchconsole.desk.planning import (
    PlanAnswer,
    PlannedQuestion,
    Planning,
    work_out_planned,
)

if TYPE_CHECKING:
    from benchconsole.schedule.planning.starting import StartsOfHide


@dataclass(frozen=True, kw_only=True)
class StartsQuestion:
    """For which hide starts are looked for; it can be taken to another thread."""

    planned: PlannedQuestion
    hide: str


@dataclass(frozen=True, kw_only=True)
class StartsAnswer:
    """The starts of a hide, and the plan that all the others keep to."""

    plan: PlanAnswer
    starts: StartsOfHide


class Starting:
    """The part of the desk that says when to begin with a hide.

    :meth:`ask` and :meth:`take` are quick; :func:`work_out_starts` between them is not, and
    touches nothing of the desk.
    """

    def __init__(self, ledger: Ledger, moves: Moves, planning: Planning) -> None:
        self._ledger, self._moves, self._planning = ledger, moves, planning

    def ask(self, hide_id: str) -> StartsQuestion:
        """The question as things stand; ``NotPossibleNow`` for a hide that waits for no start."""
        hide = self._moves.waiting(hide_id)
        return StartsQuestion(planned=self._planning.ask_planned(), hide=hide.id)

    def take(self, answer: StartsAnswer) -> bool:
        """Keep the plan of an answer; whether the answer is for the shop as it stands."""
        self._planning.take(answer.plan)
        return answer.plan.version == self._ledger.version

    def starts(self, hide_id: str) -> StartsOfHide:
        """The starts of a hide, worked out here and now."""
        answer = work_out_starts(self.ask(hide_id))
        self.take(answer)
        return answer.starts

    def choose(self, hide_id: str, at: datetime) -> str:
        """Begin the hide at ``at`` (aware); the sentence to show. As :meth:`Moves.start_at`."""
        return self._moves.start_at(hide_id, at)

    def clear(self, hide_id: str) -> str:
        """Leave the start to the plan again; the sentence to show."""
        return self._moves.start_any_time(hide_id)


def work_out_starts(
    asked: StartsQuestion, between: Callable[[], None] = lambda: None
) -> StartsAnswer:
    """The answer to a question; pure, takes a moment, may run in any thread.

    ``between`` is called now and then, and ends the work by what it raises. Raises
    ``NotPossibleNow`` where no start can be worked out.
    """
    from benchconsole.schedule.planning.starting import starts_of

    question, plan = work_out_planned(asked.planned, between)
    starts = starts_of(question, plan.plan, asked.hide, between=between)
    return StartsAnswer(plan=plan, starts=starts)
