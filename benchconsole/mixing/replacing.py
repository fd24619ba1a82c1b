"""Liquor short in the tub: what a lifted hide carried off, and a refill of the same strength."""

from __future__ import annotations

import math
from collections.abc import Sequence

from benchconsole.errors import BadInput
from benchconsole.mixing.bounds import require_between, require_mass, require_volume
from benchconsole.mixing.working import Working, plain
from benchconsole.model.record import Record
from benchconsole.model.shop import Shop
from benchconsole.model.weighing import Strength
from benchconsole.quantities import format_mass, format_volume

SKIN_HOLDS = (0.5, 0.7)
"""Kilograms of liquor in a kilogram of drained bare skin: a green hide is 62 to 65 % water (read
in course pages on hides); the span on both sides is common practice."""

WOOL_HOLDS = (2.0, 4.0)
"""Kilograms of liquor that a kilogram of dry wool carries, undrained: common practice."""


class Refill(Record, frozen=True, kw_only=True):
    """Liquor to make: ``volume_l`` is short, ``pour_l`` fills whole jugs (the same without a jug).

    ``amounts`` are (substance, grams) for ``pour_l`` at the strength that was there.
    """

    volume_l: float
    jugs: int | None
    pour_l: float
    amounts: tuple[tuple[str, float], ...]
    says: str
    working: Working


class CarriedOff(Record, frozen=True, kw_only=True):
    """What a drained hide took with it, and the refill that puts it back."""

    liquor_g: float
    volume_l: float
    amounts: tuple[tuple[str, float], ...]
    refill: Refill
    says: str
    working: Working


def refill(short_l: float, strengths: Sequence[Strength], shop: Shop) -> Refill:
    """The liquor that a measured shortfall asks for, in the same strength and in whole jugs.

    ``strengths`` are those of the liquor as made, in grams as weighed per litre. Rounded up to
    whole jugs where the shop has said how large its jug is: the rest of the last jug keeps.
    Raises ``BadInput`` for no shortfall or a strength that is none.
    """
    require_volume("shortfall", short_l, example="3 L")
    _check(strengths)
    jugs = None
    pour_l = short_l
    if shop.jug_l:
        jugs = max(1, math.ceil(short_l / shop.jug_l - 1e-9))
        pour_l = jugs * shop.jug_l
    amounts = _amounts(strengths, pour_l)
    return Refill(
        volume_l=short_l,
        jugs=jugs,
        pour_l=pour_l,
        amounts=amounts,
        says=_refill_says(short_l, jugs, pour_l, amounts, shop),
        working=Working(
            title="Refill",
            inputs=(
                ("short", f"{short_l:.3f} L"),
                *((("jug", f"{shop.jug_l:g} L"),) if shop.jug_l else ()),
                *((each.substance, f"{plain(each.g_per_l)} g/L") for each in strengths),
            ),
            equation="jugs = short ÷ jug, rounded up; grams = strength × litres made",
            result=f"{pour_l:.3f} L" + "".join(f", {g:.1f} g {name}" for name, g in amounts),
            source="the strengths of the liquor as it was made",
            sure="exact for the strength it was made at; what the hides have taken out since is "
            "not counted, so a used bath may want a spindle reading first",
        ),
    )


def carried_off(
    hide_mass_g: float,
    liquor_per_kg: float,
    density_kg_m3: float,
    strengths: Sequence[Strength],
    shop: Shop,
) -> CarriedOff:
    """What a hide that weighs ``hide_mass_g`` grams, wet and drained, carried out of the tub.

    ``liquor_per_kg`` is kilograms of liquor in each kilogram of that weight: 0.5 to 0.7 for bare
    skin, more with wool on. Raises ``BadInput`` for 1 or more, which would leave no hide.
    """
    require_mass("hide weight", hide_mass_g)
    require_between(
        "density", density_kg_m3, 900.0, 1500.0, "between 900 and 1500 kg/m³", "1050 kg/m³"
    )
    _require_held(liquor_per_kg)
    _check(strengths)
    grams = hide_mass_g * liquor_per_kg
    litres = grams / density_kg_m3
    again = refill(litres, strengths, shop)
    return CarriedOff(
        liquor_g=grams,
        volume_l=litres,
        amounts=_amounts(strengths, litres),
        refill=again,
        says=f"The drained hide took {format_volume(litres, measures=shop.measures)} of liquor "
        f"along; {again.says[0].lower()}{again.says[1:]}",
        working=_carried_working(hide_mass_g, liquor_per_kg, density_kg_m3, grams, litres),
    )


def _require_held(liquor_per_kg: float) -> None:
    if not 0.0 < liquor_per_kg < 1.0:
        low, high = SKIN_HOLDS
        fault = (
            f"it is the part of the drained weight that is liquor, {low:g} to {high:g} for bare "
            "skin and more in wool, and less than 1"
        )
        raise BadInput("liquor carried", fault, "0.6 kg/kg")


def _carried_working(
    hide_g: float, liquor_per_kg: float, density: float, grams: float, litres: float
) -> Working:
    return Working(
        title="Carried off by the hide",
        inputs=(
            ("hide, wet and drained", f"{hide_g:.0f} g"),
            ("liquor in each kg of it", f"{liquor_per_kg:g} kg"),
            ("usual, bare skin", f"{SKIN_HOLDS[0]:g} to {SKIN_HOLDS[1]:g} kg"),
            ("wool, by its dry weight", f"{WOOL_HOLDS[0]:g} to {WOOL_HOLDS[1]:g} kg per kg"),
            ("density", f"{density:.1f} kg/m³"),
        ),
        equation="liquor = drained weight × liquor in each kg; volume = liquor ÷ density",
        result=f"{grams:.0f} g, {litres:.3f} L",
        source="water in a green hide, 62 to 65 %: course pages on hides; wool: common "
        "practice, no source",
        sure="no better than the figure given for the liquor carried; plain water the hide "
        "brought in is not counted, and thins the bath",
    )


def _check(strengths: Sequence[Strength]) -> None:
    for each in strengths:
        field = f"strength of {each.substance}"
        require_between(field, each.g_per_l, 0.0, 2000.0, "between 0 and 2000 g/L", "60 g/L")


def _amounts(strengths: Sequence[Strength], litres: float) -> tuple[tuple[str, float], ...]:
    return tuple((each.substance, each.g_per_l * litres) for each in strengths)


def _refill_says(
    short_l: float,
    jugs: int | None,
    pour_l: float,
    amounts: Sequence[tuple[str, float]],
    shop: Shop,
) -> str:
    made = format_volume(pour_l, measures=shop.measures)
    if jugs is not None and shop.jug_l:
        short, jug = (format_volume(each, measures=shop.measures) for each in (short_l, shop.jug_l))
        made = f"{jugs} jug{'s' if jugs != 1 else ''} of {jug} ({short} is short)"
    step = shop.scale.step_g
    solids = [f"{format_mass(g, measures=shop.measures, step_g=step)} {n}" for n, g in amounts]
    holding = f" with {', '.join(solids)} in it" if solids else ""
    return f"Make {made}{holding}, the same strength as before."
