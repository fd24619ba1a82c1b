"""Beginning a stage: how long the hide may lie where it is, and what spoils if it lies longer."""

from __future__ import annotations

from datetime import datetime, timedelta

from benchconsole.model.routes import Stage
from benchconsole.quantities import format_duration
from benchconsole.schedule.actions import Action
from benchconsole.schedule.presence import time_there
from benchconsole.schedule.standing import Act, Standing
from benchconsole.schedule.windows import as_asked


def begin_action(standing: Standing) -> Action:
    """The act that begins the stage a hide has arrived at.

    It may be done at once and is due at once, unless the hide lies in a stage that keeps it:
    then the person chooses, and it is due only when keeping ends. A start that the person has
    chosen is when it is due, whatever the hours. Other due times leave room before closing for
    what follows at once, see :func:`time_there`.
    """
    hide, stage = standing.hide, standing.stage
    left = _left_stage(standing)
    latest, harm = _limit(standing, left)
    if hide.start_at is not None:
        return _chosen_start(standing, hide.start_at, latest, harm)
    keeps = left is not None and _keeps(left)
    stored = keeps and latest is not None
    due = latest if stored and latest is not None else hide.arrived_at
    there = time_there(stage, hide.species, hide.came)
    window = standing.inside_hours(hide.arrived_at, due, latest, there=there)
    act = Act(
        kind="begin",
        words=stage.do,
        because=_because(standing, left, latest, stored=stored),
        early="",
        harm=harm,
        stored=stored,
    )
    return standing.action(act, window)


def _chosen_start(
    standing: Standing, start_at: datetime, latest: datetime | None, harm: Stage
) -> Action:
    """The beginning at the time the person chose; no choice puts it off past its latest."""
    arrived = standing.hide.arrived_at
    due = start_at if latest is None else min(start_at, latest)
    because = f"you chose to begin it {standing.wall(start_at)}"
    if due < start_at:
        because += f", but it may lie no longer than {standing.wall(due)}"
    elif latest is not None:
        because += f"; it may lie until {standing.wall(latest)}"
    if not standing.hours.is_open(due):
        because += "; the shop is closed then"
    act = Act(
        kind="begin", words=standing.stage.do, because=because, early="", harm=harm, stored=True
    )
    return standing.action(act, as_asked(arrived, due, latest))


def _left_stage(standing: Standing) -> Stage | None:
    left = standing.hide.left_stage
    return next((stage for stage in standing.route.stages if stage.id == left), None)


def _keeps(left: Stage) -> bool:
    return left.keeps is not None and left.keeps > timedelta(0)


def _limit(standing: Standing, left: Stage | None) -> tuple[datetime | None, Stage]:
    """The latest beginning, and the stage that says what spoils after it.

    A limit of the stage before that had passed when the hide left it is no limit any more:
    the hide was looked at then and let pass.
    """
    arrived = standing.hide.arrived_at
    latest, harm = None, standing.stage
    soon = standing.stage.soon
    # What came in salted or dried is in no hurry before its first stage; a green hide is.
    if soon is not None and (left is not None or standing.hide.came == "green"):
        latest = arrived + soon
    in_left = _limit_in(standing, left)
    if left is not None and in_left is not None and in_left > arrived:
        return (in_left, left) if latest is None or in_left < latest else (latest, harm)
    return latest, harm


def _limit_in(standing: Standing, left: Stage | None) -> datetime | None:
    """How long the hide may stay in the stage it has passed.

    Where it keeps, this counts from its passing; else the hold's maximum still counts.
    """
    if left is None:
        return None
    if left.keeps is not None:
        return standing.hide.arrived_at + left.keeps
    hold = left.hold_for(standing.hide.species, standing.hide.came)
    begun = standing.hide.left_hold_from
    return None if hold is None or begun is None else begun + hold.max


def _because(
    standing: Standing, left: Stage | None, latest: datetime | None, *, stored: bool
) -> str:
    arrived = standing.wall(standing.hide.arrived_at)
    if stored and left is not None and left.keeps is not None:
        keeps = format_duration(left.keeps)
        return f"it keeps in “{left.name}” for {keeps} from {arrived}; start when it suits"
    since = f"“{left.name}” is done since {arrived}" if left else f"taken in {arrived}"
    return since if latest is None else f"{since}; it may lie until {standing.wall(latest)}"
