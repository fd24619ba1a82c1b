"""What each event changes in where hides stand."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime
from typing import Any

from msgspec.structs import replace

from benchconsole.model.drying import Covered, Weighed
from benchconsole.model.events import (
    Attended,
    CheckFailed,
    CoatGiven,
    CoverChanged,
    DryingWeighed,
    Event,
    HideCorrected,
    HideLost,
    HideTakenIn,
    LiquorSpoiled,
    LotSplit,
    RouteChanged,
    StageBegun,
    StageLeft,
    StageSkipped,
    StartChosen,
)
from benchconsole.model.hide_state import HideState

__all__ = ["CHANGES", "HideChange", "HideState", "hide_taken_in", "split", "spoiled"]


def hide_taken_in(event: HideTakenIn, at: datetime) -> HideState:
    """A hide as it comes into the shop."""
    return HideState(
        id=event.hide,
        name=event.name,
        species=event.species,
        route=event.route,
        came=event.came,
        count=event.count,
        mass_g=event.mass_g,
        stage=event.stage,
        arrived_at=at,
    )


def split(hides: Mapping[str, HideState], event: LotSplit) -> dict[str, HideState]:
    """What comes of a lot of which some skins go on by themselves, at the same stage and times.

    Both parts by their ids; nothing of a lot that is not there, or where the new id is taken.
    Of a lot that was corrected to fewer since, at least one skin stays.
    """
    lot = hides.get(event.hide)
    if lot is None or event.new_hide in hides:
        return {}
    left_g = None if lot.mass_g is None else max(0.0, lot.mass_g - (event.mass_g or 0.0))
    staying = max(1, lot.count - event.count)
    stays = replace(
        lot,
        count=staying,
        mass_g=left_g or None,
        weighed=_share(lot, staying),
        facts=lot.facts + 1,
    )
    goes = replace(
        lot,
        id=event.new_hide,
        name=event.name,
        count=event.count,
        mass_g=event.mass_g,
        weighed=_share(lot, event.count),
        facts=0,
    )
    return {stays.id: stays, goes.id: goes}


def _share(lot: HideState, count: int) -> tuple[Weighed, ...]:
    """What so many skins of a lot had of its weighings: of like skins each the same."""
    share = min(1.0, count / lot.count)
    return tuple(replace(each, mass_g=each.mass_g * share) for each in lot.weighed)


def spoiled(
    hides: Mapping[str, HideState], event: LiquorSpoiled, at: datetime
) -> dict[str, HideState]:
    """The hides told of a spoiled liquor, by id: those in it have their stage to begin again."""
    told = (hides[name] for name in event.hides if name in hides)
    return {hide.id: _in_spoiled(hide, event, at) for hide in told}


def _in_spoiled(hide: HideState, event: LiquorSpoiled, at: datetime) -> HideState:
    hide = replace(hide, facts=hide.facts + 1)
    if hide.lies_in_liquor != event.liquor or not hide.in_work:
        return hide
    found = {"spoiled_at": at, "spoiled_why": event.why}
    if hide.id not in event.out:
        # It is a dressing: what is on the skin stays there, only the rest cannot be used.
        return replace(hide, **found) if hide.begun_at else hide
    if hide.begun_at is None:
        return replace(hide, start_at=None, **found)
    return replace(_about_to_begin(hide, hide.stage, at), **found)


def _corrected(hide: HideState, event: HideCorrected, at: datetime) -> HideState:
    return replace(hide, name=event.name, count=event.count, mass_g=event.mass_g)


def _begun(hide: HideState, event: StageBegun, at: datetime) -> HideState:
    return replace(
        hide,
        stage=event.stage,
        begun_at=at,
        coats_at=(at,),
        failed_at=(),
        attended_at={},
        liquor=event.liquor,
        left_liquor="",
        lying=None,
        moved=False,
        spoiled_at=None,
        spoiled_why="",
        start_at=None,
        covered=(),
    )


def _coat(hide: HideState, event: CoatGiven, at: datetime) -> HideState:
    return replace(hide, coats_at=(*hide.coats_at, at), spoiled_at=None, spoiled_why="")


def _attended(hide: HideState, event: Attended, at: datetime) -> HideState:
    return replace(hide, attended_at={**hide.attended_at, event.attention: at})


def _failed(hide: HideState, event: CheckFailed, at: datetime) -> HideState:
    return replace(hide, failed_at=(*hide.failed_at, at))


def _left(hide: HideState, event: StageLeft, at: datetime) -> HideState:
    return replace(
        hide,
        stage=event.next,
        arrived_at=at,
        begun_at=None,
        coats_at=(),
        failed_at=(),
        attended_at={},
        liquor="",
        left_stage=event.stage,
        left_hold_from=hide.hold_from,
        left_at=at,
        left_liquor=hide.liquor,
        lying=None,
        moved=False,
        spoiled_at=None,
        spoiled_why="",
        finished_at=None if event.next else at,
        start_at=None,
        covered=(),
    )


def _about_to_begin(hide: HideState, stage: str, at: datetime) -> HideState:
    """The hide put at a stage by a person; it lies where it lay, and its limits there count on."""
    was_in = hide.begun_at is not None
    return replace(
        hide,
        stage=stage,
        arrived_at=at,
        begun_at=None,
        coats_at=(),
        failed_at=(),
        attended_at={},
        liquor="",
        left_stage=hide.stage if was_in else hide.left_stage,
        left_hold_from=hide.hold_from if was_in else hide.left_hold_from,
        left_at=None if was_in else _lies_since(hide),
        left_liquor=hide.lies_in_liquor,
        lying=None if was_in else hide.lying,
        moved=True,
        spoiled_at=None if was_in else hide.spoiled_at,
        spoiled_why="" if was_in else hide.spoiled_why,
        finished_at=None if stage else at,
        start_at=None,
        covered=(),
    )


def _lies_since(hide: HideState) -> datetime | None:
    """When a hide that is in no stage passed the one before; what never was in one lies as it came.

    None if a person took it out of that stage before its time.
    """
    was_in_one = hide.left_stage or hide.lying is not None
    return hide.left_at if was_in_one else hide.left_at or hide.arrived_at


def _skipped(hide: HideState, event: StageSkipped, at: datetime) -> HideState:
    return _about_to_begin(hide, event.next, at)


def _route_changed(hide: HideState, event: RouteChanged, at: datetime) -> HideState:
    if event.begun and hide.begun_at is not None:
        return replace(
            hide,
            route=event.route,
            stage=event.stage,
            arrived_at=at,
            attended_at=dict(event.attended_at),
            weighed=tuple(
                replace(each, stage=event.stage) if each.stage == hide.stage else each
                for each in hide.weighed
            ),
        )
    moved = _about_to_begin(hide, event.stage, at)
    return replace(moved, route=event.route, left_stage="", left_hold_from=None, lying=event.lying)


def _start_chosen(hide: HideState, event: StartChosen, at: datetime) -> HideState:
    # A stage that is begun waits for no start any more.
    return hide if hide.begun_at else replace(hide, start_at=event.start_at)


def _lost(hide: HideState, event: HideLost, at: datetime) -> HideState:
    return replace(hide, out_at=at, out_why=event.why, start_at=None)


def _weighed(hide: HideState, event: DryingWeighed, at: datetime) -> HideState:
    weighing = Weighed(at=at, stage=event.stage, mass_g=event.mass_g)
    return replace(hide, weighed=(*hide.weighed, weighing))


def _covered(hide: HideState, event: CoverChanged, at: datetime) -> HideState:
    if event.stage != hide.stage:
        return hide
    covered = Covered(at=at, cover=event.cover)
    return replace(hide, covered=(*hide.covered, covered))


HideChange = Callable[[HideState, Any, datetime], HideState]
"""What an event that happened at an instant makes of the hide it is about."""

CHANGES: dict[type[Event], HideChange] = {
    HideCorrected: _corrected,
    StageBegun: _begun,
    CoatGiven: _coat,
    Attended: _attended,
    CheckFailed: _failed,
    StageLeft: _left,
    StartChosen: _start_chosen,
    DryingWeighed: _weighed,
    CoverChanged: _covered,
    StageSkipped: _skipped,
    RouteChanged: _route_changed,
    HideLost: _lost,
}
"""What is noted of one hide after its coming in, apart from remarks."""
