"""Sums at the desk: every one answers its own examples, and refuses the rest in a sentence."""

from __future__ import annotations

import json
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.desk.sums import (
    SUMS,
    Answer,
    Sum,
    SumField,
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
from benchconsole.desk.sums.typed_lists import listed
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
        _answer(name, METRIC, **texts)
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


NEAR_MISSES = [
    "41 kg",
    "2 kg",
    "20 g",
    "1 mm",
    "50 cm",
    "90 L",
    "400",
    "60",
    "7",
    "2",
    "40 %",
    "99 %",
]
NEAR_MISSES += ["60 °C", "30 °C", "5 °C", "16 in x 20 in", "4 cm x 300 cm", "900 g/L", "26 %"]
NEAR_MISSES += ["4 cm = 4 L", "12", "12 x", "3 kg/L", "1 m x 2 foo", "100 salometer", "9000 L/kg"]


@settings(max_examples=300, deadline=None)
@given(data=st.data(), measures=st.sampled_from(ALL_MEASURES))
def test_an_example_in_a_refusal_mends_it(data: st.DataObject, measures: Measures) -> None:
    """Typed back into the field it stands at, it is not refused there again.

    Where only one field was spoilt there always is one; where a unit is missing there are several
    and the first is typed.
    """
    asked = data.draw(st.sampled_from(SUMS))
    shop = Shop(measures=measures, jug_l=5.0)
    texts = examples(asked, measures, all_of_them=data.draw(st.booleans()))
    ids = [field.id for field in asked.fields]
    spoilt = data.draw(st.lists(st.sampled_from(ids), min_size=1, max_size=2, unique=True))
    for name in spoilt:
        choices = [one for one, _ in sum_field(asked, name).choices]
        own = st.sampled_from(choices) if choices else st.sampled_from(NEAR_MISSES)
        texts[name] = data.draw(st.one_of(own, own, hostile))
    first = _refused(asked, texts, shop)
    if first is None:
        return
    at = field_of(asked, first.field)
    assert at is not None
    assert first.example or len(spoilt) > 1, first
    for example in {first.example, re.split(", | or ", first.example)[0]} - {""}:
        again = _refused(asked, {**texts, at.id: example}, shop)
        if again is None or again.field != first.field:
            return
    assert not first.example, first


def sum_field(asked: Sum, field_id: str) -> SumField:
    """The field of that id."""
    return next(field for field in asked.fields if field.id == field_id)


def _refused(asked: Sum, texts: dict[str, str], shop: Shop) -> BadInput | None:
    try:
        answer_to(asked, texts, shop)
    except BadInput as refusal:
        return refusal
    return None


def test_a_hide_too_large_is_told_the_largest_that_fits() -> None:
    """A tub of 62.8 L to its rim, 5 cm above the skin: π × 20² × 45 cm³ × 1.05 kg/L = 59.4 kg."""
    refusal = _refusal("cover", hide_weight="80 kg")
    assert ("hide weight", "59.37 kg") == (refusal.field, refusal.example)
    assert "59.37 kg is the most that fits" in refusal.fault
    with_float = _refusal("cover", hide_weight="80 kg", float="6 L/kg")
    # 62.83 L ÷ (6 + 1 ÷ 1.05) L/kg = 9.037 kg; the step below that is printed.
    assert "9030 g" == with_float.example


def test_the_field_that_leaves_no_room_is_the_one_refused() -> None:
    """A tub that would do, were it not kept free to 5 cm or were less liquor wanted above."""
    assert "keep free" == _refusal("cover", keep_free="45 cm").field
    assert "liquor above the skin" == _refusal("cover", liquor_above_the_skin="60 cm").field


@pytest.mark.parametrize("measures", ALL_MEASURES)
def test_sizes_are_shown_for_the_shape_that_is_chosen(measures: Measures) -> None:
    """A bucket has three sizes: a text that is none is answered with three."""
    texts = {**examples(sum_named("cover"), measures), "shape": "bucket", "sizes": "1 m x 2 foo"}
    refusal = _refused(sum_named("cover"), texts, Shop(measures=measures))
    assert refusal is not None
    assert 3 == len(refusal.example.split(" x "))


def test_a_jug_that_would_run_over_is_not_poured() -> None:
    """4 cm of a tub 40 cm across is 5.03 L: 302 g of salt at 60 g/L, and no jug of 10 L."""
    shop = Shop(measures="metric", jug_l=10.0)
    over = _answer("top-up", shop, strengths="salt 60 g/L", keep_free="27 cm")
    assert "1 full jug would run over" in over.says
    assert ("Make 5.03 L with 302 g salt in it, the same strength as before.",) == over.lines
    fits = _answer("top-up", shop, strengths="salt 60 g/L")
    assert "1 full jug brings it to 26 cm" in fits.says
    assert fits.lines[0].startswith("Make 1 jug of 10 L (5.03 L is short) with 600 g salt in it")


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
    answer = _answer("acid-dose", volume="200 L", salt="20 kg")
    whole, half = re.findall(r"([0-9.]+) g", answer.says)
    assert pytest.approx(float(whole) / 2.0, abs=0.6) == float(half)
    assert "first, stir, wait, measure" in answer.says


def test_so_little_is_not_weighed_on_a_coarse_scale() -> None:
    """A dose of 4 g on a scale that steps by 1 g: make more of it and use a tenth."""
    assert any("a tenth" in line for line in _answer("acid-dose").lines)
    fine = Shop(measures="metric", scale=METRIC.scale.__class__(step_g=0.01))
    assert not any("a tenth" in line for line in _answer("acid-dose", fine).lines)


def test_spindle_degrees_wanted_are_those_of_the_book() -> None:
    """Read 38 in a brine of 30 °C it is stronger than the book's 38, so water is added."""
    answer = _answer("spindle", temperature="30 °C", volume="40 L", strength_wanted="38 salometer")
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


def test_each_of_two_scales_must_be_one() -> None:
    """A step of 1 kg and 500 g carried is refused at that scale, whichever of the two it is."""
    for which in ("first", "second"):
        spoilt = {f"{which}_step": "1 kg", f"{which}_capacity": "500 g"}
        refusal = _refusal("which-scale", **spoilt)
        assert (f"{which} step", "it is more than the scale carries") == (
            refusal.field,
            refusal.fault,
        )


def test_a_scale_that_does_not_carry_the_bowl_is_named() -> None:
    """A bowl of 600 g on a scale for 500 g: the other one weighs, and the answer says why."""
    answer = _answer("which-scale", bowl="600 g")
    assert answer.says.startswith("Weigh 36 g on the first scale in one bowl")
    assert answer.lines[0].startswith("Not on the second scale, by the bowl")
    assert "500 g" in answer.lines[0]


@pytest.mark.parametrize("name", ["pickle-ph", "acid-dose", "neutralise"])
def test_acid_of_no_strength_is_no_acid(name: str) -> None:
    """0 % on the label is refused there."""
    assert "acid strength" == _refusal(name, acid_strength="0 %").field


def test_weak_acid_without_salt_is_no_alarm() -> None:
    """At pH 4.2 a worksheet asks for no salt, nor does a sum; below pH 2.5 both do."""
    weak = _answer("pickle-ph", acid_amount="0.1 g", salt="0 g")
    assert weak.says.startswith("The liquor should show pH 4.2")
    assert not any("salt" in line for line in weak.lines)
    strong = _answer("pickle-ph", salt="0 g")
    assert strong.says.startswith("Put no skin in")
    assert "2000 g more salt brings it to 100 g/L: salt first, then the acid." in strong.lines


def test_acid_does_not_raise_a_ph_and_alkali_does_not_lower_it() -> None:
    """The wrong way round, each names the other sum; the example goes the right way."""
    up = _refusal("acid-dose", pH_measured="3", pH_wanted="4")
    assert ("pH wanted", "2.5") == (up.field, up.example)
    assert up.fault.endswith("see neutralise")
    down = _refusal("neutralise", pH_measured="6", pH_wanted="5")
    assert ("pH wanted", "6.5") == (down.field, down.example)
    assert down.fault.endswith("see acid-dose")
    fresh = _refusal("neutralise", pH_wanted="1")
    assert ("pH wanted", "5") == (fresh.field, fresh.example)
    assert fresh.fault.startswith("fresh it shows pH 2.3 already")
    assert "it shows that already" == _refusal("acid-dose", pH_wanted="4.2").fault


def test_a_skin_that_is_weak_enough_is_not_rinsed() -> None:
    """3 g/L is in it and 5 g/L wanted: no rinse, and none of 100 % left."""
    answer = _answer("rinses", strength="3 g/L")
    assert "It is weak enough already: 3 g/L, and no more than 5 g/L is wanted." == answer.says
    assert () == answer.lines
    # 120 g/L × (1 ÷ (1 + 9)) ^ 2 = 1.2 g/L, below 5 g/L; one rinse leaves 12 g/L.
    rinsed = _answer("rinses")
    assert rinsed.says.startswith("2 rinses of 9 L leave 1 % of the salt")
    assert ("2 × fresh water, 18 L in all.",) == rinsed.lines


def test_two_brines_too_large_together_are_refused_at_the_larger() -> None:
    """Each may be a million litres, but not both at once."""
    assert "first volume" == _refusal("blend", first_volume="999999 L").field
    assert "second volume" == _refusal("blend", second_volume="999999 L").field


def test_coats_that_no_scale_shows_are_refused() -> None:
    """290 − 62 = 228 g in 400 coats is 0.57 g each, on a scale that steps by 1 g."""
    refusal = _refusal("coats-by-weight", coats="400")
    assert ("coats", "228") == (refusal.field, refusal.example)
    assert "less than a step of the scale, 1 g" in refusal.fault
    assert "takes 1 g" in _answer("coats-by-weight", coats="228").says


def test_a_comma_parts_a_list_unless_it_is_a_decimal_one() -> None:
    """Comma or semicolon, with a space or without: the same list; 60,5 is one number."""
    semicolon = _answer("refill", strengths="salt 60 g/L; alum 30 g/L")
    assert semicolon == _answer("refill", strengths="salt 60 g/L,alum 30 g/L")
    assert ["salt 60,5 g/L", "alum 30 g/L"] == listed("salt 60,5 g/L,alum  30 g/L;")
    assert ["5 cm = 4,5 L", "10 cm = 9 L"] == listed("5 cm = 4,5 L, 10 cm = 9 L")
    assert ["bleach", "vinegar", "lime"] == listed("bleach,vinegar;lime")


def test_water_is_counted_at_one_temperature() -> None:
    """998.2 kg/m³ at 20 °C (Kell 1975): 100 g of water is 100.2 mL, 60 % of 3.2 kg is 1.923 L."""
    (mixed,) = _answer("emulsion", oil_weight="0.01 g", water_weight="1000 g").workings
    assert "998" in " ".join(figure for _, figure in mixed.inputs)
    carried = _answer("carried-off").workings[0]
    assert ("density", "998.2 kg/m³") in carried.inputs
    assert "1920 g, 1.923 L" == carried.result
