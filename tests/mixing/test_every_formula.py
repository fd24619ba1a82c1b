"""Every shipped formula can be printed and weighed out, in each measure and on a coarse scale."""

import pytest

from benchconsole.exchange.printed import worksheet_text
from benchconsole.library import shipped_library
from benchconsole.mixing.batches import plan_for
from benchconsole.mixing.targets import AsWritten
from benchconsole.mixing.weighing import deviations, is_done, replay
from benchconsole.mixing.worksheet import worksheet
from benchconsole.model.shop import Scale, Shop
from benchconsole.model.weighing import Accept, Tap
from benchconsole.quantities import Measures

LIBRARY = shipped_library()
MOST_TAPS = 60
"""No formula as written asks for more: five lots of each of a dozen lines."""


@pytest.mark.parametrize("measures", ["us", "imperial", "metric"])
@pytest.mark.parametrize("name", sorted(LIBRARY.formulas))
def test_it_prints_and_weighs(name: str, measures: Measures) -> None:
    """The paper names each thing, and accepting each target ends with every line in."""
    shop = Shop(measures=measures, scale=Scale(step_g=1.0, capacity_g=5000.0), tub_l=200.0)
    sheet = worksheet(LIBRARY.formula(name), AsWritten(), substances=LIBRARY.substances, shop=shop)
    text = worksheet_text(sheet, shop)
    assert all(line.name in text for line in sheet.lines)
    plan = plan_for(sheet, shop)
    taps: list[Tap] = []
    while not is_done(replay(plan, taps)):
        taps.append(Accept())
        assert len(taps) <= MOST_TAPS
    assert all(abs(each) < 0.2 for each in deviations(replay(plan, taps)))


@pytest.mark.parametrize("name", sorted(LIBRARY.formulas))
def test_what_is_said_reads_as_sentences(name: str) -> None:
    """Instructions, cautions and notes begin with a capital, end in a stop and double none."""
    formula = LIBRARY.formula(name)
    said = [*formula.cautions, *formula.notes, *(part.do for part in formula.parts)]
    said += [joining.how for joining in formula.joinings]
    for words in said:
        assert words[0].isupper() or words[0].isdigit() or words.startswith("pH"), words
        assert words.endswith("."), words
        assert ".." not in words, words
