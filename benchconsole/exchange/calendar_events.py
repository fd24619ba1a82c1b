"""The plan as events for a calendar: their words, their lasting names, when they ring."""

from __future__ import annotations

import uuid
from collections import Counter
from collections.abc import Sequence
from datetime import UTC, datetime, timedelta, tzinfo

from dateutil import tz

from benchconsole.letters import filed
from benchconsole.model.record import Record
from benchconsole.quantities import format_duration
from benchconsole.schedule.planning.plans import Plan, Round, Visit
from benchconsole.schedule.planning.problems import SLOT_MINUTES
from benchconsole.schedule.wording import sentences

RING_BEFORE = timedelta(minutes=15)
"""From the alarm to the beginning of an act; our own choice."""
LAST_CALL_BEFORE = timedelta(hours=1)
"""From the last call to the moment at which something spoils, at least; our own choice."""
SHORTEST = timedelta(minutes=1)
"""What is shorter takes a slot of the plan: an event must not end when it begins (RFC 5545)."""

SUMMARY_LONGEST, PART_LONGEST, DESCRIPTION_LONGEST = 160, 2000, 20_000
"""Characters of a title, of one part of a description and of all of it."""
MOST_OF_SHOP = 75
"""Characters of the shop's name."""
MOST_NAMED = 3
"""Hides named in the title of a round; of more only the number is told."""

_NAMES = uuid.UUID("6f1d6bb0-6c0e-4b4c-9a51-0d2f7c1b3e84")
"""The namespace of our event names; made up once and never to be changed."""


class Ring(Record, frozen=True, kw_only=True):
    """An alarm: ``before`` the event begins, or ``at`` an instant."""

    says: str
    before: timedelta = timedelta(0)
    at: datetime | None = None


class CalendarEvent(Record, frozen=True, kw_only=True):
    """One event; ``starts < ends``, aware, UTC. ``uid`` is its name from export to export."""

    uid: str
    starts: datetime
    ends: datetime
    summary: str
    description: str
    rings: tuple[Ring, ...] = ()
    cancelled: bool = False
    sequence: int = 0


def events_of(
    plan: Plan, *, zone: tzinfo, shop_name: str, shop_tag: str, now: datetime
) -> tuple[CalendarEvent, ...]:
    """Every visit and round of a plan, in the order of their beginnings; ``now`` aware.

    **Names.** A name (UID) is made of the shop's tag and what stays the same when the plan is
    made anew: of a visit the hide, the stage, the kind of act and its number in the stage; of a
    round its local day and its place in that day, counted from the day's end. So an act that
    moves keeps its name, and two shops share none, however alike their hides are called. A hide
    that is sent through a stage once more takes up the names of the first time, whose acts are
    past. Rounds are counted from the end because they are used up from the front: what is left
    of today at noon bears the same names that it bore in the morning.

    The shop's name may change, so it is no part of them; ``shop_tag`` is.
    """
    foot = (
        f"{harmless(shop_name, MOST_OF_SHOP)}, as it was planned {dated(now, zone)}; all times are "
        "by the shop's clock."
    )
    events = [
        *_visit_events(plan, zone, foot, shop_tag, now),
        *_round_events(plan, zone, foot, shop_tag),
    ]
    return tuple(sorted(events, key=lambda event: (event.starts, event.uid)))


# --- visits ---------------------------------------------------------------------------


def _visit_events(
    plan: Plan, zone: tzinfo, foot: str, tag: str, now: datetime
) -> list[CalendarEvent]:
    events, met = [], Counter[tuple[str, ...]]()
    for visit in plan.visits:
        key = (visit.hide, visit.stage, visit.kind, str(visit.number))
        met[key] += 1
        # Two of one name would be one event to a calendar, so a later one says which it is.
        again = (f"again {met[key]}",) if met[key] > 1 else ()
        title = one_line(f"{visit.hide_name}: {_act_words(visit)}")
        events.append(
            CalendarEvent(
                uid=name_of("visit", tag, *key, *again),
                starts=visit.starts,
                ends=_end(visit.starts, visit.ends),
                summary=title,
                description=_described([*_visit_lines(visit, zone), foot]),
                rings=_rings(visit, title, plan, zone, now),
            )
        )
    return events


def _act_words(visit: Visit) -> str:
    match visit.kind:
        case "begin":
            return visit.stage_name
        case "coat":
            return f"{visit.stage_name}, next coat"
        case "check":
            return f"{visit.stage_name}, check"


def _visit_lines(visit: Visit, zone: tzinfo) -> list[str]:
    window = f"Earliest {dated(visit.earliest, zone)}, due {dated(visit.due, zone)}"
    if visit.latest is not None:
        window += f", at the latest {dated(visit.latest, zone)}"
    late = f"this is {format_duration(visit.past_latest)} past its latest time"
    return [
        sentences(visit.action),
        sentences(visit.why, late if visit.past_latest else ""),
        sentences(window),
        sentences(f"If it is late: {_small(visit.spoils)}" if visit.spoils else ""),
        sentences(f"Have ready: {', '.join(visit.ready)}" if visit.ready else ""),
        sentences(f"It goes into: {visit.vessel}" if visit.vessel else ""),
    ]


