"""Which substances a formula takes, and the same formula with another in the place of one."""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from benchconsole.errors import BadInput
from benchconsole.mixing.liquors import density_of
from benchconsole.model.formulas import Alternative, Formula, Ingredient
from benchconsole.model.substances import Substance

ROOM_CELSIUS = 20.0
"""Handbook densities are stated here; a swap asks them before any water is measured."""


def with_substance(formula: Formula, wanted: str, substances: Mapping[str, Substance]) -> Formula:
    """The formula using ``wanted``, where it is an ingredient or may stand in for one.

    ``wanted`` is an id, or part of a name that fits one ingredient only. Raises ``BadInput``
    naming what the formula does take.
    """
    found = named_in(formula, wanted, substances)
    if found is None:
        there = tuple(_options(formula))
        raise BadInput(
            "ingredient",
            f"“{wanted[:40]}” is not one thing in {formula.id}, which takes {', '.join(there)}",
            there[-1],
        )
    return formula if _options(formula)[found] is None else _swapped(formula, found, substances)


def named_in(formula: Formula, wanted: str, substances: Mapping[str, Substance]) -> str | None:
    """The id of the one thing in the formula (or that may stand in) so named; None if not one."""
    options = _options(formula)
    words = wanted.strip().lower()
    names = {key: (substances[key].name.lower() if key in substances else key) for key in options}
    fits = [key for key in options if words in (key, names[key])]
    fits = fits or [key for key in options if words and (words in key or words in names[key])]
    printed = [key for key in fits if options[key] is None]
    if len(fits) > 1 and len(printed) == 1:
        fits = printed
    return fits[0] if len(fits) == 1 else None


def _options(formula: Formula) -> dict[str, Ingredient | None]:
    """Every substance the formula can take: None for its own, else what it would replace."""
    ingredients = [each for part in formula.parts for each in part.ingredients]
    options: dict[str, Ingredient | None] = {each.substance: None for each in ingredients}
    for ingredient in ingredients:
        for alternative in ingredient.instead:
            options.setdefault(alternative.substance, ingredient)
    return options


def _swapped(formula: Formula, wanted: str, substances: Mapping[str, Substance]) -> Formula:
    def swap(ingredient: Ingredient) -> Ingredient:
        for other in ingredient.instead:
            if other.substance == wanted:
                return _replaced(ingredient, other, substances)
        return ingredient

    parts = tuple(
        msgspec.structs.replace(part, ingredients=tuple(swap(i) for i in part.ingredients))
        for part in formula.parts
    )
    return msgspec.structs.replace(formula, parts=parts)


def _replaced(
    ingredient: Ingredient, other: Alternative, substances: Mapping[str, Substance]
) -> Ingredient:
    """The ratio is gram for gram, so a printed volume goes through its weight."""
    grams, litres = ingredient.mass_g, ingredient.volume_l
    if grams is None and litres is not None:
        density = density_of(substances[ingredient.substance], ROOM_CELSIUS)
        if density is not None:
            grams, litres = litres * density, None
    can_be_jugged = density_of(substances[other.substance], ROOM_CELSIUS) is not None
    return msgspec.structs.replace(
        ingredient,
        substance=other.substance,
        by=ingredient.by if can_be_jugged else "scale",
        mass_g=None if grams is None else grams * other.ratio,
        volume_l=None if litres is None else litres * other.ratio,
        note=f"instead of {ingredient.substance} ({other.source})",
    )
