"""What a worksheet says before the first weighing, in which order, and each thing once."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from benchconsole.library import shipped_library
from benchconsole.mixing.batches import plan_for
from benchconsole.mixing.safety import STANDING_CAUTION, gear_words
from benchconsole.mixing.targets import AsWritten
from benchconsole.mixing.worksheet import Worksheet, worksheet
from benchconsole.model.formulas import Formula, Ingredient
from benchconsole.model.shop import Shop

LIBRARY = shipped_library()


def sheet_of(formula: str | Formula) -> Worksheet:
    """As written, with all the rules of the library."""
    return worksheet(
        LIBRARY.formula(formula) if isinstance(formula, str) else formula,
        AsWritten(),
        substances=LIBRARY.substances,
        shop=Shop(measures="metric"),
        rules=LIBRARY.incompatible,
    )


def with_also(formula: str, substance: str, *, first: bool = False) -> Formula:
    """A shipped formula with 50 g of something more in its first part."""
    made = LIBRARY.formula(formula)
    more = Ingredient(substance=substance, by="scale", printed="50 g", mass_g=50.0)
    one, *others = made.parts
    ingredients = (more, *one.ingredients) if first else (*one.ingredients, more)
    return replace(made, parts=(replace(one, ingredients=ingredients), *others), own=True)


@pytest.mark.parametrize("formula", sorted(LIBRARY.formulas))
def test_every_shipped_sheet_is_whole_and_says_nothing_twice(formula: str) -> None:
    """Gear in front, the standing caution last, no sentence twice, no fault of meeting or order."""
    sheet = sheet_of(formula)
    assert STANDING_CAUTION == sheet.cautions[-1]
    assert len(sheet.cautions) == len(set(sheet.cautions))
    assert gear_words(sheet.gear) == [*sheet.cautions[: 1 if sheet.gear else 0]]
    assert sum(words.startswith("Wear") for words in sheet.cautions) <= 1
    assert not {"clash", "order"} & {check.code for check in sheet.checks}
    for note in sheet.hazards:
        assert any(note.says[1:] == words[1:] for words in sheet.cautions)


def test_a_place_to_work_is_not_worn() -> None:
    """A draught is opened, goggles are worn."""
    told = gear_words(("goggles", "acid gloves", "open air or a draught"))
    assert ["Wear: goggles, acid gloves. Work in open air or a draught."] == told
    assert ["Wear: gloves."] == gear_words(("gloves",))
    assert [] == gear_words(())


def test_a_very_acid_liquor_is_told_by_its_ph() -> None:
    """At pH 1 the liquor itself burns, though its acid is weaker than the label's limit."""
    sheet = sheet_of("rising-pickle")
    (whole,) = [note for note in sheet.hazards if not note.substance]
    assert "pH 1.0" in whole.says
    assert "acid gloves" in sheet.gear


def test_bleach_in_a_pickle_is_a_fault_before_the_first_weighing() -> None:
    """Never: it stands among the faults, has its source, and heads the plan's cautions."""
    sheet = sheet_of(with_also("salt-citric-pickle", "bleach"))
    clash = sheet.checks[0]
    assert ("clash", False) == (clash.code, clash.ok)
    assert "chlorine" in clash.says
    assert clash.working.source
    plan = plan_for(sheet, Shop(measures="metric"))
    heads = plan.cautions[: len(plan.cautions) - len(sheet.cautions)]
    assert clash.says in heads


def test_acid_before_salt_is_a_fault_of_order() -> None:
    """The acid in front of the salt in one tub: the part is named by its id."""
    made = LIBRARY.formula("salt-citric-pickle")
    (part,) = made.parts
    water, salt, acid = part.ingredients
    turned = replace(made, parts=(replace(part, ingredients=(water, acid, salt)),))
    order = next(check for check in sheet_of(turned).checks if check.code == "order")
    assert (False, part.id) == (order.ok, order.part)
    assert "the salt goes in before" in order.says


def test_foam_is_a_caution_and_no_fault() -> None:
    """Alum and soda meet as the recipe wants it: told, not flagged."""
    sheet = sheet_of("alum-salt-soda-bath")
    assert any("foam up" in words for words in sheet.cautions)
    assert "clash" not in {check.code for check in sheet.checks}