def _rings(visit: Visit, title: str, plan: Plan, zone: tzinfo, now: datetime) -> tuple[Ring, ...]:
    first = Ring(says=title, before=RING_BEFORE)
    if visit.latest is None or not visit.spoils:
        return (first,)
    at = _last_call(visit.latest, visit.ends - visit.starts, plan)
    # Before the end of the act somebody is at it, and the first alarm has called them.
    if at <= max(visit.ends, now):
        return (first,)
    last = f"If it is not done yet: {title}, at the latest {dated(visit.latest, zone)}"
    return (first, Ring(says=one_line(last), at=at))


def _last_call(latest: datetime, work: timedelta, plan: Plan) -> datetime:
    """When to call for the last time: in open hours, where the plan knows those before it."""
    room = max(LAST_CALL_BEFORE, work)
    wanted = latest - room
    before = [opening for opening in plan.openings if opening[0] <= wanted]
    if not before or wanted > plan.until:
        return wanted
    opens, closes = max(before, key=lambda opening: opening[1])
    return min(wanted, max(opens, closes - room))


# --- rounds ---------------------------------------------------------------------------


def _round_events(plan: Plan, zone: tzinfo, foot: str, tag: str) -> list[CalendarEvent]:
    events, left = [], Counter[str]()
    for walk in sorted(plan.rounds, key=lambda each: each.at, reverse=True):
        day = walk.at.astimezone(zone).date().isoformat()
        left[day] += 1
        title = one_line(f"Round: {_whom(walk)}")
        events.append(
            CalendarEvent(
                uid=name_of("round", tag, day, str(left[day])),
                starts=walk.at,
                ends=_end(walk.at, walk.at),
                summary=title,
                description=_described([*_round_lines(walk, zone), foot]),
                rings=(Ring(says=title, before=RING_BEFORE),),
            )
        )
    return events


def _whom(walk: Round) -> str:
    names = list({given.hide: given.hide_name for given in walk.gives}.values())
    if len(names) > MOST_NAMED:
        return f"{len(names)} hides"
    return ", ".join(names) or "a look at every hide"


def _round_lines(walk: Round, zone: tzinfo) -> list[str]:
    return [
        "\n".join(sentences(f"{given.hide_name}: {_small(given.do)}") for given in walk.gives),
        sentences(walk.why),
        sentences(f"The first of it is over its limit {dated(walk.latest, zone)}"),
    ]


# --- names, times, words --------------------------------------------------------------


def name_of(*parts: str) -> str:
    """A name (UID) that the same parts always give: a UUID, as RFC 7986 section 5.3 asks."""
    # The lengths keep ("a", "b/c") and ("a/b", "c") apart.
    told = "".join(f"{len(part)}:{part}" for part in parts)
    return str(uuid.uuid5(_NAMES, told.encode("utf-8", "backslashreplace").decode()))


def dated(instant: datetime, zone: tzinfo) -> str:
    """An instant on the shop's wall clock for a text that is read on any day: nothing left out.

    ``Mon 1 Jun 2026 08:00``; of an hour that the clocks repeat, also which one: ``02:30 +01:00``.
    """
    local = instant.astimezone(zone)
    words = f"{local:%a} {local.day} {local:%b %Y %H:%M}"
    if not tz.datetime_ambiguous(local.replace(tzinfo=None), zone):
        return words
    return f"{words} {local.isoformat()[-6:]}"


def _end(starts: datetime, ends: datetime) -> datetime:
    return ends if ends - starts >= SHORTEST else starts + timedelta(minutes=SLOT_MINUTES)


def _described(parts: Sequence[str]) -> str:
    return "\n".join(text for text in (harmless(part, PART_LONGEST) for part in parts) if text)


def one_line(text: str) -> str:
    """A title: harmless, on one line, not too long."""
    return " ".join(harmless(text, SUMMARY_LONGEST).split())


def harmless(text: str, longest: int) -> str:
    """People's text as a calendar file may hold it, at most ``longest`` characters.

    RFC 5545 allows no control characters; a tab is a blank there.
    """
    clean = filed(text[: longest * 2]).replace("\t", " ").strip()
    return clean if len(clean) <= longest else f"{clean[: longest - 1].rstrip()}…"


def _small(words: str) -> str:
    return words[:1].lower() + words[1:]


def in_utc(instant: datetime) -> datetime:
    """The instant in UTC and whole seconds, as a calendar file holds it."""
    return instant.astimezone(UTC).replace(microsecond=0)
