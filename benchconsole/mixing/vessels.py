"""How high a liquor stands in a vessel, with a hide in it or without, and the room left."""

from __future__ import annotations

from benchconsole.errors import BadInput
from benchconsole.mixing.bounds import require_height, require_mass, require_volume
from benchconsole.mixing.dimensions import length_words
from benchconsole.mixing.shapes import EQUATIONS, SLACK, depth_at, full_volume_l, rim_m, volume_at
from benchconsole.mixing.working import Working
from benchconsole.model.record import Figure, Record
from benchconsole.model.shop import Shop
from benchconsole.model.vessels import Measured, Vessel
from benchconsole.quantities import Measures, format_mass, format_volume

SAFE_SHARE = 0.98
"""The share of the true room that an example names, so that what it names does fit when read
back rounded. Our own choice, no source."""

WET_HIDE = Figure(
    value=1.05,
    low=1.0,
    high=1.1,
    source="density of a wet hide, kg/L: 1.0 to 1.1",
    mark="memory",
)
"""Kilograms of wet hide that take up a litre."""


class Level(Record, frozen=True, kw_only=True):
    """How a vessel stands: ``liquor_l`` and ``hide_l`` fill it to ``depth_m``.

    ``room_l`` is what still fits to the fill line, below zero when it stands above that line.
    """

    depth_m: float
    liquor_l: float
    hide_l: float
    room_l: float
    says: str
    working: Working


def displaced_l(hide_g: float) -> float:
    """Litres that a wet hide of this weight takes up in the liquor (`WET_HIDE`)."""
    require_mass("hide weight", hide_g, zero=True)
    return hide_g / 1000.0 / WET_HIDE.value


def fill_line_m(vessel: Vessel) -> float:
    """Metres from the bottom to which the vessel is filled: the rim, less what is kept free.

    Raises ``BadInput`` when nothing is left of it.
    """
    full_volume_l(vessel.shape)
    rim = rim_m(vessel.shape)
    require_height("room kept free", vessel.keep_free_m, "5 cm")
    if vessel.keep_free_m >= rim:
        fault = f"{100 * vessel.keep_free_m:g} cm is all of the {100 * rim:g} cm there is"
        raise BadInput("room kept free", fault, f"{10 * rim:.2g} cm")
    return rim - vessel.keep_free_m


def fill_line_l(vessel: Vessel) -> float:
    """Litres to the fill line. Raises as `fill_line_m`."""
    return volume_at(vessel.shape, fill_line_m(vessel))


def level_at(vessel: Vessel, depth_m: float, shop: Shop, *, hide_g: float = 0.0) -> Level:
    """What is in the vessel when it stands ``depth_m`` deep with the hide under the liquor.

    Raises ``BadInput`` for a depth outside the vessel, or one that the hide alone would pass.
    """
    volume = volume_at(vessel.shape, depth_m, measures=shop.measures)
    hide = displaced_l(hide_g)
    if hide > volume * (1.0 + SLACK):
        takes, there = (format_volume(each, measures=shop.measures) for each in (hide, volume))
        fault = f"the hide alone takes up {takes} and there is {there} below that, so it stands out"
        raise BadInput("depth", fault, length_words(rim_m(vessel.shape), shop.measures))
    return _level(vessel, depth_m, max(volume - hide, 0.0), hide_g, shop)


def level_of(vessel: Vessel, liquor_l: float, shop: Shop, *, hide_g: float = 0.0) -> Level:
    """How high this much liquor stands with the hide in it.

    Raises ``BadInput`` when the two run over the rim, naming the liquor that fits.
    """
    require_volume("liquor", liquor_l, zero=True)
    hide = displaced_l(hide_g)
    if not _fits(vessel, liquor_l + hide):
        holds = full_volume_l(vessel.shape)
        room = max(holds - hide, 0.0)
        takes = format_volume(room, measures=shop.measures)
        fits = format_volume(SAFE_SHARE * room, measures=shop.measures)
        with_hide = " with the hide in it" if hide_g else ""
        fault = f"{format_volume(liquor_l, measures=shop.measures)} runs over{with_hide}"
        example = fits if room > 0.0 else "a larger vessel"
        raise BadInput("liquor", f"{fault}: {vessel.name} takes {takes}", example)
    depth = depth_at(vessel.shape, liquor_l + hide)
    return _level(vessel, depth, liquor_l, hide_g, shop)


def _fits(vessel: Vessel, volume_l: float) -> bool:
    return volume_l <= full_volume_l(vessel.shape) * (1.0 + SLACK)


def _level(vessel: Vessel, depth_m: float, liquor_l: float, hide_g: float, shop: Shop) -> Level:
    hide = displaced_l(hide_g)
    room = fill_line_l(vessel) - liquor_l - hide
    measures = shop.measures
    liquor = format_volume(liquor_l, measures=measures)
    with_hide = (
        f" with {format_mass(hide_g, measures=measures, step_g=10.0)} of hide in it"
        if hide_g
        else ""
    )
    return Level(
        depth_m=depth_m,
        liquor_l=liquor_l,
        hide_l=hide,
        room_l=room,
        says=f"{vessel.name}: {liquor} of liquor stands {length_words(depth_m, measures)} deep"
        f"{with_hide}; {room_words(vessel, room, measures)}.",
        working=Working(
            title=f"Level in {vessel.name}",
            inputs=(
                ("liquor", f"{liquor_l:.2f} L"),
                *((("hide", f"{hide_g / 1000:.3f} kg"),) if hide_g else ()),
                *((("the hide takes up", f"{hide:.2f} L"),) if hide_g else ()),
                ("depth", f"{100 * depth_m:.1f} cm"),
                ("to the fill line", f"{100 * fill_line_m(vessel):.1f} cm"),
            ),
            equation=EQUATIONS[type(vessel.shape)]
            + ("; hide = weight ÷ 1.05 kg/L" if hide_g else ""),
            result=f"{liquor_l:.2f} L at {100 * depth_m:.1f} cm, {room:.2f} L of room",
            source=hide_source() if hide_g else "geometry",
            sure=shape_sure(vessel),
        ),
    )


def room_words(vessel: Vessel, room_l: float, measures: Measures) -> str:
    """The room that is left: ``35.2 L of room is left to the rim``."""
    line = "the fill line" if vessel.keep_free_m else "the rim"
    if room_l < 0.0:
        return f"that is {format_volume(-room_l, measures=measures)} above {line}"
    return f"{format_volume(room_l, measures=measures)} of room is left to {line}"


def hide_source() -> str:
    """Where the room a hide takes up comes from, and how well it is known."""
    return f"{WET_HIDE.source} (from memory, unverified)"


def shape_sure(vessel: Vessel) -> str:
    """How sure a volume from a measured depth is."""
    if isinstance(vessel.shape, Measured):
        return "straight lines between the measured points; closer points make it surer"
    return "exact for straight walls, inside measure; round corners and dents are not counted"
