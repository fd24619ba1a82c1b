"""The checks of a worksheet: does it dissolve, does it stay dissolved, can the scale weigh it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence

from benchconsole.chemistry import (
    Bound,
    SolubilityCurve,
    dissolving_temperature,
    extra_water_to_dissolve_g,
    saturation,
    strength,
    undissolved_g,
)
from benchconsole.mixing.liquors import LiquorFigures
from benchconsole.mixing.working import Working
from benchconsole.model.formulas import Formula, Ingredient, Part
from benchconsole.model.record import MARK_WORDS, Record
from benchconsole.model.shop import Shop
from benchconsole.model.substances import Substance
from benchconsole.quantities import format_mass, format_temperature, format_volume

COVERAGE = 2.0
"""Two standard deviations: the weighing is within its stated error 95 times in 100."""

JOINED = "joined"
"""The ``part`` of a check on the liquor that all parts make together."""


class WeighedPart(Record, frozen=True, kw_only=True):
    """A part with the grams of its ingredients, in order."""

    part: Part
    grams: tuple[float, ...]

    def pairs(self) -> Iterator[tuple[Ingredient, float]]:
        """Ingredients with their grams."""
        return zip(self.part.ingredients, self.grams, strict=True)


class Check(Record, frozen=True, kw_only=True):
    """One check: ``value`` is a share of its limit (1 is the limit), ``says`` the sentence.

    Codes: ``dissolves`` (a part at the water's temperature), ``keeps`` (the joined liquor),
    ``scale-step`` (the scale is fine enough), ``scale-capacity`` (in one bowl),
    ``container`` (room for foam).
    """

    code: str
    substance: str
    part: str
    ok: bool
    value: float
    says: str
    working: Working


def checks_for(
    formula: Formula,
    parts: Sequence[WeighedPart],
    figures: LiquorFigures | None,
    substances: Mapping[str, Substance],
    shop: Shop,
    celsius: float,
) -> tuple[Check, ...]:
    """All checks of a scaled formula, faults first."""
    found: list[Check] = []
    if figures is not None:
        for weighed in parts:
            found += _solubility(
                weighed.part.id, weighed.part.name, [weighed], substances, shop, celsius
            )
        if len(parts) > 1:
            found += _solubility(JOINED, "the joined liquor", parts, substances, shop, celsius)
    for weighed in parts:
        found += _weighing(formula, weighed, substances, shop)
    if figures is not None and formula.container_room > 1.0:
        found.append(_container(formula, figures, shop))
    return tuple(sorted(found, key=lambda check: check.ok))


def curve_of(substance: Substance) -> SolubilityCurve | None:
    """The solubility curve of a substance, None where the library has no figures."""
    table, molar = substance.solubility, substance.molar_mass
    if table is None or molar is None:
        return None
    return SolubilityCurve(
        points=tuple((point.celsius, point.low, point.high) for point in table.points),
        molar_mass_anhydrous=substance.anhydrous_molar_mass or molar,
        molar_mass_hydrate=molar,
    )


def _solubility(
    part: str,
    part_name: str,
    parts: Sequence[WeighedPart],
    substances: Mapping[str, Substance],
    shop: Shop,
    celsius: float,
) -> list[Check]:
    """Each dissolved solid against its cautious limit in the water of these parts."""
    water = 0.0
    solids: dict[str, float] = {}
    for weighed in parts:
        for ingredient, grams in weighed.pairs():
            substance = substances[ingredient.substance]
            if substance.form == "water":
                water += grams
            elif substance.form == "solid" and substance.solubility is not None:
                solids[substance.id] = solids.get(substance.id, 0.0) + grams
    if water <= 0.0:
        return []
    checks = []
    for key, grams in solids.items():
        curve = curve_of(substances[key])
        if curve is not None:
            checks.append(
                _dissolves(substances[key], curve, grams, water, celsius, part, part_name, shop)
            )
    return checks


def _dissolves(
    substance: Substance,
    curve: SolubilityCurve,
    grams: float,
    water_g: float,
    celsius: float,
    part: str,
    part_name: str,
    shop: Shop,
) -> Check:
    # Figures end at the warmest published point; warmer water is judged there, which is cautious.
    at = min(max(celsius, curve.coldest), curve.warmest)
    limit = saturation(curve, at, Bound.LOW)
    generous = saturation(curve, at, Bound.HIGH)
    have = strength(curve, grams, water_g)
    share = have / limit
    keeps = part == JOINED
    ok = share <= 1.0
    table = substance.solubility
    return Check(
        code="keeps" if keeps else "dissolves",
        substance=substance.id,
        part=part,
        ok=ok,
        value=share,
        says=_fits(substance, part_name, share, at, shop)
        if ok
        else _does_not_fit(substance, curve, grams, water_g, at, keeps, have > generous, shop),
        working=Working(
            title=f"{substance.name} in {part_name}",
            inputs=(
                (f"{substance.name} as weighed", f"{grams:.1f} g"),
                ("water poured", f"{water_g:.0f} g"),
                ("water temperature", f"{at:g} °C"),
                ("dissolved, anhydrous", f"{have:.2f} g in 100 g of water, crystal water counted"),
                ("water holds", f"{limit:.2f} to {generous:.2f} g in 100 g"),
            ),
            equation="share = dissolved ÷ what the water holds (the lower figure)",
            result=f"{100 * share:.0f} % of saturation",
            source=f"{table.source} ({MARK_WORDS.get(table.mark, table.mark)})" if table else "",
            sure=(table.note if table else "")
            + " Other solutes are left out; salt lets water hold more alum, so this warns early.",
        ),
    )


def _fits(substance: Substance, part_name: str, share: float, at: float, shop: Shop) -> str:
    warmth = format_temperature(at, measures=shop.measures)
    return f"{substance.name} in {part_name}: {100 * share:.0f} % of what water at {warmth} holds."


def _does_not_fit(
    substance: Substance,
    curve: SolubilityCurve,
    grams: float,
    water_g: float,
    at: float,
    keeps: bool,
    surely: bool,
    shop: Shop,
) -> str:
    left = undissolved_g(curve, grams, water_g, at, Bound.LOW)
    more = extra_water_to_dissolve_g(curve, grams, water_g, at, Bound.LOW)
    warm = dissolving_temperature(curve, strength(curve, grams, water_g), Bound.LOW)
    lies = format_mass(left, measures=shop.measures, step_g=max(shop.scale.step_g, 1.0))
    warmth = format_temperature(at, measures=shop.measures)
    sure = "will" if surely else "may"
    told = (
        f"{substance.name} {sure} fall out again at {warmth}: up to {lies} of crystals."
        if keeps
        else f"{substance.name} {sure} not all dissolve at {warmth}: about {lies} stays on the"
        " bottom."
    )
    degrees = (
        f"{'Keep it above' if keeps else 'Warm the water to'} "
        f"{format_temperature(math.ceil(warm), measures=shop.measures)}"
        if warm is not None
        else ""
    )
    # Mixing adds water but the formula's strength falls with it, so it is named second.
    thinner = f"add {format_volume(more / 1000.0, measures=shop.measures)} more water"
    return f"{told} {degrees + ', or ' + thinner if degrees else thinner.capitalize()}."


def _weighing(
    formula: Formula, weighed: WeighedPart, substances: Mapping[str, Substance], shop: Shop
) -> list[Check]:
    """Is the scale fine enough and large enough for each weighed line?

    A net weight read by difference on a display of step d has the standard uncertainty
    d·√2/√12 (JCGM 100:2008, 4.3.7, rectangular); twice that against the tolerance.
    """
    checks: list[Check] = []
    scale = shop.scale
    error = COVERAGE * scale.step_g * math.sqrt(2.0 / 12.0)
    for ingredient, grams in weighed.pairs():
        if ingredient.by != "scale" or grams <= 0.0:
            continue
        name = substances[ingredient.substance].name
        share = error / grams / formula.tolerance.value
        least = error / formula.tolerance.value / grams
        off = 100 * error / grams
        checks.append(
            Check(
                code="scale-step",
                substance=ingredient.substance,
                part=weighed.part.id,
                ok=share <= 1.0,
                value=share,
                says=f"{name}: the scale weighs it to {off:.1f} %."
                if share <= 1.0
                else f"{name}: the scale is too coarse, it can be off by {off:.0f} %. "
                f"Mix at least {least:.1f} times as much, or use a finer scale.",
                working=Working(
                    title=f"Weighing {name}",
                    inputs=(
                        ("amount", f"{grams:.1f} g"),
                        ("step of the scale", f"{scale.step_g:g} g"),
                        ("tolerance", f"{100 * formula.tolerance.value:g} %"),
                    ),
                    equation="error = 2 × step × √2 ÷ √12",
                    result=f"±{error:.2f} g, {off:.1f} % of the amount",
                    source="JCGM 100:2008 (GUM) 4.3.7, rounding of a display (clause from memory)",
                    sure="rounding only; how well the scale repeats is not counted",
                ),
            )
        )
        checks += _capacity(weighed.part.id, ingredient, name, grams, shop)
    return checks


def _capacity(
    part: str, ingredient: Ingredient, name: str, grams: float, shop: Shop
) -> list[Check]:
    scale = shop.scale
    if grams <= scale.capacity_g:
        return []
    lots = math.ceil(grams / scale.capacity_g)
    most = format_mass(scale.capacity_g, measures=shop.measures, step_g=scale.step_g)
    return [
        Check(
            code="scale-capacity",
            substance=ingredient.substance,
            part=part,
            ok=False,
            value=grams / scale.capacity_g,
            says=f"{name}: more than the scale carries ({most}); it is weighed in {lots} lots.",
            working=Working(
                title=f"Lots of {name}",
                inputs=(("amount", f"{grams:.0f} g"), ("capacity", f"{scale.capacity_g:.0f} g")),
                equation="lots = amount ÷ capacity, rounded up",
                result=f"{lots} lots",
            ),
        )
    ]


def _container(formula: Formula, figures: LiquorFigures, shop: Shop) -> Check:
    room = figures.volume_l * formula.container_room
    size = format_volume(room, measures=shop.measures)
    return Check(
        code="container",
        substance="",
        part=JOINED,
        ok=True,
        value=1.0 / formula.container_room,
        says=f"It foams: use a container that holds at least {size}.",
        working=Working(
            title="Container",
            inputs=(
                ("finished volume", f"{figures.volume_l:.2f} L"),
                ("room asked by the formula", f"{formula.container_room:g} times"),
            ),
            equation="container = finished volume × room",
            result=size,
        ),
    )
