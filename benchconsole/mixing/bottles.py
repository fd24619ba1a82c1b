"""Where to stop pouring so that every coat takes the same: by the level, and by the weight.

A bottle that narrows holds more in its lower half, so the mark of the first of two coats is not
at half the height. By weight no form matters; both marks follow what is left in the bottle.
"""

from __future__ import annotations

from benchconsole.errors import BadInput
from benchconsole.mixing.bounds import require_count, require_mass, require_volume
from benchconsole.mixing.dimensions import error_words, length_words
from benchconsole.mixing.scales import COVERAGE, net_by_difference_g, require_scale
from benchconsole.mixing.shapes import EQUATIONS, depth_at
from benchconsole.mixing.working import Working
from benchconsole.model.record import Record
from benchconsole.model.shop import Scale, Shop
from benchconsole.model.vessels import Bottle, Shape
from benchconsole.quantities import format_mass, format_reading, format_volume, round_to_step

LEFT_SOURCE = "left on the walls: as given"


class LevelMark(Record, frozen=True, kw_only=True):
    """Where the level stands once ``coat`` coats are poured: ``left_l`` is still in the bottle.

    ``share`` is that height as a share of the height before the first coat.
    """

    coat: int
    left_l: float
    height_m: float
    share: float
    says: str


class LevelMarks(Record, frozen=True, kw_only=True):
    """All marks of a filled bottle, the first coat's first; it stands at ``full_m`` before."""

    full_m: float
    coat_l: float
    marks: tuple[LevelMark, ...]
    says: str
    working: Working


class WeightMark(Record, frozen=True, kw_only=True):
    """What the bottle weighs once ``coat`` coats are poured; ``reading_g`` as the scale shows."""

    coat: int
    stop_g: float
    reading_g: float
    says: str


class WeightMarks(Record, frozen=True, kw_only=True):
    """All marks by weight of a filled bottle; ``error_g`` is the doubt of a coat, k = 2."""

    full_g: float
    tare_g: float
    coat_g: float
    error_g: float
    marks: tuple[WeightMark, ...]
    says: str
    working: Working


def level_marks(
    bottle: Bottle, volume_l: float, coats: int, shop: Shop, *, left_l: float = 0.0
) -> LevelMarks:
    """The heights to stop at when ``volume_l`` is poured out in so many equal coats.

    ``left_l`` never leaves the bottle's walls, so only the rest is shared. Raises ``BadInput``
    for a bottle without measures, one too small, or a loss that is all there is.
    """
    require_volume("dressing", volume_l, example="237 mL")
    require_count("coats", coats)
    shape = _inside(bottle)
    _require_left("left in the bottle", left_l, volume_l, "L", "5 mL")
    full_m = depth_at(shape, volume_l, field="dressing", measures=shop.measures)
    coat_l = (volume_l - left_l) / coats
    marks = []
    for coat in range(1, coats + 1):
        left = left_l + coat_l * (coats - coat)
        height = depth_at(shape, left)
        words = length_words(height, shop.measures)
        says = (
            f"Coat {coat} of {coats}: pour until it stands at {words}, "
            f"{100 * height / full_m:.0f} % of the height it began with."
            if left > 0.0
            else f"Coat {coat} of {coats}: pour out the rest."
        )
        share = height / full_m
        marks.append(LevelMark(coat=coat, left_l=left, height_m=height, share=share, says=says))
    each = format_volume(coat_l, measures=shop.measures)
    first = marks[0]
    return LevelMarks(
        full_m=full_m,
        coat_l=coat_l,
        marks=tuple(marks),
        says=f"{bottle.name} stands at {length_words(full_m, shop.measures)}; each of {coats} "
        f"coats takes {each}, the first down to {length_words(first.height_m, shop.measures)}."
        if coats > 1
        else f"{bottle.name} stands at {length_words(full_m, shop.measures)}; one coat takes it.",
        working=_level_working(bottle, shape, (volume_l, left_l, coat_l), coats, first),
    )


def weight_marks(
    bottle: Bottle,
    coats: int,
    shop: Shop,
    *,
    full_g: float | None = None,
    dressing_g: float | None = None,
    left_g: float = 0.0,
) -> WeightMarks:
    """What the bottle weighs at the end of each of so many equal coats.

    Two of three must be known: the bottle's empty weight (``bottle.tare_g``), its weight filled
    (``full_g``), and what was put in (``dressing_g``). ``left_g`` stays on the walls. Raises
    ``BadInput`` when two are not known, three disagree, or the scale cannot carry the bottle.
    """
    require_count("coats", coats)
    require_scale(shop.scale)
    full, tare = _weights(bottle.tare_g, full_g, dressing_g, shop)
    _require_left("left in the bottle", left_g, full - tare, "g", "5 g")
    coat_g = (full - tare - left_g) / coats
    marks = tuple(
        _weight_mark(coat, coats, tare + left_g + coat_g * (coats - coat), shop.scale)
        for coat in range(1, coats + 1)
    )
    error = COVERAGE * net_by_difference_g(shop.scale.step_g)
    each = format_mass(coat_g, measures=shop.measures, step_g=shop.scale.step_g)
    return WeightMarks(
        full_g=full,
        tare_g=tare,
        coat_g=coat_g,
        error_g=error,
        marks=marks,
        says=f"Each of {coats} coats takes {each}; the first ends when {bottle.name} weighs "
        f"{_reading(marks[0].reading_g, shop.scale)}."
        if coats > 1
        else f"One coat takes all {each} of it.",
        working=_weight_working(bottle, (full, tare, left_g, coat_g), coats, error, shop),
    )


