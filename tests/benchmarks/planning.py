"""The planner against proven best plans: ``python tests/benchmarks/planning.py [--seeds 1-40]``.

For each made-up shop one line: what the plan of the program costs, the best cost and whether it is
proven, the gap between them, and how long each took. ``alone`` is what the hides would cost if
each had the shop to itself: no plan is below it, so ``over`` is the gap as a part of what the
hides cost by being in each other's way. ``reach`` is how long the outside solver took to find a
plan as good as the program's, ``ratio`` how many times longer than the program that is. Every plan
is checked rule by rule; a broken one is printed and the exit code is 1.
"""

from __future__ import annotations

import argparse
import hashlib
import importlib
import json
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import asdict
from functools import partial
from pathlib import Path
from typing import NamedTuple

import msgspec

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from benchconsole.schedule.planning.problems import Problem, Schedule, cost_of
from tests.schedule.planning.faults import faults_of
from tests.schedule.planning.oracle import Best, best_plan
from tests.schedule.planning.shops import days_for, shop

ENGINE = "benchconsole.schedule.planning.search:solve"
HEAD = (
    f"{'seed':>4} {'hides':>5} {'steps':>5} {'alone':>11} {'plan':>11} {'best':>11} {'':<8}"
    f"{'gap %':>8} {'over %':>8} {'planned in':>10} {'solver':>8} {'reach':>8} {'ratio':>7}"
)


class Row(NamedTuple):
    """One shop: gaps in per cent, None where the solver has no plan."""

    gap: float | None
    over: float | None
    engine_s: float
    proven: bool
    faults: list[str]


def main(arguments: Sequence[str] = ()) -> int:
    """Print the table; 1 if a plan breaks a rule or is told to cost what it does not."""
    asked = _asked(arguments)
    module, _, name = asked.engine.partition(":")
    once: Callable[..., Schedule] = getattr(importlib.import_module(module), name)
    solve = once if asked.searches == 1 else partial(_searched, once, asked.searches)
    low, high = asked.chains
    rows = []
    solve(shop(asked.seeds[0], 4))  # what is loaded at the first call is not the planner's time
    print(HEAD)
    for seed in range(asked.seeds[0], asked.seeds[1] + 1):
        chains = low + (seed - 1) % (high - low + 1)
        problem = shop(seed, chains, asked.days or days_for(chains))
        best, alone = _best(problem, asked.limit, asked.cache)
        rows.append(_row(seed, problem, solve, best, alone))
    gaps = [row.gap for row in rows if row.gap is not None and row.proven]
    if gaps:
        found = sum(gap <= 0 for gap in gaps)
        print(f"to proven best plans ({len(gaps)}): {_mean_and_most(gaps)}; {found} are best")
    over = [row.over for row in rows if row.over is not None and row.proven]
    if over:
        print(f"over what the hides cost each other ({len(over)}): {_mean_and_most(over)}")
    unproven = [row.gap for row in rows if row.gap is not None and not row.proven]
    if unproven:
        print(f"to best plans found ({len(unproven)}): {_mean_and_most(unproven)}")
    taken = [1000 * row.engine_s for row in rows]
    print(f"planned in: mean {sum(taken) / len(taken):.0f} ms, most {max(taken):.0f} ms")
    return 1 if any(row.faults for row in rows) else 0


def _mean_and_most(gaps: list[float]) -> str:
    return f"mean {sum(gaps) / len(gaps):.4f} %, most {max(gaps):.4f} %"


