"""Brine strengths and corrections against printed tables, and one specific heat against eleven."""

import csv
from pathlib import Path

import pytest

from benchconsole.chemistry import HydrometerScale
from benchconsole.chemistry.hydrometer import SCALE_CELSIUS
from benchconsole.mixing.brines import (
    StrengthMeasure,
    brine,
    brine_strength,
    salt_share,
    spindle_degrees,
)
from benchconsole.mixing.corrections import correct
from benchconsole.mixing.rinsing import rinse_salt, rinsing
from benchconsole.mixing.warm_water import water_at
from benchconsole.model.shop import Shop
from benchconsole.quantities import factor

SHARED = Path(__file__).parents[2] / "shared"
SHOP = Shop(measures="metric")
US_GALLON_L, POUND_G = float(factor("us_gallon", "litre")), float(factor("pound", "gram"))


def table(name: str) -> list[dict[str, str]]:
    """The rows of one shared table."""
    return list(csv.DictReader((SHARED / name).read_text(encoding="utf-8").splitlines()))


@pytest.mark.parametrize(
    "row", table("salometer.csv"), ids=lambda row: f"{row['degrees_salometer']} {row['provenance']}"
)
def test_salometer_degrees_are_that_much_salt(row: dict[str, str]) -> None:
    """The salt-industry salometer table [read] and the scale's definition: per cent within 0.03."""
    told = brine_strength(
        HydrometerScale.SALOMETER, float(row["degrees_salometer"]), SCALE_CELSIUS, SHOP
    )
    assert float(row["salt_percent"]) == pytest.approx(100 * told.salt_share, abs=0.03)


@pytest.mark.parametrize(
    ("degrees", "pounds"),
    [(10, 0.226), (20, 0.464), (30, 0.716), (40, 0.983), (50, 1.266)],
)
def test_pounds_of_salt_to_the_gallon_of_water(degrees: float, pounds: float) -> None:
    """The salt-industry salometer table [read]: pounds of salt to a US gallon of 8.328 lb water."""
    told = brine_strength(HydrometerScale.SALOMETER, degrees, SCALE_CELSIUS, SHOP)
    assert pounds == pytest.approx(told.g_per_100g_water * 8.328 / 100, abs=0.002)


@pytest.mark.parametrize(
    "row",
    table("hydrometer_off_60f.csv"),
    ids=lambda row: f"{row['salt_percent']} {row['celsius']}",
)
def test_a_reading_off_60f_leads_to_the_strength_wanted(row: dict[str, str]) -> None:
    """Glass growing 25e-6 per K in brine off 60 °F, computed independently: a spindle reading is

    corrected to the salt that is there, and back to the degrees that the spindle shows.
    """
    salt, celsius = float(row["salt_percent"]), float(row["celsius"])
    reading = float(row["specific_gravity_read"])
    told = brine_strength(HydrometerScale.SPECIFIC_GRAVITY, reading, celsius, SHOP)
    assert salt == pytest.approx(100 * told.salt_share, abs=0.05)
    shown = spindle_degrees(salt / 100, celsius).salometer
    assert float(row["degrees_salometer_read"]) == pytest.approx(shown, abs=0.1)
    scale = HydrometerScale.SPECIFIC_GRAVITY
    there = salt_share(scale, told.degrees.specific_gravity, SCALE_CELSIUS)
    back = correct(brine(20.0, scale, reading, celsius), there, SHOP)
    assert 0.0 == pytest.approx(back.add_g, abs=0.1)


def test_saturating_a_tub_of_water() -> None:
    """Page on preserving hides and skins [read]: 30 lb of salt to 10 US gal of cold water.

    Saturated by the density law it takes 29.9 lb.
    """
    water = brine(10 * US_GALLON_L, StrengthMeasure.PERCENT, 0.0, 10.0)
    assert 30 == pytest.approx(correct(water, 0.264, SHOP).add_g / POUND_G, rel=0.01)


def test_a_pound_of_salt_to_the_gallon() -> None:
    """Pages on the salt bath [read]: 1 lb to the US gallon is called 120 g/L, which is of water;

    in a litre of the brine itself there are 115 g (computed).
    """
    per_100g = 100 * POUND_G / (US_GALLON_L * 999.1)
    told = brine_strength(StrengthMeasure.PER_100_G_WATER, per_100g, 15.0, SHOP)
    assert 12.0 == pytest.approx(told.g_per_100g_water, abs=0.05)
    assert 115 == pytest.approx(told.g_per_l, abs=1)


def test_a_barkometer_degree_in_baume() -> None:
    """Leather: from the Raw Material to the Finished Product (c. 1915) [read]: 1 °Bé is about 6.9

    degrees barkometer near the low end.
    """
    told = brine_strength(StrengthMeasure.PERCENT, 1.0, SCALE_CELSIUS, SHOP)
    assert 6.9 == pytest.approx(told.degrees.barkometer / told.degrees.baume, abs=0.1)


def test_rinse_salt_is_four_ounces_to_the_gallon() -> None:
    """Question and answer pages, 1999 to 2022: 30 g/L, 4 oz to the US gallon (common practice)."""
    assert 4 / 16 * POUND_G == pytest.approx(rinse_salt(US_GALLON_L, SHOP).salt_g, rel=0.002)


def test_ten_per_cent_stays_in_one_to_nine() -> None:
    """Conservation of salt: 1 L held in 9 L leaves 10 % and twice 1 % (computed)."""
    assert [0.1, 0.01] == pytest.approx([rinsing(1, 60, 9, n, SHOP).left_share for n in (1, 2)])


#: kJ/(kg K) of water at 0, 10, ... 100 °C, CRC Handbook of Chemistry and Physics, from memory.
SPECIFIC_HEATS = (
    4.2176,
    4.1921,
    4.1818,
    4.1784,
    4.1785,
    4.1806,
    4.1843,
    4.1895,
    4.1963,
    4.205,
    4.2159,
)


@pytest.mark.parametrize(
    ("cold", "hot", "wanted"), [(0, 100, 50), (0, 100, 20), (10, 60, 40), (10, 90, 40), (0, 40, 10)]
)
def test_one_specific_heat_is_good_enough(cold: int, hot: int, wanted: int) -> None:
    """The heat of each water summed over the CRC Handbook's specific heats (from memory) puts the

    mixture within 0.1 °C of the temperature asked for.
    """

    def heat(celsius: int) -> float:
        """Heat over 0 °C in kJ/kg, by trapezoids of ten degrees."""
        steps = range(celsius // 10)
        return sum(5 * (SPECIFIC_HEATS[i] + SPECIFIC_HEATS[i + 1]) for i in steps)

    found = water_at(wanted, 20.0, hot, cold, SHOP)
    share = _hot_share(found.hot_l, found.cold_l, hot, cold)
    off = (share * heat(hot) + (1 - share) * heat(cold) - heat(wanted)) / 4.18
    assert 0.0 == pytest.approx(off, abs=0.1)


def _hot_share(hot_l: float, cold_l: float, hot: float, cold: float) -> float:
    """Share of hot water by weight, by Kell's densities at 0, 10, 40, 60, 90, 100 °C."""
    density = {0: 999.84, 10: 999.70, 40: 992.22, 60: 983.20, 90: 965.31, 100: 958.36}
    return hot_l * density[int(hot)] / (hot_l * density[int(hot)] + cold_l * density[int(cold)])
