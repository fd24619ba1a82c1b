"""The shop's settings as typed text: read back as printed, refused whole, never made coarser."""

from __future__ import annotations

from datetime import UTC, date, datetime

import msgspec
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from benchconsole.clock import ManualClock
from benchconsole.desk import Desk
from benchconsole.desk.settings import MEASURES
from benchconsole.errors import BadInput
from benchconsole.library import shipped_library
from benchconsole.model.drying import Climate
from benchconsole.model.events import ShopSet
from benchconsole.model.shop import DayRule, Scale, Shop
from benchconsole.store import MemoryRepository
from tests.desk.calendars import calendars

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
    "closed",
    "extra",
    "away",
    "hands",
    "vessels",
    "air",
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
    climate=st.none()
    | st.builds(
        Climate,
        celsius=st.floats(0.0, 45.0),
        humidity_pct=st.floats(1.0, 99.0),
        air=st.sampled_from(["still", "moving", "fan"]),
    ),
    zone=st.sampled_from(["", "Europe/Lisbon", "America/Chicago", "UTC"]),
)


@settings(max_examples=80, deadline=None)
@given(shop=shops, calendar=calendars)
@example(
    shop=PLAIN,
    calendar=Shop(closed_by_rule=(DayRule(rule="FREQ=YEARLY;BYMONTH=12;BYMONTHDAY=1", days=100),)),
)
def test_the_calendar_survives_being_typed_again_exactly(shop: Shop, calendar: Shop) -> None:
    """Openings, closed days, time away and means are read back equal, not just alike."""
    fields = ("hours", "hours_by_rule", "closed", "closed_by_rule", "extra", "away", "away_times")
    said = {field: getattr(calendar, field) for field in fields}
    shop = msgspec.structs.replace(shop, **said)
    texts = desk_of(shop)[0].settings.texts()
    other, _ = desk_of(Shop(measures=shop.measures, zone=shop.zone))
    typed = ("hours", "closed", "extra", "away", "hands", "vessels")
    other.settings.set({field: texts[field] for field in typed})
    for field in (*fields, "hands", "vessels"):
        assert getattr(shop, field) == getattr(other.shop, field), field


def test_single_closed_days_of_older_histories_are_typed_like_others() -> None:
    """They are shown, and once the list is changed they are kept with the rest."""
    desk, _ = desk_of(Shop(closed_on=(date(2026, 5, 3), date(2026, 4, 6))))
    assert "6 Apr 2026, 3 May 2026" == desk.settings.texts()["closed"]
    desk.settings.set({"closed": "6 Apr 2026, 3 May 2026, 1 Jun 2026"})
    days = [(span.first.month, span.last.day) for span in desk.shop.closed]
    assert ([(4, 6), (5, 3), (6, 1)], ()) == (days, desk.shop.closed_on)


def test_a_history_of_before_is_read() -> None:
    """A shop written when there were only weekly openings and single closed days, to the letter."""
    written = (
        b'{"name":"My shop","measures":"us","scale":{"name":"bench scale","step_g":1.0,'
        b'"capacity_g":5000.0,"shows":"g"},"jug_l":null,"tub_l":null,"water_celsius":15.0,'
        b'"hours":[{"weekday":0,"opens":"08:00:00","closes":"18:00:00"}],'
        b'"closed_on":["2026-03-09"],"zone":"","bell":true}'
    )
    shop = msgspec.json.decode(written, type=Shop)
    desk, _ = desk_of(shop)
    assert ("Mon 8-18", "9 Mar 2026") == tuple(
        desk.settings.texts()[field] for field in ("hours", "closed")
    )
    opens = desk.hides.hours().next_open(datetime(2026, 3, 3, tzinfo=UTC))
    assert datetime(2026, 3, 16, 8, tzinfo=UTC) == opens


def test_a_zone_typed_with_the_time_away_counts_for_it() -> None:
    """Clock times are those of the walls as they are named in the same form."""
    desk, _ = desk_of()
    desk.settings.set({"zone": "America/Chicago", "away": "5 Mar 14:00 - 6 Mar 9:00"})
    (span,) = desk.shop.away_times
    assert datetime(2026, 3, 5, 20, tzinfo=UTC) == span.start
    desk.settings.set({"zone": "Asia/Tokyo"})
    assert (span,) == desk.shop.away_times
    assert "6 Mar 2026 5:00 - 7 Mar 2026 0:00" == desk.settings.texts()["away"]


def test_another_zone_moves_the_walls_and_nothing_else() -> None:
    """Openings are at the same wall times elsewhere; what is stored about them stays."""
    desk, _ = desk_of(Shop(zone="Europe/Berlin"))
    before = desk.shop
    desk.settings.set({"zone": "America/Chicago"})
    assert msgspec.structs.replace(before, zone="America/Chicago") == desk.shop
    hours = desk.hides.hours()
    opens = hours.next_open(datetime(2026, 3, 5, 5, tzinfo=UTC))
    assert datetime(2026, 3, 5, 14, tzinfo=UTC) == opens


def test_hours_are_worked_out_once() -> None:
    """The bench asks for the hours all day long: they are the same object until they change."""
    desk, _ = desk_of()
    before = desk.hides.hours()
    desk.timers.set("tea", "10 min")
    assert before is desk.hides.hours()
    desk.settings.set({"closed": "9 Mar"})
    assert before is not desk.hides.hours()
    assert "closed 9 Mar" == desk.hides.hours().why_closed(datetime(2026, 3, 9, 9, tzinfo=UTC))


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
        ("hours", "RRULE:FREQ=SECONDLY 8-9"),
        ("closed", "every day"),
        ("closed", "30 Feb"),
        ("closed", "9 Mar, soon"),
        ("extra", "9 Mar"),
        ("away", "9 Mar 2026 - 8 Mar 2026"),
        ("away", "x" * 2001),
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
