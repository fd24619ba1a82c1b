"""Rounds at the desk: what a walk gives now, when the next one is due, one tap for all of it."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta

from msgspec.structs import replace

from benchconsole.desk.hides import Hides
from benchconsole.desk.ledger import Ledger
from benchconsole.desk.views import RoundLine, RoundSheet
from benchconsole.desk.words import tap_words
from benchconsole.errors import NotPossibleNow
from benchconsole.model.events import Attended
from benchconsole.model.hides import HideState
from benchconsole.model.routes import Route, Stage
from benchconsole.schedule import Hours
from benchconsole.schedule.coats import coats_left
from benchconsole.schedule.planning.plans import Given, Plan, Round
from benchconsole.schedule.planning.rounds import Tended, WalkNow, rounds_for, walk_now
from benchconsole.schedule.planning.tending import (
    all_busy,
    come_in_hours,
    openings_around,
    rounds_of,
    tended_of,
    unplanned,
)
from benchconsole.schedule.wording import at_the_wall

AHEAD = timedelta(days=4)
"""How far rounds are worked out for the bench: over a weekend, and a day more."""


class Rounds:
    """The part of the desk for walks round the shop.

    Without a plan of the shop every hide is taken as if it were alone: it lies where it is until
    the look at it is due.
    """

    def __init__(self, ledger: Ledger, hides: Hides) -> None:
        self._ledger = ledger
        self._hides = hides
        self._known: tuple[Round, ...] = ()
        self._known_at: tuple[object, ...] = ()
        self._known_of: Plan | None = None
        self._whole: Plan | None = None
        self._cut: Plan | None = None

    # --- views --------------------------------------------------------------------

    def planned(self, plan: Plan | None = None) -> tuple[Round, ...]:
        """The coming rounds: to the end of a plan, or of the next days if there is none."""
        now = self._ledger.now()
        # A tick asks every second; what was worked out within the minute still holds.
        asked = (self._ledger.version, now.replace(second=0, microsecond=0))
        if self._known_at != asked or self._known_of is not plan:
            self._known = self._worked_out(plan, now)
            self._known_at, self._known_of = asked, plan
        return self._known

    def next(self, plan: Plan | None = None) -> Round | None:
        """The first of them; it is due once its time has come. None while nothing is tended."""
        rounds = self.planned(self._near(plan) if plan is not None else None)
        return rounds[0] if rounds else None

    def due(self, plan: Plan | None = None) -> Round | None:
        """What a walk now gives: all that cannot wait for the walk after it.

        None if nothing may be given yet, or all of it can wait.
        """
        walk = self._walk(plan)[0]
        return walk.round if walk is not None and walk.round.gives else None

    def sheet(self, plan: Plan | None = None) -> RoundSheet:
        """The walk now, line by line in the order it is walked: vessel by vessel.

        Raises ``NotPossibleNow`` if there is nothing that may be given.
        """
        walk, tended = self._walk(plan)
        if walk is None:
            raise NotPossibleNow(self._nothing(plan))
        needed = [self._line(given, tended, needed=True) for given in walk.round.gives]
        may = [self._line(given, tended, needed=False) for given in walk.may]
        lines = sorted(
            (*needed, *may),
            key=lambda line: (
                line.vessel,
                line.stage_name,
                line.given.hide_name,
                line.given.hide,
                line.given.attention,
            ),
        )
        return RoundSheet(round=walk.round, lines=tuple(lines), then=walk.then)

    # --- intents ------------------------------------------------------------------

    def give(self, seen: Round) -> str:
        """All that a round gives was given, as one tap; the sentence to show.

        ``seen`` is the round the person had before them, without what they left out. If a hide
        has moved on meanwhile nothing is stored: ``NotPossibleNow`` says which.
        """
        if not seen.gives:
            raise NotPossibleNow("Nothing is ticked: tick what was given, or leave.")
        for given in seen.gives:
            self._refuse_old(given)
        self._ledger.record(
            [
                Attended(hide=given.hide, stage=given.stage, attention=given.attention)
                for given in seen.gives
            ]
        )
        return f"Round logged for {_hides_of(seen.gives)}"

    def undo(self, hide_id: str) -> str:
        """Take back the last tap about a hide of a round, so the whole round; what was undone."""
        gone = self._ledger.undo(f"hide/{hide_id}")
        attended = [event for event in gone if isinstance(event, Attended)]
        if not attended:
            return f"Taken back: {tap_words(gone, zone=self._ledger.zone)}"
        hides = dict.fromkeys(event.hide for event in attended)
        names = ", ".join(self._hides.get(hide).name for hide in hides)
        return f"Taken back: the round for {_counted(len(hides))}: {names}"

    # --- the parts they share -----------------------------------------------------

    def _refuse_old(self, given: Given) -> None:
        hide = self._hides.get(given.hide)
        stage = self._stage(hide)
        tended = (
            stage is not None
            and hide.begun_at is not None
            and not coats_left(stage.coats, len(hide.coats_at))
            and given.attention < len(stage.attend)
        )
        if not tended or (hide.stage, hide.facts) != (given.stage, given.facts):
            raise NotPossibleNow(
                f"{hide.name} has moved on since you looked, so the round was not logged: "
                "look at it again."
            )

    def _near(self, plan: Plan) -> Plan:
        """The plan as far as the bench looks ahead: its rounds are asked for every minute."""
        if self._whole is not plan:
            self._whole = plan
            self._cut = replace(plan, until=min(plan.until, plan.made_at + AHEAD))
        assert self._cut is not None
        return self._cut

    def _worked_out(self, plan: Plan | None, now: datetime) -> tuple[Round, ...]:
        ledger, hours = self._ledger, self._hides.hours()
        if plan is not None:
            return rounds_of(
                plan,
                ledger.state.hides,
                ledger.library.routes,
                hours,
                now,
                hands=ledger.shop.hands,
            )
        until = now + AHEAD
        return rounds_for(
            self._tended(None, hours),
            openings_around(hours, now, until),
            now,
            until,
            come_in=come_in_hours(hours, now, until),
        )

    def _walk(self, plan: Plan | None) -> tuple[WalkNow | None, tuple[Tended, ...]]:
        # The same hours for every hide: they know their openings once they were asked.
        now, hours = self._ledger.now(), self._hides.hours()
        tended = self._tended(plan, hours)
        until = now + AHEAD
        walk = walk_now(
            tended,
            openings_around(hours, now, until),
            now,
            until,
            busy=all_busy(plan.visits, self._ledger.shop.hands) if plan else (),
            come_in=come_in_hours(hours, now, until),
        )
        return walk, tended

    def _tended(self, plan: Plan | None, hours: Hours) -> tuple[Tended, ...]:
        ledger, now = self._ledger, self._ledger.now()
        tended: list[Tended] = []
        for hide in ledger.state.hides.values():
            route = self._route(hide)
            if route is None or not hide.in_work:
                continue
            of_hide = plan.of(hide.id) if plan else None
            alone = of_hide or unplanned(hide, route, hours, now)
            tended += tended_of(hide, route, alone, now)
        return tuple(tended)

    def _line(self, given: Given, tended: Sequence[Tended], *, needed: bool) -> RoundLine:
        hide = self._hides.get(given.hide)
        stage = self._stage(hide)
        wanted = next(
            each
            for each in tended
            if (each.hide, each.stage, each.attention) == (given.hide, given.stage, given.attention)
        )
        return RoundLine(
            given=given,
            count=hide.count,
            vessel=stage.vessel if stage else "",
            stage_name=stage.name if stage else given.stage,
            since=wanted.since,
            last=wanted.last,
            every=wanted.every,
            at_most=wanted.at_most,
            work=stage.attend[given.attention].work if stage else timedelta(0),
            needed=needed,
        )

    def _nothing(self, plan: Plan | None) -> str:
        coming = self.next(plan)
        if coming is None:
            return "No hide wants tending: there is no round to go."
        at = at_the_wall(coming.at, self._ledger.now(), self._ledger.zone)
        return f"Nothing may be given yet; the next round is {at}, for {_hides_of(coming.gives)}."

    def _route(self, hide: HideState) -> Route | None:
        return self._ledger.library.routes.get(hide.route)

    def _stage(self, hide: HideState) -> Stage | None:
        route = self._route(hide)
        stages = route.stages if route else ()
        return next((stage for stage in stages if stage.id == hide.stage), None)


def _hides_of(gives: Sequence[Given]) -> str:
    names = dict.fromkeys((given.hide, given.hide_name) for given in gives)
    return f"{_counted(len(names))}: {', '.join(name for _, name in names)}"


def _counted(hides: int) -> str:
    return f"{hides} hide{'' if hides == 1 else 's'}"
