"""The JSON of the command line against its published schemas, for every formula and target."""

from __future__ import annotations

import copy
import json
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from dateutil import tz
from jsonschema import Draft202012Validator, FormatChecker

from benchconsole.bootstrap import demo_text
from benchconsole.clock import ManualClock
from benchconsole.desk import Desk
from benchconsole.errors import BadInput
from benchconsole.exchange import day_sheet_document, worksheet_document
from benchconsole.exchange.instants import read_instant, stamp
from benchconsole.exchange.rehearsal import rehearsal_taps
from benchconsole.library import shipped_library
from benchconsole.mixing.targets import read_target
from benchconsole.store import MemoryRepository

SCHEMAS = Path(__file__).parents[2] / "shared" / "schemas"
NOW = datetime(2026, 6, 1, 12, tzinfo=UTC)
FORMULAS = sorted(shipped_library().formulas)
TARGETS = (
    ("as-written", ""),
    ("make", "6 US gal"),
    ("times", "1/3"),
    ("hide-mass", "3.2 kg"),
    ("hides", "3"),
    ("limit", "salt=400 g"),
)

FORMATS = FormatChecker(formats=())


@FORMATS.checks("date-time", raises=ValueError)
def is_date_time(value: object) -> bool:
    """Whether a text is an instant of RFC 3339: a real date, a time and an offset."""
    return not isinstance(value, str) or datetime.fromisoformat(value).tzinfo is not None


def validator(name: str) -> Draft202012Validator:
    """The schema of that name, itself checked, with its formats."""
    schema = json.loads((SCHEMAS / f"{name}.schema.json").read_text("utf-8"))
    Draft202012Validator.check_schema(schema)
    return Draft202012Validator(schema, format_checker=FORMATS)


@pytest.fixture(scope="module")
def desk() -> Desk:
    """The desk of the demo shop in a zone with daylight saving."""
    zone = tz.gettz("Europe/Berlin")
    assert zone is not None
    repository = MemoryRepository()
    for at, events in rehearsal_taps(demo_text(), NOW, zone):
        repository.append(events, at=at, recorded=at)
    return Desk(repository, ManualClock(NOW, zone), shipped_library())


@pytest.fixture
def day_sheet(desk: Desk) -> dict[str, Any]:
    """The demo's day sheet as it would be read back from a file."""
    document = day_sheet_document(desk.hides.day_sheet(), NOW, desk.zone)
    return read_back(document)


@pytest.fixture
def worksheet(desk: Desk) -> dict[str, Any]:
    """One worksheet as it would be read back from a file."""
    return read_back(worksheet_document(desk.worksheet("alum-salt-bath")))


def read_back(document: dict[str, Any]) -> dict[str, Any]:
    """The document through JSON and back; an infinite number would not come through."""
    read: dict[str, Any] = json.loads(json.dumps(document, allow_nan=False))
    return read


@pytest.mark.parametrize("formula", FORMULAS)
@pytest.mark.parametrize("measures", ["us", "imperial", "metric"])
def test_every_worksheet_fits_its_schema(desk: Desk, formula: str, measures: Any) -> None:
    """Every formula at every target it takes, in three systems of measure; others are refused."""
    fits = validator("worksheet-1")
    shop = desk.shop_in(measures)
    made = []
    for kind, text in TARGETS:
        try:
            sheet = desk.worksheet(formula, read_target(kind, text, measures=measures), shop=shop)
        except BadInput:
            continue
        document = read_back(worksheet_document(sheet))
        fits.validate(document)
        assert formula == document["formula"]
        made.append(kind)
    assert {"as-written", "times"} <= set(made)
    assert {"make", "hide-mass", "hides"} & set(made)


def test_the_day_sheet_of_the_demo_fits_its_schema(day_sheet: dict[str, Any]) -> None:
    """Every state and kind of action of the demo shop is in the published form."""
    validator("daysheet-1").validate(day_sheet)
    assert {"overdue", "due", "ready", "waiting", "stored"} == {
        action["state"] for action in day_sheet["actions"]
    }


