"""The number of rounds against an outside solver: OR-tools CP-SAT, proven optimal."""

from __future__ import annotations

import random

import pytest
from ortools.sat.python import cp_model

from benchconsole.schedule.planning.rounds import rounds_for
from tests.schedule.planning.round_shops import Shop, at, is_kept, spans_at

DAYS = 5


def _shop(seed: int) -> Shop:
    """Five days from 8 to 18, six baths, whole hours, a visit of 3 h a day; all can be kept."""
    draw = random.Random(seed)
    openings = tuple((24 * day + 8, 24 * day + 18) for day in range(DAYS + 2))
    wants = []
    for _ in range(6):
        every, since = draw.randint(3, 12), draw.randint(0, 48)
        day = draw.randint(since // 24 + 1, DAYS - 1)
        until = 24 * day + draw.randint(8, 18)
        wants.append((every, draw.randint(14, 24), max(8, since), until, None))
    busy = tuple((24 * d + (b := draw.randint(8, 15)), 24 * d + b + 3) for d in range(DAYS))
    return Shop(tuple(wants), openings, busy, (), 8, 24 * DAYS)


def _proven_fewest(shop: Shop) -> int:
    """The fewest walks: every attention a path of kept gaps through hours that are walked."""
    model = cp_model.CpModel()
    walked = {hour: model.new_bool_var(f"walk {hour}") for hour in shop.free_hours}
    for place, (every, at_most, since, until, _) in enumerate(shop.wants):
        hours = [since, *(hour for hour in shop.free_hours if since < hour < until), until]
        gaps = {
            (a, b): model.new_bool_var(f"{place}: {a} to {b}")
            for a in hours
            for b in hours
            if a < b and is_kept(a, b, every, at_most, shop.open_hours)
        }
        for hour in hours:
            comes = sum(gap for (_, b), gap in gaps.items() if b == hour)
            goes = sum(gap for (a, _), gap in gaps.items() if a == hour)
            model.add(goes - comes == (hour == since) - (hour == until))
            if hour not in (since, until):
                model.add(comes <= walked[hour])
    model.minimize(sum(walked.values()))
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_time_in_seconds = 20
    assert solver.solve(model) == cp_model.OPTIMAL
    return int(solver.objective_value)


@pytest.mark.parametrize("seed", range(12))
def test_the_solver_proves_that_no_fewer_rounds_will_do(seed: int) -> None:
    """CP-SAT (an exact solver that shares nothing with ours) proves the same number of walks."""
    shop = _shop(seed)
    rounds = rounds_for(
        shop.tended,
        spans_at(shop.openings),
        at(shop.now),
        at(shop.end),
        busy=spans_at(shop.busy),
    )
    assert len(rounds) >= 5
    assert len(rounds) == _proven_fewest(shop)
