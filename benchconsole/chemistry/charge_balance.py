"""The base that a liquor of known acids holds at a pH, and the pH at which it holds a known base.

*Base* is the sodium that came with anything but salt (bicarbonate, borax, the salt of an acid),
in moles per kilogram of water. Charges must balance, so at any pH it is ``Σ z m(anions) + m(OH⁻) -
m(H⁺)``. That rises with pH, which makes every dose a difference of two evaluations and the pH a
bisection. The activity coefficients depend on the answer; repeating settles them quickly.
"""

import math
from collections.abc import Iterable

import msgspec

from benchconsole.chemistry.acids import CARBONIC, WATER_STEP, Acid, air_co2_molality
from benchconsole.chemistry.activity import (
    HYDROGEN_IN_CHLORIDE,
    HYDROXIDE_IN_SODIUM,
    crowding,
    debye_hueckel_slope,
)
from benchconsole.chemistry.limits import OutOfRange, require_within

LOWEST_PH = -0.5

#: Above this the carbon dioxide that the air would feed in is no longer a small thing.
HIGHEST_OPEN_PH = 9.0
HIGHEST_CLOSED_PH = 13.0

# Rounds allowed for the ionic strength to settle; eight do even in strong acid.
_ROUNDS = 40
_SETTLED = 1e-11

# Halvings that bring the 13.5 units between the limits below 1e-9.
_HALVINGS = 34


class Dissolved(msgspec.Struct, frozen=True, kw_only=True):
    """One acid in the bath, ready for arithmetic: mol/kg, and a line for each of its forms.

    A form is (number of negative charges, protons given off, summed pK, ε in sodium). With
    ``gas`` the molality is that of the first form alone, held by the air, instead of the sum.
    """

    molality: float
    forms: tuple[tuple[int, int, float, float], ...]
    gas: bool = False


class Bath(msgspec.Struct, frozen=True, kw_only=True):
    """Everything in one kilogram of water that does not change with pH."""

    salt_molality: float
    slope: float
    water_pk: float
    dissolved: tuple[Dissolved, ...]
    highest_ph: float


def make_bath(
    acids: Iterable[tuple[Acid, float]],
    salt_molality: float,
    celsius: float,
    *,
    open_to_air: bool,
) -> Bath:
    """A bath of acids (mol/kg each) in brine at ``celsius``, with or without the air's CO₂.

    Raises `OutOfRange` outside 0 to 40 °C.
    """
    slope = debye_hueckel_slope(celsius)
    dissolved = [_dissolved(acid, molality, celsius) for acid, molality in acids if molality > 0.0]
    if open_to_air:
        dissolved.append(_dissolved(CARBONIC, air_co2_molality(celsius), celsius, gas=True))
    return Bath(
        salt_molality=salt_molality,
        slope=slope,
        water_pk=WATER_STEP.pk_at(celsius),
        dissolved=tuple(dissolved),
        highest_ph=HIGHEST_OPEN_PH if open_to_air else HIGHEST_CLOSED_PH,
    )


def with_acid(bath: Bath, acid: Acid, molality: float, celsius: float) -> Bath:
    """The same bath with ``molality`` (mol/kg) more of an acid."""
    more = _dissolved(acid, molality, celsius)
    return msgspec.structs.replace(bath, dissolved=(*bath.dissolved, more))


def base_held(bath: Bath, ph: float) -> float:
    """Moles of base per kilogram of water in ``bath`` when it shows ``ph``; below 0 for more acid
    than the bath is said to hold. Raises `OutOfRange` for a pH the law does not reach."""
    require_within("pH", ph, LOWEST_PH, bath.highest_ph, "")
    return _settle(bath, ph, bath.salt_molality + 10.0**-ph)[0]


def balanced_ph(bath: Bath, base_molality: float) -> float:
    """The pH at which ``bath`` holds ``base_molality`` moles of base per kilogram of water.

    Raises `OutOfRange` when it lies outside the pH the law reaches.
    """
    low, high = LOWEST_PH, bath.highest_ph
    least, most = base_held(bath, low), base_held(bath, high)
    if not least <= base_molality <= most:
        raise OutOfRange("base in the liquor", base_molality, least, most, "mol/kg")
    strength = bath.salt_molality + 0.1
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        base, strength = _settle(bath, middle, strength)
        if base < base_molality:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)


def _settle(bath: Bath, ph: float, strength: float) -> tuple[float, float]:
    """Base held and ionic strength at ``ph``, beginning from a guess of the latter."""
    salt = bath.salt_molality
    sodium = chloride = salt
    base = 0.0
    for _ in range(_ROUNDS):
        d = crowding(bath.slope, strength)
        hydrogen = 10.0 ** (d - ph - HYDROGEN_IN_CHLORIDE * chloride)
        hydroxide = 10.0 ** (ph - bath.water_pk + d - HYDROXIDE_IN_SODIUM * sodium)
        charge, squares = hydroxide, hydrogen + hydroxide
        for solute in bath.dissolved:
            more_charge, more_squares = _charges(solute, ph, d, sodium)
            charge += more_charge
            squares += more_squares
        base = charge - hydrogen
        # Acid beyond what the bath is said to hold is counted as hydrochloric.
        sodium, chloride = salt + max(base, 0.0), salt + max(-base, 0.0)
        settled = 0.5 * (squares + sodium + chloride)
        change, strength = abs(settled - strength), settled
        if change <= _SETTLED * (1.0 + strength):
            break
    return base, strength


def _charges(solute: Dissolved, ph: float, d: float, sodium: float) -> tuple[float, float]:
    """Negative charge of one acid's forms, and the sum of their charges squared, mol/kg."""
    weight = charge = squares = 0.0
    for z, protons, pk, interaction in solute.forms:
        amount = 10.0 ** (protons * ph - pk + z * z * d - interaction * sodium)
        weight += amount
        charge += z * amount
        squares += z * z * amount
    scale = solute.molality if solute.gas else solute.molality / weight
    return scale * charge, scale * squares


def _dissolved(acid: Acid, molality: float, celsius: float, *, gas: bool = False) -> Dissolved:
    forms = [(acid.strong_protons, 0, 0.0, acid.in_sodium[0])]
    pk = 0.0
    for protons, step in enumerate(acid.steps, start=1):
        pk += step.pk_at(celsius)
        forms.append((acid.strong_protons + protons, protons, pk, acid.in_sodium[protons]))
    if not 0.0 <= molality < math.inf:
        raise OutOfRange(acid.name, molality, 0.0, math.inf, "mol/kg")
    return Dissolved(molality=molality, forms=tuple(forms), gas=gas)
