"""What to pour next: how much, what the scale shows then, and whether the bowl must be emptied."""

from __future__ import annotations

import math

import msgspec

from benchconsole.mixing.benches import Bench, band_g, needed_g, open_line
from benchconsole.model.record import Record
from benchconsole.model.weighing import PlannedLine

SLACK_G = 1e-6
"""What adding and taking away floats may leave over; far below any scale."""


class Pour(Record, frozen=True, kw_only=True):
    """What to put in next.

    ``add_g`` is still missing of the line; ``aim_g`` is what to add now, less than ``add_g``
    when it takes ``lots`` bowls. ``from_g`` is what the scale shows before and ``reading_g``
    what it shows then, with ``low_g`` and ``high_g`` as the tolerance band; ``litres`` is the
    same for a jug. ``empty_first``: what is in the bowl leaves no room. ``top_up``: the line
    was in already, before a rebalance raised it. ``started``: some of it is in.
    """

    line: int
    planned: PlannedLine
    add_g: float
    aim_g: float
    reading_g: float
    low_g: float
    high_g: float
    from_g: float
    litres: float | None
    lots: int
    empty_first: bool
    top_up: bool
    started: bool


class Portion(Record, frozen=True, kw_only=True):
    """One bowlful of what is missing: how much, of how many bowls, and into an empty one?"""

    aim_g: float
    lots: int = 1
    empty_first: bool = False


def next_pour(bench: Bench) -> Pour | None:
    """What to add next; None when everything is in (or an over-pour waits for a decision)."""
    if bench.over is not None:
        return None
    line = open_line(bench)
    return None if line is None else pour_of(ready_for(bench, line), line)


def ready_for(bench: Bench, line: int) -> Bench:
    """The bench with the scale ready for ``line``.

    Another part has its own bowl, and in the re-zero mode another line its own zero.
    """
    before = bench.at_line
    if before == line:
        return bench
    lines = bench.plan.lines
    same_bowl = before is not None and lines[before].part == lines[line].part
    keeps_sum = same_bowl and bench.mode == "cumulative"
    return msgspec.structs.replace(
        bench,
        at_line=line,
        on_scale_g=bench.on_scale_g if keeps_sum else 0.0,
        zero_line=bench.zero_line if keeps_sum else None,
        bowl=bench.bowl if same_bowl else {},
    )


def emptied(bench: Bench) -> Bench:
    """The bench with an empty bowl on a fresh zero; what was in it counts as before."""
    return msgspec.structs.replace(bench, on_scale_g=0.0, zero_line=None, bowl={})


def pour_of(bench: Bench, line: int) -> Pour:
    """What to add of ``line``, the scale being ready for it."""
    planned = bench.plan.lines[line]
    needed = needed_g(bench, line)
    missing = max(needed - bench.poured[line], 0.0)
    band = band_g(bench.plan, line, needed)
    weighed = planned.by == "scale"
    portion = _portion(bench, line, missing, band) if weighed else Portion(aim_g=missing)
    start = bench.zero_g + (0.0 if portion.empty_first else bench.on_scale_g)
    density = planned.density_kg_m3
    return Pour(
        line=line,
        planned=planned,
        add_g=missing,
        aim_g=portion.aim_g,
        reading_g=start + portion.aim_g,
        low_g=start + portion.aim_g - band,
        high_g=start + portion.aim_g + band,
        from_g=start,
        litres=portion.aim_g / density if density and not weighed else None,
        lots=portion.lots,
        empty_first=portion.empty_first,
        top_up=bench.factor > 1.0 and bench.poured[line] >= planned.grams - band,
        started=bench.poured[line] > 0.0,
    )


def _portion(bench: Bench, line: int, missing: float, band: float) -> Portion:
    """Equal bowlfuls of what is missing, the bowl begun with this line filled up first.

    The bowl's own weight is not known and not counted; what lies in it is, also where the
    scale was zeroed with it on.
    """
    capacity = bench.plan.scale.capacity_g
    room = min(capacity, capacity - bench.zero_g)
    load = sum(bench.bowl.values())
    # Nothing missing is a line over-poured: its bowl stays, however full, to be spooned back.
    if missing <= max(room - load, 0.0) + SLACK_G:
        return Portion(aim_g=missing)
    own = bench.bowl.get(line, 0.0)
    if own > 0.0 and load - own <= SLACK_G:
        lots = _lots(missing + own, room)
        short = (missing + own) / lots - own
        if short > band:
            return Portion(aim_g=short, lots=lots)
    lots = _lots(missing, room)
    return Portion(aim_g=missing / lots, lots=lots, empty_first=load > SLACK_G)


def _lots(grams: float, room: float) -> int:
    return max(math.ceil((grams - SLACK_G) / room), 1)
