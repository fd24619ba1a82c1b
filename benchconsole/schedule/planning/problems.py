"""The planning question on a grid, free of hides and words: chains of steps, hands, vessels.

Time is counted in slots of ``SLOT_MINUTES`` from the start of the plan. A span of slots is
half-open: ``(4, 8)`` holds the slots 4 to 7. Costs are whole numbers, so that two ways of adding
them up agree: 1 unit is 0.02 of a minute past a due time.
"""

from __future__ import annotations

import msgspec

from benchconsole.model.record import Record

SLOT_MINUTES = 15
"""Length of a slot of the grid."""

FINISH_COST = 1
"""Of a minute from the start of the plan to the end of a chain's last step."""
DUE_COST = 50
"""Of a minute past a due time."""
LATEST_COST = 50_000
"""Of a minute past a latest time, times the step's ``stake``."""

Span = tuple[int, int]
"""From and to, in slots."""


class Step(Record, frozen=True, kw_only=True):
    """An attended act: hands for ``work`` slots, and the window it may begin in.

    ``least <= target``, ``most`` is None or not less than ``least``. For every step but the first
    they count from the end of the work before it, closed time included; for the first from the
    start of the plan, where they may be negative (it was due before). ``vessel`` is the kind of
    vessel the step puts the hide into (empty: none): occupied from the step's start to the start
    of the next step, after the last step to its end. ``stay`` is how long after the work the
    shop must still be open. ``stake`` weighs the time past ``most`` by what it spoils.
    ``early`` is the cost of a minute before ``target`` (0: as early as ``least`` costs nothing).
    """

    work: int
    least: int
    target: int
    most: int | None
    vessel: str = ""
    stay: int = 0
    stake: int = 1
    early: int = 0


class Chain(Record, frozen=True, kw_only=True):
    """The steps still before one hide, in order.

    ``lies_in`` is the kind of vessel it occupies until its first step starts (empty: none),
    ``places`` how many of every vessel it takes (a lot on boards takes one a skin).
    """

    id: str
    steps: tuple[Step, ...]
    lies_in: str = ""
    places: int = 1


def may_wait(chain: Chain) -> bool:
    """Whether a chain may begin at once and takes no vessel until it does: it lies in store."""
    return chain.steps[0].least <= 0 and not chain.lies_in


def pressing(chain: Chain) -> tuple[bool, int, str]:
    """To sort by: those in work first, and of them those whose time is up soonest."""
    first = chain.steps[0]
    return may_wait(chain), first.target if first.most is None else first.most, chain.id


class Problem(Record, frozen=True, kw_only=True):
    """Everything that a plan has to keep to.

    ``open_spans`` are the slots in which hands may work, in order and apart from each other; a
    step's work lies within one of them. ``vessels`` gives the number of each kind that is
    limited.
    """

    slots: int
    open_spans: tuple[Span, ...]
    chains: tuple[Chain, ...]
    hands: int = 1
    vessels: dict[str, int] = msgspec.field(default_factory=dict)


class Schedule(Record, frozen=True, kw_only=True):
    """When every step begins, by chain; a chain left out of ``starts`` could not be placed.

    ``cost`` is :func:`cost_of` all of them. ``bound`` is a cost that no plan can be below whose
    steps begin where the search lets them: beyond six weeks on the hour of an opening only.
    """

    starts: dict[str, tuple[int, ...]]
    cost: int
    bound: int = 0


def waiting_cost(step: Step, waited: int) -> int:
    """What it costs that a step begins so many slots after the work before it."""
    late = 0 if step.most is None else max(0, waited - step.most)
    return SLOT_MINUTES * (
        LATEST_COST * step.stake * late
        + DUE_COST * max(0, waited - step.target)
        + step.early * max(0, step.target - waited)
    )


def chain_cost(chain: Chain, starts: tuple[int, ...]) -> int:
    """What the times of one chain cost, whether or not they keep to the limits."""
    cost, before = 0, 0
    for step, start in zip(chain.steps, starts, strict=True):
        cost += waiting_cost(step, start - before)
        before = start + step.work
    return cost + SLOT_MINUTES * FINISH_COST * before


def cost_of(problem: Problem, starts: dict[str, tuple[int, ...]]) -> int:
    """What a schedule of all chains costs."""
    return sum(chain_cost(chain, starts[chain.id]) for chain in problem.chains)
