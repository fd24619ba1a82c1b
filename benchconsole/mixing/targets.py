"""What a person wants of a formula, and the factor that follows."""

from __future__ import annotations

from collections.abc import Mapping
from typing import assert_never

import msgspec

from benchconsole.errors import BadInput
from benchconsole.mixing.working import Working
from benchconsole.model.formulas import Formula, Ingredient, Serving
from benchconsole.model.record import MARK_WORDS, Record
from benchconsole.model.substances import Substance
from benchconsole.quantities import (
    Measures,
    format_mass,
    format_number,
    format_volume,
    read_amount,
    read_count,
    read_factor,
    read_mass,
    read_volume,
    read_volume_per_mass,
)


class AsWritten(Record, frozen=True, kw_only=True, tag="as-written"):
    """The recipe as its source prints it."""


class Make(Record, frozen=True, kw_only=True, tag="make"):
    """This much finished liquor or dressing."""

    volume_l: float


class Times(Record, frozen=True, kw_only=True, tag="times"):
    """The recipe so many times."""

    times: float


class ForHideMass(Record, frozen=True, kw_only=True, tag="hide-mass"):
    """For a hide of this weight; ``litres_per_kg`` None takes the formula's own float."""

    mass_g: float
    litres_per_kg: float | None = None


class ForHides(Record, frozen=True, kw_only=True, tag="hides"):
    """For so many hides; ``species`` empty takes the one the recipe is written for."""

    count: int
    species: str = ""


class Limit(Record, frozen=True, kw_only=True, tag="limit"):
    """As much as this amount of one ingredient allows."""

    substance: str
    mass_g: float | None = None
    volume_l: float | None = None


Target = AsWritten | Make | Times | ForHideMass | ForHides | Limit

TARGET_KINDS: dict[str, tuple[str, str]] = {
    "as-written": ("as written", ""),
    "make": ("make", "6 gal"),
    "times": ("times the recipe", "2"),
    "hide-mass": ("for hide weight", "3.2 kg"),
    "hides": ("for hides", "3"),
    "limit": ("as much as", "salt=14 oz"),
}
"""Every kind of target: its words on the screen, and an example of what to type."""


def read_target(
    kind: str, text: str, *, measures: Measures, float_text: str = "", species: str = ""
) -> Target:
    """The target a person typed.

    ``kind`` is a key of ``TARGET_KINDS``; ``float_text`` ("6 L/kg") goes with ``hide-mass``,
    ``species`` with ``hides``. Raises ``BadInput`` naming the field.
    """
    if kind == "as-written":
        return AsWritten()
    if kind == "make":
        return Make(volume_l=read_volume(text, field="make", measures=measures))
    if kind == "times":
        return Times(times=read_factor(text, field="times"))
    if kind == "hide-mass":
        litres = (
            read_volume_per_mass(float_text, field="float", measures=measures)
            if float_text.strip()
            else None
        )
        mass = read_mass(text, field="hide weight", measures=measures)
        return ForHideMass(mass_g=mass, litres_per_kg=litres)
    if kind == "hides":
        return ForHides(count=read_count(text, field="hides"), species=species)
    if kind == "limit":
        return _read_limit(text, measures)
    raise BadInput("target", f"“{kind[:40]}” is no kind of target", "make")


def _read_limit(text: str, measures: Measures) -> Limit:
    name, equals, amount = text.partition("=")
    if not equals or not name.strip():
        raise BadInput("limit", "say which ingredient and how much there is", "“salt=14 oz”")
    read = read_amount(amount, field="limit", measures=measures)
    return Limit(substance=name.strip().lower(), mass_g=read.mass_g, volume_l=read.volume_l)


