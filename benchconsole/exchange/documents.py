"""The JSON documents of the command line: plain values, each with its schema's name and version.

Their JSON Schemas stand in ``shared/schemas/``. Times are RFC 3339 with the shop's offset.
A later version of this program may add keys under the same schema; it takes none away.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta, tzinfo
from typing import Any

from benchconsole.exchange.instants import stamp
from benchconsole.exchange.plan_documents import plan_values
from benchconsole.mixing.coatings import CoatSheet
from benchconsole.mixing.degrees import BrineDegrees
from benchconsole.mixing.hazards import HazardNote
from benchconsole.mixing.working import Working
from benchconsole.mixing.worksheet import PartSheet, Worksheet
from benchconsole.schedule import Action, by_due
from benchconsole.schedule.planning.plans import Plan

DAY_SHEET = "benchconsole.daysheet/1"
WORKSHEET = "benchconsole.worksheet/1"


def day_sheet_document(
    actions: Sequence[Action], now: datetime, zone: tzinfo, plan: Plan | None = None
) -> dict[str, Any]:
    """The day sheet as plain values: the actions by due time, the finished hides' ids, the plan.

    ``plan`` is null where none was asked for.
    """
    ordered = by_due(actions)
    return {
        "schema": DAY_SHEET,
        "now": stamp(now, zone),
        "actions": [_action(action, zone) for action in ordered if action.state != "finished"],
        "finished": [action.hide for action in ordered if action.state == "finished"],
        "plan": None if plan is None else plan_values(plan, zone),
    }


def _action(action: Action, zone: tzinfo) -> dict[str, Any]:
    return {
        "hide": action.hide,
        "name": action.hide_name,
        "stage": action.stage,
        "kind": action.kind,
        "action": action.action,
        "earliest": stamp(action.earliest, zone),
        "due": stamp(action.due, zone),
        "latest": None if action.latest is None else stamp(action.latest, zone),
        "ideal": stamp(action.ideal, zone),
        "state": action.state,
        "why": action.why,
        "spoils": action.spoils,
        "inspect": action.inspect,
        "needs": list(action.needs),
        "mix": action.mix or None,
        "check": action.check or None,
        "work_minutes": _minutes(action.work),
    }


def worksheet_document(sheet: Worksheet) -> dict[str, Any]:
    """A worksheet as plain values: grams, millilitres, litres, kg/m3, grams per litre.

    ``liquor`` holds nulls for a dry mix, its ``degrees`` null for what is no brine; ``coats`` is
    null for what has none; ``reading_g`` is null for a jug-measured line.
    """
    liquor = sheet.liquor
    return {
        "schema": WORKSHEET,
        "formula": sheet.formula.id,
        "name": sheet.formula.name,
        "own": sheet.formula.own,
        "target": sheet.target_says,
        "factor": sheet.factor,
        "water_celsius": sheet.water_celsius,
        "parts": [_part(part) for part in sheet.parts],
        "liquor": {
            "volume_l": liquor.volume_l if liquor else None,
            "density_kg_m3": liquor.density_kg_m3 if liquor else None,
            "celsius": liquor.celsius if liquor else None,
            "how_sure": liquor.how_sure if liquor else None,
            "degrees": _degrees(liquor.degrees) if liquor else None,
            "strengths": [
                {"substance": strength.substance, "g_per_l": strength.g_per_l}
                for strength in (liquor.strengths if liquor else ())
            ],
        },
        "coats": _coats(sheet.coats),
        "checks": [
            {
                "code": check.code,
                "substance": check.substance or None,
                "part": check.part,
                "ok": check.ok,
                "value": check.value,
                "says": check.says,
                "working": _working(check.working),
            }
            for check in sheet.checks
        ],
        "hazards": [_hazard(note) for note in sheet.hazards],
        "gear": list(sheet.gear),
        "cautions": list(sheet.cautions),
        "sources": list(sheet.sources),
    }


def _degrees(degrees: BrineDegrees | None) -> dict[str, Any] | None:
    if degrees is None:
        return None
    return {
        "celsius": degrees.celsius,
        "specific_gravity": degrees.shows.specific_gravity,
        "salometer": degrees.shows.salometer,
        "baume": degrees.shows.baume,
        "twaddell": degrees.shows.twaddell,
        "barkometer": degrees.shows.barkometer,
        "higher_by": list(degrees.higher_by),
    }


def _hazard(note: HazardNote) -> dict[str, Any]:
    return {
        "substance": note.substance or None,
        "state": note.state,
        "share": note.share,
        "signal": note.signal,
        "statements": list(note.statements),
        "wear": list(note.wear),
        "says": note.says,
        "source": note.source,
    }


def _working(working: Working) -> dict[str, Any]:
    return {
        "inputs": [{"name": name, "amount": amount} for name, amount in working.inputs],
        "equation": working.equation,
        "result": working.result,
        "source": working.source,
        "sure": working.sure,
    }


def _coats(coats: CoatSheet | None) -> dict[str, Any] | None:
    if coats is None:
        return None
    return {
        "count": coats.count,
        "each_g": coats.each_g,
        "wait_minutes": {
            "min": _minutes(coats.wait_min),
            "target": _minutes(coats.wait_target),
            "max": _minutes(coats.wait_max),
        },
        "source": coats.source,
    }


def _minutes(span: timedelta) -> int:
    return round(span.total_seconds() / 60)


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
                "pack": line.pack,
                "by": line.by,
                "mass_g": line.mass_g,
                "volume_ml": line.volume_ml,
                "show": line.show,
                "also": line.also,
                "reading_g": line.reading_g,
                "reading": line.reading,
                "note": line.note,
            }
            for line in part.lines
        ],
    }
