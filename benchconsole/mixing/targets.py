"""What a person wants of a formula: read from what was typed, and said in words."""

from __future__ import annotations

from typing import assert_never

from benchconsole.errors import BadInput, BadQuantity
from benchconsole.mixing.factors import factor_for
from benchconsole.mixing.substitutes import with_substance
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
from benchconsole.mixing.working import plain
from benchconsole.model.formulas import Formula
from benchconsole.quantities import (
    Measures,
    format_mass,
    format_volume,
    read_amount,
    read_count,
    read_factor,
    read_mass,
    read_volume,
    read_volume_per_mass,
)

__all__ = [
    "TARGET_KINDS",
    "AsWritten",
    "ForHideMass",
    "ForHides",
    "Limit",
    "Make",
    "Target",
    "Times",
    "factor_for",
    "kind_of",
    "read_target",
    "target_for",
    "target_words",
    "wants_weight",
    "with_substance",
]


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


def wants_weight(formula: Formula) -> bool:
    """Whether a formula is reckoned on the weight of a hide, by its percentage or its float."""
    return formula.for_hide_mass_g is not None or formula.liquor_per_hide is not None


def target_for(formula: Formula, *, species: str, count: int, mass_g: float | None) -> Target:
    """The target of a formula that fits a hide, or a lot of ``count`` skins of one species.

    By weight where the formula is reckoned on it, else by the number of hides, else as written.
    ``mass_g`` is the weight of all skins of the lot together, None where it is not known: a
    formula that only knows weights is then as written, which is no amount for this hide.
    """
    if mass_g is not None and wants_weight(formula):
        return ForHideMass(mass_g=mass_g)
    if any(species in serving.species for serving in formula.servings):
        return ForHides(count=count, species=species)
    return AsWritten()


def _read_limit(text: str, measures: Measures) -> Limit:
    written, equals, amount = text.strip(" “”\"'").partition("=")
    name = written.strip().lower()
    if not equals or not name:
        raise BadInput("limit", "say which ingredient and how much there is", "salt=14 oz")
    try:
        read = read_amount(amount, field="limit", measures=measures)
    except BadQuantity as error:
        raise BadQuantity("limit", error.fault, f"{name[:40]}=400 g") from None
    return Limit(substance=name, mass_g=read.mass_g, volume_l=read.volume_l)


def target_words(target: Target, measures: Measures) -> str:
    """The target in words for a screen or a record: "make 6 US gal"."""
    match target:
        case AsWritten():
            return "as written"
        case Make():
            return f"make {format_volume(target.volume_l, measures=measures)}"
        case Times():
            return f"{plain(target.times)} times the recipe"
        case ForHideMass():
            ratio = target.litres_per_kg
            at = f" at {plain(ratio)} L/kg" if ratio is not None else ""
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
