"""From a target to a factor: how many times the recipe as written.

An example in a refusal here names another target where this one makes no sense, in words that
are understood on a screen and on the command line alike.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import assert_never

import msgspec

from benchconsole.errors import BadInput
from benchconsole.mixing.target_kinds import (
    TARGET_KINDS,
    AsWritten,
    ForHideMass,
    ForHides,
    Limit,
    Make,
    Target,
    Times,
    kind_of,
)
from benchconsole.mixing.working import Working, plain
from benchconsole.model.formulas import Formula, Serving
from benchconsole.model.record import MARK_WORDS
from benchconsole.quantities import Measures, format_volume

LEAST_BATCH_G = 0.001
MOST_BATCH_G = 1e9
"""A milligram, and a thousand tonnes: outside these a target is a slip of the hand.

Our own choice, no source."""


def factor_for(
    formula: Formula,
    target: Target,
    *,
    batch_l: float | None,
    grams_of: Mapping[str, float],
    measures: Measures,
) -> tuple[float, Working]:
    """How many times the recipe as written the target asks for, with the working.

    ``batch_l`` is the finished volume of the recipe as written (None where it has none),
    ``grams_of`` its grams by substance. Raises ``BadInput`` where the target makes no sense
    for this formula, naming one that does, or asks for more or less than any shop mixes.
    """
    factor, working = _factor(formula, target, batch_l, grams_of, measures)
    batch_g = factor * sum(grams_of.values())
    # Asked this way round so that a number that is none is refused as well.
    if not LEAST_BATCH_G <= batch_g <= MOST_BATCH_G:
        small = batch_g < LEAST_BATCH_G
        fault = "that is less than a milligram" if small else "that is more than 1000 tonnes"
        raise BadInput(_FIELDS[type(target)], fault, _same_kind(target, grams_of))
    return factor, working


_FIELDS: dict[type[Target], str] = {
    AsWritten: "target",
    Make: "make",
    Times: "times",
    ForHideMass: "hide weight",
    ForHides: "hides",
    Limit: "limit",
}


def _factor(
    formula: Formula,
    target: Target,
    batch_l: float | None,
    grams_of: Mapping[str, float],
    measures: Measures,
) -> tuple[float, Working]:
    match target:
        case AsWritten():
            return 1.0, Working(title="Factor", result="1: the recipe as written")
        case Times():
            return target.times, Working(title="Factor", result=f"{plain(target.times)}: as asked")
        case Make():
            if batch_l is None:
                fault = f"{formula.id} is dry and has no volume"
                raise BadInput("make", fault, _another(formula, Make))
            return _ratio(target.volume_l, batch_l, "wanted volume", measures)
        case ForHideMass():
            return _for_hide_mass(formula, target, batch_l, measures)
        case ForHides():
            return _for_hides(formula, target)
        case Limit():
            return _for_limit(formula, target, grams_of)
    assert_never(target)


def _same_kind(target: Target, grams_of: Mapping[str, float]) -> str:
    """An example of the same kind of target that fits a shop."""
    if isinstance(target, Limit):
        return f"{target.substance}={plain(grams_of[target.substance])} g"
    return TARGET_KINDS[kind_of(target)][1]


_ASKED_AS = {
    "times": "{} times the recipe",
    "hides": "{} hides",
    "hide-mass": "a hide weight of {}",
}


def _another(formula: Formula, refused: type[Target]) -> str:
    """Another target that this formula can be asked for, with its example, in words."""
    kind = "times"
    if formula.servings and refused is not ForHides:
        kind = "hides"
    # A float needs the volume that a formula refused for "make" does not have.
    by_float = formula.liquor_per_hide is not None and refused is not Make
    if (formula.for_hide_mass_g is not None or by_float) and refused is not ForHideMass:
        kind = "hide-mass"
    return _ASKED_AS[kind].format(TARGET_KINDS[kind][1])


def _ratio(wanted_l: float, batch_l: float, what: str, measures: Measures) -> tuple[float, Working]:
    factor = wanted_l / batch_l
    return factor, Working(
        title="Factor",
        inputs=(
            (what, f"{format_volume(wanted_l, measures=measures)} ({wanted_l:.3f} L)"),
            ("finished volume of the recipe as written", f"{batch_l:.3f} L"),
        ),
        equation="factor = wanted volume ÷ volume of the recipe as written",
        result=plain(factor),
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
            result=plain(factor),
        )
    own = formula.liquor_per_hide
    ratio = target.litres_per_kg
    if ratio is None and own is not None:
        ratio = own.value
    if batch_l is None and target.litres_per_kg is not None:
        fault = f"{formula.id} is dry and takes no float"
        raise BadInput("float", fault, _another(formula, Make))
    if batch_l is None or ratio is None:
        fault = f"{formula.id} is not reckoned on the weight of a hide"
        raise BadInput("hide weight", fault, _another(formula, ForHideMass))
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
        raise BadInput("hides", fault, _another(formula, ForHides))
    factor = target.count / serving.hides * serving.times
    kind = target.species or (serving.species[0] if serving.species else "medium")
    return factor, Working(
        title="Factor",
        inputs=(
            ("hides", f"{target.count} ({kind})"),
            ("one recipe is enough for", f"{serving.hides / serving.times:g} {kind}"),
        ),
        equation="factor = hides ÷ hides that one recipe serves",
        result=plain(factor),
        source=serving.source,
        sure=MARK_WORDS[serving.mark],
    )


def _for_limit(
    formula: Formula, target: Limit, grams_of: Mapping[str, float]
) -> tuple[float, Working]:
    takes = grams_of.get(target.substance, 0.0)
    if takes <= 0.0 or target.mass_g is None:
        fault = f"{formula.id} takes no {target.substance}"
        raise BadInput("limit", fault, f"{next(iter(grams_of))}=1 kg")
    factor = target.mass_g / takes
    return factor, Working(
        title="Factor",
        inputs=(
            (f"{target.substance} there is", f"{target.mass_g:.1f} g"),
            (f"{target.substance} in the recipe as written", f"{takes:.1f} g"),
        ),
        equation="factor = what there is ÷ what one recipe takes",
        result=f"{plain(factor)}; {target.substance} is what limits the batch",
    )
