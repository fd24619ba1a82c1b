"""The weigh-out as a pure state machine: a plan and the taps given decide what comes next.

Every tap makes a new :class:`Bench`; nothing else is remembered, so a weigh-out resumes at
the same tap after any interruption by replaying its taps, and undo is a replay without the
last one.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from typing import assert_never

import msgspec

from benchconsole.errors import BadInput, NotPossibleNow
from benchconsole.mixing.benches import (
    Bench,
    band_g,
    bench_for,
    deviations,
    is_done,
    is_over,
    needed_g,
    open_line,
)
from benchconsole.mixing.bowlfuls import SLACK_G
from benchconsole.mixing.overpours import OverPour, Raise, over_pour
from benchconsole.mixing.pouring import (
    Pour,
    emptied,
    in_hand,
    next_pour,
    pour_of,
    ready_for,
)
from benchconsole.mixing.weighed_lines import LineState, WeighedLine, weighed_lines
from benchconsole.model.shop import Scale
from benchconsole.model.weighing import (
    Accept,
    BowlAgain,
    BowlMode,
    CarryOn,
    Jugged,
    Plan,
    Read,
    Rebalance,
    SetMode,
    SetZero,
    Tap,
)
from benchconsole.quantities import format_reading

__all__ = [
    "Bench",
    "LineState",
    "OverPour",
    "Pour",
    "Raise",
    "WeighedLine",
    "band_g",
    "bench_for",
    "deviations",
    "is_done",
    "needed_g",
    "next_pour",
    "over_pour",
    "replay",
    "tapped",
    "weighed_lines",
]

ZERO_LIMIT = 0.1
"""A zero offset beyond this share of the capacity is refused: that is a bowl, so tare it.

