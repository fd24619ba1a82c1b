"""Sums on dressings: how much, how much room it fills, and where each coat ends."""

from __future__ import annotations

from benchconsole.chemistry import water_density
from benchconsole.desk.sums.fields import ROOM_CELSIUS, choice, field, mass_words, shape_fields
from benchconsole.desk.sums.figures import figures_of
from benchconsole.desk.sums.records import Answer, Sum
from benchconsole.desk.sums.typed import Typed
from benchconsole.errors import BadInput
from benchconsole.mixing.bottles import level_marks, weight_marks
from benchconsole.mixing.dressings import Liquid, dressing_for_area, emulsion_volume
from benchconsole.model.vessels import Bottle

SHAKE = "Shake an emulsion again before every coat: it parts while it stands."
AMMONIA = "If there is ammonia in it, work in moving air and read the product's safety sheet first."


def _by_level(typed: Typed) -> Answer:
    marks = level_marks(
        Bottle(name="the bottle", shape=typed.shape()),
        typed.volume_l("dressing"),
        typed.count("coats"),
        typed.shop,
        left_l=typed.or_else("left-in-the-bottle", typed.volume_l, 0.0),
    )
    return Answer(
        says=marks.says,
        figures=figures_of(marks),
        lines=tuple(mark.says for mark in marks.marks[:_MOST_MARKS]),
        workings=(marks.working,),
        cautions=(SHAKE,),
    )


def _by_weight(typed: Typed) -> Answer:
    known = {typed.choice("known"): typed.mass_g("known-weight")}
    marks = weight_marks(
        Bottle(name="the bottle", tare_g=known.get("empty")),
        typed.count("coats"),
        typed.shop,
        full_g=typed.mass_g("full-bottle"),
        dressing_g=known.get("dressing"),
        left_g=typed.or_else("left-in-the-bottle", typed.mass_g, 0.0),
    )
    step_g = typed.shop.scale.step_g
    if len(marks.marks) > 1 and marks.coat_g < step_g:
        most = max(1, int(marks.coat_g * len(marks.marks) / step_g + 1e-9))
        fault = f"each would be less than a step of the scale, {mass_words(step_g, typed.shop)}"
        raise BadInput("coats", fault, str(most))
    return Answer(
        says=marks.says,
        figures=figures_of(marks),
        lines=tuple(mark.says for mark in marks.marks[:_MOST_MARKS]),
        workings=(marks.working,),
        cautions=(SHAKE,),
    )


_MOST_MARKS = 24
"""More coats than anybody gives; the rest would only fill the screen."""


def _emulsion(typed: Typed) -> Answer:
    liquids = [
        Liquid(
            name="the oil",
            mass_g=typed.mass_g("oil-weight"),
            density_kg_m3=typed.density_kg_m3("oil-density"),
        ),
        Liquid(
            name="the water",
            mass_g=typed.mass_g("water-weight"),
            density_kg_m3=water_density(ROOM_CELSIUS),
        ),
    ]
    if typed.given("other-weight"):
        density = typed.or_else("other-density", typed.density_kg_m3, water_density(ROOM_CELSIUS))
        liquids.append(
            Liquid(name="the third", mass_g=typed.mass_g("other-weight"), density_kg_m3=density)
        )
    elif typed.given("other-density"):
        raise typed.refuse("other-weight", "its density is given, and not how much of it")
    made = emulsion_volume(liquids, typed.shop)
    return Answer(
        says=made.says,
        figures=figures_of(made),
        workings=(made.working,),
        cautions=(SHAKE, AMMONIA),
    )


def _for_area(typed: Typed) -> Answer:
    made = dressing_for_area(
        typed.area_m2("area"),
        typed.shop,
        coats=typed.or_else("coats", typed.count, 2),
        left_l=typed.or_else("left-in-the-bottle", typed.volume_l, 0.0),
    )
    return Answer(
        says=made.says,
        figures=figures_of(made),
        workings=(made.working,),
        cautions=("On a damp skin only, neither wet nor dry; the skin shows when it has enough.",),
    )


_LEFT_L = field(
    "left-in-the-bottle", "Stays in the bottle", "volume", "5 mL", "1/4 fl oz", optional=True
)

DRESSING_SUMS = (
    Sum(
        name="dressing-for-area",
        title="Dressing for a skin",
        purpose="How much dressing a skin of this area takes, and how much each coat.",
        fields=(
            field("area", "Area of the skin", "area", "0.8 m²", "9 sq ft"),
            field("coats", "Coats", "count", "2", usual=True),
            _LEFT_L,
        ),
        work_out=_for_area,
    ),
    Sum(
        name="coats-by-level",
        title="Bottle marks by level",
        purpose="At which height of the bottle each of several equal coats ends.",
        fields=(
            *shape_fields("bottle", bottle=True),
            field("dressing", "Dressing in it", "volume", "237 mL", "8 fl oz"),
            field("coats", "Coats", "count", "2"),
            _LEFT_L,
        ),
        work_out=_by_level,
    ),
    Sum(
        name="coats-by-weight",
        title="Bottle marks by weight",
        purpose="What the bottle weighs when each of several equal coats ends.",
        fields=(
            field("full-bottle", "The bottle, filled", "mass", "290 g", "10 1/4 oz"),
            choice(
                "known",
                "Known besides",
                (("empty", "what it weighs empty"), ("dressing", "what was put in")),
            ),
            field("known-weight", "That weight", "mass", "62 g", "2 1/4 oz"),
            field("coats", "Coats", "count", "2"),
            field("left-in-the-bottle", "Stays in it", "mass", "5 g", "1/4 oz", optional=True),
        ),
        work_out=_by_weight,
        blames={"empty bottle": "known-weight", "dressing": "known-weight"},
    ),
    Sum(
        name="emulsion",
        title="Volume of an emulsion",
        purpose="How much room weighed oil and water fill, to choose the bottle.",
        fields=(
            field("oil-weight", "Oil", "mass", "100 g", "3 1/2 oz"),
            field("oil-density", "Its density", "density", "0.92 kg/L"),
            field("water-weight", "Water", "mass", "100 g", "3 1/2 oz"),
            field("other-weight", "A third liquid", "mass", "28 g", "1 oz", optional=True),
            field("other-density", "Its density", "density", "0.95 kg/L", optional=True),
        ),
        work_out=_emulsion,
        blames={
            "weight of the oil": "oil-weight",
            "density of the oil": "oil-density",
            "weight of the water": "water-weight",
            "weight of the third": "other-weight",
            "density of the third": "other-density",
        },
    ),
)
