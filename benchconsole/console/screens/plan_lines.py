"""The plan written out by days, as paragraphs for a sheet."""

from __future__ import annotations

from datetime import datetime, tzinfo

from benchconsole.console.widgets.paper import Written
from benchconsole.exchange.plan_sheet import DAYS_IN_FULL, plan_sheet
from benchconsole.schedule.planning.plans import Plan


def plan_lines(
    plan: Plan, now: datetime, zone: tzinfo, *, in_full: int = DAYS_IN_FULL
) -> list[Written]:
    """The lines of the whole plan, as ``plan_sheet`` words them."""
    lines = plan_sheet(plan, now, zone, in_full=in_full)
    return [Written(line.text, line.look, line.hang) for line in lines]
