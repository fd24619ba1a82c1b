"""Events in a person's words, for the hide card, the history and the line that answers a tap."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime, tzinfo
from typing import assert_never

from benchconsole.model.drying import Cover
from benchconsole.model.events import (
    Attended,
    CheckFailed,
    CoatGiven,
    CoverChanged,
    DryingWeighed,
    Event,
    HideCorrected,
    HideEvent,
    HideLost,
    HidesArchived,
    HidesBroughtBack,
    HideTakenIn,
    LiquorMade,
    LiquorSpoiled,
    LotSplit,
    NoteWritten,
    Redone,
    RouteChanged,
    ShopSet,
    StageBegun,
    StageLeft,
    StageSkipped,
    StartChosen,
    TimeCorrected,
    TimerAcknowledged,
    TimerCancelled,
    TimerExtended,
    TimerNamed,
    TimerPaused,
    TimerResumed,
    TimerSet,
    Undone,
    WeighOutBegun,
    WeighOutLeft,
    WeighOutTapped,
)
from benchconsole.model.routes import Route, Stage
from benchconsole.model.weighing import (
    Accept,
    BowlAgain,
    CarryOn,
    Jugged,
    Read,
    Rebalance,
    SetMode,
    SetZero,
    Tap,
)

_TimerEvent = (
    TimerSet
    | TimerPaused
    | TimerResumed
    | TimerExtended
    | TimerNamed
    | TimerCancelled
    | TimerAcknowledged
)

_ScaleEvent = WeighOutBegun | WeighOutTapped | WeighOutLeft | LiquorMade

COVER_WORDS: dict[Cover, str] = {
    "open": "laid open",
    "loose": "loosely covered",
    "plastic": "put under plastic",
}
"""What was done to a drying hide, by how it lies since."""


def tap_words(events: Sequence[Event], route: Route | None = None, zone: tzinfo = UTC) -> str:
    """The events of one tap in one line: a stage begun and over in the same tap is only over.

    Where several hides were attended to, it was a round.
    """
    attended = {event.hide for event in events if isinstance(event, Attended)}
    if len(attended) > 1:
        return f"the round for {len(attended)} hides"
    over = {event.stage for event in events if isinstance(event, StageLeft)}
    told = (e for e in events if not (isinstance(e, StageBegun) and e.stage in over))
    return "; ".join(event_words(event, route, zone) for event in told)


def event_words(event: Event, route: Route | None = None, zone: tzinfo = UTC) -> str:
    """One short sentence without a full stop: ``“Alum bath” begun with liquor L1``.

    ``route`` gives the stages their names; without it their ids have to do. ``zone`` is that of
    the shop's wall.
    """
    if isinstance(event, HideEvent):
        return _hide_words(event, route, zone)
    if isinstance(event, _TimerEvent):
        return _timer_words(event)
    if isinstance(event, _ScaleEvent):
        return _scale_words(event)
    match event:
        case ShopSet():
            return "the shop's settings written down"
        case TimeCorrected():
            return f"time corrected to {moment_words(event.at, zone)}"
        case Undone():
            return "taken back"
        case Redone():
            return "put back"
        case HidesArchived():
            return _archived_words(event)
        case HidesBroughtBack():
            return "brought back from the archive"
        case _:
            assert_never(event)


def _hide_words(event: HideEvent, route: Route | None, zone: tzinfo) -> str:
    match event:
        case HideTakenIn():
            lot = f", a lot of {event.count}" if event.count > 1 else ""
            return f"taken in {event.came}{lot}"
        case HideCorrected():
            weighs = f", {event.mass_g:.0f} g" if event.mass_g is not None else ""
            many = f", a lot of {event.count}" if event.count > 1 else ""
            return f"weighed or corrected: {event.name}{many}{weighs}"
        case StageBegun():
            return f"{_name(route, event.stage)} begun" + (
                f" with liquor {event.liquor}" if event.liquor else ""
            )
        case CoatGiven():
            return f"{_name(route, event.stage)}: coat {event.coat} given"
        case Attended():
            return f"{_name(route, event.stage)}, attended to{_attention(route, event)}"
        case CheckFailed():
            return f"{_name(route, event.stage)}: looked at, not yet ready"
        case StageLeft():
            then = f"next {_name(route, event.next)}" if event.next else "the piece is finished"
            return f"{_name(route, event.stage)} done; {then}"
        case StartChosen():
            start = event.start_at
            return (
                f"start chosen: {moment_words(start, zone)}"
                if start
                else "no start chosen any more"
            )
        case DryingWeighed() | CoverChanged():
            return _drying_words(event, route)
        case NoteWritten():
            return f"note: {event.text}"
        case StageSkipped() | RouteChanged() | LotSplit() | LiquorSpoiled() | HideLost():
            return _moved_words(event, route)
        case _:
            assert_never(event)


def _drying_words(event: DryingWeighed | CoverChanged, route: Route | None) -> str:
    match event:
        case DryingWeighed():
            return f"{_name(route, event.stage)}: weighed while drying, {event.mass_g:.6g} g"
        case CoverChanged():
            return f"{_name(route, event.stage)}: {COVER_WORDS[event.cover]}"
        case _:
            assert_never(event)


def _moved_words(
    event: StageSkipped | RouteChanged | LotSplit | LiquorSpoiled | HideLost, route: Route | None
) -> str:
    match event:
        case StageSkipped():
            return _skipped_words(event, route)
        case RouteChanged():
            name = route.name if route and route.id == event.route else event.route
            already = "in" if event.begun else "next"
            return f"moved to the route “{name}”, {already} {_name(route, event.stage)}"
        case LotSplit():
            skins = "1 skin" if event.count == 1 else f"{event.count} skins"
            return f"lot split: {skins} of “{event.of}” as “{event.name}”"
        case LiquorSpoiled():
            return f"liquor {event.liquor} spoiled: {event.why}"
        case HideLost():
            return f"taken out of work: {event.why}"
        case _:
            assert_never(event)


def _skipped_words(event: StageSkipped, route: Route | None) -> str:
    there, here = _name(route, event.next), _name(route, event.stage)
    if not event.next:
        return f"moved on from {here}; the piece is finished"
    if not event.stage:
        return f"taken up again at {there}"
    if event.next == event.stage:
        return f"{here} to begin again"
    stages = [] if route is None else [stage.id for stage in route.stages]
    back = event.stage in stages and event.next in stages[: stages.index(event.stage)]
    return f"{'back' if back else 'moved on'} from {here} to {there}"


def moment_words(instant: datetime, zone: tzinfo) -> str:
    """A time that is still read right in a year: ``Mon 8 Jun 2026 08:00``."""
    local = instant.astimezone(zone)
    return f"{local:%a} {local.day} {local:%b %Y %H:%M}"


def _scale_words(event: _ScaleEvent) -> str:
    match event:
        case WeighOutBegun():
            return f"weigh-out begun: {event.plan.formula_name}, {event.plan.target}"
        case WeighOutTapped():
            return f"at the scale: {_tap_at_the_scale(event.tap)}"
        case WeighOutLeft():
            return "weigh-out given up"
        case LiquorMade():
            return f"liquor {event.liquor.id} made: {event.liquor.formula_name}"
        case _:
            assert_never(event)


def _tap_at_the_scale(tap: Tap) -> str:
    match tap:
        case Read():
            return f"it shows {tap.reading_g:.6g} g"
        case Accept():
            return "brought to what was asked for"
        case Jugged():
            return f"{tap.volume_l:.4g} L by the jug"
        case CarryOn():
            return "gone on with what is in"
        case Rebalance():
            return "the others raised to fit"
        case BowlAgain():
            return "the bowl begun again"
        case SetZero():
            return f"it shows {tap.offset_g:.6g} g empty"
        case SetMode():
            return "bowl left on" if tap.mode == "cumulative" else "zero pressed before each"
        case _:
            assert_never(tap)


def _timer_words(event: _TimerEvent) -> str:
    match event:
        case TimerSet():
            return f"timer “{event.name}” set"
        case TimerPaused():
            return "timer paused"
        case TimerResumed():
            return "timer gone on"
        case TimerExtended():
            return "timer given more time"
        case TimerNamed():
            return f"timer called “{event.name}”"
        case TimerCancelled():
            return "timer cancelled"
        case TimerAcknowledged():
            return "timer heard"
        case _:
            assert_never(event)


def _archived_words(event: HidesArchived) -> str:
    """What was moved: the hides by name while they are few."""
    names = [f"“{hide.name}”" for hide in event.hides]
    if not names:
        return "old timers and weigh-outs moved to the archive"
    told = ", ".join(names) if len(names) <= 3 else f"{len(names)} hides"
    return f"{told} moved to the archive"


def _stage(route: Route | None, stage_id: str) -> Stage | None:
    if route is None:
        return None
    return next((stage for stage in route.stages if stage.id == stage_id), None)


def _name(route: Route | None, stage_id: str) -> str:
    stage = _stage(route, stage_id)
    return f"“{stage.name if stage else stage_id}”"


def _attention(route: Route | None, event: Attended) -> str:
    stage = _stage(route, event.stage)
    if stage is None or event.attention >= len(stage.attend):
        return ""
    do = stage.attend[event.attention].do.rstrip(".")
    return f": {do[:1].lower()}{do[1:]}"
