"""Two brines brought together, and how much of each makes a strength wanted, by what they weigh."""

from __future__ import annotations

from benchconsole.chemistry import STRONGEST_BRINE, brine_density
from benchconsole.errors import BadInput
from benchconsole.mixing.bounds import require_volume
from benchconsole.mixing.brines import (
    BRINE_SOURCE,
    BRINE_SURE,
    Brine,
    require_brine,
    require_brine_celsius,
    require_share,
)
from benchconsole.mixing.working import Working
from benchconsole.model.record import Record
from benchconsole.model.shop import Shop
from benchconsole.quantities import format_strength, format_volume


class Blend(Record, frozen=True, kw_only=True):
    """``made`` from ``one`` and ``other``; the weights of water and of salt are theirs, added."""

    one: Brine
    other: Brine
    made: Brine
    says: str
    working: Working


def blend(one: Brine, other: Brine, shop: Shop) -> Blend:
    """What comes of pouring two brines together.

    The temperature is the mean by weight, which takes both to hold heat alike (a brine of 20 %
    holds a fifth less than water, from memory, so up to 2.5 °C off for a hot and a cold one).
    Raises ``BadInput`` for a brine the density law does not cover.
    """
    for each in (one, other):
        require_brine("brine", each, zero=True)
    require_volume("brine", one.volume_l + other.volume_l)
    mass = one.mass_g + other.mass_g
    # A sum of shares can land one bit outside the two it lies between.
    share = min((one.salt_g + other.salt_g) / mass, STRONGEST_BRINE)
    celsius = one.celsius + (other.celsius - one.celsius) * other.mass_g / mass
    made = Brine(volume_l=mass / brine_density(share, celsius), salt_share=share, celsius=celsius)
    return _blend(one, other, made, shop)


def blend_to(
    strong_share: float,
    weak_share: float,
    wanted_share: float,
    volume_l: float,
    celsius: float,
    shop: Shop,
) -> Blend:
    """How much of a strong and a weak brine (or water, 0) makes ``volume_l`` litres as wanted.

    Shares are grams of salt per gram; all at ``celsius`` (0 to 40). Raises ``BadInput`` for a
    strength that does not lie between the two.
    """
    require_brine_celsius(celsius)
    require_volume("volume", volume_l)
    require_share("strength of the strong brine", strong_share)
    require_share("strength of the weak brine", weak_share)
    if not weak_share < strong_share:
        raise BadInput("strength of the strong brine", "it must be above the weak one", "0.264")
    if not weak_share <= wanted_share <= strong_share:
        fault = f"it must lie between the two, {weak_share:g} and {strong_share:g} g/g"
        raise BadInput("strength wanted", fault, f"{(weak_share + strong_share) / 2.0:.3g}")
    mass = volume_l * brine_density(wanted_share, celsius)
    strong_g = mass * (wanted_share - weak_share) / (strong_share - weak_share)
    strong, weak = (
        Brine(volume_l=grams / brine_density(share, celsius), salt_share=share, celsius=celsius)
        for grams, share in ((strong_g, strong_share), (mass - strong_g, weak_share))
    )
    made = Brine(volume_l=volume_l, salt_share=wanted_share, celsius=celsius)
    return _blend(strong, weak, made, shop)


def _blend(one: Brine, other: Brine, made: Brine, shop: Shop) -> Blend:
    first, second, both = (
        format_volume(each.volume_l, measures=shop.measures)
        + (f" at {format_strength(each.g_per_l)}" if each.salt_share > 0.0 else " of plain water")
        for each in (one, other, made)
    )
    return Blend(
        one=one,
        other=other,
        made=made,
        says=f"{first} and {second} make {both}.",
        working=Working(
            title="Blending two brines",
            inputs=tuple(
                (
                    name,
                    f"{each.volume_l:.3f} L, {100.0 * each.salt_share:.3f} % salt, "
                    f"{each.density_kg_m3:.1f} kg/m³, {each.celsius:.1f} °C",
                )
                for name, each in (("the first", one), ("the second", other))
            ),
            equation="mass and salt are sums; share = salt ÷ mass; volume = mass ÷ density",
            result=f"{made.volume_l:.3f} L, {100.0 * made.salt_share:.3f} % salt, "
            f"{made.density_kg_m3:.1f} kg/m³",
            source=BRINE_SOURCE,
            sure=f"weights are conserved exactly, the volume follows from density; {BRINE_SURE}",
        ),
    )
