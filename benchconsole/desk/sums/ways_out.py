"""Examples in refusals: what stands in one has been tried, and mends what was refused."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Mapping

from benchconsole.desk.sums.records import Sum, SumField
from benchconsole.desk.sums.typed_shapes import SHAPES, sizes_example
from benchconsole.errors import BadInput
from benchconsole.model.shop import Shop
from benchconsole.quantities import Measures

_ALTERNATIVES = re.compile(r", | or ")


def example_for(field: SumField, shape: str, measures: Measures) -> str:
    """An input for this field; of sizes one for the shape that is chosen, where one is."""
    shape = shape.strip().lower()
    if field.asks == "sizes" and any(shape == known for known, _ in SHAPES):
        default = field.example_in(measures)
        # The form's own sizes are those of its usual shape, a tub's or a bottle's.
        return default if shape == SHAPES[0][0] else sizes_example(shape, measures)
    return field.example_in(measures)


def with_a_way_out(
    asked: Sum,
    refusal: BadInput,
    texts: Mapping[str, str],
    shop: Shop,
    fault_of: Callable[[Mapping[str, str]], BadInput | None],
) -> BadInput:
    """The refusal with an example that mends it where it is typed.

    The rule's own example comes first, for it knows most. Where the field cannot be mended at all
    the refusal is put to the other one that can be. ``fault_of`` says what is refused of texts.
    """
    field = asked.field_of(refusal.field)
    if field is None:
        return refusal
    shape = texts.get("shape", "")

    def left_by(at: SumField, example: str) -> BadInput | None:
        return fault_of({**texts, at.id: example})

    own = example_for(field, shape, shop.measures)
    tried = {kept: left_by(field, kept) for kept in (*_offered(refusal.example), own)}
    for kept, left in tried.items():
        if left is None:
            return BadInput(refusal.field, refusal.fault, own) if kept == own else refusal
    # Something else is refused besides: the form's own examples go best together.
    for kept in (own, *_offered(refusal.example)):
        left = tried[kept]
        if left is not None and left.field != refusal.field:
            return BadInput(refusal.field, refusal.fault, own) if kept == own else refusal
    for other in _others(asked, field, texts):
        example = example_for(other, shape, shop.measures)
        left = left_by(other, example)
        if left is None or left.field not in (refusal.field, other.words):
            fault = f"with this the {refusal.field} will not do ({refusal.fault})"
            return BadInput(other.words, fault, example)
    return BadInput(refusal.field, refusal.fault)


def _offered(example: str) -> Iterator[str]:
    """The example as it stands, then the first of several: ``12 g or 12 kg``."""
    if example:
        yield example
        yield _ALTERNATIVES.split(example)[0]


def _others(asked: Sum, field: SumField, texts: Mapping[str, str]) -> Iterator[SumField]:
    return (each for each in asked.fields if each is not field and texts.get(each.id, "").strip())
