"""Sums on pH: the pickle to expect, acid to add, alkali to neutralise with."""

from __future__ import annotations

import math

from benchconsole.chemistry.acidity import AcidLiquor, predicted_ph
from benchconsole.chemistry.acids import (
    ACETIC,
    CITRIC,
    FORMIC,
    LACTIC,
    OXALIC,
    PICKLE_ACIDS,
    SULPHURIC,
    Acid,
)
from benchconsole.chemistry.commercial_acid import acid_as_sold_g, acid_as_sold_ml, pure_g
from benchconsole.chemistry.neutralising import (
    BORAX,
    SODA_ASH,
    SODA_MONOHYDRATE,
    SODIUM_BICARBONATE,
    WASHING_SODA,
    Alkali,
    Dose,
    acid_dose,
    alkali_dose,
    neutralising_dose,
)
from benchconsole.chemistry.swelling import Guard, salt_before_acid
from benchconsole.desk.sums.fields import (
    ACID_CAUTIONS,
    ALKALI_CAUTIONS,
    METER_CAUTION,
    bath_celsius,
    choice,
    field,
    mass_words,
    too_little_to_weigh,
    volume_words,
)
from benchconsole.desk.sums.records import Answer, Sum, SumField
from benchconsole.desk.sums.typed import Typed
from benchconsole.mixing.working import Working, plain
from benchconsole.quantities import format_strength, format_temperature

ACIDS: dict[str, Acid] = {
    "formic": FORMIC,
    "acetic": ACETIC,
    "lactic": LACTIC,
    "citric": CITRIC,
    "oxalic": OXALIC,
    "sulphuric": SULPHURIC,
}
ALKALIS: dict[str, Alkali] = {
    "bicarbonate": SODIUM_BICARBONATE,
    "borax": BORAX,
    "soda-crystals": WASHING_SODA,
    "soda-monohydrate": SODA_MONOHYDRATE,
    "soda-ash": SODA_ASH,
}
_LAW = "charge balance with activities by specific ion interaction; carbon dioxide of the air"


def _in_it_g(typed: Typed) -> float:
    """Grams of 100 % acid in the liquor, from acid as it is sold."""
    if not typed.given("acid-amount"):
        return 0.0
    amount, share = typed.amount("acid-amount"), typed.percent("acid-strength") / 100.0
    if amount.volume_l is None:
        return (amount.mass_g or 0.0) * share
    if not typed.given("acid-density"):
        raise typed.refuse("acid-density", "acid by volume is weighed by it; it is on the label")
    return pure_g(1000.0 * amount.volume_l, share, typed.density_kg_m3("acid-density"))


def _liquor(typed: Typed) -> AcidLiquor:
    litres = typed.volume_l("volume")
    return AcidLiquor(
        acids=((ACIDS[typed.choice("which-acid")], _in_it_g(typed) / litres),),
        salt_g_per_l=typed.mass_g("salt", zero=True) / litres,
        celsius=typed.celsius("temperature"),
    )


def _inputs(liquor: AcidLiquor, typed: Typed) -> tuple[tuple[str, str], ...]:
    ((acid, g_per_l),) = liquor.acids
    return (
        (f"{acid.name}, 100 %", f"{plain(g_per_l)} g/L"),
        ("salt", f"{plain(liquor.salt_g_per_l)} g/L"),
        ("volume", volume_words(typed.volume_l("volume"), typed.shop)),
        ("temperature", format_temperature(liquor.celsius, measures=typed.measures, digits=1)),
    )


