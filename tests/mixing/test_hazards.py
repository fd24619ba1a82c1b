"""What a person is told of a mix: labels by strength, what to wear, what must not meet, order.

Limits are those of the European rules for classifying mixtures (CLP regulation), formic acid's
read in its registry entry, the others from memory.
"""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from benchconsole.library import Library, shipped_library
from benchconsole.mixing.clashes import SEVERITIES, clashes
from benchconsole.mixing.hazards import HazardNote, gear_of, hazards_of
from benchconsole.mixing.liquors import grams_of
from benchconsole.mixing.order import order_notes

CODE = re.compile(r"\(((?:H|EUH)\d{3}[A-Za-z]*)\)$")


def liquor_of(library: Library, **grams: float) -> tuple[HazardNote, ...]:
    """What is told of a liquor of these substances ("formic_acid" for formic-acid)."""
    amounts = [(library.substance(key.replace("_", "-")), mass) for key, mass in grams.items()]
    return tuple(note for note in hazards_of(amounts) if note.state == "liquor")


def codes_of(notes: tuple[HazardNote, ...]) -> set[str]:
    """The statement codes of these notes."""
    return {
        found[1] for note in notes for words in note.statements if (found := CODE.search(words))
    }


@pytest.mark.parametrize(
    ("pure", "signal", "codes"),
    [
        (0.019, None, set[str]()),
        (0.021, "Warning", {"H315", "H319"}),
        (0.099, "Warning", {"H315", "H319"}),
        (0.101, "Danger", {"H314"}),
        (0.310, "Danger", {"H302", "H314", "H331"}),
    ],
)
def test_formic_acid_by_strength(
    library: Library, pure: float, signal: str | None, codes: set[str]
) -> None:
    """European limits for formic acid [read in its registry entry]: burns from 10 %, irritates

    from 2 %; the share is of the pure acid in 85 % as sold. Above 30 % by its acute toxicity.
    """
    sold = 1000.0 * pure / 0.85
    notes = liquor_of(library, formic_acid=sold, water=1000.0 - sold)
    assert codes == codes_of(notes)
    assert ([signal] if signal else []) == [note.signal for note in notes]


def test_strong_acid_and_battery_acid_dose_alike_are_told_alike(library: Library) -> None:
    """A liquor is judged by its pure acid, wherever that came from: 6 % irritates, both ways."""
    strong = liquor_of(library, sulphuric_acid=62.5, water=937.5)
    battery = liquor_of(library, battery_acid=171.43, water=828.57)
    assert {"H315", "H319"} == codes_of(strong) == codes_of(battery)
    assert strong[0].share == pytest.approx(battery[0].share, rel=1e-3)


def test_irritants_add_up(library: Library) -> None:
    """CLP, annex I, 3.2.3.3 [memory]: shares of each limit add. Citric acid 6 of 10 % with soda

    crystals 15 of 27 % is over 1 together, though neither is told alone; half as much is not.
    """
    notes = liquor_of(library, citric_acid=60.0, washing_soda=150.0, water=790.0)
    (together,) = notes
    assert "" == together.substance
    assert {"H319"} == codes_of(notes)
    assert "citric acid and washing-soda crystals together" in together.says
    assert () == liquor_of(library, citric_acid=30.0, washing_soda=75.0, water=895.0)


@pytest.mark.parametrize(("ph", "told"), [(1.3, True), (2.0, True), (2.1, False), (11.5, True)])
def test_a_liquor_is_also_judged_by_its_ph(library: Library, ph: float, told: bool) -> None:
    """CLP, annex I, 3.2.3.1.2 [memory]: pH of 2 or less, or 11.5 or more, counts as corrosive,

    as the old sulphuric pickles do that hold less than 1 % of acid.
    """
    amounts = [(library.substance("water"), 1000.0), (library.substance("sulphuric-acid"), 4.0)]
    notes = [note for note in hazards_of(amounts, ph=ph) if note.state == "liquor"]
    assert told == bool(notes)
    assert told == ("H314" in codes_of(tuple(notes)))


def test_what_is_handled_is_told_as_sold(library: Library) -> None:
    """The bottle in the hand counts more than the thin liquor it goes into; water has no label."""
    acid, water = library.substance("sulphuric-acid"), library.substance("water")
    (note,) = hazards_of([(water, 10_000.0), (acid, 1.0)])
    assert ("handled", "sulphuric-acid", "Danger") == (note.state, note.substance, note.signal)
    assert "as it is weighed" in note.says
    assert "goggles" in note.wear
    assert note.source


def test_nothing_of_a_thing_is_nothing_to_tell(library: Library) -> None:
    """A line of 0 g puts no label on the sheet, nor does an empty sheet."""
    assert () == hazards_of([(library.substance("formic-acid"), 0.0)])
    assert () == hazards_of([])


def test_a_dry_mix_has_no_liquor(library: Library) -> None:
    """A rub is told by what goes into it only."""
    amounts = [(library.substance("borax"), 100.0)]
    assert {"handled"} == {note.state for note in hazards_of(amounts, liquor=False)}


@given(
    grams=st.lists(st.floats(0.0, 1e6), min_size=3, max_size=3),
    times=st.floats(0.001, 1000.0),
)
def test_a_label_does_not_go_by_the_size_of_the_batch(grams: list[float], times: float) -> None:
    """Law: the same strength is told the same, a jug or a barrel of it."""
    names = ("citric-acid", "lactic-acid", "water")
    things = [shipped_library().substance(name) for name in names]
    one = hazards_of(zip(things, grams, strict=True))
    many = hazards_of([(thing, mass * times) for thing, mass in zip(things, grams, strict=True)])
    if all(mass == 0.0 or 1e-3 < mass for mass in grams):
        assert [note.says for note in one] == [note.says for note in many]


