"""The pH to expect of an acid liquor, and whether there is salt enough in it before the acid."""

from __future__ import annotations

import math
from collections.abc import Mapping

from benchconsole.chemistry import OutOfRange
from benchconsole.chemistry.acidity import (
    HARD_WATER_ACID_G_PER_L,
    LAW,
    AcidLiquor,
    PredictedPh,
    limits_in_words,
    predicted_ph,
)
from benchconsole.chemistry.acids import ACIDS, Acid
from benchconsole.chemistry.molality import STRONGEST_SALT_G_PER_L
from benchconsole.chemistry.swelling import AMPLE_G_PER_L, FLOOR_BAUME, Guard, salt_before_acid
from benchconsole.mixing.findings import JOINED, Check
from benchconsole.mixing.liquors import LiquorFigures
from benchconsole.mixing.working import Working, plain
from benchconsole.model.shop import Shop
from benchconsole.model.substances import Substance
from benchconsole.quantities import format_mass, format_temperature

SWELLING_PH = 2.5
"""A liquor of acid and no salt is asked for salt below this.

Our own choice, no source: skin swells most near pH 2, and the drenches, the deliming liquors and
the formic soak of the guides, which all go without salt, lie above it.
"""

_DOUBT_STEP = 0.05
"""pH, to which a doubt is printed. Our own choice, no source: no paper or meter shows less."""


def acid_checks(
    figures: LiquorFigures, substances: Mapping[str, Substance], shop: Shop
) -> list[Check]:
    """``ph`` (or ``ph-not-known``) and ``salt-before-acid`` of a finished liquor.

    Nothing is said of a liquor without an acid known by name, and no pH where anything but such
    acids and common salt is in it.
    """
    acids = _acids_g_per_l(figures, substances)
    if not acids:
        return []
    salt = math.fsum(each.g_per_l for each in figures.strengths if substances[each.substance].brine)
    others = [
        each.substance
        for each in figures.strengths
        if not (substances[each.substance].brine or substances[each.substance].acid)
    ]
    found = [] if others else [_ph_check(acids, salt, figures.celsius, shop)]
    if salt > 0.0 or _swells(found, sum(g_per_l for _, g_per_l in acids)):
        found.append(_salt_check(salt, acids, figures.volume_l, shop))
    return found


def ph_words(predicted: PredictedPh) -> str:
    """A predicted pH and its doubt: ``2.6 ± 0.15``; the doubt is rounded up, never surer."""
    doubt = math.ceil(predicted.uncertainty / _DOUBT_STEP - 1e-9) * _DOUBT_STEP
    return f"{predicted.ph:.1f} ± {plain(round(doubt, 2))}"


def liquor_inputs(
    acids: tuple[tuple[Acid, float], ...], salt_g_per_l: float
) -> tuple[tuple[str, str], ...]:
    """Acid and salt of a liquor for a working."""
    return (
        *((f"{acid.name}, 100 %", f"{plain(g_per_l)} g/L") for acid, g_per_l in acids),
        ("salt", f"{plain(salt_g_per_l)} g/L"),
    )


def ph_among(checks: list[Check]) -> float | None:
    """The pH that one of these checks found, None where none did."""
    return next((check.value for check in checks if check.code == "ph"), None)


def _acids_g_per_l(
    figures: LiquorFigures, substances: Mapping[str, Substance]
) -> tuple[tuple[Acid, float], ...]:
    """Grams of 100 % acid in a litre, by acid."""
    known = ((substances[each.substance], each.g_per_l) for each in figures.strengths)
    return tuple(
        (ACIDS[substance.acid], g_per_l * substance.pure_share)
        for substance, g_per_l in known
        if substance.acid
    )


def _swells(found: list[Check], acid_g_per_l: float) -> bool:
    """Whether acid without salt is strong enough to swell a skin; judged by weight without a pH."""
    ph = ph_among(found)
    return acid_g_per_l >= HARD_WATER_ACID_G_PER_L if ph is None else ph < SWELLING_PH


