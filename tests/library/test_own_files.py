"""A person's own files: what is added, and what a refused file is told."""

from datetime import timedelta
from pathlib import Path

import pytest

from benchconsole.errors import BadFile
from benchconsole.library import Library, shipped_library, with_own_files

SAMPLES = Path(__file__).parents[2] / "sample_data" / "own"
SOAK = (SAMPLES / "formulas" / "borax-soak.toml").read_text(encoding="utf-8")
RABBIT = (SAMPLES / "routes" / "rabbit-for-mittens.toml").read_text(encoding="utf-8")
SUMAC = """
[[substance]]
id = "sumac"
name = "ground sumac leaf"
form = "solid"
density = { value = 400.0, low = 300.0, high = 500.0, source = "Our notebook", mark = "invented" }
"""


def refusal_of(text: str, library: Library | None = None) -> BadFile:
    """The one refusal of a single own file."""
    _, bad = with_own_files(library or shipped_library(), [("mine.toml", text)])
    (only,) = bad
    return only


def changed(text: str, old: str, new: str) -> tuple[str, int]:
    """``text`` with one change, and the line it was made on."""
    assert text.count(old) >= 1, old
    return text.replace(old, new, 1), text[: text.index(old)].count("\n") + 1


def test_the_samples_load_in_any_order() -> None:
    """The example formula and the route that uses it load, whichever is named first."""
    pair = [("formulas/borax-soak.toml", SOAK), ("routes/rabbit-for-mittens.toml", RABBIT)]
    for files in (pair, pair[::-1]):
        library, bad = with_own_files(shipped_library(), files)
        assert bad == ()
        assert library.formula("borax-soak").own
        assert library.route("rabbit-for-mittens").own
        assert library.route("rabbit-for-mittens").stages[0].mix == "borax-soak"
    assert "borax-soak" not in shipped_library().formulas


def test_the_sample_substance_can_be_used() -> None:
    """The example substance loads, with its label by strength, and an own formula can take it."""
    boric = (SAMPLES / "substances" / "boric-acid.toml").read_text(encoding="utf-8")
    soak = SOAK.replace('substance = "borax"', 'substance = "boric-acid"')
    library, bad = with_own_files(shipped_library(), [("soak.toml", soak), ("boric.toml", boric)])
    assert bad == ()
    hazard = library.substance("boric-acid").hazard
    assert hazard is not None
    assert [0.003] == [band.from_share for band in hazard.bands]


def test_the_sample_soak_is_the_strength_it_says() -> None:
    """2/3 oz of borax in 2 US gal is 2.5 g for each litre."""
    library, _ = with_own_files(shipped_library(), [("borax-soak.toml", SOAK)])
    water, borax = library.formula("borax-soak").parts[0].ingredients
    assert water.volume_l is not None
    assert borax.mass_g is not None
    assert pytest.approx(2.5, abs=0.01) == borax.mass_g / water.volume_l


def test_own_substances_and_species_can_be_used_by_own_formulas() -> None:
    """A substance and a species of one's own are known to a formula loaded with them."""
    formula = SOAK.replace('substance = "borax"', 'substance = "sumac"') + (
        '\n[[serving]]\nspecies = ["alpaca"]\nhides = 1\ntimes = 2\n'
        'source = "Our notebook"\nmark = "invented"\n'
    )
    files = [
        ("soak.toml", formula),
        ("sumac.toml", SUMAC),
        ("alpaca.toml", '[[species]]\nid = "alpaca"\nname = "alpaca"\n'),
    ]
    library, bad = with_own_files(shipped_library(), files)
    assert bad == ()
    assert library.substance("sumac").name == "ground sumac leaf"
    assert ("alpaca",) == library.formula("borax-soak").servings[0].species


def test_a_bad_file_does_not_keep_the_others_out() -> None:
    """Of three files with one bad in the middle, two are loaded and one is told."""
    files = [("a.toml", SOAK), ("b.toml", "[formula"), ("c.toml", RABBIT)]
    library, bad = with_own_files(shipped_library(), files)
    assert ["b.toml"] == [refusal.name for refusal in bad]
    assert {"borax-soak"} == set(library.formulas) - set(shipped_library().formulas)
    assert {"rabbit-for-mittens"} == set(library.routes) - set(shipped_library().routes)


