"""The doubt of a curve as a few hundred curves, always the same ones: no dice are thrown.

The draws are a low-discrepancy sequence (Roberts' additive recurrence) brought to the normal
distribution, so equal questions have equal answers, and a little more humidity never looks like
less.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from functools import lru_cache
from statistics import NormalDist
from typing import NamedTuple

from benchconsole.model.drying import Cover
from benchconsole.schedule.drying.curves import hours_to_ratio, moisture_ratio
from benchconsole.schedule.drying.exposure import Exposure
from benchconsole.schedule.drying.fitting import Fit
from benchconsole.schedule.drying.matrices import cholesky

DRAWS = 400
FIGURES = 7


class Draw(NamedTuple):
    """One curve that may be the hide's; ``share`` is what each cover leaves of the rate."""

    rate_per_h: float
    exponent: float
    fall: float
    rest: float
    dry_mass_g: float
    share: dict[Cover, float]

    def moisture(self, under: tuple[float, float, float]) -> float:
        """Moisture after so many hours open, loosely covered and under plastic, g/g dry."""
        hours = under[0] + self.share["loose"] * under[1] + self.share["plastic"] * under[2]
        return self.rest + self.fall * moisture_ratio(hours, self.rate_per_h, self.exponent)

    def hours_to(self, moisture: float, exposure: Exposure) -> float:
        """When it gets there by the clock, in hours; endless where it never does."""
        ratio = (moisture - self.rest) / self.fall
        open_hours = hours_to_ratio(ratio, self.rate_per_h, self.exponent)
        if math.isinf(open_hours):
            return math.inf
        return exposure.clock_hours(open_hours, self.share)


class Spread(NamedTuple):
    """A tenth of the draws lie below ``low``, half below ``mid``, a tenth above ``high``."""

    low: float
    mid: float
    high: float


def drawn(fit: Fit) -> tuple[Draw, ...]:
    """The curves that a fit leaves open."""
    lower = cholesky(fit.covariance)
    draws = []
    for normals in _normals():
        logs = [
            middle + sum(row[k] * normals[k] for k in range(place + 1))
            for place, (middle, row) in enumerate(zip(fit.logs, lower, strict=True))
        ]
        rate, exponent, fall, rest, dry, loose, plastic = (
            math.exp(min(max(value, -300.0), 300.0)) for value in logs
        )
        share: dict[Cover, float] = {
            "open": 1.0,
            "loose": min(loose, 1.0),
            "plastic": min(plastic, 1.0),
        }
        draws.append(Draw(rate, exponent, fall, rest, dry, share))
    return tuple(draws)


def spread_of(draws: Sequence[Draw], figure: Callable[[Draw], float]) -> Spread:
    """How far a figure of the curves spreads; endless where it is so for that many of them."""
    values = sorted(figure(draw) for draw in draws)
    return Spread(_at(values, 0.1), _at(values, 0.5), _at(values, 0.9))


def _at(values: Sequence[float], share: float) -> float:
    place = share * (len(values) - 1)
    below = int(place)
    above = min(below + 1, len(values) - 1)
    low, high = values[below], values[above]
    return low if low == high else low + (high - low) * (place - below)


@lru_cache(maxsize=1)
def _normals() -> tuple[tuple[float, ...], ...]:
    base = 2.0
    for _ in range(60):  # the root of x^(figures + 1) = x + 1, which makes the steps least alike
        base = (1.0 + base) ** (1.0 / (FIGURES + 1))
    steps = [base ** -(place + 1) for place in range(FIGURES)]
    normal = NormalDist()
    return tuple(
        tuple(normal.inv_cdf(min(max((0.5 + n * step) % 1.0, 1e-6), 1.0 - 1e-6)) for step in steps)
        for n in range(1, DRAWS + 1)
    )
