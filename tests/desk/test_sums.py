"""Sums at the desk: every one answers its own examples, with the figures worked out by hand."""

from __future__ import annotations

import json
import re

import pytest

from benchconsole.desk.sums import (
    SUMS,
    Sum,
    answer_to,
    examples,
    sum_named,
    sums_matching,
)
from benchconsole.desk.sums.printed import (
    answer_document,
    answer_text,
    fields_text,
    read_pairs,
    sums_document,
    sums_text,
)
from benchconsole.desk.sums.typed_lists import listed
from benchconsole.errors import BadInput, NotKnown
from benchconsole.model.shop import Shop
from benchconsole.quantities import Measures
from tests.desk.asking_sums import ALL_MEASURES, METRIC, answer_of, every_sum, refusal_of


@every_sum
@pytest.mark.parametrize("measures", ALL_MEASURES)
@pytest.mark.parametrize("all_of_them", [False, True], ids=["needed", "all"])
def test_its_examples_are_answered(asked: Sum, measures: Measures, all_of_them: bool) -> None:
    """A sentence and a sourced working, in each measure, with and without the optional fields."""
    shop = Shop(measures=measures, jug_l=5.0)
    answer = answer_to(asked, examples(asked, measures, all_of_them=all_of_them), shop)
    assert answer.says.endswith(".")
    assert answer.says[:1] == answer.says[:1].upper()
    assert answer.workings
    assert all(working.result and working.source for working in answer.workings)


@every_sum
def test_it_can_be_listed_and_typed(asked: Sum) -> None:
    """A name for the command line, a purpose in one sentence, labels that fit a narrow column."""
    assert asked.name == asked.name.lower().strip()
    assert asked.purpose.endswith(".")
    assert len(asked.purpose) <= 100
    ids = [field.id for field in asked.fields]
    assert sorted(set(ids)) == sorted(ids)
    assert all(len(field.label) <= 32 for field in asked.fields)


@every_sum
def test_what_an_empty_field_is_said_to_mean_is_what_it_means(asked: Sum) -> None:
    """A field that says "empty means 2 %" answers the same when 2 % is typed."""
    typed = examples(asked, "metric")
    answer = answer_to(asked, typed, METRIC)
    for field in asked.fields:
        says = field.prompt_in("metric")
        assert field.usual == says.startswith("empty means")
        if field.usual:
            assert field.optional
            assert answer == answer_to(asked, {**typed, field.id: field.example}, METRIC)


def test_names_are_unique() -> None:
    """Each name is one sum."""
    assert len({one.name for one in SUMS}) == len(SUMS)


def test_a_jug_that_would_run_over_is_not_poured() -> None:
    """4 cm of a tub 40 cm across is 5.03 L: 302 g of salt at 60 g/L, and no jug of 10 L."""
    shop = Shop(measures="metric", jug_l=10.0)
    over = answer_of("top-up", shop, strengths="salt 60 g/L", keep_free="27 cm")
    assert "1 full jug would run over" in over.says
    assert ("Make 5.03 L with 302 g salt in it, the same strength as before.",) == over.lines
    fits = answer_of("top-up", shop, strengths="salt 60 g/L")
    assert "1 full jug brings it to 26 cm" in fits.says
    assert fits.lines[0].startswith("Make 1 jug of 10 L (5.03 L is short) with 600 g salt in it")


def test_crystals_that_hold_water_are_not_all_acid() -> None:
    """99 % oxalic acid "on the label" is asked about: its dihydrate is 90.03 ÷ 126.07 acid."""
    asked_about = "Read the pack: oxalic acid crystals of the shop hold water and are 71.4 % acid."
    assert pytest.approx(71.4, abs=0.05) == 100.0 * 90.034 / 126.064
    doubted = answer_of("pickle-ph", which_acid="oxalic", acid_strength="99 %")
    assert asked_about in doubted.lines
    counted = answer_of("pickle-ph", which_acid="oxalic", acid_strength="71.4 %")
    assert asked_about not in counted.lines


def test_acid_by_volume_wants_a_density() -> None:
    """100 mL of 85 % formic acid at 1.195 kg/L is the acid of 119.5 g; without it, a question."""
    assert "acid density" == refusal_of("pickle-ph", acid_amount="100 mL").field
    by_volume = answer_of("pickle-ph", acid_amount="100 mL", acid_density="1.195 kg/L")
    assert answer_of("pickle-ph", acid_amount="119.5 g").says == by_volume.says


def test_too_little_salt_is_told_before_the_acid() -> None:
    """40 g/L of salt: the answer begins with it, and the salt that is wanting is named."""
    scant = answer_of("pickle-ph", salt="800 g")
    assert scant.says.startswith("Put no skin in")
    assert any("1200 g more salt" in line for line in scant.lines)
    assert answer_of("pickle-ph").says.startswith("The liquor should show pH 2.")
    assert answer_of("acid-dose", salt="800 g").says.startswith("Put no skin in")


