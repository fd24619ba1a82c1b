"""Sums on alum: one product for another, soda and basicity, the offer to a hide."""

from __future__ import annotations

from benchconsole.chemistry.alkalis import Alkali
from benchconsole.chemistry.alum import AluminiumSalt
from benchconsole.desk.sums.fields import choice, field, mass_words
from benchconsole.desk.sums.figures import figures_of
from benchconsole.desk.sums.records import Answer, Sum, SumFigure
from benchconsole.desk.sums.typed import Typed
from benchconsole.mixing.alum_liquors import (
    SALT_NAMES,
    AlumBasicity,
    Exchanged,
    alkali_for_basicity,
    alum_offer,
    liquor_basicity,
    same_alkali,
    same_aluminium,
)

PACK_CAUTION = "Read on the pack which of the three washing sodas it is: they differ threefold."
DROPWISE = "Dissolve the soda apart and add it slowly, stirring; stop when it stays cloudy."


def _salt(typed: Typed, field_id: str = "alum") -> AluminiumSalt:
    return AluminiumSalt(typed.choice(field_id))


def _alkali(typed: Typed, field_id: str = "soda") -> Alkali:
    return Alkali(typed.choice(field_id))


def _basic(found: AlumBasicity, *, lines: tuple[str, ...] = ()) -> Answer:
    return Answer(
        says=found.says,
        figures=figures_of(found),
        lines=lines,
        workings=(found.working,),
        cautions=(*((PACK_CAUTION,) if found.mistaken else ()), DROPWISE),
    )


def _basicity(typed: Typed) -> Answer:
    return _basic(
        liquor_basicity(
            _salt(typed),
            typed.mass_g("weight-of-alum"),
            _alkali(typed),
            typed.mass_g("weight-of-soda", zero=True),
            typed.shop,
        )
    )


def _soda(typed: Typed) -> Answer:
    percent = typed.percent("basicity")
    found = alkali_for_basicity(
        _salt(typed), typed.mass_g("weight-of-alum"), _alkali(typed), percent, typed.shop
    )
    most = mass_words(found.most_alkali_g, typed.shop)
    return _basic(found, lines=(f"The most before the alum is thrown out: {most}.",))


def _same_alum(typed: Typed) -> Answer:
    salt, grams = _salt(typed), typed.mass_g("weight-of-alum")
    return _exchanged(
        {
            SALT_NAMES[other]: same_aluminium(salt, grams, other, typed.shop)
            for other in AluminiumSalt
            if other != salt
        }
    )


def _same_soda(typed: Typed) -> Answer:
    alkali, grams = _alkali(typed), typed.mass_g("weight-of-soda")
    return _exchanged(
        {
            other.words: same_alkali(alkali, grams, other, typed.shop)
            for other in Alkali
            if other != alkali
        },
        PACK_CAUTION,
    )


def _exchanged(others: dict[str, Exchanged], *cautions: str) -> Answer:
    """What each of the others, by its name, would be instead."""
    says, *lines = (each.says for each in others.values())
    return Answer(
        says=says,
        figures=tuple(
            SumFigure(name=name, value=each.instead_g, unit="g") for name, each in others.items()
        ),
        lines=tuple(lines),
        workings=tuple(each.working for each in others.values()),
        cautions=cautions,
    )


def _offer(typed: Typed) -> Answer:
    found = alum_offer(
        _salt(typed), typed.mass_g("weight-of-alum"), typed.mass_g("hide-weight"), typed.shop
    )
    return Answer(says=found.says, figures=figures_of(found), workings=(found.working,))


_ALUM = choice(
    "alum", "Which alum", tuple((salt.value, SALT_NAMES[salt]) for salt in AluminiumSalt)
)
_SODA = choice("soda", "Which alkali", tuple((one.value, one.words) for one in Alkali))
_ALUM_WEIGHT = field("weight-of-alum", "Alum", "mass", "454 g", "1 lb")
_SODA_WEIGHT = field("weight-of-soda", "Soda", "mass", "113 g", "4 oz")

ALUM_SUMS = (
    Sum(
        name="alum-for-alum",
        title="One alum for another",
        purpose="How much of another aluminium salt holds the same aluminium.",
        fields=(_ALUM, _ALUM_WEIGHT),
        work_out=_same_alum,
    ),
    Sum(
        name="soda-for-soda",
        title="One soda for another",
        purpose="How much of another alkali takes the same acid: soda, bicarbonate, borax.",
        fields=(_SODA, _SODA_WEIGHT),
        work_out=_same_soda,
    ),
    Sum(
        name="basicity",
        title="Basicity of an alum liquor",
        purpose="How basic soda makes an alum liquor, and whether it throws the alum out.",
        fields=(_ALUM, _ALUM_WEIGHT, _SODA, _SODA_WEIGHT),
        work_out=_basicity,
    ),
    Sum(
        name="soda-for-basicity",
        title="Soda for a basicity",
        purpose="How much soda brings an alum liquor to the basicity wanted.",
        fields=(
            _ALUM,
            _ALUM_WEIGHT,
            _SODA,
            field("basicity", "Basicity wanted", "percent", "28 %"),
        ),
        work_out=_soda,
    ),
    Sum(
        name="alum-offer",
        title="Alum offered to a hide",
        purpose="How much alum a hide is offered on its weight, and whether that is enough.",
        fields=(
            _ALUM,
            _ALUM_WEIGHT,
            field("hide-weight", "The hide, wet", "mass", "3.2 kg", "7 lb"),
        ),
        work_out=_offer,
    ),
)
