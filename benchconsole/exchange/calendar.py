"""The plan as an iCalendar file (RFC 5545) that a calendar can be brought up to date with.

No METHOD: with ``PUBLISH`` every event would need an ORGANIZER (RFC 5546 section 3.2.1), and
calendars would treat the shop's work as somebody's meetings. Without one the file is a picture of
a calendar, which programs import or subscribe to (RFC 5545 section 3.7.2).

**Updates.** A program that meets a known UID takes the version with the greater SEQUENCE, of
equal ones the later DTSTAMP (RFC 5546 section 2.1.5). SEQUENCE must grow when a time changes.
It is counted in seconds since 2020 at the moment of the export: that grows without any memory
of earlier exports, between two computers of one shop too, and fits RFC 5545's 32 bits to 2088.
Where the earlier export is at hand it is also greater than what stands there, should the
computer's clock have been set back.

**What is no longer planned.** Leaving an event out takes it out of no calendar. What was
exported and is planned no more is known from the earlier export alone, so that is read before it
is written over: what still lay ahead is called off (``STATUS:CANCELLED``), what had already
begun stays as it was (it was done, or was planned anew under another name), and both fall silent,
for their last call would ring though nothing is left to do. They are carried along for a
while, since not every export is imported. Without an earlier export nothing is called off:
a cancelled event that was never there would only be noise in a calendar.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta, tzinfo
from functools import cache
from typing import TYPE_CHECKING, Any
from uuid import UUID

import msgspec

from benchconsole.errors import NotPossibleNow
from benchconsole.exchange.calendar_events import (
    DESCRIPTION_LONGEST,
    CalendarEvent,
    Ring,
    events_of,
    harmless,
    in_utc,
    name_of,
    one_line,
)
from benchconsole.schedule.planning.plans import Plan

if TYPE_CHECKING:
    from icalendar import Alarm, Component, Event, vText

PRODUCT = "-//Bench Console//Calendar of the shop//EN"
CARRIED = timedelta(days=14)
"""How long after its end an event that is no longer planned stays in the file; our own choice."""
CALLED_OFF = "No longer planned: "

_SHOP = "X-BENCHCONSOLE-SHOP"
_COUNTED_FROM = datetime(2020, 1, 1, tzinfo=UTC)
_GREATEST = 2**31 - 1
_NONSENSE = (ValueError, LookupError, TypeError, AttributeError, AssertionError, OverflowError)
"""What the library raises for a file that is none, or for a property that is none."""


def calendar_events(
    plan: Plan,
    *,
    zone: tzinfo,
    shop_name: str,
    shop_tag: str,
    now: datetime,
    until: datetime | None = None,
    earlier: Sequence[CalendarEvent] = (),
) -> tuple[CalendarEvent, ...]:
    """The visits and rounds that begin before ``until``, and what is not planned any more.

    What an earlier file told and has moved beyond ``until`` since is in it too: left out, it would
    stay where it was in the calendar that took that file in.

    ``zone`` is that of the shop's wall clock, for the words. ``shop_tag`` tells this shop from
    every other, whatever it is called. ``earlier`` is what :func:`read_export` found in the
    file that this one takes the place of. ``now``, ``until`` aware.
    """
    events = events_of(plan, zone=zone, shop_name=shop_name, shop_tag=shop_tag, now=now)
    before = {event.uid: event.sequence for event in earlier}
    shown = [
        event for event in events if until is None or event.starts < until or event.uid in before
    ]
    planned = {event.uid for event in events}
    left = [
        _put_away(event, now)
        for event in earlier
        # Beyond the plan nothing is known, and what is long over stays as the calendar has it.
        if event.uid not in planned and event.starts <= plan.until and event.ends + CARRIED > now
    ]
    return tuple(_numbered(event, before, now) for event in (*shown, *left))


def _put_away(event: CalendarEvent, now: datetime) -> CalendarEvent:
    """An event that is no longer planned: called off if it still lay ahead.

    It was read without its alarms, so it is silent.
    """
    if event.cancelled or event.starts <= now:
        return event
    summary = one_line(f"{CALLED_OFF}{event.summary}")
    return msgspec.structs.replace(event, cancelled=True, summary=summary)


def _numbered(event: CalendarEvent, before: dict[str, int], now: datetime) -> CalendarEvent:
    seconds = int((now - _COUNTED_FROM).total_seconds())
    number = max(seconds, before.get(event.uid, -1) + 1, 0)
    return msgspec.structs.replace(event, sequence=min(number, _GREATEST))


# --- writing --------------------------------------------------------------------------


def calendar_file(
    events: Sequence[CalendarEvent], *, shop_name: str, shop_tag: str, now: datetime
) -> bytes:
    """The events as a file, CRLF and UTF-8; never raises for a text, however odd.

    Its times are UTC, which needs no table of zones and is never doubtful.
    """
    from icalendar import Calendar

    whole = Calendar()
    title = one_line(shop_name) or "Bench Console"
    _put(whole, "PRODID", PRODUCT)
    _put(whole, "VERSION", "2.0")
    _put(whole, _SHOP, name_of("shop", shop_tag))
    # Programs of before RFC 7986 read the second name.
    _put(whole, "NAME", title)
    _put(whole, "X-WR-CALNAME", title)
    for event in events:
        whole.add_component(_event(event, now))
    return bytes(whole.to_ical())


def _event(event: CalendarEvent, now: datetime) -> Event:
    from icalendar import Event

    made = Event()
    _put(made, "UID", event.uid)
    made.add("DTSTAMP", in_utc(now))
    made.add("LAST-MODIFIED", in_utc(now))
    made.add("SEQUENCE", event.sequence)
    made.add("DTSTART", in_utc(event.starts))
    made.add("DTEND", in_utc(event.ends))
    _put(made, "SUMMARY", event.summary)
    _put(made, "DESCRIPTION", event.description)
    _put(made, "STATUS", "CANCELLED" if event.cancelled else "CONFIRMED")
    for ring in event.rings:
        made.add_component(_alarm(ring))
    return made


def _alarm(ring: Ring) -> Alarm:
    from icalendar import Alarm

    made = Alarm()
    _put(made, "ACTION", "DISPLAY")
    _put(made, "DESCRIPTION", ring.says)
    if ring.at is None:
        made.add("TRIGGER", -ring.before)
    else:
        # Without its type an instant would be taken for a span (RFC 5545 section 3.8.6.3).
        made.add("TRIGGER", in_utc(ring.at), parameters={"VALUE": "DATE-TIME"})
    return made


def _put(to: Component, name: str, text: str) -> None:
    r"""Add a text as RFC 5545 section 3.3.11 writes it.

    The library takes a backslash before an N, as in ``D:\North``, for a line end of its own.
    """
    to.add(name, _text_type()(text))


@cache
def _text_type() -> type[vText]:
    from icalendar import vText

    class Text(vText):
        def to_ical(self) -> bytes:
            escaped = str(self).replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,")
            return escaped.replace("\n", "\\n").encode()

    return Text


# --- reading what was written ---------------------------------------------------------


def read_export(body: bytes, *, shop_tag: str) -> tuple[CalendarEvent, ...]:
    """The events of an earlier export of this shop, without their alarms.

    Raises ``NotPossibleNow`` saying what the file is instead; events in it that make no sense
    are passed over.
    """
    from icalendar import Calendar

    try:
        whole = Calendar.from_ical(body.decode())
    except _NONSENSE:
        raise NotPossibleNow("it is no calendar") from None
    if not isinstance(whole, Calendar):
        raise NotPossibleNow("it is no calendar")
    if str(whole.get("PRODID")) != PRODUCT:
        raise NotPossibleNow("it is a calendar, but not one written here")
    events = [_read_event(component) for component in whole.walk("VEVENT")]
    # A shop has no tag before its first tap, so an empty calendar is anybody's.
    if events and str(whole.get(_SHOP)) != name_of("shop", shop_tag):
        raise NotPossibleNow("it is the calendar of another shop")
    # Of two with one name (somebody put files together) the later stands, as in a calendar.
    return tuple({event.uid: event for event in events if event is not None}.values())


def _read_event(component: Any) -> CalendarEvent | None:
    try:
        event = CalendarEvent(
            uid=str(UUID(str(component["UID"]))),
            starts=_read_instant(component["DTSTART"].dt),
            ends=_read_instant(component["DTEND"].dt),
            summary=one_line(str(component["SUMMARY"])),
            description=harmless(str(component["DESCRIPTION"]), DESCRIPTION_LONGEST),
            cancelled=str(component.get("STATUS")) == "CANCELLED",
            sequence=int(component.get("SEQUENCE", 0)),
        )
    except _NONSENSE:
        return None
    return event if event.starts < event.ends else None


def _read_instant(value: datetime) -> datetime:
    if value.tzinfo is None:
        raise ValueError("a time of no zone")
    return in_utc(value)
