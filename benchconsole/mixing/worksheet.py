"""The worksheet: a formula scaled to a target, with every amount, check, caution and working."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from benchconsole.chemistry import water_density
from benchconsole.errors import BadInput
from benchconsole.mixing.checks import Check, WeighedPart, checks_for
from benchconsole.mixing.liquors import LiquorFigures, grams_of, liquor_figures
from benchconsole.mixing.targets import (
    Limit,
    Target,
    factor_for,
    target_words,
    with_substance,
)
from benchconsole.mixing.working import Working
from benchconsole.model.formulas import Formula, Ingredient
from benchconsole.model.record import MARK_WORDS, Record
from benchconsole.model.shop import Shop
from benchconsole.model.substances import Substance
from benchconsole.quantities import (
    format_mass,
    format_number,
    format_reading,
    format_volume,
    round_to_step,
)

STANDING_CAUTION = (
    "The safety sheet of the very product in your hand, and the rules of your place for use and "
    "disposal, come before anything shown here. Nothing here says that a mix is safe."
)


class Line(Record, frozen=True, kw_only=True):
    """One addition: ``mass_g`` exact, ``show`` what a person measures, ``also`` the other way.

    ``reading_g`` is what the scale shows when it is in, bowl left on, rounded to its step
    (None for a jug). ``volume_ml`` is None where no density is known.
    """

    part: str
    substance: str
    name: str
    by: str
    mass_g: float
    volume_ml: float | None
    density_kg_m3: float | None
    show: str
    also: str
    reading_g: float | None
    reading: str
    note: str
    working: Working


class PartSheet(Record, frozen=True, kw_only=True):
    """A part with its lines in order of addition, and what to do with them."""

    part: str
    name: str
    container: str
    do: str
    then: str
    lines: tuple[Line, ...]


class Worksheet(Record, frozen=True, kw_only=True):
    """A formula at a scale; ``liquor`` is None for a dry mix."""

    formula: Formula
    target: Target
    target_says: str
    factor: float
    water_celsius: float
    parts: tuple[PartSheet, ...]
    liquor: LiquorFigures | None
    checks: tuple[Check, ...]
    cautions: tuple[str, ...]
    sources: tuple[str, ...]
    workings: tuple[Working, ...]

    @property
    def lines(self) -> tuple[Line, ...]:
        """All lines, part by part."""
        return tuple(line for part in self.parts for line in part.lines)


def worksheet(
    formula: Formula,
    target: Target,
    *,
    substances: Mapping[str, Substance],
    shop: Shop,
    water_celsius: float | None = None,
    use: Sequence[str] = (),
) -> Worksheet:
    """The formula scaled to the target for this shop's scale, jugs and measures.

    ``water_celsius`` is the temperature of the water at hand (the shop's usual one if None),
    ``use`` names substances to take instead of those printed, where the formula allows.
    Raises ``BadInput`` for a target or temperature that makes no sense.
    """
    celsius = shop.water_celsius if water_celsius is None else water_celsius
    if not 0.0 <= celsius <= 100.0:
        raise BadInput("water temperature", "liquid water lies between 0 and 100 °C", "12 °C")
    for wanted in (*use, *((target.substance,) if isinstance(target, Limit) else ())):
        formula = with_substance(formula, wanted, substances)
    if isinstance(target, Limit):
        target = _limit_in_grams(formula, target, substances)

    batch = _weighed(formula, 1.0, substances, celsius)
    as_written = _figures(formula, batch, substances, celsius)
    factor, factor_working = factor_for(
        formula,
        target,
        batch_l=as_written.volume_l if as_written else None,
        grams_of=_by_substance(batch),
        measures=shop.measures,
    )
    weighed = _weighed(formula, factor, substances, celsius)
    figures = _figures(formula, weighed, substances, celsius)
    parts = tuple(_part_sheet(formula, part, factor, substances, shop, celsius) for part in weighed)
    return Worksheet(
        formula=formula,
        target=target,
        target_says=target_words(target, shop.measures),
        factor=factor,
        water_celsius=celsius,
        parts=parts,
        liquor=figures,
        checks=checks_for(formula, weighed, figures, substances, shop, celsius),
        cautions=_cautions(formula, substances),
        sources=tuple(f"{cite.source} ({MARK_WORDS[cite.mark]})" for cite in formula.sources),
        workings=(factor_working, *((figures.working,) if figures else ())),
    )


def _limit_in_grams(formula: Formula, limit: Limit, substances: Mapping[str, Substance]) -> Limit:
    ids = [i.substance for part in formula.parts for i in part.ingredients]
    names = {key: substances[key].name.lower() for key in ids if key in substances}
    wanted = limit.substance
    fits = [key for key in ids if wanted in (key, names.get(key))] or [
        key for key in ids if wanted in key or wanted in names.get(key, "")
    ]
    substance = substances[fits[0]]
    grams = limit.mass_g
    if grams is None and limit.volume_l is not None:
        if substance.density is None:
            raise BadInput("limit", f"no density is known for {substance.name}", "a weight")
        grams = limit.volume_l * substance.density.value
    return Limit(substance=substance.id, mass_g=grams)


def _weighed(
    formula: Formula, factor: float, substances: Mapping[str, Substance], celsius: float
) -> tuple[WeighedPart, ...]:
    return tuple(
        WeighedPart(
            part=part,
            grams=tuple(
                grams_of(ingredient, substances[ingredient.substance], celsius) * factor
                for ingredient in part.ingredients
            ),
        )
        for part in formula.parts
    )


def _by_substance(parts: Sequence[WeighedPart]) -> dict[str, float]:
    total: dict[str, float] = {}
    for weighed in parts:
        for ingredient, grams in weighed.pairs():
            total[ingredient.substance] = total.get(ingredient.substance, 0.0) + grams
    return total


def _figures(
    formula: Formula,
    parts: Sequence[WeighedPart],
    substances: Mapping[str, Substance],
    celsius: float,
) -> LiquorFigures | None:
    if formula.kind == "dry":
        return None
    amounts = [(substances[key], grams) for key, grams in _by_substance(parts).items()]
    return liquor_figures(amounts, celsius)


def _part_sheet(
    formula: Formula,
    weighed: WeighedPart,
    factor: float,
    substances: Mapping[str, Substance],
    shop: Shop,
    celsius: float,
) -> PartSheet:
    part = weighed.part
    on_scale = 0.0
    lines = []
    for ingredient, grams in weighed.pairs():
        if ingredient.by == "scale":
            on_scale += grams
        substance = substances[ingredient.substance]
        density = _density(substance, celsius)
        lines.append(_line(part.id, ingredient, substance, grams, on_scale, factor, density, shop))
    then = " ".join(f"{joining.how}" for joining in formula.joinings if joining.add == part.id)
    return PartSheet(
        part=part.id,
        name=part.name,
        container=part.container,
        do=part.do,
        then=then,
        lines=tuple(lines),
    )


def _density(substance: Substance, celsius: float) -> float | None:
    if substance.form == "water":
        # Water at the tap's own temperature, since that is what the jug measures.
        return water_density(celsius)
    return substance.density.value if substance.density else None


def _line(
    part: str,
    ingredient: Ingredient,
    substance: Substance,
    grams: float,
    on_scale: float,
    factor: float,
    density: float | None,
    shop: Shop,
) -> Line:
    litres = grams / density if density else None
    weight = format_mass(grams, measures=shop.measures, step_g=shop.scale.step_g)
    volume = format_volume(litres, measures=shop.measures) if litres is not None else ""
    by_jug = ingredient.by == "jug"
    reading = None if by_jug else round_to_step(on_scale, shop.scale.step_g)
    return Line(
        part=part,
        substance=ingredient.substance,
        name=substance.name,
        by=ingredient.by,
        mass_g=grams,
        volume_ml=None if litres is None else litres * 1000.0,
        density_kg_m3=density,
        show=(_in_jugs(litres, shop) or volume) if by_jug else weight,
        also=weight if by_jug else (f"about {volume}" if volume else ""),
        reading_g=reading,
        reading=""
        if reading is None
        else format_reading(reading, step_g=shop.scale.step_g, unit=shop.scale.shows),
        note=ingredient.note,
        working=_line_working(ingredient, substance, grams, factor, density),
    )


def _in_jugs(litres: float | None, shop: Shop) -> str:
    """ "3 jugs of 2 gal and 1 1/2 gal more", when the shop has said how large its jug is."""
    if litres is None or not shop.jug_l or litres < shop.jug_l:
        return ""
    full = int(litres / shop.jug_l + 1e-9)
    rest = litres - full * shop.jug_l
    whole = format_volume(litres, measures=shop.measures)
    jug = format_volume(shop.jug_l, measures=shop.measures)
    # Less than a hundredth of a jug cannot be poured apart from a full one.
    more = f" + {format_volume(rest, measures=shop.measures)}" if rest > 0.01 * shop.jug_l else ""
    return f"{whole} = {full} × {jug} jug{more}"


def _line_working(
    ingredient: Ingredient,
    substance: Substance,
    grams: float,
    factor: float,
    density: float | None,
) -> Working:
    inputs = [("as printed", ingredient.printed), ("factor", f"{factor:.4f}")]
    equation = "mass = printed mass × factor"
    if ingredient.volume_l is not None:
        inputs.append(("density", f"{format_number(density or 0.0, 5)} kg/m³"))
        equation = "mass = printed volume × density × factor"
    source = ""
    if substance.density is not None:
        figure = substance.density
        span = (
            f"{figure.low:g} to {figure.high:g}"
            if figure.low is not None and figure.high is not None
            else f"{figure.value:g}"
        )
        source = f"density {span} kg/m³: {figure.source} ({MARK_WORDS[figure.mark]})"
    elif substance.form == "water":
        source = "density of water: Kell, J. Chem. Eng. Data 20 (1975) 97"
    return Working(
        title=substance.name,
        inputs=tuple(inputs),
        equation=equation,
        result=f"{grams:.1f} g",
        source=source,
        sure="weights are exact; a volume of loose dry goods is only as good as its density"
        if substance.form == "solid"
        else "",
    )


def _cautions(formula: Formula, substances: Mapping[str, Substance]) -> tuple[str, ...]:
    said = list(formula.cautions)
    for part in formula.parts:
        for ingredient in part.ingredients:
            substance = substances[ingredient.substance]
            hazard = substance.hazard
            if hazard is not None and hazard.signal:
                wear = f" Wear {', '.join(hazard.wear)}." if hazard.wear else ""
                said.append(
                    f"{substance.name}: usually labelled {hazard.signal} "
                    f"({', '.join(hazard.statements)}).{wear}"
                )
            said.extend(substance.cautions)
    said.append(STANDING_CAUTION)
    return tuple(dict.fromkeys(said))
