"""Too much went in: by how much, and what it takes to put the proportions right."""

from __future__ import annotations

import msgspec

from benchconsole.mixing.benches import Bench, deviations, is_over, is_short, needed_g
from benchconsole.model.record import Record
from benchconsole.model.weighing import PlannedLine


class Raise(Record, frozen=True, kw_only=True):
    """One line of a rebalance: the new amount, and what is to be added to reach it."""

    line: int
    planned: PlannedLine
    was_g: float
    new_g: float
    add_g: float


class OverPour(Record, frozen=True, kw_only=True):
    """Too much went in: by how much, and what each way out would mean.

    ``deviation`` is the share by which the line exceeds what was needed; ``raises`` the
    rebalance, every line that will then be asked for, ``factor`` its scale on the plan;
    ``refused`` says why it cannot be done (empty: it can).
    """

    line: int
    planned: PlannedLine
    excess_g: float
    deviation: float
    factor: float
    raises: tuple[Raise, ...]
    refused: str


def over_pour(bench: Bench) -> OverPour | None:
    """The over-pour that waits for a decision, with its ways out; None if there is none."""
    line = bench.over
    if line is None:
        return None
    factor = restoring_factor(bench)
    raised = msgspec.structs.replace(bench, factor=factor)
    raises = tuple(
        Raise(
            line=place,
            planned=planned,
            was_g=needed_g(bench, place),
            new_g=needed_g(raised, place),
            add_g=needed_g(raised, place) - bench.poured[place],
        )
        for place, planned in enumerate(bench.plan.lines)
        if is_short(raised, place)
    )
    return OverPour(
        line=line,
        planned=bench.plan.lines[line],
        excess_g=bench.poured[line] - needed_g(bench, line),
        deviation=deviations(bench)[line],
        factor=factor,
        raises=raises,
        refused=_why_refused(bench, factor),
    )


def restoring_factor(bench: Bench) -> float:
    """The smallest scale factor at which no line is over, the worst one exactly right.

    A line within its band counts as right: a pinch that the scale cannot weigh finer must not
    raise the whole batch. Lines carried on with count, since the proportions of all are
    restored.
    """
    ratios = (
        bench.poured[line] / planned.grams
        for line, planned in enumerate(bench.plan.lines)
        if planned.grams > 0.0 and is_over(bench, line)
    )
    return max(ratios, default=bench.factor)


def _why_refused(bench: Bench, factor: float) -> str:
    plan = bench.plan
    amounts = [
        max(planned.grams * factor, poured)
        for planned, poured in zip(plan.lines, bench.poured, strict=True)
    ]
    if plan.limit_g is not None and sum(amounts) > plan.limit_g * (1 + 1e-9):
        return "The container would be too small for the larger batch."
    takes: dict[str, float] = {}
    for planned, amount, wasted in zip(plan.lines, amounts, bench.wasted, strict=True):
        takes[planned.substance] = takes.get(planned.substance, 0.0) + amount + wasted
    for planned in plan.lines:
        stock = plan.stock_g.get(planned.substance)
        if stock is not None and takes[planned.substance] > stock * (1 + 1e-9):
            return f"There is not enough {planned.name} for the larger batch."
    return ""
