"""The plan written out by days: what is too late, the coming days in full, the later in short."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date, datetime, timedelta, tzinfo
from typing import Literal

from benchconsole.exchange.marks import ROUND, UNPLANNED, VISIT_MARKS, Lateness
from benchconsole.exchange.plan_words import head_words, lateness, round_gives, what_it_is
from benchconsole.model.record import Record
from benchconsole.quantities import format_duration
from benchconsole.schedule.hours import Opening
from benchconsole.schedule.planning.plans import Plan, Round, Visit
from benchconsole.schedule.wording import at_the_wall

DAYS_IN_FULL = 3
"""Today and the days after it that are written with every reason; the later ones in short."""

Look = Literal["text", "head", "strong", "soft", "overdue", "due"]
LOOKS: dict[Lateness, Look] = {"visit": "strong", "visit-late": "due", "visit-too-late": "overdue"}

_DAY = timedelta(days=1)
_INDENT = 15


class PlanLine(Record, frozen=True):
    """A paragraph: ``text`` wraps, and its later lines stand ``hang`` cells in."""

    text: str
    look: Look = "text"
    hang: int = 0


BLANK = PlanLine("")


def plan_sheet(
    plan: Plan, now: datetime, zone: tzinfo, *, in_full: int = DAYS_IN_FULL
) -> list[PlanLine]:
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
            lines += _in_full(things, now, zone) or [PlanLine("nothing is planned", "soft")]
            lines.append(BLANK)
        elif things:
            lines.append(_day_head(day, today))
            lines += _in_short(things, zone)
    while lines and lines[-1] == BLANK:
        lines.pop()
    return lines


def _too_late(plan: Plan, now: datetime, zone: tzinfo) -> Iterator[PlanLine]:
    late = [visit for visit in plan.visits if visit.past_latest]
    missing = [hide for hide in plan.hides if hide.unplanned]
    if late:
        yield PlanLine("PAST THE LATEST TIME", "head")
        for visit in late:
            yield _head(visit)
            latest = "" if visit.latest is None else at_the_wall(visit.latest, now, zone)
            when = at_the_wall(visit.starts, now, zone)
            yield _row("planned", f"{when}; the latest time is {latest}")
            yield from _reasons(visit)
        yield BLANK
    if missing:
        yield PlanLine("NOT PLANNED", "head")
        for hide in missing:
            yield PlanLine(f"{UNPLANNED} {hide.hide_name}: {hide.unplanned}", "overdue", 2)
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


def _day_head(day: date, today: date) -> PlanLine:
    name = f"{day:%A} {day.day} {day:%B}"
    if day.year != today.year:
        name += f" {day.year}"
    near = {0: "TODAY, ", 1: "TOMORROW, "}.get((day - today).days, "")
    return PlanLine(f"{near}{name}" if near else name.upper(), "head")


def _open_line(openings: tuple[Opening, ...], day: date, now: datetime, zone: tzinfo) -> PlanLine:
    """The open hours of a local day; of today what is left of them."""
    spans = []
    for opens, closes in openings:
        if opens.astimezone(zone).date() == day and closes > now:
            last = f"{closes.astimezone(zone):%H:%M}"
            last = "24:00" if last == "00:00" else last
            begun = f"until {last}"
            spans.append(begun if opens <= now else f"{opens.astimezone(zone):%H:%M} to {last}")
    return PlanLine(f"open {', '.join(spans)}" if spans else "closed", "soft")


def _in_full(things: list[Visit | Round], now: datetime, zone: tzinfo) -> list[PlanLine]:
    lines: list[PlanLine] = []
    told: set[str] = set()
    for thing in things:
        if isinstance(thing, Round):
            words = _gives(thing)
            if words not in told or _asks_a_word(thing):
                again = () if _asks_a_word(thing) or words in told else _again(thing, things, zone)
                told |= {words} if again else set()
                lines += _round(thing, zone, again)
            continue
        head = _head(thing)
        into = f", into: {thing.vessel}" if thing.vessel else ""
        lines.append(PlanLine(f"{_span(thing, zone)}  {head.text}{into}", head.look, _INDENT))
        lines.append(_row("do", f"{thing.action} ({format_duration(thing.ends - thing.starts)})"))
        if thing.ready:
            lines.append(_row("have ready", ", ".join(thing.ready)))
        if thing.latest is not None:
            lines.append(_row("latest", at_the_wall(thing.latest, now, zone)))
        lines += _reasons(thing)
    return lines


def _round(walk: Round, zone: tzinfo, again: Sequence[str]) -> Iterator[PlanLine]:
    late = walk.at > walk.latest
    mark = VISIT_MARKS["visit-too-late"] if late else ROUND
    at = f"{walk.at.astimezone(zone):%H:%M}"
    words = f"{at:<11}  {mark} Round" + (f", and again {', '.join(again)}" if again else "")
    yield PlanLine(words, "overdue" if late else "strong", _INDENT)
    for do, hides in round_gives(walk):
        yield _row(hides, do)
    if walk.why:
        yield _row("why", walk.why)


def _gives(walk: Round) -> str:
    return " ".join(f"{do} {hides}." for do, hides in round_gives(walk))


def _asks_a_word(walk: Round) -> bool:
    """Whether there is more to say of a round than what it gives."""
    return bool(walk.why) or walk.at > walk.latest


def _again(walk: Round, things: list[Visit | Round], zone: tzinfo) -> tuple[str, ...]:
    """When the same round comes again that day: what is worked every half hour fills no page."""
    return tuple(
        f"{other.at.astimezone(zone):%H:%M}"
        for other in things
        if isinstance(other, Round)
        and other.at > walk.at
        and not _asks_a_word(other)
        and _gives(other) == _gives(walk)
    )


def _in_short(things: list[Visit | Round], zone: tzinfo) -> Iterator[PlanLine]:
    """A line a visit, and one for all the rounds of the day."""
    for visit in (thing for thing in things if isinstance(thing, Visit)):
        mark = VISIT_MARKS[lateness(visit)]
        look = LOOKS[lateness(visit)] if visit.past_latest else "text"
        words = f"{_span(visit, zone)}  {mark} {visit.hide_name}, {what_it_is(visit)}"
        yield PlanLine(words, look, _INDENT)
    rounds = [f"{t.at.astimezone(zone):%H:%M}" for t in things if isinstance(t, Round)]
    if rounds:
        yield PlanLine(f"{'':<11}  {ROUND} rounds {', '.join(rounds)}", "soft", _INDENT)


def _head(visit: Visit) -> PlanLine:
    return PlanLine(head_words(visit), LOOKS[lateness(visit)], 2)


def _reasons(visit: Visit) -> Iterator[PlanLine]:
    if visit.why:
        yield _row("moved", visit.why)
    if visit.spoils and (visit.past_due or visit.past_latest):
        yield _row("if late", visit.spoils)


def _span(visit: Visit, zone: tzinfo) -> str:
    return f"{visit.starts.astimezone(zone):%H:%M}-{visit.ends.astimezone(zone):%H:%M}"


def _row(name: str, words: str) -> PlanLine:
    return PlanLine(f"{'':<{_INDENT}}{name}: {words}", "text", _INDENT + 2)
