"""Bring a measured brine back to strength: salt, water or strong stock to add, by what it weighs.

Weights are conserved and volumes are not: 10 L of brine and 1 kg of salt are 10.4 L, not 10 L.
With ``a`` the salt share of what is added (1 for dry salt, 0 for water), ``w`` of the brine and
``t`` the share wanted, the grams to add to a mass ``m`` are ``m × (t − w) ÷ (a − t)``.
"""

from __future__ import annotations

from typing import Literal

from benchconsole.chemistry import STRONGEST_BRINE, brine_density
from benchconsole.errors import BadInput
from benchconsole.mixing.brines import (
    BRINE_SOURCE,
    BRINE_SURE,
    Brine,
    SpindleDegrees,
    require_brine,
    require_share,
    salometer_words,
    spindle_degrees,
)
from benchconsole.mixing.working import Working, percent_words
from benchconsole.model.record import Record
from benchconsole.model.shop import Shop
from benchconsole.quantities import (
    format_mass,
    format_strength,
    format_temperature,
    format_volume,
)

Additive = Literal["salt", "water", "stock", "nothing"]

SAME_STRENGTH = 1e-6
"""A salt share within a millionth of the one wanted asks for nothing: no scale shows it.

Our own choice, no source."""


class Correction(Record, frozen=True, kw_only=True):
    """What to add to a brine, once ``draw_off_l`` of it is taken out, to have ``after``.

    ``add_l`` is the volume of the water or stock to add, None for dry salt; ``spindle`` is what
    60/60 °F spindles show in ``after`` as it is.
    """

    after: Brine
    add: Additive
    add_g: float
    add_l: float | None
    draw_off_l: float
    spindle: SpindleDegrees
    says: str
    working: Working


def strengthen(
    weak: Brine,
    wanted_share: float,
    shop: Shop,
    *,
    stock_share: float | None = None,
    keep_volume: bool = False,
) -> Correction:
    """Dry salt, or with ``stock_share`` a strong brine, that brings ``weak`` up to strength.

    With ``keep_volume`` the tub is full: so much is drawn off first that the volume ends as it
    began. Raises ``BadInput`` for a strength below the one there is or not below the stock's.
    """
    _checked(weak, wanted_share)
    if wanted_share < weak.salt_share - SAME_STRENGTH:
        raise BadInput("strength wanted", _beyond("below", weak), _by_weight(STRONGEST_BRINE))
    if stock_share is None:
        return _correction(weak, wanted_share, "salt", 1.0, shop, keep_volume=keep_volume)
    require_share("strength of the stock", stock_share)
    if stock_share <= wanted_share:
        fault = f"it must be above the {_by_weight(wanted_share)} wanted"
        raise BadInput("strength of the stock", fault, _by_weight(STRONGEST_BRINE))
    return _correction(weak, wanted_share, "stock", stock_share, shop, keep_volume=keep_volume)


def dilute(
    strong: Brine, wanted_share: float, shop: Shop, *, keep_volume: bool = False
) -> Correction:
    """Water that brings ``strong`` down to strength; ``keep_volume`` as in :func:`strengthen`.

    Raises ``BadInput`` for a strength above the one there is, or for none at all.
    """
    _checked(strong, wanted_share)
    if wanted_share <= 0.0:
        raise BadInput("strength wanted", "no water thins a brine to none", "5 % w/w")
    if wanted_share > strong.salt_share + SAME_STRENGTH:
        raise BadInput(
            "strength wanted", _beyond("above", strong), _by_weight(strong.salt_share / 2)
        )
    return _correction(strong, wanted_share, "water", 0.0, shop, keep_volume=keep_volume)


def correct(
    found: Brine, wanted_share: float, shop: Shop, *, keep_volume: bool = False
) -> Correction:
    """:func:`strengthen` with dry salt or :func:`dilute`, whichever the strength asks for."""
    if wanted_share > found.salt_share:
        return strengthen(found, wanted_share, shop, keep_volume=keep_volume)
    return dilute(found, wanted_share, shop, keep_volume=keep_volume)