def _row(
    seed: int, problem: Problem, solve: Callable[[Problem], Schedule], best: Best, alone: int
) -> Row:
    began = time.perf_counter()
    plan = solve(problem)
    engine_s = time.perf_counter() - began
    faults = list(_untrue(problem, plan, best))
    whole = len(plan.starts) == len(problem.chains)
    gap = over = None
    if best.cost is not None and whole:
        gap = 100 * (plan.cost - best.cost) / best.cost
        over = 100 * (plan.cost - best.cost) / (best.cost - alone) if best.cost > alone else None
    reach = best.seconds_to(plan.cost)
    steps = sum(len(chain.steps) for chain in problem.chains)
    print(
        f"{seed:>4} {len(problem.chains):>5} {steps:>5} {alone:>11} {plan.cost:>11} "
        f"{best.cost or '-':>11} {'proven' if best.status == 'OPTIMAL' else best.status.lower():<8}"
        f"{_figure(gap, '.4f'):>8} {_figure(over, '.2f'):>8} {1000 * engine_s:>7.0f} ms "
        f"{best.seconds:>6.1f} s {_figure(reach, '.2f'):>6} s "
        f"{_figure(None if reach is None else reach / engine_s, '.1f'):>7}",
        flush=True,
    )
    if best.status != "OPTIMAL" and best.cost is not None:
        print(
            f"     no plan is below {best.bound}, {100 * (1 - best.bound / best.cost):.4f} % less"
        )
    for fault in faults[:5]:
        print(f"     {fault}")
    return Row(gap, over, engine_s, best.status == "OPTIMAL", faults)


def _figure(value: float | None, form: str) -> str:
    return "-" if value is None else format(value, form)


def _untrue(problem: Problem, plan: Schedule, best: Best) -> Iterator[str]:
    """What the plan breaks, and what it says of itself that is not so."""
    yield from faults_of(problem, plan.starts)
    if len(plan.starts) < len(problem.chains):
        return
    if plan.cost != (cost := cost_of(problem, plan.starts)):
        yield f"said to cost {plan.cost}, costs {cost}"
    if plan.cost < best.bound:
        yield f"costs {plan.cost}, below the proven bound {best.bound}"
    if best.cost is not None and plan.bound > best.cost:
        yield f"said to have the bound {plan.bound}, but a plan of {best.cost} exists"


def _best(problem: Problem, limit_s: float, cache: Path | None) -> tuple[Best, int]:
    """The solver's best within the limit and the cost of each hide alone, kept in ``cache``."""
    digest = hashlib.sha256(msgspec.json.encode(problem)).hexdigest()[:24]
    kept = cache / f"{digest}.json" if cache else None
    if kept and kept.exists():
        found = json.loads(kept.read_text())
        best, alone = msgspec.convert(found["best"], Best), found["alone"]
        if best.status == "OPTIMAL" or best.seconds >= limit_s:
            return best, alone
    alone = sum(best_plan(one, limit_s).bound for one in _each_alone(problem))
    best = best_plan(problem, limit_s)
    if kept:
        kept.parent.mkdir(parents=True, exist_ok=True)
        kept.write_text(json.dumps({"best": asdict(best), "alone": alone}))
    return best, alone


def _each_alone(problem: Problem) -> Iterator[Problem]:
    for chain in problem.chains:
        yield msgspec.structs.replace(problem, chains=(chain,))


def _searched(once: Callable[..., Schedule], searches: int, problem: Problem) -> Schedule:
    """As the console goes on while nobody waits: again from other beginnings, the better kept."""
    plan = once(problem)
    for seed in range(2, searches + 1):
        plan = once(problem, start_from=plan.starts, seed=seed)
    return plan


def _asked(arguments: Sequence[str]) -> argparse.Namespace:
    reader = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    reader.add_argument("--seeds", type=_from_to, default=(1, 40), metavar="A-B")
    reader.add_argument("--chains", type=_from_to, default=(4, 8), metavar="A-B")
    reader.add_argument("--limit", type=float, default=60, metavar="SECONDS")
    reader.add_argument("--days", type=int, help="of the plan; by default what the hides need")
    reader.add_argument("--cache", type=Path, metavar="FOLDER", help="keeps the solver's answers")
    reader.add_argument("--searches", type=int, default=1, help="from as many beginnings")
    reader.add_argument("--engine", default=ENGINE, metavar="MODULE:FUNCTION")
    return reader.parse_args(arguments)


def _from_to(text: str) -> tuple[int, int]:
    first, _, last = text.partition("-")
    span = (int(first), int(last or first))
    if not 1 <= span[0] <= span[1]:
        raise argparse.ArgumentTypeError(f"{text}: write it like 4-8")
    return span


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
