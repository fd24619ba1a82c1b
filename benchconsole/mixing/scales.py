"""How sure a weighing is: step, repeatability, zero, many additions; and what is a real change.

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
from benchconsole.mixing.scale_checks import COVERAGE
from benchconsole.mixing.working import Working, percent_off
from benchconsole.model.record import Record
from benchconsole.model.shop import Scale, Shop
from benchconsole.model.weighing import BowlMode
from benchconsole.quantities import format_mass

ZeroBy = Literal["difference", "tare-key"]
"""Net weight by subtracting the empty reading, or by the key that sets the display to zero."""

TARE_SETTING = 0.25
"""A tare key sets zero to within a quarter of the step (OIML R 76-1, clause from memory)."""

GUM = "JCGM 100:2008 (GUM) 4.3.7, rounding of a display (clause from memory)"
R76 = "OIML R 76-1, setting of zero and tare to a quarter of the interval (clause from memory)"

AIR_KG_M3 = 1.2
WEIGHTS_KG_M3 = 8000.0
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


class Change(Record, frozen=True, kw_only=True):
    """Is a difference of two readings more than the scale makes up? ``least_g`` is where it is."""

    difference_g: float
    least_g: float
    is_real: bool
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


def change_of(before_g: float, after_g: float, shop: Shop, repeatability_g: float = 0.0) -> Change:
    """Is the change from one reading to the next on the same zero real, at k = 2?

    A difference smaller than twice the uncertainty of a net weight is not to be shown as one.
    """
    require_mass("reading before", before_g, zero=True, example="1234 g")
    require_mass("reading after", after_g, zero=True, example="1200 g")
    require_scale(shop.scale, repeatability_g)
    least = COVERAGE * net_by_difference_g(shop.scale.step_g, repeatability_g)
    difference = after_g - before_g
    is_real = abs(difference) >= least
    more = "heavier" if difference > 0.0 else "lighter"
    by = format_mass(abs(difference), measures=shop.measures, step_g=shop.scale.step_g)
    limit = error_words(least, shop.measures)
    return Change(
        difference_g=difference,
        least_g=least,
        is_real=is_real,
        says=f"It is {by} {more}: a real change, for this scale tells {limit}."
        if is_real
        else f"No change can be told: two readings of this scale differ by up to {limit} anyway.",
        working=Working(
            title="A real change?",
            inputs=(
                *scale_inputs(shop.scale, repeatability_g),
                ("before", f"{before_g:.2f} g"),
                ("after", f"{after_g:.2f} g"),
            ),
            equation=f"least real change = 2 × {NET_EQUATIONS['difference']}",
            result=f"{difference:+.2f} g against {least:.3g} g",
            source=GUM,
            sure=error_sure(repeatability_g),
        ),
    )


def strength_error(salt_g: float, salt_u_g: float, water_g: float, water_u_g: float) -> float:
    """Relative standard uncertainty of the share of salt in a brine of weighed salt and water.

    (1 − w) × √((u ÷ m of the salt)² + (u ÷ m of the water)²), w the share of salt by mass.
    """
    require_mass("salt", salt_g, example="2640 g")
    require_mass("water", water_g, example="7360 g")
    require_mass("error of the salt", salt_u_g, zero=True, example="8 g")
    require_mass("error of the water", water_u_g, zero=True, example="8 g")
    return water_g / (salt_g + water_g) * math.hypot(salt_u_g / salt_g, water_u_g / water_g)


def buoyancy(density_kg_m3: float) -> float:
    """The share by which a thing of this density is heavier than a scale in air shows.

    Air of 1.2 kg/m³, a scale adjusted with weights of 8000 kg/m³. It is never applied: see
    `BUOYANCY`.
    """
    bounds = "between 10 and 25000 kg/m³"
    require_between("density", density_kg_m3, 10.0, 25_000.0, bounds, "1000 kg/m³")
    return (1.0 - AIR_KG_M3 / WEIGHTS_KG_M3) / (1.0 - AIR_KG_M3 / density_kg_m3) - 1.0


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
