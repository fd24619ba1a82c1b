"""How long the planner takes: ``python tests/benchmarks/plans.py``.

Prints the median time of a plan for made-up shops of 8 and of 60 hides on the bare grid, of whole
plans (courses out of the shipped routes, search, reasons, rounds) of as many hides, and of the
next actions of 1,000 hides. The goals are 150 ms, 1.5 s and 100 ms on a machine of two cores.
"""

from __future__ import annotations

import random
import sys
import time
from collections.abc import Callable, Sequence
from datetime import UTC, datetime, timedelta
from functools import partial
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from benchconsole.library import shipped_library
from benchconsole.model.routes import Route
from benchconsole.model.shop import Shop
from benchconsole.model.state import HideState
from benchconsole.schedule import Hours, day_sheet
from benchconsole.schedule.planning.planner import Question, make_plan
from benchconsole.schedule.planning.search import solve
from tests.benchmarks.work import median_seconds
from tests.schedule.planning.shops import days_for, shop

NOW = datetime(2026, 3, 4, 9, 0, tzinfo=UTC)
VESSELS = {8: {"tub": 3, "board": 4, "frame": 3}, 60: {"tub": 20, "board": 20, "frame": 15}}


def some_hides(many: int, seed: int = 1) -> tuple[HideState, ...]:
    """Hides of the shipped routes: every second in store, the others somewhere on their way."""
    draw = random.Random(seed)
    routes = [route for route in shipped_library().routes.values() if "salted" in route.starts]
    return tuple(_hide(draw, number, routes) for number in range(many))


def _hide(draw: random.Random, number: int, routes: Sequence[Route]) -> HideState:
    route = draw.choice(routes)
    first = route.place_of(route.starts["salted"])
    in_store = number % 2 == 0
    stage = route.stages[first if in_store else draw.randrange(first, len(route.stages))]
    species = draw.choice(route.species)
    hold = stage.hold_for(species, "salted")
    gone = timedelta(hours=1) if hold is None else hold.target * draw.uniform(0.2, 1.1)
    begun = None if in_store else NOW - gone
    return HideState(
        id=f"h{number:04}",
        name=f"hide {number}",
        species=species,
        route=route.id,
        came="salted",
        count=1,
        mass_g=None,
        stage=stage.id,
        arrived_at=NOW - timedelta(days=2) if begun is None else begun,
        begun_at=begun,
        coats_at=() if begun is None else (begun,) * (stage.coats.count if stage.coats else 1),
    )


def _told(what: str, work: Callable[[], object], rounds: int, goal_ms: int) -> str:
    seconds = median_seconds(work, rounds)
    return f"{what}: {1000 * seconds:.0f} ms, {1000 * seconds / goal_ms:.2f} of the goal"


def main() -> int:
    """Print every line."""
    library = shipped_library()
    hours = Hours.of(Shop(), UTC)
    solve(shop(1, 4))
    for many, goal_ms, rounds in ((8, 150, 15), (60, 1500, 3)):
        problem = shop(7, many, days_for(many))
        line = _told(f"bare plan of {many}", partial(solve, problem), rounds, goal_ms)
        print(line, flush=True)
        question = Question(
            hides=some_hides(many),
            routes=library.routes,
            hours=hours,
            now=NOW,
            vessels=VESSELS[many],
        )
        began = time.perf_counter()
        plan = make_plan(question)
        first = time.perf_counter() - began
        reach, visits = (plan.until - plan.made_at).days, len(plan.visits)
        missing = sum(bool(hide.unplanned) for hide in plan.hides)
        line = _told(f"whole plan of {many}", partial(make_plan, question), rounds, goal_ms)
        print(
            f"{line} ({visits} visits, {reach} days; {missing} without room; {first:.2f} s first)"
        )
    states = some_hides(1000)
    print(
        _told(
            "next actions of 1,000",
            lambda: day_sheet(states, library.routes, hours=hours, now=NOW),
            5,
            100,
        )
    )
    return 0


if __name__ == "__main__":
    sys.exit(main())
