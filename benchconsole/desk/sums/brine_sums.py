"""Sums on brine: what a spindle says, and how to come to the strength wanted."""

from __future__ import annotations

from benchconsole.chemistry import HydrometerScale
from benchconsole.chemistry.hydrometer import SCALE_CELSIUS
from benchconsole.desk.sums.fields import bath_celsius, field, mass_words, tub_is_full
from benchconsole.desk.sums.figures import figures_of
from benchconsole.desk.sums.records import Answer, Sum
from benchconsole.desk.sums.typed import Typed
from benchconsole.errors import BadInput
from benchconsole.mixing.blends import blend, blend_to
from benchconsole.mixing.brines import (
    Brine,
    BrineStrength,
    StrengthMeasure,
    brine_strength,
    require_brine_celsius,
    salometer_words,
    salt_share,
)
from benchconsole.mixing.corrections import Correction, correct, dilute, strengthen

SPINDLE_CAUTION = (
    "A spindle feels everything dissolved: in a used liquor, or one with alum, it reads too high."
)


def _share(typed: Typed, field_id: str, celsius: float) -> float:
    """Grams of salt in a gram, of a strength that is there: degrees as the spindle shows them."""
    try:
        return salt_share(*typed.brine_strength(field_id), celsius)
    except BadInput as refusal:
        raise typed.at(field_id, refusal, ("strength", "hydrometer reading")) from None


def _wanted(typed: Typed, celsius: float, field_id: str = "strength-wanted") -> float:
    """The same of a strength that a book states: its degrees are those at 60 °F."""
    measure, _ = typed.brine_strength(field_id)
    by_spindle = isinstance(measure, HydrometerScale)
    return _share(typed, field_id, SCALE_CELSIUS if by_spindle else celsius)


def _found(typed: Typed, celsius: float) -> Brine:
    share = _share(typed, "strength", celsius)
    return Brine(volume_l=typed.volume_l("volume"), salt_share=share, celsius=celsius)


def _full(typed: Typed) -> bool:
    return typed.or_else("tub", typed.choice, "room") == "full"


def _measures_of(strength: BrineStrength) -> str:
    true, shows = strength.degrees, strength.shows
    return (
        f"By the book, at 60 °F: {salometer_words(true)}, SG {true.specific_gravity:.3f}, "
        f"{true.barkometer:.0f} barkometer, {true.twaddell:.1f} °Tw. In this brine as it is a "
        f"spindle shows SG {shows.specific_gravity:.3f}."
    )


def _by_spindle(typed: Typed) -> Answer:
    celsius, shop = typed.celsius("temperature"), typed.shop
    strength = brine_strength(*typed.brine_strength("strength"), celsius, shop)
    lines = [
        _measures_of(strength),
        f"{strength.g_per_100g_water:.3g} g of salt to 100 g of water.",
    ]
    workings = [strength.working]
    figures = figures_of(strength)
    if typed.given("volume"):
        there = _found(typed, celsius)
        lines.append(f"There are {mass_words(there.salt_g, shop)} of salt in it.")
        if typed.given("strength-wanted"):
            wanted = _wanted(typed, celsius)
            change = correct(there, wanted, shop, keep_volume=_full(typed))
            lines.append(change.says)
            workings.insert(0, change.working)
            figures += figures_of(change, of="corrected")
    elif typed.given("strength-wanted"):
        raise typed.refuse("volume", "without it nobody can say how much salt or water to add")
    return Answer(
        says=strength.says,
        figures=figures,
        lines=tuple(lines),
        workings=tuple(workings),
        cautions=(SPINDLE_CAUTION,),
    )


def _corrected(change: Correction, *lines: str) -> Answer:
    return Answer(
        says=change.says,
        figures=figures_of(change),
        lines=lines,
        workings=(change.working,),
        cautions=(SPINDLE_CAUTION,),
    )


def _to_strength(typed: Typed) -> Answer:
    celsius = typed.celsius("temperature")
    there, wanted = _found(typed, celsius), _wanted(typed, celsius)
    full = _full(typed)
    if wanted < there.salt_share:
        idle = ("It is too strong already, so the strong brine stays out.",)
        thinner = dilute(there, wanted, typed.shop, keep_volume=full)
        return _corrected(thinner, *(idle if typed.given("stock") else ()))
    stock = typed.or_none("stock", lambda name: _wanted(typed, celsius, name))
    return _corrected(strengthen(there, wanted, typed.shop, stock_share=stock, keep_volume=full))


