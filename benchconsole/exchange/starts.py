"""When to begin a hide as plain text: the best start of every day, and what would come of it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, tzinfo
from typing import TYPE_CHECKING

from benchconsole.letters import shown
from benchconsole.schedule.wording import at_the_wall

if TYPE_CHECKING:
    from benchconsole.schedule.planning.starting import StartChoice, StartsOfHide

GRADE_MARKS = {"good": "✓", "poor": "~", "bad": "▲"}
"""How good a start is, beside the word for it."""


def starts_text(starts: StartsOfHide, now: datetime, zone: tzinfo) -> str:
    """The best start of every day, and the visits that would follow the best of all."""
    return "\n".join(map(shown, _lines(starts, now, zone)))


def start_line(choice: StartChoice, starts: StartsOfHide, zone: tzinfo) -> str:
    """``✓ Fri 20 Mar 08:00  good, done Mon 27 Apr (as planned)``; a bad one says why."""
    at = choice.at.astimezone(zone)
    words = f"{GRADE_MARKS[choice.grade]} {at:%a} {at.day:>2} {at:%b %H:%M}  {choice.grade}"
    if choice.finish is not None:
        done = choice.finish.astimezone(zone)
        words += f", done {done:%a} {done.day} {done:%b}"
    if choice.at == starts.chosen:
        words += " (chosen)"
    elif choice.at == starts.planned:
        words += " (as planned)"
    return f"{words}: {_short(choice)}" if choice.grade == "bad" else words


def _lines(starts: StartsOfHide, now: datetime, zone: tzinfo) -> Iterator[str]:
    title = f"{starts.hide_name}: when to begin “{starts.stage_name}”"
    for word, at in (("chosen", starts.chosen), ("planned", starts.planned)):
        if at is not None:
            title += f", {word} {at_the_wall(at, now, zone)}"
    yield title
    if not starts.ranked:
        yield "There is no open hour in the coming days to begin it."
        return
    for choice in starts.by_day:
        yield f"  {start_line(choice, starts, zone)}"
    best = starts.ranked[0]
    if not best.visits:
        return
    yield ""
    yield f"Begun {at_the_wall(best.at, now, zone)}: {best.words or 'all in time'}."
    for visit in best.visits:
        act = {"begin": "begin", "check": "look"}.get(visit.kind, f"coat {visit.number}")
        yield f"  {at_the_wall(visit.starts, now, zone):<16}  {visit.stage_name}: {act}"


def _short(choice: StartChoice) -> str:
    """The beginning of what goes wrong, as far as it says what."""
    return choice.words.partition(", ")[0].partition(";")[0]
