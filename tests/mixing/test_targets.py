"""Targets: what is read, what is said, what is refused, and that every refusal's example works."""

from __future__ import annotations

import pytest

from benchconsole.errors import BadInput
from benchconsole.library import Library
from benchconsole.mixing.targets import (
    TARGET_KINDS,
    AsWritten,
    ForHideMass,
    ForHides,
    Limit,
    Make,
    Target,
    Times,
    kind_of,
    read_target,
    target_for,
    target_words,
    wants_weight,
    with_substance,
)
from benchconsole.mixing.worksheet import worksheet
from benchconsole.model.shop import Shop
from benchconsole.quantities import Measures


@pytest.mark.parametrize(
    ("kind", "text", "expected"),
    [
        ("as-written", "", AsWritten()),
        ("make", "6 gal", Make(volume_l=22.712470704)),
        ("times", "1/2", Times(times=0.5)),
        ("hide-mass", "3.2 kg", ForHideMass(mass_g=3200.0)),
        ("hides", "3", ForHides(count=3)),
        ("limit", "salt=14 oz", Limit(substance="salt", mass_g=396.89332375)),
        ("limit", " “Salt = 14 oz” ", Limit(substance="salt", mass_g=396.89332375)),
        ("limit", "water=2 gal", Limit(substance="water", volume_l=7.570823568)),
    ],
)
def test_reads_each_kind(kind: str, text: str, expected: Target) -> None:
    """Every kind is read into its record, gallons of 3.785411784 L and ounces of 28.349523125 g."""
    assert expected == read_target(kind, text, measures="us")


def test_reads_float_and_species() -> None:
    """The float goes with the hide's weight, the species with the number of hides."""
    on_float = read_target("hide-mass", "2 kg", measures="metric", float_text="6 L/kg")
    assert ForHideMass(mass_g=2000.0, litres_per_kg=6.0) == on_float
    deer = read_target("hides", "2", measures="metric", species="deer")
    assert ForHides(count=2, species="deer") == deer


@pytest.mark.parametrize("measures", ["us", "metric", "imperial"])
def test_the_example_of_every_kind_is_read(measures: Measures) -> None:
    """The examples on the screen work in every shop; metric shops refuse a bare gallon."""
    for kind, (_, example) in TARGET_KINDS.items():
        read_target(kind, example, measures=measures)


@pytest.mark.parametrize(
    ("target", "expected"),
    [
        (AsWritten(), "as written"),
        (Make(volume_l=20.0), "make 20 L"),
        (Times(times=2.0), "2 times the recipe"),
        (Times(times=1 / 3), "0.3333 times the recipe"),
        (Times(times=1000.0), "1000 times the recipe"),
        (ForHideMass(mass_g=3200.0, litres_per_kg=6.0), "for 3200 g of hide at 6 L/kg"),
        (ForHides(count=1), "for 1 hide"),
        (ForHides(count=3, species="deer"), "for 3 hides (deer)"),
        (Limit(substance="salt", mass_g=400.0), "as much as 400 g of salt allows"),
        (Limit(substance="water", volume_l=8.0), "as much as 8 L of water allows"),
    ],
)
def test_says_each_kind(target: Target, expected: str) -> None:
    """A target is said in plain words, numbers without padding zeros."""
    assert expected == target_words(target, "metric")


@pytest.mark.parametrize(
    ("kind", "text", "field"),
    [
        ("sideways", "2", "target"),
        ("make", "6", "make"),
        ("make", "6 oz", "make"),
        ("make", "-1 L", "make"),
        ("make", "", "make"),
        ("times", "1e9", "times"),
        ("times", "0", "times"),
        ("hide-mass", "3 L", "hide weight"),
        ("hides", "2.5", "hides"),
        ("hides", "0", "hides"),
        ("limit", "14 oz", "limit"),
        ("limit", "=14 oz", "limit"),
        ("limit", "salt=14", "limit"),
        ("limit", "salt=\x1b[31m", "limit"),
    ],
)
def test_refused_text_names_its_field_and_an_example_that_is_read(
    kind: str, text: str, field: str
) -> None:
    """What cannot be read is refused for its own field, and the example typed back is read."""
    with pytest.raises(BadInput) as refused:
        read_target(kind, text, measures="metric")
    assert field == refused.value.field
    if kind == "sideways":
        read_target(refused.value.example, "2 L", measures="metric")
        return
    for example in refused.value.example.split(" or "):
        read_target(kind, example, measures="metric")


def test_float_is_its_own_field() -> None:
    """A float that cannot be read is not blamed on the hide's weight."""
    with pytest.raises(BadInput) as refused:
        read_target("hide-mass", "2 kg", measures="metric", float_text="6")
    assert "float" == refused.value.field
    example = refused.value.example
    read_target("hide-mass", "2 kg", measures="metric", float_text=example)


