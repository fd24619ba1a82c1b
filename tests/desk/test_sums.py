"""Sums at the desk: every one answers its own examples, and refuses the rest in a sentence."""

from __future__ import annotations

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.desk.sums import (
    SUMS,
    Answer,
    Sum,
    answer_to,
    examples,
    field_of,
    look,
    still_wanted,
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
from benchconsole.errors import BadInput, NotKnown
from benchconsole.model.shop import Shop
from benchconsole.quantities import Measures

METRIC = Shop(measures="metric", jug_l=5.0)
ALL_MEASURES: tuple[Measures, ...] = ("metric", "us", "imperial")

every_sum = pytest.mark.parametrize("asked", SUMS, ids=lambda one: one.name)


def _answer(name: str, shop: Shop = METRIC, **texts: str) -> Answer:
    """The answer to the sum's own examples with some fields typed otherwise."""
    asked = sum_named(name)
    spelled = {name.replace("_", "-"): text for name, text in texts.items()}
    return answer_to(asked, {**examples(asked, shop.measures), **spelled}, shop)


def _refusal(name: str, **texts: str) -> BadInput:
    with pytest.raises(BadInput) as caught:
        _answer(name, **texts)
    return caught.value


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


@every_sum
def test_a_form_half_filled_shows_its_faults_and_what_is_wanted(asked: Sum) -> None:
    """Nothing typed: no fault and no answer; all typed: the answer; a zero byte: a fault there."""
    empty = look(asked, {}, METRIC)
    assert (None, {}) == (empty.answer, empty.faults)
    assert empty.wanted
    full = look(asked, examples(asked, "metric"), METRIC)
    assert full.answer is not None
    assert ({}, ()) == (full.faults, full.wanted)
    last = asked.fields[-1]
    spoilt = look(asked, {**examples(asked, "metric"), last.id: "\0"}, METRIC)
    assert spoilt.answer is None
    assert [last.id] == list(spoilt.faults)


@every_sum
def test_an_empty_form_is_refused_at_its_first_field(asked: Sum) -> None:
    """Nothing typed: the refusal names a field of the form, and every needed one is asked for."""
    with pytest.raises(BadInput) as caught:
        answer_to(asked, {}, METRIC)
    assert field_of(asked, caught.value.field) is not None
    needed = [field for field in asked.fields if not field.optional]
    assert len(needed) == len(still_wanted(asked, {}, METRIC))
    assert () == still_wanted(asked, examples(asked, "metric"), METRIC)


BARE = {"mass", "volume", "amount", "length", "area", "temperature", "strength", "brine", "float"}


@every_sum
def test_a_bare_number_is_refused_where_it_has_a_unit(asked: Sum) -> None:
    """Units are never guessed; the refusal is at that very field and shows what would work."""
    for field in asked.fields:
        if field.asks not in BARE:
            continue
        texts = {**examples(asked, "metric"), **_beside(asked), field.id: "12"}
        with pytest.raises(BadInput) as caught:
            answer_to(asked, texts, METRIC)
        assert field.words == caught.value.field
        assert caught.value.example


def _beside(asked: Sum) -> dict[str, str]:
    """Every optional field filled in, so that none is left out unread."""
    return examples(asked, "metric", all_of_them=True)


hostile = st.one_of(
    st.text(max_size=40),
    st.sampled_from(
        [
            "[/]",
            "\x00\x1b[2J",
            "1e999 kg",
            "-3 kg",
            "0 g",
            "999999 L",
            "0,000001 mL",
            "9999 kg",
            "1000 °C",
            "-273 °C",
            "inf",
            "nan",
            "0.001 SG",
            "100 %",
            "0 %",
            "14",
            "0",
            "999",
            "g" * 5000,
            "1 mm x 1 mm",
            "100 m x 100 m",
            "0 cm = 0 L",
            "1 cm = 1 L; 1 cm = 2 L",
            "salt 60 g/L;" * 90,
            "a " * 300,
            "0.0001 kg/L",
            "2 kg/L",
            "10000 g/L",
        ]
    ),
)


@settings(max_examples=250, deadline=None)
@given(data=st.data(), measures=st.sampled_from(ALL_MEASURES))
def test_any_text_gets_an_answer_or_one_sentence(data: st.DataObject, measures: Measures) -> None:
    """Whatever is typed into up to three fields, an answer or a ``BadInput``, never a traceback."""
    asked = data.draw(st.sampled_from(SUMS))
    texts = examples(asked, measures, all_of_them=data.draw(st.booleans()))
    ids = [field.id for field in asked.fields]
    for name in data.draw(st.lists(st.sampled_from(ids), min_size=1, max_size=3, unique=True)):
        field = next(each for each in asked.fields if each.id == name)
        own = st.sampled_from([one for one, _ in field.choices]) if field.choices else hostile
        texts[name] = data.draw(st.one_of(hostile, own))
    try:
        answer = answer_to(asked, texts, Shop(measures=measures, jug_l=5.0))
    except BadInput as refusal:
        assert field_of(asked, refusal.field) is not None, refusal
        assert "\n" not in str(refusal)
    else:
        assert answer.says


def test_a_law_that_does_not_reach_so_far_is_a_sentence() -> None:
    """What chemistry refuses comes back at the field it is about, with a way out."""
    refusal = _refusal("pickle-ph", salt="19 kg")
    assert ("salt", "950 g/L is outside 0 g/L to 190 g/L, where the figures hold") == (
        refusal.field,
        refusal.fault,
    )
    assert "2 kg" == refusal.example
    assert "acid amount" == _refusal("pickle-ph", acid_amount="3 kg").field
    assert "temperature" == _refusal("pickle-ph", temperature="60 °C").field
    assert "pH wanted" == _refusal("neutralise", pH_wanted="9").field


def test_a_refusal_of_a_mixing_rule_is_put_to_its_field() -> None:
    """The word of the rule is another than the form's; the field of the form is named."""
    assert "first strength" == _refusal("blend", first_strength="90 %").field
    assert "second strength" == _refusal("blend", second_strength="90 %").field
    assert "second temperature" == _refusal("blend", second_temperature="50 °C").field
    assert "sizes" == _refusal("volume-at-depth", sizes="2 mm x 120 m").field
    assert "depth" == _refusal("volume-at-depth", depth="60 cm").field


def test_crystals_that_hold_water_are_not_all_acid() -> None:
    """99 % oxalic acid "on the label" is asked about: its dihydrate is 90.03 ÷ 126.07 acid."""
    asked_about = "Read the pack: oxalic acid crystals of the shop hold water and are 71.4 % acid."
    assert pytest.approx(71.4, abs=0.05) == 100.0 * 90.034 / 126.064
    doubted = _answer("pickle-ph", which_acid="oxalic", acid_strength="99 %")
    assert asked_about in doubted.lines
    counted = _answer("pickle-ph", which_acid="oxalic", acid_strength="71.4 %")
    assert asked_about not in counted.lines


def test_acid_by_volume_wants_a_density() -> None:
    """100 mL of 85 % formic acid at 1.195 kg/L is the acid of 119.5 g; without it, a question."""
    assert "acid density" == _refusal("pickle-ph", acid_amount="100 mL").field
    by_volume = _answer("pickle-ph", acid_amount="100 mL", acid_density="1.195 kg/L")
    assert _answer("pickle-ph", acid_amount="119.5 g").says == by_volume.says


def test_too_little_salt_is_told_before_the_acid() -> None:
    """40 g/L of salt: the answer begins with it, and the salt that is wanting is named."""
    scant = _answer("pickle-ph", salt="800 g")
    assert scant.says.startswith("Put no skin in")
    assert any("1200 g more salt" in line for line in scant.lines)
    assert _answer("pickle-ph").says.startswith("The liquor should show pH 2.")
    assert _answer("acid-dose", salt="800 g").says.startswith("Put no skin in")


@pytest.mark.parametrize("name", ["pickle-ph", "acid-dose", "neutralise"])
def test_every_sum_on_ph_leaves_the_word_to_a_meter(name: str) -> None:
    """A meter or paper decides; the safety sheet and the local rules are named; none says safe."""
    answer = _answer(name)
    said = " ".join((answer.says, *answer.lines, *answer.cautions))
    assert "A meter or paper decides" in said
    assert "safety sheet" in said
    assert "local rules" in said
    assert "is safe" not in said
    if name != "neutralise":
        assert "Acid into water" in said


def test_half_of_an_acid_dose_comes_first() -> None:
    """The whole is named, half of it is given first, then somebody measures."""
    assert "give" in _answer("acid-dose", volume="200 L", salt="20 kg").says
    assert "first, stir, wait, measure" in _answer("acid-dose").says


def test_so_little_is_not_weighed_on_a_coarse_scale() -> None:
    """A dose of 4 g on a scale that steps by 1 g: make more of it and use a tenth."""
    assert any("a tenth" in line for line in _answer("acid-dose").lines)
    fine = Shop(measures="metric", scale=METRIC.scale.__class__(step_g=0.01))
    assert not any("a tenth" in line for line in _answer("acid-dose", fine).lines)


def test_spindle_degrees_wanted_are_those_of_the_book() -> None:
    """Read 38 in a brine of 30 °C it is stronger than the book's 38, so water is added."""
    answer = _answer("spindle", temperature="30 °C", volume="40 L", strength_wanted="38 salometer")
    assert any(line.startswith("Add ") and "of water" in line for line in answer.lines)


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
    assert _answer("spindle", strength=one) == _answer("spindle", strength=other)


def test_degrees_of_no_spindle_are_refused() -> None:
    """38 of what? The example repeats the number with the spindles there are."""
    refusal = _refusal("spindle", strength="38")
    assert "38 salometer" in refusal.example


SHAPED = [
    ("round", "40 cm x 50 cm"),
    ("bucket", "40 cm × 40 cm × 50 cm"),
    ("oval", "40 cm by 40 cm by 50 cm"),
    ("measured", "50 cm = 62.83 L"),
]


@pytest.mark.parametrize(("shape", "sizes"), SHAPED)
def test_shapes_that_are_one_vessel_hold_the_same(shape: str, sizes: str) -> None:
    """A round tub, described four ways, holds 27.6 L at 22 cm (π × 20² × 22)."""
    answer = _answer("volume-at-depth", shape=shape, sizes=sizes, depth="22 cm")
    assert "27.6 L" in answer.says


def test_sizes_are_asked_for_in_the_order_of_the_shape() -> None:
    """Too few sizes, or a shape just chosen: the order is said."""
    asked = sum_named("volume-at-depth")
    wanted = still_wanted(asked, {"shape": "box"}, METRIC)
    assert any("length, width, depth" in phrase for phrase in wanted)
    assert "length, width, depth" in _refusal("volume-at-depth", shape="box", sizes="3 cm").fault


def test_a_refill_names_what_goes_into_it() -> None:
    """Whole jugs of 5 L for 3 L short, each thing at its strength: 300 g of salt, 150 g of alum."""
    says = _answer("refill", strengths="salt 60 g/L; alum 30 g/L").says
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
    answer = _answer("pour-loss")
    assert answer.says.startswith("Weigh 255 g, so that 250 g arrives")
    assert "That is 5 g more than the recipe says." in answer.lines
    assert "stays behind" == _refusal("pour-loss", stays_behind="60 %").field


def test_what_no_scale_shows_is_rinsed_out() -> None:
    """2 % of 10 g is 0.2 g on a scale that steps by 1 g: to weigh more would change nothing."""
    lines = _answer("pour-loss", amount="10 g").lines
    assert lines[0].startswith("What stays behind is less than one step of the scale")
