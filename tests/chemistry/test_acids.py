"""Acid records and the molality of a litre of brine: what must hold for any figures."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.chemistry import OutOfRange, brine_density
from benchconsole.chemistry.acids import (
    ACETIC,
    BORIC,
    CARBONIC,
    PICKLE_ACIDS,
    WATER_STEP,
    Acid,
    Step,
    air_co2_molality,
)
from benchconsole.chemistry.activity import crowding, debye_hueckel_slope
from benchconsole.chemistry.molality import (
    STRONGEST_SALT_G_PER_L,
    salt_fraction_of_litre,
    water_kg_per_l,
)

EVERY_ACID = (*PICKLE_ACIDS, CARBONIC, BORIC)


@pytest.mark.parametrize("acid", EVERY_ACID, ids=lambda acid: acid.name)
def test_protons_leave_in_order(acid: Acid) -> None:
    """Each proton is held more tightly than the one before at every bench temperature, and each
    acid names where its figures come from."""
    assert acid.source
    for celsius in (0.0, 20.0, 40.0):
        pks = [step.pk_at(celsius) for step in acid.steps]
        assert sorted(pks) == pks


def test_pk_is_the_published_one_at_25_degrees() -> None:
    """The law of temperature leaves the figure alone where it was measured."""
    assert ACETIC.steps[0].pk == pytest.approx(ACETIC.steps[0].pk_at(25.0), abs=1e-12)


@pytest.mark.parametrize(("celsius", "pk"), [(0.0, 14.95), (10.0, 14.53), (40.0, 13.53)])
def test_water_over_temperature(celsius: float, pk: float) -> None:
    """CRC Handbook, ionization constant of water (from memory): the published heats carry the
    constant from 25 °C to both ends of the range."""
    assert pk == pytest.approx(WATER_STEP.pk_at(celsius), abs=0.02)


@pytest.mark.parametrize(("celsius", "slope"), [(0.0, 0.491), (25.0, 0.509), (40.0, 0.524)])
def test_slope_over_temperature(celsius: float, slope: float) -> None:
    """OECD guidelines for ionic strength corrections, table of A (from memory)."""
    assert slope == pytest.approx(debye_hueckel_slope(celsius), abs=0.003)


def test_air_leaves_less_gas_in_warm_water() -> None:
    """Carbon dioxide from the air: about 14 µmol/kg at 25 °C, more when cold."""
    assert 1.43e-5 == pytest.approx(air_co2_molality(25.0), rel=0.01)
    assert air_co2_molality(0.0) > air_co2_molality(25.0) > air_co2_molality(40.0)


@given(st.floats(0.0, STRONGEST_SALT_G_PER_L))
@settings(max_examples=50)
def test_salt_of_a_litre(salt_g_per_l: float) -> None:
    """Fraction times density gives the grams back; salt and water are the whole litre."""
    fraction = salt_fraction_of_litre(salt_g_per_l)
    density = brine_density(fraction, 20.0)
    assert salt_g_per_l == pytest.approx(fraction * density, abs=1e-9)
    assert density == pytest.approx(1000 * water_kg_per_l(salt_g_per_l) + salt_g_per_l, abs=1e-9)


@given(st.floats(0.0, 10.0), st.floats(0.0, 10.0))
@settings(max_examples=30)
def test_crowding_grows(one: float, other: float) -> None:
    """More ions never crowd less, and none do not crowd at all."""
    low, high = sorted((one, other))
    assert 0.0 == crowding(0.5, 0.0) <= crowding(0.5, low) <= crowding(0.5, high)


@pytest.mark.parametrize("celsius", [-0.1, 40.1, float("nan")])
def test_slope_refuses_other_temperatures(celsius: float) -> None:
    """The slope is offered from 0 to 40 °C and for nothing else."""
    with pytest.raises(OutOfRange, match="liquor temperature"):
        debye_hueckel_slope(celsius)


@pytest.mark.parametrize("salt", [-1.0, 191.0, float("inf"), float("nan")])
def test_litre_refuses_other_salt(salt: float) -> None:
    """More salt than the activity law serves, or no number, is refused."""
    with pytest.raises(OutOfRange, match="salt"):
        water_kg_per_l(salt)


def test_records_that_make_no_acid() -> None:
    """A form too few, or no mass, is a fault of the one who writes the record."""
    with pytest.raises(ValueError, match="one ε more"):
        Acid(name="x", molar_mass=50, steps=(Step(pk=4),), in_sodium=(0.0,), source="made up")
    with pytest.raises(ValueError, match="molar mass"):
        Acid(name="x", molar_mass=0, steps=(Step(pk=4),), in_sodium=(0.0, 0.0), source="made up")
