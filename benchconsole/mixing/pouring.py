"""What to pour next: how much, what the scale shows then, and whether the bowl must be emptied."""

from __future__ import annotations

import msgspec

from benchconsole.mixing.benches import Bench, band_g, needed_g, open_line
from benchconsole.mixing.bowlfuls import SLACK_G, Bowlful, bowlful_of, lots_of
from benchconsole.model.record import Record
from benchconsole.model.weighing import PlannedLine


class Pour(Record, frozen=True, kw_only=True):
    """What to put in next.

    ``add_g`` is still missing of the line; ``aim_g`` is what to add now, less than ``add_g``
    when it still takes ``lots`` bowls, of ``of_lots`` for the whole line. ``from_g`` is what
    the scale shows before and ``reading_g`` what it shows then, with ``low_g`` and ``high_g``
    as the tolerance band; ``litres`` is the same for a jug. ``empty_first``: what is in the
    bowl leaves no room. ``fresh``: the scale stands at its zero. ``too_fine``: so little does
    not move the scale. ``top_up``: the line was in already, before a rebalance raised it.
    ``started``: some of it is in.
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
    of_lots: int
    empty_first: bool
    fresh: bool
    bowl_empty: bool
    too_fine: bool
    top_up: bool
    started: bool

    @property
    def lot(self) -> int:
        """Which of the lots this one is, from 1."""
        return self.of_lots - self.lots + 1


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


def in_hand(bench: Bench) -> dict[int, float]:
    """What starting again would throw away now, grams by line.

    For a weighed line that is the bowl on the scale. A jug is poured straight into the
    container of its part, so there it is everything that this part holds.
    """
    line = bench.over if bench.over is not None else open_line(bench)
    if line is not None:
        bench = ready_for(bench, line)
    lines, at = bench.plan.lines, bench.at_line
    held = dict(bench.bowl)
    if at is not None and lines[at].by == "jug":
        own = (place for place, other in enumerate(lines) if other.part == lines[at].part)
        held = {place: bench.poured[place] for place in own}
    return {place: grams for place, grams in held.items() if grams > 0.0}


def is_top_up(bench: Bench, line: int) -> bool:
    """Whether a line was in already when a rebalance raised the batch, and wants the rest."""
    band = band_g(bench.plan, line, needed_g(bench, line))
    was_in = bench.poured[line] >= bench.plan.lines[line].grams - band
    return bench.factor > 1.0 and bench.poured[line] > 0.0 and was_in


def pour_of(bench: Bench, line: int) -> Pour:
    """What to add of ``line``, the scale being ready for it."""
    planned = bench.plan.lines[line]
    needed = needed_g(bench, line)
    missing = max(needed - bench.poured[line], 0.0)
    band = band_g(bench.plan, line, needed)
    weighed = planned.by == "scale"
    portion = _portion(bench, line, missing, band) if weighed else Bowlful(aim_g=missing)
    start = bench.zero_g + (0.0 if portion.empty_first else bench.on_scale_g)
    density = planned.density_kg_m3
    step = bench.plan.scale.step_g
    top_up = is_top_up(bench, line)
    whole = lots_of(needed, _room_g(bench)) if weighed and not top_up else 1
    # Something must go in, however wide the band: it ends above what the scale shows before.
    least = max(portion.aim_g - band, min(portion.aim_g, step) if weighed else 0.0)
    return Pour(
        line=line,
        planned=planned,
        add_g=missing,
        aim_g=portion.aim_g,
        reading_g=start + portion.aim_g,
        low_g=start + least,
        high_g=start + portion.aim_g + band,
        from_g=start,
        litres=portion.aim_g / density if density and not weighed else None,
        lots=portion.lots,
        of_lots=max(whole, portion.lots),
        empty_first=portion.empty_first,
        fresh=abs(start - bench.zero_g) < step / 2,
        bowl_empty=sum(bench.bowl.values()) <= SLACK_G,
        too_fine=weighed and 0.0 < portion.aim_g < step / 2,
        top_up=top_up,
        started=bench.poured[line] > 0.0,
    )


def _portion(bench: Bench, line: int, missing: float, band: float) -> Bowlful:
    """Equal bowlfuls of what is missing, the bowl begun with this line filled up first.

    The bowl's own weight is not known and not counted; what lies in it is, also where the
    scale was zeroed with it on.
    """
    room = _room_g(bench)
    load = sum(bench.bowl.values())
    portion = bowlful_of(missing, load_g=load, room_g=room)
    own = bench.bowl.get(line, 0.0)
    if portion.empty_first and load - own <= SLACK_G:
        lots = lots_of(missing + own, room)
        short = (missing + own) / lots - own
        if short > band:
            return Bowlful(aim_g=short, lots=lots)
    return portion


def _room_g(bench: Bench) -> float:
    """What the scale carries above its leftover zero."""
    capacity = bench.plan.scale.capacity_g
    return min(capacity, capacity - bench.zero_g)
