"""How quantities are shown at arm's length."""

from datetime import timedelta

import pytest

from benchconsole.quantities import (
    Measures,
    ReadingUnit,
    format_countdown,
    format_duration,
    format_mass,
    format_number,
    format_reading,
    format_strength,
    format_temperature,
    format_volume,
    round_to_step,
)

POUND, OUNCE, US_GALLON = 453.59237, 28.349523125, 3.785411784


@pytest.mark.parametrize(
    ("grams", "measures", "step_g", "printed"),
    [
        (1133.98, "metric", 1, "1134 g"),
        (1133.98, "metric", 0.1, "1134 g"),
        (1133.98, "metric", 5, "1135 g"),
        (9999.4, "metric", 1, "9999 g"),
        (9999.6, "metric", 1, "10 kg"),
        (12350, "metric", 1, "12.35 kg"),
        (0, "metric", 1, "0 g"),
        (0.3, "metric", 1, "0.3 g"),
        (-5, "metric", 1, "−5 g"),
        (2.5 * POUND, "us", 1, "2 lb 8 oz"),
        (3.5 * OUNCE, "us", 1, "3.5 oz"),
        (5 * POUND, "imperial", 1, "5 lb"),
        (15.99 * OUNCE, "us", 1, "1 lb"),
        (15.99 * OUNCE, "us", 0.1, "15.99 oz"),
        (OUNCE / 100, "us", 1, "0.01 oz"),
        (37 * OUNCE, "us", 100, "2 lb 3 oz"),
    ],
)
def test_a_weight_prints_at_the_resolution_of_the_scale(
    grams: float, measures: Measures, step_g: float, printed: str
) -> None:
    """Steps of 1-2-5 no finer than the scale's, carried over, and never 0 for something."""
    assert printed == format_mass(grams, measures=measures, step_g=step_g)


@pytest.mark.parametrize(
    ("litres", "measures", "printed"),
    [
        (18.927, "metric", "18.9 L"),
        (0.25, "metric", "250 mL"),
        (0.9997, "metric", "1 L"),
        (1234.4, "metric", "1234 L"),
        (0, "metric", "0 mL"),
        (4 * US_GALLON, "us", "4 US gal"),
        (40 / 128 * US_GALLON, "us", "1 US qt 8 US fl oz"),
        (0.3 * US_GALLON / 128, "us", "0.3 US fl oz"),
        (5.3125 * US_GALLON, "us", "5 US gal 1 US qt 8 US fl oz"),
        (0.9999 * US_GALLON, "us", "1 US gal"),
        (0, "us", "0 US fl oz"),
        (4.54609, "imperial", "1 imp gal"),
        (-4.54609, "imperial", "−1 imp gal"),
    ],
)
def test_a_volume_names_whose_gallon_it_is(litres: float, measures: Measures, printed: str) -> None:
    """Within 1 %, in the jugs of the shop, always US or imp."""
    assert printed == format_volume(litres, measures=measures)


@pytest.mark.parametrize(
    ("step_g", "unit", "printed"),
    [
        (1, "g", "1234 g"),
        (0.1, "g", "1234.5 g"),
        (5, "g", "1235 g"),
        (0.01, "g", "1234.45 g"),
        (1, "kg", "1.234 kg"),
        (5, "kg", "1.235 kg"),
        (OUNCE / 10, "oz", "43.5 oz"),
        (1, "oz", "43.55 oz"),
        (OUNCE / 10, "lb oz", "2 lb 11.5 oz"),
        (OUNCE, "lb oz", "2 lb 12 oz"),
    ],
)
def test_a_reading_has_the_decimals_of_the_scale(
    step_g: float, unit: ReadingUnit, printed: str
) -> None:
    """1234.45 g as each kind of scale shows it."""
    assert printed == format_reading(1234.45, step_g=step_g, unit=unit)


