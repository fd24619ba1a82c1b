"""The weak acids of a pickle and the acids that neutralising makes: constants, each with a source.

Constants are for endless dilution at 25 °C, per kilogram of water. They move with temperature
by ``ln K(T) = ln K - ΔH/R (1/T - 1/T₀) + ΔC/R (T₀/T - 1 + ln T/T₀)`` (Clarke and Glew, Trans.
Faraday Soc. 62 (1966) 539), ΔH and ΔC being heat and heat capacity of giving off one proton.
"""

import math

import msgspec

from benchconsole.chemistry.activity import KELVIN

GAS_CONSTANT = 8.314462618
REFERENCE_KELVIN = 298.15

_BUFFERS = "Goldberg, Kishore and Lennen, J. Phys. Chem. Ref. Data 31 (2002) 231 (from memory)"
_ORGANIC = "Hummel et al., Chemical Thermodynamics of Organic Ligands, OECD 2005 (from memory)"
_URANIUM = "Guillaumont et al., Update on U, Np, Pu, Am and Tc, OECD 2003, app. B (from memory)"


class Step(msgspec.Struct, frozen=True, kw_only=True):
    """Giving off one proton: pK at 25 °C, kJ/mol and J/(mol K)."""

    pk: float
    heat_kj: float = 0.0
    heat_capacity_j: float = 0.0

    def pk_at(self, celsius: float) -> float:
        """pK at ``celsius``; published heats serve from 0 to 40 °C."""
        kelvin = celsius + KELVIN
        ratio = REFERENCE_KELVIN / kelvin
        heat = 1000.0 * self.heat_kj * (1.0 / kelvin - 1.0 / REFERENCE_KELVIN)
        capacity = self.heat_capacity_j * (ratio - 1.0 - math.log(ratio))
        return self.pk + (heat - capacity) / (GAS_CONSTANT * math.log(10.0))


class Acid(msgspec.Struct, frozen=True, kw_only=True):
    """An acid that gives off its protons one by one.

    ``molar_mass`` in g/mol is of the acid without crystal water. ``steps`` are its weak steps in
    order; ``strong_protons`` were given off before the first of them. ``in_sodium`` holds ε
    (kg/mol, see `benchconsole.chemistry.activity`) of each form from the most acid one on.
    ``doubt`` is what a predicted pH may be off for this acid's constants beyond the usual.
    Raises ValueError when the forms do not match the steps.
    """

    name: str
    molar_mass: float
    steps: tuple[Step, ...]
    in_sodium: tuple[float, ...]
    source: str
    strong_protons: int = 0
    doubt: float = 0.0

    def __post_init__(self) -> None:
        if len(self.in_sodium) != len(self.steps) + 1:
            raise ValueError(f"{self.name} needs one ε more than it has steps")
        if not 0.0 < self.molar_mass < math.inf:
            raise ValueError(f"{self.name} needs a molar mass above 0")


WATER_STEP = Step(pk=13.995, heat_kj=55.815, heat_capacity_j=-224.0)
"""Ionization of water, by the same source as the buffers."""

FORMIC = Acid(
    name="formic acid",
    molar_mass=46.025,
    steps=(Step(pk=3.745, heat_kj=-0.17, heat_capacity_j=-170.0),),
    in_sodium=(0.0, 0.03),
    source=f"pK and heat: NIST database 46 (read); heat capacity from memory; ε: {_URANIUM}",
)
ACETIC = Acid(
    name="acetic acid",
    molar_mass=60.052,
    steps=(Step(pk=4.757, heat_kj=-0.41, heat_capacity_j=-142.0),),
    in_sodium=(0.0, 0.08),
    source=f"pK: NIST database 46 (read); heats: {_BUFFERS}; ε: {_URANIUM}",
)
LACTIC = Acid(
    name="lactic acid",
    molar_mass=90.078,
    steps=(Step(pk=3.86, heat_kj=0.33, heat_capacity_j=-100.0),),
    in_sodium=(0.0, 0.05),
    source=f"pK and heat: {_BUFFERS}; heat capacity and ε guessed between formic and acetic",
    doubt=0.05,
)
OXALIC = Acid(
    name="oxalic acid",
    molar_mass=90.034,
    steps=(
        Step(pk=1.40, heat_kj=-3.9, heat_capacity_j=-231.0),
        Step(pk=4.25, heat_kj=-7.0, heat_capacity_j=-231.0),
    ),
    in_sodium=(0.0, -0.07, -0.08),
    source=f"pK (read) and ε: {_ORGANIC}; heats: {_BUFFERS}; others print 1.25 for the first pK",
    doubt=0.05,
)
CITRIC = Acid(
    name="citric acid",
    molar_mass=192.124,
    steps=(
        Step(pk=3.128, heat_kj=4.07, heat_capacity_j=-131.0),
        Step(pk=4.761, heat_kj=2.23, heat_capacity_j=-178.0),
        Step(pk=6.396, heat_kj=-3.38, heat_capacity_j=-254.0),
    ),
    in_sodium=(0.0, -0.05, -0.04, -0.076),
    source=f"pK: NIST database 46 (read); heats: {_BUFFERS}; ε: {_ORGANIC}",
)
SULPHURIC = Acid(
    name="sulphuric acid",
    molar_mass=98.078,
    steps=(Step(pk=1.987, heat_kj=-22.4, heat_capacity_j=-258.0),),
    in_sodium=(-0.01, -0.12),
    source=f"pK and heats: {_BUFFERS}; ε: {_URANIUM}",
    strong_protons=1,
    doubt=0.05,
)
CARBONIC = Acid(
    name="carbonic acid",
    molar_mass=44.009,
    steps=(
        Step(pk=6.352, heat_kj=9.15, heat_capacity_j=-371.0),
        Step(pk=10.329, heat_kj=14.70, heat_capacity_j=-249.0),
    ),
    in_sodium=(0.0, 0.0, -0.08),
    source=f"pK: NIST database 46 (read); heats: {_BUFFERS}; ε: {_URANIUM}",
)
BORIC = Acid(
    name="boric acid",
    molar_mass=61.833,
    steps=(Step(pk=9.236, heat_kj=13.8, heat_capacity_j=-240.0),),
    in_sodium=(0.0, -0.07),
    source=f"pK: NIST database 46 (read); heats: {_BUFFERS}; ε: {_URANIUM}",
)

PICKLE_ACIDS = (FORMIC, ACETIC, LACTIC, CITRIC, OXALIC, SULPHURIC)
"""Acids whose pH and dose are offered."""

ACIDS: dict[str, Acid] = {acid.name.split()[0]: acid for acid in PICKLE_ACIDS}
"""The same by the word that a substance's ``acid`` holds: ``formic``."""

AIR_CO2_ATM = 4.2e-4
"""Share of carbon dioxide in the open air, 420 ppm."""

_HENRY = Step(pk=1.468, heat_kj=-19.98)


def air_co2_molality(celsius: float) -> float:
    """Carbon dioxide (mol/kg) in water left open to the air at ``celsius``.

    Method: Henry's law with log K = -1.468 and -19.98 kJ/mol at 25 °C (Plummer and Busenberg,
    Geochim. Cosmochim. Acta 46 (1982) 1011; from memory); that salt drives some out is left out.
    """
    return float(AIR_CO2_ATM * 10.0 ** -_HENRY.pk_at(celsius))
