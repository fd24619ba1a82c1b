"""Topping up: what to add when the liquor in a vessel stands too low, in litres and in jugs."""

from __future__ import annotations

import math

from benchconsole.errors import BadInput
from benchconsole.mixing.bounds import require_size, require_volume
from benchconsole.mixing.dimensions import jug_words, length_words
from benchconsole.mixing.shapes import EQUATIONS, SLACK, depth_at, rim_m, volume_at
from benchconsole.mixing.vessels import fill_line_l, fill_line_m, room_words, shape_sure
from benchconsole.mixing.working import Working
from benchconsole.model.record import Record
from benchconsole.model.shop import Shop
from benchconsole.model.vessels import Vessel
from benchconsole.quantities import Measures


class TopUp(Record, frozen=True, kw_only=True):
    """What raises the liquor by the shortfall: ``add_l``, or ``whole_jugs`` full ones.

    ``jugs_depth_m`` is where those jugs bring it (None: no jug is known, or they would run over).
    """

    add_l: float
    depth_m: float
    whole_jugs: int | None
    jugs_depth_m: float | None
    room_l: float
    says: str
    working: Working


def top_up(vessel: Vessel, depth_m: float, shortfall_m: float, shop: Shop) -> TopUp:
    """What to add when the liquor stands ``depth_m`` deep and ``shortfall_m`` too low.

    Raises ``BadInput`` when that is above the fill line, naming the shortfall that can be made up.
    """
    volume = volume_at(vessel.shape, depth_m, measures=shop.measures)
    require_size("shortfall", shortfall_m, "3 cm")
    line, room = fill_line_m(vessel), fill_line_l(vessel) - volume
    target_m = depth_m + shortfall_m
    if target_m > line * (1.0 + SLACK):
        raise _over_the_line(vessel, line - depth_m, room, shop.measures)
    add = volume_at(vessel.shape, min(target_m, rim_m(vessel.shape))) - volume
    jugs, jugs_depth = _whole_jugs(vessel, volume, add, shop.jug_l)
    measures = shop.measures
    return TopUp(
        add_l=add,
        depth_m=target_m,
        whole_jugs=jugs,
        jugs_depth_m=jugs_depth,
        room_l=room - add,
        says=f"Top up {vessel.name} with {jug_words(add, 'the same liquor', shop)}, to "
        f"{length_words(target_m, measures)}{_jugs_end(jugs, jugs_depth, measures)}.",
        working=Working(
            title=f"Topping up {vessel.name}",
            inputs=(
                ("it stands", f"{100 * depth_m:.1f} cm deep, {volume:.2f} L with what lies in it"),
                ("too low by", f"{100 * shortfall_m:.1f} cm"),
                ("room to the fill line", f"{room:.2f} L"),
            ),
            equation="add = volume at the wanted depth − volume now; "
            + EQUATIONS[type(vessel.shape)],
            result=f"{add:.2f} L",
            source="geometry",
            sure=f"at most: hide that stands out of the liquor takes up room too; "
            f"{shape_sure(vessel)}",
        ),
    )


def _over_the_line(vessel: Vessel, left_m: float, room_l: float, measures: Measures) -> BadInput:
    if left_m <= 0.002:
        return BadInput("shortfall", f"{vessel.name} is full already", "a larger vessel")
    room = room_words(vessel, room_l, measures)
    # Two millimetres less, so that it fits as well when a rule rounds it to an eighth of an inch.
    left = length_words(max(left_m - 0.002, 0.001), measures)
    return BadInput("shortfall", f"{vessel.name} would run over, for {room}", left)


def _whole_jugs(
    vessel: Vessel, volume_l: float, add_l: float, jug_l: float | None
) -> tuple[int | None, float | None]:
    """The full jugs that are enough, and the depth they bring it to, if they stay below it."""
    if not jug_l:
        return None, None
    require_volume("jug", jug_l, example="2 gal")
    jugs = max(1, math.ceil(add_l / jug_l - 1e-9))
    after = volume_l + jugs * jug_l
    fits = after <= fill_line_l(vessel) * (1.0 + SLACK)
    return jugs, depth_at(vessel.shape, after) if fits else None


def _jugs_end(jugs: int | None, depth_m: float | None, measures: Measures) -> str:
    if jugs is None:
        return ""
    full = "1 full jug" if jugs == 1 else f"{jugs} full jugs"
    if depth_m is None:
        return f"; {full} would run over"
    bring = "brings" if jugs == 1 else "bring"
    return f"; {full} {bring} it to {length_words(depth_m, measures)}"
