"""The plan of the shop: every hide's coming visits, the rounds between, and why they stand so."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Literal

from benchconsole.model.record import Record
from benchconsole.schedule.hours import Opening

VisitKind = Literal["begin", "coat", "check"]


class Visit(Record, frozen=True, kw_only=True):
    """Hands on one hide, once: the look that lets it go on and what follows at once.

    ``starts`` to ``ends`` is the hands-on time. ``earliest``, ``due`` and ``latest`` are the
    window that the hide asks for, given the visits planned before (``latest`` None: nothing
    known to spoil). ``vessel`` is the kind it goes into, empty for none; ``ready`` names the mix
    and the things to have ready. ``why`` says what moved it from ``due``; empty where nothing did.
    ``number`` counts the hide's visits of a stage from 1, those that are done included, so that an
    act keeps its number from plan to plan. All instants aware, UTC.
    """

    hide: str
    hide_name: str
    stage: str
    stage_name: str
    kind: VisitKind
    action: str
    starts: datetime
    ends: datetime
    earliest: datetime
    due: datetime
    latest: datetime | None
    vessel: str = ""
    ready: tuple[str, ...] = ()
    spoils: str = ""
    why: str = ""
    number: int = 1

    @property
    def past_latest(self) -> timedelta:
        """How far it is planned beyond its latest time."""
        if self.latest is None:
            return timedelta(0)
        return max(timedelta(0), self.starts - self.latest)

    @property
    def past_due(self) -> timedelta:
        """How far it is planned beyond its due time."""
        return max(timedelta(0), self.starts - self.due)


class HidePlan(Record, frozen=True, kw_only=True):
    """What is planned for one hide.

    ``lies_in`` names the stage it lies in now and ``since`` when that began to count (None: it
    lies in store or came just now). Between the visits lie the holds: from one visit's end to the
    next one's start. ``unplanned`` says in words why there is no plan, empty where there is.
    """

    hide: str
    hide_name: str
    lies_in: str
    since: datetime | None
    visits: tuple[Visit, ...]
    in_store: bool = False
    unplanned: str = ""

    @property
    def finish(self) -> datetime | None:
        """The end of its last visit."""
        return self.visits[-1].ends if self.visits else None


class Given(Record, frozen=True, kw_only=True):
    """One attention that a round gives: ``attention`` is its place in the stage's list.

    ``facts`` tells one picture of the hide from the next, as in ``schedule.Action``; 0 for a stage
    that is still ahead.
    """

    hide: str
    hide_name: str
    stage: str
    attention: int
    do: str
    facts: int = 0


class Round(Record, frozen=True, kw_only=True):
    """One walk round the shop; ``latest`` is when the first of its attentions is over its limit."""

    at: datetime
    gives: tuple[Given, ...]
    latest: datetime
    why: str = ""


class Plan(Record, frozen=True, kw_only=True):
    """The plan of the whole shop as it was worked out at ``made_at``, up to ``until``.

    ``openings`` are the shop's open times between the two. ``cost`` and ``bound`` are in minutes
    past due (see ``problems``): no plan on the planner's grid can be below ``bound``.
    """

    made_at: datetime
    until: datetime
    hides: tuple[HidePlan, ...]
    openings: tuple[Opening, ...]
    rounds: tuple[Round, ...] = ()
    cost: float = 0.0
    bound: float = 0.0

    @property
    def visits(self) -> tuple[Visit, ...]:
        """All visits in the order of their starts."""
        every = (visit for hide in self.hides for visit in hide.visits)
        return tuple(sorted(every, key=lambda visit: (visit.starts, visit.hide, visit.number)))

    def of(self, hide_id: str) -> HidePlan | None:
        """What is planned for one hide, None if it is not in the plan."""
        return next((hide for hide in self.hides if hide.hide == hide_id), None)
