"""The plan of the shop as plain values and as plain text.

The JSON Schema stands in ``shared/schemas/plan-1.schema.json``. Times are RFC 3339 with the
shop's offset.
"""

from __future__ import annotations

from datetime import datetime, timedelta, tzinfo
from typing import Any

from msgspec.structs import replace

from benchconsole.exchange.instants import stamp
from benchconsole.exchange.plan_sheet import DAYS_IN_FULL, plan_sheet
from benchconsole.exchange.printed import WIDTH
from benchconsole.exchange.wrapping import wrapped
from benchconsole.schedule.planning.plans import HidePlan, Plan, Round, Visit

PLAN = "benchconsole.plan/1"


def plan_document(plan: Plan, now: datetime, zone: tzinfo) -> dict[str, Any]:
    """The plan as a document of its own."""
    return {"schema": PLAN, "now": stamp(now, zone), **plan_values(plan, zone)}


def plan_values(plan: Plan, zone: tzinfo) -> dict[str, Any]:
    """Visits and rounds in order of time, and what is known of every hide in work."""
    return {
        "made": stamp(plan.made_at, zone),
        "until": stamp(plan.until, zone),
        "hides": [_hide(hide, zone) for hide in plan.hides],
        "visits": [_visit(visit, zone) for visit in plan.visits],
        "rounds": [_round(walk, zone) for walk in plan.rounds],
    }


def cut_to(plan: Plan, until: datetime) -> Plan:
    """The plan without what begins at ``until`` (aware) or later."""
    return replace(
        plan,
        until=min(plan.until, until),
        hides=tuple(
            replace(hide, visits=tuple(v for v in hide.visits if v.starts < until))
            for hide in plan.hides
        ),
        rounds=tuple(walk for walk in plan.rounds if walk.at < until),
    )


def plan_text(
    plan: Plan, now: datetime, zone: tzinfo, *, title: str, in_full: int = DAYS_IN_FULL
) -> str:
    """The plan day by day to be printed, the first ``in_full`` days with every reason."""
    rows = [*wrapped(title, WIDTH), ""]
    if not plan.hides:
        rows.append("No hide is in work: there is nothing to plan.")
    for line in plan_sheet(plan, now, zone, in_full=in_full):
        if line.look == "head" and rows[-1]:
            rows.append("")
        hang = " " * line.hang
        rows += wrapped(line.text, WIDTH, rest=hang) or [""]
    return "\n".join(rows) + "\n"


def _hide(hide: HidePlan, zone: tzinfo) -> dict[str, Any]:
    return {
        "hide": hide.hide,
        "name": hide.hide_name,
        "lies_in": hide.lies_in,
        "since": None if hide.since is None else stamp(hide.since, zone),
        "in_store": hide.in_store,
        "unplanned": hide.unplanned,
    }


def _visit(visit: Visit, zone: tzinfo) -> dict[str, Any]:
    return {
        "hide": visit.hide,
        "name": visit.hide_name,
        "stage": visit.stage,
        "kind": visit.kind,
        "number": visit.number,
        "action": visit.action,
        "starts": stamp(visit.starts, zone),
        "ends": stamp(visit.ends, zone),
        "earliest": stamp(visit.earliest, zone),
        "due": stamp(visit.due, zone),
        "latest": None if visit.latest is None else stamp(visit.latest, zone),
        "past_latest_minutes": visit.past_latest // timedelta(minutes=1),
        "vessel": visit.vessel,
        "ready": list(visit.ready),
        "why": visit.why,
        "spoils": visit.spoils,
    }


def _round(walk: Round, zone: tzinfo) -> dict[str, Any]:
    return {
        "at": stamp(walk.at, zone),
        "latest": stamp(walk.latest, zone),
        "why": walk.why,
        "gives": [
            {
                "hide": given.hide,
                "name": given.hide_name,
                "stage": given.stage,
                "attention": given.attention,
                "do": given.do,
            }
            for given in walk.gives
        ],
    }
