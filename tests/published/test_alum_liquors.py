"""Alum equivalents, basicities and take-up against the books that print them."""

import pytest

from benchconsole.chemistry.alkalis import Alkali
from benchconsole.chemistry.alum import (
    CLEAR_UP_TO,
    THROWS_OUT_ABOVE,
    AluminiumSalt,
    alkali_g,
    alumina_g,
    aluminium_mol,
    aluminium_salt_g,
    basicity,
    hydroxyl_mol,
)
from benchconsole.library import shipped_library
from benchconsole.mixing.alum_liquors import alum_offer, liquor_basicity
from benchconsole.model.shop import Shop

POTASSIUM, AMMONIUM, SULPHATE = AluminiumSalt
BICARBONATE, BORAX, CRYSTALS, MONOHYDRATE, ASH = Alkali
SHOP = Shop(measures="metric")


def percent(salt: AluminiumSalt, alum: float, alkali: Alkali, soda: float) -> float:
    """Basicity in per cent of these parts by weight."""
    return 100.0 * basicity(aluminium_mol(salt, alum), hydroxyl_mol(alkali, soda))


@pytest.mark.parametrize(("salt", "parts"), [(POTASSIUM, 948), (AMMONIUM, 906), (SULPHATE, 666)])
def test_equivalent_parts_of_the_aluminium_salts(salt: AluminiumSalt, parts: float) -> None:
    """The Principles of Leather Manufacture (1903), ch. XIV [read]: 948 = 906 = 666 parts.

    They are two molecules of each alum in the atomic weights of the time, within 0.1 %.
    """
    assert parts == pytest.approx(aluminium_salt_g(salt, 2.0), rel=0.001)


def test_sulphate_is_about_one_and_a_half_times_as_strong() -> None:
    """Principles and Practice of Fur Dressing and Fur Dyeing (1922), ch. V [read]: "about one

    and a half times" alum; of the two alums that makes 1.36 to 1.42 here.
    """
    grams = [aluminium_salt_g(alum, aluminium_mol(SULPHATE, 1.0)) for alum in (AMMONIUM, POTASSIUM)]
    assert [1.36, 1.42] == pytest.approx(grams, abs=0.005)


def test_alumina_in_the_crystals() -> None:
    """Potassium alum 10.7 to 10.8 %, ammonium alum 11.2 to 11.3 %, sulphate 15.3 % Al2O3

    (technical handbooks, from memory).
    """
    shares = [100.0 * alumina_g(salt, 1.0) for salt in (POTASSIUM, AMMONIUM, SULPHATE)]
    assert [10.75, 11.25, 15.3] == pytest.approx(shares, abs=0.05)


def test_one_gram_of_soda_crystals_in_the_other_two() -> None:
    """0.433 g of monohydrate, 0.370 g of ash (atomic weights)."""
    moles = hydroxyl_mol(CRYSTALS, 1.0)
    assert [0.433, 0.370] == pytest.approx(
        [alkali_g(MONOHYDRATE, moles), alkali_g(ASH, moles)], abs=0.0005
    )


@pytest.mark.parametrize(
    ("alkali", "grams"), [(BICARBONATE, 1.713), (BORAX, 3.889), (CRYSTALS, 2.918), (ASH, 1.081)]
)
def test_alkali_for_a_gram_of_sulphuric_acid(alkali: Alkali, grams: float) -> None:
    """2 mol of acid in 98.079 g: the doses of neutralising tables (computed, atomic weights)."""
    assert grams == pytest.approx(alkali_g(alkali, 2.0 / 98.079), abs=0.002)


