"""Beginning a stage: how long the hide may lie where it is, and what spoils if it lies longer."""

from __future__ import annotations

from datetime import datetime, timedelta

from msgspec.structs import replace

from benchconsole.model.events import Lying
from benchconsole.model.routes import Route, Stage
from benchconsole.model.state import HideState
from benchconsole.quantities import format_duration
from benchconsole.schedule.actions import Action
from benchconsole.schedule.presence import time_there
from benchconsole.schedule.standing import Act, Standing
from benchconsole.schedule.windows import as_asked


def begin_action(standing: Standing) -> Action:
    """The act that begins the stage a hide has arrived at.

    It may be done at once and is due at once, unless the hide lies in a stage that keeps it:
    then the person chooses, and it is due only when keeping ends. A start that the person has
    chosen is when it is due, whatever the hours. What lies in a spoiled liquor is due at once.
    Other due times leave room before closing for what follows at once, see :func:`time_there`.
    """
    hide, stage = standing.hide, standing.stage
    lying = lying_in(hide, standing.route)
    if hide.spoiled_at is not None:
        lying = None if lying is None or lying.keeps else lying
    latest, harm = _limit(standing, lying)
    if hide.start_at is not None:
        return _chosen_start(standing, hide.start_at, latest, harm)
    if hide.spoiled_at is not None:
        return _out_of_the_spoiled(standing, hide.spoiled_at, latest, harm)
    stored = lying is not None and lying.keeps and latest is not None
    due = latest if stored and latest is not None else hide.arrived_at
    there = time_there(stage, hide.species, hide.came)
    window = standing.inside_hours(hide.arrived_at, due, latest, there=there)
    act = Act(
        kind="begin",
        words=stage.do,
        because=_because(standing, lying, latest, stored=stored),
        early="",
        harm=harm,
        stored=stored,
    )
    return standing.action(act, window)


def lying_in(hide: HideState, route: Route) -> Lying | None:
    """Where a hide lies until its stage begins, and how long it may; None before its first.

    Where the stage it has passed keeps, this counts from its passing; else the maximum of the
    hold still counts, as it does where a person took the hide on before it passed. For a hide
    that is in a stage this is the stage itself.
    """
    if hide.begun_at is None and hide.lying is not None:
        return hide.lying
    name = hide.stage if hide.begun_at else hide.left_stage
    stage = next((stage for stage in route.stages if stage.id == name), None)
    if stage is None:
        return None
    keeps, until = False, None
    since = hide.hold_from if hide.begun_at else hide.left_hold_from
    hold = stage.hold_for(hide.species, hide.came)
    if stage.keeps is not None and hide.begun_at is None and hide.left_at is not None:
        keeps, until = stage.keeps > timedelta(0), hide.left_at + stage.keeps
    elif hold is not None and since is not None:
        until = since + hold.max
    return Lying(
        stage=stage.name, until=until, spoils=stage.late, inspect=stage.inspect, keeps=keeps
    )


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


def _out_of_the_spoiled(
    standing: Standing, spoiled_at: datetime, latest: datetime | None, harm: Stage
) -> Action:
    """Out of the spoiled liquor now, and on: into a fresh one where the stage begins again."""
    hide, stage = standing.hide, standing.stage
    again = hide.left_stage == stage.id and bool(stage.mix_for(hide.came))
    fresh = "; make a fresh one" if again else ""
    window = standing.inside_hours(hide.arrived_at, max(hide.arrived_at, spoiled_at), latest)
    act = Act(
        kind="begin",
        words=f"Take it out of the spoiled liquor{fresh}. {stage.do}",
        because=f"its liquor was found spoiled {standing.wall(spoiled_at)}: {hide.spoiled_why}",
        early="",
        harm=harm,
    )
    return standing.action(act, window)


def _limit(standing: Standing, lying: Lying | None) -> tuple[datetime | None, Stage]:
    """The latest beginning, and the stage that says what spoils after it.

    A limit of the stage before that had passed when the hide left it is no limit any more:
    the hide was looked at then and let pass.
    """
    hide = standing.hide
    latest, harm = None, standing.stage
    soon = standing.stage.soon
    passed = hide.left_at or hide.arrived_at
    # What came in salted or dried is in no hurry before its first stage; a green hide is.
    if soon is not None and _has_begun(hide):
        latest = hide.arrived_at + soon
    elif soon is not None and hide.came == "green":
        latest = passed + soon
    until = None if lying is None else lying.until
    if lying is not None and until is not None and until > passed:
        there = replace(standing.stage, late=lying.spoils, inspect=lying.inspect)
        return (until, there) if latest is None or until < latest else (latest, harm)
    return latest, harm


def _has_begun(hide: HideState) -> bool:
    """Whether the hide was in any stage before the one it is to begin."""
    return bool(hide.left_stage) or hide.lying is not None


def _because(
    standing: Standing, lying: Lying | None, latest: datetime | None, *, stored: bool
) -> str:
    hide = standing.hide
    arrived = standing.wall(hide.arrived_at)
    if stored and lying is not None and lying.until is not None:
        passed = hide.left_at or hide.arrived_at
        keeps, from_then = format_duration(lying.until - passed), standing.wall(passed)
        return f"it keeps in “{lying.stage}” for {keeps} from {from_then}; start when it suits"
    since = f"“{lying.stage}” is done since {arrived}" if lying else f"taken in {arrived}"
    if hide.moved:
        since = f"moved here {arrived}" + (f" from “{lying.stage}”" if lying else "")
    return since if latest is None else f"{since}; it may lie until {standing.wall(latest)}"
