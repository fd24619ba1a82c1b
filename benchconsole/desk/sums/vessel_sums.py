"""Sums on vessels: levels, covering a hide, topping up."""

from __future__ import annotations

from benchconsole.desk.sums.fields import field, keep_free, shape_fields
from benchconsole.desk.sums.records import Answer, Sum
from benchconsole.desk.sums.typed import Typed
from benchconsole.mixing.covering import FREE_MOVEMENT, Goods, cover
from benchconsole.mixing.replacing import refill
from benchconsole.mixing.topping_up import top_up
from benchconsole.mixing.vessels import Level, level_at, level_of


def _cover(typed: Typed) -> Answer:
    goods = Goods(
        mass_g=typed.mass_g("hide-weight"),
        count=typed.or_else("hides", typed.count, 1),
        lies_m=typed.or_none("hide-lies-at", typed.length_m),
    )
    result = cover(
        typed.vessel(),
        goods,
        typed.shop,
        litres_per_kg=typed.or_none("float", typed.litres_per_kg),
        above_m=typed.or_else("liquor-above-the-skin", typed.length_m, FREE_MOVEMENT.value),
    )
    why = (
        "The float decides, for it asks for more."
        if result.rule == "float"
        else "Free movement decides: the skin must have liquor above it."
    )
    return Answer(
        says=result.says,
        lines=(why,),
        workings=(result.working,),
        cautions=("Look whether it is covered: folds and wool lie higher than any sum says.",),
    )


def _level(found: Level) -> Answer:
    return Answer(says=found.says, workings=(found.working,))


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
        return Answer(says=more.says, workings=(more.working,))
    again = refill(more.add_l, typed.strengths("strengths"), typed.shop)
    return Answer(says=more.says, lines=(again.says,), workings=(more.working, again.working))


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
