"""Acid as it is sold against 100 % acid: a strength by mass and a density say it all."""

from benchconsole.chemistry.limits import OutOfRange, require_amount

#: Densities a bottle of acid can have, kg/m³; the heaviest sold is concentrated sulphuric.
LIGHTEST = 700.0
HEAVIEST = 2000.0


def pure_g_per_ml(mass_fraction: float, density_kg_m3: float) -> float:
    """Grams of 100 % acid in a millilitre of acid as sold.

    ``mass_fraction`` is grams pure per gram (85 % w/w = 0.85; a crystal counts its water: oxalic
    acid dihydrate 0.714, citric acid monohydrate 0.914). Raises `OutOfRange` for a fraction
    outside 0 to 1 (0 left out) or a density outside 700 to 2000 kg/m³.
    """
    _require_strength(mass_fraction, density_kg_m3)
    return mass_fraction * density_kg_m3 / 1000.0


def mass_fraction(pure_g_per_ml: float, density_kg_m3: float) -> float:
    """Grams pure per gram of acid as sold, from grams pure per millilitre: a label in % w/v.

    Raises `OutOfRange` as `pure_g_per_ml` does.
    """
    if not LIGHTEST <= density_kg_m3 <= HEAVIEST:
        raise OutOfRange("density of the acid", density_kg_m3, LIGHTEST, HEAVIEST, "kg/m³")
    fraction = 1000.0 * pure_g_per_ml / density_kg_m3
    _require_strength(fraction, density_kg_m3)
    return fraction


def acid_as_sold_g(pure_g: float, mass_fraction: float) -> float:
    """Grams of acid as sold that hold ``pure_g`` grams of 100 % acid. Raises `OutOfRange`."""
    require_amount("mass of acid", pure_g)
    _require_strength(mass_fraction, LIGHTEST)
    return pure_g / mass_fraction


def acid_as_sold_ml(pure_g: float, mass_fraction: float, density_kg_m3: float) -> float:
    """Millilitres of acid as sold that hold ``pure_g`` grams of 100 % acid. Raises `OutOfRange`."""
    require_amount("mass of acid", pure_g)
    return pure_g / pure_g_per_ml(mass_fraction, density_kg_m3)


def pure_g(as_sold_ml: float, mass_fraction: float, density_kg_m3: float) -> float:
    """Grams of 100 % acid in ``as_sold_ml`` millilitres of acid as sold. Raises `OutOfRange`."""
    require_amount("volume of acid", as_sold_ml)
    return as_sold_ml * pure_g_per_ml(mass_fraction, density_kg_m3)


def _require_strength(mass_fraction: float, density_kg_m3: float) -> None:
    if not 0.0 < mass_fraction <= 1.0:
        raise OutOfRange("strength of the acid", 100.0 * mass_fraction, 0.0, 100.0, "%")
    if not LIGHTEST <= density_kg_m3 <= HEAVIEST:
        raise OutOfRange("density of the acid", density_kg_m3, LIGHTEST, HEAVIEST, "kg/m³")
