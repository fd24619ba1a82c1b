"""Events about hides: past facts, appended and never changed."""

from __future__ import annotations

import msgspec

from benchconsole.model.drying import Cover
from benchconsole.model.record import Instant, Record


class HideTakenIn(Record, frozen=True, kw_only=True, tag="hide-taken-in"):
    """A hide, or a lot of ``count`` like skins, came into the shop at a stage of a route.

    ``mass_g`` is the weight of all of them together, None if it is not known.
    """

    hide: str
    name: str
    species: str
    route: str
    stage: str
    came: str
    count: int = 1
    mass_g: float | None = None


class HideCorrected(Record, frozen=True, kw_only=True, tag="hide-corrected"):
    """A hide was weighed, or its name or number put right; all three as they are now.

    ``mass_g`` is of all skins of a lot together, None if it is not known.
    """

    hide: str
    name: str
    count: int
    mass_g: float | None = None


class StageBegun(Record, frozen=True, kw_only=True, tag="stage-begun"):
    """The act that begins a stage was done (the first coat, for a dressing)."""

    hide: str
    stage: str
    liquor: str = ""


class CoatGiven(Record, frozen=True, kw_only=True, tag="coat-given"):
    """A further coat was put on; ``coat`` counts from 1, the first is ``StageBegun``."""

    hide: str
    stage: str
    coat: int


class Attended(Record, frozen=True, kw_only=True, tag="attended"):
    """An attention was given; ``attention`` is its place in the stage's list."""

    hide: str
    stage: str
    attention: int


class CheckFailed(Record, frozen=True, kw_only=True, tag="check-failed"):
    """Looked at, and not yet ready to go on."""

    hide: str
    stage: str


class StageLeft(Record, frozen=True, kw_only=True, tag="stage-left"):
    """The stage is over; ``next`` is the stage to begin, empty when the piece is finished."""

    hide: str
    stage: str
    next: str = ""


class StartChosen(Record, frozen=True, kw_only=True, tag="start-chosen"):
    """The person chose when to begin the stage a hide waits for; None takes the choice away.

    It counts until the stage is begun, or the hide goes elsewhere.
    """

    hide: str
    start_at: Instant | None = None


class StageSkipped(Record, frozen=True, kw_only=True, tag="stage-skipped"):
    """The hide was moved to another stage of its route, which it is to begin.

    ``next`` lies ahead of ``stage`` (what is between is skipped), before it ("back into the
    bath") or is the same one, to be begun again. Empty, the piece is finished; an empty
    ``stage`` is a finished piece that is taken up again.
    """

    hide: str
    stage: str
    next: str = ""


class Lying(Record, frozen=True, kw_only=True):
    """Where a hide still lies until it begins a stage: a stage as it stood when it was left.

    ``stage`` is its name in words. ``until`` is how long the hide may lie there (None: nothing
    known to spoil), ``spoils`` what is lost after, ``inspect`` what to look at then. ``keeps``:
    it does no harm until then, so the person chooses when to go on.
    """

    stage: str
    until: Instant | None = None
    spoils: str = ""
    inspect: str = ""
    keeps: bool = False


class RouteChanged(Record, frozen=True, kw_only=True, tag="route-changed"):
    """The hide goes on by another route, from a stage of it that the person chose.

    ``begun``: it is in that stage already, since it began the one it was in; what it had of
    hold, coats and looks counts on. ``attended_at`` maps the places of that stage's attentions
    to when they were last given, as far as the old stage asked for the like. Else the stage is
    to begin, and ``lying`` says where the hide is until then (None: nowhere that limits it).
    """

    hide: str
    route: str
    stage: str
    begun: bool = False
    attended_at: dict[int, Instant] = msgspec.field(default_factory=dict)
    lying: Lying | None = None


class LotSplit(Record, frozen=True, kw_only=True, tag="lot-split"):
    """``count`` skins of a lot go on as a hide of their own.

    ``of`` is the lot's name then. ``mass_g`` is the weight of those that leave, None if the
    weight of the lot is not known.
    """

    hide: str
    new_hide: str
    of: str
    name: str
    count: int
    mass_g: float | None = None


class LiquorSpoiled(Record, frozen=True, kw_only=True, tag="liquor-spoiled"):
    """A liquor can no longer be used.

    ``hides`` are those it was made for or that were begun with it, and still are in the shop;
    ``out`` those of them that lie in it and have to come out.
    """

    liquor: str
    why: str
    hides: tuple[str, ...] = ()
    out: tuple[str, ...] = ()


class HideLost(Record, frozen=True, kw_only=True, tag="hide-lost"):
    """The hide was taken out of work: spoiled, sold raw, given away. Its record stays."""

    hide: str
    why: str


class DryingWeighed(Record, frozen=True, kw_only=True, tag="drying-weighed"):
    """A drying hide, or a lot all together, was weighed in a stage that dries."""

    hide: str
    stage: str
    mass_g: float


class CoverChanged(Record, frozen=True, kw_only=True, tag="cover-changed"):
    """A drying hide was covered another way, or laid open."""

    hide: str
    stage: str
    cover: Cover


class NoteWritten(Record, frozen=True, kw_only=True, tag="note-written"):
    """A remark on a hide."""

    hide: str
    text: str


HideEvent = (
    HideTakenIn
    | HideCorrected
    | StageBegun
    | CoatGiven
    | Attended
    | CheckFailed
    | StageLeft
    | StartChosen
    | StageSkipped
    | RouteChanged
    | LotSplit
    | LiquorSpoiled
    | HideLost
    | DryingWeighed
    | CoverChanged
    | NoteWritten
)
"""Everything that a hide's card tells."""
