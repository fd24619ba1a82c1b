"""Checks of the chemistry of a finished liquor: its pH, salt before acid, alum, a spindle in it."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from benchconsole.chemistry.acidity import AcidLiquor, predicted_ph
from benchconsole.chemistry.acids import FORMIC, SULPHURIC
from benchconsole.library import shipped_library
from benchconsole.mixing.checks import Check
from benchconsole.mixing.degrees import degrees_words
from benchconsole.mixing.targets import AsWritten, ForHideMass, Make, Target, Times
from benchconsole.mixing.worksheet import Worksheet, worksheet
from benchconsole.model.formulas import Formula, Ingredient, Part
from benchconsole.model.shop import Shop

LIBRARY = shipped_library()
METRIC = Shop(measures="metric")


def sheet_of(
    formula: str | Formula, target: Target | None = None, *, celsius: float = 15.0
) -> Worksheet:
    """A worksheet in a metric shop with all the rules of the library."""
    return worksheet(
        LIBRARY.formula(formula) if isinstance(formula, str) else formula,
        target or AsWritten(),
        substances=LIBRARY.substances,
        shop=METRIC,
        water_celsius=celsius,
        rules=LIBRARY.incompatible,
    )


def check_of(sheet: Worksheet, code: str) -> Check | None:
    """The one check of a code, None where there is none."""
    return next((check for check in sheet.checks if check.code == code), None)


def surely(sheet: Worksheet, code: str) -> Check:
    """The one check of a code, which is there."""
    (check,) = [each for each in sheet.checks if each.code == code]
    return check


def own(**grams: float) -> Formula:
    """One liquor of these grams of each substance ("citric_acid"), in their order."""
    ingredients = tuple(
        Ingredient(substance=name.replace("_", "-"), by="scale", printed="some", mass_g=mass)
        for name, mass in grams.items()
    )
    part = Part(id="all", name="all", container="tub", ingredients=ingredients)
    return replace(
        LIBRARY.formula("salt-citric-pickle"), id="own", parts=(part,), joinings=(), own=True
    )


def test_an_acid_as_sold_counts_by_its_pure_share() -> None:
    """Formic acid of 85 %, battery acid of 35 %: grams pure in a litre make the pH."""
    formic = sheet_of("salt-formic-pickle")
    battery = sheet_of("battery-acid-pickle")
    for sheet, sold, acid, share in (
        (formic, "formic-acid", FORMIC, 0.85),
        (battery, "battery-acid", SULPHURIC, 0.35),
    ):
        assert sheet.liquor is not None
        grams = {each.substance: each.g_per_l for each in sheet.liquor.strengths}
        by_hand = AcidLiquor(
            acids=((acid, share * grams[sold]),),
            salt_g_per_l=grams["salt"],
            celsius=sheet.liquor.celsius,
        )
        assert predicted_ph(by_hand).ph == pytest.approx(surely(sheet, "ph").value)


def test_a_ph_says_how_far_to_believe_it() -> None:
    """Citric acid at 21 g/L lies beyond what was checked: the sentence and the working say so."""
    check = surely(sheet_of("salt-citric-pickle"), "ph")
    assert check.ok
    assert check.says.startswith(f"pH about {check.value:.1f} ± 0.3 without a hide in it")
    assert "a meter or paper decides. Above 100 g/L of salt" in check.says
    assert "only to 10 g/L of acid" in check.says
    assert {"citric acid, 100 %", "salt", "temperature"} == {
        name for name, _ in check.working.inputs
    }
    assert all((check.working.equation, check.working.source, check.working.sure))


@pytest.mark.parametrize("formula", ["alum-salt-bath", "bark-liquor-first", "salt-cure"])
def test_no_ph_where_something_else_decides_it(formula: str) -> None:
    """Alum and tannin are acid in ways the law does not know; a dry salt has no pH."""
    sheet = sheet_of(formula)
    assert None is check_of(sheet, "ph")
    assert None is check_of(sheet, "ph-not-known")


def test_beyond_the_law_it_says_why_there_is_no_ph() -> None:
    """194 g/L of salt, or 80 g/L of acid: no traceback and no guess, and no fault either."""
    salty = surely(sheet_of("salt-sulphuric-pickle"), "ph-not-known")
    assert salty.ok
    assert "the law holds for 0 to 190 g/L of salt, and here it is 194 g/L" in salty.says
    assert "Take it for strong acid" in salty.says
    sour = surely(sheet_of(own(water=1000.0, salt=100.0, citric_acid=90.0)), "ph-not-known")
    assert "0 to 50 g/L of citric acid" in sour.says


@pytest.mark.parametrize(
    ("salt", "ok", "words"),
    [
        (0.0, False, "0 g/L"),
        (45.0, False, "too little"),
        (70.0, True, "some guides; about"),
        (120.0, True, "is enough"),
    ],
)
def test_salt_before_acid(salt: float, ok: bool, words: str) -> None:
    """Below 5 °Bé (52 g/L) too little, below 100 g/L scant (the guides of ``swelling``)."""
    made = (
        own(water=1000.0, citric_acid=10.0)
        if salt == 0.0
        else own(water=1000.0, salt=salt, citric_acid=10.0)
    )
    check = surely(sheet_of(made), "salt-before-acid")
    assert ok == check.ok
    assert words in check.says


def test_the_missing_salt_is_told_in_all() -> None:
    """10.27 L at 39 g/L lack 61 g in each: about 627 g make it 100 g/L."""
    check = surely(sheet_of("salt-acetic-pickle"), "salt-before-acid")
    assert not check.ok
    assert "about 627 g more makes it 100 g/L." in check.says


@pytest.mark.parametrize(
    "formula", ["soak-formic", "acid-drench", "lactic-delime", "vinegar-delime"]
)
def test_a_mild_acid_bath_is_not_asked_for_salt(formula: str) -> None:
    """What the guides print without salt lies above pH 2.5, and raises no false alarm."""
    sheet = sheet_of(formula)
    assert 2.5 < surely(sheet, "ph").value
    assert None is check_of(sheet, "salt-before-acid")


def test_basicity_is_that_of_the_book() -> None:
    """4 parts of soda crystals to 16 of potassium alum: 27.6 % (computed from molar masses).

    2 · (113.398 / 286.141) / (3 · 453.592 / 474.388) = 0.2763; soda ash instead: 0.746.
    """
    check = surely(sheet_of("alum-salt-soda-bath"), "basicity")
    assert check.ok
    assert 27.63 == pytest.approx(check.value, abs=0.01)
    assert "27.6 % basic" in check.says


def test_too_much_soda_is_a_fault() -> None:
    """Half as much soda as alum is 55 % basic: it throws the alum out as jelly."""
    made = own(water=4000.0, potassium_alum=400.0, washing_soda=200.0)
    check = surely(sheet_of(made), "basicity")
    assert not check.ok
    assert "throws the alum out" in check.says


def test_the_alum_offer_needs_the_weight_of_a_hide() -> None:
    """A rub of the library on 2 kg of hide says per cent of it; a bath as written has no hide."""
    rub = sheet_of("alum-salt-rub", ForHideMass(mass_g=2000.0))
    grams = next(line.mass_g for line in rub.lines if line.substance == "potassium-alum")
    assert grams / 20.0 == pytest.approx(surely(rub, "alum-offer").value)
    assert "Al2O3" in surely(rub, "alum-offer").says
    assert None is check_of(sheet_of("alum-salt-bath"), "alum-offer")


def test_a_recipe_on_hide_weight_sets_its_own_offer() -> None:
    """A drum paste of 2.5 % is told and no fault as shipped; as a person's own it is questioned."""
    paste = LIBRARY.formula("calf-kid-paste")
    shipped = surely(sheet_of(paste), "alum-offer")
    assert shipped.ok
    assert 2.5 == pytest.approx(shipped.value)
    assert (
        "2.5 % alum (0.27 % Al2O3) on the weight of the hide, as its recipe has it" in shipped.says
    )
    questioned = surely(sheet_of(replace(paste, own=True)), "alum-offer")
    assert not questioned.ok
    assert "too little" in questioned.says


