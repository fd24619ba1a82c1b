"""What still lies before a hide, as a chain of visits on the planner's grid.

A visit is one act of hands: the look that lets a hide go on and the beginning of its next stage
at once after it; a further coat; or a look alone, where the hide may then wait or is finished.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from typing import NamedTuple

from benchconsole.model.routes import Route, Stage
from benchconsole.model.state import HideState
from benchconsole.quantities import format_duration
from benchconsole.schedule.actions import Action
from benchconsole.schedule.beginnings import lying_in
from benchconsole.schedule.coats import coats_left
from benchconsole.schedule.hours import Hours
from benchconsole.schedule.next_action import open_actions
from benchconsole.schedule.planning.plans import VisitKind
from benchconsole.schedule.planning.problems import SLOT_MINUTES, Chain, Step
from benchconsole.schedule.planning.stakes import STAKES
from benchconsole.schedule.presence import is_stayed_for
from benchconsole.schedule.wording import ordinal

SLOT = timedelta(minutes=SLOT_MINUTES)

LOOK = timedelta(minutes=5)
"""Hands-on time of a look; common practice, no source."""

EARLY_COST = 25
"""Of a minute before a hold's target, half that of a minute past it; our own choice. A hold is cut
short only where waiting costs more."""

_NOTHING = timedelta(0)

Window = tuple[timedelta, timedelta, timedelta | None]
"""Earliest, due and latest, counted from the end of the visit before or the start of the plan."""


class Meaning(NamedTuple):
    """What a step of the chain is: the act, and the stage whose limit its lateness oversteps."""

    kind: VisitKind
    stage: Stage
    number: int
    words: str
    harm: Stage
    looks: Stage | None = None
    in_store: bool = False


class Course(NamedTuple):
    """A hide, its chain, and what each of its steps means.

    ``limits`` are the latest times of the steps as they are, which on the grid are cut to slots.
    ``lies_in`` names the stage it lies in, ``since`` is when that began to count. ``unplanned``
    says why the chain is empty; both can be empty where the next visit is too far off: then the
    hide takes a vessel of the kind ``rests_in`` all the time (empty: none).
    """

    hide: HideState
    chain: Chain | None
    meanings: tuple[Meaning, ...]
    lies_in: str
    since: datetime | None
    in_store: bool = False
    unplanned: str = ""
    rests_in: str = ""
    limits: tuple[timedelta | None, ...] = ()

    def step(self, place: int) -> Step:
        """The step of the chain at a place; IndexError if the chain is shorter or empty."""
        return self.chain.steps[place] if self.chain is not None else ()[place]

    def limit(self, place: int) -> timedelta | None:
        """The latest time of a step to the minute, counted as its window is; None without one."""
        most, limit = self.step(place).most, self.limits[place] or _NOTHING
        return None if most is None else max(limit - limit % timedelta(minutes=1), most * SLOT)


class _Part(NamedTuple):
    work: timedelta
    window: Window
    meaning: Meaning
    stay: timedelta = _NOTHING
    early: int = 0


def course_of(
    hide: HideState,
    route: Route | None,
    *,
    hours: Hours,
    start: datetime,
    now: datetime,
    until: datetime,
    stretch: timedelta,
    drying: Window | None = None,
) -> Course | None:
    """What lies before a hide up to ``until``; None for one that is finished.

    ``start`` is the first instant of the grid, ``stretch`` the longest time the shop is open at
    a stretch: work that is longer is cut to it. ``drying`` is a forecast of when the present
    hold ends, counted from ``start``.
    """
    if not hide.in_work:
        return None
    stages = route.stages if route is not None else ()
    stage = next((each for each in stages if each.id == hide.stage), None)
    if route is None or stage is None:
        words = "its route, or its stage in it, is not in the library"
        return Course(hide, None, (), hide.stage, None, unplanned=words)
    if stretch <= _NOTHING:
        words = "the shop has no open hours in the coming time"
        return Course(hide, None, (), stage.name, None, unplanned=words)
    asked = open_actions(hide, route, hours=hours, now=now)
    first = next((action for action in asked if action.kind in ("begin", "coat", "check")), None)
    if first is None:
        return Course(hide, None, (), stage.name, None, unplanned=asked[0].action)
    parts = _within(_parts(hide, route, stage, first, start, drying), until - start)
    lies_in, kind = _where(hide, route, stage)
    chain = None
    if parts:
        # A lot takes one vessel of every kind: its skins share the tub and the row of boards.
        steps = tuple(_step(part, stretch) for part in parts)
        chain = Chain(id=hide.id, steps=steps, lies_in=kind)
    meanings = tuple(part.meaning for part in parts)
    since = hide.hold_from or hide.arrived_at
    return Course(
        hide,
        chain,
        meanings,
        lies_in,
        since,
        in_store=first.state == "stored",
        rests_in="" if parts else kind,
        limits=tuple(part.window[2] for part in parts),
    )


def _where(hide: HideState, route: Route, stage: Stage) -> tuple[str, str]:
    """The stage a hide lies in, by name, and the kind of vessel it takes there."""
    if hide.begun_at is not None:
        return stage.name, stage.vessel
    lying = lying_in(hide, route)
    left = next((each for each in route.stages if each.id == hide.left_stage), None)
    if lying is None or left is None:
        return "", ""
    # What may be kept was taken off its board or out of its tub when it was let pass.
    return left.name, "" if lying.keeps else left.vessel


def _parts(
    hide: HideState,
    route: Route,
    stage: Stage,
    first: Action,
    start: datetime,
    drying: Window | None,
) -> Iterator[_Part]:
    """All visits still to come, the first by what the next action says."""
    latest = None if first.latest is None else first.latest - start
    # A start that the person has chosen is not for the planner to move forward.
    earliest = first.ideal if hide.start_at is not None else first.earliest
    window: Window = (earliest - start, first.ideal - start, latest)
    if first.kind == "check":
        if drying is not None:
            window = drying
        early = EARLY_COST
        yield from _looked(hide, route, stage, window, early)
        return
    harm = _harm_of(hide, route, stage, first)
    if first.kind == "begin":
        yield _begun(stage, window, 0, harm, in_store=first.state == "stored")
        yield from _after_begun(hide, route, stage, 1)
    else:
        yield _coat(stage, first.coat, window)
        yield from _after_begun(hide, route, stage, first.coat)


def _harm_of(hide: HideState, route: Route, stage: Stage, first: Action) -> Stage:
    left = next((each for each in route.stages if each.id == hide.left_stage), None)
    return left if left is not None and first.spoils == left.late != stage.late else stage


def _begun(
    stage: Stage,
    window: Window,
    early: int,
    harm: Stage,
    looks: Stage | None = None,
    *,
    in_store: bool = False,
) -> _Part:
    look = looks is not None and looks.check is not None
    words = f"{looks.check.ask} Then: {stage.do}" if looks and looks.check else stage.do
    stays = [each.until for each in stage.attend if each.until and is_stayed_for(each)]
    return _Part(
        stage.work + (LOOK if look else _NOTHING),
        window,
        Meaning("begin", stage, 1, words, harm, looks, in_store),
        max(stays, default=_NOTHING),
        early,
    )


def _coat(stage: Stage, coat: int, window: Window) -> _Part:
    count = stage.coats.count if stage.coats else coat
    words = f"{ordinal(coat)} of {count} coats, shaken again."
    return _Part(stage.work, window, Meaning("coat", stage, coat, words, stage))


def _after_begun(hide: HideState, route: Route, stage: Stage, coats: int) -> Iterator[_Part]:
    """What follows a stage's beginning: its further coats, the end of its hold, and on."""
    if stage.coats is not None:
        waits = stage.coats
        wait: Window = (waits.wait_min, waits.wait_target, waits.wait_max)
        for coat in range(coats + 1, coats + 1 + coats_left(waits, coats)):
            yield _coat(stage, coat, wait)
    hold = stage.hold_for(hide.species, hide.came)
    if hold is not None:
        yield from _looked(hide, route, stage, (hold.min, hold.target, hold.max), EARLY_COST)
    elif stage.check is not None:
        yield from _looked(hide, route, stage, (_NOTHING, _NOTHING, None), 0)
    else:
        yield from _onward(hide, route, stage)


