"""The best plan that can be found in a set amount of work.

Each chain's times are exact for what the others leave (``timing``); what is searched is who
gives way to whom. A move takes a chain out, finds times for it at the price of what the others
would lose, takes out those in the way and places them again the same way (ejection chains:
Glover, Discrete Applied Mathematics 65, 1996); or takes a few out and places them again in
another order (ruin and recreate: Schrimpf et al., Journal of Computational Physics 159, 2000).
A worse plan is kept now and then, less and less often (simulated annealing: Kirkpatrick, Gelatt,
Vecchi, Science 220, 1983). The chance is drawn from a fixed seed and the work counted in steps,
not seconds, so that the same question has the same answer.
"""

from __future__ import annotations

import math
import random
from collections.abc import Callable, Mapping, Sequence

from msgspec.structs import replace

from benchconsole.schedule.planning.arranging import UNPLACED, Arrangement
from benchconsole.schedule.planning.occupancy import Starts
from benchconsole.schedule.planning.problems import (
    DUE_COST,
    Chain,
    Problem,
    Schedule,
    Span,
    may_wait,
    pressing,
)
from benchconsole.schedule.planning.rough import Rough

STEPS_A_CHAIN, MORE_STEPS, MANY_CHAINS = 250, 2_000, 8
MOST_STEPS = 15_500
"""How much work is done: steps given times, so many a chain and more for every one beyond eight,
up to the most; our own choice. They count for a shop that is open five weeks, in a longer plan
each is more work."""

HEAT = 1.0
"""How much worse a plan may be to be kept at the beginning, in parts of what might be saved."""
SHIFTS, SHUFFLES, FORCED, EXTRA = 0.25, 0.2, 0.3, 0.1
"""How often a move is a shift or a shuffle; begins in a drawn week; takes one more chain out."""
HAND_FACTORS, VESSEL_FACTORS = (0.1, 4.0), (0.01, 10.0)
GROWTH = 1.5
"""How much dearer it gets to push others aside with every one pushed."""
DEEPEST = 6
"""After so many nobody is pushed aside any more."""
WORTH_MOVING = 60 * DUE_COST
"""What is saved at least where the plan in hand is given up for another: an hour past due in all,
or its like; our own choice. Else the whole shop would be told other times for a few minutes.
"""
DAY, NEARBY = 96, 8
TRIES = 300
ROUGH_PLANS = 2
"""Orders tried for a rough plan, and rough plans made; our own choice."""


def solve(
    problem: Problem,
    *,
    start_from: Mapping[str, Starts] | None = None,
    steps: int | None = None,
    seed: int = 1,
    between: Callable[[], None] | None = None,
) -> Schedule:
    """The best plan found; chains that cannot be placed before the plan ends are left out.

    ``start_from`` is a plan to be no worse than, kept where none is found that is worth moving
    visits for.
    ``steps`` limits the work, ``seed`` is where chance begins. ``between`` is called between two
    moves, and ends the search by what it raises.
    """
    if steps is None:
        chains = len(problem.chains)
        steps = STEPS_A_CHAIN * chains + MORE_STEPS * max(0, chains - MANY_CHAINS)
        steps = min(MOST_STEPS, steps)
    search = Search(problem, steps, seed)
    if start_from is not None:
        search.adopt(start_from)
    schedule = search.run(between)
    left = [
        chain
        for chain in problem.chains
        if chain.id not in schedule.starts and chain.lies_in in problem.vessels
    ]
    if not left:
        return schedule
    # What found no times goes on lying where it does: the others have that much less room.
    without = solve(
        _without(problem, left), start_from=start_from, steps=steps, seed=seed, between=between
    )
    return Schedule(starts=without.starts, cost=without.cost)


def _without(problem: Problem, left: Sequence[Chain]) -> Problem:
    """The problem of the others while these lie in their vessels to the end."""
    vessels = dict(problem.vessels)
    for chain in left:
        vessels[chain.lies_in] = max(0, vessels[chain.lies_in] - chain.places)
    others = tuple(chain for chain in problem.chains if chain not in left)
    return replace(problem, chains=others, vessels=vessels)


