"""A plan in the making: which chains have times, what each costs, and how one more is put in."""

from __future__ import annotations

import random
from collections.abc import Collection, Mapping

from benchconsole.schedule.planning.grids import Grid
from benchconsole.schedule.planning.markets import FORBIDDEN, HardMarket, Market, SoftMarket
from benchconsole.schedule.planning.occupancy import Occupancy, Starts
from benchconsole.schedule.planning.problems import Chain, Problem, Span, chain_cost
from benchconsole.schedule.planning.timing import best_times

UNPLACED = FORBIDDEN
"""What a chain without times is thought to cost."""


class Arrangement:
    """The chains of a problem, some of them with times.

    ``cost`` is what each costs now, ``alone`` what it would cost in a shop of its own, ``spent``
    the work done: steps given times.
    """

    def __init__(self, problem: Problem) -> None:
        self.problem, self.grid = problem, Grid(problem)
        self.taken = Occupancy(problem, self.grid)
        self.chains = {chain.id: chain for chain in problem.chains}
        # Giving a step its times is so much work for itself, for every start and other chain.
        self._work_a_step = (500 + self.grid.count + 12 * len(problem.chains)) / 1600
        self.spent = 0.0
        self.alone = {chain.id: self._alone(chain) for chain in problem.chains}
        self.cost = dict.fromkeys(self.chains, UNPLACED)

    @property
    def placed(self) -> Mapping[str, Starts]:
        """The times of the chains that have some."""
        return self.taken.placed

    @property
    def total(self) -> int:
        """What all chains cost together."""
        return sum(self.cost.values())

    def insert(self, name: str, near: Span | None = None) -> None:
        """Give a chain its best times in what the others leave, begun ``near`` if it can be."""
        chain = self.chains[name]
        self.taken.lift(chain)
        self._count(chain)
        market = HardMarket(self.grid, chain, self.taken)
        times = best_times(market, begin=near) or best_times(market)
        if times is None:
            self.taken.lay_down(chain)
            self.cost[name] = UNPLACED
        else:
            self._place(chain, times.starts)

    def insert_pushing(
        self,
        name: str,
        factors: tuple[float, float],
        chance: random.Random,
        *,
        begin: Span | None = None,
        firm: Collection[str] = (),
    ) -> list[str]:
        """Give a chain times that others have to make room for; who was taken out.

        ``factors`` are how much it minds to push others from hands and from vessels, ``begin``
        the slots it has to begin in, ``firm`` the chains that had better stay.
        """
        chain = self.chains[name]
        self.taken.lift(chain)
        self._count(chain)
        market = SoftMarket(self.grid, chain, self.taken, factors=factors, chance=chance, firm=firm)
        times = best_times(market, begin=begin)
        if times is None:
            self.taken.lay_down(chain)
            self.cost[name] = UNPLACED
            return []
        aside = market.in_the_way(times.starts)
        for other in aside:
            self.remove(other)
        visits, stays = self.taken.wanted(chain, times.starts)
        if visits or stays:
            self.taken.lay_down(chain)
            self.insert(name)
        else:
            self._place(chain, times.starts)
        chance.shuffle(aside)
        return aside

    def put_back(self, name: str, starts: Starts) -> None:
        """Give a chain times that are known to be free."""
        self.taken.lift(self.chains[name])
        self._place(self.chains[name], starts)

    def put_if_free(self, name: str, starts: Starts) -> bool:
        """Give a chain times if it may have them; whether it may."""
        chain = self.chains[name]
        self.taken.lift(chain)
        if not self.taken.is_free_for(chain, starts):
            self.taken.lay_down(chain)
            return False
        self._place(chain, starts)
        return True

    def remove(self, name: str) -> None:
        """Take its times from a chain, if it has any."""
        if name in self.taken.placed:
            self.taken.take_out(self.chains[name])
            self.taken.lay_down(self.chains[name])
        self.cost[name] = UNPLACED

    def clear(self) -> None:
        """Take the times from all chains."""
        for name in sorted(self.taken.placed):
            self.remove(name)

    def _alone(self, chain: Chain) -> int:
        self._count(chain)
        times = best_times(Market(self.grid, chain))
        return UNPLACED if times is None else times.cost

    def _count(self, chain: Chain) -> None:
        self.spent += self._work_a_step * len(chain.steps)

    def _place(self, chain: Chain, starts: Starts) -> None:
        self.taken.place(chain, starts)
        self.cost[chain.id] = chain_cost(chain, starts)
