"""What people write at the bench, and what they are told when it cannot be read."""

import unicodedata
from datetime import timedelta
from typing import Any

import pytest

from benchconsole.errors import BadQuantity
from benchconsole.quantities import (
    Amount,
    Measures,
    read_amount,
    read_area,
    read_count,
    read_duration,
    read_factor,
    read_length,
    read_mass,
    read_strength,
    read_temperature,
    read_volume,
    read_volume_per_mass,
)

POUND, OUNCE, US_OUNCE = 453.59237, 28.349523125, 0.0295735295625


def refusal(reader: Any, text: str, **options: Any) -> BadQuantity:
    """The error that the reader raises for the text."""
    with pytest.raises(BadQuantity) as caught:
        reader(text, field="Salt", **options)
    return caught.value


@pytest.mark.parametrize(
    ("text", "grams"),
    [
        ("2 1/2 lb", 2.5 * POUND),
        ("2-1/2 lb", 2.5 * POUND),
        ("2½ lb", 2.5 * POUND),
        ("2 ½ lb", 2.5 * POUND),
        ("½ lb", POUND / 2),
        ("1⁄2 lb", POUND / 2),
        ("2 lb 8 oz", 2.5 * POUND),
        ("2lb8oz", 2.5 * POUND),
        ("2 lb, 8 oz", 2.5 * POUND),
        ("2 lb and 8 oz", 2.5 * POUND),
        ("2 Lbs. 8 OZ.", 2.5 * POUND),
        ("2 pounds 8 ounces", 2.5 * POUND),
        ("2 lb .5 oz", 2 * POUND + OUNCE / 2),
        ("3.5oz", 3.5 * OUNCE),
        ("⅜ oz", 0.375 * OUNCE),
        ("3,5 kg", 3500.0),
        ("0,125 kg", 125.0),
        ("1,250.5 g", 1250.5),
        ("5\u00a0KG", 5000.0),
        ("5\u2009kg", 5000.0),
        ("5\u202fkilos\n", 5000.0),
        ("36 grammes", 36.0),
        ("500 mg", 0.5),
        ("1 kg 250 g", 1250.0),
    ],
)
def test_a_weight_is_read_as_people_write_it(text: str, grams: float) -> None:
    """Fractions, mixed units, decimal commas, odd spaces and capitals all read."""
    assert read_mass(text, field="Salt", measures="us") == pytest.approx(grams, rel=1e-15)


@pytest.mark.parametrize("mark", "½⅓⅔¼¾⅛⅜⅝⅞")
def test_every_fraction_mark_reads_as_its_own_value(mark: str) -> None:
    """The marks agree with the Unicode database, alone and after a whole number."""
    value = unicodedata.numeric(mark)
    assert read_factor(mark, field="times") == pytest.approx(value)
    assert read_factor(f"3{mark}", field="times") == pytest.approx(3 + value)


@pytest.mark.parametrize(
    ("text", "measures", "litres"),
    [
        ("1 qt 8 fl oz", "us", 40 * US_OUNCE),
        ("1 qt 8 fl. oz.", "us", 40 * US_OUNCE),
        ("1 quart 8 floz", "imperial", 48 * 0.0284130625),
        ("4 gallons", "us", 4 * 3.785411784),
        ("4 gallons", "imperial", 4 * 4.54609),
        ("4 imp gal", "us", 4 * 4.54609),
        ("4 Imperial Gallons", "metric", 4 * 4.54609),
        ("4 US gal", "imperial", 4 * 3.785411784),
        ("4 U.S. gal", "metric", 4 * 3.785411784),
        ("3 US fl oz", "imperial", 3 * US_OUNCE),
        ("1 pt", "imperial", 0.56826125),
        ("2 cups", "us", 16 * US_OUNCE),
        ("1 tbsp", "us", US_OUNCE / 2),
        ("1 tsp", "us", US_OUNCE / 6),
        ("250 mL", "us", 0.25),
        ("250 ml", "metric", 0.25),
        ("1,5 L", "metric", 1.5),
        ("2 litres", "metric", 2.0),
        ("2 liters", "us", 2.0),
    ],
)
def test_a_volume_follows_the_measures_of_the_shop(
    text: str, measures: Measures, litres: float
) -> None:
    """A bare gallon is the shop's own; a named one is itself in any shop."""
    read = read_volume(text, field="Water", measures=measures)
    assert read == pytest.approx(litres, rel=1e-15)


@pytest.mark.parametrize("unit", ["gal", "qt", "pt", "fl oz"])
def test_a_bare_gallon_is_refused_where_the_shop_is_metric(unit: str) -> None:
    """Units are never guessed: the refusal offers both sizes by name."""
    error = refusal(read_volume, f"5 {unit}", measures="metric")
    assert f"5 US {unit} or 5 imp {unit}" == error.example


