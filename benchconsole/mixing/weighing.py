"""The weigh-out as a pure state machine: a plan and the taps given decide what comes next.

Every tap makes a new :class:`Bench`; nothing else is remembered, so a weigh-out resumes at
the same tap after any interruption by replaying its taps.

Words: ``planned`` is what the worksheet asks, ``needed`` the same times the scale factor that
rebalancing may have raised, ``poured`` what is in. A line is *settled* when the person said to
carry on with its deviation. The scale shows ``zero_g`` with nothing new on it; ``on_scale_g``
is what has gone on since it was last zeroed or emptied, ``bowl`` the same by line, for a bowl
that has to be thrown away.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import assert_never

import msgspec

from benchconsole.errors import BadInput, NotPossibleNow
from benchconsole.model.record import Record
from benchconsole.model.weighing import (
    Accept,
    BowlAgain,
    BowlMode,
    CarryOn,
    Jugged,
    Plan,
    PlannedLine,
    Read,
    Rebalance,
    SetMode,
    SetZero,
    Tap,
)
from benchconsole.quantities import format_mass, format_number

ZERO_LIMIT = 0.1
"""A zero offset beyond this share of the capacity is a forgotten bowl, not an offset."""


class Bench(Record, frozen=True, kw_only=True):
    """The state of a weigh-out; grams by line in ``poured`` and ``wasted``."""

    plan: Plan
    factor: float
    poured: tuple[float, ...]
    wasted: tuple[float, ...]
    settled: frozenset[int] = frozenset()
    over: int | None = None
    zero_g: float = 0.0
    mode: BowlMode = "cumulative"
    on_scale_g: float = 0.0
    bowl: dict[int, float] = msgspec.field(default_factory=dict)
    at_line: int | None = None


class Pour(Record, frozen=True, kw_only=True):
    """What to put in next.

    ``add_g`` is still missing of the line; ``aim_g`` is what to add now (less than ``add_g``
    when the scale is too small: lot ``lot`` of ``lots``). ``reading_g`` is what the scale shows
    then, with ``low_g`` and ``high_g`` as the tolerance band; ``litres`` is the same for a jug.
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
    rebalance, line by line, ``factor`` its scale; ``refused`` says why it cannot be done.
    """

    line: int
    planned: PlannedLine
    excess_g: float
    deviation: float
    factor: float
    raises: tuple[Raise, ...]
    refused: str


def bench_for(plan: Plan) -> Bench:
    """The bench before the first tap."""
    nothing = (0.0,) * len(plan.lines)
    return Bench(plan=plan, factor=1.0, poured=nothing, wasted=nothing)


def replay(plan: Plan, taps: Iterable[Tap]) -> Bench:
    """The bench after these taps; raises as :func:`tapped` does."""
    bench = bench_for(plan)
    for tap in taps:
        bench = tapped(bench, tap)
    return bench


def tapped(bench: Bench, tap: Tap) -> Bench:
    """The bench after one more tap.

    Raises ``BadInput`` for a reading that cannot be, ``NotPossibleNow`` for a tap that does
    not fit (nothing was over-poured, everything is in).
    """
    match tap:
        case Read():
            return _read(bench, tap.reading_g)
        case Accept():
            return _accepted(bench)
        case Jugged():
            return _jugged(bench, tap.volume_l)
        case CarryOn():
            return _carried_on(bench)
        case Rebalance():
            return _rebalanced(bench)
        case BowlAgain():
            return _bowl_again(bench)
        case SetZero():
            return _zero_set(bench, tap.offset_g)
        case SetMode():
            return msgspec.structs.replace(
                bench, mode=tap.mode, on_scale_g=0.0 if tap.mode == "re-zero" else bench.on_scale_g
            )
    assert_never(tap)


def band_g(plan: Plan, line: int, amount_g: float) -> float:
    """How far a line may miss ``amount_g``: the tolerance, but never finer than the scale."""
    finest = plan.scale.step_g if plan.lines[line].by == "scale" else 0.0
    return max(plan.tolerance * amount_g, finest)


def needed_g(bench: Bench, line: int) -> float:
    """What a line asks for at the bench's scale factor, grams."""
    return bench.plan.lines[line].grams * bench.factor


def is_done(bench: Bench) -> bool:
    """Whether everything is in and nothing waits for a decision."""
    return bench.over is None and _open_line(bench) is None


def next_pour(bench: Bench) -> Pour | None:
    """What to add next; None when everything is in (or an over-pour waits for a decision)."""
    if bench.over is not None:
        return None
    line = _open_line(bench)
    return None if line is None else _pour(_at(bench, line), line)


