"""Events in a person's words, for the hide card and the line that answers a tap."""

from __future__ import annotations

from benchconsole.model.events import (
    Attended,
    CheckFailed,
    CoatGiven,
    Event,
    HideTakenIn,
    NoteWritten,
    StageBegun,
    StageLeft,
    TimerAcknowledged,
    TimerCancelled,
    TimerExtended,
    TimerNamed,
    TimerPaused,
    TimerResumed,
    TimerSet,
)
from benchconsole.model.routes import Route, Stage


def event_words(event: Event, route: Route | None = None) -> str:
    """One short sentence without a full stop: "put into the alum bath"."""
    match event:
        case HideTakenIn():
            many = f", a lot of {event.count}" if event.count > 1 else ""
            return f"taken in {event.came}{many}"
        case StageBegun():
            with_liquor = f", liquor {event.liquor}" if event.liquor else ""
            return f"{_name(route, event.stage)} begun{with_liquor}"
        case CoatGiven():
            return f"{_name(route, event.stage)}: coat {event.coat} given"
        case Attended():
            return f"{_name(route, event.stage)}: {_attention(route, event)}"
        case CheckFailed():
            return f"{_name(route, event.stage)}: looked at, not yet"
        case StageLeft() if event.next:
            return f"{_name(route, event.stage)} done; next {_name(route, event.next)}"
        case StageLeft():
            return f"{_name(route, event.stage)} done; the piece is finished"
        case NoteWritten():
            return f"note: {event.text}"
        case _:
            return _timer_words(event)


def _timer_words(event: Event) -> str:
    match event:
        case TimerSet():
            return f"timer “{event.name}” set"
        case TimerPaused():
            return "timer paused"
        case TimerResumed():
            return "timer goes on"
        case TimerExtended():
            return "timer extended"
        case TimerNamed():
            return f"timer named “{event.name}”"
        case TimerCancelled():
            return "timer cancelled"
        case TimerAcknowledged():
            return "timer heard"
        case _:
            return "weighing"


def _stage(route: Route | None, stage_id: str) -> Stage | None:
    if route is None:
        return None
    return next((stage for stage in route.stages if stage.id == stage_id), None)


def _name(route: Route | None, stage_id: str) -> str:
    stage = _stage(route, stage_id)
    return stage.name if stage else stage_id


def _attention(route: Route | None, event: Attended) -> str:
    stage = _stage(route, event.stage)
    if stage is None or event.attention >= len(stage.attend):
        return "attended"
    return f"attended: {stage.attend[event.attention].do}"
