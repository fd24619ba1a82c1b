"""Is the scale fine enough, and large enough, for each thing that is weighed on it?"""

from __future__ import annotations

import math
from collections.abc import Mapping

from benchconsole.mixing.bowlfuls import lots_of
from benchconsole.mixing.findings import Check, WeighedPart
from benchconsole.mixing.scale_limits import MOST_TIMES
from benchconsole.mixing.scales import COVERAGE, GUM, net_by_difference_g
from benchconsole.mixing.working import Working, percent_off
from benchconsole.model.shop import Scale, Shop
from benchconsole.model.substances import Substance
from benchconsole.quantities import format_mass


def weighing_checks(
    tolerance: float, weighed: WeighedPart, substances: Mapping[str, Substance], shop: Shop
) -> list[Check]:
    """Step and capacity of the shop's scale against each weighed line of a part."""
    checks: list[Check] = []
    for ingredient, grams in weighed.pairs():
        if ingredient.by != "scale" or grams <= 0.0:
            continue
        substance = substances[ingredient.substance]
        checks.append(_step(weighed.part.id, substance, grams, tolerance, shop.scale))
        if lots_of(grams, shop.scale.capacity_g) > 1:
            checks.append(_capacity(weighed.part.id, substance, grams, shop))
    return checks


def _step(part: str, substance: Substance, grams: float, tolerance: float, scale: Scale) -> Check:
    error = COVERAGE * net_by_difference_g(scale.step_g)
    share = error / grams / tolerance
    return Check(
        code="scale-step",
        substance=substance.id,
        part=part,
        ok=share <= 1.0,
        value=share,
        says=_how_fine(substance.name, error / grams, share),
        working=Working(
            title=f"Weighing {substance.name}",
            inputs=(
                ("amount", f"{grams:.1f} g"),
                ("step of the scale", f"{scale.step_g:g} g"),
                ("tolerance", f"{100 * tolerance:g} %"),
            ),
            equation="error = 2 × step × √2 ÷ √12",
            result=f"±{error:.2f} g, {100 * error / grams:.1f} % of the amount",
            source=GUM,
            sure="rounding only; how well the scale repeats is not counted",
        ),
    )


def _how_fine(name: str, off: float, share: float) -> str:
    if share <= 1.0:
        return f"{name}: good to {percent_off(off)} on your scale."
    if off >= 1.0:
        told = "the scale cannot weigh so little"
    else:
        told = f"the scale is too coarse, it can be off by {100 * off:.0f} %"
    if share > MOST_TIMES:
        return f"{name}: {told}. Use a finer scale."
    # Upward, so that the batch named does meet the tolerance.
    least = f"{math.ceil(10.0 * share) / 10.0:.1f}" if share < 10.0 else f"{math.ceil(share)}"
    return f"{name}: {told}. Mix at least {least} times as much, or use a finer scale."


def _capacity(part: str, substance: Substance, grams: float, shop: Shop) -> Check:
    scale = shop.scale
    lots = lots_of(grams, scale.capacity_g)
    most = format_mass(scale.capacity_g, measures=shop.measures, step_g=scale.step_g)
    return Check(
        code="scale-capacity",
        substance=substance.id,
        part=part,
        ok=False,
        value=grams / scale.capacity_g,
        says=f"{substance.name}: more than the scale carries ({most}); "
        f"it is weighed in {lots} lots.",
        working=Working(
            title=f"Lots of {substance.name}",
            inputs=(("amount", f"{grams:.0f} g"), ("capacity", f"{scale.capacity_g:.0f} g")),
            equation="lots = amount ÷ capacity, rounded up",
            result=f"{lots} lots",
        ),
    )