def _looked(
    hide: HideState, route: Route, stage: Stage, window: Window, early: int
) -> Iterator[_Part]:
    """The end of a hold: the look and, unless the hide may then wait, its next stage at once."""
    following = route.after(stage.id)
    if following is None or stage.keeps:
        ask = stage.check.ask if stage.check else "Time is up."
        yield _Part(LOOK, window, Meaning("check", stage, 1, ask, stage, stage), early=early)
        if following is not None:
            yield from _onward(hide, route, stage)
        return
    yield _begun(following, window, early, stage, stage)
    yield from _after_begun(hide, route, following, 1)


def _onward(hide: HideState, route: Route, stage: Stage) -> Iterator[_Part]:
    """From a stage that is passed to the next: at once, or when it suits where it keeps."""
    following = route.after(stage.id)
    if following is None:
        return
    harm = stage if stage.keeps else following
    limits = [limit for limit in (stage.keeps, following.soon) if limit is not None]
    latest = min(limits, default=None)
    due = latest if stage.keeps and latest is not None else _NOTHING
    stored = bool(stage.keeps)
    yield _begun(following, (_NOTHING, due, latest), 0, harm, in_store=stored)
    yield from _after_begun(hide, route, following, 1)


def _within(parts: Iterator[_Part], span: timedelta) -> list[_Part]:
    """The visits that can begin in time: what lies further off is planned another day."""
    kept: list[_Part] = []
    soonest = _NOTHING
    for part in parts:
        least, due, _ = part.window
        soonest = max(soonest, _NOTHING) + (least if part.meaning.in_store else max(least, due))
        if soonest + part.work > span:
            break
        kept.append(part)
        soonest += part.work
    return kept


def _step(part: _Part, stretch: timedelta) -> Step:
    longest = max(1, stretch // SLOT)
    work = min(max(1, -(-part.work // SLOT)), longest)
    earliest, due, latest = part.window
    least = -(-earliest // SLOT)
    wished = -(-due // SLOT)
    if latest is not None and latest >= due:
        # Rounded up to the next quarter it could come to lie past the latest time.
        wished = min(wished, latest // SLOT)
    target = max(least, wished)
    most = None if latest is None else max(target, latest // SLOT)
    return Step(
        work=work,
        least=least,
        target=target,
        most=most,
        vessel=part.meaning.stage.vessel if part.meaning.kind != "check" else "",
        stay=min(-(-part.stay // SLOT), longest - work),
        stake=STAKES[part.meaning.harm.stake],
        early=part.early,
    )


def too_long(meaning: Meaning, stretch: timedelta) -> str:
    """What to say of work that is longer than the shop is ever open; empty if it is not."""
    over = meaning.stage.work - stretch
    if meaning.kind == "check" or over <= _NOTHING:
        return ""
    return f"somebody must stay {format_duration(over)} after closing"
