"""Every broken rule of a schedule, found slot by slot, with nothing shared with any planner."""

from __future__ import annotations

from collections import Counter

from benchconsole.schedule.planning.problems import Chain, Problem


def faults_of(problem: Problem, starts: dict[str, tuple[int, ...]]) -> list[str]:
    """One sentence for each rule broken by ``starts``; none means it can be worked as it stands.

    Late steps cost something and are no fault. A chain that is not in ``starts`` is one, and is
    then taken to lie where it lies to the end. Counts hands and vessels in every single slot, the
    slow and plain way, so that it can be trusted by reading it.
    """
    faults = [f"{name}: no such chain" for name in starts.keys() - {c.id for c in problem.chains}]
    busy: Counter[int] = Counter()
    held: Counter[tuple[str, int]] = Counter()
    for chain in problem.chains:
        given = starts.get(chain.id)
        if given is None or len(given) != len(chain.steps):
            faults.append(f"{chain.id}: {0 if given is None else len(given)} starts given")
            given = ()
        else:
            faults += _faults_of_chain(problem, chain, given)
        for step, start in zip(chain.steps, given, strict=False):
            busy.update(range(start, start + step.work))
        held.update(_places_held(problem, chain, given))
    for slot, count in sorted(busy.items()):
        if count > problem.hands:
            faults.append(f"slot {slot}: {count} at work with {problem.hands} pair of hands")
    for (kind, slot), count in sorted(held.items()):
        if kind in problem.vessels and count > problem.vessels[kind]:
            faults.append(f"slot {slot}: {count} of {problem.vessels[kind]} {kind} in use")
    return faults


def _faults_of_chain(problem: Problem, chain: Chain, starts: tuple[int, ...]) -> list[str]:
    faults, before = [], 0
    for number, (step, start) in enumerate(zip(chain.steps, starts, strict=True)):
        name = f"{chain.id} step {number}"
        end = start + step.work
        if start < before:
            faults.append(f"{name}: begins at {start}, before {before}")
        if start - before < step.least:
            faults.append(f"{name}: waits {start - before}, least is {step.least}")
        if end > problem.slots:
            faults.append(f"{name}: ends at {end}, the plan at {problem.slots}")
        # The shop stays open for ``stay`` slots after the work: the same span holds both.
        if not any(o <= start and end + step.stay <= c for o, c in problem.open_spans):
            faults.append(f"{name}: {start} to {end} and {step.stay} more are not in opening hours")
        before = end
    return faults


def _places_held(
    problem: Problem, chain: Chain, starts: tuple[int, ...]
) -> Counter[tuple[str, int]]:
    held: Counter[tuple[str, int]] = Counter()
    if chain.lies_in:
        until = starts[0] if starts else problem.slots
        held.update({(chain.lies_in, slot): chain.places for slot in range(until)})
    for number, (step, start) in enumerate(zip(chain.steps, starts, strict=False)):
        last = number + 1 == len(starts)
        until = start + step.work if last else starts[number + 1]
        if step.vessel:
            held.update({(step.vessel, slot): chain.places for slot in range(start, until)})
    return held
