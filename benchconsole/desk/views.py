"""What the desk hands to a screen: whole pictures, frozen, with nothing left to work out."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Literal

from benchconsole.mixing.weighing import Bench, OverPour, Pour, WeighedLine
from benchconsole.model.record import Record
from benchconsole.model.state import HideState
from benchconsole.model.weighing import Liquor, WeighOut
from benchconsole.schedule import Action, Allowed
from benchconsole.schedule.planning.plans import Given, Round


class HideRow(Record, frozen=True, kw_only=True):
    """One line of the hide list; ``allowed`` are the taps that would be taken now."""

    hide: HideState
    action: Action
    allowed: frozenset[Allowed]


Place = Literal["before", "done", "skipped", "here", "ahead"]
"""Where a stage of the route lies for a hide; ``before``: it came in past this one."""


class Landmark(Record, frozen=True, kw_only=True):
    """A stage of the route, and where it lies for the hide."""

    stage: str
    name: str
    place: Place


class HideCard(Record, frozen=True, kw_only=True):
    """Everything about one hide: ``history`` is (instant, words), oldest first.

    ``spoiled`` says which of its ``liquors`` can no longer be used, and why.
    """

    hide: HideState
    action: Action
    route_name: str
    stages: tuple[Landmark, ...]
    liquors: tuple[Liquor, ...]
    spoiled: dict[str, str]
    history: tuple[tuple[datetime, str], ...]


class WeighOutView(Record, frozen=True, kw_only=True):
    """A weigh-out at its present tap: one of ``pour`` and ``over``, or ``done``.

    ``lines`` are all lines of the plan as they stand, in its order. ``coat_g`` is what each
    coat of a dressing takes of what is in (None: it has no coats).
    """

    weigh_out: WeighOut
    bench: Bench
    pour: Pour | None
    over: OverPour | None
    done: bool
    lines: tuple[WeighedLine, ...]
    coat_g: float | None


class RoundLine(Record, frozen=True, kw_only=True):
    """One attention on the way round: ``vessel`` is the kind it lies in, ``count`` the skins.

    ``last`` is when it was given last, None if not since it is wanted, from ``since``. ``work`` is
    its hands-on time. ``needed``: it cannot wait for the round after this one.
    """

    given: Given
    count: int
    vessel: str
    stage_name: str
    since: datetime
    last: datetime | None
    every: timedelta
    at_most: timedelta
    work: timedelta
    needed: bool


class RoundSheet(Record, frozen=True, kw_only=True):
    """A walk now: ``round`` gives what is needed, ``then`` is the round after (None: none)."""

    round: Round
    lines: tuple[RoundLine, ...]
    then: datetime | None


class DayLine(Record, frozen=True, kw_only=True):
    """The line on top: the hour, how long the shop is open, what calls.

    ``round_at`` is when the next round is due (None: nothing is tended), for ``round_hides``.
    """

    now: datetime
    open_until: datetime | None
    opens_at: datetime | None
    overdue: int
    due: int
    running: int
    ringing: int
    round_at: datetime | None = None
    round_hides: int = 0
    away: bool = False
