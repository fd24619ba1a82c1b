"""The worksheet: a formula scaled to a target, with every amount, check, caution and working."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from benchconsole.errors import BadInput
from benchconsole.mixing.acid_checks import ph_among
from benchconsole.mixing.checks import Check, WeighedPart, checks_for
from benchconsole.mixing.coatings import CoatSheet, coat_sheet
from benchconsole.mixing.findings import grams_by_substance
from benchconsole.mixing.hazards import HazardNote, gear_of, hazards_of
from benchconsole.mixing.lines import Line, PartSheet, part_sheet
from benchconsole.mixing.liquors import LiquorFigures, density_of, figures_of, grams_of
from benchconsole.mixing.safety import (
    STANDING_CAUTION,
    cautions_of,
    meeting_checks,
    meetings_of,
)
from benchconsole.mixing.substitutes import named_in, with_substance
from benchconsole.mixing.targets import ForHideMass, Limit, Target, factor_for, target_words
from benchconsole.mixing.working import Working
from benchconsole.model.formulas import Formula
from benchconsole.model.hazards import Incompatible
from benchconsole.model.record import MARK_WORDS, Record
from benchconsole.model.shop import Shop
from benchconsole.model.substances import Substance

__all__ = ["STANDING_CAUTION", "Line", "PartSheet", "Worksheet", "worksheet"]


class Worksheet(Record, frozen=True, kw_only=True):
    """A formula at a scale; ``liquor`` is None for a dry mix, ``coats`` for what has none.

    ``checks`` come faults first. ``cautions`` hold all that ``hazards`` and ``gear`` say, the
    gear first and the standing caution last.
    """

    formula: Formula
    target: Target
    target_says: str
    factor: float
    water_celsius: float
    parts: tuple[PartSheet, ...]
    liquor: LiquorFigures | None
    coats: CoatSheet | None
    checks: tuple[Check, ...]
    hazards: tuple[HazardNote, ...]
    gear: tuple[str, ...]
    cautions: tuple[str, ...]
    sources: tuple[str, ...]
    workings: tuple[Working, ...]

    @property
    def title(self) -> str:
        """The formula's name, marked where it is a person's own."""
        return f"{self.formula.name} (own)" if self.formula.own else self.formula.name

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
    rules: Sequence[Incompatible] = (),
) -> Worksheet:
    """The formula scaled to the target for this shop's scale, jugs and measures.

    ``water_celsius`` is the temperature of the water at hand (the shop's usual one if None),
    ``use`` names substances to take instead of those printed, where the formula allows, ``rules``
    the kinds that must not meet.
    Raises ``BadInput`` for a target or temperature that makes no sense.
    """
    scaled = _scaled(formula, target, use, substances, shop, _celsius(shop, water_celsius))
    formula = scaled.formula
    meetings = meetings_of(formula, rules, substances)
    # What must not be comes before what is merely weak or coarse.
    checks = meeting_checks(formula, meetings) + scaled.checks(substances, shop)
    amounts = _amounts(scaled.parts, substances)
    hazards = hazards_of(amounts, liquor=formula.kind != "dry", ph=ph_among(checks))
    return Worksheet(
        formula=formula,
        target=scaled.target,
        target_says=target_words(target, shop.measures),
        factor=scaled.factor,
        water_celsius=scaled.celsius,
        parts=scaled.sheets(substances, shop),
        liquor=scaled.figures,
        coats=coat_sheet(formula, sum(sum(part.grams) for part in scaled.parts), shop),
        checks=tuple(sorted(checks, key=lambda check: check.ok)),
        hazards=hazards,
        gear=gear_of(hazards),
        cautions=cautions_of(formula, substances, hazards, meetings),
        sources=tuple(f"{cite.source} ({MARK_WORDS[cite.mark]})" for cite in formula.sources),
        workings=(scaled.working, *((scaled.figures.working,) if scaled.figures else ())),
    )


class _Scaled(Record, frozen=True, kw_only=True):
    """The formula as asked for, every line of it weighed at the scale found."""

    formula: Formula
    target: Target
    celsius: float
    factor: float
    working: Working
    parts: tuple[WeighedPart, ...]
    figures: LiquorFigures | None

    @property
    def hide_mass_g(self) -> float | None:
        """Grams of hide that the mix is for, None where nothing tells."""
        if isinstance(self.target, ForHideMass):
            return self.target.mass_g
        as_written = self.formula.for_hide_mass_g
        return None if as_written is None else as_written * self.factor

    def checks(self, substances: Mapping[str, Substance], shop: Shop) -> list[Check]:
        """Whether it dissolves and keeps, whether the scale can weigh it, and the rest."""
        return checks_for(
            self.formula, self.parts, self.figures, substances, shop, self.celsius, self.hide_mass_g
        )

    def sheets(self, substances: Mapping[str, Substance], shop: Shop) -> tuple[PartSheet, ...]:
        """Each part with its lines in words."""
        return tuple(
            part_sheet(self.formula, part, self.factor, substances, shop, self.celsius)
            for part in self.parts
        )


def _scaled(
    formula: Formula,
    target: Target,
    use: Sequence[str],
    substances: Mapping[str, Substance],
    shop: Shop,
    celsius: float,
) -> _Scaled:
    formula, target = _as_asked(formula, target, use, substances, celsius)
    factor, working = _factor(formula, target, substances, shop, celsius)
    parts = _weighed(formula, factor, substances, celsius)
    return _Scaled(
        formula=formula,
        target=target,
        celsius=celsius,
        factor=factor,
        working=working,
        parts=parts,
        figures=_figures(formula, parts, substances, celsius),
    )


def _celsius(shop: Shop, water_celsius: float | None) -> float:
    celsius = shop.water_celsius if water_celsius is None else water_celsius
    if not 0.0 <= celsius <= 100.0:
        raise BadInput("water temperature", "liquid water lies between 0 and 100 °C", "12 °C")
    return celsius


def _as_asked(
    formula: Formula,
    target: Target,
    use: Sequence[str],
    substances: Mapping[str, Substance],
    celsius: float,
) -> tuple[Formula, Target]:
    """The formula with the substances to use, those of a limit too, and the limit in grams."""
    for wanted in use:
        formula = with_substance(formula, wanted, substances)
    if isinstance(target, Limit):
        target = _limit_in_grams(formula, target, substances, celsius)
        formula = with_substance(formula, target.substance, substances)
    return formula, target


def _factor(
    formula: Formula,
    target: Target,
    substances: Mapping[str, Substance],
    shop: Shop,
    celsius: float,
) -> tuple[float, Working]:
    batch = _weighed(formula, 1.0, substances, celsius)
    as_written = _figures(formula, batch, substances, celsius)
    return factor_for(
        formula,
        target,
        batch_l=as_written.volume_l if as_written else None,
        grams_of=grams_by_substance(batch),
        measures=shop.measures,
    )


def _limit_in_grams(
    formula: Formula, limit: Limit, substances: Mapping[str, Substance], celsius: float
) -> Limit:
    """The limit by id and in grams, of a substance that the formula takes or can take."""
    found = named_in(formula, limit.substance, substances)
    if found is None:
        there = ", ".join({i.substance: "" for part in formula.parts for i in part.ingredients})
        fault = f"“{limit.substance[:40]}” is not one thing in {formula.id}, which takes {there}"
        raise BadInput("limit", fault, f"{formula.parts[0].ingredients[0].substance}=1 kg")
    grams = limit.mass_g
    if grams is None:
        density = density_of(substances[found], celsius)
        if density is None:
            fault = f"no density is known for {substances[found].name}, so give its weight"
            raise BadInput("limit", fault, f"{found}=400 g")
        grams = (limit.volume_l or 0.0) * density
    return Limit(substance=found, mass_g=grams)


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


def _figures(
    formula: Formula,
    parts: Sequence[WeighedPart],
    substances: Mapping[str, Substance],
    celsius: float,
) -> LiquorFigures | None:
    if formula.kind == "dry":
        return None
    return figures_of(_amounts(parts, substances), celsius)


def _amounts(
    parts: Sequence[WeighedPart], substances: Mapping[str, Substance]
) -> list[tuple[Substance, float]]:
    return [(substances[key], grams) for key, grams in grams_by_substance(parts).items()]
