"""The checks of a worksheet: does it dissolve, does it stay dissolved, can the scale weigh it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from benchconsole.mixing.acid_checks import acid_checks
from benchconsole.mixing.alum_checks import alum_checks
from benchconsole.mixing.dissolving import Water, solubility_checks
from benchconsole.mixing.findings import JOINED, Check, WeighedPart, grams_by_substance
from benchconsole.mixing.liquors import LiquorFigures
from benchconsole.mixing.scale_checks import weighing_checks
from benchconsole.mixing.working import Working
from benchconsole.model.formulas import Formula
from benchconsole.model.shop import Shop
from benchconsole.model.substances import Substance
from benchconsole.quantities import format_volume

__all__ = ["JOINED", "Check", "WeighedPart", "checks_for"]


def checks_for(
    formula: Formula,
    parts: Sequence[WeighedPart],
    figures: LiquorFigures | None,
    substances: Mapping[str, Substance],
    shop: Shop,
    celsius: float,
    hide_mass_g: float | None = None,
) -> list[Check]:
    """All checks of a scaled formula; ``celsius`` is that of the water poured.

    ``hide_mass_g`` is the weight of the hide that it is for, None where it is not known.
    """
    found: list[Check] = []
    if figures is not None:
        found += acid_checks(figures, substances, shop)
    found += alum_checks(
        grams_by_substance(parts),
        hide_mass_g,
        shop,
        as_printed=formula.for_hide_mass_g is not None and not formula.own,
    )
    if figures is not None:
        for weighed in parts:
            part = weighed.part
            water = Water(
                part=part.id, name=part.name, celsius=celsius, recipe_celsius=part.celsius
            )
            found += solubility_checks(water, [weighed], substances, shop)
        if len(parts) > 1 or figures.celsius != celsius:
            name = "the joined liquor" if len(parts) > 1 else "the liquor"
            water = Water(part=JOINED, name=name, celsius=figures.celsius)
            found += _new_in(solubility_checks(water, parts, substances, shop), found)
    for weighed in parts:
        found += weighing_checks(formula.tolerance.value, weighed, substances, shop)
    if figures is not None and formula.kind == "liquor":
        found += _container(formula, figures, shop)
    return found


def _new_in(joined: list[Check], parts: list[Check]) -> list[Check]:
    """What the joined liquor tells that none of its parts told already, to the per cent."""
    told = {(each.substance, round(100.0 * each.value)) for each in parts if each.ok}
    return [c for c in joined if not c.ok or (c.substance, round(100.0 * c.value)) not in told]


def _container(formula: Formula, figures: LiquorFigures, shop: Shop) -> list[Check]:
    """Room for the liquor and its foam; nothing to say of a still liquor in an unknown tub."""
    if formula.container_room <= 1.0 and shop.tub_l is None:
        return []
    room = figures.volume_l * formula.container_room
    size = format_volume(room, measures=shop.measures)
    tub = "" if shop.tub_l is None else format_volume(shop.tub_l, measures=shop.measures)
    foams = "It foams: use" if formula.container_room > 1.0 else "Use"
    fits = shop.tub_l is None or room <= shop.tub_l
    says = f"{foams} a container that holds at least {size}"
    return [
        Check(
            code="container",
            substance="",
            part=JOINED,
            ok=fits,
            value=room / shop.tub_l if shop.tub_l else 1.0 / formula.container_room,
            says=f"{says}." if fits else f"{says}; your largest tub holds {tub}.",
            working=Working(
                title="Container",
                inputs=(
                    ("finished volume", f"{figures.volume_l:.2f} L"),
                    ("room asked by the formula", f"{formula.container_room:g} times"),
                    *((("largest tub", tub),) if tub else ()),
                ),
                equation="container = finished volume × room",
                result=size,
                sure="the hide's own room is not counted",
            ),
        )
    ]
