"""The further shipped formulas against the strengths that the printed recipes amount to.

Grams per litre of the water the recipe names, our arithmetic on the figures of the source named
beside each row, with 1 US gallon = 3.785 L, 1 Imperial gallon = 4.546 L, 1 lb = 453.6 g. Acids
count as pure acid where the recipe states a percentage, as sold where it states a weight.
"""

from collections.abc import Callable

import pytest

from benchconsole.library import shipped_library
from benchconsole.mixing.liquors import grams_of, liquor_figures
from benchconsole.model.formulas import Formula

LIBRARY = shipped_library()
CELSIUS = 20.0


def grams(formula: Formula, *, pure: bool = False) -> dict[str, float]:
    """Grams of each substance, of pure acid if asked so."""
    found: dict[str, float] = {}
    for part in formula.parts:
        for ingredient in part.ingredients:
            substance = LIBRARY.substance(ingredient.substance)
            mass = grams_of(ingredient, substance, CELSIUS)
            if pure and substance.strength is not None:
                mass *= substance.strength.value
            found[substance.id] = found.get(substance.id, 0.0) + mass
    return found


def water_l(formula: Formula) -> float:
    """Litres of water the recipe names."""
    return sum(
        ingredient.volume_l or 0.0
        for part in formula.parts
        for ingredient in part.ingredients
        if ingredient.substance == "water"
    )


# Formula, substance, g/L, what is printed and where. "read" unless a row says otherwise.
AS_PRINTED = [
    # Dictionary of bookbinding (1982) and The Principles of Leather Manufacture (1903), ch. VI:
    # 30 lb to 10 US gal, saturated.
    ("brine-cure", "salt", 359.4),
    # Fur Dressing (1922), ch. IV: borax 1/4 %. Principles (1903), ch. XI: borax 1 %.
    ("soak-borax", "borax", 2.5),
    ("soak-borax-hides", "borax", 10.0),
    # Forum threads: 4 oz, and 1 lb, to the US gallon.
    ("salt-rinse", "salt", 29.96),
    ("swelling-rescue", "salt", 119.8),
    # Raising Small Animals, pp. 42-43: 1 oz to the gallon; with 4 oz of salt (forum threads).
    ("pickle-neutralising-rinse", "sodium-bicarbonate", 7.49),
    ("pickle-neutralising-rinse", "salt", 29.96),
    # Fur Dressing (1922), ch. V: salt about 10 %, sulphuric acid 1/2 oz (weight) to the US gallon.
    ("sulphuric-fur-pickle", "salt", 99.9),
    ("sulphuric-fur-pickle", "sulphuric-acid", 3.74),
    ("salt-formic-pickle", "salt", 100.0),
    # Home Taxidermy (1916): 1 quart of salt taken as 1 3/4 lb (Taxidermy, 1891); 4 oz oxalic acid
    # to 2 US gallons.
    ("salt-sulphuric-pickle", "salt", 209.7),
    ("salt-oxalic-pickle", "salt", 104.9),
    ("salt-oxalic-pickle", "oxalic-acid", 14.98),
    # Raising Small Animals, p. 43: 1 lb of salt, 1/2 oz of acid to the US gallon.
    ("salt-acid-pickle", "salt", 119.8),
    ("salt-acid-pickle", "sulphuric-acid", 3.74),
    # Rabbit leaflets: 1 lb of salt, 4 oz of battery acid to 2 US gallons.
    ("battery-acid-pickle", "salt", 59.9),
    ("battery-acid-pickle", "battery-acid", 14.98),
    # Principles (1903), ch. IX: 80 g of salt, 7.5 g of acid to the litre.
    ("rising-pickle", "salt", 80.0),
    ("rising-pickle", "sulphuric-acid", 7.5),
    # Guide L-103: as the bath of 1 lb alum, 4 oz soda, 8 oz salt in 1 1/2 gal.
    ("alum-soda-paste", "potassium-alum", 79.9),
    ("alum-soda-paste", "washing-soda", 19.97),
    ("alum-soda-paste", "salt", 39.9),
    # Fur Dressing (1922), ch. V: 7 1/2 lb alum, 3 lb salt, 20 US gal.
    ("alum-salt-fur-bath", "potassium-alum", 44.9),
    ("alum-salt-fur-bath", "salt", 17.97),
    # The same chapter: 4 lb alum, 3 lb salt, 4 lb flour, 8 US gal.
    ("alum-flour-paste", "potassium-alum", 59.9),
    ("alum-flour-paste", "salt", 44.9),
    ("alum-flour-paste", "flour", 59.9),
    # Principles (1903), ch. XIV: 1 lb alum, 1/2 lb salt to the Imperial gallon.
    ("alum-brush", "potassium-alum", 99.8),
    ("alum-brush", "salt", 49.9),
    # The same chapter: 10 lb aluminium sulphate in 10, 4 lb washing soda in 4 Imperial gallons.
    ("basic-alum-stock", "aluminium-sulphate", 71.3),
    ("basic-alum-stock", "washing-soda", 28.5),
    # Taxidermy (1891): 3/4 lb alum, 1 3/4 lb salt to the US gallon.
    ("salt-alum-keeping-bath", "potassium-alum", 89.9),
    ("salt-alum-keeping-bath", "salt", 209.7),
    # Farmers' Bulletin 1334 (1923), from memory: 12 lb alum, 3 lb soda, 6 lb salt, 20 US gal.
    ("lace-leather-bath", "potassium-alum", 71.9),
    ("lace-leather-bath", "washing-soda", 17.97),
    ("lace-leather-bath", "salt", 35.9),
    # Hobby journal (2002, no. 4): 50 g of salt to the litre.
    ("willow-bark-liquor", "salt", 50.0),
    # How-to pages: 2 lb of slaked lime in 5 US gal.
    ("lime-ash-bath", "hydrated-lime", 47.9),
    # New Zealand Herald (1932): 5 lb in 15 to 20 Imperial gallons, 25 to 33 g/L.
    ("lime-bath-cattle", "hydrated-lime", 28.5),
    # How-to pages: 1 lb of brain in 2 US gal.
    ("brain-dressing", "brain", 59.9),
    # Homestead pages: 1/2 oz of soap and of oil to the US pint (0.4732 L).
    ("soap-oil-soak", "soap", 29.96),
    ("soap-oil-soak", "neatsfoot-oil", 29.96),
]