def test_a_route_whose_formula_was_refused_is_refused_too() -> None:
    """The route says which formula it misses; nothing half-usable is loaded."""
    soak, _ = changed(SOAK, '"2 gal"', '"2 buckets"')
    library, bad = with_own_files(shipped_library(), [("soak.toml", soak), ("rabbit.toml", RABBIT)])
    assert ["soak.toml", "rabbit.toml"] == [refusal.name for refusal in bad]
    assert "no formula is called “borax-soak”" in str(bad[1])
    assert shipped_library() == library


@pytest.mark.parametrize(
    ("kind", "text"),
    [
        ("formula", SOAK.replace('id = "borax-soak"', 'id = "alum-salt-bath"')),
        ("route", RABBIT.replace("rabbit-for-mittens", "small-fur-skin").replace("borax-", "")),
        ("substance", SUMAC.replace("sumac", "borax")),
        ("species", '[[species]]\nid = "deer"\nname = "red deer"\n'),
    ],
)
def test_a_shipped_name_cannot_be_taken(kind: str, text: str) -> None:
    """An own file never replaces a shipped one; the refusal offers another name."""
    text = text.replace('mix = "soak"', 'mix = "soak-salted"')
    bad = refusal_of(text)
    assert f"there is already a {kind} “" in bad.fault
    assert "for example my-" in bad.fault
    row = text.split("\n")[bad.line - 1]
    assert row.startswith("id = ")


def test_two_own_files_of_one_name_are_told() -> None:
    """The second of two files with the same id is refused, the first stays."""
    library, bad = with_own_files(shipped_library(), [("a.toml", SOAK), ("b.toml", SOAK)])
    assert ["b.toml"] == [refusal.name for refusal in bad]
    assert library.formula("borax-soak").own


FORMULA_FAULTS = [
    ('"2 gal"', '"2 foo"', "“foo” is not a unit"),
    ('"2 gal"', '"2"', "has no unit"),
    ('"2 gal"', "2", "text in quotes is wanted, not a whole number"),
    ('"2 gal"', '"-2 gal"', "cannot be negative"),
    ('"2 gal"', '"0 gal"', "more than zero"),
    ('"2 gal"', '"nan gal"', "does not begin with a number"),
    ('"2 gal"', '"1e99999 gal"', "amount:"),
    ('"2 gal"', '"2 days"', "amount:"),
    ('"2 gal"', '["2 gal"]', "text in quotes is wanted, not a list"),
    ('"2/3 oz"', '"1/0 oz"', "amount:"),
    ('substance = "borax"', 'substance = "boraks"', "perhaps “borax”"),
    ('substance = "borax"', 'substance = "sodium"', "no substance is called “sodium”"),
    ("amount =", "ammount =", "perhaps “amount”"),
    ('kind = "liquor"', 'kind = "soup"', "“liquor”, “dressing”, “dry”"),
    ('measures = "us"', 'measures = "french"', "“us”, “imperial”, “metric”"),
    ('by = "scale"', 'by = "spoon"', "“scale”, “jug”"),
    ("value = 8.0", "value = nan", "absurdly large, or none"),
    ("value = 8.0", "value = inf", "absurdly large, or none"),
    ("value = 8.0", "value = 1e300", "absurdly large"),
    ("value = 8.0", "value = -8.0", "must be from"),
    ("value = 8.0", 'value = "8"', "a number is wanted, not text in quotes"),
    ("low = 6.0", "low = 9.0", "must not be above the value"),
    ("high = 12.0", "high = 7.0", "must not be below the value"),
    ("celsius_high = 20.0", "celsius_high = 400.0", "must be from -5 to 100"),
    ("celsius_high = 20.0", "container_room = 0.5", "must be from 1 to 10"),
    ("celsius_high = 20.0", "celsius_high = true", "a number is wanted, not true or false"),
    ("celsius_high = 20.0", 'for_hide_mass = "1 kg 2 gal"', "for_hide_mass:"),
    ('mark = "invented"  ', 'mark = "sure"  ', "“practice”"),
    ('id = "borax-soak"', 'id = "Borax soak"', "lower-case letters"),
    ('id = "borax-soak"', 'id = "../../etc/passwd"', "lower-case letters"),
    ('id = "borax-soak"', f'id = "{"a" * 61}"', "lower-case letters"),
    ('id = "borax-soak"', "id = 1979-05-27", "text in quotes is wanted, not a date"),
    ('name = "Borax soak"', 'name = "  "', "something must be said"),
    ('name = "Borax soak"', f'name = "{"long " * 20}"', "at most 80"),
    ('name = "Borax soak"', 'name = "\\u001b[31mred"', "control character (U+001B)"),
    ('name = "Borax soak"', 'name = "\\u0000"', "control character (U+0000)"),
    ('name = "Borax soak"', 'name = "\\u202Ekaos"', "turns the direction of writing (U+202E)"),
    ('name = "Borax soak"', 'name = "a\x07b"', "control character (U+0007)"),
    ('name = "Borax soak"', "name = Borax", "not well-formed TOML"),
    ('name = "Borax soak"', f'name = "{"x" * 2500}"', "longer than 2000"),
    ('name = "Borax soak"', f'name = "{"x" * 5000}"', "longer than 4000"),
    ('source = "Our own notebook"', 'source = ""', "something must be said"),
]