def test_ounces_are_never_a_volume() -> None:
    """The refusal says that oz is a weight and how the volume is written."""
    error = refusal(read_volume, "8 oz", measures="us")
    expected = "Salt: “oz” is a weight, and a volume is “fl oz”; for example 8 fl oz."
    assert expected == str(error)


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("", "nothing was typed"),
        ("  \n", "nothing was typed"),
        ("2500", "“2500” has no unit"),
        ("2 lb 8", "“8” has no unit"),
        ("1 250 g", "“1” has no unit"),
        ("5 gal", "“gal” measures volume, and weight is wanted"),
        ("5 stone", "“stone” is not a unit that is read here"),
        ("8 oz 2 lb", "the larger unit comes first, and each only once"),
        ("2 lb 3 lb", "the larger unit comes first, and each only once"),
        ("0 g", "it must be more than zero"),
        ("1,250 g", "“1,250” can mean 1250 or 1.250, so leave the comma out"),
        ("1.2.3 g", "“1.2.3” is not a number"),
        ("1/0 lb", "“1/0” divides by zero"),
        ("2 5/4 lb", "“2 5/4” has a fraction of one or more beside a whole number"),
        ("2 lb.5 oz", "“.5 oz” does not begin with a number"),
        ("nan g", "“nan g” does not begin with a number"),
        ("inf kg", "“inf kg” does not begin with a number"),
        ("1e999 g", "powers of ten such as 1e5 are not read"),
        ("1e5 kg", "powers of ten such as 1e5 are not read"),
        ("1E-3 kg", "powers of ten such as 1e5 are not read"),
        ("9**9**9 kg", "“**” is not a unit that is read here"),
        ("2^8 g", "“^” is not a unit that is read here"),
        ("kg*kg", "“kg*kg” does not begin with a number"),
        ("__import__('os')", "“__import__('os')” does not begin with a number"),
        ("5 kg\x1b[2J", "that holds a character that does not print"),
        ("5\u200bkg", "that holds a character that does not print"),
        ("٣ kg", "only the digits 0 to 9 are read"),
        ("５ kg", "only the digits 0 to 9 are read"),
        ("99999999999 kg", "that is more than 10000 kg"),
        ("9" * 63 + "g", "that is more than 10000 kg"),
        ("1" * 65, "that is more than 64 characters"),
    ],
)
def test_what_cannot_be_a_weight_is_refused_with_its_fault(text: str, fault: str) -> None:
    """Each refusal names the field and the fault, and offers an answer that reads."""
    error = refusal(read_mass, text, measures="us")
    assert (fault, "Salt") == (error.fault, error.field)
    for example in error.example.split(" or "):
        assert read_mass(example, field="Salt", measures="us") > 0


@pytest.mark.parametrize("minus", "-‐‑‒–—−﹣-")
def test_every_kind_of_minus_is_a_minus(minus: str) -> None:
    """A dash of any width is refused for a weight and obeyed for a temperature."""
    assert "it cannot be negative" == refusal(read_mass, f"{minus}5 g", measures="us").fault
    assert -5.0 == read_temperature(f"{minus}5 °C", field="Water")
    assert -2.0 == read_mass(f"{minus} 2 g", field="Zero", measures="us", zero=True, signed=True)


def test_zero_passes_only_where_it_makes_sense() -> None:
    """``zero`` opens the way for nought, with its unit."""
    assert 0.0 == read_mass("0 g", field="Loss", measures="us", zero=True)
    assert 0.0 == read_volume("0 L", field="Loss", measures="us", zero=True)
    assert timedelta() == read_duration("0 min", field="Wait", zero=True)
    assert "it must be more than zero" == refusal(read_duration, "0.0000001 s").fault


@pytest.mark.parametrize(
    ("text", "celsius"),
    [
        ("12 °C", 12.0),
        ("12C", 12.0),
        ("12 ° c", 12.0),
        ("-1 °C", -1.0),
        ("59F", 15.0),
        ("59 deg F", 15.0),
        ("20 degrees celsius", 20.0),
        ("273.15 K", 0.0),
    ],
)
def test_a_temperature_names_its_scale(text: str, celsius: float) -> None:
    """Both scales and kelvin read, in the usual spellings."""
    assert celsius == read_temperature(text, field="Water")


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("12", "“12” has no unit"),
        ("-300 °C", "nothing is colder than -273.15 °C"),
        ("9999 °F", "that is above 1000 °C"),
        ("12 C 3 C", "one number is wanted"),
        ("12 oz", "“oz” measures weight, and temperature is wanted"),
        ("-", "there is no number"),
    ],
)
def test_an_impossible_temperature_is_refused(text: str, fault: str) -> None:
    """A bare number, a point below absolute zero and a furnace are all refused."""
    error = refusal(read_temperature, text)
    assert (fault, "12 °C or 54 °F") == (error.fault, error.example)