@pytest.mark.parametrize("name", ["pickle-ph", "acid-dose", "neutralise"])
def test_every_sum_on_ph_leaves_the_word_to_a_meter(name: str) -> None:
    """A meter or paper decides; the safety sheet and the local rules are named; none says safe."""
    answer = answer_of(name)
    said = " ".join((answer.says, *answer.lines, *answer.cautions))
    assert "A meter or paper decides" in said
    assert "safety sheet" in said
    assert "local rules" in said
    assert "is safe" not in said
    if name != "neutralise":
        assert "Acid into water" in said


def test_half_of_an_acid_dose_comes_first() -> None:
    """The whole is named, half of it is given first, then somebody measures."""
    answer = answer_of("acid-dose", volume="200 L", salt="20 kg")
    whole, half = re.findall(r"([0-9.]+) g", answer.says)
    assert pytest.approx(float(whole) / 2.0, abs=0.6) == float(half)
    assert "first, stir, wait, measure" in answer.says


def test_so_little_is_not_weighed_on_a_coarse_scale() -> None:
    """A dose of 4 g on a scale that steps by 1 g: make more of it and use a tenth."""
    assert any("a tenth" in line for line in answer_of("acid-dose").lines)
    fine = Shop(measures="metric", scale=METRIC.scale.__class__(step_g=0.01))
    assert not any("a tenth" in line for line in answer_of("acid-dose", fine).lines)


def test_spindle_degrees_wanted_are_those_of_the_book() -> None:
    """Read 38 in a brine of 30 °C it is stronger than the book's 38, so water is added."""
    answer = answer_of(
        "spindle", temperature="30 °C", volume="40 L", strength_wanted="38 salometer"
    )
    (added,) = [line for line in answer.lines if line.startswith("Add ")]
    # 40 L × 115 ÷ 107 = 43.0 L; the salt stays as it is.
    assert added.startswith("Add 3.05 L of water, stirring: 115 g/L becomes 107 g/L in 43 L")


SPELLED = [
    ("38 salometer", "38 degSAL"),
    ("10 °Bé", "10 Be"),
    ("73 Bk", "73 barkometer"),
    ("SG 1.073", "1.073 SG"),
    ("10 %", "10 % w/w"),
    ("11 g/100 g water", "11 g per 100 g water"),
    ("100 g/L", "100 grams per litre"),
]


@pytest.mark.parametrize(("one", "other"), SPELLED)
def test_a_strength_is_read_in_every_measure(one: str, other: str) -> None:
    """Two spellings of one strength give one answer."""
    assert answer_of("spindle", strength=one) == answer_of("spindle", strength=other)


SHAPED = [
    ("round", "40 cm x 50 cm"),
    ("bucket", "40 cm × 40 cm × 50 cm"),
    ("oval", "40 cm by 40 cm by 50 cm"),
    ("measured", "50 cm = 62.83 L"),
]


@pytest.mark.parametrize(("shape", "sizes"), SHAPED)
def test_shapes_that_are_one_vessel_hold_the_same(shape: str, sizes: str) -> None:
    """A round tub, described four ways, holds 27.6 L at 22 cm (π × 20² × 22)."""
    answer = answer_of("volume-at-depth", shape=shape, sizes=sizes, depth="22 cm")
    assert "27.6 L" in answer.says


def test_a_refill_names_what_goes_into_it() -> None:
    """Whole jugs of 5 L for 3 L short, each thing at its strength: 300 g of salt, 150 g of alum."""
    says = answer_of("refill", strengths="salt 60 g/L; alum 30 g/L").says
    assert "1 jug of 5 L" in says
    assert "300 g salt" in says
    assert "150 g alum" in says


def test_the_command_line_reads_pairs() -> None:
    """field=value by name, in any case; anything else is refused in a sentence."""
    asked = sum_named("rinse-salt")
    texts = read_pairs(["Rinse-Water=40 L"], asked)
    assert {"rinse-water": "40 L"} == texts
    assert "1200 g of salt" in answer_text(asked, answer_to(asked, texts, METRIC))
    assert {"pH-wanted": "5"} == read_pairs(["ph-wanted=5"], sum_named("neutralise"))
    for pairs in (["40 L"], ["rinse-water=1 L", "rinse-water=2 L"]):
        with pytest.raises(BadInput):
            read_pairs(pairs, asked)
    with pytest.raises(NotKnown):
        answer_to(asked, read_pairs(["water=40 L"], asked), METRIC)
    with pytest.raises(NotKnown):
        sum_named("no-such-sum")


