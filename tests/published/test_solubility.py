"""The solubility law, fed with one published family, against all the others."""

import csv
from pathlib import Path

import pytest

from benchconsole.chemistry import SolubilityCurve, dissolvable_g, saturation

TABLE = Path(__file__).parents[2] / "shared" / "solubility.csv"
ROWS = list(csv.DictReader(TABLE.read_text(encoding="utf-8").splitlines()))

#: g/mol: anhydrous, as weighed out (IUPAC 2021 abridged atomic weights).
MOLAR_MASSES = {
    "salt": (58.44, 58.44),
    "potassium alum": (258.205, 474.388),
    "ammonium alum": (237.146, 453.329),
    "borax": (201.22, 381.37),
    "washing soda": (105.988, 286.141),
    "sodium bicarbonate": (84.007, 84.007),
}


def anhydrous(row: dict[str, str]) -> float:
    """A published figure as grams anhydrous per 100 g of total water, worked out from scratch."""
    figure = float(row["value"])
    dry, crystal = MOLAR_MASSES[row["solute"]]
    match row["basis"]:
        case "percent_anhydrous":
            return 100 * figure / (100 - figure)
        case "crystals_per_100g_added_water":
            salt = figure * dry / crystal
            return 100 * salt / (100 + figure - salt)
        case _:
            return figure


def published(solute: str, family: str) -> list[dict[str, str]]:
    """The rows that one family of sources gives for a solute."""
    return [row for row in ROWS if (row["solute"], row["family"]) == (solute, family)]


def curve(solute: str, family: str, share: float = 1.0) -> SolubilityCurve:
    """The curve through one family's points, each times ``share``."""
    dry, crystal = MOLAR_MASSES[solute]
    figures = [(float(row["celsius"]), share * anhydrous(row)) for row in published(solute, family)]
    return SolubilityCurve(
        points=tuple((celsius, figure, figure) for celsius, figure in figures),
        molar_mass_anhydrous=dry,
        molar_mass_hydrate=crystal,
    )


@pytest.mark.parametrize(
    ("solute", "base", "against", "percent"),
    [
        ("salt", "crc", "kaufmann", 0.5),
        ("salt", "crc", "salt institute", 0.5),
        ("salt", "crc", "general table", 0.5),
        ("salt", "crc", "phreeqc", 0.6),
        ("potassium alum", "handbook", "seidell crystals", 3),
        ("potassium alum", "handbook", "school text", 3),
        ("potassium alum", "handbook", "encyclopedia", 3),
        ("borax", "crc", "maker", 3),
        ("borax", "crc", "wiki", 5.5),
        ("washing soda", "crc", "general table", 3.5),
        ("washing soda", "crc", "phreeqc", 3),
        ("sodium bicarbonate", "crc", "general table", 3),
        ("sodium bicarbonate", "crc", "seidell", 3.5),
        ("sodium bicarbonate", "crc", "phreeqc", 4),
        ("ammonium alum", "general table", "perry", 15),
    ],
)
def test_curve_through_one_family_meets_another(
    solute: str, base: str, against: str, percent: float
) -> None:
    """Every figure of the second family lies within the stated percentage of the curve; sources
    as named in the table (CRC Handbook, Kaufmann, Seidell, Perry and others)."""
    law = curve(solute, base)
    rows = published(solute, against)
    assert rows
    for row in rows:
        computed = saturation(law, float(row["celsius"]))
        assert anhydrous(row) == pytest.approx(computed, rel=percent / 100), row["celsius"]


@pytest.mark.parametrize(
    ("solute", "family", "percent"),
    [
        ("salt", "crc", 0.2),
        ("potassium alum", "handbook", 5.5),
        ("borax", "crc", 3),
        ("sodium bicarbonate", "crc", 1),
    ],
)
def test_interpolation_finds_a_figure_left_out(solute: str, family: str, percent: float) -> None:
    """With any inner point withheld, the curve bridges the doubled gap to within this share of
    the published figure; a gap half as wide errs about a quarter as much. Alum's figure for
    10 °C lies below the smooth line of its own family."""
    whole = curve(solute, family)
    for gone in whole.points[1:-1]:
        gapped = SolubilityCurve(
            points=tuple(point for point in whole.points if point != gone),
            molar_mass_anhydrous=whole.molar_mass_anhydrous,
            molar_mass_hydrate=whole.molar_mass_hydrate,
        )
        assert gone[1] == pytest.approx(saturation(gapped, gone[0]), rel=percent / 100)


@pytest.mark.parametrize("celsius", [0, 10, 20, 30, 40, 50, 60])
def test_alum_crystals_weighed_into_water(celsius: int) -> None:
    """Fed with anhydrous figures, the law gives Seidell's separate column of crystals per 100 g
    of added water to 0.5 %: crystal water is accounted for."""
    law = curve("potassium alum", "handbook")
    (row,) = [
        row
        for row in published("potassium alum", "seidell crystals")
        if float(row["celsius"]) == celsius
    ]
    assert float(row["value"]) == pytest.approx(dissolvable_g(law, 100, celsius), rel=0.005)


def test_ammonium_alum_low_bound_is_the_modern_one() -> None:
    """Seven tenths of the older handbook curve is within 6 % of each modern measurement in the
    ECHA registration dossier and not above any, as a cautious limit must be."""
    law = curve("ammonium alum", "general table", share=0.70)
    for row in published("ammonium alum", "modern"):
        measured = anhydrous(row)
        cautious = saturation(law, float(row["celsius"]))
        assert 0.94 * measured <= cautious <= measured
