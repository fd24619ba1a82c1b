"""May these meet? Clashes of the list, the worst first; its silence is never called a leave."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.desk.sums import Answer, answer_to, look, sum_named
from benchconsole.errors import BadInput
from benchconsole.library import Library, shipped_library
from benchconsole.model.hazards import Incompatible
from benchconsole.model.shop import Shop
from benchconsole.model.substances import Substance

METRIC = Shop(measures="metric")
NEIGHBOURS = sum_named("neighbours")


def _ask(library: Library | None = None, /, **texts: str) -> Answer:
    spelled = {name.replace("_", "-"): text for name, text in texts.items()}
    return answer_to(NEIGHBOURS, spelled, METRIC, library)


def _refusal(**texts: str) -> BadInput:
    with pytest.raises(BadInput) as caught:
        _ask(**texts)
    return caught.value


def _said(answer: Answer) -> str:
    return " ".join((answer.says, *answer.lines, *answer.cautions))


def test_bleach_and_vinegar_never_meet() -> None:
    """Chlorine, told first, with the list it comes from.

    Source: hypochlorites and acids in the list of incompatible chemicals that a chemical society
    publishes for academic laboratories.
    """
    answer = _ask(these="bleach, vinegar")
    assert answer.says.startswith("Never: ")
    assert "chlorine" in answer.says
    assert answer.workings[0].source.startswith("Incompatible chemicals, list of a chemical")


def test_a_formula_is_all_that_is_in_it() -> None:
    """By id or by name: the alum of the bath is acid enough for bleach in the vessel."""
    by_id = _ask(these="alum-salt-bath", vessel_held="bleach")
    assert by_id == _ask(these="Alum and salt bath", vessel_held="household bleach")
    assert "The vessel last held household bleach" in by_id.says
    assert "ammonium alum" in dict(by_id.workings[-1].inputs)["these"]


def test_the_worst_comes_first() -> None:
    """What kills before what spoils the vessel, and that before what is good to know."""
    answer = _ask(these="salt, alum-salt-bath, soap", vessel_made_of="zinc", same_shelf="bleach")
    heads = [line.partition(":")[0] for line in (answer.says, *answer.lines)]
    order = ["Never", "Avoid it", "Take care", "Know this"]
    ranks = [order.index(head) for head in heads]
    assert {"Never", "Avoid it", "Know this"} == set(heads)
    assert sorted(ranks) == ranks


def test_lime_in_an_aluminium_pot() -> None:
    """Alkali dissolves aluminium and gives off hydrogen; in stoneware the list is silent.

    Source: International Chemical Safety Card 0408 (lime attacks many metals, hydrogen).
    """
    assert "hydrogen" in _ask(these="lime", vessel_made_of="aluminium").says
    silent = _ask(these="lime", vessel_made_of="other")
    assert "Nothing in our list speaks against it; that is no promise." == silent.says


def test_what_the_list_cannot_judge_is_named() -> None:
    """Flour has no kind: that the list says nothing of it is said."""
    assert ("Of these the list knows nothing: flour.",) == _ask(these="flour, borax").lines


def test_an_unknown_last_content_is_a_caution_not_a_refusal() -> None:
    """A vessel that held something nobody knows is rinsed; elsewhere the name is refused."""
    answer = _ask(these="vinegar", vessel_held="mystery powder")
    assert "“mystery powder”, which is not known here: rinse it" in answer.says
    assert "these" == _refusal(these="vinegar, mystery powder").field
    assert "same shelf" == _refusal(these="vinegar", same_shelf="mystery powder").field


def test_names_may_be_short_but_not_doubtful() -> None:
    """Lime is hydrated lime; alum is one of two; a slip is told the nearest name."""
    assert _ask(these="lime, vinegar") == _ask(these="hydrated lime; white vinegar")
    assert "ammonium alum or potassium alum: say which" in _refusal(these="alum, salt").fault
    assert "the nearest is vinegar" in _refusal(these="vinegr, bleach").fault
    assert "nothing can be told of it" in _refusal(these="lye, salt").fault
    assert "not known" in _refusal(these="s, salt").fault


def test_one_thing_alone_is_asked_what_it_meets() -> None:
    """Bleach, and nothing else: the question is only half asked; with a shelf it is whole."""
    assert "name another" in _refusal(these="bleach").fault
    assert "Keep household bleach" in _ask(these="bleach", same_shelf="vinegar").says


def test_the_shops_own_substances_are_known() -> None:
    """A library with lye in it, and a rule of its own."""
    lye = Substance(id="lye", name="lye", form="solid", groups=("strong-alkali",))
    wine = Substance(id="wine", name="wine", form="liquid", groups=("tannin",))
    rule = Incompatible(
        first="tannin",
        second="strong-alkali",
        severity="avoid",
        says="Lye spoils it.",
        source="the shop",
        mark="practice",
    )
    own = Library(substances={"lye": lye, "wine": wine}, incompatible=(rule,))
    assert "Avoid it: lye with wine: Lye spoils it." == _ask(own, these="lye, wine").says
    seen = look(NEIGHBOURS, {"these": "lye, wine"}, METRIC, own)
    assert seen.answer is not None
    assert {"these"} == set(look(NEIGHBOURS, {"these": "lye, wine"}, METRIC).faults)


names = st.sampled_from(sorted(shipped_library().substances))


@settings(max_examples=60, deadline=None)
@given(st.lists(names, min_size=2, max_size=5, unique=True), st.lists(names, max_size=3))
def test_nothing_is_ever_called_safe(mixed: list[str], held: list[str]) -> None:
    """Whatever meets: both standing cautions, a source for each, and no word of leave."""
    answer = _ask(these=", ".join(mixed), vessel_held=", ".join(held))
    assert 2 == len(answer.cautions)
    assert all(working.source for working in answer.workings)
    words = _said(answer).casefold()
    assert not [
        leave for leave in ("is safe", "are safe", "harmless", "may meet") if leave in words
    ]


@settings(max_examples=60, deadline=None)
@given(st.permutations(["bleach", "vinegar", "salt", "borax", "lime"]))
def test_the_order_of_naming_changes_no_warning(order: list[str]) -> None:
    """The same things in another order: as many clashes, of the same sources."""
    first = _ask(these="bleach, vinegar, salt, borax, lime")
    again = _ask(these=", ".join(order))
    assert sorted(each.source for each in first.workings) == sorted(
        each.source for each in again.workings
    )
