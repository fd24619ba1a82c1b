"""A piece of the plan in words: when, its window, why it was moved, what spoils, the vessel."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, tzinfo

from benchconsole.console.widgets.paper import Written
from benchconsole.console.widgets.timeline_choice import Choice
from benchconsole.console.widgets.timeline_layout import Lying
from benchconsole.console.wording import at_the_wall, relative
from benchconsole.exchange.plan_sheet import LOOKS
from benchconsole.exchange.plan_words import (
    head_words,
    late_words,
    lateness,
    round_gives,
    what_it_is,
)
from benchconsole.quantities import format_duration
from benchconsole.schedule.planning.plans import HidePlan, Plan, Round, Visit

_INDENT = 10


def choice_lines(choice: Choice, plan: Plan, now: datetime, zone: tzinfo) -> list[Written]:
    """What is chosen on the timeline, the most needed first."""
    piece = choice.piece
    if isinstance(piece, Visit):
        return [*_visit_lines(piece, now, zone), *_after(piece, plan, now, zone)]
    if isinstance(piece, Lying):
        return list(_hold_lines(piece, now, zone))
    if isinstance(piece, Round):
        return list(_round_lines(piece, now, zone))
    hide = plan.of(choice.hide)
    return [Written("No rounds are planned.")] if hide is None else list(_unplanned(hide))


def from_to(begins: datetime, ends: datetime, now: datetime, zone: tzinfo) -> str:
    """``Thu 09:00 to 09:30, 30 min``."""
    first, last = at_the_wall(begins, now, zone), at_the_wall(ends, now, zone)
    if begins.astimezone(zone).date() == ends.astimezone(zone).date():
        last = f"{ends.astimezone(zone):%H:%M}"
    return f"{first} to {last}, {format_duration(ends - begins)}"


def _visit_lines(visit: Visit, now: datetime, zone: tzinfo) -> Iterator[Written]:
    yield Written(head_words(visit), LOOKS[lateness(visit)], 2)
    when = from_to(visit.starts, visit.ends, now, zone)
    yield _row("when", f"{when}, {relative(visit.starts, now)}")
    yield from _window(visit, now, zone)
    yield _row("do", f"{visit.action} Vessel: {visit.vessel}." if visit.vessel else visit.action)
    if visit.ready:
        yield _row("ready", ", ".join(visit.ready))


def _window(visit: Visit, now: datetime, zone: tzinfo) -> Iterator[Written]:
    window = [f"earliest {at_the_wall(visit.earliest, now, zone)}"]
    window.append(f"due {at_the_wall(visit.due, now, zone)}")
    if visit.latest is not None:
        window.append(f"latest {at_the_wall(visit.latest, now, zone)}")
    yield _row("window", ", ".join(window))
    if visit.why:
        yield _row("moved", visit.why)
    if visit.spoils:
        yield _row("if late", visit.spoils)


def _after(visit: Visit, plan: Plan, now: datetime, zone: tzinfo) -> Iterator[Written]:
    """What follows it."""
    planned = plan.of(visit.hide)
    visits = planned.visits if planned else ()
    following = visits[visits.index(visit) + 1 :] if visit in visits else ()
    if following:
        then = following[0]
        lies = format_duration(then.starts - visit.ends)
        at = at_the_wall(then.starts, now, zone)
        yield _row("then", f"it lies {lies}, until {what_it_is(then)}, {at}")
    else:
        yield _row("then", "nothing more is planned for this hide")


def _hold_lines(lying: Lying, now: datetime, zone: tzinfo) -> Iterator[Written]:
    visit = lying.next
    where = "lies in store" if lying.in_store else f"lies in {lying.stage}"
    yield Written(f"{visit.hide_name} {where}" if lying.stage else visit.hide_name, "strong", 2)
    if lying.since is None:
        yield _row("until", at_the_wall(visit.starts, now, zone))
    else:
        yield _row("when", from_to(lying.since, visit.starts, now, zone))
    yield from _window(visit, now, zone)
    late = late_words(visit)
    yield _row("then", f"{what_it_is(visit)}{f', {late}' if late else ''}. {visit.action}")


def _round_lines(walk: Round, now: datetime, zone: tzinfo) -> Iterator[Written]:
    late = walk.at > walk.latest
    words = f"{'▲' if late else '•'} Round, {at_the_wall(walk.at, now, zone)}"
    yield Written(f"{words}, {relative(walk.at, now)}", "overdue" if late else "strong")
    yield _row("latest", at_the_wall(walk.latest, now, zone))
    if walk.why:
        yield _row("moved", walk.why)
    for do, hides in round_gives(walk):
        yield _row("do", f"{do} {hides}")


def _unplanned(hide: HidePlan) -> Iterator[Written]:
    lies = f"lies in {hide.lies_in}" if hide.lies_in else ""
    if hide.in_store:
        lies = "lies in store"
    yield Written(f"{hide.hide_name} {lies}".rstrip(), "strong", 2)
    if hide.unplanned:
        yield Written(f"? not planned: {hide.unplanned}", "overdue", 2)
    else:
        yield _row("then", "nothing more is planned for this hide")


def _row(name: str, words: str) -> Written:
    return Written(f"{name:>{_INDENT - 2}}  {words}", "text", _INDENT)
