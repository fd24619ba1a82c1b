"""Moist air against the ASHRAE formula, IAPWS-95 and psychrolib."""

from __future__ import annotations

import csv
from pathlib import Path

import psychrolib
import pytest

from benchconsole.chemistry.moist_air import saturation_pressure, vapour_pressure_deficit

SHARED = Path(__file__).parents[2] / "shared"


def rows_of(name: str) -> list[dict[str, str]]:
    """The rows of a published table."""
    return list(csv.DictReader((SHARED / name).read_text(encoding="utf-8").splitlines()))


PRESSURES = rows_of("saturation_pressure.csv")
AIRS = rows_of("moist_air.csv")


@pytest.mark.parametrize("row", PRESSURES, ids=lambda row: f"{row['celsius']} {row['source'][:5]}")
def test_saturation_pressure_as_published(row: dict[str, str]) -> None:
    """Within 0.1 % of the ASHRAE formula and of IAPWS-95, computed with the software named."""
    expected = float(row["pressure_pa"])
    assert expected == pytest.approx(saturation_pressure(float(row["celsius"])), rel=1e-3)


def test_the_deficit_as_published() -> None:
    """Within 0.5 % (0.2 Pa for the table's own rounding) of the ASHRAE formula, at every point."""
    assert len(AIRS) > 80
    for row in AIRS:
        celsius, humidity = float(row["celsius"]), float(row["humidity_pct"])
        expected = float(row["deficit_pa"])
        assert expected == pytest.approx(
            vapour_pressure_deficit(celsius, humidity), rel=5e-3, abs=0.2
        )
        assert float(row["saturation_pa"]) == pytest.approx(saturation_pressure(celsius), rel=1e-3)


def test_the_library_for_moist_air_agrees() -> None:
    """psychrolib 2.5.0 itself, between the points of the table too: 0.1 %."""
    psychrolib.SetUnitSystem(psychrolib.SI)
    for tenth in range(1, 600, 7):
        expected = psychrolib.GetSatVapPres(tenth / 10)
        assert expected == pytest.approx(saturation_pressure(tenth / 10), rel=1e-3)
