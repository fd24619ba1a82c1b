"""The liquor that covers a hide in its vessel, and the largest hide that fits.

Two rules decide and the one that asks for more wins: the float, litres for each kilogram; and
free movement, so many centimetres of liquor above the skin.
"""

from __future__ import annotations

import math
from typing import Literal

from benchconsole.errors import BadInput
from benchconsole.mixing.bounds import (
    require_between,
    require_count,
    require_mass,
    require_size,
)
from benchconsole.mixing.dimensions import jug_words, length_words, most_words
from benchconsole.mixing.shapes import EQUATIONS, SLACK, depth_at, rim_m, volume_at
from benchconsole.mixing.vessels import (
    WET_HIDE,
    displaced_l,
    fill_line_l,
    fill_line_m,
    hide_source,
    room_words,
    shape_sure,
)
from benchconsole.mixing.working import Working, plain
from benchconsole.model.record import MARK_WORDS, Figure, Record
from benchconsole.model.shop import Shop
from benchconsole.model.vessels import Vessel
from benchconsole.quantities import Measures, format_mass, format_volume

FREE_MOVEMENT = Figure(
    value=0.05,
    low=0.04,
    high=0.06,
    source="skins move freely with 4 to 6 cm of liquor above them: Russian-language hobby "
    "journal (2002, 2005), home fur dressing",
    mark="read",
)
"""Metres of liquor above the skin."""

LEAST_HIDE_G = 10.0
"""Below this a vessel is said to take no hide at all. Our own choice, no source."""

Rule = Literal["float", "free movement"]


class Goods(Record, frozen=True, kw_only=True):
    """What goes in wet: one hide, or a lot of them weighing ``mass_g`` all together.

    ``lies_m`` is how high the skin was seen to lie in this vessel above its bottom; None reckons
    with its bare volume, the lowest it can lie.
    """

    mass_g: float
    count: int = 1
    lies_m: float | None = None


class Cover(Record, frozen=True, kw_only=True):
    """The liquor that covers: ``depth_m`` is where it stands with the hide in it.

    ``rule`` is the one that asked for more; ``room_l`` what still fits to the fill line.
    """

    liquor_l: float
    depth_m: float
    room_l: float
    rule: Rule
    says: str
    working: Working


def cover(
    vessel: Vessel,
    goods: Goods,
    shop: Shop,
    *,
    litres_per_kg: float | None = None,
    above_m: float = FREE_MOVEMENT.value,
) -> Cover:
    """The liquor to cover the goods in this vessel.

    ``litres_per_kg`` is the float (None: only free movement is asked for). Raises ``BadInput``
    for figures out of bounds, and when the vessel cannot hold it, naming the largest hide that
    fits by the same rules.
    """
    _require(goods, litres_per_kg, above_m)
    _require_lying(vessel, goods, shop.measures)
    heap = _heap_l_per_kg(vessel, goods) * goods.mass_g / 1000.0
    bath = 0.0 if litres_per_kg is None else litres_per_kg * goods.mass_g / 1000.0
    hide = displaced_l(goods.mass_g)
    room = fill_line_l(vessel)
    covered_m = depth_at(vessel.shape, heap) + above_m if heap <= room else math.inf
    if covered_m > fill_line_m(vessel) * (1.0 + SLACK) or bath + hide > room * (1.0 + SLACK):
        raise _too_small(vessel, goods, shop, litres_per_kg, above_m)
    free = volume_at(vessel.shape, min(covered_m, rim_m(vessel.shape))) - hide
    rule: Rule = "float" if bath > free else "free movement"
    liquor = max(bath, free)
    depth = depth_at(vessel.shape, min(liquor + hide, room))
    return Cover(
        liquor_l=liquor,
        depth_m=depth,
        room_l=room - liquor - hide,
        rule=rule,
        says=f"Cover {_goods_words(goods, shop.measures)} in {vessel.name}: "
        f"{jug_words(liquor, 'liquor', shop)}, {length_words(depth, shop.measures)} deep with "
        f"{'it' if goods.count == 1 else 'them'} in it; "
        f"{room_words(vessel, max(room - liquor - hide, 0.0), shop.measures)}.",
        working=_cover_working(vessel, goods, litres_per_kg, above_m, (bath, free, depth)),
    )


