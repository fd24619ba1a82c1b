"""What would come of a change in the shop: a second plan beside the first, and the ways out."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from benchconsole.model.record import Record
from benchconsole.model.shop import Shop
from benchconsole.schedule.planning.changes import Change, question_with
from benchconsole.schedule.planning.differences import Difference, difference
from benchconsole.schedule.planning.mending import mended
from benchconsole.schedule.planning.planner import Question, make_plan, with_rounds
from benchconsole.schedule.planning.plans import Plan
from benchconsole.schedule.planning.problems import DUE_COST
from benchconsole.schedule.planning.search import WORTH_MOVING
from benchconsole.schedule.planning.ways_out import Supposed, WayOut, ways_out_of


class WhatIf(Record, frozen=True, kw_only=True):
    """What would come of some changes; the ways out have the cheapest first.

    ``difference`` is what ``after`` does otherwise than ``before``.
    """

    changes: tuple[Change, ...]
    before: Plan
    after: Plan
    difference: Difference
    ways_out: tuple[WayOut, ...] = ()


def what_if(
    question: Question,
    plan: Plan,
    shop: Shop,
    changes: Sequence[Change],
    *,
    steps: int | None = None,
    between: Callable[[], None] = lambda: None,
) -> WhatIf:
    """What would come of changes, made together; pure, takes a moment.

    ``plan`` is the plan of the question and ``shop`` the settings it came from; ``before`` is
    that plan, or a better one that was come upon. ``steps`` limits each search; ``between`` is
    called now and then, and ends the work by what it raises. Raises ``NotPossibleNow`` for
    changes that cannot be.
    """
    # As of the plan's own moment, so that its times lie on the same grid.
    question = replace(question, now=plan.made_at)
    changed = question_with(question, shop, changes)
    # Near the plan first: what has nothing to do with the change then stays as it is.
    near = mended(changed, plan)
    after = make_plan(changed, like=near, steps=steps, between=between)
    before = _at_its_best(question, plan, after)
    found = difference(before, after)
    supposed = Supposed(question, shop, tuple(changes), before, after, found)
    return WhatIf(
        changes=tuple(changes),
        before=before,
        after=after,
        difference=found,
        ways_out=ways_out_of(supposed, steps=steps, between=between),
    )


def _at_its_best(question: Question, plan: Plan, after: Plan) -> Plan:
    """The plan without the changes, or that after them where it is better without them, too.

    Else a search that had more luck the second time would be taken for the good of the change.
    """
    again = mended(question, after)
    enough = plan.cost - WORTH_MOVING / DUE_COST
    gained = (_unplanned(again), again.cost) < (_unplanned(plan), enough)
    return with_rounds(again, question) if gained and again.until == plan.until else plan


def _unplanned(plan: Plan) -> int:
    return sum(1 for hide in plan.hides if not hide.visits)
