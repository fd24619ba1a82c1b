"""Asking a sum with its own examples, some of them typed otherwise."""

from __future__ import annotations

import pytest

from benchconsole.desk.sums import (
    SUMS,
    Answer,
    answer_to,
    examples,
    sum_named,
)
from benchconsole.errors import BadInput
from benchconsole.model.shop import Shop
from benchconsole.quantities import Measures

METRIC = Shop(measures="metric", jug_l=5.0)

ALL_MEASURES: tuple[Measures, ...] = ("metric", "us", "imperial")

every_sum = pytest.mark.parametrize("asked", SUMS, ids=lambda one: one.name)


def answer_of(name: str, shop: Shop = METRIC, **texts: str) -> Answer:
    """The answer to the sum's own examples with some fields typed otherwise."""
    asked = sum_named(name)
    spelled = {name.replace("_", "-"): text for name, text in texts.items()}
    return answer_to(asked, {**examples(asked, shop.measures), **spelled}, shop)


def refusal_of(name: str, **texts: str) -> BadInput:
    """What is refused of them."""
    with pytest.raises(BadInput) as caught:
        answer_of(name, METRIC, **texts)
    return caught.value