def test_an_empty_shop_fits_the_schema() -> None:
    """A shop without hides gives an empty list, not nothing."""
    document = day_sheet_document((), NOW, UTC)
    validator("daysheet-1").validate(document)
    assert [] == document["actions"]


def test_actions_come_in_due_order_without_finished_hides(day_sheet: dict[str, Any]) -> None:
    """A finished hide has no next action: it is named beside the actions."""
    due = [datetime.fromisoformat(action["due"]) for action in day_sheet["actions"]]
    assert sorted(due) == due
    assert 7 == len(due)
    assert ["spotted-goat"] == day_sheet["finished"]


def test_times_are_on_the_shops_wall(day_sheet: dict[str, Any]) -> None:
    """Instants carry the shop's offset and are the same instants."""
    assert "2026-06-01T14:00:00+02:00" == day_sheet["now"]


def test_a_line_adds_up(worksheet: dict[str, Any]) -> None:
    """Grams, the scale's reading and the liquor's strength tell the same story."""
    brine, jug = worksheet["parts"]
    salt = brine["lines"][1]
    assert ("salt", "2 lb 8 oz", 1134.0) == (salt["substance"], salt["show"], salt["reading_g"])
    assert brine["lines"][0]["reading_g"] is None
    strengths = {each["substance"]: each["g_per_l"] for each in worksheet["liquor"]["strengths"]}
    assert salt["mass_g"] == pytest.approx(strengths["salt"] * worksheet["liquor"]["volume_l"])
    assert "ammonium-alum" == jug["lines"][1]["substance"]


def test_a_dressing_tells_its_coats(desk: Desk) -> None:
    """8 oz = 226.8 g in two coats of 113.4 g, 30 to 60 minutes apart; a bath has none."""
    document = worksheet_document(desk.worksheet("oil-ammonia-dressing"))
    coats = document["coats"]
    assert (2, {"min": 30, "target": 45, "max": 60}) == (coats["count"], coats["wait_minutes"])
    assert 113.398 == pytest.approx(coats["each_g"], abs=0.001)
    assert None is worksheet_document(desk.worksheet("alum-salt-bath"))["coats"]


def test_a_line_tells_what_the_pack_says(worksheet: dict[str, Any]) -> None:
    """The right one of two salts of one name is taken from the shelf; water has no pack."""
    water, salt = worksheet["parts"][0]["lines"]
    assert ("", True) == (water["pack"], "sodium chloride" in salt["pack"])
    assert not worksheet["own"]


def test_a_dry_mix_has_an_empty_liquor(desk: Desk) -> None:
    """A salt cure makes no liquor: the keys are there and hold nothing."""
    liquor = worksheet_document(desk.worksheet("salt-cure"))["liquor"]
    assert (None, None, []) == (liquor["volume_l"], liquor["density_kg_m3"], liquor["strengths"])


def test_a_pickle_tells_its_chemistry(desk: Desk) -> None:
    """Degrees of its brine, its pH with a working, and what to wear, each under its own key."""
    document = worksheet_document(desk.worksheet("salt-citric-pickle"))
    degrees = document["liquor"]["degrees"]
    assert ["citric acid"] == degrees["higher_by"]
    assert 1000.0 * (degrees["specific_gravity"] - 1.0) == pytest.approx(degrees["barkometer"])
    (ph,) = [check for check in document["checks"] if check["code"] == "ph"]
    assert "pH" in ph["working"]["equation"]
    assert "salt" in [each["name"] for each in ph["working"]["inputs"]]
    assert {"goggles", "acid gloves"} <= set(document["gear"])
    assert ["handled", "liquor"] == [note["state"] for note in document["hazards"]]
    assert document["hazards"][-1]["substance"] is None


