"""Laws of reading and printing that hold for every quantity and every text."""

import subprocess
import sys
from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from benchconsole.errors import BadQuantity
from benchconsole.quantities import (
    Measures,
    factor,
    format_duration,
    format_mass,
    format_strength,
    format_temperature,
    format_volume,
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
    registry,
)
from benchconsole.quantities.words import BASE_UNITS, UNIT_OF_WORD, Kind

OUNCE = 28.349523125
MEASURES: tuple[Measures, ...] = ("us", "imperial", "metric")
measures_of_shops = st.sampled_from(MEASURES)
scale_steps_g = st.sampled_from((0.01, 0.1, 0.5, 1.0, 2.0, 5.0, 20.0, OUNCE / 10))

READERS: dict[str, Callable[[str, Measures], Any]] = {
    "mass": lambda text, measures: read_mass(text, field="F", measures=measures),
    "volume": lambda text, measures: read_volume(text, field="F", measures=measures),
    "length": lambda text, measures: read_length(text, field="F", measures=measures),
    "area": lambda text, measures: read_area(text, field="F", measures=measures),
    "amount": lambda text, measures: read_amount(text, field="F", measures=measures),
    "float": lambda text, measures: read_volume_per_mass(text, field="F", measures=measures),
    "strength": lambda text, measures: read_strength(text, field="F", measures=measures),
    "temperature": lambda text, _: read_temperature(text, field="F"),
    "duration": lambda text, _: read_duration(text, field="F"),
    "count": lambda text, _: read_count(text, field="F"),
    "factor": lambda text, _: read_factor(text, field="F"),
}

MARKS = "0123456789.,/-−½⅞ \u00a0'\"°()*^x"
WORDS = ["lb", "oz", "fl oz", "gal", "US ", "imp ", "kg", "g", "L", "ml", "cup", "F", "C", "h"]
words_people_type = st.lists(
    st.sampled_from([*MARKS, *WORDS, "min", " per ", "and ", "e5", "m²", "1,250"]),
    min_size=1,
    max_size=14,
).map("".join)

HOSTILE = [
    *(mark * 10_000 for mark in ("1", "½", " ", ".", "(", "-", "٣")),
    *(mark * 5_000 for mark in ("1/", "1 ", "1,", "m2", "½ ", "a.")),
    "9**" * 3_000 + " kg",
    "1,111" * 2_000,
]


@pytest.mark.parametrize("reader", READERS)
@given(text=st.one_of(st.text(max_size=80), words_people_type), measures=measures_of_shops)
@example(text="\ud800 kg", measures="us")
@example(text="5 [/] kg", measures="us")
@settings(max_examples=120, deadline=None)
def test_any_text_reads_or_is_refused_with_an_answer_that_reads(
    reader: str, text: str, measures: Measures
) -> None:
    """No text raises anything but ``BadQuantity``, and its examples all work."""
    read = READERS[reader]
    try:
        read(text, measures)
    except BadQuantity as error:
        assert "F" == error.field
        assert error.example
        for each in error.example.split(" or "):
            read(each, measures)


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize("hostile", HOSTILE, ids=range(len(HOSTILE)))
def test_a_long_text_is_refused(reader: str, hostile: str) -> None:
    """Ten thousand characters are refused without being taken apart; none makes it hang."""
    with pytest.raises(BadQuantity):
        READERS[reader](hostile, "us")


@given(
    grams=st.floats(min_value=0.01, max_value=100_000),
    measures=measures_of_shops,
    step_g=scale_steps_g,
)
@settings(deadline=None)
def test_a_printed_weight_reads_back_within_the_scale(
    grams: float, measures: Measures, step_g: float
) -> None:
    """The printed step is under 2.5 of the scale's, so half of it is what may be lost."""
    printed = format_mass(grams, measures=measures, step_g=step_g)
    read = read_mass(printed, field="Salt", measures=measures)
    assert abs(read - grams) <= 1.25 * step_g * (1 + 1e-9)
    assert printed == format_mass(read, measures=measures, step_g=step_g)


