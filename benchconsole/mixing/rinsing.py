"""Rinsing salt out of a skin, and the salt that a rinse of an acid skin needs."""

from __future__ import annotations

import math

from benchconsole.errors import BadInput
from benchconsole.mixing.bounds import require_between, require_volume
from benchconsole.mixing.working import Working, percent_words, plain
from benchconsole.model.record import Record
from benchconsole.model.shop import Shop
from benchconsole.quantities import format_mass, format_strength, format_volume

RINSE_SALT_G_PER_L = 30.0
"""4 oz to the US gallon, so that an acid skin does not swell in its rinse (public question and
answer pages, 1999 to 2022; no measurement behind it)."""

MOST_RINSES = 50
"""Past so many, running water or a longer soak is meant, not a count of rinses.

Our own choice, no source."""


class Rinsing(Record, frozen=True, kw_only=True):
    """``rinses`` fresh waters, each left until the skin's own liquor is as strong as the bath.

    ``left_share`` is the salt left in the skin as a share of what it held, ``salt_left_g`` the
    same in grams and ``left_g_per_l`` the strength of the liquor it holds at the end.
    """

    rinses: int
    float_ratio: float
    left_share: float
    left_g_per_l: float
    salt_left_g: float
    water_l: float
    says: str
    working: Working


class RinseSalt(Record, frozen=True, kw_only=True):
    """Salt for one rinse of an acid skin."""

    volume_l: float
    salt_g: float
    says: str
    working: Working


def rinsing(held_l: float, g_per_l: float, water_l: float, rinses: int, shop: Shop) -> Rinsing:
    """What is left after so many rinses.

    ``held_l`` is the liquor the drained skin holds, ``g_per_l`` its strength, ``water_l`` the
    fresh water of each rinse. Each leaves ``1 ÷ (1 + float)``, float being water over held.
    Raises ``BadInput`` for amounts that are none and for more rinses than ``MOST_RINSES``.
    """
    require_volume("liquor held", held_l, example="1 L")
    require_between(
        "strength of the liquor held", g_per_l, 0.0, 2000.0, "between 0 and 2000 g/L", "120 g/L"
    )
    require_volume("water for each rinse", water_l, example="9 L")
    require_between("rinses", rinses, 0, MOST_RINSES, f"from 0 to {MOST_RINSES}", "3")
    ratio = water_l / held_l
    left = (1.0 + ratio) ** -rinses
    rinse, leave = ("rinse", "leaves") if rinses == 1 else ("rinses", "leave")
    waters = f"{rinses} {rinse} of {format_volume(water_l, measures=shop.measures)}"
    return Rinsing(
        rinses=rinses,
        float_ratio=ratio,
        left_share=left,
        left_g_per_l=g_per_l * left,
        salt_left_g=g_per_l * held_l * left,
        water_l=water_l * rinses,
        says=f"{waters} {leave} {percent_words(left, 2)} of the salt: the skin then holds "
        f"liquor of {format_strength(g_per_l * left)}.",
        working=_rinsing_working(held_l, g_per_l, water_l, rinses, left),
    )


def _rinsing_working(
    held_l: float, g_per_l: float, water_l: float, rinses: int, left: float
) -> Working:
    return Working(
        title="Rinsing out salt",
        inputs=(
            ("liquor the drained skin holds", f"{held_l:.3f} L at {g_per_l:g} g/L"),
            ("fresh water each time", f"{water_l:.3f} L"),
            ("float", f"{plain(water_l / held_l)} litres for each litre held"),
            ("rinses", str(rinses)),
        ),
        equation="left = (1 ÷ (1 + float)) ^ rinses",
        result=f"{plain(100.0 * left)} %, {g_per_l * held_l * left:.2f} g of salt",
        source="conservation of salt; no measurement behind it",
        sure="the best that can be: it takes each rinse to stand and be stirred until skin and "
        "bath are equally strong, and the skin to drain alike every time",
    )


def rinses_needed(
    held_l: float, g_per_l: float, water_l: float, wanted_g_per_l: float, shop: Shop
) -> Rinsing:
    """The fewest rinses that bring the liquor in the skin down to ``wanted_g_per_l``.

    Otherwise as :func:`rinsing`. Raises ``BadInput`` where more than ``MOST_RINSES`` would do it.
    """
    start = rinsing(held_l, g_per_l, water_l, 0, shop)
    require_between(
        "strength to come down to", wanted_g_per_l, 1e-6, 2000.0, "between 0 and 2000 g/L", "5 g/L"
    )
    if wanted_g_per_l >= g_per_l:
        return start
    exact = math.log(g_per_l / wanted_g_per_l) / math.log1p(start.float_ratio)
    # Not one rinse more for the last bit of a logarithm.
    count = math.ceil(exact - 1e-9)
    if count > MOST_RINSES:
        fault = f"{count} rinses would be needed with so little"
        raise BadInput("water for each rinse", fault, format_volume(held_l, measures="metric"))
    return rinsing(held_l, g_per_l, water_l, count, shop)


def rinse_salt(volume_l: float, shop: Shop, *, g_per_l: float = RINSE_SALT_G_PER_L) -> RinseSalt:
    """Salt for ``volume_l`` litres of rinse water, so that an acid skin does not swell in it.

    Raises ``BadInput`` for no volume or a strength outside 10 to 120 g/L.
    """
    require_volume("rinse water", volume_l, example="40 L")
    require_between("salt in the rinse", g_per_l, 10.0, 120.0, "from 10 to 120 g/L", "30 g/L")
    grams = volume_l * g_per_l
    water = format_volume(volume_l, measures=shop.measures)
    salt = format_mass(grams, measures=shop.measures, step_g=shop.scale.step_g)
    return RinseSalt(
        volume_l=volume_l,
        salt_g=grams,
        says=f"Dissolve {salt} of salt in {water} of water before an acid skin goes in, or it "
        "swells and turns rubbery.",
        working=Working(
            title="Salt for the rinse",
            inputs=(("rinse water", f"{volume_l:.2f} L"), ("salt", f"{g_per_l:g} g/L")),
            equation="salt = water × strength",
            result=f"{grams:.0f} g",
            source="public question and answer pages, 1999 to 2022: 30 g/L (4 oz to the US gallon)",
            sure="common practice; a skin already swollen is put back into 120 g/L instead",
        ),
    )