def test_a_reading_keeps_the_zeros_that_the_scale_shows() -> None:
    """Trailing zeros stay, a carry fills the pound, and there is no minus nought."""
    assert "500.0 g" == format_reading(500, step_g=0.1)
    assert "1 lb 0.00 oz" == format_reading(15.99 * OUNCE, step_g=1, unit="lb oz")
    assert "−3 g" == format_reading(-3, step_g=1)
    assert "0 g" == format_reading(-0.2, step_g=1)


def test_halves_round_away_from_zero_in_decimal() -> None:
    """2.675 and 1.005 lie just below the half in binary; people typed the half."""
    assert ["2.68", "1.01", "−2.68", "0.0"] == [
        format_number(2.675, 2),
        format_number(1.005, 2),
        format_number(-2.675, 2),
        format_number(-0.04, 1),
    ]
    rounded = [round_to_step(grams, 0.1) for grams in (0.25, -0.25, 0.30000000000000004)]
    assert [0.3, -0.3, 0.3] == rounded
    assert 1235.0 == round_to_step(1232.5, 5)


def test_temperatures_show_both_scales_only_in_us_measure() -> None:
    """The shop's own scale first."""
    assert "12 °C" == format_temperature(12.2, measures="metric")
    assert "12 °C" == format_temperature(12.2, measures="imperial")
    assert "54 °F (12 °C)" == format_temperature(12.2, measures="us")
    assert "12.2 °C" == format_temperature(12.2, measures="metric", digits=1)
    assert "0 °C" == format_temperature(-0.2, measures="metric")


@pytest.mark.parametrize(
    ("elapsed", "printed"),
    [
        (timedelta(), "0 s"),
        (timedelta(seconds=20), "20 s"),
        (timedelta(seconds=59.6), "1 min"),
        (timedelta(minutes=45), "45 min"),
        (timedelta(minutes=45, seconds=20), "45 min 20 s"),
        (timedelta(minutes=90), "1 h 30 min"),
        (timedelta(hours=23, minutes=30), "23 h 30 min"),
        (timedelta(hours=23, minutes=59, seconds=45), "1 d"),
        (timedelta(days=3, hours=4, minutes=10), "3 d 4 h"),
        (timedelta(days=2, hours=23, minutes=40), "3 d"),
        (timedelta(days=28), "28 d"),
        (timedelta(minutes=-45), "−45 min"),
    ],
)
def test_a_duration_prints_in_at_most_two_units(elapsed: timedelta, printed: str) -> None:
    """Neighbouring units, the smaller rounded and carried."""
    assert printed == format_duration(elapsed)


@pytest.mark.parametrize(
    ("remaining", "printed"),
    [
        (timedelta(minutes=45), "0:45:00"),
        (timedelta(hours=12, minutes=5), "12:05:00"),
        (timedelta(seconds=0.2), "0:00:01"),
        (timedelta(), "0:00:00"),
        (timedelta(seconds=-0.5), "0:00:00"),
        (timedelta(seconds=-65), "−0:01:05"),
        (timedelta(days=2, hours=1), "49:00:00"),
    ],
)
def test_a_countdown_reaches_zero_only_at_the_end(remaining: timedelta, printed: str) -> None:
    """Rounded up while it runs, and minus once it has rung."""
    assert printed == format_countdown(remaining)


def test_a_strength_keeps_three_figures() -> None:
    """Never less than whole grams to the litre."""
    strengths = [format_strength(each) for each in (60, 119.826, 7.4892, 1234.4, 0)]
    assert ["60 g/L", "120 g/L", "7.49 g/L", "1234 g/L", "0 g/L"] == strengths


@pytest.mark.parametrize("number", [float("nan"), float("inf")])
def test_what_is_not_finite_is_a_defect(number: float) -> None:
    """No screen shows nan: the program that asks for it is wrong."""
    with pytest.raises(ValueError, match="cannot be printed"):
        format_mass(number, measures="metric", step_g=1)


@pytest.mark.parametrize("step_g", [0.0, -1.0])
def test_a_step_that_is_not_positive_is_a_defect(step_g: float) -> None:
    """A scale's step divides something."""
    with pytest.raises(ValueError, match="does not divide"):
        format_mass(5, measures="metric", step_g=step_g)
