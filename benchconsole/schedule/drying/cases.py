"""One hide that dries, as it dries now: what weighings count, and when too little is known."""

from __future__ import annotations

import math
from datetime import datetime, timedelta
from itertools import pairwise

import msgspec

from benchconsole.model.drying import Climate
from benchconsole.model.record import Record
from benchconsole.model.routes import DriesTo
from benchconsole.schedule.drying.exposure import Exposure
from benchconsole.schedule.drying.fitting import FEW
from benchconsole.schedule.drying.priors import DryingPrior

SURE_RISE = 4.0
"""So many times its own doubt a weighing must lie above the one before to mean something."""
LEAST_RISE = 0.01
"""And by so much of its weight: a hide in damp weather may well take up a little."""
DAMPED_DOUBT = 0.5
"""Further doubt of the moisture that a hide has after damping. Our own choices, all."""
AFTER_A_RISE = 2
"""So many weighings from a rise on show that the hide dries again."""


class DryingCase(Record, frozen=True, kw_only=True):
    """One hide that dries: its beginning, covers, weighings, and what was expected of it."""

    starts_at: datetime
    dries_to: DriesTo
    prior: DryingPrior
    exposure: Exposure = Exposure()
    readings: tuple[tuple[float, float, float], ...] = ()
    """(hours after the beginning, grams, one sigma in grams), in order of time."""
    climate: Climate | None = None


def as_it_dries_now(case: DryingCase) -> tuple[DryingCase, str]:
    """The case from its last rise in weight on, and a note about it; the same without one.

    Who damps a hide again begins its curve anew. That needs a further weighing to be believed:
    until then the rise stands in the case, and nothing is known.
    """
    rise = _last_rise(case)
    if rise is None or len(case.readings) - rise < AFTER_A_RISE:
        return case, ""
    hours, mass, _ = case.readings[rise]
    prior = case.prior
    anew = msgspec.structs.replace(
        case,
        starts_at=case.starts_at + timedelta(hours=hours),
        prior=msgspec.structs.replace(
            prior,
            fall=prior.fall.times(1.0, DAMPED_DOUBT),
            dry_mass_g=msgspec.structs.replace(
                prior.dry_mass_g, median=mass / (1.0 + prior.fall.median + prior.rest.median)
            ),
        ),
        exposure=Exposure.of((at - hours, cover) for at, cover in case.exposure.changes),
        readings=tuple((at - hours, g, doubt) for at, g, doubt in case.readings[rise:]),
    )
    return anew, f"it was damped again: only the last {len(anew.readings)} weighings count"


def why_not_known(case: DryingCase) -> str:
    """Why nothing can be told of the case, in sentences; empty where something can."""
    rise = _last_rise(case)
    if rise is not None:
        gained = case.readings[rise][1] - case.readings[rise - 1][1]
        return (
            f"It got heavier by {gained:.0f} g at weighing {rise + 1}: damped again, or weighed "
            "with something on it. Take a wrong weighing back; after damping weigh it once more "
            "when it has dried for a while, and its curve begins anew."
        )
    if case.climate is None and len(case.readings) < FEW:
        return (
            "Nobody said what air it dries in: write it in the shop's settings "
            f"(18 °C, 60 %, still), or weigh the hide {FEW} times and the weighings will tell."
        )
    return ""


def _last_rise(case: DryingCase) -> int | None:
    """The place of the last weighing that lies above the one before for certain."""
    rises = [
        place
        for place, (before, after) in enumerate(pairwise(case.readings), start=1)
        if after[1] - before[1]
        > max(SURE_RISE * math.hypot(before[2], after[2]), LEAST_RISE * before[1])
    ]
    return rises[-1] if rises else None
