"""How much dressing a skin takes by its area, and the room an emulsion fills in the bottle."""

from __future__ import annotations

from collections.abc import Sequence

from benchconsole.errors import BadInput
from benchconsole.mixing.bounds import (
    require_between,
    require_count,
    require_mass,
    require_volume,
)
from benchconsole.mixing.dimensions import area_words
from benchconsole.mixing.working import Working
from benchconsole.model.record import MARK_WORDS, Figure, Record
from benchconsole.model.shop import Shop
from benchconsole.quantities import format_mass, format_volume

DRESSING_FOR_AREA = Figure(
    value=0.30,
    low=0.24,
    high=0.36,
    source="one recipe of 8 US fl oz (237 mL) dresses a deer skin of 0.65 to 1 m²",
    mark="computed",
)
"""Litres of oil emulsion for each square metre of skin, all coats together."""


class Liquid(Record, frozen=True, kw_only=True):
    """One liquid of an emulsion: its weight, its density, and the span of that density, kg/m³."""

    name: str
    mass_g: float
    density_kg_m3: float
    low_kg_m3: float | None = None
    high_kg_m3: float | None = None


class Emulsion(Record, frozen=True, kw_only=True):
    """An emulsion's volume, from ``least_l`` to ``most_l`` by the span of the densities."""

    volume_l: float
    least_l: float
    most_l: float
    mass_g: float
    density_kg_m3: float
    says: str
    working: Working


class DressingForArea(Record, frozen=True, kw_only=True):
    """Dressing for a skin: ``volume_l`` on it, in equal coats; ``mix_l`` with the bottle's loss."""

    volume_l: float
    least_l: float
    most_l: float
    coat_l: float
    mix_l: float
    says: str
    working: Working


def emulsion_volume(liquids: Sequence[Liquid], shop: Shop) -> Emulsion:
    """The room the liquids fill together, as if nothing shrank on mixing.

    Raises ``BadInput`` for no liquid at all, or a weight or density that none has.
    """
    if not liquids:
        raise BadInput("emulsion", "it has no liquid", "3 1/2 oz of oil, 3 1/2 oz of water")
    for liquid in liquids:
        _require_liquid(liquid)
    volume = sum(each.mass_g / each.density_kg_m3 for each in liquids)
    least = sum(each.mass_g / (each.high_kg_m3 or each.density_kg_m3) for each in liquids)
    most = sum(each.mass_g / (each.low_kg_m3 or each.density_kg_m3) for each in liquids)
    mass = sum(each.mass_g for each in liquids)
    fills = format_volume(volume, measures=shop.measures)
    weighs = format_mass(mass, measures=shop.measures, step_g=shop.scale.step_g)
    return Emulsion(
        volume_l=volume,
        least_l=least,
        most_l=most,
        mass_g=mass,
        density_kg_m3=mass / volume,
        says=f"The emulsion fills {fills} and weighs {weighs}, {mass / volume / 1000:.3f} kg/L.",
        working=Working(
            title="Volume of the emulsion",
            inputs=tuple(
                (each.name, f"{each.mass_g:.1f} g at {each.density_kg_m3:g} kg/m³")
                for each in liquids
            ),
            equation="volume = sum of weight ÷ density",
            result=f"{1000 * volume:.1f} mL ({1000 * least:.1f} to {1000 * most:.1f} mL)",
            source="densities: as given for each liquid",
            sure="liquids as if nothing shrank on mixing; air shaken in is not counted",
        ),
    )


def dressing_for_area(
    area_m2: float,
    shop: Shop,
    *,
    coats: int = 2,
    left_l: float = 0.0,
    litres_per_m2: float | None = None,
) -> DressingForArea:
    """The dressing for a skin of this area, and what to mix when ``left_l`` stays in the bottle.

    ``litres_per_m2`` None takes the middle of `DRESSING_FOR_AREA`. Raises ``BadInput`` for
    figures out of bounds.
    """
    require_between("area", area_m2, 0.001, 10_000.0, "between 10 cm² and 10000 m²", "0.8 m²")
    require_count("coats", coats)
    require_volume("left in the bottle", left_l, zero=True, example="5 mL")
    figure = DRESSING_FOR_AREA
    rate = figure.value if litres_per_m2 is None else litres_per_m2
    require_between("dressing for the area", rate, 0.01, 10.0, "0.01 to 10 L/m²", "0.3 L/m²")
    given = litres_per_m2 is not None
    low, high = (rate, rate) if given else (figure.low or rate, figure.high or rate)
    volume, mix = rate * area_m2, rate * area_m2 + left_l
    measures = shop.measures
    total, least, most, coat, made = (
        format_volume(each, measures=measures)
        for each in (volume, low * area_m2, high * area_m2, volume / coats, mix)
    )
    span = "" if given else f" ({least} to {most})"
    in_coats = f"in {coats} coats of {coat}" if coats > 1 else "in one coat"
    left = f"; mix {made}, for some stays in the bottle" if left_l else ""
    return DressingForArea(
        volume_l=volume,
        least_l=low * area_m2,
        most_l=high * area_m2,
        coat_l=volume / coats,
        mix_l=mix,
        says=f"{area_words(area_m2, measures)} of skin takes {total} of dressing{span} "
        f"{in_coats}{left}.",
        working=_area_working(area_m2, (low, high), (volume, left_l), given),
    )


def _area_working(
    area_m2: float, rates: tuple[float, float], litres: tuple[float, float], given: bool
) -> Working:
    (low, high), (volume, left) = rates, litres
    source = f"{DRESSING_FOR_AREA.source} ({MARK_WORDS[DRESSING_FOR_AREA.mark]})"
    return Working(
        title="Dressing for the area",
        inputs=(
            ("area", f"{area_m2:.3f} m²"),
            ("for each m²", f"{low:g} L" if given else f"{low:g} to {high:g} L, the middle"),
            ("left in the bottle", f"{1000 * left:.1f} mL"),
        ),
        equation="dressing = area × litres for each m²; mix = dressing + left in the bottle",
        result=f"{1000 * volume:.0f} mL, mix {1000 * (volume + left):.0f} mL",
        source="as given" if given else source,
        sure="" if given else "from one recipe for one kind of skin; the skin decides",
    )


def _require_liquid(liquid: Liquid) -> None:
    require_mass(f"weight of {liquid.name}", liquid.mass_g, example="100 g")
    for density in (liquid.density_kg_m3, liquid.low_kg_m3, liquid.high_kg_m3):
        if density is not None:
            bounds = "between 500 and 2500 kg/m³"
            require_between(f"density of {liquid.name}", density, 500, 2500, bounds, "915 kg/m³")
    low = liquid.density_kg_m3 if liquid.low_kg_m3 is None else liquid.low_kg_m3
    high = liquid.density_kg_m3 if liquid.high_kg_m3 is None else liquid.high_kg_m3
    if not low <= liquid.density_kg_m3 <= high:
        fault = f"{liquid.density_kg_m3:g} kg/m³ is not within {low:g} to {high:g}"
        raise BadInput(f"density of {liquid.name}", fault, f"{(low + high) / 2:g} kg/m³")
