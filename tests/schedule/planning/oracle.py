"""The best plan by an outside solver: OR-tools CP-SAT on exactly the rules of ``problems``.

For tests and benchmarks only. A constraint model shares nothing with the planner's own search,
and its lower bound is proven.
"""

from __future__ import annotations

import time
from collections import defaultdict
from collections.abc import Callable
from dataclasses import dataclass, field

from ortools.sat.python import cp_model

from benchconsole.schedule.planning.problems import (
    DUE_COST,
    FINISH_COST,
    LATEST_COST,
    SLOT_MINUTES,
    Chain,
    Problem,
    Step,
    cost_of,
)

Starts = dict[str, tuple[int, ...]]


@dataclass(frozen=True)
class Best:
    """The solver's answer: ``status`` is OPTIMAL, FEASIBLE, INFEASIBLE or UNKNOWN.

    ``cost`` is None without a plan. ``found`` has each better plan that came up: seconds, cost.
    """

    status: str
    cost: int | None
    bound: int
    starts: Starts
    seconds: float
    found: tuple[tuple[float, int], ...] = ()

    def seconds_to(self, cost: int) -> float | None:
        """Seconds until the solver had a plan of this cost or better; None if it never had."""
        return next((seconds for seconds, reached in self.found if reached <= cost), None)


def best_plan(
    problem: Problem,
    limit_s: float = 60,
    *,
    hint: Starts | None = None,
    workers: int = 2,
    stop_at: int | None = None,
) -> Best:
    """Solve within ``limit_s`` seconds of wall clock, building the model included in ``seconds``.

    ``hint`` is a plan to begin from. With ``stop_at`` the search ends at a plan of that cost.
    """
    began = time.perf_counter()
    model = _Model(problem)
    if hint:
        model.hint(hint)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = workers
    solver.parameters.random_seed = 7
    solver.parameters.max_time_in_seconds = limit_s
    log = _Log(model, began, stop_at)
    status = solver.solve(model.model, log)
    has_plan = status in (cp_model.OPTIMAL, cp_model.FEASIBLE)
    starts = model.starts_in(solver.value) if has_plan else {}
    return Best(
        status=solver.status_name(status),
        cost=cost_of(problem, starts) if has_plan else None,
        bound=SLOT_MINUTES * round(solver.best_objective_bound) if has_plan else 0,
        starts=starts,
        seconds=time.perf_counter() - began,
        found=tuple(log.found),
    )


class _Log(cp_model.CpSolverSolutionCallback):
    """Better plans as they come up, by their true cost.

    The solver's own figure may be higher until the plan is proven best: nothing holds its
    lateness down to the least it must be.
    """

    def __init__(self, model: _Model, began: float, stop_at: int | None) -> None:
        super().__init__()
        self._model = model
        self._began = began
        self._stop_at = stop_at
        self.found: list[tuple[float, int]] = []

    def on_solution_callback(self) -> None:
        cost = cost_of(self._model.problem, self._model.starts_in(self.value))
        self.found.append((time.perf_counter() - self._began, cost))
        if self._stop_at is not None and cost <= self._stop_at:
            self.stop_search()


@dataclass
class _Taken:
    """What takes from one limited thing, as intervals and how much each takes."""

    intervals: list[cp_model.IntervalVar] = field(default_factory=list)
    amounts: list[int] = field(default_factory=list)


class _Model:
    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.model = cp_model.CpModel()
        self.variables: dict[str, list[cp_model.IntVar]] = {}
        self._taken: defaultdict[str, _Taken] = defaultdict(_Taken)
        self._hands = _Taken()
        self._costs: list[cp_model.LinearExpr | cp_model.IntVar | int] = []
        for chain in problem.chains:
            self._add_chain(chain)
        if problem.hands == 1:
            self.model.add_no_overlap(self._hands.intervals)
        else:
            self.model.add_cumulative(self._hands.intervals, self._hands.amounts, problem.hands)
        for kind, taken in self._taken.items():
            self.model.add_cumulative(taken.intervals, taken.amounts, problem.vessels[kind])
        self.model.minimize(sum(self._costs))

    def hint(self, starts: Starts) -> None:
        for name, times in starts.items():
            for variable, value in zip(self.variables[name], times, strict=True):
                self.model.add_hint(variable, value)

    def starts_in(self, value: Callable[[cp_model.IntVar], int]) -> Starts:
        return {
            name: tuple(value(variable) for variable in variables)
            for name, variables in self.variables.items()
        }

    def _add_chain(self, chain: Chain) -> None:
        starts: list[cp_model.IntVar] = []
        for number, step in enumerate(chain.steps):
            start = self.model.new_int_var_from_domain(
                self._may_begin(step), f"{chain.id}/{number}"
            )
            before = starts[-1] + chain.steps[number - 1].work if starts else 0
            self.model.add(start - before >= max(0, step.least))
            self._add_costs(step, start, before)
            hands = self.model.new_fixed_size_interval_var(start, step.work, "")
            self._hands.intervals.append(hands)
            self._hands.amounts.append(1)
            starts.append(start)
        last = chain.steps[-1]
        self._costs.append(FINISH_COST * (starts[-1] + last.work))
        self._add_vessels(chain, starts)
        self.variables[chain.id] = starts

    def _may_begin(self, step: Step) -> cp_model.Domain:
        spans = [
            [opens, min(closes - step.stay, self.problem.slots) - step.work]
            for opens, closes in self.problem.open_spans
            if opens + step.work <= min(closes - step.stay, self.problem.slots)
        ]
        return cp_model.Domain.from_intervals(spans)

    def _add_costs(
        self, step: Step, start: cp_model.IntVar, before: cp_model.LinearExpr | int
    ) -> None:
        most = self.problem.slots
        waited = start - before
        limits = [(DUE_COST, step.target)]
        if step.most is not None:
            limits.append((LATEST_COST * step.stake, step.most))
        for cost, limit in limits:
            late = self.model.new_int_var(0, most + abs(limit), "")
            self.model.add(late >= waited - limit)
            self._costs.append(cost * late)
        if step.early:
            early = self.model.new_int_var(0, most + abs(step.target), "")
            self.model.add(early >= step.target - waited)
            self._costs.append(step.early * early)

    def _add_vessels(self, chain: Chain, starts: list[cp_model.IntVar]) -> None:
        """A hide that goes from one place into another of its kind keeps it: one interval."""
        kinds = [chain.lies_in, *(step.vessel for step in chain.steps)]
        edges: list[cp_model.LinearExpr | cp_model.IntVar | int] = [
            0,
            *starts,
            starts[-1] + chain.steps[-1].work,
        ]
        number = 0
        while number < len(kinds):
            end = number
            while end < len(kinds) and kinds[end] == kinds[number]:
                end += 1
            if kinds[number] in self.problem.vessels:
                size = self.model.new_int_var(0, self.problem.slots, "")
                interval = self.model.new_interval_var(edges[number], size, edges[end], "")
                self._taken[kinds[number]].intervals.append(interval)
                self._taken[kinds[number]].amounts.append(chain.places)
            number = end
