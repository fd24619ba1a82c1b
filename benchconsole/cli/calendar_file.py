"""The command that writes the shop's coming acts to a calendar file."""

from __future__ import annotations

from typing import TYPE_CHECKING

from benchconsole.cli.files import content_of, put_file
from benchconsole.cli.output import print_text, put_bytes, tell
from benchconsole.cli.planning import midnight_after
from benchconsole.errors import NotPossibleNow
from benchconsole.store.disk import shown

if TYPE_CHECKING:
    from collections.abc import Sequence
    from datetime import datetime
    from pathlib import Path

    from benchconsole.desk import Desk
    from benchconsole.exchange.calendar_events import CalendarEvent
    from benchconsole.schedule.planning.plans import Plan


def write_calendar(desk: Desk, path: Path | None, *, days: int, force: bool) -> None:
    """Write the calendar of ``days`` days, today included, to a file or to standard output.

    A file that is there must be an earlier export of this shop, unless with ``force``. Raises
    ``NotPossibleNow`` for a file that cannot be read or written, or is another; it is then left.
    """
    from benchconsole.exchange.calendar import calendar_events, calendar_file

    name, tag, now = desk.shop.name, desk.shop_tag, desk.now()
    earlier = () if path is None else _earlier(path, tag, force=force)
    until = midnight_after(desk, days)
    plan = desk.planning.plan()
    events = calendar_events(
        plan,
        zone=desk.zone,
        shop_name=name,
        shop_tag=tag,
        now=now,
        until=until,
        earlier=earlier,
    )
    body = calendar_file(events, shop_name=name, shop_tag=tag, now=now)
    for hide in plan.hides:
        if hide.unplanned:
            tell(f"not in the calendar: {hide.hide_name}: {hide.unplanned}")
    if path is None:
        put_bytes(body)
        return
    put_file(path, body)
    print_text(_told(events, path, days) + _short_of(desk, plan, until))


def _earlier(path: Path, tag: str, *, force: bool) -> Sequence[CalendarEvent]:
    """What an earlier export to this file holds; nothing if there is none."""
    from benchconsole.exchange.calendar import read_export

    body = content_of(path)
    if not body:
        return ()
    try:
        return read_export(body, shop_tag=tag)
    except NotPossibleNow as fault:
        if force:
            return ()
        raise NotPossibleNow(
            f"{shown(path)} is left as it is, for {fault}: name another file, or replace this "
            "one with --force."
        ) from None


def _told(events: Sequence[CalendarEvent], path: Path, days: int) -> str:
    off = sum(event.cancelled for event in events)
    called_off = f"; {off} that are no longer planned are called off" if off else ""
    return f"{shown(path)} holds {len(events) - off} events up to {days} days ahead{called_off}."


def _short_of(desk: Desk, plan: Plan, until: datetime) -> str:
    """A plan ends somewhere; a calendar that was asked to reach further says where."""
    if plan.until >= until:
        return ""
    from benchconsole.schedule.wording import at_the_wall

    return f" The plan itself ends on {at_the_wall(plan.until, desk.now(), desk.zone)}."
