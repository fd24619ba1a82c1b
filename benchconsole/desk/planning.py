"""The plan of the shop at the desk: asked for here, worked out anywhere, kept while it is true."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from functools import cached_property
from typing import TYPE_CHECKING

from benchconsole.desk.ledger import Ledger
from benchconsole.library.drying_files import drying_figures
from benchconsole.schedule import Hours
from benchconsole.schedule.drying import dry_window, forecast_for
from benchconsole.schedule.planning.problems import SLOT_MINUTES

if TYPE_CHECKING:
    from benchconsole.model.drying import Climate
    from benchconsole.model.hide_state import HideState
    from benchconsole.model.routes import Species
    from benchconsole.schedule import Action
    from benchconsole.schedule.planning.planner import Question
    from benchconsole.schedule.planning.plans import Plan, Visit

GOES_OLD = timedelta(minutes=15)
"""A plan is worked out anew this often, though nothing happened: time went by."""
SEARCHES = 4
"""How often a plan is searched from another beginning while nobody waits; our own choice."""


SLOT = timedelta(minutes=SLOT_MINUTES)
_VISITS = ("begin", "coat", "check")


@dataclass(frozen=True, kw_only=True)
class PlanQuestion:
    """A picture of the shop to plan from; it can be taken to another thread.

    ``version`` is the history's, ``climate`` the drying room's air, ``scale_step_g`` the doubt of
    a weighing.
    """

    question: Question
    version: int
    species: Mapping[str, Species]
    climate: Climate | None
    scale_step_g: float


@dataclass(frozen=True, kw_only=True)
class PlanAnswer:
    """A plan, and the picture of the shop it is for.

    ``facts`` tells by hide one picture of it from the next, as ``HideState.facts``.
    """

    version: int
    plan: Plan
    facts: Mapping[str, int] = field(default_factory=dict)

    @cached_property
    def first(self) -> datetime | None:
        """When its first visit starts, None for a plan without any."""
        return min(
            (visit.starts for hide in self.plan.hides for visit in hide.visits), default=None
        )


@dataclass(frozen=True, kw_only=True)
class PlannedQuestion:
    """A question with its plan: what else is asked of the shop starts from both.

    ``answer`` is None where the plan has still to be worked out, like the one before it.
    """

    asked: PlanQuestion
    answer: PlanAnswer | None
    like: Plan | None


class Planning:
    """The part of the desk that plans all hides at once.

    :meth:`ask` and :meth:`take` are quick; :func:`work_out` between them is not, and touches
    nothing of the desk.
    """

    def __init__(self, ledger: Ledger) -> None:
        self._ledger = ledger
        self._answer: PlanAnswer | None = None

    def ask(self) -> PlanQuestion:
        """The question as things stand now."""
        from benchconsole.schedule.planning.planner import Question

        ledger = self._ledger
        shop = ledger.shop
        return PlanQuestion(
            question=Question(
                hides=tuple(hide for hide in ledger.state.hides.values() if hide.in_work),
                routes=ledger.library.routes,
                # Its own hours: they keep what they worked out, and this one may go elsewhere.
                hours=Hours.of(shop, ledger.zone),
                now=ledger.now(),
                hands=shop.hands,
                vessels=shop.vessels,
                mixes={name: each.name for name, each in ledger.library.formulas.items()},
            ),
            version=ledger.version,
            species=ledger.library.species,
            climate=shop.climate,
            scale_step_g=shop.scale.step_g,
        )

    def ask_planned(self) -> PlannedQuestion:
        """The question as things stand now, with its plan if that is known."""
        answer = None if self.is_wanted else self._answer
        return PlannedQuestion(asked=self.ask(), answer=answer, like=self.known)

    def take(self, answer: PlanAnswer) -> bool:
        """Keep an answer, and whether it was: one for an older picture than the kept is not."""
        kept = self._answer
        if kept is not None and answer.version < kept.version:
            return False
        if kept is not None and answer.version == kept.version:
            # Of two for one picture the later stands, unless the clock was set back since.
            earlier = answer.plan.made_at < kept.plan.made_at
            if earlier and kept.plan.made_at <= self._ledger.now():
                return False
        self._answer = answer
        return True

    @property
    def is_wanted(self) -> bool:
        """Whether there is none, or something happened, or a while or its first visit went by."""
        answer, now = self._answer, self._ledger.now()
        if answer is None or answer.version != self._ledger.version:
            return True
        if answer.first is not None and answer.first < now:
            return True
        return not timedelta(0) <= now - answer.plan.made_at < GOES_OLD

    @property
    def known(self) -> Plan | None:
        """The newest plan there is, though something may have happened since; None before any."""
        return self._answer.plan if self._answer is not None else None

    @property
    def current(self) -> Plan | None:
        """The plan for the shop as it stands, None while it is not worked out."""
        answer = self._answer
        return answer.plan if answer is not None and answer.version == self._version else None

    @property
    def _version(self) -> int:
        return self._ledger.version

    def forget(self) -> None:
        """Keep no plan: it could not be worked out, and the last one is not to be taken for it."""
        self._answer = None

    def next_visit(self, hide: HideState) -> Visit | None:
        """The first visit planned for a hide, None if it has gone on since the plan was made."""
        answer = self._answer
        if answer is None or answer.facts.get(hide.id) != hide.facts:
            return None
        planned = answer.plan.of(hide.id)
        return planned.visits[0] if planned and planned.visits else None

    def moved(self, hide: HideState, action: Action) -> Visit | None:
        """The visit that a hide's next action is planned as, if it stands at another time.

        None for what the plan leaves where the hide alone would have it, and for an attention:
        those are given on rounds.
        """
        if action.kind not in _VISITS:
            return None
        visit = self.next_visit(hide)
        if visit is None:
            return None
        shift = visit.starts - max(action.due, self._ledger.now())
        return visit if abs(shift) >= SLOT else None

    def plan(self) -> Plan:
        """The plan for the shop as it stands, worked out here and now if need be."""
        if self.is_wanted:
            for answer in worked_out_better(self.ask(), like=self.known):
                self.take(answer)
        assert self._answer is not None
        return self._answer.plan


def work_out(
    asked: PlanQuestion,
    *,
    like: Plan | None = None,
    search: int = 1,
    between: Callable[[], None] = lambda: None,
) -> PlanAnswer:
    """The answer to a question; pure, takes a moment, may run in any thread.

    ``like`` is the plan before: its times stand where nothing better is found. Every ``search``
    goes another way. ``between`` is called now and then, and ends the work by what it raises.
    """
    from benchconsole.schedule.planning.planner import make_plan

    question = with_drying(asked, between)
    plan = make_plan(question, like=like, seed=search, between=between)
    return PlanAnswer(
        version=asked.version,
        plan=plan,
        facts={hide.id: hide.facts for hide in question.hides},
    )


def worked_out_better(
    asked: PlanQuestion,
    *,
    like: Plan | None = None,
    between: Callable[[], None] = lambda: None,
) -> Iterator[PlanAnswer]:
    """The answer at once, and then every better one that ``SEARCHES`` find; as :func:`work_out`."""
    answer = work_out(asked, like=like, between=between)
    yield answer
    for search in range(2, SEARCHES + 1):
        if answer.plan.cost <= answer.plan.bound:
            return
        other = work_out(asked, like=answer.plan, search=search, between=between)
        if other.plan.cost < answer.plan.cost:
            answer = other
            yield answer


def work_out_planned(
    planned: PlannedQuestion, between: Callable[[], None] = lambda: None
) -> tuple[Question, PlanAnswer]:
    """The whole question and its plan, which is worked out if it has to be; as :func:`work_out`."""
    answer = planned.answer or work_out(planned.asked, like=planned.like, between=between)
    return with_drying(planned.asked, between), answer


def with_drying(asked: PlanQuestion, between: Callable[[], None] = lambda: None) -> Question:
    """The question with the forecasts of what dries."""
    return replace(asked.question, drying=_drying(asked, between))


def _drying(
    asked: PlanQuestion, between: Callable[[], None]
) -> dict[str, tuple[datetime, datetime, datetime]]:
    """When the drying of each hide that dries is forecast to have come far enough."""
    question = asked.question
    found = {}
    for hide in question.hides:
        between()
        route = question.routes.get(hide.route)
        species = asked.species.get(hide.species)
        if route is None or species is None or hide.begun_at is None:
            continue
        forecast = forecast_for(
            hide,
            route,
            species=species,
            climate=asked.climate,
            scale_step_g=asked.scale_step_g,
            figures=drying_figures(),
            now=question.now,
        )
        window = dry_window(forecast) if forecast is not None else None
        if window is not None:
            found[hide.id] = window
    return found