@pytest.mark.parametrize(
    ("text", "elapsed"),
    [
        ("45 min", timedelta(minutes=45)),
        ("1 h 30 min", timedelta(minutes=90)),
        ("1h30m", timedelta(minutes=90)),
        ("1.5 h", timedelta(minutes=90)),
        ("1 1/2 hours", timedelta(minutes=90)),
        ("2 d", timedelta(days=2)),
        ("3 days", timedelta(days=3)),
        ("90 s", timedelta(seconds=90)),
        ("4 weeks", timedelta(weeks=4)),
    ],
)
def test_a_duration_is_read_as_people_write_it(text: str, elapsed: timedelta) -> None:
    """Seconds to weeks, alone or mixed; ``m`` is the minute."""
    assert elapsed == read_duration(text, field="Wait")


def test_lengths_and_areas_are_read_in_feet_and_metres() -> None:
    """``m`` is the metre here, and a square is written three ways."""
    assert 1.5 == read_length("1,5 m", field="Length", measures="metric")
    assert 1.6764 == read_length("5' 6\"", field="Length", measures="us")
    squares = [
        read_area(text, field="Area", measures="us")
        for text in ("9 sq ft", "9 sq. ft.", "9 ft2", "9 ft²", "9 square feet")
    ]
    assert [9 * 0.09290304] * 5 == pytest.approx(squares, rel=1e-15)


def test_a_float_and_a_strength_are_read_as_proportions() -> None:
    """The float of a hide and the strength of a liquor, in any mix of units."""
    float_l_per_kg = read_volume_per_mass("1/2 gal per lb", field="Float", measures="us")
    assert float_l_per_kg == pytest.approx(0.5 * 3.785411784 / 0.45359237, rel=1e-15)
    assert 6.0 == read_volume_per_mass("6 L/kg", field="Float", measures="metric")
    assert 60.0 == read_strength("60 g/L", field="Salt", measures="metric")


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("6 L", "volume for each unit of weight is wanted"),
        ("6 L/", "“6” has no unit"),
        ("6 kg/L", "“kg” measures weight, and volume is wanted"),
        ("6 gal/lb", "“gal” has more than one size, so say which"),
        ("99999999999 L/kg", "no liquor has that proportion"),
        ("0 L/kg", "no liquor has that proportion"),
    ],
)
def test_what_is_no_proportion_is_refused(text: str, fault: str) -> None:
    """The example offered is itself a proportion."""
    error = refusal(read_volume_per_mass, text, measures="metric")
    assert (fault, "6 L/kg") == (error.fault, error.example)


def test_an_amount_is_a_weight_or_a_volume_by_its_unit() -> None:
    """The first unit decides; a bare number is offered both."""
    assert Amount(mass_g=POUND) == read_amount("1 lb", field="Salt", measures="us")
    assert Amount(volume_l=0.25) == read_amount("250 ml", field="Salt", measures="us")
    assert "2500 g or 2500 ml" == refusal(read_amount, "2500", measures="metric").example
    assert "it must be more than zero" == refusal(read_amount, "0 g", measures="us").fault
    mixed = refusal(read_amount, "1 lb 3 fl oz", measures="us").fault
    assert "“fl oz” measures volume, and weight is wanted" == mixed


@pytest.mark.parametrize("sides", [{}, {"mass_g": 1.0, "volume_l": 1.0}])
def test_an_amount_holds_exactly_one_side(sides: dict[str, float]) -> None:
    """Neither and both are defects of the program, not of the person."""
    with pytest.raises(ValueError, match="either a weight or a volume"):
        Amount(**sides)


def test_counts_and_factors_are_plain_numbers() -> None:
    """Whole hides, and how many times a recipe."""
    assert 12 == read_count(" 12 ", field="Hides")
    times = [read_factor(text, field="Times") for text in ("2", "1/2", "1 1/2", "0.5x", "2 times")]
    assert [2.0, 0.5, 1.5, 0.5, 2.0] == times


@pytest.mark.parametrize("text", ["0", "1000", "-3", "2.5", "three", "², "])
def test_what_is_no_count_is_refused(text: str) -> None:
    """Only whole numbers from 1 to the most that the field takes."""
    assert "3" == refusal(read_count, text).example


@pytest.mark.parametrize("text", ["0", "1001", "-2", "2 kg", "2 3", "x"])
def test_what_is_no_factor_is_refused(text: str) -> None:
    """A unit, nought and a thousandfold slip are refused."""
    assert "1 1/2" == refusal(read_factor, text).example
