"""The coats of a dressing on its worksheet: how much each takes, and how long to wait between."""

from __future__ import annotations

from datetime import timedelta

from benchconsole.model.formulas import Formula
from benchconsole.model.record import MARK_WORDS, Record
from benchconsole.model.shop import Shop
from benchconsole.quantities import format_duration, format_mass


class CoatSheet(Record, frozen=True, kw_only=True):
    """``count`` equal coats of ``each_g`` grams, with the waits from one to the next."""

    count: int
    each_g: float
    wait_min: timedelta
    wait_target: timedelta
    wait_max: timedelta
    says: str
    source: str


def coat_sheet(formula: Formula, total_g: float, shop: Shop) -> CoatSheet | None:
    """The coats that ``total_g`` of a dressing are put on in; None where the formula has none."""
    coats = formula.coats
    if coats is None:
        return None
    each_g = total_g / coats.count
    each = format_mass(each_g, measures=shop.measures, step_g=shop.scale.step_g)
    if coats.count == 1:
        says = f"One coat of {each}."
    else:
        target, least, most = (
            format_duration(wait) for wait in (coats.wait_target, coats.wait_min, coats.wait_max)
        )
        span = f" (at least {least}, at most {most})" if least != most else ""
        says = f"{coats.count} coats of {each} each; wait {target} between them{span}."
    return CoatSheet(
        count=coats.count,
        each_g=each_g,
        wait_min=coats.wait_min,
        wait_target=coats.wait_target,
        wait_max=coats.wait_max,
        says=says,
        source=f"{coats.source} ({MARK_WORDS[coats.mark]})",
    )
