"""What still counts when a person moves a hide off its way: to another route, out of a liquor."""

from __future__ import annotations

from datetime import datetime

from benchconsole.model.routes import Route, Stage
from benchconsole.model.state import HideState


def attended_there(hide: HideState, old: Stage | None, new: Stage) -> dict[int, datetime]:
    """When the attentions of ``new`` were last given, as far as the hide's own stage had the like.

    The same words mean the same attention; else any handling of the hide counts for what
    looking at it gives by the way.
    """
    given = {} if old is None else _given(hide, old)
    handled = [at for do, at in given.items() if not _is_own_act(old, do)]
    found: dict[int, datetime] = {}
    for place, attention in enumerate(new.attend):
        if attention.do in given:
            found[place] = given[attention.do]
        elif handled and not attention.own_act:
            found[place] = max(handled)
    return found


def _given(hide: HideState, stage: Stage) -> dict[str, datetime]:
    return {
        attention.do: hide.attended_at[place]
        for place, attention in enumerate(stage.attend)
        if place in hide.attended_at
    }


def _is_own_act(stage: Stage | None, do: str) -> bool:
    return stage is not None and any(each.do == do and each.own_act for each in stage.attend)


def lies_in_it(hide: HideState, route: Route | None, liquor: str) -> bool:
    """Whether a hide in work lies in a liquor; a dressing went on the skin, and nothing lies in it.

    A stage that the library no longer has is taken for a bath: better one warning too many.
    """
    if not hide.in_work or hide.lies_in_liquor != liquor:
        return False
    name = hide.stage if hide.begun_at else hide.left_stage
    stages = route.stages if route is not None else ()
    stage = next((stage for stage in stages if stage.id == name), None)
    return stage is None or stage.coats is None
