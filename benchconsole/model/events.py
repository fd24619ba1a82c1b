"""Events: past facts, appended and never changed; undo is one of them."""

from __future__ import annotations

from benchconsole.model.drying import Cover
from benchconsole.model.record import Instant, Record
from benchconsole.model.shop import Shop
from benchconsole.model.weighing import Liquor, Plan, Tap


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


class WeighOutBegun(Record, frozen=True, kw_only=True, tag="weigh-out-begun"):
    """A plan went to the scale."""

    weigh_out: str
    plan: Plan


class WeighOutTapped(Record, frozen=True, kw_only=True, tag="weigh-out-tapped"):
    """One tap of a weigh-out."""

    weigh_out: str
    tap: Tap


class WeighOutLeft(Record, frozen=True, kw_only=True, tag="weigh-out-left"):
    """A weigh-out was given up; nothing came of it."""

    weigh_out: str


class LiquorMade(Record, frozen=True, kw_only=True, tag="liquor-made"):
    """A weigh-out came to its end."""

    weigh_out: str
    liquor: Liquor


class TimerSet(Record, frozen=True, kw_only=True, tag="timer-set"):
    """A timer was set to end at an instant."""

    timer: str
    name: str
    ends_at: Instant


class TimerPaused(Record, frozen=True, kw_only=True, tag="timer-paused"):
    """A timer stands still with this many seconds left."""

    timer: str
    left_s: float


class TimerResumed(Record, frozen=True, kw_only=True, tag="timer-resumed"):
    """A paused timer runs again, to a new end."""

    timer: str
    ends_at: Instant


class TimerExtended(Record, frozen=True, kw_only=True, tag="timer-extended"):
    """A timer was given a later end; it rings again then."""

    timer: str
    ends_at: Instant


class TimerNamed(Record, frozen=True, kw_only=True, tag="timer-named"):
    """A timer got another name."""

    timer: str
    name: str


class TimerCancelled(Record, frozen=True, kw_only=True, tag="timer-cancelled"):
    """A timer was taken away before it ended."""

    timer: str


class TimerAcknowledged(Record, frozen=True, kw_only=True, tag="timer-acknowledged"):
    """Somebody heard it ring. Also for the waits between coats, by their derived names."""

    timer: str


class ShopSet(Record, frozen=True, kw_only=True, tag="shop-set"):
    """The shop's settings, whole."""

    shop: Shop


class Undone(Record, frozen=True, kw_only=True, tag="undone"):
    """A tap was taken back: all its events count as not having happened."""

    tap: int


Event = (
    HideTakenIn
    | HideCorrected
    | StageBegun
    | CoatGiven
    | Attended
    | CheckFailed
    | StageLeft
    | StartChosen
    | DryingWeighed
    | CoverChanged
    | NoteWritten
    | WeighOutBegun
    | WeighOutTapped
    | WeighOutLeft
    | LiquorMade
    | TimerSet
    | TimerPaused
    | TimerResumed
    | TimerExtended
    | TimerNamed
    | TimerCancelled
    | TimerAcknowledged
    | ShopSet
    | Undone
)


class Entry(Record, frozen=True, kw_only=True):
    """An event in the history.

    ``seq`` counts events from 1; events of one tap share ``tap`` and stand or fall together.
    ``at`` is when it happened, ``recorded`` when it was written down; both aware, UTC.
    """

    seq: int
    tap: int
    at: Instant
    recorded: Instant
    event: Event


def subject_of(event: Event) -> str:
    """What an event is about: ``hide/ID``, ``weigh-out/ID``, ``timer/ID`` or ``shop``."""
    for kind, field in (("hide", "hide"), ("weigh-out", "weigh_out"), ("timer", "timer")):
        name = getattr(event, field, None)
        if isinstance(name, str):
            return f"{kind}/{name}"
    return "shop"
