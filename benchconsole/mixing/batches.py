"""From worksheet to scale and back: the plan to weigh by, and the liquor that came of it."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from datetime import datetime

from benchconsole.errors import NotPossibleNow
from benchconsole.mixing.liquors import figures_of
from benchconsole.mixing.targets import Limit
from benchconsole.mixing.weighing import Bench, is_done, needed_g
from benchconsole.mixing.worksheet import Line, Worksheet
from benchconsole.model.shop import Shop
from benchconsole.model.substances import Substance
from benchconsole.model.weighing import Liquor, MadeLine, Plan, PlannedLine, PlannedPart

GRAVE = ("clash", "order", "salt-before-acid", "basicity")
"""Codes of the checks whose fault no weighing mends."""


def plan_for(sheet: Worksheet, shop: Shop, *, hides: Sequence[str] = (), stage: str = "") -> Plan:
    """The worksheet frozen for the scale; ``stage`` is what the hides are to begin with it.

    A batch limited by what there is of one ingredient carries that stock, and one for a shop
    that named its largest tub carries its room, so that a rebalance never asks for more than
    there is or than there is room for.
    """
    stock = {}
    if isinstance(sheet.target, Limit) and sheet.target.mass_g is not None:
        stock[sheet.target.substance] = sheet.target.mass_g
    return Plan(
        formula=sheet.formula.id,
        formula_name=sheet.formula.name,
        target=sheet.target_says,
        factor=sheet.factor,
        parts=tuple(
            PlannedPart(
                part=part.part,
                name=part.name,
                container=part.container,
                then=" ".join(words for words in (part.do, part.then) if words),
            )
            for part in sheet.parts
        ),
        lines=tuple(_planned(line) for line in sheet.lines),
        scale=shop.scale,
        tolerance=sheet.formula.tolerance.value,
        water_celsius=sheet.water_celsius,
        limit_g=_room_g(sheet, shop),
        stock_g=stock,
        hides=tuple(hides),
        stage=stage,
        coats=sheet.coats.count if sheet.coats else 0,
        cautions=(*_grave(sheet), *sheet.cautions),
    )


def _grave(sheet: Worksheet) -> tuple[str, ...]:
    """What is wrong with the formula itself, to be read before the first weighing."""
    return tuple(check.says for check in sheet.checks if check.code in GRAVE and not check.ok)


def _room_g(sheet: Worksheet, shop: Shop) -> float | None:
    """Grams of this liquor that the largest tub holds, with the room the formula asks for foam."""
    if sheet.liquor is None or sheet.formula.kind != "liquor" or shop.tub_l is None:
        return None
    return shop.tub_l / sheet.formula.container_room * sheet.liquor.density_kg_m3


def _planned(line: Line) -> PlannedLine:
    # What has no density cannot be read off a jug, whatever the recipe says.
    jugged = line.by == "jug" and line.density_kg_m3 is not None
    return PlannedLine(
        part=line.part,
        substance=line.substance,
        name=line.name,
        by="jug" if jugged else "scale",
        grams=line.mass_g,
        density_kg_m3=line.density_kg_m3,
        pack=line.pack,
    )


def coat_g(bench: Bench) -> float | None:
    """Grams of each of equal coats of what is in; None where the plan has no coats."""
    return sum(bench.poured) / bench.plan.coats if bench.plan.coats else None


def liquor_from(
    bench: Bench, *, name: str, made_at: datetime, substances: Mapping[str, Substance]
) -> Liquor:
    """The record of what was really put in.

    A dry mix has volume 0 and no strengths; what the library has forgotten since is left out
    of them. Raises ``NotPossibleNow`` while something is still missing.
    """
    if not is_done(bench):
        raise NotPossibleNow("The weigh-out is not at its end: something is still missing.")
    plan = bench.plan
    lines = _made_lines(bench)
    amounts = [
        (substances[line.substance], line.actual_g)
        for line in lines
        if line.substance in substances
    ]
    figures = figures_of(amounts, plan.water_celsius)
    return Liquor(
        id=name,
        formula=plan.formula,
        formula_name=plan.formula_name,
        factor=plan.factor * bench.factor,
        lines=lines,
        volume_l=figures.volume_l if figures else 0.0,
        density_kg_m3=figures.density_kg_m3 if figures else 0.0,
        strengths=figures.strengths if figures else (),
        water_celsius=plan.water_celsius,
        made_at=made_at,
        hides=plan.hides,
        stage=plan.stage,
    )


def _made_lines(bench: Bench) -> tuple[MadeLine, ...]:
    return tuple(
        MadeLine(
            part=planned.part,
            substance=planned.substance,
            name=planned.name,
            target_g=needed_g(bench, place),
            actual_g=bench.poured[place],
            wasted_g=bench.wasted[place],
        )
        for place, planned in enumerate(bench.plan.lines)
    )


def liquor_for(
    liquors: Iterable[Liquor], *, hide: str, stage: str, formula: str, used: Collection[str]
) -> Liquor | None:
    """The newest liquor of a formula made for a hide's stage and not ``used`` yet; None if none.

    A liquor that names no stage was weighed out ahead of its time and fits any of the formula.
    """
    fitting = [
        liquor
        for liquor in liquors
        if hide in liquor.hides
        and liquor.formula == formula
        and liquor.stage in ("", stage)
        and liquor.id not in used
    ]
    return max(fitting, key=lambda liquor: liquor.made_at, default=None)
