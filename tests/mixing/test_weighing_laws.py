"""Laws of the weigh-out that hold for any plan and any taps a person can give."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.errors import BenchError
from benchconsole.mixing.weighing import (
    Bench,
    band_g,
    bench_for,
    deviations,
    is_done,
    needed_g,
    next_pour,
    over_pour,
    replay,
    tapped,
)
from benchconsole.model.shop import Scale
from benchconsole.model.weighing import (
    Accept,
    BowlAgain,
    CarryOn,
    Jugged,
    Plan,
    PlannedLine,
    Read,
    Rebalance,
    SetMode,
    SetZero,
    Tap,
)

Step = tuple[str, float]
"""What a person does next: a kind of tap, and how far from what was asked (1 is exactly it)."""

KINDS = (
    "pour",
    "pour",
    "pour",
    "accept",
    "carry-on",
    "rebalance",
    "again",
    "zero",
    "mode",
    "spoon",
)
STEPS = st.lists(
    st.tuples(st.sampled_from(KINDS), st.floats(min_value=0.5, max_value=1.3)), max_size=25
)
FEW = settings(max_examples=120, deadline=None)


@st.composite
def plans(draw: st.DrawFn) -> Plan:
    """One to five lines in up to two parts, from pinches to several bowls full."""
    lines = []
    for place in range(draw(st.integers(min_value=1, max_value=5))):
        jugged = draw(st.booleans())
        lines.append(
            PlannedLine(
                part=draw(st.sampled_from(["a", "b"])),
                substance=f"s{place}",
                name=f"s{place}",
                by="jug" if jugged else "scale",
                grams=draw(st.floats(min_value=0.2, max_value=20_000.0)),
                density_kg_m3=1000.0,
            )
        )
    return Plan(
        formula="f",
        formula_name="F",
        target="as written",
        factor=1.0,
        parts=(),
        lines=tuple(lines),
        scale=Scale(step_g=draw(st.sampled_from([0.1, 1.0, 5.0])), capacity_g=5000.0),
        tolerance=0.02,
        water_celsius=15.0,
    )


def tap_for(bench: Bench, step: Step) -> Tap:
    """The tap that a person at this bench would give for such a step."""
    kind, share = step
    pour, over = next_pour(bench), over_pour(bench)
    simple: dict[str, Tap] = {
        "accept": Accept(),
        "carry-on": CarryOn(),
        "rebalance": Rebalance(),
        "again": BowlAgain(),
        "zero": SetZero(offset_g=round((share - 0.9) * 20)),
        "mode": SetMode(mode="re-zero" if share < 0.9 else "cumulative"),
    }
    if kind in simple:
        return simple[kind]
    if over is not None:
        return Read(reading_g=bench.zero_g + bench.on_scale_g - over.excess_g * share)
    if pour is None:
        return Accept()
    if pour.planned.by == "jug":
        return Jugged(volume_l=(pour.litres or 0.0) * share)
    return Read(reading_g=pour.from_g + pour.aim_g * share)


def worked(plan: Plan, steps: list[Step]) -> tuple[Bench, list[Tap]]:
    """The bench and the taps that were taken; those that did not fit are left out."""
    bench, taken = bench_for(plan), []
    for step in steps:
        tap = tap_for(bench, step)
        try:
            bench = tapped(bench, tap)
        except BenchError:
            continue
        taken.append(tap)
    return bench, taken


@FEW
@given(plans(), STEPS)
def test_resuming_gives_the_same_bench(plan: Plan, steps: list[Step]) -> None:
    """A replay of the taps is the bench before the interruption, to the last bit."""
    bench, taps = worked(plan, steps)
    assert bench == replay(plan, taps)


@FEW
@given(plans(), STEPS)
def test_undo_is_the_bench_before(plan: Plan, steps: list[Step]) -> None:
    """Taps with every one of them taken back in turn retrace the same benches."""
    _, taps = worked(plan, steps)
    forward = [bench_for(plan)]
    for tap in taps:
        forward.append(tapped(forward[-1], tap))
    for count, expected in enumerate(forward):
        assert expected == replay(plan, taps[:count])


@FEW
@given(plans(), STEPS)
def test_nothing_a_person_does_leads_to_a_dead_end(plan: Plan, steps: list[Step]) -> None:
    """From any tap, carrying on with what is over and accepting the rest reaches the end."""
    bench, _ = worked(plan, steps)
    for _ in range(400):
        if is_done(bench):
            break
        bench = tapped(bench, Accept() if bench.over is None else CarryOn())
    assert is_done(bench)
    assert next_pour(bench) is None
    assert all(poured > 0.0 for poured in bench.poured)


@FEW
@given(plans(), STEPS)
def test_what_went_in_is_poured_or_wasted(plan: Plan, steps: list[Step]) -> None:
    """Poured plus wasted is the sum of every pour, less what was spooned back, line by line."""
    bench, total = bench_for(plan), [0.0] * len(plan.lines)
    for kind, share in steps:
        tap = tap_for(bench, (kind, share))
        pour, over = next_pour(bench), bench.over
        try:
            after = tapped(bench, tap)
        except BenchError:
            continue
        line = over if over is not None else pour.line if pour is not None else None
        match tap:
            case Accept() if pour is not None:
                total[pour.line] += pour.aim_g
            case Jugged() if pour is not None:
                total[pour.line] += tap.volume_l * 1000.0
            case Read() if line is not None:
                shown = pour.from_g if pour is not None else bench.zero_g + bench.on_scale_g
                total[line] += tap.reading_g - shown
            case SetZero():  # a zero told late corrects what the readings meant
                moved = [a - b for a, b in zip(after.poured, bench.poured, strict=True)]
                total = [a + b for a, b in zip(total, moved, strict=True)]
        bench = after
        accounted = [p + w for p, w in zip(bench.poured, bench.wasted, strict=True)]
        # A reading a hair below the empty bowl counts as nothing, at most a step each time.
        slack = plan.scale.step_g * (len(steps) + 1)
        assert total == pytest.approx(accounted, abs=1e-3 + slack)


@FEW
@given(plans(), STEPS)
def test_a_rebalance_restores_proportions_and_never_lowers(plan: Plan, steps: list[Step]) -> None:
    """No amount falls, nothing is over after it, and accepting brings every line into its band."""
    bench, _ = worked(plan, steps)
    over = over_pour(bench)
    if over is None:
        pour = next_pour(bench)
        if pour is None:
            return
        grams = 1.5 * pour.add_g + 2.0 * band_g(plan, pour.line, needed_g(bench, pour.line))
        jugged = pour.planned.by == "jug"
        tap: Tap = (
            Jugged(volume_l=grams / 1000.0) if jugged else Read(reading_g=pour.from_g + grams)
        )
        try:
            bench = tapped(bench, tap)
        except BenchError:  # more than the scale can show
            return
        over = over_pour(bench)
        if over is None:  # the first of several bowls
            return
    raised = tapped(bench, Rebalance())
    assert raised.factor >= bench.factor
    assert raised.poured == bench.poured
    assert all(each.new_g >= each.was_g and each.add_g > 0.0 for each in over.raises)
    while (pour := next_pour(raised)) is not None:
        raised = tapped(raised, Accept())
    assert raised.over is None
    for line, share in enumerate(deviations(raised)):
        needed = needed_g(raised, line)
        assert abs(share) * needed <= band_g(plan, line, needed) * (1 + 1e-9) + 1e-6


@FEW
@given(plans(), STEPS)
def test_the_aim_never_passes_the_scale(plan: Plan, steps: list[Step]) -> None:
    """No reading is asked for that the scale cannot show, and all lots add up to the rest."""
    bench, _ = worked(plan, steps)
    pour = next_pour(bench)
    if pour is not None and pour.planned.by == "scale":
        assert pour.reading_g <= plan.scale.capacity_g + 1e-3
        assert 0.0 < pour.aim_g <= pour.add_g + 1e-6
