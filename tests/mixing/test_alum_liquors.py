"""Alum at the bench: what is said, and what is refused."""

import math
from collections.abc import Callable

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.chemistry.alkalis import Alkali
from benchconsole.chemistry.alum import AluminiumSalt
from benchconsole.errors import BadInput
from benchconsole.mixing.alum_liquors import (
    alkali_for_basicity,
    alum_offer,
    liquor_basicity,
    same_alkali,
    same_aluminium,
)
from benchconsole.model.shop import Shop

METRIC, US = Shop(measures="metric"), Shop(measures="us")
ALUM, SODA, ASH = AluminiumSalt.POTASSIUM_ALUM, Alkali.WASHING_SODA, Alkali.SODA_ASH


def test_the_right_soda_is_answered_with_the_trap() -> None:
    """4 oz of crystals to a pound is fine; soda ash in its place is named as what spoils it."""
    found = liquor_basicity(ALUM, 453.59, SODA, 113.4, US)
    assert (
        "4 oz of washing-soda crystals makes 1 lb of potassium alum 27.6 % basic; be sure it is "
        "not soda ash, which would make it 74.6 % and throw it out."
    ) == found.says
    assert [Alkali.SODA_MONOHYDRATE, ASH] == [other for other, _ in found.mistaken]
    assert "27.6 %" == found.working.result


def test_the_wrong_soda_is_warned_of_with_what_would_do() -> None:
    """The sentence ends in the most of it that stays below the limit."""
    found = liquor_basicity(ALUM, 453.6, ASH, 113.4, METRIC)
    assert found.throws_out
    assert found.says.endswith("it throws the alum out as white jelly; use at most 67 g.")
    assert not liquor_basicity(ALUM, 453.6, ASH, found.most_alkali_g - 0.01, METRIC).throws_out


def test_between_the_recipes_and_the_limit_a_trial_is_advised() -> None:
    """40 % stays under the limit, but no recipe goes so far."""
    found = alkali_for_basicity(ALUM, 453.6, Alkali.BORAX, 40.0, METRIC)
    assert "try a jar of it first" in found.says
    assert (False, False, ()) == (found.clear, found.throws_out, found.mistaken)
    assert 0.40 == pytest.approx(found.basicity)


def test_another_salt_and_another_soda() -> None:
    """1 kg of alum is 702 g of sulphate; 4 oz of crystals are 1.5 oz of ash."""
    sulphate = same_aluminium(ALUM, 1000.0, AluminiumSalt.SULPHATE, METRIC)
    assert sulphate.says.startswith("702 g of aluminium sulphate")
    assert same_alkali(SODA, 113.4, ASH, US).says.startswith("1.5 oz of soda ash")


def test_an_offer_is_told_without_an_exponent_and_an_absurd_one_is_refused() -> None:
    """Five times the hide's weight is 500 %; 454 g of alum to a gram of hide is a slip."""
    assert "offers 500 % alum (54 % Al2O3)" in alum_offer(ALUM, 5000.0, 1000.0, METRIC).says
    with pytest.raises(BadInput, match="more than 10 times its own weight") as refusal:
        alum_offer(ALUM, 454.0, 1.0, METRIC)
    assert "hide weight" == refusal.value.field


@settings(max_examples=30)
@given(
    st.sampled_from(AluminiumSalt),
    st.sampled_from(Alkali),
    st.sampled_from(Alkali),
    st.floats(1.0, 1e5),
    st.floats(0.0, 100.0),
)
def test_an_exchanged_alkali_keeps_the_basicity(
    salt: AluminiumSalt, alkali: Alkali, other: Alkali, alum_g: float, percent: float
) -> None:
    """The dose for a basicity gives it, and so does any other alkali in its place."""
    dose = alkali_for_basicity(salt, alum_g, alkali, percent, METRIC)
    instead = same_alkali(alkali, dose.alkali_g, other, METRIC).instead_g
    again = liquor_basicity(salt, alum_g, other, instead, METRIC)
    assert percent / 100.0 == pytest.approx(again.basicity, abs=1e-9)


@pytest.mark.parametrize(
    ("ask", "field"),
    [
        (lambda: liquor_basicity(ALUM, 0.0, SODA, 1.0, METRIC), "weight of alum"),
        (lambda: liquor_basicity(ALUM, 1.0, SODA, math.nan, METRIC), "weight of soda"),
        (lambda: alkali_for_basicity(ALUM, 1.0, SODA, 100.1, METRIC), "basicity"),
        (lambda: alum_offer(ALUM, 1.0, 0.0, METRIC), "hide weight"),
        (lambda: same_aluminium(ALUM, -1.0, ALUM, METRIC), "weight of alum"),
        (lambda: same_alkali(SODA, math.inf, ASH, METRIC), "weight of soda"),
    ],
)
def test_what_is_no_amount_is_refused(ask: Callable[[], object], field: str) -> None:
    """One sentence with the field and an example that works."""
    with pytest.raises(BadInput) as refusal:
        ask()
    assert field == refusal.value.field
    assert refusal.value.example
