"""The unit file against the published definitions, typed here from the sources themselves.

Sources: NIST Handbook 44, Appendix C, "General Tables of Units of Measurement"; NIST Special
Publication 811, Appendix B, "Conversion Factors"; United Kingdom, "The Units of Measurement
Regulations"; BIPM, "The International System of Units".  All values are exact definitions.
"""

from fractions import Fraction

import pytest

from benchconsole.quantities import (
    factor,
    format_temperature,
    read_area,
    read_length,
    read_mass,
    read_strength,
    read_temperature,
    read_volume,
)

HB44, SP811 = "NIST Handbook 44, Appendix C", "NIST SP 811, Appendix B"
UK, SI = "UK Units of Measurement Regulations", "BIPM, The International System of Units"

EXACT = [
    ("kilogram", "1000", "gram", SI),
    ("milligram", "0.001", "gram", SI),
    ("pound", "453.59237", "gram", f"{HB44}; {SP811}"),
    ("ounce", "28.349523125", "gram", f"{HB44}; {SP811}"),
    ("inch", "0.0254", "metre", f"{HB44}; {SP811}"),
    ("foot", "0.3048", "metre", f"{HB44}; {SP811}"),
    ("yard", "0.9144", "metre", f"{HB44}; {SP811}"),
    ("centimetre", "0.01", "metre", SI),
    ("millimetre", "0.001", "metre", SI),
    ("foot ** 2", "0.09290304", "metre ** 2", HB44),
    ("inch ** 2", "6.4516", "centimetre ** 2", HB44),
    ("inch ** 3", "16.387064", "millilitre", HB44),
    ("foot ** 3", "28.316846592", "litre", HB44),
    ("litre", "0.001", "metre ** 3", SI),
    ("us_gallon", "231", "inch ** 3", f"{HB44}: 231 cubic inches"),
    ("us_gallon", "3.785411784", "litre", HB44),
    ("us_quart", "0.946352946", "litre", HB44),
    ("us_pint", "473.176473", "millilitre", HB44),
    ("us_cup", "236.5882365", "millilitre", f"{HB44}: 8 fluid ounces"),
    ("us_fluid_ounce", "29.5735295625", "millilitre", HB44),
    ("us_tablespoon", "14.78676478125", "millilitre", HB44),
    ("us_teaspoon", "4.92892159375", "millilitre", HB44),
    ("imp_gallon", "4.54609", "litre", UK),
    ("imp_quart", "1.1365225", "litre", UK),
    ("imp_pint", "568.26125", "millilitre", UK),
    ("imp_fluid_ounce", "28.4130625", "millilitre", UK),
    ("minute", "60", "second", SI),
    ("hour", "3600", "second", SI),
    ("day", "86400", "second", SI),
    ("week", "7", "day", HB44),
]


@pytest.mark.parametrize(("unit", "value", "base", "source"), EXACT)
def test_a_unit_has_its_published_size_exactly(
    unit: str, value: str, base: str, source: str
) -> None:
    """Each unit is its published value to the last digit, and its inverse the way back."""
    assert Fraction(value) == factor(unit, base), source
    assert 1 / Fraction(value) == factor(base, unit), source


@pytest.mark.parametrize(
    ("fahrenheit", "celsius"),
    [
        ("32 °F", 0.0),
        ("212 °F", 100.0),
        ("-40 °F", -40.0),
        ("59 °F", 15.0),
        ("-459.67 °F", -273.15),
    ],
)
def test_fahrenheit_points_are_the_published_celsius_points(
    fahrenheit: str, celsius: float
) -> None:
    """NIST SP 811, Appendix B: t/°C = (t/°F - 32)/1.8; zero kelvin is -273.15 °C (BIPM)."""
    assert celsius == read_temperature(fahrenheit, field="water")
    assert read_temperature("0 K", field="water") == -273.15


def test_celsius_prints_as_the_published_fahrenheit() -> None:
    """NIST SP 811, Appendix B, the other way: 0, 15, 100 and -40 °C."""
    printed = [format_temperature(each, measures="us") for each in (0, 15, 100, -40)]
    assert ["32 °F (0 °C)", "59 °F (15 °C)", "212 °F (100 °C)", "−40 °F (−40 °C)"] == printed


def test_what_people_write_reads_as_the_published_values() -> None:
    """NIST Handbook 44, Appendix C, and the UK Regulations, through the readers."""
    assert read_mass("1 lb", field="salt", measures="us") == 453.59237
    assert read_volume("1 gal", field="water", measures="us") == 3.785411784
    assert read_volume("1 gal", field="water", measures="imperial") == 4.54609
    assert read_length("1 in", field="depth", measures="us") == 0.0254
    assert read_area("1 sq ft", field="hide", measures="us") == 0.09290304


@pytest.mark.parametrize(
    ("written", "grams_per_litre"),
    [
        ("1 lb / US gal", 453.59237 / 3.785411784),
        ("1 oz / US gal", 28.349523125 / 3.785411784),
        ("1 oz / imp gal", 28.349523125 / 4.54609),
    ],
)
def test_a_strength_is_the_quotient_of_the_published_values(
    written: str, grams_per_litre: float
) -> None:
    """Quotients of NIST Handbook 44 and UK Regulations values."""
    read = read_strength(written, field="salt", measures="metric")
    assert read == pytest.approx(grams_per_litre, rel=1e-15)