def _inside(bottle: Bottle) -> Shape:
    if bottle.shape is None:
        fault = f"{bottle.name} has no measured inside, so a level says nothing"
        raise BadInput("bottle", fault, "5 cm = 120 mL, 10 cm = 220 mL, or halve it by weight")
    return bottle.shape


def _require_left(field: str, left: float, all_of_it: float, unit: str, example: str) -> None:
    """What stays on the walls is less than all there is; asked so that no number is refused."""
    if not 0.0 <= left < all_of_it:
        fault = f"it must be from 0 to less than the {all_of_it:.3g} {unit} there is"
        raise BadInput(field, fault, example)


def _weights(
    tare_g: float | None, full_g: float | None, dressing_g: float | None, shop: Shop
) -> tuple[float, float]:
    """Full and empty weight from any two of the three, within what the scale carries."""
    _require_two(tare_g, full_g, dressing_g)
    if tare_g is None:
        full, tare = full_g or 0.0, (full_g or 0.0) - (dressing_g or 0.0)
    else:
        full = tare_g + (dressing_g or 0.0) if full_g is None else full_g
        tare = tare_g
    if full <= tare or tare <= 0.0:
        raise BadInput("full bottle", "it must weigh more than it does empty", "350 g")
    step_g = shop.scale.step_g
    allowed = COVERAGE * net_by_difference_g(step_g) + step_g
    if dressing_g is not None and abs(full - tare - dressing_g) > allowed:
        leaves, said, wanted = (
            format_mass(grams, measures=shop.measures, step_g=step_g)
            for grams in (full - tare, dressing_g, tare + dressing_g)
        )
        fault = f"less the empty bottle it leaves {leaves}, and {said} is said to be in it"
        raise BadInput("full bottle", fault, wanted)
    if full > shop.scale.capacity_g:
        most = format_mass(shop.scale.capacity_g, measures=shop.measures, step_g=step_g)
        raise BadInput("full bottle", f"it weighs more than the scale carries ({most})", most)
    return full, tare


def _require_two(tare_g: float | None, full_g: float | None, dressing_g: float | None) -> None:
    weights = (("empty bottle", tare_g), ("full bottle", full_g), ("dressing", dressing_g))
    for field, grams in weights:
        if grams is not None:
            require_mass(field, grams, example="350 g")
    if sum(grams is not None for _, grams in weights) < 2:
        known = "empty bottle" if tare_g is None else "full bottle"
        fault = "two weights of three are needed: empty, full, and what was put in"
        raise BadInput(known, fault, "350 g")


def _weight_mark(coat: int, coats: int, stop_g: float, scale: Scale) -> WeightMark:
    reading = round_to_step(stop_g, scale.step_g)
    return WeightMark(
        coat=coat,
        stop_g=stop_g,
        reading_g=reading,
        says=f"Coat {coat} of {coats}: stop when the bottle weighs {_reading(reading, scale)}.",
    )


def _reading(grams: float, scale: Scale) -> str:
    return format_reading(grams, step_g=scale.step_g, unit=scale.shows)


def _level_working(
    bottle: Bottle, shape: Shape, litres: tuple[float, float, float], coats: int, first: LevelMark
) -> Working:
    volume, left, coat = (1000.0 * each for each in litres)
    return Working(
        title=f"Coats from {bottle.name} by level",
        inputs=(
            ("dressing", f"{volume:.1f} mL"),
            ("left on the walls", f"{left:.1f} mL"),
            ("coats", str(coats)),
        ),
        equation="left after coat k = on the walls + (all − on the walls) × (coats − k) ÷ coats; "
        f"height by {EQUATIONS[type(shape)]}",
        result=f"{coat:.1f} mL each, the first down to {100 * first.height_m:.2f} cm",
        source=LEFT_SOURCE,
        sure="as sure as the measures of the bottle; shake an emulsion before each coat, and trust "
        "the weight before the level",
    )


def _weight_working(
    bottle: Bottle, grams: tuple[float, float, float, float], coats: int, error_g: float, shop: Shop
) -> Working:
    full, tare, left, coat = grams
    stop = tare + left + coat * (coats - 1)
    return Working(
        title=f"Coats from {bottle.name} by weight",
        inputs=(
            ("filled", f"{full:.1f} g"),
            ("empty", f"{tare:.1f} g"),
            ("left on the walls", f"{left:.1f} g"),
            ("coats", str(coats)),
        ),
        equation="stop at = empty + left + (filled − empty − left) × (coats − k) ÷ coats",
        result=f"{coat:.1f} g each, the first down to {stop:.1f} g",
        source=LEFT_SOURCE,
        sure=f"a coat is weighed to ±{error_words(error_g, shop.measures)} "
        f"({100 * error_g / coat:.1f} % of it), rounding of the display only",
    )