def target_words(target: Target, measures: Measures) -> str:
    """The target in words for a screen or a record: "make 6 US gal"."""
    match target:
        case AsWritten():
            return "as written"
        case Make():
            return f"make {format_volume(target.volume_l, measures=measures)}"
        case Times():
            return f"{format_number(target.times, 4)} times the recipe"
        case ForHideMass():
            ratio = target.litres_per_kg
            at = f" at {format_number(ratio, 3)} L/kg" if ratio is not None else ""
            return f"for {format_mass(target.mass_g, measures=measures, step_g=1.0)} of hide{at}"
        case ForHides():
            kind = f" ({target.species})" if target.species else ""
            return f"for {target.count} hide{'s' if target.count != 1 else ''}{kind}"
        case Limit():
            amount = (
                format_mass(target.mass_g, measures=measures, step_g=0.1)
                if target.mass_g is not None
                else format_volume(target.volume_l or 0.0, measures=measures)
            )
            return f"as much as {amount} of {target.substance} allows"
    assert_never(target)


def with_substance(formula: Formula, wanted: str, substances: Mapping[str, Substance]) -> Formula:
    """The formula using ``wanted``, where it is an ingredient or may stand in for one.

    ``wanted`` is an id, or part of a name that fits one ingredient only. Raises ``BadInput``
    naming what the formula does take.
    """
    options = _options(formula)
    names = {key: (substances[key].name.lower() if key in substances else key) for key in options}
    fits = [key for key in options if wanted == key or wanted == names[key]]
    fits = fits or [key for key in options if wanted in key or wanted in names[key]]
    exact = [key for key in fits if options[key] is None]
    if len(fits) > 1 and len(exact) == 1:
        fits = exact
    if len(fits) != 1:
        there = ", ".join(options)
        raise BadInput("ingredient", f"“{wanted[:40]}” is not one thing in {formula.id}", there)
    return formula if options[fits[0]] is None else _swapped(formula, fits[0])


def _options(formula: Formula) -> dict[str, Ingredient | None]:
    """Every substance the formula can take: None for its own, else what it would replace."""
    options: dict[str, Ingredient | None] = {}
    for part in formula.parts:
        for ingredient in part.ingredients:
            options[ingredient.substance] = None
    for part in formula.parts:
        for ingredient in part.ingredients:
            for alternative in ingredient.instead:
                options.setdefault(alternative.substance, ingredient)
    return options


def _swapped(formula: Formula, substance: str) -> Formula:
    def swap(ingredient: Ingredient) -> Ingredient:
        for other in ingredient.instead:
            if other.substance == substance:
                grams, litres = ingredient.mass_g, ingredient.volume_l
                return msgspec.structs.replace(
                    ingredient,
                    substance=substance,
                    mass_g=None if grams is None else grams * other.ratio,
                    volume_l=None if litres is None else litres * other.ratio,
                    note=f"instead of {ingredient.substance} ({other.source})",
                )
        return ingredient

    parts = tuple(
        msgspec.structs.replace(part, ingredients=tuple(swap(i) for i in part.ingredients))
        for part in formula.parts
    )
    return msgspec.structs.replace(formula, parts=parts)


def factor_for(
    formula: Formula,
    target: Target,
    *,
    batch_l: float | None,
    grams_of: Mapping[str, float],
    measures: Measures,
) -> tuple[float, Working]:
    """How many times the recipe as written the target asks for, with the working.

    ``batch_l`` is the finished volume of the recipe as written (None for a dry one),
    ``grams_of`` its grams by substance. Raises ``BadInput`` where the target makes no sense
    for this formula, naming one that does.
    """
    match target:
        case AsWritten():
            return 1.0, Working(title="Factor", result="1: the recipe as written")
        case Times():
            return target.times, Working(
                title="Factor", result=f"{format_number(target.times, 4)}: as asked"
            )
        case Make():
            if batch_l is None:
                raise BadInput("make", f"{formula.id} is dry and has no volume", "--hide-mass 3 kg")
            return _ratio(target.volume_l, batch_l, "wanted volume", measures)
        case ForHideMass():
            return _for_hide_mass(formula, target, batch_l, measures)
        case ForHides():
            return _for_hides(formula, target)
        case Limit():
            return _for_limit(formula, target, grams_of)
    assert_never(target)


