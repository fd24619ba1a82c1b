"""What is chosen on a timeline: a line of it, and on that line a visit, a hold or a round.

Pure: every function gives another choice, and a choice is found again in a newer plan.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from benchconsole.console.widgets.timeline_layout import Lying, holds_of, visit_columns
from benchconsole.console.widgets.timeline_ruler import Ruler
from benchconsole.schedule.planning.plans import Plan, Round, Visit

Piece = Visit | Lying | Round


@dataclass(frozen=True)
class Choice:
    """The chosen line (a hide's id; empty: the shop's own, with the rounds) and piece of it."""

    hide: str = ""
    piece: Piece | None = None


def first_choice(plan: Plan) -> Choice:
    """The hide with the very next visit, else the first hide."""
    if plan.visits:
        return Choice(plan.visits[0].hide, plan.visits[0])
    return Choice(plan.hides[0].hide if plan.hides else "", None)


def found_again(choice: Choice, plan: Plan) -> Choice:
    """The same line and piece as a newer plan has them; another near in time if they are gone."""
    if choice.hide and plan.of(choice.hide) is None:
        return first_choice(plan)
    piece = choice.piece
    steps = steps_of(plan, choice.hide)
    if piece is None:
        return Choice(choice.hide, steps[0] if steps else None)
    if isinstance(piece, Lying):
        holds = _holds(plan, choice.hide)
        same = next((hold for hold in holds if _name(hold.next) == _name(piece.next)), None)
        if same is not None:
            return Choice(choice.hide, same)
    if isinstance(piece, Visit):
        again = next((v for v in steps if isinstance(v, Visit) and _name(v) == _name(piece)), None)
        if again is not None:
            return Choice(choice.hide, again)
    return Choice(choice.hide, _nearest(steps, instant_of(piece)))


def other_line(choice: Choice, plan: Plan, by: int) -> Choice:
    """``by`` lines further down (up, if negative), at what lies nearest in time there."""
    lines = ["", *(hide.hide for hide in plan.hides)]
    place = lines.index(choice.hide) if choice.hide in lines else 0
    line = lines[min(max(place + by, 0), len(lines) - 1)]
    if line == choice.hide:
        return choice
    near = plan.made_at if choice.piece is None else instant_of(choice.piece)
    return Choice(line, _nearest(steps_of(plan, line), near))


def other_step(choice: Choice, plan: Plan, by: int) -> Choice:
    """The next visit (round, on the shop's line), or the one before; itself where none is."""
    steps = steps_of(plan, choice.hide)
    if not steps:
        return choice
    piece = choice.piece
    if isinstance(piece, Lying):
        # A hold ends with its visit: that is the next step, and the one before is one before it.
        place = [_name(step) for step in steps if isinstance(step, Visit)].index(_name(piece.next))
        place += by - 1 if by > 0 else by
    else:
        place = steps.index(piece) + by if piece in steps else 0
    return Choice(choice.hide, steps[min(max(place, 0), len(steps) - 1)])


def hold_or_visit(choice: Choice, plan: Plan) -> Choice:
    """From a visit to the hold before it, and from a hold to the visit that ends it."""
    piece = choice.piece
    if isinstance(piece, Lying):
        return Choice(choice.hide, piece.next)
    if isinstance(piece, Visit):
        hold = next((h for h in _holds(plan, choice.hide) if h.next == piece), None)
        return Choice(choice.hide, hold or piece)
    return choice


def chosen_at(plan: Plan, hide: str, column: int, ruler: Ruler) -> Choice:
    """What lies in a column of a line: a visit, else a hold, else what is nearest."""
    steps = steps_of(plan, hide)
    for step in reversed(steps):
        if isinstance(step, Round):
            here = ruler.column(step.at) == column
        else:
            first, after = visit_columns(step, ruler)
            here = first <= column < after
        if here:
            return Choice(hide, step)
    for hold in _holds(plan, hide):
        begins = column if hold.since is None else ruler.column(hold.since)
        if begins <= column < ruler.column(hold.next.starts):
            return Choice(hide, hold)
    return Choice(hide, _nearest(steps, ruler.begins(column)))


def steps_of(plan: Plan, hide: str) -> Sequence[Visit | Round]:
    """The visits of a hide in order; the rounds for the shop's own line."""
    if not hide:
        return plan.rounds
    planned = plan.of(hide)
    return () if planned is None else planned.visits


def instant_of(piece: Piece) -> datetime:
    """Where a piece is looked for: the start of a visit or round, the end of a hold."""
    if isinstance(piece, Round):
        return piece.at
    return piece.next.starts if isinstance(piece, Lying) else piece.starts


def _holds(plan: Plan, hide: str) -> tuple[Lying, ...]:
    planned = plan.of(hide)
    return () if planned is None else holds_of(planned)


def _name(visit: Visit) -> tuple[str, str, int]:
    """What stays the same about a visit when it is planned anew."""
    return visit.stage, visit.kind, visit.number


def _nearest(steps: Sequence[Visit | Round], instant: datetime) -> Visit | Round | None:
    return min(steps, key=lambda step: abs(instant_of(step) - instant), default=None)
