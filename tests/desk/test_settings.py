"""The shop's settings as typed text: read back as printed, refused whole, never made coarser."""

from __future__ import annotations

from datetime import UTC, datetime, time

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.clock import ManualClock
from benchconsole.desk import Desk
from benchconsole.desk.opening_hours import hours_text, read_hours
from benchconsole.desk.settings import MEASURES
from benchconsole.errors import BadInput
from benchconsole.library import shipped_library
from benchconsole.model.events import ShopSet
from benchconsole.model.shop import OpenSpan, Scale, Shop
from benchconsole.store import MemoryRepository

NOW = datetime(2026, 3, 4, 9, 0, tzinfo=UTC)
PLAIN = Shop()
FIELDS = (
    "name",
    "measures",
    "scale step",
    "scale capacity",
    "scale shows",
    "jug",
    "tub",
    "water",
    "hours",
    "hands",
    "vessels",
    "zone",
    "bell",
)


def desk_of(shop: Shop = PLAIN) -> tuple[Desk, MemoryRepository]:
    """A desk whose shop has these settings, and its history."""
    repository = MemoryRepository()
    repository.append([ShopSet(shop=shop)], at=NOW, recorded=NOW)
    return Desk(repository, ManualClock(NOW), shipped_library()), repository


shops = st.builds(
    Shop,
    name=st.just("Corner shop"),
    measures=st.sampled_from(["us", "imperial", "metric"]),
    scale=st.builds(
        Scale,
        step_g=st.sampled_from([0.001, 0.01, 0.1, 0.5, 1.0, 2.0, 5.0, 28.349523125]),
        capacity_g=st.floats(300.0, 100_000.0),
        shows=st.sampled_from(["g", "kg", "oz", "lb oz"]),
    ),
    jug_l=st.none() | st.floats(0.05, 100.0),
    water_celsius=st.floats(0.0, 100.0),
    bell=st.booleans(),
    hands=st.integers(1, 9),
    vessels=st.dictionaries(st.sampled_from(["tub", "board", "bench"]), st.integers(0, 999)),
    zone=st.sampled_from(["", "Europe/Lisbon", "America/Chicago", "UTC"]),
)


@settings(max_examples=60, deadline=None)
@given(shop=shops)
def test_what_is_printed_can_be_typed_again(shop: Shop) -> None:
    """Every printed setting is read back, in every measure, even where it was rounded."""
    texts = desk_of(shop)[0].settings.texts()
    assert FIELDS == tuple(texts)
    other, _ = desk_of(Shop(measures=shop.measures, scale=Scale(step_g=0.001, capacity_g=1e6)))
    other.settings.set(texts)
    assert texts == other.settings.texts()


@settings(max_examples=60, deadline=None)
@given(shop=shops)
def test_what_is_not_touched_stays_exactly(shop: Shop) -> None:
    """Handing in the form with one change moves no other figure, not by a rounding."""
    desk, _ = desk_of(shop)
    desk.settings.set({**desk.settings.texts(), "name": "New name"})
    assert msgspec.structs.replace(shop, name="New name") == desk.shop


def test_nothing_typed_writes_nothing() -> None:
    """The form handed in unchanged leaves no event."""
    desk, repository = desk_of()
    before = repository.entries()
    desk.settings.set(desk.settings.texts())
    assert before == repository.entries()


def test_bell_measures_and_scale_are_kept() -> None:
    """Choices as the form gives them, and amounts in the new measures, reach the shop."""
    desk, _ = desk_of()
    desk.settings.set(
        {"measures": "imperial", "bell": "no", "scale shows": "lb oz", "jug": "2 gal"}
    )
    assert ("imperial", False, "lb oz") == (
        desk.shop.measures,
        desk.shop.bell,
        desk.shop.scale.shows,
    )
    # An imperial gallon is 4.54609 L by definition (Weights and Measures Act 1985).
    assert pytest.approx(2 * 4.54609) == desk.shop.jug_l


def test_the_jug_may_be_left_open_again() -> None:
    """Emptying the field takes the jug away."""
    desk, _ = desk_of(Shop(jug_l=5.0))
    desk.settings.set({"jug": " "})
    assert desk.shop.jug_l is None


@pytest.mark.parametrize(
    ("field", "typed"),
    [
        ("name", ""),
        ("name", "x" * 61),
        ("measures", "troy"),
        ("scale step", "1"),
        ("scale step", "2 kg"),
        ("scale step", "0.0001 g"),
        ("scale capacity", "3 g"),
        ("scale shows", "stone"),
        ("jug", "2"),
        ("jug", "-1 gal"),
        ("water", "101 °C"),
        ("water", "-1 °C"),
        ("water", "12"),
        ("hours", ""),
        ("hands", ""),
        ("hands", "0"),
        ("hands", "10"),
        ("hands", "two"),
        ("vessels", "tubs"),
        ("vessels", "3"),
        ("vessels", "3 vats"),
        ("vessels", "-1 tub"),
        ("vessels", "1000 tubs"),
        ("vessels", "1 tub, 2 tubs"),
        ("zone", "Mars/Olympus"),
        ("zone", "/etc/hostname"),
        ("zone", "../../etc/hostname"),
        ("zone", "UTC+3"),
        ("zone", "Europe"),
        ("zone", "localtime"),
        ("zone", "posixrules"),
        ("zone", "right/Europe/Lisbon"),
        ("zone", "x" * 201),
        ("tub", "20\x07 gal"),
        ("bell", "perhaps"),
    ],
)
def test_a_refusal_names_the_field_and_keeps_nothing(field: str, typed: str) -> None:
    """The field is named, with an example; a good field beside it is not kept either."""
    desk, repository = desk_of()
    before = repository.entries()
    good = {"bell": "no"} if field != "bell" else {"name": "Other"}
    with pytest.raises(BadInput, match=r"; for example .+\.$") as told:
        desk.settings.set({**good, field: typed})
    assert field == told.value.field
    assert before == repository.entries()