def largest_hide_g(
    vessel: Vessel,
    *,
    litres_per_kg: float | None = None,
    above_m: float = FREE_MOVEMENT.value,
    like: Goods | None = None,
) -> float:
    """Grams of the largest hide (or lot) that `cover` can cover here; 0 where none can be.

    ``like`` is a hide whose lying was measured: others are taken to lie as high for their weight.
    """
    _require(like, litres_per_kg, above_m)
    top_m = fill_line_m(vessel) - above_m
    if top_m <= 0.0:
        return 0.0
    by_depth = volume_at(vessel.shape, top_m) / _heap_l_per_kg(vessel, like)
    if litres_per_kg is None:
        return 1000.0 * by_depth
    by_float = fill_line_l(vessel) / (litres_per_kg + 1.0 / WET_HIDE.value)
    return 1000.0 * min(by_depth, by_float)


def _require(goods: Goods | None, litres_per_kg: float | None, above_m: float) -> None:
    if goods is not None:
        require_mass("hide weight", goods.mass_g)
        require_count("hides", goods.count)
        if goods.lies_m is not None:
            require_size("hide lies at", goods.lies_m, "20 cm")
    if litres_per_kg is not None:
        require_between("float", litres_per_kg, 0.01, 1e4, "0.01 to 10000 L/kg", "6 L/kg")
    require_between("liquor above the skin", above_m, 0.0, 2.0, "between 0 cm and 2 m", "5 cm")


def _require_lying(vessel: Vessel, goods: Goods, measures: Measures) -> None:
    """A hide cannot lie lower than its own volume fills the vessel, nor above the rim."""
    if goods.lies_m is None:
        return
    field = "hide lies at"
    under = volume_at(vessel.shape, goods.lies_m, field=field, measures=measures)
    if under < displaced_l(goods.mass_g):
        there = format_volume(under, measures=measures)
        fault = f"there is only {there} below that, less than the hide itself takes up"
        raise BadInput(field, fault, length_words(rim_m(vessel.shape), measures))


def _heap_l_per_kg(vessel: Vessel, goods: Goods | None) -> float:
    """Litres below the top of the skin for each kilogram: as seen, or its bare volume."""
    if goods is None or goods.lies_m is None:
        return 1.0 / WET_HIDE.value
    return volume_at(vessel.shape, goods.lies_m, field="hide lies at") * 1000.0 / goods.mass_g


def _too_small(
    vessel: Vessel, goods: Goods, shop: Shop, litres_per_kg: float | None, above_m: float
) -> BadInput:
    most = largest_hide_g(vessel, litres_per_kg=litres_per_kg, above_m=above_m, like=goods)
    holds = format_volume(fill_line_l(vessel), measures=shop.measures)
    fault = f"{vessel.name} holds {holds}, too little to cover {_goods_words(goods, shop.measures)}"
    if most < LEAST_HIDE_G:
        return BadInput("vessel", f"{fault}, and it is too shallow to cover any", "a deeper vessel")
    each = "the largest hide that fits" if goods.count == 1 else "the largest lot that fits"
    return BadInput("vessel", fault, f"{most_words(most, shop.measures)}, {each}")


def _goods_words(goods: Goods, measures: Measures) -> str:
    mass = format_mass(goods.mass_g, measures=measures, step_g=10.0)
    return f"{mass} of hide" if goods.count == 1 else f"{goods.count} hides of {mass} together"


def _cover_working(
    vessel: Vessel,
    goods: Goods,
    litres_per_kg: float | None,
    above_m: float,
    found: tuple[float, float, float],
) -> Working:
    bath, free, depth = found
    lies = "not measured" if goods.lies_m is None else f"{100 * goods.lies_m:.1f} cm"
    by_float = (
        ()
        if litres_per_kg is None
        else ((f"by the float, {plain(litres_per_kg)} L/kg", f"{bath:.2f} L"),)
    )
    return Working(
        title=f"Covering the hide in {vessel.name}",
        inputs=(
            ("hide, wet", f"{goods.mass_g / 1000:.3f} kg"),
            ("the hide takes up", f"{displaced_l(goods.mass_g):.2f} L"),
            ("the skin lies at", lies),
            ("liquor above the skin", f"{100 * above_m:.1f} cm"),
            *by_float,
            ("by free movement", f"{free:.2f} L"),
        ),
        equation="liquor = the larger of float × weight and volume at (skin + liquor above it) "
        f"− hide; hide = weight ÷ 1.05 kg/L; {EQUATIONS[type(vessel.shape)]}",
        result=f"{max(bath, free):.2f} L, {100 * depth:.1f} cm deep",
        source=f"{FREE_MOVEMENT.source} ({MARK_WORDS[FREE_MOVEMENT.mark]}); {hide_source()}",
        sure="the skin is taken to lie flat as its bare volume; folds and hair lie higher, so "
        "measure where it lies"
        if goods.lies_m is None
        else shape_sure(vessel),
    )