def _ratio(wanted_l: float, batch_l: float, what: str, measures: Measures) -> tuple[float, Working]:
    factor = wanted_l / batch_l
    return factor, Working(
        title="Factor",
        inputs=(
            (what, f"{format_volume(wanted_l, measures=measures)} ({wanted_l:.3f} L)"),
            ("finished volume of the recipe as written", f"{batch_l:.3f} L"),
        ),
        equation="factor = wanted volume ÷ volume of the recipe as written",
        result=f"{factor:.4f}",
        sure="as sure as the finished volume: what dissolves takes up room",
    )


def _for_hide_mass(
    formula: Formula, target: ForHideMass, batch_l: float | None, measures: Measures
) -> tuple[float, Working]:
    kg = target.mass_g / 1000.0
    if formula.for_hide_mass_g is not None and target.litres_per_kg is None:
        factor = target.mass_g / formula.for_hide_mass_g
        return factor, Working(
            title="Factor",
            inputs=(
                ("hide", f"{kg:.3f} kg"),
                ("the recipe is for", f"{formula.for_hide_mass_g / 1000:.3f} kg"),
            ),
            equation="factor = weight of hide ÷ weight the recipe is for",
            result=f"{factor:.4f}",
        )
    own = formula.liquor_per_hide
    ratio = target.litres_per_kg
    if ratio is None and own is not None:
        ratio = own.value
    if batch_l is None or ratio is None:
        ways = "--hides 1" if formula.servings else "--times 2"
        raise BadInput("hide weight", f"{formula.id} is not reckoned on the weight of a hide", ways)
    factor, working = _ratio(ratio * kg, batch_l, "wanted volume (float × hide)", measures)
    inputs = (("hide", f"{kg:.3f} kg"), ("float", f"{ratio:g} L of liquor for each kg of hide"))
    source = (
        f"float: {own.source} ({MARK_WORDS[own.mark]})"
        if own and target.litres_per_kg is None
        else "float: as typed"
    )
    return factor, msgspec.structs.replace(working, inputs=inputs + working.inputs, source=source)


def _serving(formula: Formula, species: str) -> Serving | None:
    for serving in formula.servings:
        if species in serving.species:
            return serving
    if species:
        return None
    return formula.servings[0] if formula.servings else None


def _for_hides(formula: Formula, target: ForHides) -> tuple[float, Working]:
    serving = _serving(formula, target.species)
    if serving is None:
        kinds = sorted({kind for serving in formula.servings for kind in serving.species})
        fault = (
            f"{formula.id} does not say how much a {target.species} takes (only {', '.join(kinds)})"
            if kinds
            else f"{formula.id} does not say how much one hide takes"
        )
        raise BadInput("hides", fault, "--hide-mass “3.2 kg”")
    factor = target.count / serving.hides * serving.times
    kind = target.species or (serving.species[0] if serving.species else "medium")
    return factor, Working(
        title="Factor",
        inputs=(
            ("hides", f"{target.count} ({kind})"),
            ("one recipe is enough for", f"{serving.hides / serving.times:g} {kind}"),
        ),
        equation="factor = hides ÷ hides that one recipe serves",
        result=f"{factor:.4f}",
        source=serving.source,
        sure=MARK_WORDS[serving.mark],
    )


def _for_limit(
    formula: Formula, target: Limit, grams_of: Mapping[str, float]
) -> tuple[float, Working]:
    takes = grams_of.get(target.substance, 0.0)
    if takes <= 0.0 or target.mass_g is None:
        raise BadInput(
            "limit", f"{formula.id} takes no {target.substance}", f"“{next(iter(grams_of))}=1 kg”"
        )
    factor = target.mass_g / takes
    return factor, Working(
        title="Factor",
        inputs=(
            (f"{target.substance} there is", f"{target.mass_g:.1f} g"),
            (f"{target.substance} in the recipe as written", f"{takes:.1f} g"),
        ),
        equation="factor = what there is ÷ what one recipe takes",
        result=f"{factor:.4f}; {target.substance} is what limits the batch",
    )