def test_a_bath_too_small_for_its_hide_is_a_fault() -> None:
    """A float so short that the alum in it is less than the skin takes up."""
    check = surely(
        sheet_of("alum-salt-bath", ForHideMass(mass_g=3000.0, litres_per_kg=1.0)), "alum-offer"
    )
    assert not check.ok


def test_two_alums_are_not_guessed_at() -> None:
    """It says that nothing is worked out, and why."""
    made = own(water=4000.0, potassium_alum=100.0, ammonium_alum=100.0, washing_soda=50.0)
    assert "more than one alum" in surely(sheet_of(made), "alum-not-known").says


def test_tons_of_alum_are_no_traceback() -> None:
    """A sheet for a lake still comes; it tells no basicity."""
    assert None is check_of(sheet_of("alum-salt-soda-bath", Times(times=1e5)), "basicity")


def test_a_plain_brine_in_degrees() -> None:
    """100 g of salt in 900 g of water at 60 °F: SG 1.0734, 9.9 °Bé, salometer 37.9.

    Source: brine of 10 % weighs 1.0724 kg/L at 60 °F (International Critical Tables, by the fit
    of ``brine``), water 0.9990; 10 / 26.395 = 37.9 %; 145 − 145 / 1.0734 = 9.91.
    """
    liquor = sheet_of(own(water=900.0, salt=100.0), celsius=60.0 / 1.8 - 32.0 / 1.8).liquor
    assert liquor is not None
    assert liquor.degrees is not None
    shows = liquor.degrees.shows
    assert 37.9 == pytest.approx(shows.salometer, abs=0.1)
    assert 9.91 == pytest.approx(shows.baume, abs=0.05)
    assert 73.4 == pytest.approx(shows.barkometer, abs=0.5)
    told = degrees_words(liquor.degrees, "metric")
    assert told.startswith("Spindle at 16 °C: SG 1.07")
    assert told.endswith("barkometer 73.")


def test_what_makes_a_spindle_read_high_is_named() -> None:
    """Citric acid in the brine: the degrees are of the salt alone, and the line says so."""
    liquor = sheet_of("salt-citric-pickle").liquor
    assert liquor is not None
    assert liquor.degrees is not None
    assert ("citric acid",) == liquor.degrees.higher_by
    assert "citric acid will make it read higher" in degrees_words(liquor.degrees, "us")


@pytest.mark.parametrize("formula", ["oil-ammonia-dressing", "alum-flour-paste", "lime-bath"])
def test_no_degrees_where_a_spindle_tells_nothing(formula: str) -> None:
    """An emulsion, a paste, and a bath without salt."""
    liquor = sheet_of(formula, Make(volume_l=5.0)).liquor
    assert liquor is not None
    assert None is liquor.degrees
