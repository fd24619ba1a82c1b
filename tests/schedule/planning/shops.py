"""Made-up shops to plan for: the same seed gives the same shop, and each can be worked.

The durations and waits are invented in the range of common practice (no source); what matters
is their mix: coats that must follow within the hour beside pickles that may lie for days.
"""

from __future__ import annotations

import random
from collections import Counter
from typing import NamedTuple

from benchconsole.schedule.planning.problems import Chain, Problem, Span, Step
from tests.schedule.planning.faults import faults_of

HOUR = 4
DAY = 24 * HOUR
DAYS = 35
_WEEK: tuple[Span | None, ...] = (*((8, 17),) * 5, (9, 13), None)
_DRAWS = 20


class Stage(NamedTuple):
    """A kind of step: minutes of work, the wait before it in slots and how much longer it may be.

    ``loose`` and ``slack`` are from target to most and from least to target, as parts of the
    least wait; ``often`` is how often it is part of a chain.
    """

    minutes: tuple[int, int]
    wait: tuple[int, int]
    slack: float
    loose: float
    vessel: str = ""
    stay: int = 0
    often: float = 1.0


_STAGES = (
    Stage((10, 30), (0, 0), 0, 0, "tub"),  # into the soak
    Stage((45, 90), (2 * HOUR, 18 * HOUR), 0.3, 0.5, often=0.8),  # flesh
    Stage((20, 45), (0, HOUR), 1.0, 4.0, "tub", 2),  # into the pickle
    Stage((45, 90), (3 * DAY, 5 * DAY), 0.2, 0.4, often=0.5),  # thin
    Stage((10, 25), (0, 2 * HOUR), 1.0, 6.0, "tub", often=0.4),  # back into the pickle
    Stage((15, 40), (2 * DAY, 7 * DAY), 0.1, 0.5, "tub"),  # neutralise, or into the tan
    Stage((30, 75), (3 * HOUR, 20 * HOUR), 0.2, 0.3),  # wring and oil
    Stage((20, 60), (4 * HOUR, 24 * HOUR), 0.3, 0.5, "board"),  # on the board
    Stage((10, 20), (DAY // 2, DAY), 0.5, 1.0, "board", 3, 0.5),  # first coat
    Stage((10, 20), (1, 3), 0.7, 1.0, "board", often=0.5),  # second coat
    Stage((15, 60), (DAY, 3 * DAY), 0.5, 1.5),  # off the board, break and finish
)


def shop(seed: int, chains: int, days: int = DAYS) -> Problem:
    """A shop with so many hides that one person can get through in ``days``.

    A draw that a simple plan does not get through is drawn again, never eased. Raises ValueError
    when none of twenty draws can be worked: then the hides need more days.
    """
    for draw in range(_DRAWS):
        problem = _drawn(random.Random(f"{seed}/{chains}/{days}/{draw}"), chains, days)
        starts = first_come(problem)
        if starts is not None and not faults_of(problem, starts):
            return problem
    raise ValueError(f"{chains} chains in {days} days: no draw of seed {seed} can be worked")


def days_for(chains: int) -> int:
    """Days that so many chains with two or three tubs are given: five weeks up to eight of them.

    A hide lies in a tub for about a week, so more of them need more weeks.
    """
    return DAYS if chains <= 8 else 7 * (5 + -(-(chains - 8) * 3 // 7))


def first_come(problem: Problem) -> dict[str, tuple[int, ...]] | None:
    """A plan by going through the open slots, the most pressing hide first; None if it fails."""
    starts: dict[str, list[int]] = {chain.id: [] for chain in problem.chains}
    held = Counter(dict.fromkeys(problem.vessels, 0))
    for chain in problem.chains:
        held[chain.lies_in] += chain.places
    leaving: dict[int, list[tuple[str, int]]] = {}
    for opens, closes in problem.open_spans:
        busy_to = opens
        for slot in range(opens, closes):
            for at in [at for at in leaving if at <= slot]:
                for kind, places in leaving.pop(at):
                    held[kind] -= places
            if slot < busy_to:
                continue
            ready = [
                (pressing, chain)
                for chain in problem.chains
                if (pressing := _pressing(problem, chain, starts[chain.id], slot, closes, held))
                is not None
            ]
            if not ready:
                continue
            chain = min(ready, key=lambda pair: (pair[0], pair[1].id))[1]
            done = starts[chain.id]
            step = chain.steps[len(done)]
            held[_lying(chain, len(done))] -= chain.places
            held[step.vessel] += chain.places
            done.append(slot)
            busy_to = slot + step.work
            if len(done) == len(chain.steps):
                leaving.setdefault(busy_to, []).append((step.vessel, chain.places))
    if any(len(starts[chain.id]) < len(chain.steps) for chain in problem.chains):
        return None
    return {name: tuple(times) for name, times in starts.items()}


def _lying(chain: Chain, done: int) -> str:
    return chain.steps[done - 1].vessel if done else chain.lies_in


def _pressing(
    problem: Problem, chain: Chain, done: list[int], slot: int, closes: int, held: Counter[str]
) -> int | None:
    """How many slots are left until the chain's next step is late; None if it cannot begin."""
    if len(done) == len(chain.steps):
        return None
    step = chain.steps[len(done)]
    before = done[-1] + chain.steps[len(done) - 1].work if done else 0
    if slot - before < step.least or slot + step.work + step.stay > closes:
        return None
    moves = step.vessel in problem.vessels and step.vessel != _lying(chain, len(done))
    if moves and held[step.vessel] + chain.places > problem.vessels[step.vessel]:
        return None
    return (step.target if step.most is None else step.most) - (slot - before)


def _drawn(draw: random.Random, chains: int, days: int) -> Problem:
    vessels = {"tub": draw.randint(2, 3), "board": draw.randint(3, 4)}
    room = Counter(vessels)
    made = []
    for number in range(chains):
        steps, lies_in = _full_chain(draw), ""
        cuts = [
            number
            for number, before in enumerate(steps[:-1], start=1)
            if not before.vessel or room[before.vessel]
        ]
        if draw.random() < 0.5 and cuts:
            cut = draw.choice(cuts)
            lies_in = steps[cut - 1].vessel
            room[lies_in] -= 1
            steps = (_under_way(draw, steps[cut]), *steps[cut + 1 :])
        else:
            steps = (_in_store(draw, steps[0], days), *steps[1:])
        made.append(Chain(id=f"H{number + 1:02}", steps=steps, lies_in=lies_in))
    spans = _open_spans(draw, days)
    return Problem(slots=days * DAY, open_spans=spans, chains=tuple(made), vessels=vessels)


def _full_chain(draw: random.Random) -> tuple[Step, ...]:
    while True:
        stages = [stage for stage in _STAGES if draw.random() < stage.often]
        if 6 <= len(stages) <= 11:
            break
    return tuple(_step(draw, stage) for stage in stages)


def _step(draw: random.Random, stage: Stage) -> Step:
    least = draw.randint(*stage.wait)
    target = least + round(draw.uniform(0.5, 1) * stage.slack * max(least, 1))
    most = target + max(1, round(draw.uniform(0.3, 1) * stage.loose * max(least, 2)))
    return Step(
        work=-(-draw.randint(*stage.minutes) // 15),
        least=least,
        target=target,
        most=None if draw.random() < 0.1 else most,
        vessel=stage.vessel,
        stay=stage.stay,
    )


def _under_way(draw: random.Random, step: Step) -> Step:
    """The next step of a hide in work: counted from now, and perhaps overdue."""
    gone = round(draw.uniform(0, 1.1) * (step.target if step.most is None else step.most))
    return Step(
        work=step.work,
        least=step.least - gone,
        target=step.target - gone,
        most=None if step.most is None else step.most - gone,
        vessel=step.vessel,
        stay=step.stay,
    )


def _in_store(draw: random.Random, step: Step, days: int) -> Step:
    """The first step of a hide in store, which may begin at once and should within weeks."""
    target = draw.randint(5 * DAY, max(14, days // 2) * DAY)
    most = target + draw.randint(5 * DAY, 14 * DAY)
    return Step(work=step.work, least=0, target=target, most=most, vessel=step.vessel)


def _open_spans(draw: random.Random, days: int) -> tuple[Span, ...]:
    weekday, began = draw.randrange(7), draw.randrange(DAY)
    away = draw.randrange(days) if draw.random() < 0.4 else -9
    spans = []
    for day in range(days + 1):
        hours = _WEEK[(weekday + day) % 7]
        if hours is None or day in (away, away + 1):
            continue
        opens, closes = (day * DAY + hour * HOUR - began for hour in hours)
        span = (max(0, opens), min(days * DAY, closes))
        if span[0] < span[1]:
            spans.append(span)
    return tuple(spans)
