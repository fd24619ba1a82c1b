"""Events about the yearly archive: what was moved there, and what was brought back."""

from __future__ import annotations

from benchconsole.model.record import Instant, Record


class ArchivedHide(Record, frozen=True, kw_only=True):
    """What is still known of a hide, or a lot, without opening the archive of its ``year``.

    ``out_at`` is when it was finished or, where ``lost``, taken out of work. ``family`` is the lot
    that all hides it was ever split from or into come of; those lie in the archive together.
    """

    id: str
    name: str
    species: str
    route: str
    year: int
    came_at: Instant
    out_at: Instant
    family: str
    count: int = 1
    lost: bool = False


class HidesArchived(Record, frozen=True, kw_only=True, tag="hides-archived"):
    """Hides out of work were moved to the archive, and what belonged to nothing else any more.

    ``gone`` are ids that came to nothing, since their taking-in or splitting was taken back. The
    entries about nothing but these things lie in the archive and may be missing in the history.
    """

    hides: tuple[ArchivedHide, ...] = ()
    gone: tuple[str, ...] = ()
    weigh_outs: tuple[str, ...] = ()
    liquors: tuple[str, ...] = ()
    timers: tuple[str, ...] = ()


class HidesBroughtBack(Record, frozen=True, kw_only=True, tag="hides-brought-back"):
    """Hides and what belongs to them were brought back; their entries are in the history again."""

    hides: tuple[str, ...]
    gone: tuple[str, ...] = ()
    weigh_outs: tuple[str, ...] = ()
    liquors: tuple[str, ...] = ()


def things_of(event: HidesArchived | HidesBroughtBack) -> tuple[str, ...]:
    """The subjects that were moved: ``hide/ID``, ``weigh-out/ID``, ``liquor/ID``, ``timer/ID``."""
    if isinstance(event, HidesArchived):
        hides = [hide.id for hide in event.hides]
        timers = event.timers
    else:
        hides, timers = list(event.hides), ()
    return (
        *(f"hide/{each}" for each in (*hides, *event.gone)),
        *(f"weigh-out/{each}" for each in event.weigh_outs),
        *(f"liquor/{each}" for each in event.liquors),
        *(f"timer/{each}" for each in timers),
    )