@given(litres=st.floats(min_value=1e-5, max_value=100_000), measures=measures_of_shops)
@settings(deadline=None)
def test_a_printed_volume_reads_back_within_one_percent_in_any_shop(
    litres: float, measures: Measures
) -> None:
    """What one shop prints, any shop reads alike, for the units are named."""
    printed = format_volume(litres, measures=measures)
    read = {read_volume(printed, field="Water", measures=shop) for shop in MEASURES}
    assert len(read) == 1
    assert read.pop() == pytest.approx(litres, rel=0.01)


@given(celsius=st.floats(min_value=-50, max_value=300), measures=measures_of_shops)
@settings(deadline=None)
def test_a_printed_temperature_reads_back_within_half_a_degree(
    celsius: float, measures: Measures
) -> None:
    """Half a degree of the scale printed first, below nought too."""
    first = format_temperature(celsius, measures=measures).split(" (")[0]
    assert abs(read_temperature(first, field="Water") - celsius) <= 0.5 + 1e-9


@given(elapsed=st.timedeltas(min_value=timedelta(seconds=1), max_value=timedelta(days=3000)))
@settings(deadline=None)
def test_a_printed_duration_reads_back_within_its_smaller_unit(elapsed: timedelta) -> None:
    """Half an hour over days, half a minute over hours, half a second below."""
    read = read_duration(format_duration(elapsed), field="Wait")
    smaller = timedelta(hours=1) if elapsed >= timedelta(days=1) else timedelta(minutes=1)
    if elapsed < timedelta(minutes=59):
        smaller = timedelta(seconds=1)
    assert abs(read - elapsed) <= smaller / 2


@given(grams_per_litre=st.floats(min_value=0.001, max_value=1000))
@settings(deadline=None)
def test_a_printed_strength_reads_back_within_half_a_percent(grams_per_litre: float) -> None:
    """Three figures are at worst half a percent off."""
    printed = format_strength(grams_per_litre)
    read = read_strength(printed, field="Salt", measures="metric")
    assert read == pytest.approx(grams_per_litre, rel=0.005)


@given(
    hundredths=st.integers(min_value=1, max_value=10_000),
    times=st.integers(min_value=2, max_value=9),
    unit=st.sampled_from(["oz", "lb", "g", "kg"]),
)
@settings(deadline=None)
def test_reading_scales_with_the_number(hundredths: int, times: int, unit: str) -> None:
    """N times the number is N times the weight."""
    once = read_mass(f"{hundredths / 100:.2f} {unit}", field="Salt", measures="us", zero=True)
    many = read_mass(
        f"{hundredths * times / 100:.2f} {unit}", field="Salt", measures="us", zero=True
    )
    assert many == pytest.approx(times * once, rel=1e-12)


def test_every_word_names_a_unit_of_its_kind() -> None:
    """The table of words and the unit file agree, dimension by dimension."""
    for kind, words in UNIT_OF_WORD.items():
        base = registry().Quantity(1, BASE_UNITS[kind]).dimensionality
        for word, unit in words.items():
            assert base == registry().Quantity(1, unit).dimensionality, word
            if kind is not Kind.TEMPERATURE:
                assert factor(unit, BASE_UNITS[kind]) > 0


def test_no_word_means_two_things_where_either_is_taken() -> None:
    """An amount is a weight or a volume by its unit, so no word may be in both tables."""
    assert not UNIT_OF_WORD[Kind.MASS].keys() & UNIT_OF_WORD[Kind.VOLUME].keys()


FRESH = """
import sys
from datetime import timedelta
import benchconsole.quantities as quantities
quantities.format_mass(12_345.0, measures="metric", step_g=1)
quantities.format_volume(18.9, measures="metric")
quantities.format_temperature(12.0, measures="metric")
quantities.format_reading(1.0, step_g=1)
quantities.format_countdown(timedelta(minutes=45))
print(sorted(name for name in sys.modules if name.split(".")[0] in {"pint", "textual"}))
"""


def test_neither_import_nor_metric_printing_loads_pint() -> None:
    """The first frame of the console does not wait for pint; checked in a fresh interpreter."""
    done = subprocess.run(
        [sys.executable, "-c", FRESH], capture_output=True, text=True, check=True, timeout=60
    )
    assert "[]" == done.stdout.strip()