def test_sums_are_printed_and_written_as_documents() -> None:
    """Every sum stands in both lists; one shows a call that is answered; JSON takes an answer."""
    names = [one.name for one in SUMS]
    assert names == [line.split()[0] for line in sums_text().splitlines()]
    assert names == [one["name"] for one in sums_document(None, "us")["sums"]]
    asked = sum_named("rinse-salt")
    assert 'benchconsole sum rinse-salt "rinse-water=40 L"' in fields_text(asked, "metric")
    texts = examples(asked, "metric")
    document = answer_document(asked, texts, answer_to(asked, texts, METRIC))
    assert document == json.loads(json.dumps(document, allow_nan=False))
    assert "rinse-salt" == document["sum"]


@pytest.mark.parametrize(
    ("typed", "found"),
    [
        ("neutralize", "neutralise"),
        ("neutralise", "neutralise"),
        ("neutraliz", "neutralise"),
        ("aluminum", "alum-for-alum"),
        ("aluminium", "alum-for-alum"),
        ("pou", "blend"),
        ("pour", "blend"),
    ],
)
def test_either_spelling_finds_a_sum(typed: str, found: str) -> None:
    """American or British, whole or half typed; words that are no such pair still match."""
    assert found in {one.name for one in sums_matching(typed)}


def test_a_letter_is_no_other_letter() -> None:
    """z alone does not find what begins with s."""
    assert () == sums_matching("zalt")


def test_what_sticks_is_weighed_on_top() -> None:
    """2 % of 250 g stays behind: 250 ÷ 0.98 = 255.1 g (our arithmetic), 5 g more."""
    answer = answer_of("pour-loss")
    assert answer.says.startswith("Weigh 255 g, so that 250 g arrives")
    assert "That is 5 g more than the recipe says." in answer.lines
    assert "stays behind" == refusal_of("pour-loss", stays_behind="60 %").field


def test_what_no_scale_shows_is_rinsed_out() -> None:
    """2 % of 10 g is 0.2 g on a scale that steps by 1 g: to weigh more would change nothing."""
    lines = answer_of("pour-loss", amount="10 g").lines
    assert lines[0].startswith("What stays behind is less than one step of the scale")


def test_a_scale_that_does_not_carry_the_bowl_is_named() -> None:
    """A bowl of 600 g on a scale for 500 g: the other one weighs, and the answer says why."""
    answer = answer_of("which-scale", bowl="600 g")
    assert answer.says.startswith("Weigh 36 g on the first scale in one bowl")
    assert answer.lines[0].startswith("Not on the second scale, by the bowl")
    assert "500 g" in answer.lines[0]


def test_weak_acid_without_salt_is_no_alarm() -> None:
    """At pH 4.2 a worksheet asks for no salt, nor does a sum; below pH 2.5 both do."""
    weak = answer_of("pickle-ph", acid_amount="0.1 g", salt="0 g")
    assert weak.says.startswith("The liquor should show pH 4.2")
    assert not any("salt" in line for line in weak.lines)
    strong = answer_of("pickle-ph", salt="0 g")
    assert strong.says.startswith("Put no skin in")
    assert "2000 g more salt brings it to 100 g/L: salt first, then the acid." in strong.lines


def test_a_skin_that_is_weak_enough_is_not_rinsed() -> None:
    """3 g/L is in it and 5 g/L wanted: no rinse, and none of 100 % left."""
    answer = answer_of("rinses", strength="3 g/L")
    assert "It is weak enough already: 3 g/L, and no more than 5 g/L is wanted." == answer.says
    assert () == answer.lines
    # 120 g/L × (1 ÷ (1 + 9)) ^ 2 = 1.2 g/L, below 5 g/L; one rinse leaves 12 g/L.
    rinsed = answer_of("rinses")
    assert rinsed.says.startswith("2 rinses of 9 L leave 1 % of the salt")
    assert ("2 × fresh water, 18 L in all.",) == rinsed.lines


def test_a_comma_parts_a_list_unless_it_is_a_decimal_one() -> None:
    """Comma or semicolon, with a space or without: the same list; 60,5 is one number."""
    semicolon = answer_of("refill", strengths="salt 60 g/L; alum 30 g/L")
    assert semicolon == answer_of("refill", strengths="salt 60 g/L,alum 30 g/L")
    assert ["salt 60,5 g/L", "alum 30 g/L"] == listed("salt 60,5 g/L,alum  30 g/L;")
    assert ["5 cm = 4,5 L", "10 cm = 9 L"] == listed("5 cm = 4,5 L, 10 cm = 9 L")
    assert ["bleach", "vinegar", "lime"] == listed("bleach,vinegar;lime")


def test_water_is_counted_at_one_temperature() -> None:
    """998.2 kg/m³ at 20 °C (Kell 1975): 100 g of water is 100.2 mL, 60 % of 3.2 kg is 1.923 L."""
    (mixed,) = answer_of("emulsion", oil_weight="0.01 g", water_weight="1000 g").workings
    assert "998" in " ".join(figure for _, figure in mixed.inputs)
    carried = answer_of("carried-off").workings[0]
    assert ("density", "998.2 kg/m³") in carried.inputs
    assert "1920 g, 1.923 L" == carried.result