Our own choice, no source: a zero drifts by a few steps, far less than a tenth of the capacity.
"""

STEPS_PAST_CAPACITY = 9
"""A scale still shows so many steps past its capacity (OIML R 76-1; from memory)."""

MOST_JUGGED_G = 1e9
"""A thousand tonnes: more was never poured from a jug. Our own choice, no source."""


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
            return _mode_set(bench, tap.mode)
    assert_never(tap)


def _read(bench: Bench, reading_g: float) -> Bench:
    bench, pour = _pouring(bench)
    scale = bench.plan.scale
    name = pour.planned.name
    if pour.planned.by == "jug":
        raise NotPossibleNow(f"{name} is measured with the jug: give its volume.")
    example = _shown(pour.reading_g, scale)
    if not math.isfinite(reading_g):
        raise BadInput("reading", "that is not a number", example)
    if reading_g > scale.capacity_g + STEPS_PAST_CAPACITY * scale.step_g:
        most = _shown(scale.capacity_g, scale)
        raise BadInput("reading", f"more than the scale can show ({most})", example)
    added = reading_g - bench.zero_g - bench.on_scale_g
    # Spooning back is allowed, as far as there is something of this line in the bowl.
    if added < -bench.bowl.get(pour.line, 0.0) - scale.step_g:
        raise BadInput("reading", f"lower than before {name} was poured", example)
    return _put_on_scale(bench, pour.line, added)


def _accepted(bench: Bench) -> Bench:
    if bench.over is not None:
        raise NotPossibleNow("Too much is in: carry on, rebalance, or start this bowl again.")
    bench, pour = _pouring(bench)
    if pour.planned.by == "jug":
        return _put_in(bench, pour.line, pour.aim_g)
    return _put_on_scale(bench, pour.line, pour.aim_g)


def _jugged(bench: Bench, volume_l: float) -> Bench:
    bench, pour = _pouring(bench)
    density = pour.planned.density_kg_m3
    if pour.planned.by != "jug" or density is None:
        raise NotPossibleNow(f"{pour.planned.name} is weighed: give the reading of the scale.")
    # Asked this way round so that a volume that is no number is refused as well.
    if not 0.0 <= volume_l * density <= MOST_JUGGED_G:
        raise BadInput("volume", "no jug holds that", "2 L")
    return _put_in(bench, pour.line, volume_l * density)


def _carried_on(bench: Bench) -> Bench:
    line = bench.over if bench.over is not None else open_line(bench)
    if line is None or bench.poured[line] <= 0.0:
        raise NotPossibleNow("There is no deviation to leave as it is.")
    return msgspec.structs.replace(bench, over=None, settled=bench.settled | {line})


def _rebalanced(bench: Bench) -> Bench:
    over = over_pour(bench)
    if over is None:
        raise NotPossibleNow("Nothing was over-poured, so there is nothing to rebalance.")
    if over.refused:
        raise NotPossibleNow(over.refused)
    # Deviations that were carried on with before are put right as well.
    return msgspec.structs.replace(bench, factor=over.factor, over=None, settled=frozenset())


def _bowl_again(bench: Bench) -> Bench:
    thrown = in_hand(bench)
    line = bench.over if bench.over is not None else open_line(bench)
    if line is not None:
        bench = ready_for(bench, line)
    if not thrown:
        raise NotPossibleNow("The bowl is empty: there is nothing to start again.")
    poured, wasted = list(bench.poured), list(bench.wasted)
    for place, grams in thrown.items():
        left = poured[place] - grams
        poured[place] = left if left > SLACK_G else 0.0
        wasted[place] += grams
    return msgspec.structs.replace(
        emptied(bench),
        poured=tuple(poured),
        wasted=tuple(wasted),
        settled=bench.settled - thrown.keys(),
        over=None,
    )


def _zero_set(bench: Bench, offset_g: float) -> Bench:
    """A zero told late: the readings stand, so the line weighed first from it is put right."""
    scale = bench.plan.scale
    most = ZERO_LIMIT * scale.capacity_g
    if not math.isfinite(offset_g) or abs(offset_g) > most:
        fault = f"a leftover zero lies within {_shown(most, scale)}; tare the bowl"
        raise BadInput("zero", fault, _shown(scale.step_g, scale))
    line = bench.over if bench.over is not None else open_line(bench)
    ready = bench if line is None else ready_for(bench, line)
    if line is not None and bench.plan.lines[line].by == "scale":
        ready = emptied(ready) if pour_of(ready, line).empty_first else ready
    first, late = ready.zero_line, bench.zero_g - offset_g
    if first is None:
        return msgspec.structs.replace(bench, zero_g=offset_g)
    poured, bowl = list(bench.poured), dict(bench.bowl)
    poured[first] = max(poured[first] + late, 0.0)
    bowl[first] = max(bowl.get(first, 0.0) + late, 0.0)
    corrected = msgspec.structs.replace(
        bench,
        zero_g=offset_g,
        poured=tuple(poured),
        bowl=bowl,
        on_scale_g=bench.on_scale_g + late,
    )
    for over in (bench.over, first):
        if over is not None and over not in bench.settled and is_over(corrected, over):
            return msgspec.structs.replace(corrected, over=over)
    return msgspec.structs.replace(corrected, over=None)


def _mode_set(bench: Bench, mode: BowlMode) -> Bench:
    """Going over to re-zeroing means that zero is pressed now, with the bowl as it is."""
    if mode == bench.mode or mode == "cumulative":
        return msgspec.structs.replace(bench, mode=mode)
    return msgspec.structs.replace(bench, mode=mode, on_scale_g=0.0, zero_line=None)


def _pouring(bench: Bench) -> tuple[Bench, Pour]:
    """The scale ready for the line a pour is about, or NotPossibleNow when everything is in."""
    line = bench.over if bench.over is not None else open_line(bench)
    if line is None:
        raise NotPossibleNow("Everything is in: finish the weigh-out, or undo the last tap.")
    bench = ready_for(bench, line)
    pour = pour_of(bench, line)
    return (emptied(bench) if pour.empty_first else bench), pour


def _put_on_scale(bench: Bench, line: int, grams: float) -> Bench:
    bowl = {**bench.bowl, line: max(bench.bowl.get(line, 0.0) + grams, 0.0)}
    on_scale = msgspec.structs.replace(
        bench,
        on_scale_g=bench.on_scale_g + grams,
        zero_line=line if bench.zero_line is None else bench.zero_line,
        bowl=bowl,
    )
    return _put_in(on_scale, line, grams)


def _put_in(bench: Bench, line: int, grams: float) -> Bench:
    poured = list(bench.poured)
    poured[line] = max(poured[line] + grams, 0.0)
    return _judged(msgspec.structs.replace(bench, poured=tuple(poured)), line)


def _judged(bench: Bench, line: int) -> Bench:
    return msgspec.structs.replace(bench, over=line if is_over(bench, line) else None)


def _shown(grams: float, scale: Scale) -> str:
    return format_reading(grams, step_g=scale.step_g, unit=scale.shows)
