"""The lines of a worksheet: each addition as the person's own scale and jugs show it."""

from __future__ import annotations

from collections.abc import Mapping

from benchconsole.mixing.bowlfuls import bowlful_of
from benchconsole.mixing.findings import WeighedPart
from benchconsole.mixing.liquors import density_of
from benchconsole.mixing.working import Working, plain
from benchconsole.model.formulas import Formula, Ingredient
from benchconsole.model.record import MARK_WORDS, Record
from benchconsole.model.shop import Scale, Shop
from benchconsole.model.substances import Substance
from benchconsole.quantities import (
    format_mass,
    format_reading,
    format_volume,
    round_to_step,
)


class Line(Record, frozen=True, kw_only=True):
    """One addition: ``mass_g`` exact, ``show`` what a person measures, ``also`` the other way.

    ``reading_g`` is what the scale shows when it is in, bowl left on, rounded to its step
    (None for a jug); ``reading`` the same as its display prints it, with a word where the bowl
    has to be emptied. ``volume_ml`` is None where no density is known. ``pack`` is what the
    pack on the shelf says, where it says more than the name.
    """

    part: str
    substance: str
    name: str
    pack: str
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


class Standing(Record, frozen=True, kw_only=True):
    """What the scale stands at when a line is in: ``word`` where the bowl was emptied for it."""

    on_scale_g: float
    word: str = ""


def part_sheet(
    formula: Formula,
    weighed: WeighedPart,
    factor: float,
    substances: Mapping[str, Substance],
    shop: Shop,
    celsius: float,
) -> PartSheet:
    """One part with its lines; the scale starts from an empty bowl in every part."""
    part = weighed.part
    standing = Standing(on_scale_g=0.0)
    lines = []
    for ingredient, grams in weighed.pairs():
        substance = substances[ingredient.substance]
        working = line_working(ingredient, substance, grams, factor, celsius)
        if ingredient.by == "scale":
            standing = _standing(standing.on_scale_g, grams, shop.scale)
        density = density_of(substance, celsius)
        lines.append(_line(part.id, ingredient, substance, grams, density, standing, working, shop))
    return PartSheet(
        part=part.id,
        name=part.name,
        container=part.container,
        do=part.do,
        then=" ".join(joining.how for joining in formula.joinings if joining.add == part.id),
        lines=tuple(lines),
    )


def _standing(before_g: float, grams: float, scale: Scale) -> Standing:
    """The same emptying and lots that the weigh-out asks for."""
    bowl = bowlful_of(grams, load_g=before_g, room_g=scale.capacity_g)
    if bowl.lots > 1:
        return Standing(on_scale_g=bowl.aim_g, word=f" in {bowl.lots} lots")
    if bowl.empty_first:
        return Standing(on_scale_g=bowl.aim_g, word=" after emptying the bowl")
    return Standing(on_scale_g=before_g + grams)


def _line(
    part: str,
    ingredient: Ingredient,
    substance: Substance,
    grams: float,
    density: float | None,
    standing: Standing,
    working: Working,
    shop: Shop,
) -> Line:
    scale = shop.scale
    litres = grams / density if density else None
    weight = format_mass(grams, measures=shop.measures, step_g=scale.step_g)
    volume = format_volume(litres, measures=shop.measures) if litres is not None else ""
    by_jug = ingredient.by == "jug"
    reading_g = None if by_jug else round_to_step(standing.on_scale_g, scale.step_g)
    reading = (
        ""
        if reading_g is None
        else format_reading(reading_g, step_g=scale.step_g, unit=scale.shows) + standing.word
    )
    return Line(
        part=part,
        substance=ingredient.substance,
        name=substance.name,
        pack=substance.pack,
        by=ingredient.by,
        mass_g=grams,
        volume_ml=None if litres is None else litres * 1000.0,
        density_kg_m3=density,
        show=(_in_jugs(litres, shop) or volume or weight) if by_jug else weight,
        also=weight if by_jug else (f"about {volume}" if volume else ""),
        reading_g=reading_g,
        reading=reading,
        note=ingredient.note,
        working=working,
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


def line_working(
    ingredient: Ingredient,
    substance: Substance,
    grams: float,
    factor: float,
    celsius: float,
) -> Working:
    """How the grams of a line came about."""
    density = density_of(substance, celsius)
    inputs = [("as printed", ingredient.printed), ("factor", plain(factor))]
    equation = "mass = printed mass × factor"
    if ingredient.volume_l is not None:
        inputs.append(("density", f"{density or 0.0:.2f} kg/m³"))
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