def _pickle(typed: Typed) -> Answer:
    liquor = _liquor(typed)
    found, salt = predicted_ph(liquor), salt_before_acid(liquor.salt_g_per_l)
    ((acid, g_per_l),) = liquor.acids
    lines = [f"{salt.says[0].upper()}{salt.says[1:]}."]
    if salt.guard is not Guard.ENOUGH:
        more = mass_words(salt.wanting_g_per_l * typed.volume_l("volume"), typed.shop)
        lines.append(f"{more} more salt brings it to 100 g/L: salt first, then the acid.")
    lines.append(f"In it are {format_strength(g_per_l)} of {acid.name}, counted as 100 %.")
    swells = "Put no skin in, for it would swell: there is too little salt. "
    doubt = math.ceil(10.0 * found.uncertainty - 1e-9) / 10.0  # never surer in words
    return Answer(
        says=(swells if salt.guard is Guard.TOO_LITTLE else "")
        + f"The liquor should show pH {found.ph:.1f}, give or take {doubt:.1f}, "
        "before a hide is in it.",
        lines=tuple(lines),
        workings=(
            Working(
                title="pH of the pickle",
                inputs=_inputs(liquor, typed),
                equation="charges add up to nothing: sodium and acid's protons against chloride, "
                "hydroxide and the acid's ions",
                result=f"pH {found.ph:.2f} ± {found.uncertainty:.2f}",
                source=f"{_LAW}; {acid.name}: {acid.source}",
                sure=found.how_sure,
            ),
        ),
        cautions=(METER_CAUTION, *ACID_CAUTIONS),
    )


def _dose_working(
    title: str, dose: Dose, liquor: AcidLiquor, typed: Typed, steps: tuple[tuple[str, str], ...]
) -> Working:
    ((acid, _),) = liquor.acids
    return Working(
        title=title,
        inputs=(*_inputs(liquor, typed), *steps),
        equation="dose = base that the liquor holds at the wanted pH − base it holds now, × volume",
        result=f"{plain(dose.g_per_l)} g/L of the pure thing, {plain(dose.least_g_per_l)} to "
        f"{plain(dose.most_g_per_l)}",
        source=f"{_LAW}; {acid.name}: {acid.source}",
        sure=dose.how_sure,
    )


def _lower(typed: Typed) -> Answer:
    liquor, acid = _liquor(typed), ACIDS[typed.choice("which-acid")]
    measured, wanted = typed.ph("pH-measured"), typed.ph("pH-wanted")
    dose = acid_dose(liquor, measured, wanted, acid)
    litres, share = typed.volume_l("volume"), typed.percent("acid-strength") / 100.0
    sold, half, least, most = (
        mass_words(acid_as_sold_g(grams * litres, share), typed.shop)
        for grams in (
            dose.g_per_l,
            dose.g_per_l / 2.0,
            dose.least_g_per_l,
            dose.most_g_per_l,
        )
    )
    lines = [f"It may be from {least} to {most}, for a pH is read only so well."]
    if typed.given("acid-density"):
        density = typed.density_kg_m3("acid-density")
        millilitres = acid_as_sold_ml(dose.g_per_l * litres, share, density)
        lines.append(f"By volume that is {volume_words(millilitres / 1000.0, typed.shop)}.")
    salt = salt_before_acid(liquor.salt_g_per_l)
    lines.append(f"{salt.says[0].upper()}{salt.says[1:]}.")
    lines += too_little_to_weigh(acid_as_sold_g(dose.g_per_l * litres, share), typed.shop)
    return Answer(
        says=f"{sold} of {acid.name} of {100.0 * share:g} % brings it from pH {measured:g} to "
        f"{wanted:g}: give {half} first, stir, wait, measure, then what is still wanting.",
        lines=tuple(lines),
        workings=(
            _dose_working(
                "Acid by pH",
                dose,
                liquor,
                typed,
                (("pH measured", f"{measured:g}"), ("pH wanted", f"{wanted:g}")),
            ),
        ),
        cautions=(METER_CAUTION, *ACID_CAUTIONS),
    )


