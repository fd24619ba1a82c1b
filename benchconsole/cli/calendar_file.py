"""The command that writes the shop's coming acts to a calendar file."""

from __future__ import annotations

from datetime import datetime, time, timedelta
from typing import TYPE_CHECKING

from dateutil import tz

from benchconsole.cli.files import content_of, named_file, put_file
from benchconsole.cli.output import print_text, put_bytes, tell
from benchconsole.cli.planning import plan_for_calendar
from benchconsole.errors import BadInput, NotPossibleNow
from benchconsole.store.disk import shown

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from benchconsole.desk import Desk
    from benchconsole.exchange.calendar_events import CalendarEvent

STANDARD_OUTPUT = "-"
MOST_DAYS = 366


def read_days(text: str) -> int:
    """How many days ahead; ``BadInput`` for what is no number of days from 1 to 366."""
    from benchconsole.quantities import read_count

    return read_count(text, field="days", most=MOST_DAYS)


def out_file(text: str, store: Path, *, force: bool) -> Path | None:
    """The file to write, None for standard output; ``BadInput`` for what cannot be one."""
    if text == STANDARD_OUTPUT:
        if force:
            raise BadInput("force", "it only goes with a file", "calendar my-shop.ics --force")
        return None
    path = named_file(text, field="out", ending=".ics")
    if path == store.resolve():
        raise BadInput("out", "that is the store itself", "my-shop.ics")
    return path


def write_calendar(desk: Desk, path: Path | None, *, days: int, force: bool) -> None:
    """Write the calendar of ``days`` days, today included, to a file or to standard output.

    A file that is there must be an earlier export of this shop, unless with ``force``. Raises
    ``NotPossibleNow`` for a file that cannot be read or written, or is another; it is then left.
    """
    from benchconsole.exchange.calendar import calendar_events, calendar_file

    name, tag, now = desk.shop.name, desk.shop_tag, desk.now()
    earlier = () if path is None else _earlier(path, tag, force=force)
    until = _midnight_after(desk, days)
    plan = plan_for_calendar(desk, until)
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
    print_text(_told(events, path, days))


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


def _midnight_after(desk: Desk, days: int) -> datetime:
    day = desk.local(desk.now()).date() + timedelta(days=days)
    return tz.resolve_imaginary(datetime.combine(day, time(0), desk.zone))
