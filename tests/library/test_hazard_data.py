"""Labels, strengths and kinds in the shipped substances, and the table of what must not meet."""

import re
from typing import get_args

import pytest

from benchconsole.chemistry.acids import PICKLE_ACIDS
from benchconsole.errors import BadFile
from benchconsole.library import shipped_library, with_own_files
from benchconsole.model.hazards import Group

LIBRARY = shipped_library()
CODED = re.compile(r"^(?P<words>.+) \((?P<code>(?:EU)?H\d{3}[A-Za-z]*)\)$")
PICTOGRAMS = {"flame", "corrosion", "skull", "exclamation mark", "health hazard", "environment"}


def test_a_code_is_always_told_in_the_same_words() -> None:
    """In all bands each statement has one code, and each code one wording."""
    words_of: dict[str, str] = {}
    for substance in LIBRARY.substances.values():
        if substance.hazard is None:
            continue
        for band in substance.hazard.bands:
            for statement in band.statements:
                found = CODED.match(statement)
                assert found is not None, statement
                assert words_of.setdefault(found["code"], found["words"]) == found["words"]
    assert {"H302", "H314", "H315", "H318", "H319", "H335", "H360FD"} <= set(words_of)


def test_a_label_is_whole() -> None:
    """A signal word comes with statements, gear and pictograms; bands only rise to what is sold."""
    for substance in LIBRARY.substances.values():
        hazard = substance.hazard
        if hazard is None:
            continue
        for label in (hazard, *hazard.bands):
            assert set(label.pictograms) <= PICTOGRAMS, substance.id
            if label.signal:
                assert label.statements, substance.id
                assert label.wear, substance.id
                assert label.pictograms, substance.id
        strongest = 1.0 if substance.strength is None else substance.strength.high
        for band in hazard.bands:
            assert band.from_share <= (strongest or 1.0), substance.id


def test_every_acid_is_one_that_the_chemistry_knows() -> None:
    """An acid's name leads to its constants, and each offered acid can be bought."""
    known = {acid.name for acid in PICKLE_ACIDS}
    sold = {f"{each.acid} acid" for each in LIBRARY.substances.values() if each.acid}
    assert known == sold
    for substance in LIBRARY.substances.values():
        if substance.acid:
            assert "acid" in substance.groups, substance.id
            assert substance.form == "solid" or substance.strength is not None, substance.id


@pytest.mark.parametrize(
    ("name", "pure_g_per_l"),
    [("sulphuric-acid", 1766.4), ("battery-acid", 441.3), ("formic-acid", 1013.3)],
)
def test_grams_of_pure_acid_in_a_litre_as_sold(name: str, pure_g_per_l: float) -> None:
    """Reagent tables [read] for 96 % sulphuric acid; Laliberté's density model, J. Chem. Eng.

    Data 54 (2009) 1725 [computed], for 35 % sulphuric and 85 % formic acid.
    """
    acid = LIBRARY.substance(name)
    assert acid.density is not None
    assert pytest.approx(pure_g_per_l, rel=0.003) == acid.pure_share * acid.density.value


def test_a_crystal_counts_its_water() -> None:
    """Oxalic acid dihydrate is 71.4 % oxalic acid (atomic weights)."""
    assert pytest.approx(0.714, abs=0.001) == LIBRARY.substance("oxalic-acid").pure_share


def test_every_kind_is_met_by_some_rule_and_each_pair_once() -> None:
    """No substance or vessel belongs to a kind that nothing is said of."""
    pairs = [frozenset((each.first, each.second)) for each in LIBRARY.incompatible]
    assert len(pairs) == len(set(pairs))
    assert set(get_args(Group)) == {kind for pair in pairs for kind in pair}


def test_own_rules_are_added_and_checked() -> None:
    """A person's own pair joins the table; one that says nothing or names no kind is refused."""
    good = (
        '[[incompatible]]\nfirst = "tannin"\nsecond = "copper"\nseverity = "note"\n'
        'says = "It darkens."\nsource = "Our notebook"\nmark = "invented"\n'
    )
    library, bad = with_own_files(LIBRARY, [("pairs.toml", good)])
    assert () == bad
    assert "It darkens." == library.incompatible[-1].says
    for old, new in (('"It darkens."', '" "'), ('"copper"', '"gold"'), ('"note"', '"perhaps"')):
        _, (refused,) = with_own_files(LIBRARY, [("pairs.toml", good.replace(old, new))])
        assert isinstance(refused, BadFile)


def test_bands_must_rise() -> None:
    """Two bands out of order are refused on their line."""
    band = (
        '{ from_share = %s, signal = "Warning", statements = ["Stings (H319)"], wear = [], '
        'source = "Our notebook", mark = "invented" }'
    )
    text = (
        '[[substance]]\nid = "tea"\nname = "tea"\nform = "solid"\n[substance.hazard]\n'
        'signal = ""\nstatements = []\nwear = []\nsource = "Our notebook"\nmark = "invented"\n'
        f"bands = [\n  {band % 0.2},\n  {band % 0.1},\n]\n"
    )
    _, (refused,) = with_own_files(LIBRARY, [("tea.toml", text)])
    assert "rise" in str(refused)
    assert "line 13" in str(refused)
