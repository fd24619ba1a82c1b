"""How every line of a plan stands in a weigh-out: done, short, too much, still to do."""

from __future__ import annotations

from typing import Literal

from benchconsole.mixing.benches import Bench, deviations, is_over, is_short, needed_g, open_line
from benchconsole.mixing.pouring import in_hand, is_top_up
from benchconsole.model.record import Record
from benchconsole.model.weighing import PlannedLine

LineState = Literal["done", "now", "to-do", "short", "over", "settled", "top-up"]
"""``settled``: carried on with as it is; ``top-up``: in, but a rebalance has raised it since."""


class WeighedLine(Record, frozen=True, kw_only=True):
    """One line of a plan at the present tap, in grams.

    ``deviation`` is the share by which it is off what is asked (0.02 is 2 % too much);
    ``in_hand_g`` is what starting again would now throw away of it, ``wasted_g`` what was
    thrown away before.
    """

    planned: PlannedLine
    state: LineState
    needed_g: float
    poured_g: float
    wasted_g: float
    in_hand_g: float
    deviation: float


def weighed_lines(bench: Bench) -> tuple[WeighedLine, ...]:
    """Every line of the plan as it stands."""
    hand, off = in_hand(bench), deviations(bench)
    return tuple(
        WeighedLine(
            planned=planned,
            state=line_state(bench, line),
            needed_g=needed_g(bench, line),
            poured_g=bench.poured[line],
            wasted_g=bench.wasted[line],
            in_hand_g=hand.get(line, 0.0),
            deviation=off[line],
        )
        for line, planned in enumerate(bench.plan.lines)
    )


def line_state(bench: Bench, line: int) -> LineState:
    """The one word for a line; the same rules as decide what to pour next."""
    if line in bench.settled:
        return "settled"
    if is_over(bench, line):
        return "over"
    if bench.over is None and open_line(bench) == line:
        return "now"
    if not is_short(bench, line):
        return "done"
    if is_top_up(bench, line):
        return "top-up"
    return "short" if bench.poured[line] > 0.0 else "to-do"