def test_what_is_no_brine_has_no_degrees(desk: Desk) -> None:
    """Neither a dry cure nor an oil: null, and no hazard where no label tells of one."""
    for formula in ("salt-cure", "oil-warm"):
        document = worksheet_document(desk.worksheet(formula))
        assert None is document["liquor"]["degrees"]
        assert [] == document["hazards"] == document["gear"]


Spoil = Callable[[dict[str, Any]], object]

DAY_SHEET_FAULTS: dict[str, Spoil] = {
    "another schema": lambda sheet: sheet.update(schema="benchconsole.daysheet/2"),
    "no now": lambda sheet: sheet.pop("now"),
    "now without zone": lambda sheet: sheet.update(now="2026-06-01T12:00:00"),
    "now is a number": lambda sheet: sheet.update(now=1780315200),
    "actions by name": lambda sheet: sheet.update(actions={}),
    "no such day": lambda sheet: sheet["actions"][0].update(due="2026-02-30T12:00:00+01:00"),
    "no such hour": lambda sheet: sheet["actions"][0].update(due="2026-02-20T25:00:00+01:00"),
    "due is nothing": lambda sheet: sheet["actions"][0].update(due=None),
    "latest is a word": lambda sheet: sheet["actions"][0].update(latest="soon"),
    "unknown state": lambda sheet: sheet["actions"][0].update(state="late"),
    "unknown kind": lambda sheet: sheet["actions"][0].update(kind="rest"),
    "needs as text": lambda sheet: sheet["actions"][0].update(needs="gloves"),
    "a hide without name": lambda sheet: sheet["actions"][0].update(hide=""),
    "work below nothing": lambda sheet: sheet["actions"][0].update(work_minutes=-1),
    "finished twice": lambda sheet: sheet.update(finished=["a", "a"]),
    **{
        f"no {key}": lambda sheet, key=key: sheet["actions"][0].pop(key)
        for key in (
            "hide",
            "stage",
            "action",
            "earliest",
            "due",
            "latest",
            "state",
            "why",
            "spoils",
            "needs",
        )
    },
}

WORKSHEET_FAULTS: dict[str, Spoil] = {
    "another schema": lambda sheet: sheet.update(schema="benchconsole.daysheet/1"),
    "factor of nothing": lambda sheet: sheet.update(factor=0),
    "factor as text": lambda sheet: sheet.update(factor="1"),
    "no parts": lambda sheet: sheet.update(parts=[]),
    "an empty part": lambda sheet: sheet["parts"][0].update(lines=[]),
    "less than nothing": lambda sheet: sheet["parts"][0]["lines"][0].update(mass_g=-1.0),
    "mass as text": lambda sheet: sheet["parts"][0]["lines"][0].update(mass_g="1 kg"),
    "reading as text": lambda sheet: sheet["parts"][0]["lines"][1].update(reading_g="1134 g"),
    "by the handful": lambda sheet: sheet["parts"][0]["lines"][0].update(by="hand"),
    "liquor is nothing": lambda sheet: sheet.update(liquor=None),
    "ok as text": lambda sheet: sheet["checks"][0].update(ok="yes"),
    "no cautions": lambda sheet: sheet.update(cautions=[]),
    "own as text": lambda sheet: sheet.update(own="yes"),
    "no coat": lambda sheet: sheet.update(coats={"count": 0, "each_g": 1.0, "wait_minutes": {}}),
    "pack is nothing": lambda sheet: sheet["parts"][0]["lines"][0].update(pack=None),
    "boiling": lambda sheet: sheet.update(water_celsius=101),
    **{
        f"no {key}": lambda sheet, key=key: sheet.pop(key)
        for key in ("formula", "target", "factor", "parts", "liquor", "checks", "cautions")
    },
    **{
        f"line without {key}": lambda sheet, key=key: sheet["parts"][0]["lines"][0].pop(key)
        for key in ("substance", "mass_g", "volume_ml", "show", "reading_g")
    },
    **{
        f"check without {key}": lambda sheet, key=key: sheet["checks"][0].pop(key)
        for key in ("code", "substance", "part", "ok", "value", "says")
    },
    **{
        f"liquor without {key}": lambda sheet, key=key: sheet["liquor"].pop(key)
        for key in ("volume_l", "density_kg_m3", "strengths")
    },
}


