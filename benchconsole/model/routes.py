"""Routes: the ordered stages a hide goes through, with their holds, attentions and checks."""

from __future__ import annotations

from datetime import timedelta
from typing import Literal

import msgspec

from benchconsole.model.record import Citation, Figure, Record

DriesTo = Literal["damp", "soft", "dry"]
"""What a drying stage dries to: damp for the dressing, soft while it is worked, or dry."""

Stake = Literal["hide", "quality", "work", "nothing"]
"""What a hide left past the latest time of a stage costs.

``hide``: the hide itself (hair slips, it rots). ``quality``: it is worse for good (stained, uneven,
weak). ``work``: only work (dried hard: damp it and do it over). ``nothing``: nothing soon.
"""

ATTENTION_WORK = timedelta(minutes=5)
"""Hands-on time of an attention that does not say its own; common practice, no source."""


class Hold(Record, frozen=True, kw_only=True):
    """The wait a stage asks for, as elapsed time from its last coat or its beginning.

    A row may be for some ``species`` only, or for hides that ``came`` in some condition only
    (a dried hide soaks longer than a salted one); empty means for all.
    """

    min: timedelta
    target: timedelta
    max: timedelta
    species: tuple[str, ...] = ()
    came: tuple[str, ...] = ()

    def fits(self, species: str, came: str) -> bool:
        """Whether the row is meant for such a hide."""
        return (not self.species or species in self.species) and (
            not self.came or came in self.came
        )


class Attention(Record, frozen=True, kw_only=True):
    """What must be done during a hold: every ``every``, never later than ``at_most`` apart.

    It applies from ``since`` to ``until`` after the hold began (``until`` None: to its end).
    ``work`` is the hands-on time of giving it once.
    """

    do: str
    every: timedelta
    at_most: timedelta
    since: timedelta = timedelta(0)
    until: timedelta | None = None
    own_act: bool = False
    """Whether looking at the hide does not give it by the way (a change of water)."""
    work: timedelta = ATTENTION_WORK


class Check(Record, frozen=True, kw_only=True):
    """The look, feel or measure that lets the hide go on; "not yet" asks again after ``again``."""

    ask: str
    again: timedelta


class CoatWaits(Record, frozen=True, kw_only=True):
    """Coats of a dressing given one after another with a timed wait between."""

    count: int
    wait_min: timedelta
    wait_target: timedelta
    wait_max: timedelta


class Stage(Record, frozen=True, kw_only=True):
    """One step of a route.

    ``do`` is the attended act that begins it and ``work`` its hands-on time. ``mix`` names
    the formula to have ready. ``late`` says what spoils past the hold's maximum, ``stake`` how
    grave that is.
    ``keeps`` is how long the hide may wait in this stage once its check has passed
    (a store, or a bath that does no harm); without it the hold's maximum still counts.
    ``soon`` is how long a hide may lie between the stage before and this one's beginning.
    """

    id: str
    name: str
    do: str
    work: timedelta
    late: str
    hold: tuple[Hold, ...] = ()
    attend: tuple[Attention, ...] = ()
    check: Check | None = None
    coats: CoatWaits | None = None
    mix: str = ""
    mix_when: dict[str, str] = msgspec.field(default_factory=dict)
    """Another formula for hides that came in some condition: ``{"dried": "soak-dried"}``."""
    needs: tuple[str, ...] = ()
    vessel: str = ""
    keeps: timedelta | None = None
    soon: timedelta | None = None
    inspect: str = ""
    gate: str = ""
    dries_to: DriesTo | None = None
    """The moisture at which its check is passed, for a stage that dries the hide."""
    stake: Stake = "quality"
    sources: tuple[Citation, ...] = ()

    def mix_for(self, came: str) -> str:
        """The formula to have ready for a hide that came so, empty if the stage needs none."""
        return self.mix_when.get(came, self.mix)

    def hold_for(self, species: str, came: str = "") -> Hold | None:
        """The most particular hold that fits a hide, None if the stage asks for no wait."""
        fitting = [hold for hold in self.hold if hold.fits(species, came)]
        return max(fitting, key=lambda h: (bool(h.species), bool(h.came)), default=None)


class Route(Record, frozen=True, kw_only=True):
    """Stages in order, and the species it is meant for."""

    id: str
    name: str
    purpose: str
    species: tuple[str, ...]
    stages: tuple[Stage, ...]
    sources: tuple[Citation, ...]
    starts: dict[str, str] = msgspec.field(default_factory=dict)
    """Where a hide comes in by its condition: ``{"green": stage id, "salted": ...}``."""
    cautions: tuple[str, ...] = ()
    hair_on: bool = True
    """Whether the hair stays on: hair holds water and slows drying."""
    own: bool = False

    def place_of(self, stage_id: str) -> int:
        """Position of a stage, counted from 0; KeyError if the route has no such stage."""
        for place, stage in enumerate(self.stages):
            if stage.id == stage_id:
                return place
        raise KeyError(stage_id)

    def stage(self, stage_id: str) -> Stage:
        """The stage of that name; KeyError if there is none."""
        return self.stages[self.place_of(stage_id)]

    def after(self, stage_id: str) -> Stage | None:
        """The stage that follows, None after the last."""
        place = self.place_of(stage_id) + 1
        return self.stages[place] if place < len(self.stages) else None


class Species(Record, frozen=True, kw_only=True):
    """A kind of animal whose skins the shop works; None for what is not said of it.

    ``thickness_mm`` is that of the wet, fleshed skin, ``hair_mm`` the length of its coat.
    """

    id: str
    name: str
    thickness_mm: Figure | None = None
    hair_mm: Figure | None = None
