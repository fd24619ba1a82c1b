"""A hide's own curve from its weighings, as they come.

Method: Bayes' law with the normal priors of ``priors`` on the logarithms of seven figures; the most
likely figures by Levenberg and Marquardt's damped least squares, their doubt from the curvature
there (Laplace's approximation). With few weighings the prior speaks, with many the hide. The
bone-dry weight is one of the figures: nobody has to know it, and its doubt is carried along.
Plain Python, since seven figures are few: numpy would cost more to load than it saves.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import NamedTuple

from benchconsole.schedule.drying.curves import FAR
from benchconsole.schedule.drying.exposure import Exposure
from benchconsole.schedule.drying.matrices import Matrix, inverse, solved
from benchconsole.schedule.drying.priors import DryingPrior

RATE, EXPONENT, FALL, REST, MASS, LOOSE, PLASTIC = range(7)
MOST_STEPS = 100
STILL = 1e-7
"""A step that changes no logarithm by more has arrived."""
WIDEST_STEP = 2.0
FARTHEST = 150.0
"""No logarithm of a hide's figures is so far from nothing: a step that went astray."""
LEAST_HOURS = 1e-6
FEW = 3
"""So many weighings say something of a curve: rate, dry weight, moisture at the beginning."""


class Reading(NamedTuple):
    """A weighing: hours after drying began, grams, and how far the grams may be off (one sigma)."""

    hours: float
    mass_g: float
    doubt_g: float


class Fit(NamedTuple):
    """The most likely logarithms of the seven figures, in the prior's order, and their covariance.

    ``misfit`` is how many times further the weighings lie from the curve than their own doubt
    explains (1 or less: they lie on it); the covariance is wider by as much.
    """

    logs: tuple[float, ...]
    covariance: Matrix
    misfit: float
    weighings: int


def reading_doubt(mass_g: float, step_g: float, handling_share: float) -> float:
    """One sigma of a weighing in grams: the scale's step, uniform within it, and the handling."""
    return math.hypot(step_g / math.sqrt(12.0), handling_share * mass_g)


def fitted(prior: DryingPrior, exposure: Exposure, readings: Sequence[Reading]) -> Fit:
    """The curve of a hide; the prior itself where there are no weighings."""
    middle = [math.log(figure.median) for figure in prior.figures]
    weights = [1.0 / max(figure.doubt, 1e-6) ** 2 for figure in prior.figures]
    if not readings:
        return Fit(tuple(middle), _diagonal([1.0 / w for w in weights]), 0.0, 0)
    spent = [exposure.hours_under(reading.hours) for reading in readings]
    best = min(
        (
            _descended(start, middle, weights, readings, spent)
            for start in _starts(middle, readings)
        ),
        key=lambda found: found[1],
    )[0]
    misfit = _misfit(best, readings, spent)
    if misfit > 1.0:
        # The scatter is what it is: with the doubt it shows, the prior gets its due weight again.
        readings = [r._replace(doubt_g=r.doubt_g * misfit) for r in readings]
        best = _descended(best, middle, weights, readings, spent)[0]
    curvature, _ = _normal_equations(best, middle, weights, readings, spent)
    return Fit(tuple(best), inverse(curvature), misfit, len(readings))


def mass_at(logs: Sequence[float], under: tuple[float, float, float]) -> tuple[float, list[float]]:
    """The weight in grams after so many hours under each cover, and its change with each log."""
    rate, exponent, fall, rest, dry, loose, plastic = (
        math.exp(min(max(value, -FARTHEST), FARTHEST)) for value in logs
    )
    loose, plastic = loose * under[1], plastic * under[2]
    hours = under[0] + loose + plastic
    slopes = [0.0] * 7
    ratio, by_rate = 1.0, 0.0
    if hours > LEAST_HOURS:
        along = math.log(rate * hours)
        power = min(math.exp(min(exponent * along, 700.0)), FAR)
        ratio = math.exp(-power)
        by_rate = -fall * ratio * power * exponent * dry
        slopes[RATE], slopes[EXPONENT] = by_rate, by_rate * along
        slopes[LOOSE], slopes[PLASTIC] = by_rate * loose / hours, by_rate * plastic / hours
    slopes[FALL], slopes[REST] = dry * fall * ratio, dry * rest
    mass = dry * (1.0 + rest + fall * ratio)
    slopes[MASS] = mass
    return mass, slopes


