"""What an action allows, and the events an act writes; whether they are stored is not here."""

from __future__ import annotations

from typing import Literal

from benchconsole.errors import NotPossibleNow
from benchconsole.model.events import Attended, CheckFailed, CoatGiven, Event, StageBegun, StageLeft
from benchconsole.model.routes import Route, Stage
from benchconsole.model.state import HideState
from benchconsole.schedule.actions import Action
from benchconsole.schedule.coats import coats_left

Allowed = Literal["done", "passed", "not-yet", "attended"]


def allowed_acts(action: Action, *others: Action) -> frozenset[Allowed]:
    """What may be noted about a hide whose action this is; ``others`` are its further open ones.

    ``done`` is about the action itself; ``passed`` and ``not-yet`` answer the look wherever it
    stands in the row, so also while an attention comes first. Acts are allowed early, because
    the hide decides: the action's ``why`` says it is early. A finished hide, or one without
    its route, allows none.
    """
    if action.kind == "none":
        return frozenset()
    acts: set[Allowed] = {"done"}
    for each in (action, *others):
        if each.kind == "check":
            acts.add("passed")
        if each.kind == "check" and each.check:
            acts.add("not-yet")
        if each.attention is not None:
            acts.add("attended")
    return frozenset(acts)


def events_for_done(
    hide: HideState, route: Route, action: Action, liquor: str = ""
) -> tuple[Event, ...]:
    """The events of doing an action, early or late; ``liquor`` is the mix that began the stage.

    A stage that asks for no time, no further coat and no look is left as soon as it is begun.
    Raises NotPossibleNow if the hide is past the action, or there is nothing to do.
    """
    stage = _stage(hide, route, action, "done")
    if action.kind == "begin":
        begun = StageBegun(hide=hide.id, stage=stage.id, liquor=liquor)
        return (begun, *_left_if_over(hide, route, stage, coats=1))
    if action.kind == "coat":
        coat = CoatGiven(hide=hide.id, stage=stage.id, coat=action.coat)
        return (coat, *_left_if_over(hide, route, stage, coats=action.coat))
    if action.kind == "check":
        return (_left(hide, route, stage),)
    return events_for_attended(hide, route, action)


def events_for_not_yet(hide: HideState, route: Route, action: Action) -> tuple[Event, ...]:
    """The event of a look that said "not yet".

    Raises NotPossibleNow if the action is no check.
    """
    stage = _stage(hide, route, action, "not-yet")
    return (CheckFailed(hide=hide.id, stage=stage.id),)


def events_for_attended(hide: HideState, route: Route, action: Action) -> tuple[Event, ...]:
    """The event of giving the attention that is due, or the next one if none is.

    Raises NotPossibleNow if no hold runs or it asks for no attention.
    """
    stage = _stage(hide, route, action, "attended")
    attention = action.attention
    if attention is None or attention >= len(stage.attend):
        raise NotPossibleNow(_REFUSALS["attended"].format(name=hide.name))
    return (Attended(hide=hide.id, stage=stage.id, attention=attention),)


_REFUSALS: dict[Allowed, str] = {
    "done": "“{name}” has nothing to be done now.",
    "not-yet": "“{name}” has no check to answer now; first note what comes next for it.",
    "attended": "“{name}” has nothing to be stirred, turned or tended now.",
}


def _stage(hide: HideState, route: Route, action: Action, act: Allowed) -> Stage:
    """The stage of an act that still fits the hide; a tap that comes twice is refused here."""
    if act not in allowed_acts(action):
        raise NotPossibleNow(_REFUSALS[act].format(name=hide.name))
    stage = next((stage for stage in route.stages if stage.id == hide.stage), None)
    if stage is None or not _still_fits(hide, stage, action):
        raise NotPossibleNow(f"“{hide.name}” has moved on since; look at what comes next for it.")
    return stage


def _still_fits(hide: HideState, stage: Stage, action: Action) -> bool:
    if (action.hide, action.stage) != (hide.id, stage.id):
        return False
    if action.kind == "begin":
        return hide.begun_at is None
    if action.kind == "coat":
        return hide.begun_at is not None and action.coat == len(hide.coats_at) + 1
    return hide.begun_at is not None and not coats_left(stage.coats, len(hide.coats_at))


def _left_if_over(
    hide: HideState, route: Route, stage: Stage, *, coats: int
) -> tuple[StageLeft, ...]:
    asks_for_time = stage.hold_for(hide.species, hide.came) is not None or stage.check is not None
    if asks_for_time or coats_left(stage.coats, coats):
        return ()
    return (_left(hide, route, stage),)


def _left(hide: HideState, route: Route, stage: Stage) -> StageLeft:
    following = route.after(stage.id)
    return StageLeft(hide=hide.id, stage=stage.id, next=following.id if following else "")
