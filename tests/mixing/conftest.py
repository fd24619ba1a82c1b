"""What the mixing tests share: the shipped library, and small plans for a 1 g scale."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from benchconsole.library import Library, shipped_library
from benchconsole.model.shop import Scale
from benchconsole.model.weighing import Plan, PlannedLine, PlannedPart

PlanOf = Callable[..., Plan]


@pytest.fixture(scope="session")
def library() -> Library:
    """The library as shipped."""
    return shipped_library()


@pytest.fixture
def plan_of() -> PlanOf:
    """A plan from words: "tub:water=9000j tub:salt=500" (j: by the jug), 2 % on a 1 g scale."""

    def plan(
        words: str,
        *,
        step_g: float = 1.0,
        capacity_g: float = 5000.0,
        tolerance: float = 0.02,
        limit_g: float | None = None,
        stock_g: dict[str, float] | None = None,
    ) -> Plan:
        lines = []
        for word in words.split():
            part, _, amount = word.partition(":")
            name, _, grams = amount.partition("=")
            jugged = grams.endswith("j")
            lines.append(
                PlannedLine(
                    part=part,
                    substance=name,
                    name=name,
                    by="jug" if jugged else "scale",
                    grams=float(grams.rstrip("j")),
                    density_kg_m3=1000.0,
                )
            )
        parts = dict.fromkeys(line.part for line in lines)
        return Plan(
            formula="f",
            formula_name="F",
            target="as written",
            factor=1.0,
            parts=tuple(PlannedPart(part=p, name=p, container=p) for p in parts),
            lines=tuple(lines),
            scale=Scale(step_g=step_g, capacity_g=capacity_g),
            tolerance=tolerance,
            water_celsius=15.0,
            limit_g=limit_g,
            stock_g=stock_g or {},
        )

    return plan