def _neutralise(typed: Typed) -> Answer:
    liquor, alkali = _liquor(typed), ALKALIS[typed.choice("alkali")]
    wanted, measured = typed.ph("pH-wanted"), typed.or_none("pH-measured", typed.ph)
    if measured is None:
        dose = neutralising_dose(liquor, wanted, alkali)
        begins, brings = "as it was made up", "the fresh pickle"
    else:
        dose = alkali_dose(liquor, measured, wanted, alkali)
        begins, brings = f"at pH {measured:g}", f"it from pH {measured:g}"
    litres = typed.volume_l("volume")
    all_of_it, half, least, most = (
        mass_words(grams * litres, typed.shop)
        for grams in (
            dose.g_per_l,
            dose.g_per_l / 2.0,
            dose.least_g_per_l,
            dose.most_g_per_l,
        )
    )
    return Answer(
        says=f"{all_of_it} of {alkali.name} brings {brings} to pH {wanted:g}: give {half} "
        "first, stir until it is still, measure, then what is still wanting.",
        lines=(
            f"It may be from {least} to {most}, for a pH is read only so well.",
            "What the hide still holds comes out for hours: measure again later.",
            *too_little_to_weigh(dose.g_per_l * litres, typed.shop),
        ),
        workings=(
            _dose_working(
                "Neutralising dose",
                dose,
                liquor,
                typed,
                (("alkali", alkali.name), ("it begins", begins), ("pH wanted", f"{wanted:g}")),
            ),
        ),
        cautions=(METER_CAUTION, *ALKALI_CAUTIONS),
    )


def _acid_fields(*, needed: bool) -> tuple[SumField, ...]:
    return (
        choice("which-acid", "Acid", tuple((name, acid.name) for name, acid in ACIDS.items())),
        field("acid-strength", "Its strength, on the label", "percent", "85 %"),
        field(
            "acid-amount",
            "Acid in it, as sold",
            "amount",
            "100 g",
            "3 1/2 oz",
            optional=not needed,
        ),
        field("acid-density", "Its density (if by volume)", "density", "1.195 kg/L", optional=True),
    )


_LIQUOR_FIELDS = (
    field("salt", "Salt in it", "mass", "2 kg", "5 lb"),
    field("volume", "All of it, made up", "volume", "20 L", "5 gal"),
    bath_celsius(),
)
_PH_WANTED = field("pH-wanted", "pH wanted", "pH", "5")
_BLAMES = {
    "acid": "acid-amount",
    **{acid.name: "acid-amount" for acid in PICKLE_ACIDS},
    "mass of acid": "acid-amount",
    "volume of acid": "acid-amount",
    "strength of the acid": "acid-strength",
    "density of the acid": "acid-density",
    "liquor temperature": "temperature",
}

ACID_SUMS = (
    Sum(
        name="pickle-ph",
        title="pH of a pickle",
        purpose="What pH an acid pickle should show, and whether there is salt enough first.",
        fields=(*_acid_fields(needed=True), *_LIQUOR_FIELDS),
        work_out=_pickle,
        blames=_BLAMES,
    ),
    Sum(
        name="acid-dose",
        title="Acid to lower the pH",
        purpose="How much acid brings a liquor from the pH it shows to the one wanted.",
        fields=(
            field("pH-measured", "pH measured", "pH", "4.2"),
            field("pH-wanted", "pH wanted", "pH", "3"),
            *_acid_fields(needed=False),
            *_LIQUOR_FIELDS,
        ),
        work_out=_lower,
        blames=_BLAMES,
    ),
    Sum(
        name="neutralise",
        title="Alkali to raise the pH",
        purpose="How much bicarbonate, borax or washing soda takes the acid out of a pickle.",
        fields=(
            choice(
                "alkali", "Alkali", tuple((name, alkali.name) for name, alkali in ALKALIS.items())
            ),
            field("pH-measured", "pH measured (none: as made)", "pH", "3.2", optional=True),
            _PH_WANTED,
            *_acid_fields(needed=True),
            *_LIQUOR_FIELDS,
        ),
        work_out=_neutralise,
        blames=_BLAMES,
    ),
)
