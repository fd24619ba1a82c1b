"""The plan laid out on a ruler: a mark and a role for every cell, without any drawing.

A hide's line has its holds as bars and its visits as marks over them; the line below it has the
windows. The shop's own line shows the rounds and, free of all bars, when the shop is closed.
Lateness changes the mark itself, so that it is told without colour too.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Literal, TypeVar

from benchconsole.console.widgets.timeline_ruler import Ruler
from benchconsole.exchange.marks import ROUND, UNPLANNED, VISIT_MARKS
from benchconsole.exchange.plan_words import lateness
from benchconsole.schedule.planning.plans import HidePlan, Plan, Visit

T = TypeVar("T")

Role = Literal[
    "blank",
    "early",
    "open",
    "past-due",
    "past-latest",
    "store",
    "visit",
    "visit-late",
    "visit-too-late",
    "round",
    "now",
    "window",
]

BAR_MARKS: dict[Role, str] = {
    "early": "─",
    "open": "━",
    "past-due": "═",
    "past-latest": "▓",
    "store": "·",
}
AT_WORK, NOW, CLOSED, PLAN_ENDS = "█", "│", "░", "┊"
NOW_ON_TOP = "▼"
EARLIEST, DUE, LATEST, WITHIN = "[", "◇", "]", "╌"

_LATENESS = list(VISIT_MARKS)
_MOST = 9


@dataclass
class Cells:
    """One line of the picture: a character one cell wide, and what it stands for, per column."""

    marks: list[str]
    roles: list[Role]

    def fill(self, first: int, after: int, mark: str, role: Role) -> None:
        """Put a mark into the columns from ``first`` to before ``after``, as far as shown."""
        first, after = max(first, 0), min(after, len(self.marks))
        if first < after:
            self.marks[first:after] = [mark] * (after - first)
            self.roles[first:after] = [role] * (after - first)

    def put(self, column: int, mark: str, role: Role) -> None:
        """Put one mark, if its column is shown."""
        if 0 <= column < len(self.marks):
            self.marks[column], self.roles[column] = mark, role


@dataclass(frozen=True)
class Lying:
    """A hold as it is planned: from one visit's end (``since``) to the start of the ``next``.

    ``since`` None: it is not known, or the hide lies in store. ``stage`` names what it lies in.
    """

    stage: str
    since: datetime | None
    next: Visit
    in_store: bool = False


def holds_of(hide: HidePlan) -> tuple[Lying, ...]:
    """The holds before each of a hide's visits, in order."""
    holds = []
    stage, since, in_store = hide.lies_in, hide.since, hide.in_store
    for visit in hide.visits:
        holds.append(Lying(stage, since, visit, in_store))
        stage, since, in_store = visit.stage_name, visit.ends, False
    return tuple(holds)


def closed_columns(plan: Plan, ruler: Ruler) -> list[bool]:
    """Which columns have no open time at all, for as far as the plan reaches."""
    first, after = ruler.column(plan.made_at), ruler.column_after(plan.until)
    closed = [first <= column < after for column in range(ruler.columns)]
    for opens, closes in plan.openings:
        begin, end = max(ruler.column(opens), 0), min(ruler.column_after(closes), ruler.columns)
        if opens < closes and begin < end:
            closed[begin:end] = [False] * (end - begin)
    return closed


