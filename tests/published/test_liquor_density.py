"""The room a liquor takes up, against a density model and handbooks."""

import csv
from pathlib import Path

import pytest

from benchconsole.chemistry import liquor_volume

TABLE = Path(__file__).parents[2] / "shared" / "liquor_density.csv"
ROWS = list(csv.DictReader(TABLE.read_text(encoding="utf-8").splitlines()))


@pytest.mark.parametrize(
    "row", ROWS, ids=lambda row: f"{row['solute']} {row['anhydrous_g']} salt {row['salt_g']}"
)
def test_liquor_is_within_its_own_doubt(row: dict[str, str]) -> None:
    """Laliberté, J. Chem. Eng. Data 54 (2009) 1725 (computed) and the CRC Handbook (from memory):
    the published density lies inside the uncertainty the law states, which is below 1.2 %."""
    solute = (float(row["anhydrous_g"]), float(row["specific_volume_cm3_per_g"]))
    liquor = liquor_volume(
        float(row["water_g"]), float(row["salt_g"]), [solute], [], float(row["celsius"])
    )
    assert liquor.uncertainty < 0.012
    published = float(row["density_kg_m3"])
    assert published == pytest.approx(liquor.density_kg_m3, rel=liquor.uncertainty)


def test_spirit_and_water_shrink_within_the_doubt() -> None:
    """70 volumes of isopropyl alcohol (785 kg/m³) and water for 100: USP isopropyl rubbing alcohol
    has specific gravity 0.872 to 0.883, and the ideal figure is low by less than it says."""
    liquor = liquor_volume(30 * 0.9982, 0, [], [(70 * 0.785, 785)], 20)
    assert liquor.density_kg_m3 < 872
    assert 872 <= liquor.density_kg_m3 / (1 - liquor.uncertainty) <= 883