@pytest.mark.parametrize(("old", "new", "said"), FORMULA_FAULTS)
def test_a_fault_in_a_formula_is_told_by_line(old: str, new: str, said: str) -> None:
    """Name, line and reason of each fault a formula file can have."""
    text, line = changed(SOAK, old, new)
    bad = refusal_of(text)
    assert ("mine.toml", line) == (bad.name, bad.line)
    assert said in bad.fault
    assert str(bad).startswith(f"mine.toml, line {line}: ")
    assert "\n" not in str(bad)
    assert len(str(bad)) < 400


ROUTE_FAULTS = [
    ('work = "10 min"', 'work = "10"', "has no unit"),
    ('work = "10 min"', 'work = "30 h"', "at most 24 h"),
    ('again = "1 h"', 'again = "0 h"', "more than zero"),
    ('min = "1 h"', 'min = "5 h"', "must not be longer than the target"),
    ('max = "8 h"', 'max = "2 h"', "must not be shorter than the target"),
    ('max = "8 h"', 'max = "900 years"', "max:"),
    ('every = "1 h"', 'every = "3 h"', "must not be shorter than every"),
    ('every = "1 h"', 'every = "10 s"', "at the oftenest once a minute"),
    ('at_most = "2 h"', 'at_most = "2 h", since = "2 h", until = "1 h"', "come after since"),
    ('id = "clean"', 'id = "soak"', "stands twice"),
    ('mix = "borax-soak"', 'mix = "unborn-soak"', "no formula is called “unborn-soak”"),
    ('dried = "soak"', 'dried = "sook"', "perhaps “soak”"),
    ('dried = "soak"', 'wet = "soak"', "not “wet”"),
    ('species = ["rabbit", "hare"]', "species = []", "at least one"),
    ('species = ["rabbit", "hare"]', 'species = ["rabbit", "unicorn"]', "no species is called"),
    (
        'species = ["rabbit", "hare"]',
        'species = ["rabbit", "\ud7fchare"]',
        "“·hare”",
    ),
    ('species = ["rabbit", "hare"]', 'species = "rabbit"', "a list is wanted"),
    ('{ species = ["hare"], min', '{ species = ["hare", "hare"], min', "two rows"),
    ("count = 2,", "count = 2.5,", "a whole number is wanted"),
    ("count = 2,", "count = 99,", "must be from 1 to 10"),
    ('wait_min = "30 min"', 'wait_min = "50 min"', "must not be longer than the target"),
    ('late = "The hair slips."', 'late = ""', "something must be said"),
    ('stake = "hide"', 'stake = "much"', "stake: that is not one of “hide”, “quality”, “work”"),
    ('stake = "hide"', "stake = 4", "text in quotes is wanted, not a whole number"),
    ('stake = "hide"', 'stakes = "hide"', "perhaps “stake”"),
    ('at_most = "2 h"', 'at_most = "2 h", work = "2 h"', "work: it must not be longer than every"),
    (
        'at_most = "2 h"',
        'at_most = "2 h", work = "a bit"',
        "“a bit” does not begin with a number",
    ),
    ('at_most = "2 h"', 'at_most = "2 h", work = "0 min"', "more than zero"),
    ('ask = "Limp all over?"', 'ask = ""', "something must be said"),
    (
        'late = "The hair',
        'dries_to = "wet"\nlate = "The hair',
        "dries_to: that is not one of “damp”",
    ),
]