def over_pour(bench: Bench) -> OverPour | None:
    """The over-pour that waits for a decision, with its ways out; None if there is none."""
    line = bench.over
    if line is None:
        return None
    needed = needed_g(bench, line)
    factor = max(poured / planned.grams for poured, planned in _pairs(bench) if planned.grams)
    raises = tuple(
        Raise(
            line=place,
            planned=planned,
            was_g=planned.grams * bench.factor,
            new_g=planned.grams * factor,
            add_g=max(planned.grams * factor - bench.poured[place], 0.0),
        )
        for place, planned in enumerate(bench.plan.lines)
        if place != line
    )
    return OverPour(
        line=line,
        planned=bench.plan.lines[line],
        excess_g=bench.poured[line] - needed,
        deviation=bench.poured[line] / needed - 1.0,
        factor=factor,
        raises=raises,
        refused=_why_refused(bench, factor),
    )


def deviations(bench: Bench) -> tuple[float, ...]:
    """By how much each line stands off its share of the batch (0.02 is 2 % too much)."""
    return tuple(
        bench.poured[line] / needed_g(bench, line) - 1.0 for line in range(len(bench.poured))
    )


# --- how each tap changes the bench ---------------------------------------------------


def _read(bench: Bench, reading_g: float) -> Bench:
    line, pour, bench = _pouring(bench)
    scale = bench.plan.scale
    if pour.planned.by == "jug":
        raise NotPossibleNow(f"{pour.planned.name} is measured with the jug: give its volume.")
    if not math.isfinite(reading_g):
        raise BadInput("reading", "that is not a number", "1234")
    if reading_g > scale.capacity_g:
        most = format_mass(scale.capacity_g, measures="metric", step_g=scale.step_g)
        raise BadInput("reading", f"more than the scale can show ({most})", f"{pour.reading_g:.0f}")
    poured_now = reading_g - bench.zero_g - bench.on_scale_g
    if poured_now < -bench.bowl.get(line, 0.0) - scale.step_g:
        raise BadInput(
            "reading",
            f"lower than before {pour.planned.name} was poured",
            f"{pour.reading_g:.0f}",
        )
    return _judged(_put_in(bench, line, poured_now, pour), line)


def _accepted(bench: Bench) -> Bench:
    line, pour, bench = _pouring(bench)
    if bench.over is not None:
        raise NotPossibleNow("Too much is in: carry on, rebalance, or start this bowl again.")
    return _judged(_put_in(bench, line, pour.aim_g, pour), line)


def _jugged(bench: Bench, volume_l: float) -> Bench:
    line, pour, bench = _pouring(bench)
    density = pour.planned.density_kg_m3
    if pour.planned.by != "jug" or density is None:
        raise NotPossibleNow(f"{pour.planned.name} is weighed: give the reading of the scale.")
    if not math.isfinite(volume_l) or volume_l < 0:
        raise BadInput("volume", "that is not an amount", "2 gal")
    return _judged(_put_in(bench, line, volume_l * density, pour), line)


def _carried_on(bench: Bench) -> Bench:
    line = bench.over if bench.over is not None else _open_line(bench)
    if line is None or bench.poured[line] <= 0.0:
        raise NotPossibleNow("There is no deviation to leave as it is.")
    return msgspec.structs.replace(bench, over=None, settled=bench.settled | {line})


def _rebalanced(bench: Bench) -> Bench:
    over = over_pour(bench)
    if over is None:
        raise NotPossibleNow("Nothing was over-poured, so there is nothing to rebalance.")
    if over.refused:
        raise NotPossibleNow(over.refused)
    # Deviations that were accepted before are put right by the rebalance as well.
    return msgspec.structs.replace(bench, factor=over.factor, over=None, settled=frozenset())


def _bowl_again(bench: Bench) -> Bench:
    line = bench.over if bench.over is not None else _open_line(bench)
    if line is None:
        line = bench.at_line
    thrown = dict(bench.bowl)
    if line is not None and bench.plan.lines[line].by == "jug":
        thrown = {line: bench.poured[line]}
    if not any(grams > 0 for grams in thrown.values()):
        raise NotPossibleNow("The bowl is empty: there is nothing to start again.")
    poured, wasted = list(bench.poured), list(bench.wasted)
    for place, grams in thrown.items():
        poured[place] -= grams
        wasted[place] += grams
    return msgspec.structs.replace(
        bench,
        poured=tuple(max(grams, 0.0) for grams in poured),
        wasted=tuple(wasted),
        settled=bench.settled - thrown.keys(),
        over=None,
        on_scale_g=0.0,
        bowl={},
    )


