"""The state of a weigh-out: what is in, what stands on the scale, and what is still wanted.

Words: ``planned`` is what the worksheet asks, ``needed`` the same times the scale factor that
rebalancing may have raised, ``poured`` what is in. A line is *settled* when the person said to
carry on with its deviation. The scale shows ``zero_g`` with nothing new on it.
"""

from __future__ import annotations

import msgspec

from benchconsole.model.record import Record
from benchconsole.model.weighing import BowlMode, Plan, deviation


class Bench(Record, frozen=True, kw_only=True):
    """The state of a weigh-out; grams by line in ``poured`` and ``wasted``.

    ``on_scale_g`` is what has gone on since the scale was last zeroed or emptied and
    ``zero_line`` the line weighed first since then; ``bowl`` is what lies in the bowl by line,
    which in the re-zero mode is more than the scale shows. ``at_line`` was poured last.
    """

    plan: Plan
    factor: float
    poured: tuple[float, ...]
    wasted: tuple[float, ...]
    settled: frozenset[int] = frozenset()
    over: int | None = None
    zero_g: float = 0.0
    mode: BowlMode = "cumulative"
    on_scale_g: float = 0.0
    zero_line: int | None = None
    bowl: dict[int, float] = msgspec.field(default_factory=dict)
    at_line: int | None = None


def bench_for(plan: Plan) -> Bench:
    """The bench before the first tap."""
    nothing = (0.0,) * len(plan.lines)
    return Bench(plan=plan, factor=1.0, poured=nothing, wasted=nothing)


def band_g(plan: Plan, line: int, amount_g: float) -> float:
    """How far a line may miss ``amount_g``: the tolerance, but never finer than the scale."""
    finest = plan.scale.step_g if plan.lines[line].by == "scale" else 0.0
    return max(plan.tolerance * amount_g, finest)


def needed_g(bench: Bench, line: int) -> float:
    """What a line asks for at the bench's scale factor, grams."""
    return bench.plan.lines[line].grams * bench.factor


def is_over(bench: Bench, line: int) -> bool:
    """Whether more of a line is in than its band allows."""
    needed = needed_g(bench, line)
    return bench.poured[line] > needed + band_g(bench.plan, line, needed)


def is_short(bench: Bench, line: int) -> bool:
    """Whether a line wants more, carried on with or not.

    The band of an amount smaller than the scale's step reaches below zero; something must go
    in all the same.
    """
    needed, poured = needed_g(bench, line), bench.poured[line]
    return poured < needed - band_g(bench.plan, line, needed) or poured <= 0.0 < needed


def open_line(bench: Bench) -> int | None:
    """The first line that still wants something and was not settled."""
    for line in range(len(bench.poured)):
        if line not in bench.settled and is_short(bench, line):
            return line
    return None


def is_done(bench: Bench) -> bool:
    """Whether everything is in and nothing waits for a decision."""
    return bench.over is None and open_line(bench) is None


def deviations(bench: Bench) -> tuple[float, ...]:
    """By how much each line stands off its share of the batch (0.02 is 2 % too much)."""
    return tuple(
        deviation(poured, needed_g(bench, line)) for line, poured in enumerate(bench.poured)
    )
