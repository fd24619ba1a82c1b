"""Where one hide stands on its route, as the history tells it."""

from __future__ import annotations

from datetime import datetime

import msgspec

from benchconsole.model.drying import Covered, Weighed
from benchconsole.model.hide_events import Lying
from benchconsole.model.record import Record


class HideState(Record, frozen=True, kw_only=True):
    """Where one hide stands on its route.

    ``stage`` is the stage it is in or about to begin; empty when the piece is finished.
    ``arrived_at`` is when that stage became its next; ``begun_at`` when its act was done
    (None: still to do). ``coats_at`` are the instants of the coats given in this stage.
    ``failed_at`` are the looks that said "not yet". ``attended_at`` maps an attention's place
    to its last time. ``start_at`` is when the person has chosen to begin the stage (None:
    nothing chosen). ``weighed`` are the weighings in stages that dry, of all such stages;
    ``covered`` says how it lay in this one, open at first. ``facts`` counts what was noted of it
    since it came.

    ``left_stage``, ``left_hold_from``, ``left_at`` and ``left_liquor`` describe the stage before,
    where the hide still lies until this one begins: ``left_at`` is when it was passed, None if a
    person took the hide on before. ``lying`` does it where that is a stage of another route.
    ``moved``: a person put it at this stage, the route did not. ``spoiled_at`` is
    when the liquor it lies in, or whose rest is still to go on it, was found spoiled, for
    ``spoiled_why``. ``out_at`` is when it was taken out of work, for ``out_why``.
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
    left_at: datetime | None = None
    left_liquor: str = ""
    lying: Lying | None = None
    moved: bool = False
    spoiled_at: datetime | None = None
    spoiled_why: str = ""
    finished_at: datetime | None = None
    start_at: datetime | None = None
    weighed: tuple[Weighed, ...] = ()
    covered: tuple[Covered, ...] = ()
    out_at: datetime | None = None
    out_why: str = ""
    facts: int = 0

    @property
    def hold_from(self) -> datetime | None:
        """When the hold of the stage began to count: its last coat, or its beginning."""
        return self.coats_at[-1] if self.coats_at else None

    @property
    def lies_in_liquor(self) -> str:
        """The liquor it was last put in and, as far as the history knows, lies in; or empty."""
        return self.liquor if self.begun_at else self.left_liquor

    @property
    def in_work(self) -> bool:
        """Whether anything is still to be done with it."""
        return bool(self.stage) and self.out_at is None