@pytest.mark.parametrize(("old", "new", "said"), ROUTE_FAULTS)
def test_a_fault_in_a_route_is_told_by_line(old: str, new: str, said: str) -> None:
    """Name, line and reason of each fault a route file can have."""
    library, _ = with_own_files(shipped_library(), [("soak.toml", SOAK)])
    text, line = changed(RABBIT, old, new)
    bad = refusal_of(text, library)
    assert ("mine.toml", line) == (bad.name, bad.line)
    assert said in bad.fault


def test_a_route_of_before_stakes_and_times_of_tending_still_loads() -> None:
    """Without them a stage stakes the quality, and an attention takes the usual few minutes."""
    library, _ = with_own_files(shipped_library(), [("soak.toml", SOAK)])
    kept = [row for row in RABBIT.split("\n") if not row.startswith("stake = ")]
    library, bad = with_own_files(library, [("mine.toml", "\n".join(kept))])
    assert bad == ()
    soak = library.route("rabbit-for-mittens").stages[0]
    assert ("quality", timedelta(minutes=5)) == (soak.stake, soak.attend[0].work)


def test_an_attention_takes_the_hands_for_as_long_as_its_file_says() -> None:
    """Its own time is kept; where it comes more often than the usual time lasts, that is cut."""
    library, _ = with_own_files(shipped_library(), [("soak.toml", SOAK)])
    for written, minutes in (
        ('every = "1 h", at_most = "2 h", work = "20 min"', 20),
        ('every = "2 min", at_most = "2 h"', 2),
    ):
        text, _ = changed(RABBIT, 'every = "1 h", at_most = "2 h"', written)
        loaded, bad = with_own_files(library, [("mine.toml", text)])
        assert bad == ()
        soak = loaded.route("rabbit-for-mittens").stages[0]
        assert timedelta(minutes=minutes) == soak.attend[0].work


@pytest.mark.parametrize(
    ("old", "new", "said", "row"),
    [
        ('soon = "1 h" ', "# ", "“soon” is missing", "[[stage]]"),
        ('  { min = "2 d", target = "2 d", max = "4 d" },\n', "", "no row for rabbit", "hold = ["),
        ('  { species = ["hare"], min', "  { min", "the general case: two rows", "  { min"),
        ('late = "Left lying wet, the hair slips."\n', "", "“late” is missing", "[[stage]]"),
        (
            'late = "Left lying wet, the hair slips."',
            'late = "slips"\nattend = [{ do = "Feel.", every = "1 h", at_most = "1 h" }]',
            "nothing to attend to",
            "attend = ",
        ),
        ('dried = "soak"\n', "", "at least one is needed", "[route.starts]"),
    ],
)
def test_a_fault_between_lines_is_told_at_the_nearest(
    old: str, new: str, said: str, row: str
) -> None:
    """What is missing, or wrong only together, is told where the person will look."""
    library, _ = with_own_files(shipped_library(), [("soak.toml", SOAK)])
    text, _ = changed(RABBIT, old, new)
    bad = refusal_of(text, library)
    assert said in bad.fault
    assert text.split("\n")[bad.line - 1].startswith(row)