@pytest.mark.parametrize(("formula", "substance", "g_per_l"), AS_PRINTED)
def test_grams_per_litre_as_printed(formula: str, substance: str, g_per_l: float) -> None:
    """Each row recomputes the printed recipe; its source stands above it."""
    found = LIBRARY.formula(formula)
    assert pytest.approx(g_per_l, rel=0.002) == grams(found)[substance] / water_l(found)


@pytest.mark.parametrize(
    ("formula", "acid", "least", "most"),
    [
        # Fur Dressing (1922), ch. IV: 1.5 to 2.5 per 1000; ch. V: 1/4 %.
        ("soak-formic", "formic-acid", 1.5, 2.5),
        ("salt-formic-pickle", "formic-acid", 2.495, 2.505),
        # Home Taxidermy (1916): 1 fl oz of concentrated acid to the US gallon is 13.8 g/L.
        ("salt-sulphuric-pickle", "sulphuric-acid", 13.75, 13.85),
        # Hobby journal (2002, no. 4): 12 to 15 g of acetic acid to the litre.
        ("salt-acetic-pickle", "acetic-acid", 12.0, 15.0),
        # Rabbit leaflets: battery acid in place of 1 oz of strong acid to 2 gal, 3.7 to 6.9 g/L.
        ("battery-acid-pickle", "battery-acid", 3.7, 6.9),
        # The Puering, Bating and Drenching of Skins (1912): acetic 0.5 g, lactic 1 g to the litre.
        ("acid-drench", "acetic-acid", 0.495, 0.505),
        ("acid-drench", "lactic-acid", 0.995, 1.005),
        # Animal Proteins (1921): lactic acid (50 %) never over 0.2 % in the liquor.
        ("lactic-delime", "lactic-acid", 0.9, 1.0),
    ],
)
def test_grams_of_pure_acid(formula: str, acid: str, least: float, most: float) -> None:
    """A printed percentage is of pure acid: the weight on the sheet makes up for the water."""
    found = LIBRARY.formula(formula)
    assert least <= grams(found, pure=True)[acid] / water_l(found) <= most


@pytest.mark.parametrize(
    ("formula", "substance", "low", "high"),
    [
        # Dictionary of bookbinding (1982): one for one.
        ("salt-cure-full", "salt", 1.0, 1.0),
        # The Principles of Leather Manufacture (1903), ch. VI, after Eitner: 10 to 15 %.
        ("sodium-sulphate-cure", "sodium-sulphate", 0.10, 0.15),
        # The same book, ch. XIV, on wet pelt: flour 5, alum 2.5, salt 1 %.
        ("calf-kid-paste", "flour", 0.05, 0.05),
        ("calf-kid-paste", "potassium-alum", 0.025, 0.025),
        ("calf-kid-paste", "salt", 0.01, 0.01),
        ("calf-kid-paste", "water", 0.12, 0.15),
        # Leather (c. 1915): sulphated oil 2 %, soap 1 %.
        ("fat-liquor", "sulphated-oil", 0.02, 0.02),
        ("fat-liquor", "soap", 0.01, 0.01),
        # Puering, Bating and Drenching (1912): 1 % of 50 % lactic acid is 0.625 % of 80 %.
        ("lactic-delime", "lactic-acid", 0.00625, 0.00625),
    ],
)
def test_share_of_the_hide(formula: str, substance: str, low: float, high: float) -> None:
    """Recipes on the weight of hide keep their percentages."""
    found = LIBRARY.formula(formula)
    assert found.for_hide_mass_g is not None
    share = grams(found)[substance] / found.for_hide_mass_g
    assert low * 0.999 <= share <= high * 1.001


