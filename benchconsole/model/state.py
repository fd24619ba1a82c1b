"""How things stand: the state of hides, timers and weigh-outs, folded from the history."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import datetime
from typing import Any

import msgspec

from benchconsole.model.events import (
    Entry,
    Event,
    HideTakenIn,
    LiquorMade,
    NoteWritten,
    ShopSet,
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
    subject_of,
)
from benchconsole.model.hides import CHANGES, HideChange, HideState
from benchconsole.model.record import Record
from benchconsole.model.shop import Shop
from benchconsole.model.weighing import Liquor, WeighOut

__all__ = ["HideState", "ShopState", "TimerState", "apply", "fold", "last_tap", "standing"]


class TimerState(Record, frozen=True, kw_only=True):
    """A timer: a due instant, or seconds left while it is paused."""

    id: str
    name: str
    ends_at: datetime | None
    left_s: float | None = None
    acknowledged_at: datetime | None = None


class ShopState(Record, frozen=True, kw_only=True):
    """Everything that follows from the history."""

    shop: Shop = Shop()
    hides: dict[str, HideState] = msgspec.field(default_factory=dict)
    timers: dict[str, TimerState] = msgspec.field(default_factory=dict)
    heard: dict[str, datetime] = msgspec.field(default_factory=dict)
    """When the ringing of a derived wait (between coats) was acknowledged, by its name."""
    weigh_outs: dict[str, WeighOut] = msgspec.field(default_factory=dict)
    liquors: dict[str, Liquor] = msgspec.field(default_factory=dict)


def standing(entries: Iterable[Entry]) -> tuple[Entry, ...]:
    """The entries that still count: what was undone, and the undoing itself, left out."""
    kept = tuple(entries)
    gone = {entry.event.tap for entry in kept if isinstance(entry.event, Undone)}
    return tuple(e for e in kept if e.tap not in gone and not isinstance(e.event, Undone))


def fold(entries: Iterable[Entry]) -> ShopState:
    """The state that a history leads to. Entries about unknown things change nothing."""
    state = ShopState()
    for entry in standing(entries):
        state = apply(state, entry)
    return state


def apply(state: ShopState, entry: Entry) -> ShopState:
    """The state after one more entry (not for ``Undone``, which needs the whole history)."""
    step = _STEPS.get(type(entry.event))
    return state if step is None else step(state, entry.event, entry.at)


def last_tap(entries: Iterable[Entry], subject: str) -> int | None:
    """The latest standing tap about a subject (``hide/ID``...), the one that undo takes back."""
    taps = [entry.tap for entry in standing(entries) if subject_of(entry.event) == subject]
    return max(taps, default=None)


def _with(state: ShopState, table: str, key: str, value: Any) -> ShopState:
    return msgspec.structs.replace(state, **{table: {**getattr(state, table), key: value}})


def _taken_in(state: ShopState, event: HideTakenIn, at: datetime) -> ShopState:
    hide = HideState(
        id=event.hide,
        name=event.name,
        species=event.species,
        route=event.route,
        came=event.came,
        count=event.count,
        mass_g=event.mass_g,
        stage=event.stage,
        arrived_at=at,
    )
    return _with(state, "hides", hide.id, hide)


def _on_hide(change: HideChange) -> _Step:
    def step(state: ShopState, event: Any, at: datetime) -> ShopState:
        hide = state.hides.get(event.hide)
        if hide is None:
            return state
        changed = msgspec.structs.replace(change(hide, event, at), facts=hide.facts + 1)
        return _with(state, "hides", hide.id, changed)

    return step


def _weigh_out_begun(state: ShopState, event: WeighOutBegun, at: datetime) -> ShopState:
    weigh_out = WeighOut(id=event.weigh_out, plan=event.plan, begun_at=at)
    return _with(state, "weigh_outs", weigh_out.id, weigh_out)


def _on_weigh_out(change: Callable[[WeighOut, Any, datetime], WeighOut]) -> _Step:
    def step(state: ShopState, event: Any, at: datetime) -> ShopState:
        weigh_out = state.weigh_outs.get(event.weigh_out)
        if weigh_out is None:
            return state
        return _with(state, "weigh_outs", weigh_out.id, change(weigh_out, event, at))

    return step


def _tapped(weigh_out: WeighOut, event: WeighOutTapped, at: datetime) -> WeighOut:
    return msgspec.structs.replace(weigh_out, taps=(*weigh_out.taps, event.tap))


def _given_up(weigh_out: WeighOut, event: WeighOutLeft, at: datetime) -> WeighOut:
    return msgspec.structs.replace(weigh_out, ended_at=at)


def _made(state: ShopState, event: LiquorMade, at: datetime) -> ShopState:
    state = _with(state, "liquors", event.liquor.id, event.liquor)
    weigh_out = state.weigh_outs.get(event.weigh_out)
    if weigh_out is None:
        return state
    ended = msgspec.structs.replace(weigh_out, ended_at=at, liquor=event.liquor.id)
    return _with(state, "weigh_outs", ended.id, ended)


def _timer_set(state: ShopState, event: TimerSet, at: datetime) -> ShopState:
    timer = TimerState(id=event.timer, name=event.name, ends_at=event.ends_at)
    return _with(state, "timers", timer.id, timer)


def _on_timer(change: Callable[[TimerState, Any], TimerState]) -> _Step:
    def step(state: ShopState, event: Any, at: datetime) -> ShopState:
        timer = state.timers.get(event.timer)
        if timer is None:
            return state
        return _with(state, "timers", timer.id, change(timer, event))

    return step


def _paused(timer: TimerState, event: TimerPaused) -> TimerState:
    return msgspec.structs.replace(timer, ends_at=None, left_s=event.left_s)


def _runs_to(timer: TimerState, event: TimerResumed | TimerExtended) -> TimerState:
    return msgspec.structs.replace(timer, ends_at=event.ends_at, left_s=None, acknowledged_at=None)


def _named(timer: TimerState, event: TimerNamed) -> TimerState:
    return msgspec.structs.replace(timer, name=event.name)


def _cancelled(state: ShopState, event: TimerCancelled, at: datetime) -> ShopState:
    timers = {key: timer for key, timer in state.timers.items() if key != event.timer}
    return msgspec.structs.replace(state, timers=timers)


def _acknowledged(state: ShopState, event: TimerAcknowledged, at: datetime) -> ShopState:
    timer = state.timers.get(event.timer)
    if timer is None:
        return _with(state, "heard", event.timer, at)
    heard = msgspec.structs.replace(timer, acknowledged_at=at)
    return _with(state, "timers", timer.id, heard)


def _shop_set(state: ShopState, event: ShopSet, at: datetime) -> ShopState:
    return msgspec.structs.replace(state, shop=event.shop)


_Step = Callable[[ShopState, Any, datetime], ShopState]

_STEPS: dict[type[Event], _Step] = {
    **{kind: _on_hide(change) for kind, change in CHANGES.items()},
    HideTakenIn: _taken_in,
    NoteWritten: lambda state, event, at: state,
    WeighOutBegun: _weigh_out_begun,
    WeighOutTapped: _on_weigh_out(_tapped),
    WeighOutLeft: _on_weigh_out(_given_up),
    LiquorMade: _made,
    TimerSet: _timer_set,
    TimerPaused: _on_timer(_paused),
    TimerResumed: _on_timer(_runs_to),
    TimerExtended: _on_timer(_runs_to),
    TimerNamed: _on_timer(_named),
    TimerCancelled: _cancelled,
    TimerAcknowledged: _acknowledged,
    ShopSet: _shop_set,
}
