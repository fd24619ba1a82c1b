"""Hydrometer scales against the salt industry's table and the definitions of the scales."""

import csv
from pathlib import Path

import pytest

from benchconsole.chemistry import (
    HydrometerScale,
    brine_density,
    density_from_reading,
    hydrometer_degrees,
    hydrometer_reading,
    salt_fraction,
    specific_gravity,
)

SHARED = Path(__file__).parents[2] / "shared"


def table(name: str) -> list[dict[str, str]]:
    """The rows of one shared table."""
    return list(csv.DictReader((SHARED / name).read_text(encoding="utf-8").splitlines()))


SALOMETER = table("salometer.csv")
OFF_60F = table("hydrometer_off_60f.csv")


@pytest.mark.parametrize(
    "row", SALOMETER, ids=lambda row: f"{row['degrees_salometer']} {row['provenance']}"
)
def test_salometer_degrees_have_the_published_gravity(row: dict[str, str]) -> None:
    """Within 0.001 of the salt-industry table and of the scale's definition."""
    degrees = float(row["degrees_salometer"])
    gravity = specific_gravity(HydrometerScale.SALOMETER, degrees)
    assert float(row["specific_gravity_60f"]) == pytest.approx(gravity, abs=0.001)


@pytest.mark.parametrize("scale", ["baume", "twaddell", "barkometer"])
def test_scales_agree_along_the_salometer(scale: str) -> None:
    """Baumé 145, Twaddell and barkometer match the definitions at every tabled brine."""
    rows = [row for row in SALOMETER if row[f"degrees_{scale}"]]
    assert 20 < len(rows)
    for row in rows:
        gravity = specific_gravity(HydrometerScale.SALOMETER, float(row["degrees_salometer"]))
        degrees = hydrometer_degrees(HydrometerScale[scale.upper()], gravity)
        assert float(row[f"degrees_{scale}"]) == pytest.approx(degrees, abs=0.05)


def test_saturated_brine_on_three_scales() -> None:
    """Saturated brine at 60 °F: SG 1.204, 24.6 °Bé, 40.8 °Tw, 204 °Bk, from the definitions in
    Marks' Handbook (Baumé) and Thorstensen, Practical Leather Technology (barkometer)."""
    gravity = specific_gravity(HydrometerScale.SALOMETER, 100)
    assert 1.204 == pytest.approx(gravity, abs=0.001)
    assert 24.6 == pytest.approx(hydrometer_degrees(HydrometerScale.BAUME, gravity), abs=0.1)
    assert 40.8 == pytest.approx(hydrometer_degrees(HydrometerScale.TWADDELL, gravity), abs=0.1)
    assert 204.1 == pytest.approx(hydrometer_degrees(HydrometerScale.BARKOMETER, gravity), abs=0.2)


@pytest.mark.parametrize("row", OFF_60F, ids=lambda row: f"{row['salt_percent']} {row['celsius']}")
def test_spindle_away_from_60f(row: dict[str, str]) -> None:
    """Glass growth and cold or warm brine shift the reading as computed independently, and the
    corrected reading gives the true salt back to 0.05 percentage points."""
    salt, celsius = float(row["salt_percent"]) / 100, float(row["celsius"])
    published = float(row["specific_gravity_read"])
    assert published == pytest.approx(
        hydrometer_reading(brine_density(salt, celsius), celsius), abs=0.0002
    )
    corrected = salt_fraction(density_from_reading(published, celsius), celsius)
    assert salt == pytest.approx(corrected, abs=0.0005)
    assert float(row["degrees_salometer_read"]) == pytest.approx(
        hydrometer_degrees(HydrometerScale.SALOMETER, published), abs=0.1
    )
