"""How things stand: the state of hides, timers and weigh-outs, folded from the history."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import datetime
from typing import Any

import msgspec
from msgspec.structs import replace

from benchconsole.model.events import (
    ArchivedHide,
    Entry,
    Event,
    HidesArchived,
    HideTakenIn,
    LiquorMade,
    LiquorSpoiled,
    LotSplit,
    ShopSet,
    TimerAcknowledged,
    TimerCancelled,
    TimerExtended,
    TimerNamed,
    TimerPaused,
    TimerResumed,
    TimerSet,
    WeighOutBegun,
    WeighOutLeft,
    WeighOutTapped,
)
from benchconsole.model.hide_state import HideState
from benchconsole.model.hides import (
    CHANGES,
    HideChange,
    hide_taken_in,
    split,
    spoiled,
)
from benchconsole.model.history import standing
from benchconsole.model.record import Record
from benchconsole.model.shop import Shop
from benchconsole.model.weighing import Liquor, WeighOut

__all__ = [
    "HideState",
    "ShopState",
    "TimerState",
    "after",
    "apply",
    "coat_wait_id",
    "fold",
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
    archived: dict[str, ArchivedHide] = msgspec.field(default_factory=dict)
    """The hides that lie in the yearly archive, and are in none of the other tables."""


def coat_wait_id(hide: str, stage: str, coat: int) -> str:
    """The name of the wait before a coat (from 2), under which its ringing is acknowledged."""
    return f"{_coat_waits(hide)}{stage}/{coat}"


def _coat_waits(hide: str) -> str:
    return f"coat/{hide}/"


def fold(entries: Iterable[Entry]) -> ShopState:
    """The state that a history leads to. Entries about unknown things change nothing."""
    return after(ShopState(), standing(entries))


def after(state: ShopState, entries: Iterable[Entry]) -> ShopState:
    """The state after more entries, all of which count (see :func:`standing`).

    As :func:`apply` does one by one, but a table is copied once for all of them.
    """
    draft = _Draft(state)
    for entry in entries:
        step = _STEPS.get(type(entry.event))
        if step is not None:
            step(draft, entry.event, entry.at)
    return draft.done()


def apply(state: ShopState, entry: Entry) -> ShopState:
    """The state after one more entry (not for ``Undone``, which needs the whole history)."""
    return after(state, (entry,))


class _Draft:
    """A state in the making: a table is copied when it is first written to, and only then."""

    def __init__(self, state: ShopState) -> None:
        self.shop = state.shop
        self.hides = state.hides
        self.timers = state.timers
        self.heard = state.heard
        self.weigh_outs = state.weigh_outs
        self.liquors = state.liquors
        self.spoiled = state.spoiled
        self.archived = state.archived
        self._own: dict[str, dict[str, Any]] = {}

    def own(self, table: str) -> dict[str, Any]:
        """A table to write to; the state it came from keeps its own."""
        mine = self._own.get(table)
        if mine is None:
            mine = self._own[table] = dict(getattr(self, table))
            setattr(self, table, mine)
        return mine

    def drop(self, table: str, names: Iterable[str]) -> None:
        """Take rows out of a table, those of them that are there."""
        there = [name for name in names if name in getattr(self, table)]
        mine = self.own(table) if there else {}
        for name in there:
            del mine[name]

    def done(self) -> ShopState:
        """The state as it was drafted; nothing may be written to the draft after."""
        return ShopState(
            shop=self.shop,
            hides=self.hides,
            timers=self.timers,
            heard=self.heard,
            weigh_outs=self.weigh_outs,
            liquors=self.liquors,
            spoiled=self.spoiled,
            archived=self.archived,
        )


def _taken_in(draft: _Draft, event: HideTakenIn, at: datetime) -> None:
    draft.own("hides")[event.hide] = hide_taken_in(event, at)


def _split(draft: _Draft, event: LotSplit, at: datetime) -> None:
    parts = split(draft.hides, event)
    if not parts:
        return
    draft.own("hides").update(parts)
    # Whoever heard the lot's wait between coats need not hear it again for the part.
    lots = _coat_waits(event.hide)
    heard = {
        _coat_waits(event.new_hide) + name.removeprefix(lots): when
        for name, when in draft.heard.items()
        if name.startswith(lots)
    }
    draft.own("heard").update(heard)


def _spoiled(draft: _Draft, event: LiquorSpoiled, at: datetime) -> None:
    if event.liquor in draft.liquors:
        draft.own("hides").update(spoiled(draft.hides, event, at))
        draft.own("spoiled")[event.liquor] = event.why


def _on_hide(change: HideChange) -> _Step:
    def step(draft: _Draft, event: Any, at: datetime) -> None:
        hide = draft.hides.get(event.hide)
        if hide is not None:
            changed = replace(change(hide, event, at), facts=hide.facts + 1)
            draft.own("hides")[hide.id] = changed

    return step


def _weigh_out_begun(draft: _Draft, event: WeighOutBegun, at: datetime) -> None:
    weigh_out = WeighOut(id=event.weigh_out, plan=event.plan, begun_at=at)
    draft.own("weigh_outs")[weigh_out.id] = weigh_out


def _on_weigh_out(change: Callable[[WeighOut, Any, datetime], WeighOut]) -> _Step:
    def step(draft: _Draft, event: Any, at: datetime) -> None:
        weigh_out = draft.weigh_outs.get(event.weigh_out)
        if weigh_out is not None:
            draft.own("weigh_outs")[weigh_out.id] = change(weigh_out, event, at)

    return step


def _tapped(weigh_out: WeighOut, event: WeighOutTapped, at: datetime) -> WeighOut:
    return replace(weigh_out, taps=(*weigh_out.taps, event.tap))


def _given_up(weigh_out: WeighOut, event: WeighOutLeft, at: datetime) -> WeighOut:
    return replace(weigh_out, ended_at=at)


def _filled(weigh_out: WeighOut, event: LiquorMade, at: datetime) -> WeighOut:
    return replace(weigh_out, ended_at=at, liquor=event.liquor.id)


def _made(draft: _Draft, event: LiquorMade, at: datetime) -> None:
    draft.own("liquors")[event.liquor.id] = event.liquor
    _on_weigh_out(_filled)(draft, event, at)


def _timer_set(draft: _Draft, event: TimerSet, at: datetime) -> None:
    timer = TimerState(id=event.timer, name=event.name, ends_at=event.ends_at)
    draft.own("timers")[timer.id] = timer


def _on_timer(change: Callable[[TimerState, Any], TimerState]) -> _Step:
    def step(draft: _Draft, event: Any, at: datetime) -> None:
        timer = draft.timers.get(event.timer)
        if timer is not None:
            draft.own("timers")[timer.id] = change(timer, event)

    return step


def _paused(timer: TimerState, event: TimerPaused) -> TimerState:
    return replace(timer, ends_at=None, left_s=event.left_s)


def _runs_to(timer: TimerState, event: TimerResumed | TimerExtended) -> TimerState:
    return replace(timer, ends_at=event.ends_at, left_s=None, acknowledged_at=None)


def _named(timer: TimerState, event: TimerNamed) -> TimerState:
    return replace(timer, name=event.name)


def _cancelled(draft: _Draft, event: TimerCancelled, at: datetime) -> None:
    draft.own("timers").pop(event.timer, None)


def _acknowledged(draft: _Draft, event: TimerAcknowledged, at: datetime) -> None:
    timer = draft.timers.get(event.timer)
    if timer is None:
        draft.own("heard")[event.timer] = at
    else:
        draft.own("timers")[timer.id] = replace(timer, acknowledged_at=at)


def _archived(draft: _Draft, event: HidesArchived, at: datetime) -> None:
    draft.own("archived").update((hide.id, hide) for hide in event.hides)
    gone = {*event.gone, *(hide.id for hide in event.hides)}
    waits = tuple(map(_coat_waits, gone))
    draft.drop("hides", gone)
    draft.drop("heard", [name for name in draft.heard if name.startswith(waits)])
    draft.drop("timers", event.timers)
    draft.drop("weigh_outs", event.weigh_outs)
    draft.drop("liquors", event.liquors)
    draft.drop("spoiled", event.liquors)


def _shop_set(draft: _Draft, event: ShopSet, at: datetime) -> None:
    draft.shop = event.shop


_Step = Callable[[_Draft, Any, datetime], None]

_STEPS: dict[type[Event], _Step] = {
    **{kind: _on_hide(change) for kind, change in CHANGES.items()},
    HideTakenIn: _taken_in,
    LotSplit: _split,
    LiquorSpoiled: _spoiled,
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
    HidesArchived: _archived,
}
"""What each event writes to a draft; an event without a step (a remark) changes nothing."""