TWO_PARTS = SOAK + (
    '\n[[part]]\nid = "two"\nname = "two"\ncontainer = "jug"\n'
    '[[part.ingredient]]\nsubstance = "water"\nby = "jug"\namount = "1 gal"\n'
    '\n[[part]]\nid = "three"\nname = "three"\ncontainer = "jug"\n'
    '[[part.ingredient]]\nsubstance = "water"\nby = "jug"\namount = "1 gal"\n'
)


@pytest.mark.parametrize(
    ("joined", "said"),
    [
        ([], "two, three stay apart"),
        ([("two", "soak")], "stay apart"),
        ([("two", "soak"), ("four", "soak")], "no part is called “four”"),
        ([("two", "two")], "in a circle"),
        ([("two", "three"), ("three", "two")], "in a circle"),
        ([("two", "soak"), ("two", "three")], "already added"),
        ([("two", "soak"), ("three", "two")], "already added"),
    ],
)
def test_parts_that_do_not_become_one_liquor_are_refused(
    joined: list[tuple[str, str]], said: str
) -> None:
    """Joinings that leave a part out, name none, or run in a circle are told."""
    joins = "".join(
        f'\n[[join]]\nadd = "{add}"\ninto = "{into}"\nhow = "slowly"\n' for add, into in joined
    )
    assert said in refusal_of(TWO_PARTS + joins).fault


def test_parts_joined_in_a_chain_are_one_liquor() -> None:
    """A part may take another in and then go into a third."""
    joins = "".join(
        f'\n[[join]]\nadd = "{add}"\ninto = "{into}"\nhow = "slowly"\n'
        for add, into in (("three", "two"), ("two", "soak"))
    )
    library, bad = with_own_files(shipped_library(), [("mine.toml", TWO_PARTS + joins)])
    assert bad == ()
    assert 3 == len(library.formula("borax-soak").parts)


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('form = "solid"', 'form = "gas"', "“water”, “solid”, “liquid”, “oil”"),
        ("value = 400.0", "value = 0.0", "must be from 10 to 20000"),
        ('mark = "invented"', 'mark = "heard"', "mark:"),
        ('form = "solid"', 'form = "solid"\nmolar_mass = 1e308', "absurdly large"),
        (
            'form = "solid"',
            'form = "solid"\nmolar_mass = 50\nanhydrous_molar_mass = 60',
            "cannot weigh more",
        ),
        (
            'form = "solid"',
            'form = "solid"\nsolubility = { source = "x", mark = "read", points = [] }',
            "at least two temperatures",
        ),
        (
            'form = "solid"',
            'form = "solid"\nsolubility = { source = "x", mark = "well", points = [] }',
            "mark: that is not one of",
        ),
        (
            'form = "solid"',
            'form = "solid"\nsolubility = { source = "x", mark = "read", points = '
            "[{ celsius = 20, low = 3, high = 4 }, { celsius = 20, low = 3, high = 4 }] }",
            "rise in temperature",
        ),
        (
            'form = "solid"',
            'form = "solid"\nsolubility = { source = "x", mark = "read", points = '
            "[{ celsius = 10, low = 5, high = 4 }, { celsius = 20, low = 5, high = 6 }] }",
            "must be from 5",
        ),
    ],
)
def test_an_impossible_substance_is_refused(old: str, new: str, said: str) -> None:
    """Figures of a substance outside what can be are told, on a line of their table."""
    text, line = changed(SUMAC, old, new)
    bad = refusal_of(text)
    assert said in bad.fault
    assert line <= bad.line <= line + 2


def test_a_liquid_needs_its_density() -> None:
    """Without a density no jug can be weighed, so a liquid without one is refused."""
    text = '[[substance]]\nid = "lye"\nname = "lye"\nform = "liquid"\n'
    assert "needs its density" in refusal_of(text).fault