def test_parts_by_weight() -> None:
    """Fur Dressing (1922), ch. V [read]: dry rub of alum 2, salt 1."""
    rub = grams(LIBRARY.formula("alum-salt-rub"))
    assert pytest.approx(2.0) == rub["potassium-alum"] / rub["salt"]


def test_bran_drench() -> None:
    """Principles (1903), ch. XIII, and Animal Proteins (1921) [read]: 5 to 10 g/L, 29 to 35 °C."""
    drench = LIBRARY.formula("bran-drench")
    assert 5 <= grams(drench)["bran"] / water_l(drench) <= 10
    assert (29, 35) == (drench.celsius_low, drench.celsius_high)


def test_degreasing_soak() -> None:
    """Suppliers' instruction pages [read]: 1/2 fl oz to the US gallon is one part in 256."""
    soak = LIBRARY.formula("degreasing-soak")
    (agent,) = [each for each in soak.parts[0].ingredients if each.substance != "water"]
    assert agent.volume_l is not None
    assert pytest.approx(256) == water_l(soak) / agent.volume_l


def test_oil_soap_emulsion() -> None:
    """Homestead pages [read]: a cup of oil, a cup of water, a tablespoon of soap (1/16 cup)."""
    oil, water, soap = LIBRARY.formula("oil-soap-emulsion").parts[0].ingredients
    volumes = [each.volume_l or 0.0 for each in (oil, water, soap)]
    assert pytest.approx([1, 1, 1 / 16]) == [volume / volumes[0] for volume in volumes]


def test_basicity_of_the_stock() -> None:
    """The Principles of Leather Manufacture (1903), ch. XIV [read]: 4 of soda crystals to 10 of

    sulphate; 31.1 % basic [computed], and below the 44.2 % of 4 to 10 of potassium alum.
    """
    stock = grams(LIBRARY.formula("basic-alum-stock"))
    soda = stock["washing-soda"] / (LIBRARY.substance("washing-soda").molar_mass or 1)
    sulphate = stock["aluminium-sulphate"] / (
        LIBRARY.substance("aluminium-sulphate").molar_mass or 1
    )
    assert pytest.approx(0.311, abs=0.001) == 2 * soda / (6 * sulphate)


def test_bark_ladder_reads_as_it_says() -> None:
    """Barkometer = (SG - 1) x 1000 (Leather, c. 1915 [read]): 3, 10, 20 and 30, by the densities

    of the parts at 20 °C; Animal Proteins (1921) [read]: handlers from 3 to 30.
    """
    ladder = [("first", 3), ("second", 10), ("third", 20), ("full", 30)]
    for step, barkometer in ladder:
        amounts = grams(LIBRARY.formula(f"bark-liquor-{step}"))
        figures = liquor_figures(
            [(LIBRARY.substance(each), mass) for each, mass in amounts.items()], CELSIUS
        )
        reads = 1000.0 * (figures.density_kg_m3 / 998.2 - 1.0)
        assert pytest.approx(barkometer, abs=1.0) == reads, step


@pytest.mark.parametrize(
    ("formula", "other", "same"),
    [
        # Battery acid in place of concentrated: the pure acid is what pickles.
        ("salt-acid-pickle", "battery-acid", lambda name: LIBRARY.substance(name).pure_share),
        ("battery-acid-pickle", "sulphuric-acid", lambda name: LIBRARY.substance(name).pure_share),
        # Soda of another water: the water-free soda is what makes basic.
        ("basic-alum-stock", "soda-ash", lambda name: LIBRARY.substance(name).anhydrous_share),
        ("basic-alum-stock", "soda-monohydrate", lambda n: LIBRARY.substance(n).anhydrous_share),
        # 906 of ammonium alum do the work of 948 of potassium alum (Principles, 1903, ch. XIV).
        ("alum-brush", "ammonium-alum", lambda n: 1000 / (LIBRARY.substance(n).molar_mass or 1)),
    ],
)
def test_stand_ins_do_the_same_work(formula: str, other: str, same: Callable[[str], float]) -> None:
    """A stand-in's ratio keeps the acid, the soda or the aluminium that counts."""
    for part in LIBRARY.formula(formula).parts:
        for ingredient in part.ingredients:
            for each in ingredient.instead:
                if each.substance == other:
                    worth = each.ratio * same(other) / same(ingredient.substance)
                    assert pytest.approx(1.0, rel=0.003) == worth
                    return
    raise AssertionError(f"{other} stands in for nothing in {formula}")
