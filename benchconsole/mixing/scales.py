"""How sure a weighing is: step, repeatability, zero, many additions.

Standard uncertainties (k = 1) in grams, from the step d of the display and the standard
deviation s of repeated readings. Sources, clauses from memory: JCGM 100:2008 (GUM) 4.3.7 for the
rounding of a display, OIML R 76-1 for setting a zero or tare to a quarter of the interval.
"""

from __future__ import annotations

import math
from typing import Literal

from benchconsole.errors import BadInput
from benchconsole.mixing.bounds import require_between, require_count, require_mass
from benchconsole.mixing.dimensions import error_words
from benchconsole.mixing.working import Working, percent_off
from benchconsole.model.record import Record
from benchconsole.model.shop import Scale, Shop
from benchconsole.model.weighing import BowlMode
from benchconsole.quantities import format_mass

ZeroBy = Literal["difference", "tare-key"]
"""Net weight by subtracting the empty reading, or by the key that sets the display to zero."""

COVERAGE = 2.0
"""Two standard deviations: the weighing is within its stated error 95 times in 100
(GUM 6.3.3, clause from memory)."""

TARE_SETTING = 0.25
"""A tare key sets zero to within a quarter of the step (OIML R 76-1, clause from memory)."""

GUM = "JCGM 100:2008 (GUM) 4.3.7, rounding of a display (clause from memory)"
R76 = "OIML R 76-1, setting of zero and tare to a quarter of the interval (clause from memory)"

BUOYANCY = "air buoyancy, about 0.1 % of water and oil, is the same for all and is left out"


class WeighingError(Record, frozen=True, kw_only=True):
    """How far all that was weighed may be off: ``standard_g`` (k = 1), ``expanded_g`` (k = 2).

    ``share`` is the expanded error as a share of the amount.
    """

    standard_g: float
    expanded_g: float
    share: float
    says: str
    working: Working


def require_scale(scale: Scale, repeatability_g: float = 0.0) -> None:
    """Raise ``BadInput`` for a step, capacity or repeatability that no scale has."""
    require_mass("step of the scale", scale.step_g, example="1 g")
    require_mass("capacity of the scale", scale.capacity_g, example="5 kg")
    if scale.step_g > scale.capacity_g:
        raise BadInput("step of the scale", "it is more than the scale carries", "1 g")
    bounds = "from zero to what the scale carries"
    require_between(
        "repeatability of the scale", repeatability_g, 0.0, scale.capacity_g, bounds, "0.5 g"
    )


def rounding_g(step_g: float) -> float:
    """Standard uncertainty of one rounded reading, d ÷ √12 (GUM 4.3.7)."""
    return step_g / math.sqrt(12.0)


def net_by_difference_g(step_g: float, repeatability_g: float = 0.0) -> float:
    """Of a net weight as gross less empty reading: √2 × √(d² ÷ 12 + s²)."""
    return math.sqrt(2.0) * math.hypot(rounding_g(step_g), repeatability_g)


def net_by_tare_key_g(step_g: float, repeatability_g: float = 0.0) -> float:
    """Of a net weight after the tare key: √(d² ÷ 12 + (d ÷ 4)² ÷ 3 + 2 s²)."""
    setting = TARE_SETTING * step_g / math.sqrt(3.0)
    return math.hypot(rounding_g(step_g), setting, math.sqrt(2.0) * repeatability_g)


def net_g(step_g: float, repeatability_g: float, zero_by: ZeroBy) -> float:
    """Of one net weight, by whichever way its zero was found."""
    by = net_by_tare_key_g if zero_by == "tare-key" else net_by_difference_g
    return by(step_g, repeatability_g)


def sum_of_tared_g(
    step_g: float, repeatability_g: float, additions: int, zero_by: ZeroBy = "tare-key"
) -> float:
    """Of the sum of so many additions, each on a zero of its own: the net one × √n."""
    return math.sqrt(additions) * net_g(step_g, repeatability_g, zero_by)


def weighing_error(
    amount_g: float,
    shop: Shop,
    *,
    repeatability_g: float = 0.0,
    zero_by: ZeroBy = "difference",
    additions: int = 1,
    mode: BowlMode = "cumulative",
) -> WeighingError:
    """How far ``amount_g`` may be off, weighed in so many additions into one bowl.

    In the cumulative mode the zero is set once, so the total is one net weight however many
    additions it took; re-zeroed before each, their errors are independent and add as √n.
    Raises ``BadInput`` for figures out of bounds.
    """
    require_mass("amount", amount_g, example="36 g")
    require_count("additions", additions, "12")
    scale = shop.scale
    require_scale(scale, repeatability_g)
    zeros = additions if mode == "re-zero" else 1
    standard = sum_of_tared_g(scale.step_g, repeatability_g, zeros, zero_by)
    expanded = COVERAGE * standard
    return WeighingError(
        standard_g=standard,
        expanded_g=expanded,
        share=expanded / amount_g,
        says=_error_says(amount_g, expanded, additions, mode, shop),
        working=Working(
            title="Error of a weighing",
            inputs=(
                *scale_inputs(scale, repeatability_g),
                ("amount", f"{amount_g:.2f} g"),
                (f"zero set {zeros} times" if zeros > 1 else "zero set once", _ZERO_WORDS[zero_by]),
            ),
            equation=f"error = 2 × √zeros × {NET_EQUATIONS[zero_by]}",
            result=f"±{expanded:.3g} g (k = 2)",
            source=GUM if zero_by == "difference" else f"{GUM}; {R76}",
            sure=error_sure(repeatability_g),
        ),
    )


_MODE_WORDS: dict[BowlMode, str] = {
    "cumulative": "the bowl left on",
    "re-zero": "zeroed before each",
}
_ZERO_WORDS: dict[ZeroBy, str] = {
    "difference": "the empty reading is subtracted",
    "tare-key": "the tare key",
}
NET_EQUATIONS: dict[ZeroBy, str] = {
    "difference": "√2 × √(step² ÷ 12 + repeatability²)",
    "tare-key": "√(step² ÷ 12 + (step ÷ 4)² ÷ 3 + 2 × repeatability²)",
}


def scale_inputs(scale: Scale, repeatability_g: float) -> tuple[tuple[str, str], ...]:
    """The scale's own figures for a working."""
    spread = f"{repeatability_g:g} g" if repeatability_g else "not known"
    return (("step of the scale", f"{scale.step_g:g} g"), ("repeatability", spread))


def error_sure(repeatability_g: float) -> str:
    """What the error of a weighing leaves out."""
    counted = "" if repeatability_g else "rounding only, repeatability is not counted; "
    return f"{counted}{BUOYANCY}"


def _error_says(amount_g: float, error_g: float, additions: int, mode: BowlMode, shop: Shop) -> str:
    amount = format_mass(amount_g, measures=shop.measures, step_g=shop.scale.step_g)
    times = f" in {additions} additions, {_MODE_WORDS[mode]}," if additions > 1 else ""
    off = error_words(error_g, shop.measures)
    share = error_g / amount_g
    part = "as much as all of it" if share >= 1.0 else f"{percent_off(share)} of it"
    return f"{amount} weighed{times} may be off by {off}, {part}."
