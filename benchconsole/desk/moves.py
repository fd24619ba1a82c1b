"""What happens to hides beside their routes: moved, split, spoiled, lost; starts chosen."""

from __future__ import annotations

from datetime import datetime

from benchconsole.desk.hides import Hides
from benchconsole.desk.ids import hide_ids_used, named_id
from benchconsole.desk.ledger import Ledger
from benchconsole.desk.ready_liquors import liquors_of
from benchconsole.desk.typed_lines import NAME_LONGEST, REASON_LONGEST, checked_line
from benchconsole.desk.words import tap_words
from benchconsole.errors import BadInput, NotKnown, NotPossibleNow
from benchconsole.model.events import (
    Event,
    HideLost,
    LiquorSpoiled,
    LotSplit,
    RouteChanged,
    StageSkipped,
    StartChosen,
    TimeCorrected,
)
from benchconsole.model.routes import Route, Stage
from benchconsole.model.state import HideState
from benchconsole.model.weighing import Liquor
from benchconsole.quantities import read_count
from benchconsole.schedule import attended_there, lies_in_it, lying_in
from benchconsole.schedule.wording import wall_time


class Moves:
    """The part of the desk for what no route foresees; each intent is one tap.

    They are taken back where other taps about a hide are: :meth:`Hides.undo`.
    """

    def __init__(self, ledger: Ledger, hides: Hides) -> None:
        self._ledger = ledger
        self._hides = hides

    def start_at(self, hide_id: str, at: datetime) -> str:
        """Choose when to begin the stage a hide waits for; the sentence to show.

        ``at`` is aware. ``NotPossibleNow`` for a hide that is in a stage or has none, for a
        time that is past and for one after which the hide spoils.
        """
        hide = self.startable(hide_id, at)
        return self._record(hide, StartChosen(hide=hide.id, start_at=at))

    def start_any_time(self, hide_id: str) -> str:
        """Take the chosen start away; the sentence to show."""
        hide = self.waiting(hide_id)
        if hide.start_at is None:
            raise NotPossibleNow(f"{hide.name}: no start was chosen.")
        return self._record(hide, StartChosen(hide=hide.id))

    def move(self, hide_id: str, *, stage: str, route: str = "", begun: bool = False) -> str:
        """Put a hide at any stage of its route or of another one; the sentence to show.

        It is to begin that stage; with ``begun``, for another route only, it is in it already
        and what it had of hold and looks counts on. An empty ``stage`` finishes the piece by
        its own route. ``BadInput`` and ``NotPossibleNow`` say what does not fit.
        """
        hide = self.in_shop(hide_id)
        way = self._ledger.library.routes.get(route or hide.route)
        if way is None:
            known = next(iter(self._ledger.library.routes), "")
            raise BadInput("route", f"“{(route or hide.route)[:40]}” is not in the library", known)
        there = next((each for each in way.stages if each.id == stage), None)
        if there is None and (stage or way.id != hide.route):
            fault = f"{way.name} has no stage “{stage[:40]}”" if stage else "nothing is chosen yet"
            raise BadInput("stage", fault, way.stages[0].id)
        if way.id != hide.route and there is not None:
            return self._record(hide, self._route_changed(hide, way, there, begun=begun))
        if begun:
            raise NotPossibleNow(f"{hide.name}: move it there, then note when it is in: done.")
        if stage == hide.stage and hide.begun_at is None:
            name = there.name if there else "the end of its route"
            raise NotPossibleNow(f"{hide.name} is at “{name}” already.")
        return self._record(hide, StageSkipped(hide=hide.id, stage=hide.stage, next=stage))

    def _route_changed(
        self, hide: HideState, way: Route, there: Stage, *, begun: bool
    ) -> RouteChanged:
        old = self._ledger.library.routes.get(hide.route)
        if begun and hide.begun_at is None:
            raise NotPossibleNow(
                f"{hide.name} is in no stage now, so it is to begin “{there.name}” first."
            )
        stages = old.stages if old is not None else ()
        here = next((each for each in stages if each.id == hide.stage), None)
        return RouteChanged(
            hide=hide.id,
            route=way.id,
            stage=there.id,
            begun=begun,
            attended_at=attended_there(hide, here, there) if begun else {},
            lying=None if begun or old is None else lying_in(hide, old),
        )

    def split(self, hide_id: str, *, count: str, name: str) -> str:
        """Let ``count`` skins of a lot go on as a hide of their own; the sentence to show.

        They take their share of the weight. ``BadInput`` names the field.
        """
        hide = self.lot(hide_id)
        name = checked_line("name", name, NAME_LONGEST, "brown goats, thin ones")
        many = read_count(count, field="count")
        if many >= hide.count:
            most = hide.count - 1
            can = f"1 to {most} of its {hide.count} skins can go" if most > 1 else "1 of 2 can go"
            raise BadInput("count", can, "1")
        event = LotSplit(
            hide=hide.id,
            new_hide=named_id(name, hide_ids_used(self._ledger.entries)),
            of=hide.name,
            name=name,
            count=many,
            mass_g=None if hide.mass_g is None else hide.mass_g * many / hide.count,
        )
        return self._record(hide, event)

    def spoil(self, liquor_id: str, why: str) -> str:
        """A liquor can no longer be used; the sentence to show, with the hides to take out.

        Raises ``NotKnown``, ``BadInput`` for the reason, ``NotPossibleNow`` the second time.
        """
        state, routes = self._ledger.state, self._ledger.library.routes
        if liquor_id not in state.liquors:
            raise NotKnown("liquor", liquor_id, tuple(state.liquors))
        if liquor_id in state.spoiled:
            raise NotPossibleNow(f"Liquor {liquor_id} was noted as spoiled before.")
        why = checked_line("why", why, REASON_LONGEST, "smells sour, gone slimy")
        told = [
            hide
            for hide in state.hides.values()
            if any(each.id == liquor_id for each in liquors_of(self._ledger, hide.id))
        ]
        out = [hide for hide in told if lies_in_it(hide, routes.get(hide.route), liquor_id)]
        event = LiquorSpoiled(
            liquor=liquor_id,
            why=why,
            hides=tuple(hide.id for hide in told),
            out=tuple(hide.id for hide in out),
        )
        self._ledger.record([event])
        names = ", ".join(hide.name for hide in out)
        take_out = f"; take out now: {names}" if names else ""
        return f"Noted: {tap_words([event])}{take_out}"

    def undo_spoiled(self, liquor_id: str) -> str:
        """The liquor can be used after all; the sentence to show."""
        if liquor_id not in self._ledger.state.spoiled:
            raise NotPossibleNow(f"Liquor {liquor_id} was not noted as spoiled.")
        about = self._ledger.history(f"liquor/{liquor_id}")
        if isinstance(about[-1].event, TimeCorrected):
            raise NotPossibleNow(
                f"Liquor {liquor_id}: a time was corrected since; take that back first, in the "
                "history (F4)."
            )
        gone = self._ledger.undo(f"liquor/{liquor_id}")
        return f"Taken back: {tap_words(gone)}"

    def out_of_work(self, hide_id: str, why: str) -> str:
        """The hide is spoiled, sold raw, given away: nothing more is asked for it; the sentence.

        Its card stays. ``NotPossibleNow`` for a finished piece.
        """
        hide = self.in_work(hide_id)
        why = checked_line("why", why, REASON_LONGEST, "sold raw")
        return self._record(hide, HideLost(hide=hide.id, why=why))

    def in_shop(self, hide_id: str) -> HideState:
        """A hide that can be moved; ``NotPossibleNow`` for one that was taken out of work."""
        hide = self._hides.get(hide_id)
        if hide.out_at is not None:
            raise NotPossibleNow(
                f"{hide.name} is out of work; if it is not, undo that on its card."
            )
        return hide

    def in_work(self, hide_id: str) -> HideState:
        """A hide with which something is still to be done; ``NotPossibleNow`` for others."""
        hide = self.in_shop(hide_id)
        if not hide.stage:
            raise NotPossibleNow(f"{hide.name} is finished: nothing is asked for it any more.")
        return hide

    def lot(self, hide_id: str) -> HideState:
        """A lot that can be split; ``NotPossibleNow`` for a single skin."""
        hide = self.in_shop(hide_id)
        if hide.count < 2:
            raise NotPossibleNow(f"{hide.name} is one skin: there is nothing to split.")
        return hide

    def startable(self, hide_id: str, at: datetime) -> HideState:
        """A hide whose stage may be begun at ``at``; ``NotPossibleNow`` as :meth:`start_at`."""
        hide = self.waiting(hide_id)
        now, zone = self._ledger.now(), self._ledger.zone
        if at < now:
            raise NotPossibleNow(f"{hide.name}: {wall_time(at, zone, now)} is past.")
        latest = self._hides.action_of(hide_id).latest
        if latest is not None and latest < at and now <= latest:
            raise NotPossibleNow(
                f"{hide.name}: it may lie until {wall_time(latest, zone, now)}, no longer; "
                "choose a time before."
            )
        return hide

    def waiting(self, hide_id: str) -> HideState:
        """A hide whose next action is to begin a stage; ``NotPossibleNow`` for others."""
        hide = self.in_shop(hide_id)
        action = self._hides.action_of(hide_id)
        if action.kind != "begin":
            raise NotPossibleNow(f"{hide.name}: there is no stage to begin; {action.action}")
        return hide

    def usable_liquors(self, hide_id: str) -> tuple[Liquor, ...]:
        """The liquors of a hide that are not spoiled, the one it lies in first.

        ``NotPossibleNow`` if there is none.
        """
        hide, spoiled = self._hides.get(hide_id), self._ledger.state.spoiled
        left = [each for each in liquors_of(self._ledger, hide_id) if each.id not in spoiled]
        if not left:
            raise NotPossibleNow(f"{hide.name}: no liquor of it is known that could spoil.")
        return tuple(sorted(left, key=lambda each: each.id != hide.lies_in_liquor))

    def _record(self, hide: HideState, event: Event) -> str:
        self._ledger.record([event])
        route = self._ledger.library.routes.get(self._hides.get(hide.id).route)
        return f"{hide.name}: {tap_words([event], route, self._ledger.zone)}"
