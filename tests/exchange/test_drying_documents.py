"""The drying forecast as text and as JSON, against its published schema."""

from __future__ import annotations

import json
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from dateutil import tz
from jsonschema import Draft202012Validator

from benchconsole.exchange.drying import drying_document, drying_text
from benchconsole.library import shipped_library
from benchconsole.library.drying_files import drying_figures
from benchconsole.model.drying import Climate, Weighed
from benchconsole.model.hides import HideState
from benchconsole.schedule.drying import DryingForecast, Look, forecast_for

NOW = datetime(2026, 3, 4, 15, 0, tzinfo=UTC)
ROUTE = shipped_library().routes["hair-on-alum-pelt"]
SCHEMA = Path(__file__).parents[2] / "shared" / "schemas" / "drying-1.schema.json"
ZONE = tz.gettz("Europe/Berlin")
ROOM = Climate(celsius=18.0, humidity_pct=58.0, air="moving")
GARAGE = Climate(celsius=5.0, humidity_pct=97.0)
LOOKS = (Look(at=NOW, why="it should be so by now"),)


def made(climate: Climate | None, grams: tuple[float, ...]) -> DryingForecast:
    """The forecast of a deer stretched six hours ago and weighed every two hours."""
    begun = NOW - timedelta(hours=6)
    hide = HideState(
        id="doe",
        name="doe",
        species="deer",
        route=ROUTE.id,
        came="salted",
        count=1,
        mass_g=None,
        stage="stretch",
        arrived_at=begun,
        begun_at=begun,
        coats_at=(begun,),
        weighed=tuple(
            Weighed(at=begun + timedelta(hours=2 * n), stage="stretch", mass_g=mass)
            for n, mass in enumerate(grams)
        ),
    )
    found = forecast_for(
        hide,
        ROUTE,
        species=shipped_library().species["deer"],
        climate=climate,
        scale_step_g=1.0,
        figures=drying_figures(),
        now=NOW,
    )
    assert found is not None
    return found


CASES = {
    "figures alone": made(ROOM, ()),
    "weighings": made(ROOM, (2900.0, 2600.0, 2370.0)),
    "no air": made(None, (2900.0,)),
    "heavier": made(ROOM, (2900.0, 3200.0)),
    "never": made(GARAGE, ()),
}


@pytest.mark.parametrize("case", CASES)
def test_the_document_fits_its_schema(case: str) -> None:
    """Known or not, every forecast is a document of the published kind."""
    schema = json.loads(SCHEMA.read_text("utf-8"))
    Draft202012Validator.check_schema(schema)
    assert ZONE is not None
    document = drying_document("doe", "stretch", CASES[case], LOOKS, ZONE)
    Draft202012Validator(schema).validate(json.loads(json.dumps(document, allow_nan=False)))
    assert document["now"].endswith("+01:00")
    assert bool(document["unknown"]) == (case in ("no air", "heavier"))


def test_the_document_tells_what_the_words_tell() -> None:
    """The window's middle in both, to the ten minutes that words are good for."""
    document = drying_document("doe", "stretch", CASES["weighings"], (), UTC)
    opens = datetime.fromisoformat(document["windows"][0]["opens"]["mid"])
    rounded = opens + timedelta(minutes=5)
    text = drying_text("doe", CASES["weighings"], (), UTC)
    assert f"{rounded:%H:%M}"[:-1] in text.split("(")[0]


@pytest.mark.parametrize("case", CASES)
def test_the_text_keeps_to_the_width(case: str) -> None:
    """No line longer than 78, the unknown told as such, the looks and weighings in lists."""
    text = drying_text("doe", CASES[case], LOOKS, UTC)
    assert all(len(line) <= 78 for line in text.splitlines())
    assert ("Not known." in text) == (case in ("no air", "heavier"))
    assert "15:00             it should be so by now" in text
    assert ("Weighings that count:" in text) == bool(CASES[case].weighings)