def _checked(found: Brine, wanted_share: float) -> None:
    require_brine("brine", found)
    require_share("strength wanted", wanted_share)


def _beyond(side: str, found: Brine) -> str:
    other = "that is dilution" if side == "below" else "that asks for more salt"
    return f"it is {side} the {_by_weight(found.salt_share)} of the brine, {other}"


def _by_weight(share: float) -> str:
    return f"{percent_words(share)} w/w"


def _correction(
    before: Brine, wanted: float, add: Additive, share: float, shop: Shop, *, keep_volume: bool
) -> Correction:
    """``share`` is the salt share of what is added; the sums are in grams."""
    density = brine_density(wanted, before.celsius)
    if abs(wanted - before.salt_share) <= SAME_STRENGTH:
        add, added, kept = "nothing", 0.0, before.mass_g
    elif keep_volume:
        final = before.volume_l * density
        kept = final * (share - wanted) / (share - before.salt_share)
        added = final - kept
    else:
        kept = before.mass_g
        added = kept * (wanted - before.salt_share) / (share - wanted)
    after = Brine(
        volume_l=before.volume_l if add == "nothing" else (kept + added) / density,
        salt_share=before.salt_share if add == "nothing" else wanted,
        celsius=before.celsius,
    )
    litres = None if add in ("salt", "nothing") else added / brine_density(share, before.celsius)
    drawn = keep_volume and add != "nothing"
    out = before.volume_l - kept / before.density_kg_m3 if drawn else 0.0
    spindle = spindle_degrees(after.salt_share, after.celsius)
    return Correction(
        after=after,
        add=add,
        add_g=added,
        add_l=litres,
        draw_off_l=out,
        spindle=spindle,
        says=_says(before, after, add, added, litres, out, spindle, shop),
        working=_working(before, after, add, added, out, shop),
    )


def _says(
    before: Brine,
    after: Brine,
    add: Additive,
    grams: float,
    litres: float | None,
    out: float,
    spindle: SpindleDegrees,
    shop: Shop,
) -> str:
    warmth = format_temperature(after.celsius, measures=shop.measures)
    if add == "nothing":
        return f"Nothing to add: it stands at {format_strength(after.g_per_l)}."
    amount = (
        format_mass(grams, measures=shop.measures, step_g=shop.scale.step_g)
        if litres is None
        else format_volume(litres, measures=shop.measures)
    )
    what = {"salt": "dry salt", "water": "water", "stock": "the strong brine"}[add]
    first = f"Take out {format_volume(out, measures=shop.measures)} and add" if out > 0.0 else "Add"
    together = format_volume(after.volume_l, measures=shop.measures)
    return (
        f"{first} {amount} of {what}, stirring: {format_strength(before.g_per_l)} becomes "
        f"{format_strength(after.g_per_l)} in {together}, and a spindle "
        f"then shows {salometer_words(spindle)} at {warmth}."
    )


def _working(
    before: Brine, after: Brine, add: Additive, grams: float, out: float, shop: Shop
) -> Working:
    return Working(
        title="Correcting a brine",
        inputs=(
            ("measured volume", f"{before.volume_l:.3f} L"),
            ("temperature", format_temperature(before.celsius, measures=shop.measures, digits=1)),
            ("salt share now", f"{100.0 * before.salt_share:.3f} %"),
            ("salt share wanted", f"{100.0 * after.salt_share:.3f} %"),
            ("mass now", f"{before.mass_g:.0f} g at {before.density_kg_m3:.1f} kg/m³"),
            ("drawn off first", f"{out:.3f} L"),
        ),
        equation="added = mass left × (wanted − now) ÷ (share of what is added − wanted); "
        "volume = mass ÷ density",
        result=f"{grams:.1f} g of {add}; {after.volume_l:.3f} L at {after.density_kg_m3:.1f} kg/m³",
        source=BRINE_SOURCE,
        sure=f"weights are conserved exactly; {BRINE_SURE}",
    )