def _starts(middle: list[float], readings: Sequence[Reading]) -> list[list[float]]:
    """Where to begin: the prior with the dry weight that the first weighing asks for, two rates."""
    begin = list(middle)
    moist = 1.0 + math.exp(middle[REST]) + math.exp(middle[FALL])
    begin[MASS] = math.log(readings[0].mass_g / moist)
    quick, slow = list(begin), list(begin)
    quick[RATE] += 1.0
    slow[RATE] -= 1.0
    return [begin, quick, slow]


def _descended(
    start: Sequence[float],
    middle: Sequence[float],
    weights: Sequence[float],
    readings: Sequence[Reading],
    spent: Sequence[tuple[float, float, float]],
) -> tuple[list[float], float]:
    """The nearest lowest point of the cost, and the cost there."""
    here = list(start)
    cost = _cost(here, middle, weights, readings, spent)
    damping = 1e-3
    for _ in range(MOST_STEPS):
        curvature, downhill = _normal_equations(here, middle, weights, readings, spent)
        damped = [
            [value * (1.0 + damping) if row == column else value for column, value in enumerate(r)]
            for row, r in enumerate(curvature)
        ]
        step = solved(damped, downhill)
        longest = max(abs(value) for value in step)
        shorten = min(1.0, WIDEST_STEP / longest) if longest > 0.0 else 1.0
        there = [value + shorten * change for value, change in zip(here, step, strict=True)]
        cost_there = _cost(there, middle, weights, readings, spent)
        if cost_there <= cost:
            here, cost, damping = there, cost_there, max(damping / 10.0, 1e-12)
            if longest < STILL:
                break
        else:
            damping *= 10.0
            if damping > 1e12:
                break
    return here, cost


def _cost(
    logs: Sequence[float],
    middle: Sequence[float],
    weights: Sequence[float],
    readings: Sequence[Reading],
    spent: Sequence[tuple[float, float, float]],
) -> float:
    told = sum(w * (v - m) ** 2 for v, m, w in zip(logs, middle, weights, strict=True))
    return told + _squares(logs, readings, spent)


def _squares(
    logs: Sequence[float],
    readings: Sequence[Reading],
    spent: Sequence[tuple[float, float, float]],
) -> float:
    return sum(
        ((reading.mass_g - mass_at(logs, under)[0]) / reading.doubt_g) ** 2
        for reading, under in zip(readings, spent, strict=True)
    )


def _normal_equations(
    logs: Sequence[float],
    middle: Sequence[float],
    weights: Sequence[float],
    readings: Sequence[Reading],
    spent: Sequence[tuple[float, float, float]],
) -> tuple[Matrix, list[float]]:
    """The curvature of half the cost there, and the way down."""
    size = len(logs)
    curvature = _diagonal(weights)
    downhill = [w * (m - v) for v, m, w in zip(logs, middle, weights, strict=True)]
    for reading, under in zip(readings, spent, strict=True):
        mass, slopes = mass_at(logs, under)
        off = (reading.mass_g - mass) / reading.doubt_g
        scaled = [slope / reading.doubt_g for slope in slopes]
        for row in range(size):
            downhill[row] += scaled[row] * off
            for column in range(size):
                curvature[row][column] += scaled[row] * scaled[column]
    return curvature, downhill


def _misfit(
    logs: Sequence[float],
    readings: Sequence[Reading],
    spent: Sequence[tuple[float, float, float]],
) -> float:
    """The root of chi-squared over the readings that are left to contradict (Birge's ratio)."""
    left = max(len(readings) - FEW, 1)
    return math.sqrt(_squares(logs, readings, spent) / left)


def _diagonal(values: Sequence[float]) -> Matrix:
    return [
        [value if row == column else 0.0 for column in range(len(values))]
        for row, value in enumerate(values)
    ]