class Layout:
    """One plan; :meth:`lay` puts it on a ruler, then each line is asked for by itself."""

    def __init__(self, plan: Plan, ruler: Ruler, now: datetime) -> None:
        self.plan = plan
        self.holds = {hide.hide: holds_of(hide) for hide in plan.hides}
        self._tended: dict[str, list[datetime]] = {}
        for walk in plan.rounds:
            for hide in {given.hide for given in walk.gives}:
                self._tended.setdefault(hide, []).append(walk.at)
        self.lay(ruler, now)

    def lay(self, ruler: Ruler, now: datetime) -> None:
        """Use another ruler or another present from here on."""
        self.ruler = ruler
        self.now = now
        self.closed = closed_columns(self.plan, ruler)

    def shop_line(self) -> Cells:
        """The rounds, and the closed time free of any bars."""
        cells = self._ground()
        walks = _by_column(((walk.at, walk) for walk in self.plan.rounds), self.ruler)
        for column, together in walks.items():
            if any(walk.at > walk.latest for walk in together):
                cells.put(column, VISIT_MARKS["visit-too-late"], "visit-too-late")
            else:
                cells.put(column, _counted(len(together), ROUND), "round")
        # Over a round too: the lines of the hides that it tends show that one.
        cells.put(self.ruler.column(self.now), NOW_ON_TOP, "now")
        return cells

    def hide_line(self, hide: HidePlan) -> Cells:
        """The holds of a hide as bars, the rounds that tend it, its visits over them."""
        cells = self._ground()
        for lying in self.holds[hide.hide]:
            if lying.next.starts >= self.ruler.left:
                self._bar(cells, lying)
            if lying.next.ends > self.ruler.right:
                break
        if not hide.visits:
            self._lying_on(cells, hide)
        cells.put(self.ruler.column(self.now), NOW, "now")
        for at in self._tended.get(hide.hide, ()):
            cells.put(self.ruler.column(at), ROUND, "round")
        self._visits(cells, hide.visits)
        return cells

    def window_line(self, visits: Iterable[Visit]) -> Cells:
        """The windows of some visits, the later over the earlier: earliest, due, latest.

        One without a latest time ends at its due.
        """
        cells = self._ground(shaded=False)
        for visit in visits:
            first, due = self.ruler.column(visit.earliest), self.ruler.column(visit.due)
            last = due if visit.latest is None else self.ruler.column(visit.latest)
            if first >= self.ruler.columns or last < 0:
                continue
            cells.fill(first, last + 1, WITHIN, "window")
            cells.put(first, EARLIEST, "window")
            if visit.latest is not None:
                cells.put(last, LATEST, "window")
            cells.put(due, DUE, "window")
        return cells

    def _ground(self, *, shaded: bool = True) -> Cells:
        marks = [CLOSED if shaded and shut else " " for shut in self.closed]
        cells = Cells(marks, ["blank"] * self.ruler.columns)
        cells.put(self.ruler.column_after(self.plan.until), PLAN_ENDS, "blank")
        cells.put(self.ruler.column(self.now), NOW, "now")
        return cells

    def _bar(self, cells: Cells, lying: Lying) -> None:
        """A hold in its phases: too early, may be done, past due, past the latest."""
        visit, column = lying.next, self.ruler.column
        begins = 0 if lying.since is None else column(lying.since)
        end = column(visit.starts)
        if lying.in_store:
            cells.fill(begins, end, BAR_MARKS["store"], "store")
            return
        latest = visit.starts if visit.latest is None else visit.latest
        phases: tuple[tuple[Role, int], ...] = (
            ("early", column(visit.earliest)),
            ("open", column(visit.due)),
            ("past-due", column(latest)),
            ("past-latest", end),
        )
        for role, until in phases:
            after = min(until, end)
            cells.fill(begins, after, BAR_MARKS[role], role)
            begins = max(begins, after)

    def _lying_on(self, cells: Cells, hide: HidePlan) -> None:
        """A hide without a visit ahead: where it lies until now; what then comes is not known."""
        role: Role = "store" if hide.in_store else "early"
        begins = 0 if hide.since is None else self.ruler.column(hide.since)
        column = self.ruler.column(self.now)
        if hide.lies_in or hide.in_store:
            cells.fill(begins, column, BAR_MARKS[role], role)
        if hide.unplanned:
            cells.put(column + 1, UNPLANNED, "visit-too-late")

    def _visits(self, cells: Cells, visits: Sequence[Visit]) -> None:
        left, right = self.ruler.left, self.ruler.right
        shown = [visit for visit in visits if visit.ends >= left and visit.starts < right]
        for visit in shown:
            cells.fill(*visit_columns(visit, self.ruler), AT_WORK, lateness(visit))
        together = _by_column(((visit.starts, visit) for visit in shown), self.ruler)
        for column, sharing in together.items():
            worst = max((lateness(visit) for visit in sharing), key=_LATENESS.index)
            mark = VISIT_MARKS[worst]
            cells.put(column, _counted(len(sharing), mark) if worst == "visit" else mark, worst)


def visit_columns(visit: Visit, ruler: Ruler) -> tuple[int, int]:
    """From the column a visit starts in to before the one after its hands-on time."""
    first = ruler.column(visit.starts)
    return first, max(first + 1, ruler.column_after(visit.ends))


def _counted(many: int, mark: str) -> str:
    """The mark, or how many of them share the cell."""
    return mark if many == 1 else str(min(many, _MOST))


def _by_column(pairs: Iterable[tuple[datetime, T]], ruler: Ruler) -> dict[int, list[T]]:
    found: dict[int, list[T]] = {}
    for instant, thing in pairs:
        found.setdefault(ruler.column(instant), []).append(thing)
    return found
