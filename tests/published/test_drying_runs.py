"""Drying curves fitted to the example runs, against scipy and the runs' own making.

``shared/drying_runs.csv``: two runs made with a known curve and seeded noise. Parameters and errors
below are those of an unweighted least-squares fit of the moisture ratio (scipy 1.17.1 curve_fit,
start k = 0.05, n = 1), computed; scipy itself is asked again here.
"""

from __future__ import annotations

import csv
import math
from datetime import UTC, datetime, timedelta
from pathlib import Path

import numpy as np
import pytest
from scipy.optimize import curve_fit

from benchconsole.library import shipped_library
from benchconsole.library.drying_files import drying_figures
from benchconsole.model.drying import Climate
from benchconsole.schedule.drying.cases import DryingCase
from benchconsole.schedule.drying.curves import (
    dry_basis,
    hours_to_ratio,
    moisture_ratio,
)
from benchconsole.schedule.drying.exposure import Exposure
from benchconsole.schedule.drying.fitting import (
    EXPONENT,
    RATE,
    Reading,
    fitted,
    reading_doubt,
)
from benchconsole.schedule.drying.forecast import forecast
from benchconsole.schedule.drying.priors import DryingPrior, LogNormal, prior_for

TABLE = Path(__file__).parents[2] / "shared" / "drying_runs.csv"
ROWS = list(csv.DictReader(TABLE.read_text(encoding="utf-8").splitlines()))


def page_constant(rate: float, exponent: float) -> float:
    """Page's k, in 1/h to the power n, of a curve whose rate is in 1/h."""
    return float(rate**exponent)


def rate_of_page(constant: float, exponent: float) -> float:
    """The rate in 1/h of a curve given as Page's k and n."""
    return float(constant ** (1.0 / exponent))


NOTHING_KNOWN, KNOWN = 20.0, 1e-5
"""Doubts of a figure that only the weighings say, and of one that is given."""


def run(name: str) -> tuple[list[float], list[float], float, float]:
    """Hours, moistures (g/g), moisture at rest, bone-dry grams."""
    rows = [row for row in ROWS if row["run"] == name]
    dry, rest = float(rows[0]["dry_mass_g"]), float(rows[0]["rest_g_per_g"])
    hours = [float(row["hours"]) for row in rows]
    return hours, [float(row["mass_g"]) / dry - 1.0 for row in rows], rest, dry


def our_fit(name: str, *, lewis: bool = False) -> tuple[float, float]:
    """k and n of our fit, dry weight, rest and beginning given, all weighings alike."""
    hours, moistures, rest, dry = run(name)
    prior = DryingPrior(
        rate_per_h=LogNormal(median=0.05, doubt=NOTHING_KNOWN),
        exponent=LogNormal(median=1.0, doubt=KNOWN if lewis else NOTHING_KNOWN),
        fall=LogNormal(median=moistures[0] - rest, doubt=KNOWN),
        rest=LogNormal(median=rest, doubt=KNOWN),
        dry_mass_g=LogNormal(median=dry, doubt=KNOWN),
        loose=LogNormal(median=0.5, doubt=0.1),
        plastic=LogNormal(median=0.1, doubt=0.1),
    )
    readings = [Reading(h, dry * (1.0 + x), 6.0) for h, x in zip(hours, moistures, strict=True)]
    logs = fitted(prior, Exposure(), readings).logs
    rate, exponent = math.exp(logs[RATE]), math.exp(logs[EXPONENT])
    return page_constant(rate, exponent), exponent


def ratio_error(name: str, constant: float, exponent: float) -> float:
    """The root mean square by which a curve misses the moisture ratios of a run."""
    hours, moistures, rest, _ = run(name)
    rate = rate_of_page(constant, exponent)
    misses = [
        (x - rest) / (moistures[0] - rest) - moisture_ratio(h, rate, exponent)
        for h, x in zip(hours, moistures, strict=True)
    ]
    return math.sqrt(sum(miss * miss for miss in misses) / len(misses))


