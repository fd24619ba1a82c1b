"""The commands that print what is to do: today's list, and the plan of the whole shop."""

from __future__ import annotations

from datetime import datetime, time, timedelta
from typing import TYPE_CHECKING

from dateutil import tz

from benchconsole.cli.output import print_json, print_text

if TYPE_CHECKING:
    from benchconsole.desk import Desk

MOST_DAYS = 366
DAYS_OF_TODAY = 7
"""How far the list of today looks ahead: over the week's closed days."""


def read_days(text: str) -> int:
    """How many days ahead; ``BadInput`` for what is no number of days from 1 to 366."""
    from benchconsole.quantities import read_count

    return read_count(text, field="days", most=MOST_DAYS)


def midnight_after(desk: Desk, days: int) -> datetime:
    """The end of so many of the shop's days, today included."""
    day = desk.local(desk.now()).date() + timedelta(days=days)
    return tz.resolve_imaginary(datetime.combine(day, time(0), desk.zone))


def print_today(desk: Desk, *, as_json: bool) -> None:
    """Every hide's next action, and what the plan has for the coming days."""
    from benchconsole.exchange import day_sheet_document, day_sheet_text
    from benchconsole.exchange.plan_documents import cut_to, plan_text

    actions, now, zone = desk.hides.day_sheet(), desk.now(), desk.zone
    plan = cut_to(desk.planning.plan(), midnight_after(desk, DAYS_OF_TODAY))
    if as_json:
        print_json(day_sheet_document(actions, now, zone, plan))
        return
    text = day_sheet_text(actions, now, zone)
    if plan.hides:
        title = "The plan of the coming week (all of it, with every reason: benchconsole plan)"
        text += "\n" + plan_text(plan, now, zone, title=title, in_full=0)
    print_text(text)


def print_plan(desk: Desk, *, days: int, as_json: bool) -> None:
    """The plan of the whole shop for so many days, today included."""
    from benchconsole.exchange.plan_documents import cut_to, plan_document, plan_text

    now, zone = desk.now(), desk.zone
    plan = cut_to(desk.planning.plan(), midnight_after(desk, days))
    if as_json:
        print_json(plan_document(plan, now, zone))
        return
    local = desk.local(now)
    title = f"Plan of {desk.shop.name}, {local:%A} {local.day} {local:%B %Y, %H:%M}"
    print_text(plan_text(plan, now, zone, title=title))
