"""Plans of small shops against an outside solver: OR-tools CP-SAT, proven optimal.

The model is that of ``tests/schedule/planning/oracle.py``, which is itself held against every plan
there is of tiny shops. Each shop is one that the solver proves within a second or so.
"""

from __future__ import annotations

from benchconsole.schedule.planning.search import solve
from tests.schedule.planning.oracle import best_plan
from tests.schedule.planning.shops import shop

PROVABLE = [(1, 5), (2, 4), (2, 5), (3, 4), (5, 5), (6, 4), (10, 4), (14, 5)]
"""Seeds of made-up shops and how many hides are in each."""


def test_small_shops_come_close_to_the_proven_best() -> None:
    """Within 15 % of the optimum that CP-SAT proves each, within 5 % on average."""
    over = []
    for seed, chains in PROVABLE:
        problem = shop(seed, chains)
        best = best_plan(problem, 30)
        assert best.status == "OPTIMAL"
        assert best.cost is not None
        schedule = solve(problem)
        assert schedule.bound <= best.cost <= schedule.cost
        over.append(schedule.cost / best.cost - 1)
    assert max(over) <= 0.15
    assert sum(over) / len(over) <= 0.05