def _blended(typed: Typed) -> Answer:
    one, other = (_one_of_two(typed, which) for which in ("first", "second"))
    try:
        mixed = blend(one, other, typed.shop)
    except BadInput as refusal:
        # Each was read within bounds: it is the larger that makes it too much.
        larger = "first-volume" if one.volume_l >= other.volume_l else "second-volume"
        raise typed.at(larger, refusal, ("brine",)) from None
    return Answer(
        says=mixed.says,
        figures=figures_of(mixed),
        lines=(_made(mixed.made, typed),),
        workings=(mixed.working,),
    )


def _one_of_two(typed: Typed, which: str) -> Brine:
    celsius = typed.celsius(f"{which}-temperature")
    try:
        require_brine_celsius(celsius)
    except BadInput as refusal:
        raise typed.at(f"{which}-temperature", refusal, ("brine temperature",)) from None
    return Brine(
        volume_l=typed.volume_l(f"{which}-volume"),
        salt_share=_share(typed, f"{which}-strength", celsius),
        celsius=celsius,
    )


def _made(made: Brine, typed: Typed) -> str:
    percent = 100.0 * made.salt_share
    return brine_strength(StrengthMeasure.PERCENT, percent, made.celsius, typed.shop).says


def _of_two(typed: Typed) -> Answer:
    celsius = typed.celsius("temperature")
    strong, weak, wanted = (
        _wanted(typed, celsius, name) if typed.given(name) else 0.0
        for name in ("strong", "weak", "strength-wanted")
    )
    if weak >= strong:
        raise typed.refuse("strong", "it must be stronger than the weak one")
    if not weak <= wanted <= strong:
        fault = f"it must lie between the two, {100 * weak:.3g} and {100 * strong:.3g} % salt"
        raise typed.refuse("strength-wanted", fault)
    mixed = blend_to(strong, weak, wanted, typed.volume_l("volume"), celsius, typed.shop)
    return Answer(
        says=mixed.says,
        figures=figures_of(mixed),
        lines=(_made(mixed.made, typed),),
        workings=(mixed.working,),
    )


_BLAMES = {
    "brine temperature": "temperature",
    "liquor temperature": "temperature",
    "hydrometer reading": "strength",
    "strength of the strong brine": "strong",
    "strength of the weak brine": "weak",
    "brine": "volume",
    "strength of the brine": "strength",
    "strength of the stock": "stock",
}

BRINE_SUMS = (
    Sum(
        name="spindle",
        title="Brine by spindle",
        purpose="How strong a brine is by its spindle and temperature, and what brings it back.",
        fields=(
            field("strength", "Spindle reading, or a strength", "brine", "38 salometer"),
            bath_celsius(),
            field("volume", "Volume of the brine", "volume", "40 L", "10 gal", optional=True),
            field("strength-wanted", "Strength wanted", "brine", "45 salometer", optional=True),
            tub_is_full(),
        ),
        work_out=_by_spindle,
        blames=_BLAMES,
    ),
    Sum(
        name="brine-to-strength",
        title="Strengthen or thin a brine",
        purpose="How much salt, strong brine or water brings a brine to the strength wanted.",
        fields=(
            field("volume", "Volume of the brine", "volume", "40 L", "10 gal"),
            field("strength", "Its strength now", "brine", "80 g/L", "1/2 lb/gal"),
            bath_celsius(),
            field("strength-wanted", "Strength wanted", "brine", "120 g/L", "1 lb/gal"),
            field("stock", "Strong brine to add, not salt", "brine", "24 %", optional=True),
            tub_is_full(),
        ),
        work_out=_to_strength,
        blames=_BLAMES,
    ),
    Sum(
        name="blend",
        title="Blend two brines",
        purpose="What two brines make when one is poured into the other.",
        fields=tuple(
            each
            for which, litres, gallons, strength in (
                ("first", "20 L", "5 gal", "24 %"),
                ("second", "30 L", "8 gal", "5 %"),
            )
            for each in (
                field(f"{which}-volume", f"The {which}: volume", "volume", litres, gallons),
                field(f"{which}-strength", f"The {which}: strength", "brine", strength),
                field(
                    f"{which}-temperature",
                    f"The {which}: temperature",
                    "temperature",
                    "18 °C",
                    "64 °F",
                ),
            )
        ),
        work_out=_blended,
    ),
    Sum(
        name="brine-from-two",
        title="A strength from two brines",
        purpose="How much of a strong and a weak brine, or of water, makes the strength wanted.",
        fields=(
            field("volume", "Volume wanted", "volume", "40 L", "10 gal"),
            field("strength-wanted", "Strength wanted", "brine", "12 %"),
            field("strong", "The strong brine", "brine", "24 %"),
            field("weak", "The weak one (none: water)", "brine", "3 %", optional=True),
            bath_celsius(),
        ),
        work_out=_of_two,
        blames=_BLAMES,
    ),
)
