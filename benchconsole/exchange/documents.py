"""The JSON documents of the command line: plain values, each with its schema's name and version.

Their JSON Schemas stand in ``shared/schemas/``. Times are RFC 3339 with the shop's offset.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, tzinfo
from typing import Any

from benchconsole.mixing.worksheet import PartSheet, Worksheet
from benchconsole.schedule import Action

DAY_SHEET = "benchconsole.daysheet/1"
WORKSHEET = "benchconsole.worksheet/1"


def day_sheet_document(actions: Sequence[Action], now: datetime, zone: tzinfo) -> dict[str, Any]:
    """The day sheet as plain values, actions in the order given."""

    def stamp(instant: datetime | None) -> str | None:
        return None if instant is None else instant.astimezone(zone).isoformat(timespec="seconds")

    return {
        "schema": DAY_SHEET,
        "now": stamp(now),
        "actions": [
            {
                "hide": action.hide,
                "name": action.hide_name,
                "stage": action.stage,
                "kind": action.kind,
                "action": action.action,
                "earliest": stamp(action.earliest),
                "due": stamp(action.due),
                "latest": stamp(action.latest),
                "ideal": stamp(action.ideal),
                "state": action.state,
                "why": action.why,
                "spoils": action.spoils,
                "needs": list(action.needs),
                "mix": action.mix or None,
                "check": action.check or None,
                "work_minutes": round(action.work.total_seconds() / 60),
            }
            for action in actions
        ],
    }


def worksheet_document(sheet: Worksheet) -> dict[str, Any]:
    """A worksheet as plain values: grams, millilitres, litres, kg/m3, grams per litre.

    ``liquor`` holds nulls for a dry mix; ``reading_g`` is null for a jug-measured line.
    """
    liquor = sheet.liquor
    return {
        "schema": WORKSHEET,
        "formula": sheet.formula.id,
        "name": sheet.formula.name,
        "target": sheet.target_says,
        "factor": sheet.factor,
        "water_celsius": sheet.water_celsius,
        "parts": [_part(part) for part in sheet.parts],
        "liquor": {
            "volume_l": liquor.volume_l if liquor else None,
            "density_kg_m3": liquor.density_kg_m3 if liquor else None,
            "celsius": liquor.celsius if liquor else None,
            "how_sure": liquor.how_sure if liquor else None,
            "strengths": [
                {"substance": strength.substance, "g_per_l": strength.g_per_l}
                for strength in (liquor.strengths if liquor else ())
            ],
        },
        "checks": [
            {
                "code": check.code,
                "substance": check.substance or None,
                "part": check.part,
                "ok": check.ok,
                "value": check.value,
                "says": check.says,
            }
            for check in sheet.checks
        ],
        "cautions": list(sheet.cautions),
        "sources": list(sheet.sources),
    }


def _part(part: PartSheet) -> dict[str, Any]:
    return {
        "part": part.part,
        "name": part.name,
        "container": part.container,
        "do": part.do,
        "then": part.then,
        "lines": [
            {
                "substance": line.substance,
                "name": line.name,
                "by": line.by,
                "mass_g": line.mass_g,
                "volume_ml": line.volume_ml,
                "show": line.show,
                "also": line.also,
                "reading_g": line.reading_g,
                "reading": line.reading,
            }
            for line in part.lines
        ],
    }
