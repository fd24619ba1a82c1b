"""How long the rounds take: the planner alone, and what the bench asks for once a minute.

``python tests/benchmarks/rounds.py``. Baths and hides worked by hand are drawn at random, the
intervals in the range of the shipped routes; closed on Sundays, coming in then.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from time import perf_counter

from benchconsole.clock import ManualClock
from benchconsole.desk import Desk
from benchconsole.library import shipped_library
from benchconsole.model.events import HideTakenIn, StageBegun
from benchconsole.schedule.hours import Opening
from benchconsole.schedule.planning.rounds import Tended, rounds_for
from benchconsole.store import MemoryRepository

START = datetime(2026, 3, 2, 8, tzinfo=UTC)
HOUR, DAY = timedelta(hours=1), timedelta(days=1)
INTERVALS = ((8, 24), (12, 24), (6, 24), (2, 16), (1, 16), (24, 48), (2, 6), (0.5, 16), (0.25, 16))
SHOPS = ((8, 35), (60, 60))
STAGES = ("soak", "alum", "drain", "break")


def tended(hides: int, days: int) -> list[Tended]:
    """So many hides tended in one stage after another for so many days."""
    draw, runs = random.Random(1), []
    for number in range(hides):
        at = START - DAY * draw.random()
        while at < START + days * DAY:
            every, at_most = draw.choice(INTERVALS)
            ends = at + HOUR * (24 if every <= 2 else 24 * draw.randint(1, 7))
            runs.append(
                Tended(
                    hide=f"h{number}",
                    hide_name=f"hide {number}",
                    stage="bath",
                    attention=0,
                    do="Stir.",
                    every=every * HOUR,
                    at_most=at_most * HOUR,
                    since=at,
                    until=ends,
                )
            )
            at = ends + HOUR * draw.randint(1, 48)
    return runs


def days_from_8_to_18(days: int, *, sundays: bool) -> tuple[Opening, ...]:
    """The openings of weekdays, or the same hours of Sundays."""
    starts = (START + day * DAY for day in range(-8, days + 16))
    return tuple((at, at + 10 * HOUR) for at in starts if (at.weekday() == 6) is sundays)


def bench_with(hides: int) -> Desk:
    """A desk with so many hides lying in baths since yesterday."""
    repository, library = MemoryRepository(), shipped_library()
    for number in range(hides):
        stage, name = STAGES[number % len(STAGES)], f"h{number}"
        came_in = HideTakenIn(
            hide=name,
            name=name,
            species="goat",
            route="hair-on-alum-pelt",
            stage=stage,
            came="salted",
        )
        at = START - number * timedelta(minutes=20)
        repository.append([came_in, StageBegun(hide=name, stage=stage)], at=at, recorded=at)
    return Desk(repository, ManualClock(START + 4 * HOUR), library)


def best_ms(work: Callable[[], object], times: int = 7) -> float:
    """The shortest of some runs, in milliseconds."""
    taken = []
    for _ in range(times):
        begun = perf_counter()
        work()
        taken.append(perf_counter() - begun)
    return min(taken) * 1000


def planned(hides: int, days: int) -> str:
    """The rounds of made-up hides, by the planner alone."""
    runs, openings = tended(hides, days), days_from_8_to_18(days, sundays=False)
    come_in, end = days_from_8_to_18(days, sundays=True), START + days * DAY

    def plan() -> int:
        return len(rounds_for(runs, openings, START, end, come_in=come_in))

    return f"{hides} hides, {days} days: {best_ms(plan):6.1f} ms, {plan()} rounds"


def at_the_bench(hides: int) -> str:
    """What the bench asks for, worked out anew each time."""
    desk = bench_with(hides)

    def coming() -> object:
        desk.rounds._known_at = ()
        return desk.rounds.next()

    times = f"next {best_ms(coming):.1f} ms, sheet {best_ms(desk.rounds.sheet):.1f} ms"
    return f"{hides} hides on the bench: {times}"


def main() -> None:
    """Print the figures."""
    for hides, days in SHOPS:
        print(planned(hides, days))
    for hides, _ in SHOPS:
        print(at_the_bench(hides))


if __name__ == "__main__":
    main()
