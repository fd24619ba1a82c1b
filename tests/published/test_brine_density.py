"""Density of brine against the International Critical Tables and later work."""

import csv
from pathlib import Path

import pytest

from benchconsole.chemistry import brine_density, salt_fraction

TABLE = Path(__file__).parents[2] / "shared" / "brine_density.csv"
ROWS = list(csv.DictReader(TABLE.read_text(encoding="utf-8").splitlines()))

#: kg/m³. Handbooks with four decimals, except one table printed to three. The saturation line of
#: the last source lies 1.0 below its own table of densities, which the law follows.
ALLOWED = {
    "International Critical Tables, in Kaufmann, Sodium Chloride (1960)": 0.5,
    "Melinder, secondary working fluids (2010) (CoolProp 8.0.0)": 0.5,
    "Al Ghafri et al., J. Chem. Eng. Data 57 (2012) 1288 (aquasol 1.8.2)": 0.5,
    "CRC Handbook of Chemistry and Physics, aqueous solutions at 20 degC": 0.5,
    "Poradnik fizykochemiczny, WNT (1974), 20 degC": 0.5,
    "Lange's Handbook of Chemistry, 15th ed. (1999), three decimals": 1.2,
    "Kaufmann, Sodium Chloride (1960), saturation line": 1.2,
}


@pytest.mark.parametrize("source", ALLOWED)
def test_brine_is_as_heavy_as_published(source: str) -> None:
    """The worst point of each source lies within what that source is good for."""
    misses = {
        (row["salt_percent"], row["celsius"]): abs(
            brine_density(float(row["salt_percent"]) / 100, float(row["celsius"]))
            - float(row["density_kg_m3"])
        )
        for row in ROWS
        if row["source"] == source
    }
    worst = max(misses, key=lambda point: misses[point])
    assert misses[worst] <= ALLOWED[source], f"{worst[0]} % at {worst[1]} degC"


def test_every_source_is_checked() -> None:
    """No row of the table escapes by a source name that no tolerance is kept for."""
    assert set(ALLOWED) == {row["source"] for row in ROWS}


@pytest.mark.parametrize("celsius", [5, 10, 15, 20, 25, 30, 35, 40])
def test_strength_from_published_density(celsius: int) -> None:
    """A tabled density gives its salt back to 0.1 percentage points (0.5 kg/m³ is 0.07)."""
    found = [
        (float(row["salt_percent"]), 100 * salt_fraction(float(row["density_kg_m3"]), celsius))
        for row in ROWS
        if float(row["celsius"]) == celsius and ALLOWED[row["source"]] <= 0.5
    ]
    assert found
    for published, computed in found:
        assert published == pytest.approx(computed, abs=0.1)
