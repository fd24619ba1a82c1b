"""The next action of one hide."""

from __future__ import annotations

from datetime import datetime, timedelta

from benchconsole.model.routes import Route
from benchconsole.model.state import HideState
from benchconsole.quantities import format_duration
from benchconsole.schedule.actions import Action, ActionState
from benchconsole.schedule.beginnings import begin_action
from benchconsole.schedule.coats import coat_action, coats_left
from benchconsole.schedule.holds import hold_actions
from benchconsole.schedule.hours import Hours
from benchconsole.schedule.standing import Standing


def next_action(hide: HideState, route: Route, *, hours: Hours, now: datetime) -> Action:
    """What a hide needs next, when, why then and what spoils; ``now`` aware, UTC.

    Never raises for a history, however odd: a hide that is late says what to inspect, one
    whose stage the route no longer has says that. The same facts give the same windows
    whatever ``now`` is, apart from which of several due things comes first.
    """
    return _asked(hide, route, hours, now, only_first=True)[0]


def open_actions(
    hide: HideState, route: Route, *, hours: Hours, now: datetime
) -> tuple[Action, ...]:
    """Everything a hide asks for now, the next action in front.

    More than one only while a hold runs: its attentions and the look that ends it. For
    letting a hide pass its check while an attention is what comes next.
    """
    return _asked(hide, route, hours, now, only_first=False)


def lost_action(hide: HideState, now: datetime, route: Route | None = None) -> Action:
    """For a hide whose route, or whose stage in ``route``, the library no longer has."""
    missing = (
        f"Its route “{hide.route}” is not in the library"
        if route is None
        else f"Its stage “{hide.stage}” is not in the route “{route.name}”"
    )
    return Action(
        hide=hide.id,
        hide_name=hide.name,
        stage=hide.stage,
        stage_name=hide.stage,
        kind="none",
        action=f"{missing}: bring the file back or note where it stands.",
        earliest=hide.arrived_at,
        due=hide.arrived_at,
        latest=None,
        ideal=hide.arrived_at,
        state="due",
        why="Without its route nothing can be said about its times; it came to this stage "
        f"{format_duration(max(now - hide.arrived_at, timedelta(0)))} ago.",
        spoils="",
    )


def finished_action(hide: HideState) -> Action:
    """For a hide that has every stage behind it; its route need not be known any more."""
    at = hide.finished_at or hide.arrived_at
    return _nothing_asked(hide, at, "finished", "Finished.", "Every stage of its route is done.")


def out_action(hide: HideState) -> Action:
    """For a hide that was taken out of work: nothing is asked for."""
    words = f"Out of work: {hide.out_why.rstrip('.')}."
    why = "It was taken out of work; its record stays."
    return _nothing_asked(hide, hide.out_at or hide.arrived_at, "out", words, why)


def _nothing_asked(
    hide: HideState, at: datetime, state: ActionState, words: str, why: str
) -> Action:
    return Action(
        hide=hide.id,
        hide_name=hide.name,
        stage="",
        stage_name="",
        kind="none",
        action=words,
        earliest=at,
        due=at,
        latest=None,
        ideal=at,
        state=state,
        why=why,
        spoils="",
    )


def _asked(
    hide: HideState, route: Route, hours: Hours, now: datetime, *, only_first: bool
) -> tuple[Action, ...]:
    if hide.out_at is not None:
        return (out_action(hide),)
    if not hide.stage:
        return (finished_action(hide),)
    stage = next((stage for stage in route.stages if stage.id == hide.stage), None)
    if stage is None:
        return (lost_action(hide, now, route),)
    standing = Standing(hide=hide, route=route, stage=stage, hours=hours, now=now)
    if hide.begun_at is None:
        return (begin_action(standing),)
    if stage.coats is not None and coats_left(stage.coats, len(hide.coats_at)):
        return (coat_action(standing, stage.coats),)
    return hold_actions(standing, only_first=only_first)
