"""Windows: the time a hide asks for, brought inside the hours the shop is open."""

from __future__ import annotations

from datetime import datetime, timedelta

from benchconsole.model.record import Record
from benchconsole.quantities import format_duration
from benchconsole.schedule.hours import Hours
from benchconsole.schedule.wording import local_day_name, wall_time

_NOTHING = timedelta(0)


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
    there: timedelta = timedelta(0),
    seen: datetime | None = None,
) -> Window:
    """The window with its due time in open hours where that can be.

    In this order: the due time itself if the shop is open; the next opening if it is not past
    ``latest``; the last open moment between ``earliest`` and the due time. Each must leave
    ``there``, the time somebody has to be there, before closing; where none does, they are
    tried without it and the window says how long somebody must stay. Where no open time fits
    at all the due time moves to an hour of the closed time that people keep, the day after if
    the hide was ``seen`` on that closed day. Days far from ``told_at`` (the ideal time, if not
    given) are named with their date.
    """
    asked = as_asked(earliest, due, latest)
    if not hours.ever_open:
        return _moved(asked, asked.ideal, "the shop has no open hours, so this time stands")
    near = told_at or asked.ideal
    placed = _in_open_time(asked, hours, near, there)
    if placed is not None:
        return placed
    placed = _in_open_time(asked, hours, near, _NOTHING) if there else None
    if placed is None:
        return _in_closed_time(asked, hours, near, seen)
    closes = hours.open_until(placed.due) or placed.due
    over = format_duration(placed.due + there - closes)
    stay = f"somebody must stay {over} after closing"
    return _moved(asked, placed.due, f"{placed.why}; {stay}" if placed.why else stay)


def _in_open_time(asked: Window, hours: Hours, near: datetime, there: timedelta) -> Window | None:
    if not there and hours.is_open(asked.ideal):
        return asked
    closes = hours.open_until(asked.ideal) if there else None
    if closes is not None and closes - asked.ideal >= there:
        return asked
    reason = _closed(asked.ideal, hours, near)
    if closes is not None:
        shut = wall_time(closes, hours.zone, near)
        reason = f"it takes {format_duration(there)} and closing is {shut}"
    # A due time already past its latest has no window left to keep to: the next opening it is.
    limit = asked.latest if asked.latest is not None and asked.latest >= asked.ideal else None
    opening = hours.first_with_room(asked.ideal, there, limit)
    if opening is not None:
        at = wall_time(opening, hours.zone, near)
        return _moved(asked, opening, f"{reason}; {at} is {_room(opening, limit)}")
    before = hours.last_with_room(asked.ideal, there, asked.earliest)
    if before is None:
        return None
    at = wall_time(before, hours.zone, near)
    last = "the last open moment before"
    if there:
        last = f"the last moment before that leaves {format_duration(there)}"
    return _moved(asked, before, f"{reason} and the next opening is too late; {at} is {last}")


def _in_closed_time(asked: Window, hours: Hours, near: datetime, seen: datetime | None) -> Window:
    """The due time at an hour that people keep, though the shop is shut, else where it was.

    Such hours are those of the next opening, on every day. A hide seen to on a closed day is
    left alone until the next day, even where it asks for more: coming in once is asked for.
    """
    closed = _closed(asked.ideal, hours, near)
    opening = hours.next_open(asked.ideal)
    kept = asked.ideal
    if opening is not None:
        decent = hours.every_day_like(opening)
        if seen is not None and _seen_in_the_same(seen, asked.ideal, hours):
            due = min(opening, _the_day_after(seen, asked.ideal, decent) or opening)
            return _moved(asked, due, _seen_words(asked, closed, seen, due, hours, near))
        kept = _kept_to(asked, decent)
    come_in = f"{closed} and no open time fits: somebody must come in"
    if kept == asked.ideal:
        return _moved(asked, kept, come_in)
    return _moved(asked, kept, f"{come_in}, best {wall_time(kept, hours.zone, near)}")


def _kept_to(asked: Window, decent: Hours) -> datetime:
    after, before = decent.next_open(asked.ideal), decent.last_open_before(asked.ideal)
    if after is not None and (asked.latest is None or after <= asked.latest):
        return after
    return before if before is not None and before >= asked.earliest else asked.ideal


def _seen_in_the_same(seen: datetime, instant: datetime, hours: Hours) -> bool:
    """Whether a hide was seen on a day without openings, in the closed time of an instant."""
    if hours.is_open(seen) or hours.openings_on(hours.local(seen).date()):
        return False
    shut = hours.last_open_before(instant)
    return shut is None or shut < seen


def _the_day_after(seen: datetime, ideal: datetime, decent: Hours) -> datetime | None:
    next_day = decent.openings_on(decent.local(seen).date() + timedelta(days=1))
    return decent.next_open(max(ideal, *(opens for opens, _ in next_day)))


def _seen_words(
    asked: Window, closed: str, seen: datetime, due: datetime, hours: Hours, near: datetime
) -> str:
    seen_at, at = (wall_time(instant, hours.zone, near) for instant in (seen, due))
    words = f"{closed} and seen to {seen_at}; {at} is soon enough"
    if asked.latest is None or due <= asked.latest:
        return words
    over = format_duration(due - asked.latest)
    return f"{closed} and seen to {seen_at}; {at} is {over} late: come in before if you can"


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
    if said := hours.away_words(instant, near) or hours.closed_words(instant, near):
        return said
    if hours.openings_on(hours.local(instant).date()):
        return f"closed {wall_time(instant, hours.zone, near)}"
    return f"closed {local_day_name(instant, hours.zone, near)}"


def _room(opening: datetime, limit: datetime | None) -> str:
    if limit is None:
        return "the next opening"
    if limit == opening:
        return "the very end of the window"
    return f"still {format_duration(limit - opening)} inside the window"
