"""Density of water against IAPWS-95 and the CRC Handbook."""

import csv
from pathlib import Path

import pytest

from benchconsole.chemistry import water_density

TABLE = Path(__file__).parents[2] / "shared" / "water_density.csv"
ROWS = list(csv.DictReader(TABLE.read_text(encoding="utf-8").splitlines()))


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row['celsius']} degC {row['provenance']}")
def test_water_is_as_heavy_as_published(row: dict[str, str]) -> None:
    """Kell's equation lies within 0.02 kg/m³ of IAPWS-95 (0-60 °C) and the CRC (70-100 °C)."""
    published = float(row["density_kg_m3"])
    assert published == pytest.approx(water_density(float(row["celsius"])), abs=0.02)


def test_the_table_spans_the_bench() -> None:
    """Checks cover cold to boiling, so that an emptied table cannot pass."""
    temperatures = [float(row["celsius"]) for row in ROWS]
    assert (0.0, 100.0) == (min(temperatures), max(temperatures))


def test_water_is_heaviest_near_four_degrees() -> None:
    """The known maximum, 999.97 kg/m³ at 3.98 °C (CRC Handbook, from memory)."""
    heaviest = max(range(1000), key=lambda hundredth: water_density(hundredth / 100))
    assert 3.98 == pytest.approx(heaviest / 100, abs=0.02)
    assert 999.97 == pytest.approx(water_density(3.98), abs=0.01)