class Search:
    """One search: the present plan, its cost by chain, and the best plan so far."""

    def __init__(self, problem: Problem, steps: int, seed: int = 1) -> None:
        self._plan = Arrangement(problem)
        self._rough = Rough(problem, self._plan.grid)
        self._chance = random.Random(seed)
        self._steps = steps
        self._bound = sum(self._plan.alone.values())
        self._total = self._plan.total
        self._best: tuple[int, dict[str, Starts]] = (self._total, {})
        self._adopted = self._best
        self._ceiling = float(self._total)

    def adopt(self, known: Mapping[str, Starts]) -> None:
        """Take a plan, as far as it keeps to every limit, and what is missing in it added.

        It is only what the search ends with if it finds nothing better: what is found does not
        depend on it, so that asked again with nothing changed no visit moves.
        """
        plan, nothing, spent = self._plan, self._best, self._plan.spent
        for name in sorted(plan.chains.keys() & known.keys()):
            plan.put_if_free(name, known[name])
        for chain in sorted(plan.chains.values(), key=pressing):
            if chain.id not in plan.placed:
                plan.insert(chain.id)
        self._note()
        self._adopted, self._best, plan.spent = self._best, nothing, spent
        plan.clear()

    def run(self, between: Callable[[], None] | None = None) -> Schedule:
        """Search until the work is done or nothing better can exist."""
        self._begin()
        self._total = self._plan.total
        self._note()
        while self._plan.spent < self._steps and self._best[0] > self._bound:
            if between is not None:
                between()
            self._move()
        better = self._best[0] + WORTH_MOVING <= self._adopted[0]
        cost, starts = self._best if better else self._adopted
        missing = len(self._plan.chains) - len(starts)
        bound = self._bound if not missing else 0
        return Schedule(starts=starts, cost=cost - UNPLACED * missing, bound=bound)

    def _begin(self) -> None:
        """First plans near rough ones, in their order; the best of them is where it begins."""
        plan = self._plan
        begun: dict[str, Starts] = {}
        least: int | None = None
        for _ in range(ROUGH_PLANS):
            plan.clear()
            for name, slot in self._rough.order(self._chance, TRIES):
                near = None
                if slot is not None and may_wait(plan.chains[name]):
                    near = max(slot - DAY // 4, 0), slot + DAY
                plan.insert(name, near)
            if least is None or plan.total < least:
                begun, least = dict(plan.placed), plan.total
            self._note()
        plan.clear()
        for name, starts in begun.items():
            plan.put_back(name, starts)

    # --- moves --------------------------------------------------------------------

    def _move(self) -> None:
        before = dict(self._plan.placed)
        self._ceiling = self._total + self._allowance()
        drawn = self._chance.random()
        if len(self._plan.chains) > 2 and drawn < SHIFTS:
            touched = self._shift()
        elif len(self._plan.chains) > 2 and drawn < SHIFTS + SHUFFLES:
            touched = self._shuffle()
        else:
            touched = self._push()
        total = self._plan.total
        if total <= self._ceiling:
            self._total = total
            self._note()
            return
        for name in touched:
            self._plan.remove(name)
        for name in touched:
            if name in before:
                self._plan.put_back(name, before[name])

    def _allowance(self) -> float:
        """How much dearer the next plan may be."""
        left = 1.0 - self._plan.spent / self._steps
        to_save = self._best[0] - self._bound
        if left <= 0.0 or self._best[0] >= UNPLACED:
            return 0.0
        heat = HEAT * left * left * to_save / len(self._plan.chains)
        return -heat * math.log(self._chance.random() + 1e-12)

    def _is_hopeless(self, waiting: Sequence[str]) -> bool:
        """Whether the plan would be too dear even if all that wait got their best times."""
        saved = sum(self._plan.cost[name] - self._plan.alone[name] for name in waiting)
        return self._plan.total - saved > self._ceiling

    def _shift(self) -> list[str]:
        """One of a few that follow each other gets another place among them."""
        order = sorted(self._plan.placed, key=lambda name: (self._plan.placed[name][0], name))
        free = [name for name in order if not self._plan.chains[name].lies_in]
        if len(free) > 2 and self._chance.random() < 0.7:
            order = free
        if len(order) < 2:
            return self._shuffle()
        first, many = self._chance.randrange(len(order)), self._chance.randint(2, 6)
        run = order[first : first + many]
        if len(run) < 2:
            run = order[-many:]
        moved = run.pop(self._chance.randrange(len(run)))
        run.insert(self._chance.randrange(len(run) + 1), moved)
        return self._again(run)

    def _shuffle(self) -> list[str]:
        """A few that may begin any time, or any few, in a drawn order."""
        names = list(self._plan.chains)
        free = [name for name in names if may_wait(self._plan.chains[name])]
        pool = free if len(free) >= 2 and self._chance.random() < 0.6 else names
        many = min(self._chance.randint(2, min(5, len(names))), len(pool))
        return self._again(self._chance.sample(pool, many))

    def _again(self, names: Sequence[str]) -> list[str]:
        for name in names:
            self._plan.remove(name)
        for place, name in enumerate(names):
            self._plan.insert(name)
            if self._is_hopeless(names[place + 1 :]):
                break
        return list(names)

    def _push(self) -> list[str]:
        """One chain gets what it wants, and those in the way make room, and so on."""
        chance = self._chance
        name = self._drawn()
        begin = self._drawn_begin(name) if chance.random() < FORCED else None
        hands, vessels = (_log_uniform(chance, *ends) for ends in (HAND_FACTORS, VESSEL_FACTORS))
        queue, touched = [name], [name]
        others = [other for other in self._plan.chains if other != name]
        if others and chance.random() < EXTRA:
            queue.append(chance.choice(others))
            touched.append(queue[-1])
        for one in queue:
            self._plan.remove(one)
        pushed: list[str] = []
        while queue and not self._is_hopeless(queue):
            one = queue.pop(0)
            if len(pushed) >= DEEPEST:
                self._plan.insert(one)
                continue
            aside = self._plan.insert_pushing(
                one, (hands, vessels), chance, begin=begin, firm=pushed
            )
            pushed.append(one)
            begin = None
            hands, vessels = hands * GROWTH, vessels * GROWTH
            touched += [other for other in aside if other not in touched]
            queue += aside
        return touched

    def _drawn(self) -> str:
        """A chain, rather one that loses much by the others."""
        names = list(self._plan.cost)
        regret: list[float] = [self._plan.cost[name] - self._plan.alone[name] for name in names]
        drawn = self._chance.random()
        if drawn < 0.25 or not any(regret):
            regret = [1.0] * len(names)
        elif drawn < 0.5:
            regret = [math.sqrt(max(each, 0)) + 1.0 for each in regret]
        return self._chance.choices(names, regret)[0]

    def _drawn_begin(self, name: str) -> Span | None:
        """A few days to begin in for a chain that may wait, else a little time near its own."""
        starts, chance = self._plan.placed, self._chance
        chain = self._plan.chains[name]
        if not starts:
            return None
        if chain.steps[0].target > DAY:
            at = chance.randrange(max(each[0] for each in starts.values()) + DAY)
            return at, at + chance.choice((DAY, 2 * DAY, 4 * DAY))
        if name not in starts:
            return None
        at = max(0, starts[name][0] + chance.randint(-NEARBY, NEARBY))
        return at, at + chance.randint(1, NEARBY)

    def _note(self) -> None:
        """Remember the present plan if it is the best."""
        if self._plan.total < self._best[0]:
            self._best = (self._plan.total, dict(self._plan.placed))


def _log_uniform(chance: random.Random, low: float, high: float) -> float:
    return math.exp(chance.uniform(math.log(low), math.log(high)))
