"""A piece of the plan in words, the same on paper and on every screen."""

from __future__ import annotations

from collections.abc import Iterator

from benchconsole.exchange.marks import VISIT_MARKS, Lateness
from benchconsole.quantities import format_duration
from benchconsole.schedule.planning.plans import Round, Visit
from benchconsole.schedule.wording import ordinal


def lateness(visit: Visit) -> Lateness:
    """Whether a visit is planned in time, past its due or past its latest time."""
    if visit.past_latest:
        return "visit-too-late"
    return "visit-late" if visit.past_due else "visit"


def what_it_is(visit: Visit) -> str:
    """Stage and act in short: ``Alum bath: begin``, ``Oil: second coat``, ``Soak: look``."""
    if visit.kind == "coat":
        return f"{visit.stage_name}: {ordinal(visit.number).lower()} coat"
    return f"{visit.stage_name}: {'begin' if visit.kind == 'begin' else 'look'}"


def late_words(visit: Visit) -> str:
    """How late it is planned: past its latest time, past its due, or empty."""
    if visit.past_latest:
        return f"{format_duration(visit.past_latest)} past its latest time"
    if visit.past_due:
        return f"{format_duration(visit.past_due)} past due"
    return ""


def head_words(visit: Visit) -> str:
    """Mark, hide, what, and how late in words."""
    late = late_words(visit)
    words = f"{VISIT_MARKS[lateness(visit)]} {visit.hide_name}, {what_it_is(visit)}"
    return f"{words}, {late}" if late else words


def round_gives(walk: Round) -> Iterator[tuple[str, str]]:
    """What a round gives, and the names of the hides that get it, in order."""
    together: dict[str, list[str]] = {}
    for given in walk.gives:
        together.setdefault(given.do, []).append(given.hide_name)
    for do, names in together.items():
        yield do, ", ".join(names)
