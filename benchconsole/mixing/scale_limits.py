"""What a scale is good for: the least it weighs well enough, and the least batch."""

from __future__ import annotations

import math
from collections.abc import Sequence

from benchconsole.errors import BadInput
from benchconsole.mixing.bounds import require_between, require_mass
from benchconsole.mixing.dimensions import least_words
from benchconsole.mixing.scales import (
    COVERAGE,
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
    factor = _times(least, smallest, decides, shop)
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


def _times(least_g: float, smallest_g: float, decides: str, shop: Shop) -> float:
    times = max(1.0, least_g / smallest_g)
    if times > MOST_TIMES:
        fault = f"not even {MOST_TIMES:g} times as much is enough for this scale"
        raise BadInput(f"weight of {decides}", fault, least_words(least_g, shop.measures))
    return times


def _batch_says(factor: float, decides: str, percent: str) -> str:
    if factor <= 1.0:
        return f"This scale weighs all of it to {percent}; {decides} is the least."
    # Upward, so that the batch named does meet the tolerance.
    times = plain(math.ceil(100 * factor) / 100)
    return f"Mix at least {times} times as much: {decides} is too little to weigh to {percent}."


def _least_g(tolerance: float, shop: Shop, repeatability_g: float, zero_by: ZeroBy) -> float:
    _require_tolerance(tolerance)
    require_scale(shop.scale, repeatability_g)
    return COVERAGE * net_g(shop.scale.step_g, repeatability_g, zero_by) / tolerance


def _require_tolerance(tolerance: float) -> None:
    require_between("tolerance", tolerance, 1e-6, 1.0, "between 0.0001 % and 100 %", "2 %")
