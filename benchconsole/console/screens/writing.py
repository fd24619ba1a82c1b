"""A next action written out, the same on the card and on the day sheet."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, tzinfo

from benchconsole.console.widgets.paper import Look, Written
from benchconsole.console.wording import MARKS, WORDS, at_the_wall, relative
from benchconsole.library import Library
from benchconsole.quantities import format_duration
from benchconsole.schedule import Action

_LOOKS: dict[str, Look] = {"overdue": "overdue", "due": "due", "ready": "ready"}
_INDENT = 12


def when(instant: datetime, now: datetime, zone: tzinfo) -> str:
    """The time on the shop's wall."""
    return at_the_wall(instant, now, zone)


def state_line(action: Action, *, of: str = "") -> Written:
    """Mark, word and what it is about."""
    about = f"{of}: {action.stage_name}" if of and action.stage_name else of or action.stage_name
    words = f"{MARKS[action.state]} {WORDS[action.state]:<9} {about}"
    return Written(words.rstrip(), _LOOKS.get(action.state, "strong"), _INDENT)


def action_lines(
    action: Action, now: datetime, zone: tzinfo, library: Library, *, of: str = ""
) -> Iterator[Written]:
    """What, when, why then, what spoils, what to have ready."""
    yield state_line(action, of=of)
    if action.action:
        yield _row("check" if action.kind == "check" else "do", action.action)
    if action.kind == "none":
        return
    if action.state in ("waiting", "ready", "stored") and action.earliest < action.due:
        yield _row("earliest", _both(action.earliest, now, zone))
    yield _row("due", _both(action.due, now, zone))
    if action.latest is not None:
        yield _row("latest", _both(action.latest, now, zone))
    for name, words in (
        ("why then", action.why),
        ("if late", action.spoils),
        ("look at", action.inspect),
        ("mix", _formula(action.mix, library)),
        ("have ready", ", ".join(action.needs)),
        ("check", action.check if action.check != action.action else ""),
        ("goes on", action.gate),
        ("hands-on", format_duration(action.work) if action.work else ""),
    ):
        if words:
            yield _row(name, words)


def _row(name: str, words: str) -> Written:
    return Written(f"{name:>{_INDENT - 2}}  {words}", "text", _INDENT)


def _both(instant: datetime, now: datetime, zone: tzinfo) -> str:
    return f"{at_the_wall(instant, now, zone)}, {relative(instant, now)}"


def _formula(formula_id: str, library: Library) -> str:
    known = library.formulas.get(formula_id)
    return known.name if known else formula_id