@pytest.mark.parametrize("fault", DAY_SHEET_FAULTS)
def test_the_day_sheet_schema_refuses(day_sheet: dict[str, Any], fault: str) -> None:
    """A day sheet with one thing wrong in it is no day sheet."""
    wrong = copy.deepcopy(day_sheet)
    DAY_SHEET_FAULTS[fault](wrong)
    assert not validator("daysheet-1").is_valid(wrong)


@pytest.mark.parametrize("fault", WORKSHEET_FAULTS)
def test_the_worksheet_schema_refuses(worksheet: dict[str, Any], fault: str) -> None:
    """A worksheet with one thing wrong in it is no worksheet."""
    wrong = copy.deepcopy(worksheet)
    WORKSHEET_FAULTS[fault](wrong)
    assert not validator("worksheet-1").is_valid(wrong)


def test_a_later_key_is_no_fault(day_sheet: dict[str, Any], worksheet: dict[str, Any]) -> None:
    """A newer console may say more under the same version; an older reader must bear it."""
    day_sheet["weather"] = "dry"
    day_sheet["actions"][0]["colour"] = "brown"
    worksheet["cost"] = 3.0
    validator("daysheet-1").validate(day_sheet)
    validator("worksheet-1").validate(worksheet)


# --- instants -------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("2026-03-01T08:00", "2026-03-01T07:00:00+00:00"),
        ("2026-03-01 08:00", "2026-03-01T07:00:00+00:00"),
        ("2026-07-01", "2026-06-30T22:00:00+00:00"),
        ("2026-03-01T08:00Z", "2026-03-01T08:00:00+00:00"),
        ("2026-03-01T08:00-06:00", "2026-03-01T14:00:00+00:00"),
        (" 14:30 ", "2026-06-01T12:30:00+00:00"),
        ("8:05", "2026-06-01T06:05:00+00:00"),
        ("2026-03-01T08:00:30+0100", "2026-03-01T07:00:30+00:00"),
        ("2026-03-29T02:30", "2026-03-29T01:30:00+00:00"),
        ("2026-10-25T02:30", "2026-10-25T00:30:00+00:00"),
        ("2026-10-25T02:30+01:00", "2026-10-25T01:30:00+00:00"),
    ],
)
def test_an_instant_is_read_on_the_shops_wall(text: str, expected: str) -> None:
    """A date with a time, a date, or a time of today.

    The hour that spring skips counts on from the change; of the one that autumn repeats the
    first is taken, and an offset asks for the other.
    """
    zone = tz.gettz("Europe/Berlin")
    assert zone is not None
    assert expected == read_instant(text, NOW, zone).isoformat()


@pytest.mark.parametrize(
    "text",
    (
        *("", "noon", "25:00", "8:5:", "2026-13-01", "0001-01-01", "9999-12-31T23:59", "1e5"),
        *("\udcff", "2026", "2026-03", "20260301", "2026-W10", "2026-060", "2026-03-01T08", "08"),
        *("2026-03-01T24:01", "2026-03-01T", "2026-03-01+01:00", "٨:٠٥"),
    ),
)
def test_no_instant_is_refused_with_an_example(text: str) -> None:
    """What is no time, or is out of reach, is told with one that works."""
    with pytest.raises(BadInput, match=r"^at: .*; for example 2026-03-01T08:00\.$"):
        read_instant(text, NOW, UTC)


def test_an_offset_with_seconds_is_written_in_utc() -> None:
    """RFC 3339 knows no seconds in an offset, which old local times had."""
    zone = tz.tzoffset(None, timedelta(hours=1, minutes=22, seconds=8))
    assert "2026-06-01T12:00:00+00:00" == stamp(NOW, zone)