@pytest.mark.parametrize(
    ("name", "lewis", "k", "n", "error"),
    [
        ("A", True, 0.08493, 1.0, 0.00249),
        ("A", False, 0.08435, 1.0028, 0.00244),
        ("B", True, 0.04056, 1.0, 0.03564),
        ("B", False, 0.02010, 1.2266, 0.00193),
    ],
)
def test_parameters_and_error_as_published(
    name: str, lewis: bool, k: float, n: float, error: float
) -> None:
    """k within 0.2 %, n within 0.001 and the error within 2 % of the published example."""
    constant, exponent = our_fit(name, lewis=lewis)
    assert k == pytest.approx(constant, rel=2e-3)
    assert n == pytest.approx(exponent, abs=1e-3)
    assert error == pytest.approx(ratio_error(name, constant, exponent), rel=0.02)


@pytest.mark.parametrize("name", ["A", "B"])
def test_the_fit_is_that_of_scipy(name: str) -> None:
    """Page's k and n by scipy's curve_fit on the same ratios, within 0.1 %."""
    hours, moistures, rest, _ = run(name)
    ratios = (np.array(moistures) - rest) / (moistures[0] - rest)
    (k, n), _ = curve_fit(
        lambda t, k, n: np.exp(-k * t**n), np.array(hours), ratios, p0=(0.05, 1.0)
    )
    constant, exponent = our_fit(name)
    assert k == pytest.approx(constant, rel=2e-3)
    assert n == pytest.approx(exponent, rel=1e-3)


@pytest.mark.parametrize(
    ("name", "lewis", "hours"),
    [("A", True, 44.38), ("A", False, 44.21), ("B", False, 79.05), ("B", True, 105.44)],
)
def test_forecast_times_of_the_example(name: str, lewis: bool, hours: float) -> None:
    """The time to 0.18 g/g within 0.3 % of the published example, the wrong model's included."""
    _, moistures, rest, _ = run(name)
    constant, exponent = our_fit(name, lewis=lewis)
    ratio = (0.18 - rest) / (moistures[0] - rest)
    told = hours_to_ratio(ratio, rate_of_page(constant, exponent), exponent)
    assert hours == pytest.approx(told, rel=3e-3)


@pytest.mark.parametrize(
    ("name", "k", "n", "beginning"), [("A", 0.085, 1.0, 1.45), ("B", 0.0205, 1.22, 1.6)]
)
def test_the_window_is_foretold_while_the_run_goes_on(
    name: str, k: float, n: float, beginning: float
) -> None:
    """Knowing the air and the weights alone, four forecasts in five hold when the run was damp.

    Made after each weighing from the second to the eleventh, with neither the bone-dry weight nor
    the moisture at rest given; the true time is that of the run's own making.
    """
    hours, moistures, rest, dry = run(name)
    ratio = (dry_basis(0.394) - rest) / (beginning - rest)
    true_h = hours_to_ratio(ratio, rate_of_page(k, n), n)
    start = datetime(2026, 3, 4, 9, 0, tzinfo=UTC)
    true = start + timedelta(hours=true_h)
    air = Climate(celsius=20.0, humidity_pct=55.0)
    figures, deer = drying_figures(), shipped_library().species["deer"]
    masses = [dry * (1.0 + x) for x in moistures]
    prior = prior_for(figures, deer, "damp", air, hair_on=True, first_mass_g=masses[0])
    held = 0
    for count in range(2, len(hours) + 1):
        readings = tuple(
            (h, m, reading_doubt(m, 1.0, figures.handling_share.value))
            for h, m in zip(hours[:count], masses[:count], strict=True)
        )
        case = DryingCase(
            starts_at=start, dries_to="damp", prior=prior, readings=readings, climate=air
        )
        now = start + timedelta(hours=hours[count - 1])
        window = forecast(case, figures, now, with_band=False).target
        assert window is not None
        assert window.opens.low is not None
        assert window.opens.high is not None
        held += window.opens.low <= true <= window.opens.high
    assert held >= 8