@pytest.mark.parametrize(
    ("salt", "alkali", "basic"),
    [
        (POTASSIUM, CRYSTALS, 27.6),
        (POTASSIUM, MONOHYDRATE, 63.8),
        (POTASSIUM, ASH, 74.6),
        (AMMONIUM, CRYSTALS, 26.4),
        (AMMONIUM, MONOHYDRATE, 60.9),
        (AMMONIUM, ASH, 71.3),
    ],
)
def test_two_part_bath(salt: AluminiumSalt, alkali: Alkali, basic: float) -> None:
    """Guide L-103 and Raising Small Animals, pp. 42-43 [read]: 1 lb alum, 4 oz soda crystals.

    The other sodas gram for gram are the trap: both are far past the limit (computed).
    """
    assert basic == pytest.approx(percent(salt, 16.0, alkali, 4.0), abs=0.05)
    assert (alkali is not CRYSTALS) == liquor_basicity(salt, 454, alkali, 113.5, SHOP).throws_out


@pytest.mark.parametrize(("alkali", "basic"), [(CRYSTALS, 31.1), (MONOHYDRATE, 71.7), (ASH, 83.8)])
def test_basic_sulphate_stock(alkali: Alkali, basic: float) -> None:
    """The Principles of Leather Manufacture (1903), ch. XIV [read]: 10 lb aluminium sulphate,

    4 lb washing soda, which stays clear; 31.1 % is the most basic stock printed there.
    """
    assert basic == pytest.approx(percent(SULPHATE, 10.0, alkali, 4.0), abs=0.05)
    assert (alkali is CRYSTALS) == liquor_basicity(SULPHATE, 10.0, alkali, 4.0, SHOP).clear
    assert 100.0 * CLEAR_UP_TO == pytest.approx(percent(SULPHATE, 10.0, CRYSTALS, 4.0), abs=0.02)


def test_the_limit_before_alum_is_thrown_out() -> None:
    """The Principles of Leather Manufacture (1903), ch. XIV [read]: about 4 parts of crystal soda

    to 10 of alum, 44.2 % of potassium alum.
    """
    assert 44.2 == pytest.approx(percent(POTASSIUM, 10.0, CRYSTALS, 4.0), abs=0.05)
    assert 44.2 == pytest.approx(100.0 * THROWS_OUT_ABOVE, abs=0.05)
    assert not liquor_basicity(POTASSIUM, 10.0, CRYSTALS, 3.99, SHOP).throws_out
    assert liquor_basicity(POTASSIUM, 10.0, CRYSTALS, 4.01, SHOP).throws_out


def test_both_baths_offer_far_more_than_skin_takes() -> None:
    """Principles and Practice of Fur Dressing and Fur Dyeing (1922), ch. V [read]: skin takes

    about 6 % alum. Guide L-103's bath at 5.7 L/kg offers 45 %, one pound of ammonium alum to a
    deer skin of 3 kg 15 % by weight, 16 % as potassium alum (computed).
    """
    small = alum_offer(POTASSIUM, 453.6, 1000.0, SHOP)
    deer = alum_offer(AMMONIUM, 453.6, 3000.0, SHOP)
    assert 45.4 == pytest.approx(small.alum_percent, abs=0.05)
    assert 15.1 * 948 / 906 == pytest.approx(deer.alum_percent, abs=0.05)
    assert "takes up about 60 g" in small.says
    assert "takes up about 180 g" in deer.says
    assert small.enough
    assert deer.enough
    assert not alum_offer(POTASSIUM, 179.0, 3000.0, SHOP).enough


def test_molar_masses_are_those_of_the_library() -> None:
    """One gram is as many moles here as by the library's own molar mass, where it has one."""
    substances = shipped_library().substances
    masses = {str(salt): aluminium_salt_g(salt, 1.0) for salt in (POTASSIUM, AMMONIUM)}
    masses |= {
        "washing-soda": alkali_g(CRYSTALS, 2.0),
        "sodium-bicarbonate": alkali_g(BICARBONATE, 1.0),
        "borax": alkali_g(BORAX, 2.0),
    }
    for key, mass in masses.items():
        assert mass == pytest.approx(substances[key].molar_mass, rel=1e-4)
