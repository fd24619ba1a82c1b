"""What a scale is good for: the least it weighs well enough, and what the law lets it be off."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Literal

from benchconsole.errors import BadInput
from benchconsole.mixing.bounds import require_between, require_mass
from benchconsole.mixing.dimensions import least_words
from benchconsole.mixing.scale_checks import COVERAGE
from benchconsole.mixing.scales import (
    GUM,
    NET_EQUATIONS,
    R76,
    ZeroBy,
    error_sure,
    net_g,
    require_scale,
    scale_inputs,
)
from benchconsole.mixing.working import Working, plain
from benchconsole.model.record import Record
from benchconsole.model.shop import Shop
from benchconsole.quantities import format_mass

ScaleClass = Literal["I", "II", "III", "IIII"]

PERMITTED_STEPS: dict[ScaleClass, tuple[float, float]] = {
    "I": (50_000, 200_000),
    "II": (5_000, 20_000),
    "III": (500, 2_000),
    "IIII": (50, 200),
}
"""Up to so many intervals a new scale may be off by half of one, then by one, beyond by 1.5.

OIML R 76-1, table 6 (read in the source).
"""

USP_TOLERANCE = 0.001
USP_LEAST_SPREAD = 0.41
"""USP General Chapter 41: twice the spread within 0.10 %, and the spread not under 0.41 d."""


MOST_TIMES = 1000.0
"""So many times a batch is another batch. Our own choice, no source."""


class LeastWeight(Record, frozen=True, kw_only=True):
    """The least net weight that meets a tolerance at k = 2."""

    mass_g: float
    says: str
    working: Working


class LeastBatch(Record, frozen=True, kw_only=True):
    """How many times the batch must be mixed for every line to meet the tolerance.

    ``factor`` is 1 where it does already; ``decides`` names the line that asks for most.
    """

    factor: float
    decides: str
    says: str
    working: Working


def least_weight(
    tolerance: float, shop: Shop, *, repeatability_g: float = 0.0, zero_by: ZeroBy = "difference"
) -> LeastWeight:
    """The least net weight whose error at k = 2 is within ``tolerance`` (a share: 0.02 is 2 %).

    Raises ``BadInput`` for a tolerance or a scale out of bounds.
    """
    mass = _least_g(tolerance, shop, repeatability_g, zero_by)
    return LeastWeight(
        mass_g=mass,
        says=f"To {100 * tolerance:g} % this scale weighs {least_words(mass, shop.measures)} "
        "and more.",
        working=Working(
            title="Least weight",
            inputs=(
                *scale_inputs(shop.scale, repeatability_g),
                ("tolerance", f"{100 * tolerance:g} %"),
            ),
            equation=f"least = 2 × {NET_EQUATIONS[zero_by]} ÷ tolerance",
            result=f"{mass:.4g} g",
            source=GUM if zero_by == "difference" else f"{GUM}; {R76}",
            sure=error_sure(repeatability_g),
        ),
    )


def least_batch(
    amounts: Sequence[tuple[str, float]],
    tolerance: float,
    shop: Shop,
    *,
    repeatability_g: float = 0.0,
    zero_by: ZeroBy = "difference",
) -> LeastBatch:
    """How many times these amounts (name, grams) must be mixed to weigh each within tolerance.

    Raises ``BadInput`` when there is nothing to weigh, a figure is out of bounds, or it would
    take more than `MOST_TIMES` as much.
    """
    if not amounts:
        raise BadInput("batch", "nothing in it is weighed", "alum 36 g")
    for name, grams in amounts:
        require_mass(f"weight of {name}", grams, example="36 g")
    least = _least_g(tolerance, shop, repeatability_g, zero_by)
    decides, smallest = min(amounts, key=lambda amount: amount[1])
    factor = max(1.0, least / smallest)
    if factor > MOST_TIMES:
        enough = least_words(least, shop.measures)
        fault = f"not even {MOST_TIMES:g} times as much is enough for this scale"
        raise BadInput(f"weight of {decides}", fault, enough)
    percent = f"{100 * tolerance:g} %"
    amount = format_mass(smallest, measures=shop.measures, step_g=shop.scale.step_g)
    return LeastBatch(
        factor=factor,
        decides=decides,
        says=_batch_says(factor, f"{decides} ({amount})", percent),
        working=Working(
            title="Smallest batch",
            inputs=(
                *scale_inputs(shop.scale, repeatability_g),
                ("smallest amount", f"{smallest:.2f} g of {decides}"),
                ("least weight", f"{least:.2f} g at {percent}"),
            ),
            equation="times = least weight ÷ smallest amount; "
            f"least weight = 2 × {NET_EQUATIONS[zero_by]} ÷ tolerance",
            result=f"{plain(factor)} times",
            source=GUM if zero_by == "difference" else f"{GUM}; {R76}",
            sure=error_sure(repeatability_g),
        ),
    )


def _batch_says(factor: float, decides: str, percent: str) -> str:
    if factor <= 1.0:
        return f"This scale weighs all of it to {percent}; {decides} is the least."
    # Upward, so that the batch named does meet the tolerance.
    times = plain(math.ceil(100 * factor) / 100)
    return f"Mix at least {times} times as much: {decides} is too little to weigh to {percent}."


def laboratory_least_g(
    step_g: float, repeatability_g: float, tolerance: float = USP_TOLERANCE
) -> float:
    """The least weight of USP General Chapter 41: 2 × max(s, 0.41 d) ÷ tolerance, grams.

    2000 s at its own 0.10 %, and never under 820 d. Read in reprints of the chapter.
    """
    _require_tolerance(tolerance)
    return 2.0 * max(repeatability_g, USP_LEAST_SPREAD * step_g) / tolerance


def permitted_error_g(
    load_g: float, interval_g: float, *, kind: ScaleClass = "III", in_service: bool = False
) -> float:
    """What a verified scale may be off at this load, grams (OIML R 76-1, tables 3 and 6).

    ``interval_g`` is its verification interval e; in service twice the error of a new one is
    allowed. A kitchen or hobby scale is not verified: class III with its step is the best case.
    """
    require_mass("load", load_g, zero=True, example="2500 g")
    require_mass("interval of the scale", interval_g, example="5 g")
    half, one = PERMITTED_STEPS[kind]
    steps = load_g / interval_g
    new = 0.5 if steps <= half else 1.0 if steps <= one else 1.5
    return interval_g * new * (2.0 if in_service else 1.0)


def _least_g(tolerance: float, shop: Shop, repeatability_g: float, zero_by: ZeroBy) -> float:
    _require_tolerance(tolerance)
    require_scale(shop.scale, repeatability_g)
    return COVERAGE * net_g(shop.scale.step_g, repeatability_g, zero_by) / tolerance


def _require_tolerance(tolerance: float) -> None:
    require_between("tolerance", tolerance, 1e-6, 1.0, "between 0.0001 % and 100 %", "2 %")
