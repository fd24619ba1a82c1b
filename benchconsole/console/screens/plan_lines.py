"""The plan written out by days: what is too late, the coming days in full, the later in short."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, timedelta, tzinfo

from benchconsole.console.screens.plan_words import round_gives, visit_head, what_it_is
from benchconsole.console.widgets.paper import BLANK, Written
from benchconsole.console.widgets.timeline_layout import ROUND, VISIT_MARKS, lateness
from benchconsole.console.wording import at_the_wall
from benchconsole.quantities import format_duration
from benchconsole.schedule.hours import Opening
from benchconsole.schedule.planning.plans import Plan, Round, Visit

DAYS_IN_FULL = 3
"""Today and the days after it that are written with every reason; the later ones in short."""

_DAY = timedelta(days=1)
_INDENT = 15


def plan_lines(
    plan: Plan, now: datetime, zone: tzinfo, *, in_full: int = DAYS_IN_FULL
) -> list[Written]:
    """The lines of the whole plan; ``now`` is aware, days are those of ``zone``.

    First what is planned past its latest time and what could not be planned. Then each day with
    its open hours, its visits and rounds in order: the first ``in_full`` days with windows,
    vessels and reasons, the later days with something to do on them with a line a visit.
    """
    lines = list(_too_late(plan, now, zone))
    today = now.astimezone(zone).date()
    by_day = _by_day(plan, zone)
    last = max([today, *by_day])
    for place in range((last - today).days + 1):
        day = today + place * _DAY
        things = by_day.get(day, [])
        if place < in_full:
            lines += [_day_head(day, today), _open_line(plan.openings, day, now, zone)]
            lines += _in_full(things, now, zone) or [Written("nothing is planned", "soft")]
            lines.append(BLANK)
        elif things:
            lines.append(_day_head(day, today))
            lines += _in_short(things, zone)
    while lines and lines[-1] == BLANK:
        lines.pop()
    return lines


def _too_late(plan: Plan, now: datetime, zone: tzinfo) -> Iterator[Written]:
    late = [visit for visit in plan.visits if visit.past_latest]
    missing = [hide for hide in plan.hides if hide.unplanned]
    if late:
        yield Written("PAST THE LATEST TIME", "head")
        for visit in late:
            yield visit_head(visit)
            latest = "" if visit.latest is None else at_the_wall(visit.latest, now, zone)
            when = at_the_wall(visit.starts, now, zone)
            yield _row("planned", f"{when}; the latest time is {latest}")
            yield from _reasons(visit)
        yield BLANK
    if missing:
        yield Written("NOT PLANNED", "head")
        for hide in missing:
            yield Written(f"? {hide.hide_name}: {hide.unplanned}", "overdue", 2)
        yield BLANK


def _by_day(plan: Plan, zone: tzinfo) -> dict[date, list[Visit | Round]]:
    """Visits and rounds by their local days, each day in order of time."""
    found: dict[date, list[Visit | Round]] = {}
    things: list[Visit | Round] = [*plan.visits, *plan.rounds]
    for thing in sorted(things, key=_starts):
        found.setdefault(_starts(thing).astimezone(zone).date(), []).append(thing)
    return found


def _starts(thing: Visit | Round) -> datetime:
    return thing.starts if isinstance(thing, Visit) else thing.at


def _day_head(day: date, today: date) -> Written:
    name = f"{day:%A} {day.day} {day:%B}"
    if day.year != today.year:
        name += f" {day.year}"
    near = {0: "TODAY, ", 1: "TOMORROW, "}.get((day - today).days, "")
    return Written(f"{near}{name}" if near else name.upper(), "head")


def _open_line(openings: tuple[Opening, ...], day: date, now: datetime, zone: tzinfo) -> Written:
    """The open hours of a local day; of today what is left of them."""
    spans = []
    for opens, closes in openings:
        if opens.astimezone(zone).date() == day and closes > now:
            last = f"{closes.astimezone(zone):%H:%M}"
            last = "24:00" if last == "00:00" else last
            begun = f"until {last}"
            spans.append(begun if opens <= now else f"{opens.astimezone(zone):%H:%M} to {last}")
    return Written(f"open {', '.join(spans)}" if spans else "closed", "soft")


def _in_full(things: list[Visit | Round], now: datetime, zone: tzinfo) -> list[Written]:
    lines: list[Written] = []
    for thing in things:
        if isinstance(thing, Round):
            lines += _round(thing, zone)
            continue
        head = visit_head(thing)
        into = f", into: {thing.vessel}" if thing.vessel else ""
        lines.append(Written(f"{_span(thing, zone)}  {head.text}{into}", head.look, _INDENT))
        lines.append(_row("do", f"{thing.action} ({format_duration(thing.ends - thing.starts)})"))
        if thing.ready:
            lines.append(_row("have ready", ", ".join(thing.ready)))
        if thing.latest is not None:
            lines.append(_row("latest", at_the_wall(thing.latest, now, zone)))
        lines += _reasons(thing)
    return lines


def _round(walk: Round, zone: tzinfo) -> Iterator[Written]:
    late = walk.at > walk.latest
    mark = VISIT_MARKS["visit-too-late"] if late else ROUND
    gives = " ".join(f"{do} {hides}." for do, hides in round_gives(walk))
    at = f"{walk.at.astimezone(zone):%H:%M}"
    words = f"{at:<11}  {mark} Round: {gives}"
    yield Written(words, "overdue" if late else "text", _INDENT)
    if walk.why:
        yield _row("moved", walk.why)


def _in_short(things: list[Visit | Round], zone: tzinfo) -> Iterator[Written]:
    """A line a visit, and one for all the rounds of the day."""
    for visit in (thing for thing in things if isinstance(thing, Visit)):
        mark = VISIT_MARKS[lateness(visit)]
        look = visit_head(visit).look if visit.past_latest else "text"
        words = f"{_span(visit, zone)}  {mark} {visit.hide_name}, {what_it_is(visit)}"
        yield Written(words, look, _INDENT)
    rounds = [f"{t.at.astimezone(zone):%H:%M}" for t in things if isinstance(t, Round)]
    if rounds:
        yield Written(f"{'':<11}  {ROUND} rounds {', '.join(rounds)}", "soft", _INDENT)


def _reasons(visit: Visit) -> Iterator[Written]:
    if visit.why:
        yield _row("moved", visit.why)
    if visit.spoils and (visit.past_due or visit.past_latest):
        yield _row("if late", visit.spoils)


def _span(visit: Visit, zone: tzinfo) -> str:
    return f"{visit.starts.astimezone(zone):%H:%M}-{visit.ends.astimezone(zone):%H:%M}"


def _row(name: str, words: str) -> Written:
    return Written(f"{'':<{_INDENT}}{name}: {words}", "text", _INDENT + 2)
