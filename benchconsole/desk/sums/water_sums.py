"""Sums on water, rinses and refills."""

from __future__ import annotations

from benchconsole.chemistry import brine_density, water_density
from benchconsole.chemistry.hydrometer import SCALE_CELSIUS
from benchconsole.desk.sums.fields import ROOM_CELSIUS, field, volume_words
from benchconsole.desk.sums.figures import figures_of
from benchconsole.desk.sums.records import Answer, Sum
from benchconsole.desk.sums.typed import Typed
from benchconsole.mixing.brines import salt_share
from benchconsole.mixing.replacing import carried_off, refill
from benchconsole.mixing.rinsing import RINSE_SALT_G_PER_L, rinse_salt, rinses_needed, rinsing
from benchconsole.mixing.warm_water import HotAndCold, hot_to_add, water_at
from benchconsole.quantities import format_strength

REFILL_CAUTION = "A used bath has lost strength to the hides: take a spindle reading first."
HOT_CAUTION = "Measure before the skin goes in: water too warm to hold a hand in spoils it."


def _of_water(mixed: HotAndCold) -> Answer:
    return Answer(
        says=mixed.says,
        figures=figures_of(mixed),
        workings=(mixed.working,),
        cautions=(HOT_CAUTION,),
    )


def _water(typed: Typed) -> Answer:
    return _of_water(
        water_at(
            typed.celsius("temperature-wanted"),
            typed.volume_l("volume"),
            typed.celsius("hot-water"),
            typed.celsius("cold-water"),
            typed.shop,
        )
    )


def _warming(typed: Typed) -> Answer:
    return _of_water(
        hot_to_add(
            typed.celsius("temperature-wanted"),
            typed.volume_l("volume"),
            typed.celsius("hot-water"),
            typed.celsius("cold-water"),
            typed.shop,
        )
    )


def _refill(typed: Typed) -> Answer:
    more = refill(
        typed.volume_l("shortfall"), typed.or_else("strengths", typed.strengths, ()), typed.shop
    )
    return Answer(
        says=more.says,
        figures=figures_of(more),
        workings=(more.working,),
        cautions=(REFILL_CAUTION,),
    )


def _carried(typed: Typed) -> Answer:
    density = water_density(ROOM_CELSIUS)
    counted: tuple[str, ...] = ("The liquor is counted as heavy as water.",)
    if typed.given("spindle"):
        density = brine_density(
            salt_share(*typed.brine_strength("spindle"), SCALE_CELSIUS), SCALE_CELSIUS
        )
        counted = ()
    lost = carried_off(
        typed.mass_g("hide-weight"),
        typed.percent("liquor-carried") / 100.0,
        density,
        typed.or_else("strengths", typed.strengths, ()),
        typed.shop,
    )
    return Answer(
        says=lost.says,
        figures=figures_of(lost),
        lines=counted,
        workings=(lost.working, lost.refill.working),
        cautions=(REFILL_CAUTION,),
    )


def _rinses(typed: Typed) -> Answer:
    held, strength = typed.volume_l("liquor-held"), typed.grams_per_litre("strength")
    water, wanted = typed.volume_l("water"), typed.grams_per_litre("strength-wanted")
    result = rinses_needed(held, strength, water, wanted, typed.shop)
    says = result.says
    lines = [f"{result.rinses} × fresh water, {volume_words(result.water_l, typed.shop)} in all."]
    if not result.rinses:
        says = f"It is weak enough already: {format_strength(strength)}, and no more than "
        says += f"{format_strength(wanted)} is wanted."
        lines = []
    workings = [result.working]
    if typed.given("rinses"):
        tried = rinsing(held, strength, water, typed.count("rinses"), typed.shop)
        lines.append(tried.says)
        workings.append(tried.working)
    return Answer(
        says=says,
        figures=figures_of(result),
        lines=tuple(lines),
        workings=tuple(workings),
        cautions=("An acid skin swells in plain water: its rinses want salt.",),
    )


def _rinse_salt(typed: Typed) -> Answer:
    strength = typed.or_else("salt-strength", typed.grams_per_litre, RINSE_SALT_G_PER_L)
    dose = rinse_salt(typed.volume_l("rinse-water"), typed.shop, g_per_l=strength)
    return Answer(says=dose.says, figures=figures_of(dose), workings=(dose.working,))


_HOT_AND_COLD = (
    field("temperature-wanted", "Temperature wanted", "temperature", "35 °C", "95 °F"),
    field("hot-water", "The hot water is at", "temperature", "60 °C", "140 °F"),
    field("cold-water", "The cold water is at", "temperature", "12 °C", "54 °F"),
)
_STRENGTHS = field(
    "strengths", "What is in a litre of it", "strengths", "salt 60 g/L; alum 30 g/L", optional=True
)

WATER_SUMS = (
    Sum(
        name="hot-and-cold",
        title="Water at a temperature",
        purpose="How much hot and how much cold water make the temperature wanted.",
        fields=(
            *_HOT_AND_COLD,
            field("volume", "Volume wanted", "volume", "20 L", "5 gal"),
        ),
        work_out=_water,
    ),
    Sum(
        name="warm-up",
        title="Warm up a tub",
        purpose="How much hot water brings a tub of cold water to the temperature wanted.",
        fields=(
            *_HOT_AND_COLD,
            field("volume", "Cold water in the tub", "volume", "20 L", "5 gal"),
        ),
        work_out=_warming,
        blames={"cold water": "volume"},
    ),
    Sum(
        name="refill",
        title="Refill in the same strength",
        purpose="What to make when so much liquor is short, in whole jugs and the same strength.",
        fields=(field("shortfall", "Liquor short", "volume", "3 L", "3 qt"), _STRENGTHS),
        work_out=_refill,
    ),
    Sum(
        name="carried-off",
        title="Liquor a lifted hide took along",
        purpose="How much liquor a drained hide carries out of the tub, and what replaces it.",
        fields=(
            field("hide-weight", "The hide, wet and drained", "mass", "3.2 kg", "7 lb"),
            field("liquor-carried", "Of that is liquor (50 to 70 %)", "percent", "60 %"),
            _STRENGTHS,
            field("spindle", "Its spindle reading", "brine", "38 salometer", optional=True),
        ),
        work_out=_carried,
        blames={"hydrometer reading": "spindle", "strength": "spindle"},
    ),
    Sum(
        name="rinses",
        title="Rinses that take out salt",
        purpose="How many rinses bring the salt in a skin down, or what so many leave in it.",
        fields=(
            field("liquor-held", "Liquor the drained skin holds", "volume", "1 L", "1 qt"),
            field("strength", "Strength of that liquor", "strength", "120 g/L", "1 lb/gal"),
            field("water", "Fresh water each time", "volume", "9 L", "9 qt"),
            field("strength-wanted", "Come down to", "strength", "5 g/L", "1 oz/gal"),
            field("rinses", "Or: what so many leave", "count", "3", optional=True),
        ),
        work_out=_rinses,
        blames={
            "strength of the liquor held": "strength",
            "water for each rinse": "water",
            "strength to come down to": "strength-wanted",
        },
    ),
    Sum(
        name="rinse-salt",
        title="Salt for the rinse of an acid skin",
        purpose="Salt that a rinse needs so that an acid skin does not swell in it.",
        fields=(
            field("rinse-water", "Rinse water", "volume", "40 L", "10 gal"),
            field(
                "salt-strength",
                "Salt in it",
                "strength",
                "30 g/L",
                "4 oz/gal",
                usual=True,
            ),
        ),
        work_out=_rinse_salt,
        blames={"salt in the rinse": "salt-strength"},
    ),
)