def test_a_solid_without_density_cannot_be_measured_with_a_jug() -> None:
    """Baking soda has no density in the library: by volume it is refused, by weight it is not."""
    solid = SOAK.replace('substance = "borax"', 'substance = "sodium-bicarbonate"')
    _, bad = with_own_files(shipped_library(), [("mine.toml", solid)])
    assert bad == ()
    assert "weigh it" in refusal_of(solid.replace("2/3 oz", "2 fl oz")).fault


@pytest.mark.parametrize(
    ("text", "line", "said"),
    [
        ("", 1, "a file begins with one of"),
        ("\x00", 1, "control character (U+0000)"),
        ("a = 1\n\nb = \x1b[2J", 3, "control character (U+001B)"),
        ("\ud800 = 1", 1, "half a character (U+D800)"),
        ('"\\u001b" = 1\n[formula]', 1, "control character (U+001B)"),
        ("[formula]\n[route]\n", 2, "a file begins with one of"),
        ("[recipe]\nid = 1\n", 1, "a file begins with one of"),
        ("[formula]\nid = \n", 2, "not well-formed TOML"),
        ("[formula]\nid = 'a'\nid = 'b'\n", 3, "not well-formed TOML"),
        ('\n\na = """never closed\n\n', 5, "not well-formed TOML"),
        ("formula = 3", 1, "a table of words and values is wanted"),
        ("[[formula]]", 1, "a table of words and values is wanted"),
        ("[formula]\nid = 'a'", 1, "is missing"),
        ("[[species]]\nid = 'a'\nname = 'a'\n[[species]]\nid = 'a'\nname = 'b'", 5, "twice"),
        ("a = 1\n" * 50_000, 0, "larger than 256 KB"),
        ("x = " + "[" * 3000, 0, "brackets stand too deep"),
        ("formula." + "a." * 900 + "b = 1", 1, "too deep"),
        ("formula = " + "9" * 3900, 1, "absurdly large"),
        ("%PDF-1.4\n%\xe2\xe3", 1, ""),
        ('{"formula": {"id": "x"}}', 1, "not well-formed TOML"),
    ],
)
def test_a_foreign_or_hostile_file_is_refused(text: str, line: int, said: str) -> None:
    """Empty, binary, foreign, broken and oversized texts are all plain refusals."""
    bad = refusal_of(text)
    assert line == bad.line
    assert said in bad.fault


def test_markup_stays_text() -> None:
    """Square brackets in a name are no command to any screen: they are kept as written."""
    text = SOAK.replace('name = "Borax soak"', 'name = "[bold red]Soak[/] [@click=quit]"')
    library, bad = with_own_files(shipped_library(), [("mine.toml", text)])
    assert bad == ()
    assert "[bold red]Soak[/] [@click=quit]" == library.formula("borax-soak").name


def test_editors_habits_do_no_harm() -> None:
    """A byte order mark, Windows line ends and text over several lines are read the same."""
    plain, _ = with_own_files(shipped_library(), [("mine.toml", SOAK)])
    wrapped = SOAK.replace(
        'done_when = "Soft and clean"', 'done_when = """\n  Soft\n  and clean"""'
    )
    windows = "\ufeff" + wrapped.replace("\n", "\r\n")
    same, bad = with_own_files(shipped_library(), [("mine.toml", windows)])
    assert bad == ()
    assert plain.formula("borax-soak") == same.formula("borax-soak")
    wrong = windows.replace("2/3 oz", "2/3 pinch")
    assert 'amount = "2/3 pinch"' in wrong.split("\n")[refusal_of(wrong).line - 1]


def test_the_same_gallon_is_another_in_imperial_measures() -> None:
    """The file's own word decides whose gallon is meant, not the shop's setting."""
    imperial = SOAK.replace('measures = "us"', 'measures = "imperial"')
    library, _ = with_own_files(shipped_library(), [("mine.toml", imperial)])
    water = library.formula("borax-soak").parts[0].ingredients[0]
    assert pytest.approx(2 * 4.54609) == water.volume_l
    assert "2 gal" == water.printed
