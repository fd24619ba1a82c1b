"""The air of the drying room as a person types it."""

from __future__ import annotations

import pytest

from benchconsole.desk.air import air_text, read_air
from benchconsole.errors import BadInput
from benchconsole.model.drying import Climate


@pytest.mark.parametrize(
    ("text", "celsius", "humidity", "air"),
    [
        ("18 °C, 60 %, still", 18.0, 60.0, "still"),
        ("60%, 18 C", 18.0, 60.0, "still"),
        ("fan; 17,5 °C; 62.5 % RH", 17.5, 62.5, "fan"),
        ("17,5 °C,62,5%,Moving", 17.5, 62.5, "moving"),
        ("68 °F, 55 %", 20.0, 55.0, "still"),
    ],
)
def test_what_people_type(text: str, celsius: float, humidity: float, air: str) -> None:
    """In any order, with comma or point, in either scale; air nothing is said of is still."""
    climate = read_air(text)
    assert climate is not None
    assert (humidity, air) == (climate.humidity_pct, climate.air)
    assert celsius == pytest.approx(climate.celsius)


def test_an_empty_line_says_nothing() -> None:
    """No air is as good an answer as any."""
    for text in ("", "  ", ",,"):
        assert read_air(text) is None
    assert "" == air_text(None, "metric")


def test_the_air_as_it_is_written() -> None:
    """In the shop's own measure."""
    climate = Climate(celsius=20.0, humidity_pct=62.5, air="fan")
    assert "20 °C, 62.5 %, fan" == air_text(climate, "metric")
    assert climate == read_air(air_text(climate, "us"))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("18, 60 %", "18"),
        ("18 °C", "the humidity is missing"),
        ("60 %", "the temperature is missing"),
        ("18 °C, 60 %, 20 °C", "the temperature is said twice"),
        ("18 °C, 160 %", "between 1 and 99 %"),
        ("18 °C, -5 %", "between 1 and 99 %"),
        ("18 °C, 60 %, breezy", "“breezy” is none of still, moving, fan"),
        ("-5 °C, 60 %", "colder they freeze"),
        ("80 °C, 60 %", "warmer they shrink"),
        ("18 °C, nan %", "between 1 and 99 %"),
        ("[/] °C, 60 %", "is none of"),
    ],
)
def test_what_cannot_be_read_is_refused(text: str, said: str) -> None:
    """One sentence naming the field and the fault, with an example that works."""
    with pytest.raises(BadInput, match=r"^air: ") as caught:
        read_air(text)
    assert said in str(caught.value)
    assert "for example" in str(caught.value)
