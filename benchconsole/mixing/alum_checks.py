"""What the soda makes of the alum in a formula, and what the alum offers the hide."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress

from benchconsole.chemistry.alkalis import Alkali
from benchconsole.chemistry.alum import SKIN_TAKES_UP, AluminiumSalt
from benchconsole.errors import BadInput
from benchconsole.mixing.alum_liquors import AlumOffer, alum_offer, liquor_basicity, offer_words
from benchconsole.mixing.findings import JOINED, Check
from benchconsole.mixing.working import Working
from benchconsole.model.shop import Shop

_SALTS = {salt.value: salt for salt in AluminiumSalt}
_ALKALIS = {alkali.value: alkali for alkali in Alkali}


def alum_checks(
    grams: Mapping[str, float], hide_mass_g: float | None, shop: Shop, *, as_printed: bool = False
) -> list[Check]:
    """``basicity`` and ``alum-offer`` of these grams of each substance.

    Basicity where an alkali goes in, the offer where the weight of the hide is known. Of a
    mixture of alums, or of alkalis, nothing is worked out; it says so. ``as_printed``: a shipped
    recipe itself sets the offer on the hide's weight, which is then told and never a fault.
    """
    salts = [(_SALTS[key], mass) for key, mass in grams.items() if key in _SALTS and mass > 0.0]
    alkalis = [(_ALKALIS[k], mass) for k, mass in grams.items() if k in _ALKALIS and mass > 0.0]
    if not salts:
        return []
    if len(salts) > 1 or len(alkalis) > 1:
        return [_mixed("alum" if len(salts) > 1 else "alkali")]
    ((salt, alum_g),) = salts
    found: list[Check] = []
    # Tons of it, or a hide of a gram: the sheet itself refuses nothing, and nobody soaks that.
    with suppress(BadInput):
        found += [_basicity(salt, alum_g, alkali, soda_g, shop) for alkali, soda_g in alkalis]
    with suppress(BadInput):
        if hide_mass_g:
            found.append(_offer(salt, alum_g, hide_mass_g, shop, as_printed))
    return found


def _basicity(
    salt: AluminiumSalt, alum_g: float, alkali: Alkali, soda_g: float, shop: Shop
) -> Check:
    answer = liquor_basicity(salt, alum_g, alkali, soda_g, shop)
    return Check(
        code="basicity",
        substance=alkali.value,
        part=JOINED,
        ok=not answer.throws_out,
        value=100.0 * answer.basicity,
        says=answer.says,
        working=answer.working,
    )


def _offer(
    salt: AluminiumSalt, alum_g: float, hide_mass_g: float, shop: Shop, as_printed: bool
) -> Check:
    answer = alum_offer(salt, alum_g, hide_mass_g, shop)
    told = answer.enough or not as_printed
    return Check(
        code="alum-offer",
        substance=salt.value,
        part=JOINED,
        ok=answer.enough or as_printed,
        value=answer.alum_percent,
        says=answer.says if told else _by_recipe(answer),
        working=answer.working,
    )


def _by_recipe(answer: AlumOffer) -> str:
    return (
        f"{offer_words(answer.alum_percent, answer.alumina_percent)} "
        f"on the weight of the hide, as its recipe has it; a skin can take up about "
        f"{100.0 * SKIN_TAKES_UP:g} %."
    )


def _mixed(kind: str) -> Check:
    says = f"Basicity and offer are not worked out: there is more than one {kind} in it."
    return Check(
        code="alum-not-known",
        substance="",
        part=JOINED,
        ok=True,
        value=0.0,
        says=says,
        working=Working(title="Aluminium", result="not worked out", sure=says),
    )
