"""Sums on vessels: levels, covering a hide, topping up."""

from __future__ import annotations

from msgspec import structs

from benchconsole.desk.sums.fields import field, keep_free, shape_fields
from benchconsole.desk.sums.figures import figures_of
from benchconsole.desk.sums.records import Answer, Sum
from benchconsole.desk.sums.typed import Typed
from benchconsole.errors import BadInput
from benchconsole.mixing.covering import (
    FREE_MOVEMENT,
    LEAST_HIDE_G,
    Goods,
    cover,
    largest_hide_g,
)
from benchconsole.mixing.dimensions import most_words
from benchconsole.mixing.replacing import refill
from benchconsole.mixing.topping_up import top_up
from benchconsole.mixing.vessels import Level, level_at, level_of


def _cover(typed: Typed) -> Answer:
    goods = Goods(
        mass_g=typed.mass_g("hide-weight"),
        count=typed.or_else("hides", typed.count, 1),
        lies_m=typed.or_none("hide-lies-at", typed.length_m),
    )
    vessel, litres_per_kg = typed.vessel(), typed.or_none("float", typed.litres_per_kg)
    above_m = typed.or_else("liquor-above-the-skin", typed.length_m, FREE_MOVEMENT.value)
    try:
        result = cover(vessel, goods, typed.shop, litres_per_kg=litres_per_kg, above_m=above_m)
    except BadInput as refusal:
        if refusal.field != "vessel":
            raise
        most_g = largest_hide_g(vessel, litres_per_kg=litres_per_kg, above_m=above_m, like=goods)
        raise _too_small(typed, refusal.fault, most_g) from None
    why = (
        "The float decides, for it asks for more."
        if result.rule == "float"
        else "Free movement decides: the skin must have liquor above it."
    )
    return Answer(
        says=result.says,
        figures=figures_of(result),
        lines=(why,),
        workings=(result.working,),
        cautions=("Look whether it is covered: folds and wool lie higher than any sum says.",),
    )


def _too_small(typed: Typed, fault: str, most_g: float) -> BadInput:
    """The hide is too large while a smaller one fits, else the vessel is too small for any."""
    if most_g < LEAST_HIDE_G:
        return typed.refuse("sizes", fault)
    most = most_words(most_g, typed.measures)
    # Typed as an example it must read as a weight, so what it is stands before it.
    return BadInput("hide weight", f"{fault}; {most} is the most that fits", most)


def _level(found: Level) -> Answer:
    return Answer(says=found.says, figures=figures_of(found), workings=(found.working,))


def _at_depth(typed: Typed) -> Answer:
    hide = typed.or_else("hide-weight", typed.mass_g, 0.0)
    depth = typed.length_m("depth", zero=True)
    return _level(level_at(typed.vessel(), depth, typed.shop, hide_g=hide))


def _of_volume(typed: Typed) -> Answer:
    hide = typed.or_else("hide-weight", typed.mass_g, 0.0)
    return _level(level_of(typed.vessel(), typed.volume_l("liquor"), typed.shop, hide_g=hide))


def _top_up(typed: Typed) -> Answer:
    more = top_up(
        typed.vessel(),
        typed.length_m("depth", zero=True),
        typed.length_m("shortfall"),
        typed.shop,
    )
    if not typed.given("strengths"):
        return Answer(says=more.says, figures=figures_of(more), workings=(more.working,))
    # Where full jugs would run over, only what is short is made.
    fits = more.whole_jugs is None or more.jugs_depth_m is not None
    shop = typed.shop if fits else structs.replace(typed.shop, jug_l=None)
    again = refill(more.add_l, typed.strengths("strengths"), shop)
    return Answer(
        says=more.says,
        figures=figures_of(more) + figures_of(again, of="refill"),
        lines=(again.says,),
        workings=(more.working, again.working),
    )


_HIDE = field("hide-weight", "Hide in it, wet", "mass", "3.2 kg", "7 lb", optional=True)
_BLAMES = {"room kept free": "keep-free", "vessel": "sizes"}

VESSEL_SUMS = (
    Sum(
        name="cover",
        title="Cover a hide in a vessel",
        purpose="How much liquor covers a hide in its vessel, how deep it stands, and what fits.",
        fields=(
            *shape_fields("vessel"),
            field("hide-weight", "The hide, wet", "mass", "3.2 kg", "7 lb"),
            field("hides", "How many (weight of all)", "count", "1", usual=True),
            field("float", "Float asked for", "float", "6 L/kg", "3/4 gal/lb", optional=True),
            field(
                "hide-lies-at", "The skin lies this high", "length", "8 cm", "3 in", optional=True
            ),
            field(
                "liquor-above-the-skin",
                "Liquor above the skin",
                "length",
                "5 cm",
                "2 in",
                usual=True,
            ),
            keep_free(),
        ),
        work_out=_cover,
        blames=_BLAMES,
    ),
    Sum(
        name="volume-at-depth",
        title="Volume of a vessel at a depth",
        purpose="What is in a vessel that stands so deep, and the room that is left.",
        fields=(
            *shape_fields("vessel"),
            field("depth", "It stands this deep", "length", "22 cm", "9 in"),
            _HIDE,
            keep_free(),
        ),
        work_out=_at_depth,
        blames=_BLAMES,
    ),
    Sum(
        name="depth-of-volume",
        title="How deep a volume stands",
        purpose="How deep so much liquor stands in a vessel, with a hide in it or without.",
        fields=(
            *shape_fields("vessel"),
            field("liquor", "Liquor", "volume", "25 L", "6 gal"),
            _HIDE,
            keep_free(),
        ),
        work_out=_of_volume,
        blames={**_BLAMES, "volume": "liquor"},
    ),
    Sum(
        name="top-up",
        title="Top up a vessel",
        purpose="What raises the liquor by what is short, in whole jugs and the same strength.",
        fields=(
            *shape_fields("vessel"),
            field("depth", "It stands this deep", "length", "18 cm", "7 in"),
            field("shortfall", "It is too low by", "length", "4 cm", "1 1/2 in"),
            field(
                "strengths",
                "What is in a litre of it",
                "strengths",
                "salt 60 g/L; alum 30 g/L",
                optional=True,
            ),
            keep_free(),
        ),
        work_out=_top_up,
        blames=_BLAMES,
    ),
)