@settings(max_examples=150, deadline=None)
@given(field=st.sampled_from(FIELDS), typed=st.text(max_size=80))
def test_any_text_is_kept_or_refused_in_a_sentence(field: str, typed: str) -> None:
    """No text makes anything but a setting or a refusal of one line."""
    desk, _ = desk_of()
    try:
        desk.settings.set({field: typed})
    except BadInput as fault:
        assert "\n" not in str(fault)
        assert field == fault.field
    else:
        assert set(FIELDS) == set(desk.settings.texts())


def test_a_choice_that_is_none_says_what_was_typed() -> None:
    """The fault is told before the ways to mend it."""
    with pytest.raises(BadInput, match=r"^bell: “perhaps” is none of yes, on, no, off; for "):
        desk_of()[0].settings.set({"bell": "perhaps"})


def test_every_example_is_a_setting() -> None:
    """What a refusal offers would have worked, whatever the measures."""
    for measures in MEASURES.values():
        desk, _ = desk_of(Shop(measures=measures))
        for field in desk.settings.texts():
            with pytest.raises(BadInput) as told:
                desk.settings.set({field: "x" * 201})
            desk.settings.set({field: told.value.example})


def test_an_unknown_setting_is_refused() -> None:
    """A slip in a setting's name is told, not swallowed."""
    desk, _ = desk_of()
    with pytest.raises(BadInput, match="colour"):
        desk.settings.set({"colour": "red"})


def span(day: int, opens: str, closes: str) -> OpenSpan:
    """An opening from its clock times."""
    return OpenSpan(weekday=day, opens=time.fromisoformat(opens), closes=time.fromisoformat(closes))


@pytest.mark.parametrize(
    ("typed", "expected"),
    [
        ("Mon 8-17", [span(0, "08:00", "17:00")]),
        ("monday 8:30-17:15", [span(0, "08:30", "17:15")]),
        ("Mon–Tue 8–17", [span(0, "08:00", "17:00"), span(1, "08:00", "17:00")]),
        ("Mon - Tue 8 - 17", [span(0, "08:00", "17:00"), span(1, "08:00", "17:00")]),
        ("Sat 8-12 13-17", [span(5, "08:00", "12:00"), span(5, "13:00", "17:00")]),
        ("Sun-Mon 9-10", [span(0, "09:00", "10:00"), span(6, "09:00", "10:00")]),
        ("Tue 0-24", [span(1, "00:00", "00:00")]),
        ("Wed 8am-5pm", [span(2, "08:00", "17:00")]),
        ("Wed 8 am - 12 pm", [span(2, "08:00", "12:00")]),
        ("Thu 9-10; Thu 9-10", [span(3, "09:00", "10:00")]),
        ("daily 9-10", [span(day, "09:00", "10:00") for day in range(7)]),
    ],
)
def test_hours_as_people_write_them(typed: str, expected: list[OpenSpan]) -> None:
    """Names, ranges over the week's end, any dash, halves of the day, several openings a day."""
    assert tuple(expected) == read_hours(typed)


@pytest.mark.parametrize(
    "typed",
    (
        *("8-17", "Mon", "Mon 8", "Mon 17-8", "Mon 8-25", "Mon 8:70-9", "Monkey 8-9", "M 8-9"),
        *("Mon 8-170", "Mon 108-17", "Mon 8-12-17", "Mon 13am-2pm", "Mon ٨-٩", "Mon 8-17 x", ","),
    ),
)
def test_hours_that_cannot_be_meant(typed: str) -> None:
    """Neither a guess nor half of it is kept."""
    with pytest.raises(BadInput, match="Mon-Fri 8-12, 13-17, Sat 9-13"):
        read_hours(typed)


openings = st.builds(
    lambda day, start, length: OpenSpan(
        weekday=day,
        opens=time(start // 60, start % 60),
        closes=time((start + length) // 60 % 24, (start + length) % 60),
    ),
    st.integers(0, 6),
    st.integers(0, 1200),
    st.integers(1, 240),
)


@settings(max_examples=150, deadline=None)
@given(spans=st.sets(openings, min_size=1, max_size=12))
def test_hours_are_read_as_they_are_printed(spans: set[OpenSpan]) -> None:
    """Any week survives being printed and typed again."""
    week = tuple(sorted(spans, key=lambda one: (one.weekday, one.opens, one.closes)))
    assert set(week) == set(read_hours(hours_text(week)))


def test_times_after_a_comma_belong_to_the_days_before() -> None:
    """A lunch break is written once: "Mon-Tue 7:30-12, 13:15-17"."""
    expected = [
        span(0, "07:30", "12:00"),
        span(0, "13:15", "17:00"),
        span(1, "07:30", "12:00"),
        span(1, "13:15", "17:00"),
    ]
    assert tuple(expected) == read_hours("Mon-Tue 7:30-12, 13:15-17")
    with pytest.raises(BadInput, match="names no day"):
        read_hours("8-12, Mon 13-17")
