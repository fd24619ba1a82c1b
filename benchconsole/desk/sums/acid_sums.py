"""Sums on pH: the pickle to expect, acid to add, alkali to neutralise with."""

from __future__ import annotations

from collections.abc import Callable

from benchconsole.chemistry.acidity import LAW, AcidLiquor, predicted_ph
from benchconsole.chemistry.acids import ACIDS, PICKLE_ACIDS
from benchconsole.chemistry.alkalis import Alkali
from benchconsole.chemistry.commercial_acid import acid_as_sold_g, acid_as_sold_ml
from benchconsole.chemistry.neutralising import (
    Dose,
    acid_dose,
    alkali_dose,
    neutralising_dose,
)
from benchconsole.desk.sums.acid_liquors import (
    LIQUOR_FIELDS,
    acid_fields,
    acid_share,
    crystal_words,
    liquor_of,
    salt_words,
    typed_inputs,
)
from benchconsole.desk.sums.fields import (
    ACID_CAUTIONS,
    ALKALI_CAUTIONS,
    METER_CAUTION,
    choice,
    field,
    mass_words,
    too_little_to_weigh,
    volume_words,
)
from benchconsole.desk.sums.figures import figures_of
from benchconsole.desk.sums.records import Answer, Sum, SumFigure
from benchconsole.desk.sums.typed import Typed
from benchconsole.errors import BadInput
from benchconsole.mixing.acid_checks import ph_words
from benchconsole.mixing.working import Working, plain
from benchconsole.quantities import format_strength

_SHOWS_IT = "it shows that already"
_A_STEP_OF_PH = 0.5


def _pickle(typed: Typed) -> Answer:
    liquor = liquor_of(typed)
    found = predicted_ph(liquor)
    ((acid, g_per_l),) = liquor.acids
    salt = salt_words(liquor, found.ph, typed)
    lines = list(salt.lines)
    lines.append(f"In it are {format_strength(g_per_l)} of {acid.name}, counted as 100 %.")
    lines += crystal_words(typed)
    return Answer(
        says=f"{salt.warning}The liquor should show pH {ph_words(found)}, before a hide is in it.",
        lines=tuple(lines),
        figures=(
            *figures_of(found),
            SumFigure(name=acid.name, value=g_per_l, unit="g/L"),
            SumFigure(name="salt", value=liquor.salt_g_per_l, unit="g/L"),
        ),
        workings=(
            Working(
                title="pH of the pickle",
                inputs=typed_inputs(liquor, typed),
                equation="charges add up to nothing: sodium and acid's protons against chloride, "
                "hydroxide and the acid's ions",
                result=f"pH {found.ph:.2f} ± {found.uncertainty:.2f}",
                source=f"{LAW}; {acid.name}: {acid.source}",
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
        inputs=(*typed_inputs(liquor, typed), *steps),
        equation="dose = base that the liquor holds at the wanted pH − base it holds now, × volume",
        result=f"{plain(dose.g_per_l)} g/L of the pure thing, {plain(dose.least_g_per_l)} to "
        f"{plain(dose.most_g_per_l)}",
        source=f"{LAW}; {acid.name}: {acid.source}",
        sure=dose.how_sure,
    )


def _dose_figures(dose: Dose, weighed_g: Callable[[float], float]) -> tuple[SumFigure, ...]:
    """The dose in grams as weighed out, of all the liquor."""
    return tuple(
        SumFigure(name=name, value=weighed_g(g_per_l), unit="g")
        for name, g_per_l in (
            ("dose", dose.g_per_l),
            ("least dose", dose.least_g_per_l),
            ("most dose", dose.most_g_per_l),
        )
    )


def _lower(typed: Typed) -> Answer:
    liquor, acid = liquor_of(typed), ACIDS[typed.choice("which-acid")]
    measured, wanted = typed.ph("pH-measured"), typed.ph("pH-wanted")
    if wanted >= measured:
        raises = "acid only lowers it, and this is higher than measured: see neutralise"
        fault = raises if wanted > measured else _SHOWS_IT
        raise BadInput("pH wanted", fault, f"{max(0.0, measured - _A_STEP_OF_PH):g}")
    dose = acid_dose(liquor, measured, wanted, acid)
    litres, share = typed.volume_l("volume"), acid_share(typed)
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
    salt = salt_words(liquor, wanted, typed)
    lines += [*salt.lines, *crystal_words(typed)]
    lines += too_little_to_weigh(acid_as_sold_g(dose.g_per_l * litres, share), typed.shop)
    return Answer(
        says=f"{salt.warning}{sold} of {acid.name} of {100.0 * share:g} % brings it "
        f"from pH {measured:g} to {wanted:g}: give {half} first, stir, wait, "
        "measure, then what is still wanting.",
        lines=tuple(lines),
        figures=_dose_figures(dose, lambda grams: acid_as_sold_g(grams * litres, share)),
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
    liquor, alkali = liquor_of(typed), Alkali(typed.choice("alkali"))
    wanted, measured = typed.ph("pH-wanted"), typed.or_none("pH-measured", typed.ph)
    if measured is None:
        shows = predicted_ph(liquor).ph
        if wanted <= shows:
            fault = f"fresh it shows pH {shows:.1f} already, and alkali only raises it"
            raise typed.refuse("pH-wanted", fault)
        dose = neutralising_dose(liquor, wanted, alkali)
        begins, brings = "as it was made up", "the fresh pickle"
    elif wanted <= measured:
        lowers = "alkali only raises it, and this is lower than measured: see acid-dose"
        fault = lowers if wanted < measured else _SHOWS_IT
        raise BadInput("pH wanted", fault, f"{measured + _A_STEP_OF_PH:g}")
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
        says=f"{all_of_it} of {alkali.words} brings {brings} to pH {wanted:g}: give {half} "
        "first, stir until it is still, measure, then what is still wanting.",
        figures=_dose_figures(dose, lambda grams: grams * litres),
        lines=(
            f"It may be from {least} to {most}, for a pH is read only so well.",
            "What the hide still holds comes out for hours: measure again later.",
            *crystal_words(typed),
            *too_little_to_weigh(dose.g_per_l * litres, typed.shop),
        ),
        workings=(
            _dose_working(
                "Neutralising dose",
                dose,
                liquor,
                typed,
                (("alkali", alkali.words), ("it begins", begins), ("pH wanted", f"{wanted:g}")),
            ),
        ),
        cautions=(METER_CAUTION, *ALKALI_CAUTIONS),
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
        fields=(*acid_fields(needed=True), *LIQUOR_FIELDS),
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
            *acid_fields(needed=False),
            *LIQUOR_FIELDS,
        ),
        work_out=_lower,
        blames=_BLAMES,
    ),
    Sum(
        name="neutralise",
        title="Alkali to raise the pH",
        purpose="How much baking soda, borax or washing soda takes the acid out of a pickle.",
        fields=(
            choice("alkali", "Alkali", tuple((one.value, one.words) for one in Alkali)),
            field("pH-measured", "pH measured (none: as made)", "pH", "3.2", optional=True),
            _PH_WANTED,
            *acid_fields(needed=True),
            *LIQUOR_FIELDS,
        ),
        work_out=_neutralise,
        blames=_BLAMES,
    ),
)
