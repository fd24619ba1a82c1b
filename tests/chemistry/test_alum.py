"""Aluminium salts and alkalis: the laws their sums must keep, whatever the molar masses."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.chemistry import OutOfRange
from benchconsole.chemistry.alkalis import Alkali
from benchconsole.chemistry.alum import (
    AluminiumSalt,
    alkali_g,
    alumina_g,
    aluminium_mol,
    aluminium_salt_g,
    basicity,
    hydroxyl_for,
    hydroxyl_mol,
)

salts = st.sampled_from(AluminiumSalt)
alkalis = st.sampled_from(Alkali)
weights = st.floats(0.1, 1e6)
shares = st.floats(0.0, 1.0)


@settings(max_examples=40)
@given(salts, alkalis, weights)
def test_moles_and_grams_are_inverse(salt: AluminiumSalt, alkali: Alkali, grams: float) -> None:
    """Grams come back from the moles of aluminium or of acid that they hold."""
    assert grams == pytest.approx(aluminium_salt_g(salt, aluminium_mol(salt, grams)))
    assert grams == pytest.approx(alkali_g(alkali, hydroxyl_mol(alkali, grams)))


@settings(max_examples=40)
@given(salts, alkalis, weights, shares)
def test_the_alkali_for_a_basicity_gives_it(
    salt: AluminiumSalt, alkali: Alkali, alum_g: float, share: float
) -> None:
    """The dose for a basicity, weighed in, is that basicity."""
    aluminium = aluminium_mol(salt, alum_g)
    dose = alkali_g(alkali, hydroxyl_for(aluminium, share))
    assert share == pytest.approx(basicity(aluminium, hydroxyl_mol(alkali, dose)), abs=1e-12)


@settings(max_examples=40)
@given(salts, alkalis, weights, weights, st.floats(1.001, 10.0))
def test_basicity_rises_with_alkali_and_falls_with_alum(
    salt: AluminiumSalt, alkali: Alkali, alum_g: float, soda_g: float, more: float
) -> None:
    """More soda is more basic, more alum less, and both together the same."""
    aluminium, hydroxyl = aluminium_mol(salt, alum_g), hydroxyl_mol(alkali, soda_g)
    here = basicity(aluminium, hydroxyl)
    assert here < basicity(aluminium, more * hydroxyl)
    assert here > basicity(more * aluminium, hydroxyl)
    assert here == pytest.approx(basicity(more * aluminium, more * hydroxyl))


@given(weights)
@settings(max_examples=20)
def test_the_same_aluminium_is_the_same_oxide(grams: float) -> None:
    """Exchanged salts hold equal Al2O3."""
    moles = aluminium_mol(AluminiumSalt.POTASSIUM_ALUM, grams)
    oxides = [alumina_g(salt, aluminium_salt_g(salt, moles)) for salt in AluminiumSalt]
    assert pytest.approx(oxides[0]) == oxides[1]
    assert pytest.approx(oxides[0]) == oxides[2]


@pytest.mark.parametrize("grams", [-1.0, math.nan, math.inf])
def test_a_weight_that_is_none_is_refused(grams: float) -> None:
    """Below zero, endless or no number, for salt and alkali alike."""
    with pytest.raises(OutOfRange, match="potassium-alum"):
        aluminium_mol(AluminiumSalt.POTASSIUM_ALUM, grams)
    with pytest.raises(OutOfRange, match="borax"):
        hydroxyl_mol(Alkali.BORAX, grams)


def test_no_aluminium_has_no_basicity() -> None:
    """Soda alone is refused, not divided by zero; a basicity past 1 is not asked for."""
    with pytest.raises(OutOfRange, match="moles of aluminium"):
        basicity(0.0, 1.0)
    with pytest.raises(OutOfRange, match="basicity"):
        hydroxyl_for(1.0, 1.01)
