"""Density of pure water."""

from benchconsole.chemistry.limits import require_within

COLDEST_WATER = 0.0
HOTTEST_WATER = 100.0


def water_density(celsius: float) -> float:
    """Density in kg/m³ of air-free water at ``celsius`` (0 to 100 °C) and one atmosphere.

    Method: Kell, J. Chem. Eng. Data 20 (1975) 97, equation for 101.325 kPa; within 0.006 kg/m³
    of IAPWS-95 from 0 to 60 °C. Raises `OutOfRange` for ice and steam.
    """
    require_within("water temperature", celsius, COLDEST_WATER, HOTTEST_WATER, "°C")
    t = celsius
    numerator = 999.83952 + t * (
        16.945176
        + t * (-7.9870401e-3 + t * (-46.170461e-6 + t * (105.56302e-9 - 280.54253e-12 * t)))
    )
    # The denominator is often copied with two digits swapped (16.897...e-3), which makes water
    # 0.27 kg/m³ too light at 20 °C.
    return numerator / (1.0 + 16.879850e-3 * t)
