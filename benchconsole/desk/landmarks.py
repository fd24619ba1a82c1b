"""Where a hide stands on its route, stage by stage, as its card shows it."""

from __future__ import annotations

from collections.abc import Collection

from benchconsole.desk.views import Landmark, Place
from benchconsole.model.routes import Route


def landmarks(
    route: Route, stage: str, entered: str, been: Collection[str]
) -> tuple[Landmark, ...]:
    """Every stage with its place: before the hide came in at ``entered``, done, here or ahead.

    ``been`` are the stages it was in. What lies behind it, where it came in or after, and it
    never was in, was skipped. A hide whose ``stage`` the route does not have (it is finished)
    has them all behind it.
    """
    names = [each.id for each in route.stages]
    here = names.index(stage) if stage in names else len(names)
    first = names.index(entered) if entered in names else 0
    return tuple(
        Landmark(stage=each.id, name=each.name, place=_place(place, first, here, each.id in been))
        for place, each in enumerate(route.stages)
    )


def _place(place: int, first: int, here: int, was_in: bool) -> Place:
    if place == here:
        return "here"
    if place > here:
        return "ahead"
    if was_in:
        return "done"
    return "skipped" if place >= first else "before"
