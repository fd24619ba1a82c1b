"""Windows: the time a hide asks for, brought inside the hours the shop is open."""

from __future__ import annotations

from datetime import datetime

from benchconsole.model.record import Record
from benchconsole.quantities import format_duration
from benchconsole.schedule.hours import Hours
from benchconsole.schedule.wording import local_day_name, wall_time


class Window(Record, frozen=True, kw_only=True):
    """When something may, should and must happen; all instants aware, UTC.

    ``earliest <= due``, and ``latest`` is None or not before ``earliest``. ``ideal`` is the
    due time before the shop's hours moved it, and ``why`` says in words what moved it, or that
    it stands in closed time; empty when nothing needed saying.
    """

    earliest: datetime
    due: datetime
    latest: datetime | None
    ideal: datetime
    why: str = ""


def as_asked(earliest: datetime, due: datetime, latest: datetime | None, why: str = "") -> Window:
    """A window in good order: ``due`` and ``latest`` never before ``earliest``, hours ignored."""
    due = max(due, earliest)
    latest = None if latest is None else max(latest, earliest)
    return Window(earliest=earliest, due=due, latest=latest, ideal=due, why=why)


def inside_hours(
    earliest: datetime,
    due: datetime,
    latest: datetime | None,
    hours: Hours,
    *,
    told_at: datetime | None = None,
) -> Window:
    """The window with its due time in open hours where that can be.

    In this order: the due time itself if the shop is open; the next opening if it is not past
    ``latest``; the last open moment between ``earliest`` and the due time; else the due time
    stays in closed time and the window says so. Days far from ``told_at`` (the ideal time, if
    not given) are named with their date.
    """
    asked = as_asked(earliest, due, latest)
    if hours.is_open(asked.ideal):
        return asked
    if not hours.ever_open:
        return _moved(asked, asked.ideal, "the shop has no open hours, so this time stands")
    near = told_at or asked.ideal
    closed = _closed(asked.ideal, hours, near)
    opening = hours.next_open(asked.ideal)
    # A due time already past its latest has no window left to keep to: the next opening it is.
    limit = asked.latest if asked.latest is not None and asked.latest >= asked.ideal else None
    if opening is not None and (limit is None or opening <= limit):
        at = wall_time(opening, hours.zone, near)
        return _moved(asked, opening, f"{closed}; {at} is {_room(opening, limit)}")
    before = hours.last_open_before(asked.ideal)
    if before is not None and before >= asked.earliest:
        at = wall_time(before, hours.zone, near)
        why = f"{closed} and the next opening is too late; {at} is the last open moment before"
        return _moved(asked, before, why)
    return _moved(asked, asked.ideal, f"{closed} and no open time fits: somebody must come in")


def said_if_closed(window: Window, hours: Hours) -> Window:
    """The same window, saying so if its due time falls in closed time.

    For waits too short to be moved to another day.
    """
    if hours.is_open(window.due):
        return window
    at = wall_time(window.due, hours.zone, window.due)
    return _moved(window, window.due, f"the shop is closed then ({at}): somebody must stay")


def _moved(asked: Window, due: datetime, why: str) -> Window:
    return Window(earliest=asked.earliest, due=due, latest=asked.latest, ideal=asked.ideal, why=why)


def _closed(instant: datetime, hours: Hours, near: datetime) -> str:
    if hours.openings_on(hours.local(instant).date()):
        return f"closed {wall_time(instant, hours.zone, near)}"
    return f"closed {local_day_name(instant, hours.zone, near)}"


def _room(opening: datetime, limit: datetime | None) -> str:
    if limit is None:
        return "the next opening"
    if limit == opening:
        return "the very end of the window"
    return f"still {format_duration(limit - opening)} inside the window"
