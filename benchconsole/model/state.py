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
    LiquorSpoiled,
    LotSplit,
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
    subjects_of,
)
from benchconsole.model.hide_state import HideState
from benchconsole.model.hides import (
    CHANGES,
    HideChange,
    hide_taken_in,
    split,
    spoiled,
)
from benchconsole.model.record import Record
from benchconsole.model.shop import Shop
from benchconsole.model.weighing import Liquor, WeighOut

__all__ = [
    "HideState",
    "ShopState",
    "TimerState",
    "apply",
    "coat_wait_id",
    "fold",
    "last_tap",
    "standing",
]


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
    spoiled: dict[str, str] = msgspec.field(default_factory=dict)
    """The liquors that can no longer be used, each with the reason."""


def coat_wait_id(hide: str, stage: str, coat: int) -> str:
    """The name of the wait before a coat (from 2), under which its ringing is acknowledged."""
    return f"{_coat_waits(hide)}{stage}/{coat}"


def _coat_waits(hide: str) -> str:
    return f"coat/{hide}/"


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
    taps = [entry.tap for entry in standing(entries) if subject in subjects_of(entry.event)]
    return max(taps, default=None)


def _with(state: ShopState, table: str, key: str, value: Any) -> ShopState:
    return msgspec.structs.replace(state, **{table: {**getattr(state, table), key: value}})


def _taken_in(state: ShopState, event: HideTakenIn, at: datetime) -> ShopState:
    return _with(state, "hides", event.hide, hide_taken_in(event, at))


def _split(state: ShopState, event: LotSplit, at: datetime) -> ShopState:
    hides = split(state.hides, event)
    if len(hides) == len(state.hides):
        return state
    # Whoever heard the lot's wait between coats need not hear it again for the part.
    lots = _coat_waits(event.hide)
    heard = {
        _coat_waits(event.new_hide) + name.removeprefix(lots): when
        for name, when in state.heard.items()
        if name.startswith(lots)
    }
    return msgspec.structs.replace(state, hides=hides, heard={**state.heard, **heard})


def _spoiled(state: ShopState, event: LiquorSpoiled, at: datetime) -> ShopState:
    if event.liquor not in state.liquors:
        return state
    hides = spoiled(state.hides, event, at)
    why = {**state.spoiled, event.liquor: event.why}
    return msgspec.structs.replace(state, hides=hides, spoiled=why)


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
    LotSplit: _split,
    LiquorSpoiled: _spoiled,
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