def _zero_set(bench: Bench, offset_g: float) -> Bench:
    most = ZERO_LIMIT * bench.plan.scale.capacity_g
    if not math.isfinite(offset_g) or abs(offset_g) > most:
        raise BadInput(
            "zero", f"a leftover zero lies within {format_number(most, 3)} g; tare the bowl", "-2"
        )
    return msgspec.structs.replace(bench, zero_g=offset_g)


# --- the parts they share -------------------------------------------------------------


def _pairs(bench: Bench) -> Iterable[tuple[float, PlannedLine]]:
    return zip(bench.poured, bench.plan.lines, strict=True)


def _open_line(bench: Bench) -> int | None:
    """The first line that still wants something."""
    for line, poured in enumerate(bench.poured):
        needed = needed_g(bench, line)
        if line not in bench.settled and poured < needed - band_g(bench.plan, line, needed):
            return line
    return None


def _pouring(bench: Bench) -> tuple[int, Pour, Bench]:
    """The line a pour is about, or NotPossibleNow when everything is in."""
    line = bench.over if bench.over is not None else _open_line(bench)
    if line is None:
        raise NotPossibleNow("Everything is in: finish the weigh-out, or undo the last tap.")
    bench = _at(bench, line)
    pour = _pour(bench, line)
    if pour.empty_first:
        bench = msgspec.structs.replace(bench, on_scale_g=0.0, bowl={})
    return line, pour, bench


def _at(bench: Bench, line: int) -> Bench:
    """The bench with the scale ready for ``line``: a new part or mode means a fresh zero."""
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
        bowl=bench.bowl if same_bowl else {},
    )


def _pour(bench: Bench, line: int) -> Pour:
    planned = bench.plan.lines[line]
    needed = needed_g(bench, line)
    missing = max(needed - bench.poured[line], 0.0)
    room = bench.plan.scale.capacity_g - bench.zero_g
    weighed = planned.by == "scale"
    too_small = weighed and missing > room - bench.on_scale_g
    lots = max(math.ceil(missing / room - 1e-9), 1) if weighed and too_small else 1
    aim = missing / lots
    start = bench.zero_g + (0.0 if too_small else bench.on_scale_g)
    band = band_g(bench.plan, line, needed)
    density = planned.density_kg_m3
    return Pour(
        line=line,
        planned=planned,
        add_g=missing,
        aim_g=aim,
        reading_g=start + aim,
        low_g=start + aim - band,
        high_g=start + aim + band,
        from_g=start,
        litres=aim / density if density and planned.by == "jug" else None,
        lots=lots,
        empty_first=too_small and bench.on_scale_g > 0,
        top_up=bench.factor > 1.0 and bench.poured[line] > 0.0,
        started=bench.poured[line] > 0.0,
    )


def _put_in(bench: Bench, line: int, grams: float, pour: Pour) -> Bench:
    poured = list(bench.poured)
    poured[line] = max(poured[line] + grams, 0.0)
    if pour.planned.by == "jug":
        return msgspec.structs.replace(bench, poured=tuple(poured))
    bowl = {**bench.bowl, line: max(bench.bowl.get(line, 0.0) + grams, 0.0)}
    return msgspec.structs.replace(
        bench, poured=tuple(poured), on_scale_g=bench.on_scale_g + grams, bowl=bowl
    )


def _judged(bench: Bench, line: int) -> Bench:
    needed = needed_g(bench, line)
    is_over = bench.poured[line] > needed + band_g(bench.plan, line, needed)
    return msgspec.structs.replace(bench, over=line if is_over else None)


def _why_refused(bench: Bench, factor: float) -> str:
    plan = bench.plan
    total = sum(line.grams for line in plan.lines) * factor
    if plan.limit_g is not None and total > plan.limit_g:
        return "The container would be too small for the larger batch."
    needs: dict[str, float] = {}
    for planned, wasted in zip(plan.lines, bench.wasted, strict=True):
        needs[planned.substance] = (
            needs.get(planned.substance, 0.0) + planned.grams * factor + wasted
        )
    for planned in plan.lines:
        stock = plan.stock_g.get(planned.substance)
        if stock is not None and needs[planned.substance] > stock * (1 + 1e-9):
            return f"There is not enough {planned.name} for the larger batch."
    return ""
