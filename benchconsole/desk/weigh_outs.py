"""Weigh-outs at the desk: every tap is on disk before the next one is asked for."""

from __future__ import annotations

from collections.abc import Sequence

from benchconsole.desk.ids import liquor_ids_used, next_id, weigh_out_ids_used
from benchconsole.desk.ledger import Ledger
from benchconsole.desk.views import WeighOutView
from benchconsole.errors import NotKnown, NotPossibleNow
from benchconsole.mixing.batches import coat_g, liquor_from, plan_for
from benchconsole.mixing.weighing import (
    Bench,
    is_done,
    next_pour,
    over_pour,
    replay,
    tapped,
    weighed_lines,
)
from benchconsole.mixing.worksheet import Worksheet
from benchconsole.model.events import (
    LiquorMade,
    StageBegun,
    WeighOutBegun,
    WeighOutLeft,
    WeighOutTapped,
)
from benchconsole.model.shop import Scale
from benchconsole.model.weighing import (
    Accept,
    BowlAgain,
    CarryOn,
    Jugged,
    Liquor,
    Read,
    Rebalance,
    SetMode,
    SetZero,
    Tap,
    WeighOut,
)
from benchconsole.quantities import read_mass, read_volume
from benchconsole.schedule import next_action


class WeighOuts:
    """The part of the desk that stands at the scale."""

    def __init__(self, ledger: Ledger) -> None:
        self._ledger = ledger

    def unfinished(self) -> WeighOut | None:
        """The newest weigh-out that was neither ended nor given up."""
        left = [w for w in self._ledger.state.weigh_outs.values() if w.ended_at is None]
        return left[-1] if left else None

    def view(self, weigh_out_id: str) -> WeighOutView:
        """A weigh-out at its present tap."""
        weigh_out = self._get(weigh_out_id)
        return _view(weigh_out, replay(weigh_out.plan, weigh_out.taps))

    def begin(
        self, sheet: Worksheet, hides: Sequence[str] = (), *, instead_of: str = ""
    ) -> WeighOutView:
        """Take a worksheet to the scale, for these hides and the stage they all begin with it.

        ``instead_of`` is an unfinished weigh-out that is given up by the same tap.
        """
        ledger = self._ledger
        given_up = [WeighOutLeft(weigh_out=instead_of)] if instead_of else []
        if instead_of:
            self._still_going(instead_of)
        else:
            self._refuse_second()
        for hide in hides:
            if hide not in ledger.state.hides:
                raise NotKnown("hide", hide, tuple(ledger.state.hides))
        name = next_id("w", weigh_out_ids_used(ledger.entries))
        stage = self._stage_begun_with(sheet.formula.id, hides)
        plan = plan_for(sheet, ledger.shop, hides=hides, stage=stage)
        ledger.record([*given_up, WeighOutBegun(weigh_out=name, plan=plan)])
        return self.view(name)

    def _stage_begun_with(self, formula: str, hides: Sequence[str]) -> str:
        """The stage that all these hides begin next with this formula; empty if there is none."""
        ledger = self._ledger
        hours = ledger.hours
        stages = set()
        for hide in (ledger.state.hides[each] for each in hides):
            route = ledger.library.routes.get(hide.route)
            if route is None:
                return ""
            action = next_action(hide, route, hours=hours, now=ledger.now())
            stages.add(action.stage if (action.kind, action.mix) == ("begin", formula) else "")
        return stages.pop() if len(stages) == 1 else ""

    def _refuse_second(self) -> None:
        if self.unfinished() is not None:
            raise NotPossibleNow("Another weigh-out is not finished: resume it, or give it up.")

    def accept(self, weigh_out_id: str) -> WeighOutView:
        """The scale shows the target."""
        return self._tap(weigh_out_id, Accept())

    def read(self, weigh_out_id: str, text: str) -> WeighOutView:
        """What the scale (or the jug) shows, as typed; bare numbers are in the scale's unit."""
        view = self.view(weigh_out_id)
        line = view.pour.planned if view.pour else view.over.planned if view.over else None
        if line is None:
            raise NotPossibleNow("Everything is in: finish the weigh-out, or undo the last tap.")
        if line.by == "jug":
            measures = self._ledger.shop.measures
            litres = read_volume(text, field="volume", measures=measures, zero=True)
            return self._tap(weigh_out_id, Jugged(volume_l=litres))
        scale = view.weigh_out.plan.scale
        return self._tap(weigh_out_id, Read(reading_g=read_reading(text, scale, "reading")))

    def set_zero(self, weigh_out_id: str, text: str) -> WeighOutView:
        """What the scale shows with the empty bowl on."""
        scale = self._get(weigh_out_id).plan.scale
        return self._tap(weigh_out_id, SetZero(offset_g=read_reading(text, scale, "zero")))

    def change_mode(self, weigh_out_id: str) -> WeighOutView:
        """Between leaving the bowl on and pressing zero before each ingredient."""
        bench = self.view(weigh_out_id).bench
        other = SetMode(mode="re-zero" if bench.mode == "cumulative" else "cumulative")
        return self._tap(weigh_out_id, other)

    def carry_on(self, weigh_out_id: str) -> WeighOutView:
        """Leave the deviation as it is."""
        return self._tap(weigh_out_id, CarryOn())

    def rebalance(self, weigh_out_id: str) -> WeighOutView:
        """Raise the others until the proportions hold."""
        return self._tap(weigh_out_id, Rebalance())

    def bowl_again(self, weigh_out_id: str) -> WeighOutView:
        """Throw this bowl away and weigh it afresh."""
        return self._tap(weigh_out_id, BowlAgain())

    def undo(self, weigh_out_id: str) -> WeighOutView:
        """Take back the last tap, or the end of a weigh-out, which then goes on.

        The beginning is taken back by giving up. Raises ``NotPossibleNow`` where nothing can
        be taken back: a liquor that a hide lies in stays made.
        """
        weigh_out = self._get(weigh_out_id)
        if weigh_out.ended_at is not None:
            self._refuse_second()
            self._refuse_used(weigh_out.liquor)
        elif not weigh_out.taps:
            return self._taken_up_again(weigh_out_id)
        self._ledger.undo(f"weigh-out/{weigh_out_id}")
        return self.view(weigh_out_id)

    def _taken_up_again(self, weigh_out_id: str) -> WeighOutView:
        """The weigh-out that was given up for this one, which has not begun to fill yet."""
        history = self._ledger.history(f"weigh-out/{weigh_out_id}")
        taps = {e.tap for e in history if isinstance(e.event, WeighOutBegun)}
        for entry in self._ledger.standing:
            if entry.tap in taps and isinstance(entry.event, WeighOutLeft):
                self._ledger.undo(f"weigh-out/{weigh_out_id}")
                return self.view(entry.event.weigh_out)
        raise NotPossibleNow("There is no tap to take back in this weigh-out.")

    def _refuse_used(self, liquor: str) -> None:
        if liquor in self._ledger.state.spoiled:
            raise NotPossibleNow(f"Liquor {liquor} was noted as spoiled: take that back first.")
        made = self._ledger.state.liquors.get(liquor)
        for name in made.hides if made else ():
            if away := self._ledger.state.archived.get(name):
                raise NotPossibleNow(
                    f"{away.name}, for which liquor {liquor} was made, is in the archive: bring it "
                    "back first."
                )
        for entry in self._ledger.standing if liquor else ():
            if isinstance(entry.event, StageBegun) and entry.event.liquor == liquor:
                hide = self._ledger.state.hides[entry.event.hide]
                raise NotPossibleNow(
                    f"{hide.name} was begun with liquor {liquor}: take that back first."
                )

    def give_up(self, weigh_out_id: str) -> None:
        """Leave the weigh-out; nothing comes of it. ``undo`` takes it up again."""
        self._still_going(weigh_out_id)
        self._ledger.record([WeighOutLeft(weigh_out=weigh_out_id)])

    def finish(self, weigh_out_id: str) -> Liquor:
        """Record what was really made."""
        ledger = self._ledger
        self._still_going(weigh_out_id)
        liquor = liquor_from(
            self.view(weigh_out_id).bench,
            name=next_id("L", liquor_ids_used(ledger.entries)),
            made_at=ledger.now(),
            substances=ledger.library.substances,
        )
        ledger.record([LiquorMade(weigh_out=weigh_out_id, liquor=liquor)])
        return liquor

    def _get(self, weigh_out_id: str) -> WeighOut:
        weigh_out = self._ledger.state.weigh_outs.get(weigh_out_id)
        if weigh_out is None:
            raise NotKnown("weigh-out", weigh_out_id, tuple(self._ledger.state.weigh_outs))
        return weigh_out

    def _still_going(self, weigh_out_id: str) -> None:
        if self._get(weigh_out_id).ended_at is not None:
            raise NotPossibleNow("This weigh-out has ended.")

    def _tap(self, weigh_out_id: str, tap: Tap) -> WeighOutView:
        self._still_going(weigh_out_id)
        view = self.view(weigh_out_id)
        # A tap that does not fit raises here, before anything is stored.
        checked: Bench = tapped(view.bench, tap)
        self._ledger.record([WeighOutTapped(weigh_out=weigh_out_id, tap=tap)])
        return _view(self._get(weigh_out_id), checked)


def _view(weigh_out: WeighOut, bench: Bench) -> WeighOutView:
    return WeighOutView(
        weigh_out=weigh_out,
        bench=bench,
        pour=next_pour(bench),
        over=over_pour(bench),
        done=is_done(bench),
        lines=weighed_lines(bench),
        coat_g=coat_g(bench),
    )


_PLAIN_UNIT = {"g": "g", "kg": "kg", "oz": "oz", "lb oz": "oz"}


def read_reading(text: str, scale: Scale, field: str) -> float:
    """Grams of a scale's display as typed: a bare number is in the unit the scale shows.

    A minus sign is allowed: a scale can stand below zero. Raises ``BadInput``.
    """
    words = text.strip()
    bare = words.lstrip("-−+").replace(",", ".", 1).replace(".", "", 1)
    if bare.isascii() and bare.isdigit():
        words = f"{words} {_PLAIN_UNIT[scale.shows]}"
    return read_mass(words, field=field, measures="metric", zero=True, signed=True)
