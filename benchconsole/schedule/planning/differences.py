"""What one plan does otherwise than another: what breaks, what eases, who is done when."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta

from benchconsole.model.record import Record
from benchconsole.schedule.planning.plans import HidePlan, Plan, Round, Visit, VisitKind

_NOTHING = timedelta(0)

_Key = tuple[str, str, VisitKind, int]


class Window(Record, frozen=True, kw_only=True):
    """A visit whose latest time is broken in one of two plans, as it stands in the later plan.

    ``before`` and ``after`` are how far it is past its latest time in the two.
    """

    visit: Visit
    before: timedelta
    after: timedelta

    @property
    def by(self) -> timedelta:
        """How much later it is than it was; below 0 where it got better."""
        return self.after - self.before


class Finish(Record, frozen=True, kw_only=True):
    """When a hide is done in either plan; None where it is not planned to the end."""

    hide: str
    hide_name: str
    before: datetime | None
    after: datetime | None


class Difference(Record, frozen=True, kw_only=True):
    """What one plan does otherwise than another.

    ``broken`` are the windows that break or break worse, the worst first, ``eased`` those that
    break no more or less. ``finishes`` are the hides that are done at another time, ``begins``
    those in store that are begun at another time (their first visits, before and after).
    ``unplanned`` are the names of the hides that find no room any more, ``rounds`` the walks
    that come too late or for which somebody has to come in, and did not before.
    """

    broken: tuple[Window, ...] = ()
    eased: tuple[Window, ...] = ()
    finishes: tuple[Finish, ...] = ()
    begins: tuple[tuple[Visit, Visit], ...] = ()
    unplanned: tuple[str, ...] = ()
    rounds: tuple[Round, ...] = ()

    @property
    def breaks(self) -> int:
        """How many windows break, and hides find no room."""
        return len(self.broken) + len(self.unplanned)

    @property
    def broken_by(self) -> timedelta:
        """How much later all that breaks is together."""
        return sum((window.by for window in self.broken), _NOTHING)


def difference(before: Plan, after: Plan) -> Difference:
    """What ``after`` does otherwise than ``before``; both for the same hides."""
    windows = list(_windows(before, after))
    pairs = [(old, new) for new in after.hides if (old := before.of(new.hide)) is not None]
    known = {walk.at for walk in _hard_rounds(before)}
    return Difference(
        broken=tuple(
            sorted((each for each in windows if each.by > _NOTHING), key=lambda each: -each.by)
        ),
        eased=tuple(
            sorted((each for each in windows if each.by < _NOTHING), key=lambda each: each.by)
        ),
        finishes=tuple(
            Finish(hide=new.hide, hide_name=new.hide_name, before=old.finish, after=new.finish)
            for old, new in pairs
            if old.finish != new.finish
        ),
        begins=tuple(_begins(pairs)),
        unplanned=tuple(
            new.hide_name for old, new in pairs if old.visits and not new.visits and new.unplanned
        ),
        rounds=tuple(walk for walk in _hard_rounds(after) if walk.at not in known),
    )


def _windows(before: Plan, after: Plan) -> Iterator[Window]:
    was = {_key(visit): visit.past_latest for visit in before.visits}
    for visit in after.visits:
        past = was.get(_key(visit), _NOTHING)
        if visit.past_latest != past:
            yield Window(visit=visit, before=past, after=visit.past_latest)


def _key(visit: Visit) -> _Key:
    return visit.hide, visit.stage, visit.kind, visit.number


def _begins(pairs: list[tuple[HidePlan, HidePlan]]) -> Iterator[tuple[Visit, Visit]]:
    """Hides in store that begin at another time."""
    for old, new in pairs:
        if not (old.in_store and old.visits and new.visits):
            continue
        if old.visits[0].starts != new.visits[0].starts:
            yield old.visits[0], new.visits[0]


def _hard_rounds(plan: Plan) -> Iterator[Round]:
    """The walks that come too late, or stand in closed time."""
    for walk in plan.rounds:
        is_open = any(opens <= walk.at <= closes for opens, closes in plan.openings)
        if walk.at > walk.latest or not is_open:
            yield walk