def _ph_check(
    acids: tuple[tuple[Acid, float], ...], salt: float, celsius: float, shop: Shop
) -> Check:
    try:
        liquor = AcidLiquor(acids=acids, salt_g_per_l=salt, celsius=celsius)
        predicted = predicted_ph(liquor)
    except OutOfRange as error:
        return _not_known(acids, salt, error)
    return _known(liquor, predicted, shop)


def _known(liquor: AcidLiquor, predicted: PredictedPh, shop: Shop) -> Check:
    limits = "; ".join(limits_in_words(liquor))
    about = f"pH about {ph_words(predicted)}"
    told = f"{about} without a hide in it: a meter or paper decides."
    return Check(
        code="ph",
        substance="",
        part=JOINED,
        ok=True,
        value=predicted.ph,
        says=f"{told} {limits[0].upper()}{limits[1:]}." if limits else told,
        working=Working(
            title="pH of the finished liquor",
            inputs=(
                *liquor_inputs(liquor.acids, liquor.salt_g_per_l),
                ("temperature", format_temperature(liquor.celsius, measures=shop.measures)),
            ),
            equation="pH = −log10 a(H⁺), where H⁺ + Na⁺ = Cl⁻ + acid given up + OH⁻",
            result=f"pH {predicted.ph:.2f} ± {predicted.uncertainty:.2f}",
            source=f"{LAW}; {'; '.join(dict.fromkeys(acid.source for acid, _ in liquor.acids))}",
            sure=predicted.how_sure,
        ),
    )


def _not_known(acids: tuple[tuple[Acid, float], ...], salt: float, error: OutOfRange) -> Check:
    span = f"{plain(error.low)} to {plain(error.high)} {error.unit}".rstrip()
    here = f"{plain(float(f'{error.value:.3g}'))} {error.unit}".rstrip()
    why = f"the law holds for {span} of {error.quantity}, and here it is {here}"
    return Check(
        code="ph-not-known",
        substance="",
        part=JOINED,
        ok=True,
        value=0.0,
        says=f"No pH is worked out: {why}. Take it for strong acid until a meter or paper tells.",
        working=Working(
            title="pH of the finished liquor",
            inputs=liquor_inputs(acids, salt),
            result="not worked out",
            source=LAW,
            sure=why,
        ),
    )


def _salt_check(
    salt: float, acids: tuple[tuple[Acid, float], ...], volume_l: float, shop: Shop
) -> Check:
    verdict = salt_before_acid(min(salt, STRONGEST_SALT_G_PER_L))
    too_little = verdict.guard is Guard.TOO_LITTLE
    says = f"{salt:.0f} g/L of salt is enough before acid"
    if verdict.guard is not Guard.ENOUGH:
        wanting_g = verdict.wanting_g_per_l * volume_l
        more = format_mass(wanting_g, measures=shop.measures, step_g=max(shop.scale.step_g, 1.0))
        asked = f"about {more} more makes it {AMPLE_G_PER_L:g} g/L"
        says = (
            f"{verdict.says}; {asked}"
            if too_little
            else f"{salt:.0f} g/L of salt before acid does for some guides; {asked}, as others ask"
        )
    return Check(
        code="salt-before-acid",
        substance="",
        part=JOINED,
        ok=not too_little,
        value=salt,
        says=f"{says}.",
        working=Working(
            title="Salt before the acid",
            inputs=liquor_inputs(acids, salt),
            equation=f"too little below {FLOOR_BAUME:g} °Bé of salt alone at 60 °F; "
            f"scant below {AMPLE_G_PER_L:g} g/L",
            result=f"{verdict.degrees_baume:.1f} °Bé"
            + (" or more" if salt > STRONGEST_SALT_G_PER_L else ""),
            source="an industry guide to pickling, 5 to 8 °Bé (read in the source); Bookbinding "
            "and the Conservation of Books: a dictionary (1982), over 10 % (read in the source)",
            sure="the guides part; an old handbook works thin furs in 30 to 50 g/L with acetic "
            "acid, where this warns",
        ),
    )
