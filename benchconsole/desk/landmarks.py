"""Where a hide stands on its route, stage by stage, as its card shows it."""

from __future__ import annotations

from typing import Literal

from benchconsole.desk.views import Landmark
from benchconsole.model.routes import Route


def landmarks(route: Route, stage: str, entered: str) -> tuple[Landmark, ...]:
    """Every stage with its place: before the hide came in at ``entered``, done, here or ahead.

    A hide whose ``stage`` the route does not have (it is finished) has done them all.
    """
    names = [each.id for each in route.stages]
    here = names.index(stage) if stage in names else len(names)
    first = names.index(entered) if entered in names else 0
    return tuple(
        Landmark(stage=each.id, name=each.name, place=_place(place, first, here))
        for place, each in enumerate(route.stages)
    )


def _place(place: int, first: int, here: int) -> Literal["before", "done", "here", "ahead"]:
    if place == here:
        return "here"
    if place > here:
        return "ahead"
    return "done" if place >= first else "before"
