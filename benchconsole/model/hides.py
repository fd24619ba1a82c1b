"""Where a hide stands on its route, and what each event about it changes."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from typing import Any

import msgspec

from benchconsole.model.drying import Covered, Weighed
from benchconsole.model.events import (
    Attended,
    CheckFailed,
    CoatGiven,
    CoverChanged,
    DryingWeighed,
    Event,
    HideCorrected,
    StageBegun,
    StageLeft,
    StartChosen,
)
from benchconsole.model.record import Record


class HideState(Record, frozen=True, kw_only=True):
    """Where one hide stands on its route.

    ``stage`` is the stage it is in or about to begin; empty when the piece is finished.
    ``arrived_at`` is when that stage became its next; ``begun_at`` when its act was done
    (None: still to do). ``coats_at`` are the instants of the coats given in this stage.
    ``failed_at`` are the looks that said "not yet". ``attended_at`` maps an attention's place
    to its last time. ``left_stage`` and ``left_hold_from`` describe the stage before, where the
    hide still lies until this one begins. ``start_at`` is when the person has chosen to begin
    the stage (None: nothing chosen). ``weighed`` are the weighings in stages that dry, of all
    such stages; ``covered`` says how it lay in this one, open at first. ``facts`` counts what was
    noted of it since it came.
    """

    id: str
    name: str
    species: str
    route: str
    came: str
    count: int
    mass_g: float | None
    stage: str
    arrived_at: datetime
    begun_at: datetime | None = None
    coats_at: tuple[datetime, ...] = ()
    failed_at: tuple[datetime, ...] = ()
    attended_at: dict[int, datetime] = msgspec.field(default_factory=dict)
    liquor: str = ""
    left_stage: str = ""
    left_hold_from: datetime | None = None
    finished_at: datetime | None = None
    start_at: datetime | None = None
    weighed: tuple[Weighed, ...] = ()
    covered: tuple[Covered, ...] = ()
    facts: int = 0

    @property
    def hold_from(self) -> datetime | None:
        """When the hold of the stage began to count: its last coat, or its beginning."""
        return self.coats_at[-1] if self.coats_at else None


def _corrected(hide: HideState, event: HideCorrected, at: datetime) -> HideState:
    return msgspec.structs.replace(hide, name=event.name, count=event.count, mass_g=event.mass_g)


def _begun(hide: HideState, event: StageBegun, at: datetime) -> HideState:
    return msgspec.structs.replace(
        hide,
        stage=event.stage,
        begun_at=at,
        coats_at=(at,),
        failed_at=(),
        attended_at={},
        liquor=event.liquor,
        start_at=None,
        covered=(),
    )


def _coat(hide: HideState, event: CoatGiven, at: datetime) -> HideState:
    return msgspec.structs.replace(hide, coats_at=(*hide.coats_at, at))


def _attended(hide: HideState, event: Attended, at: datetime) -> HideState:
    return msgspec.structs.replace(hide, attended_at={**hide.attended_at, event.attention: at})


def _failed(hide: HideState, event: CheckFailed, at: datetime) -> HideState:
    return msgspec.structs.replace(hide, failed_at=(*hide.failed_at, at))


def _left(hide: HideState, event: StageLeft, at: datetime) -> HideState:
    return msgspec.structs.replace(
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
        finished_at=None if event.next else at,
        start_at=None,
        covered=(),
    )


def _start_chosen(hide: HideState, event: StartChosen, at: datetime) -> HideState:
    # A stage that is begun waits for no start any more.
    return hide if hide.begun_at else msgspec.structs.replace(hide, start_at=event.start_at)


def _weighed(hide: HideState, event: DryingWeighed, at: datetime) -> HideState:
    weighing = Weighed(at=at, stage=event.stage, mass_g=event.mass_g)
    return msgspec.structs.replace(hide, weighed=(*hide.weighed, weighing))


def _covered(hide: HideState, event: CoverChanged, at: datetime) -> HideState:
    if event.stage != hide.stage:
        return hide
    covered = Covered(at=at, cover=event.cover)
    return msgspec.structs.replace(hide, covered=(*hide.covered, covered))


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
}
"""What is noted of a hide after its coming in, apart from remarks."""
