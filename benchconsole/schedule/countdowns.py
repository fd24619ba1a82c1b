"""Countdowns: the shop's own timers and the waits between coats, as due instants."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import datetime, timedelta
from typing import Literal

from benchconsole.model.record import Record
from benchconsole.model.routes import Route
from benchconsole.model.state import HideState, ShopState, TimerState, coat_wait_id
from benchconsole.quantities import format_duration
from benchconsole.schedule.coats import coats_left

CountdownKind = Literal["coat", "own"]
CountdownState = Literal["running", "paused", "ringing", "heard"]

_ORDER: dict[CountdownState, int] = {"ringing": 0, "running": 1, "paused": 2, "heard": 3}
_NOTHING = timedelta(0)

HEARD_STAYS = timedelta(hours=1)
"""How long an own timer stays on the board after it was heard; our own choice."""


class Countdown(Record, frozen=True, kw_only=True):
    """A short wait as it stands at an instant.

    ``ends_at`` is aware, UTC, None while paused. ``left`` is what remains, ``over`` how long
    ago it ended; one of them is always zero. Once ended it rings until somebody acknowledges it.
    """

    id: str
    name: str
    kind: CountdownKind
    ends_at: datetime | None
    left: timedelta
    over: timedelta
    state: CountdownState

    @property
    def words(self) -> str:
        """How it stands, in words: ``12 min left``, ``ended 3 min ago``."""
        if self.state == "paused":
            return f"paused, {format_duration(self.left)} left"
        if self.state == "running":
            return f"{format_duration(self.left)} left"
        return f"ended {format_duration(self.over)} ago"


def countdowns(
    state: ShopState, routes: Mapping[str, Route], now: datetime
) -> tuple[Countdown, ...]:
    """Every countdown at ``now``: ringing first, then running by what ends soonest.

    Computed from due instants alone, so a restart, a sleep or a corrected clock leaves them
    right. An own timer heard longer than ``HEARD_STAYS`` ago is left out.
    """
    found = [_own(timer, now) for timer in state.timers.values() if not _is_past(timer, now)]
    for hide in state.hides.values():
        found += _coat_wait(hide, routes, state.heard, now)
    return tuple(sorted(found, key=_urgency))


def _urgency(countdown: Countdown) -> tuple[int, timedelta, str]:
    return _ORDER[countdown.state], countdown.left - countdown.over, countdown.id


def _is_past(timer: TimerState, now: datetime) -> bool:
    heard_at, ends_at = timer.acknowledged_at, timer.ends_at
    if heard_at is None or ends_at is None or heard_at < ends_at:
        return False
    return now - heard_at > HEARD_STAYS


def _own(timer: TimerState, now: datetime) -> Countdown:
    if timer.ends_at is None:
        return Countdown(
            id=timer.id,
            name=timer.name,
            kind="own",
            ends_at=None,
            left=timedelta(seconds=max(0.0, timer.left_s or 0.0)),
            over=_NOTHING,
            state="paused",
        )
    return _towards(timer.id, timer.name, "own", timer.ends_at, timer.acknowledged_at, now)


def _coat_wait(
    hide: HideState, routes: Mapping[str, Route], heard: Mapping[str, datetime], now: datetime
) -> Iterator[Countdown]:
    """The wait of a hide between two coats, if it is in one."""
    route = routes.get(hide.route)
    stage = next((s for s in route.stages if s.id == hide.stage), None) if route else None
    given = len(hide.coats_at)
    if stage is None or stage.coats is None or not given or not hide.in_work:
        return
    if coats_left(stage.coats, given):
        name = coat_wait_id(hide.id, stage.id, given + 1)
        ends_at = hide.coats_at[-1] + stage.coats.wait_target
        shown = f"{hide.name}: coat {given + 1} of {stage.coats.count}"
        yield _towards(name, shown, "coat", ends_at, heard.get(name), now)


def _towards(
    name: str,
    shown: str,
    kind: CountdownKind,
    ends_at: datetime,
    heard_at: datetime | None,
    now: datetime,
) -> Countdown:
    # Heard before it ended was heard for another end: the timer was set anew since.
    heard = heard_at is not None and heard_at >= ends_at
    ended: CountdownState = "heard" if heard else "ringing"
    return Countdown(
        id=name,
        name=shown,
        kind=kind,
        ends_at=ends_at,
        left=max(ends_at - now, _NOTHING),
        over=max(now - ends_at, _NOTHING),
        state="running" if now < ends_at else ended,
    )
