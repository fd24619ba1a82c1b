"""What would be if: a change typed, worked out anywhere, stored only when it is accepted."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from benchconsole.desk.ledger import Ledger
from benchconsole.desk.moves import Moves
from benchconsole.desk.planning import PlanAnswer, PlannedQuestion, Planning, work_out_planned
from benchconsole.errors import NotKnown, NotPossibleNow
from benchconsole.model.events import Event, ShopSet, StartChosen
from benchconsole.model.shop import Shop

if TYPE_CHECKING:
    from benchconsole.schedule.planning.changes import Change
    from benchconsole.schedule.planning.supposing import WhatIf
    from benchconsole.schedule.planning.ways_out import WayOut


@dataclass(frozen=True, kw_only=True)
class WhatIfQuestion:
    """Changes that are supposed; it can be taken to another thread."""

    planned: PlannedQuestion
    shop: Shop
    changes: tuple[Change, ...]


@dataclass(frozen=True, kw_only=True)
class WhatIfAnswer:
    """What would come of the changes, for the picture of the shop that ``plan`` is for."""

    plan: PlanAnswer
    what: WhatIf


class Supposing:
    """The part of the desk that answers what would be if.

    :meth:`ask` and :meth:`take` are quick; :func:`work_out_what_if` between them is not, and
    touches nothing of the desk. Nothing is stored but by :meth:`accept`.
    """

    def __init__(self, ledger: Ledger, moves: Moves, planning: Planning) -> None:
        self._ledger, self._moves, self._planning = ledger, moves, planning

    def read(self, kind: str, text: str, hide_id: str = "") -> tuple[Change, ...]:
        """The change that a person typed; ``kind`` is one of ``typed_changes.KINDS``.

        ``hide_id`` is the hide that a start is about. Raises ``BadInput`` and ``NotPossibleNow``.
        """
        from benchconsole.desk.typed_changes import read_change

        ledger = self._ledger
        if hide_id and hide_id not in ledger.state.hides:
            raise NotKnown("hide", hide_id, tuple(ledger.state.hides))
        return (
            read_change(
                kind,
                text,
                hide=ledger.state.hides.get(hide_id),
                shop=ledger.shop,
                routes=tuple(ledger.library.routes.values()),
                now=ledger.now(),
                zone=ledger.zone,
            ),
        )

    def ask(self, changes: Sequence[Change]) -> WhatIfQuestion:
        """The question as things stand; ``NotPossibleNow`` for changes that cannot be."""
        from benchconsole.schedule.planning.changes import shop_with

        ledger = self._ledger
        shop_with(ledger.shop, changes, ledger.zone)
        return WhatIfQuestion(
            planned=self._planning.ask_planned(), shop=ledger.shop, changes=tuple(changes)
        )

    def take(self, answer: WhatIfAnswer) -> bool:
        """Keep the plan of an answer; whether the answer is for the shop as it stands."""
        self._planning.take(answer.plan)
        return answer.plan.version == self._ledger.version

    def what_if(self, changes: Sequence[Change]) -> WhatIf:
        """What would come of changes, worked out here and now."""
        answer = work_out_what_if(self.ask(changes))
        self.take(answer)
        return answer.what

    def accept(self, answer: WhatIfAnswer, way: WayOut | None = None) -> tuple[str, str]:
        """Store the changes, with a way out if one is given, as one tap.

        What it is about, as undo names it (``shop/`` or ``hide/ID``), and the sentence to show.
        ``NotPossibleNow`` if something was noted since the answer was asked for, or a start is
        past or one after which the hide spoils.
        """
        from benchconsole.schedule.planning.changes import change_words

        ledger = self._ledger
        if answer.plan.version != ledger.version:
            raise NotPossibleNow("Something was noted meanwhile, so ask again what would be.")
        changes = (*answer.what.changes, *(way.changes if way is not None else ()))
        events = self._events(changes)
        if not events:
            raise NotPossibleNow("The shop is like that already.")
        ledger.record(events)
        after = way.after if way is not None else answer.what.after
        facts = {hide.id: hide.facts for hide in ledger.state.hides.values() if hide.in_work}
        self._planning.take(PlanAnswer(version=ledger.version, plan=after, facts=facts))
        now, zone = ledger.now(), ledger.zone
        said = "; ".join(change_words(change, now, zone) for change in changes)
        return _subject(events), f"Accepted: {said}; u takes it back"

    def _events(self, changes: Sequence[Change]) -> list[Event]:
        from benchconsole.schedule.planning.changes import StartAt, shop_with

        ledger = self._ledger
        shop = shop_with(ledger.shop, changes, ledger.zone)
        starts: dict[str, datetime | None] = {
            change.hide: change.at for change in changes if isinstance(change, StartAt)
        }
        for hide, at in starts.items():
            if at is not None:
                self._moves.startable(hide, at)
        events: list[Event] = [
            StartChosen(hide=hide, start_at=at)
            for hide, at in starts.items()
            if ledger.state.hides[hide].start_at != at
        ]
        if shop != ledger.shop:
            events.insert(0, ShopSet(shop=shop))
        return events


def work_out_what_if(
    asked: WhatIfQuestion, between: Callable[[], None] = lambda: None
) -> WhatIfAnswer:
    """The answer to a question; pure, takes a moment, may run in any thread.

    ``between`` is called now and then, and ends the work by what it raises.
    """
    from benchconsole.schedule.planning.supposing import what_if

    question, plan = work_out_planned(asked.planned, between)
    what = what_if(question, plan.plan, asked.shop, asked.changes, between=between)
    # The plan may have been bettered on the way.
    answer = PlanAnswer(version=plan.version, plan=what.before, facts=plan.facts)
    return WhatIfAnswer(plan=answer, what=what)


def _subject(events: Sequence[Event]) -> str:
    first = events[0]
    return f"hide/{first.hide}" if isinstance(first, StartChosen) else "shop/"