@given(share=st.floats(0.0, 1.0), more=st.floats(0.0, 1.0))
def test_stronger_is_never_told_milder(share: float, more: float) -> None:
    """Law: with rising strength the signal word only rises."""
    rank = {"": 0, "Warning": 1, "Danger": 2}
    water = shipped_library().substance("water")
    for name in ("formic-acid", "acetic-acid", "lactic-acid", "oxalic-acid", "household-ammonia"):
        thing = shipped_library().substance(name)
        told = []
        for part in sorted((share, more)):
            notes = hazards_of([(thing, part), (water, 1.0 - part)])
            told.append(max((rank[n.signal] for n in notes if n.state == "liquor"), default=0))
        assert told[0] <= told[1], name


def test_gear_is_told_once_and_the_better_gloves_win(library: Library) -> None:
    """Lime asks for long gloves, soda for gloves: the list has one pair."""
    amounts = [(library.substance(name), 10.0) for name in ("washing-soda", "hydrated-lime")]
    gear = gear_of(hazards_of(amounts))
    assert len(gear) == len(set(gear))
    assert "long gloves" in gear
    assert "gloves" not in gear
    assert () == gear_of([])


def test_bleach_in_the_tub_is_told_first(library: Library) -> None:
    """Vinegar into a tub that last held bleach: never; and the sentence says chlorine."""
    found = clashes(
        library.formula("vinegar-delime"),
        library.incompatible,
        library.substances,
        last_content=["bleach"],
    )
    assert ("vessel", "never") == (found[0].where, found[0].severity)
    assert "chlorine" in found[0].says
    assert "household bleach" in found[0].says


@pytest.mark.parametrize(
    ("formula", "held", "gas"),
    [
        ("alum-salt-bath", "bleach", "chlor"),
        ("oil-ammonia-dressing", "bleach", "chloramine"),
        ("salt-citric-pickle", "sodium-sulphide", "hydrogen sulphide"),
    ],
)
def test_the_gases_that_kill(library: Library, formula: str, held: str, gas: str) -> None:
    """Chlorine, chloramines and hydrogen sulphide: alum bath, ammonia dressing, pickle."""
    told = clashes(
        library.formula(formula), library.incompatible, library.substances, last_content=[held]
    )
    assert any(each.severity == "never" and gas in each.says for each in told)


def test_only_what_kills_is_told_of_the_shelf(library: Library) -> None:
    """With the whole library on the shelf, a pickle names bleach and sulphide, and no salt."""
    found = clashes(
        library.formula("salt-citric-pickle"),
        library.incompatible,
        library.substances,
        shelf=library.substances,
    )
    shelf = [each for each in found if each.where == "shelf"]
    assert {"household bleach", "sodium sulphide"} == {each.second for each in shelf}
    assert {"never"} == {each.severity for each in shelf}


def test_metal_vessels(library: Library) -> None:
    """Alum eats zinc, lime dissolves aluminium: the handbooks' oldest warning."""
    zinc = clashes(
        library.formula("alum-salt-bath"), library.incompatible, library.substances, vessel=["zinc"]
    )
    assert any("zinc or galvanised iron" in each.says for each in zinc)
    (lime,) = clashes(
        library.formula("lime-bath"), library.incompatible, library.substances, vessel=["aluminium"]
    )
    assert ("never", "material") == (lime.severity, lime.where)


def test_an_unknown_last_content_is_told(library: Library) -> None:
    """What the library does not know cannot be judged, and that is said."""
    (clash,) = clashes(
        library.formula("soak-salted"),
        library.incompatible,
        library.substances,
        last_content=["mystery"],
    )
    assert "“mystery”" in clash.says


def test_the_worst_comes_first(library: Library) -> None:
    """Severities fall from never to note."""
    found = clashes(
        library.formula("alum-salt-soda-bath"),
        library.incompatible,
        library.substances,
        last_content=["bleach", "hydrated-lime"],
        vessel=["iron"],
    )
    ranks = [SEVERITIES.index(each.severity) for each in found]
    assert sorted(ranks) == ranks
    assert len(set(ranks)) > 2


def test_no_shipped_formula_breaks_an_order_or_kills(library: Library) -> None:
    """Acid last and cold, soda slowly into alum; nothing within a formula is never to meet."""
    for formula in library.formulas.values():
        assert () == order_notes(formula, library.substances), formula.id
        within = clashes(formula, library.incompatible, library.substances)
        assert all(each.severity in ("caution", "note") for each in within), formula.id


def test_every_formula_tells_its_hazards_in_whole_sentences(library: Library) -> None:
    """No sentence is empty, doubled in its full stops, or without a source."""
    for formula in library.formulas.values():
        amounts = [
            (
                library.substance(each.substance),
                grams_of(each, library.substance(each.substance), 15),
            )
            for part in formula.parts
            for each in part.ingredients
        ]
        for note in hazards_of(amounts, liquor=formula.kind != "dry"):
            assert note.says.endswith("."), note.says
            assert ".." not in note.says, note.says
            assert note.statements, note.says
            assert note.source.endswith(")"), note.source