@pytest.mark.parametrize(
    ("formula", "target", "field"),
    [
        ("salt-cure", Make(volume_l=5.0), "make"),
        ("salt-cure", ForHideMass(mass_g=1000.0, litres_per_kg=6.0), "float"),
        ("salt-cure", ForHides(count=2), "hides"),
        ("oil-ammonia-dressing", ForHideMass(mass_g=1000.0), "hide weight"),
        ("alum-salt-bath", ForHides(count=2, species="fox"), "hides"),
        ("borax-rinse", ForHides(count=2), "hides"),
    ],
)
def test_a_target_without_sense_names_one_that_works(
    library: Library, formula: str, target: Target, field: str
) -> None:
    """A refusal for this formula names another target in plain words, and that one works."""
    made = library.formulas[formula]
    with pytest.raises(BadInput) as refused:
        worksheet(made, target, substances=library.substances, shop=Shop())
    assert field == refused.value.field
    again = _read_words(refused.value.example)
    worksheet(made, again, substances=library.substances, shop=Shop())


def _read_words(words: str) -> Target:
    """A refusal's example, read as a person would: which field or option, and what to type."""
    if words.startswith("a hide weight of "):
        return read_target("hide-mass", words.removeprefix("a hide weight of "), measures="us")
    number, _, what = words.partition(" ")
    return read_target({"hides": "hides", "times the recipe": "times"}[what], number, measures="us")


@pytest.mark.parametrize(
    ("formula", "mass_g", "count", "expected"),
    [
        ("alum-salt-bath", 2900.0, 3, ForHideMass(mass_g=2900.0)),
        ("salt-cure", None, 1, AsWritten()),
        ("alum-salt-bath", None, 2, ForHides(count=2, species="deer")),
        ("oil-ammonia-dressing", 2900.0, 3, ForHides(count=3, species="deer")),
    ],
)
def test_the_target_that_fits_a_lot(
    library: Library, formula: str, mass_g: float | None, count: int, expected: Target
) -> None:
    """The weight is that of the whole lot and is not multiplied; what is not known is not used."""
    made = library.formulas[formula]
    assert expected == target_for(made, species="deer", count=count, mass_g=mass_g)


def test_a_formula_says_whether_it_wants_a_weight(library: Library) -> None:
    """A percentage (salt cure) or a float (alum bath) does; coats of oil go by the hide."""
    wants = [wants_weight(library.formulas[name]) for name in ("salt-cure", "alum-salt-bath")]
    assert [True, True] == wants
    assert not wants_weight(library.formulas["oil-ammonia-dressing"])


@pytest.mark.parametrize("kind", TARGET_KINDS)
def test_every_target_knows_its_kind(kind: str) -> None:
    """The kind of a target read from its example is the kind that was asked for."""
    example = TARGET_KINDS[kind][1]
    assert kind == kind_of(read_target(kind, example, measures="us"))


@pytest.mark.parametrize(
    ("target", "field"),
    [
        (Times(times=1e300), "times"),
        (Times(times=1e-300), "times"),
        (Times(times=float("nan")), "times"),
        (Times(times=float("inf")), "times"),
        (Times(times=-1.0), "times"),
        (Make(volume_l=1e7), "make"),
        (Make(volume_l=1e-12), "make"),
        (ForHideMass(mass_g=1e12), "hide weight"),
        (ForHides(count=0), "hides"),
        (Limit(substance="salt", mass_g=1e-12), "limit"),
        (Limit(substance="salt", mass_g=1e12), "limit"),
    ],
)
def test_absurd_amounts_are_refused_by_field(library: Library, target: Target, field: str) -> None:
    """Less than a milligram, more than 1000 t, and no number at all are ordinary refusals."""
    formula = library.formulas["alum-salt-bath"]
    with pytest.raises(BadInput) as refused:
        worksheet(formula, target, substances=library.substances, shop=Shop())
    assert field == refused.value.field
    kind = {"hide weight": "hide-mass"}.get(field, field)
    again = read_target(kind, refused.value.example, measures="us")
    worksheet(formula, again, substances=library.substances, shop=Shop())


@pytest.mark.parametrize(
    ("wanted", "taken"),
    [
        ("potassium-alum", "potassium-alum"),
        ("Potassium", "potassium-alum"),
        ("ammonium alum", "ammonium-alum"),
        ("alum", "ammonium-alum"),
    ],
)
def test_a_substance_is_found_by_id_or_name(library: Library, wanted: str, taken: str) -> None:
    """Ids, names and parts of them are found; where two fit, the printed one is meant."""
    formula = with_substance(library.formulas["alum-salt-bath"], wanted, library.substances)
    assert taken == formula.part("alum-jug").ingredients[1].substance


@pytest.mark.parametrize("wanted", ["lime", "", " ", "a"])
def test_a_substance_the_formula_does_not_take(library: Library, wanted: str) -> None:
    """What is not one thing in the formula is refused, and the example is one that is."""
    formula = library.formulas["alum-salt-bath"]
    with pytest.raises(BadInput) as refused:
        with_substance(formula, wanted, library.substances)
    assert "ingredient" == refused.value.field
    with_substance(formula, refused.value.example, library.substances)


def test_a_substitute_keeps_the_weight_the_source_prints(library: Library) -> None:
    """Either alum at equal weight: 1 lb = 453.59237 g, as New Mexico State L-103 prints it."""
    formula = with_substance(
        library.formulas["alum-salt-bath"], "potassium-alum", library.substances
    )
    assert 453.59237 == formula.part("alum-jug").ingredients[1].mass_g
