"""How salt changes what an ion does: activity coefficients by specific ion interaction (SIT).

Method: ``log10 γ = -z² D + Σ ε m``, with ``D = A √I / (1 + 1.5 √I)`` and ε of an ion summed over
the molalities m of the ions of the other sign (Grenthe, Plyasunov and Spahiu, in Modelling in
Aquatic Chemistry, OECD 1997, ch. IX: good to 3.5 mol/kg; from memory). Only sodium and chloride
are counted as partners: all else in a pickle is little beside them. ε is that of 25 °C at
every temperature.
"""

import math

from benchconsole.chemistry.limits import require_within
from benchconsole.chemistry.water import water_density

COLDEST = 0.0
HOTTEST = 40.0
KELVIN = 273.15

#: Factor of √I in the denominator of D, by convention of the SIT.
SIT_DISTANCE = 1.5

#: ε(H⁺, Cl⁻) and ε(Na⁺, OH⁻) in kg/mol: Guillaumont et al., Update on the Chemical Thermodynamics
#: of U, Np, Pu, Am and Tc, OECD 2003, appendix B (from memory).
HYDROGEN_IN_CHLORIDE = 0.12
HYDROXIDE_IN_SODIUM = 0.04

# A of Debye and Hückel from density in g/cm³, permittivity and kelvin (Robinson and Stokes,
# Electrolyte Solutions, 2nd ed. 1970; from memory).
_SLOPE_CONSTANT = 1.8248e6


def debye_hueckel_slope(celsius: float) -> float:
    """A in ``log10 γ = -A z² √I`` for water at ``celsius`` (0 to 40 °C), kg½/mol½.

    Permittivity of water after Malmberg and Maryott, J. Res. NBS 56 (1956) 1 (from memory).
    Raises `OutOfRange` elsewhere.
    """
    require_within("liquor temperature", celsius, COLDEST, HOTTEST, "°C")
    t = celsius
    permittivity = 87.740 + t * (-0.40008 + t * (9.398e-4 - 1.410e-6 * t))
    grams_per_cm3 = water_density(t) / 1000.0
    return float(_SLOPE_CONSTANT * math.sqrt(grams_per_cm3) / (permittivity * (t + KELVIN)) ** 1.5)


def crowding(slope: float, ionic_strength: float) -> float:
    """D of the method above for ``slope`` A and an ionic strength in mol/kg."""
    root = math.sqrt(ionic_strength)
    return slope * root / (1.0 + SIT_DISTANCE * root)
