"""What the sums refuse: in one sentence, at the field it is about, with a way out."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.desk.sums import (
    SUMS,
    Sum,
    SumField,
    answer_to,
    examples,
    field_of,
    look,
    still_wanted,
    sum_named,
)
from benchconsole.errors import BadInput
from benchconsole.model.shop import Shop
from benchconsole.quantities import Measures
from tests.desk.asking_sums import ALL_MEASURES, METRIC, answer_of, every_sum, refusal_of


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


_NEAR = (
    "41 kg; 2 kg; 20 g; 1 mm; 50 cm; 90 L; 400; 60; 7; 2; 40 %; 99 %; 60 °C; 30 °C; 5 °C; 12; "
    "12 x; 16 in x 20 in; 4 cm x 300 cm; 1 m x 2 foo; 4 cm = 4 L; 900 g/L; 26 %; 3 kg/L; "
    "100 salometer; 9000 L/kg"
)
NEAR_MISSES = _NEAR.split("; ")
"""What reads well somewhere, and is too much, too little or of the wrong kind."""


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
        choices = [one for one, _ in _field(asked, name).choices]
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


def _field(asked: Sum, field_id: str) -> SumField:
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
    refusal = refusal_of("cover", hide_weight="80 kg")
    assert ("hide weight", "59.37 kg") == (refusal.field, refusal.example)
    assert "59.37 kg is the most that fits" in refusal.fault
    with_float = refusal_of("cover", hide_weight="80 kg", float="6 L/kg")
    # 62.83 L ÷ (6 + 1 ÷ 1.05) L/kg = 9.037 kg; the step below that is printed.
    assert "9030 g" == with_float.example


def test_the_field_that_leaves_no_room_is_the_one_refused() -> None:
    """A tub that would do, were it not kept free to 5 cm or were less liquor wanted above."""
    assert "keep free" == refusal_of("cover", keep_free="45 cm").field
    assert "liquor above the skin" == refusal_of("cover", liquor_above_the_skin="60 cm").field


@pytest.mark.parametrize("measures", ALL_MEASURES)
def test_sizes_are_shown_for_the_shape_that_is_chosen(measures: Measures) -> None:
    """A bucket has three sizes: a text that is none is answered with three."""
    texts = {**examples(sum_named("cover"), measures), "shape": "bucket", "sizes": "1 m x 2 foo"}
    refusal = _refused(sum_named("cover"), texts, Shop(measures=measures))
    assert refusal is not None
    assert 3 == len(refusal.example.split(" x "))


def test_a_law_that_does_not_reach_so_far_is_a_sentence() -> None:
    """What chemistry refuses comes back at the field it is about, with a way out."""
    refusal = refusal_of("pickle-ph", salt="19 kg")
    assert ("salt", "950 g/L is outside 0 g/L to 190 g/L, where the figures hold") == (
        refusal.field,
        refusal.fault,
    )
    assert "2 kg" == refusal.example
    assert "acid amount" == refusal_of("pickle-ph", acid_amount="3 kg").field
    assert "temperature" == refusal_of("pickle-ph", temperature="60 °C").field
    assert "pH wanted" == refusal_of("neutralise", pH_wanted="9").field


def test_a_refusal_of_a_mixing_rule_is_put_to_its_field() -> None:
    """The word of the rule is another than the form's; the field of the form is named."""
    assert "first strength" == refusal_of("blend", first_strength="90 %").field
    assert "second strength" == refusal_of("blend", second_strength="90 %").field
    assert "second temperature" == refusal_of("blend", second_temperature="50 °C").field
    assert "sizes" == refusal_of("volume-at-depth", sizes="2 mm x 120 m").field
    assert "depth" == refusal_of("volume-at-depth", depth="60 cm").field


def test_degrees_of_no_spindle_are_refused() -> None:
    """38 of what? The example repeats the number with the spindles there are."""
    refusal = refusal_of("spindle", strength="38")
    assert "38 salometer" in refusal.example


def test_sizes_are_asked_for_in_the_order_of_the_shape() -> None:
    """Too few sizes, or a shape just chosen: the order is said."""
    asked = sum_named("volume-at-depth")
    wanted = still_wanted(asked, {"shape": "box"}, METRIC)
    assert any("length, width, depth" in phrase for phrase in wanted)
    assert "length, width, depth" in refusal_of("volume-at-depth", shape="box", sizes="3 cm").fault


def test_each_of_two_scales_must_be_one() -> None:
    """A step of 1 kg and 500 g carried is refused at that scale, whichever of the two it is."""
    for which in ("first", "second"):
        spoilt = {f"{which}_step": "1 kg", f"{which}_capacity": "500 g"}
        refusal = refusal_of("which-scale", **spoilt)
        assert (f"{which} step", "it is more than the scale carries") == (
            refusal.field,
            refusal.fault,
        )


@pytest.mark.parametrize("name", ["pickle-ph", "acid-dose", "neutralise"])
def test_acid_of_no_strength_is_no_acid(name: str) -> None:
    """0 % on the label is refused there."""
    assert "acid strength" == refusal_of(name, acid_strength="0 %").field


def test_acid_does_not_raise_a_ph_and_alkali_does_not_lower_it() -> None:
    """The wrong way round, each names the other sum; the example goes the right way."""
    up = refusal_of("acid-dose", pH_measured="3", pH_wanted="4")
    assert ("pH wanted", "2.5") == (up.field, up.example)
    assert up.fault.endswith("see neutralise")
    down = refusal_of("neutralise", pH_measured="6", pH_wanted="5")
    assert ("pH wanted", "6.5") == (down.field, down.example)
    assert down.fault.endswith("see acid-dose")
    fresh = refusal_of("neutralise", pH_wanted="1")
    assert ("pH wanted", "5") == (fresh.field, fresh.example)
    assert fresh.fault.startswith("fresh it shows pH 2.3 already")
    assert "it shows that already" == refusal_of("acid-dose", pH_wanted="4.2").fault


def test_two_brines_too_large_together_are_refused_at_the_larger() -> None:
    """Each may be a million litres, but not both at once."""
    assert "first volume" == refusal_of("blend", first_volume="999999 L").field
    assert "second volume" == refusal_of("blend", second_volume="999999 L").field


def test_coats_that_no_scale_shows_are_refused() -> None:
    """290 − 62 = 228 g in 400 coats is 0.57 g each, on a scale that steps by 1 g."""
    refusal = refusal_of("coats-by-weight", coats="400")
    assert ("coats", "228") == (refusal.field, refusal.example)
    assert "less than a step of the scale, 1 g" in refusal.fault
    assert "takes 1 g" in answer_of("coats-by-weight", coats="228").says
