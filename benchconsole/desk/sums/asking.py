"""Asking a sum: what is still wanted, the answer, and every refusal put to a field of its form."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import structs

from benchconsole.chemistry import OutOfRange
from benchconsole.desk.sums.records import Answer, Sum, SumField, SumLook
from benchconsole.desk.sums.typed import Typed
from benchconsole.desk.sums.typed_shapes import sizes_words
from benchconsole.desk.sums.ways_out import example_for, with_a_way_out
from benchconsole.errors import BadInput, BadQuantity, NotKnown
from benchconsole.library import Library
from benchconsole.mixing.working import plain
from benchconsole.model.shop import Shop
from benchconsole.quantities import Measures


def answer_to(
    asked: Sum, texts: Mapping[str, str], shop: Shop, library: Library | None = None
) -> Answer:
    """The answer to what was typed, by field id; blank fields count as not given.

    ``library`` is the shop's own, with its files; left out, it is the shipped one.
    Raises ``BadInput`` naming the field by its words, and ``NotKnown`` for a field there is not.
    """
    known = {field.id for field in asked.fields}
    for name in texts:
        if name not in known:
            raise NotKnown("field", name, tuple(field.id for field in asked.fields))
    try:
        answer = _worked_out(asked, texts, shop, library)
    except BadInput as refusal:
        raise with_a_way_out(
            asked, refusal, texts, shop, lambda other: _fault(asked, other, shop, library)
        ) from None
    # Some sentences begin with the name of the vessel.
    return structs.replace(answer, says=answer.says[:1].upper() + answer.says[1:])


def still_wanted(asked: Sum, texts: Mapping[str, str], shop: Shop) -> tuple[str, ...]:
    """What has to be typed yet, a phrase each with an example; none when all is there."""
    shape = texts.get("shape", "")
    return tuple(
        f"{field.label}: {_hint(field, shape, shop.measures)}"
        for field in asked.fields
        if not field.optional and not texts.get(field.id, "").strip()
    )


def look(
    asked: Sum, texts: Mapping[str, str], shop: Shop, library: Library | None = None
) -> SumLook:
    """What a form that is being filled in shows: faults of what is typed, or the answer.

    Never raises for a text; a fault that is about no field stands under an empty id.
    ``library`` as for :func:`answer_to`.
    """
    typed = Typed(asked.fields, texts, shop, library)
    faults: dict[str, str] = {}
    for field in asked.fields:
        try:
            typed.check(field.id)
        except BadInput as refusal:
            faults[field.id] = str(refusal)
    wanted = still_wanted(asked, texts, shop)
    answer = None
    if not faults and not wanted:
        try:
            answer = answer_to(asked, texts, shop, library)
        except BadInput as refusal:
            at = asked.field_of(refusal.field)
            faults[at.id if at else ""] = str(refusal)
    return SumLook(answer=answer, faults=faults, wanted=wanted)


def examples(asked: Sum, measures: Measures, *, all_of_them: bool = False) -> dict[str, str]:
    """Texts that are answered, by field id; the optional ones too where they are asked for."""
    return {
        field.id: field.example_in(measures)
        for field in asked.fields
        if all_of_them or not field.optional
    }


def field_of(asked: Sum, words: str) -> SumField | None:
    """The field that a refusal names."""
    return asked.field_of(words)


def _hint(field: SumField, shape: str, measures: Measures) -> str:
    if field.asks == "choice":
        return "choose one"
    example = example_for(field, shape, measures)
    if field.asks == "sizes" and shape:
        return f"{sizes_words(shape)}, for example {example}"
    return f"for example {example}"


def _in_words(law: OutOfRange) -> BadInput:
    low, high = (f"{plain(end)} {law.unit}".rstrip() for end in (law.low, law.high))
    value = f"{plain(law.value)} {law.unit}".rstrip()
    return BadInput(law.quantity, f"{value} is outside {low} to {high}, where the figures hold")


def _worked_out(
    asked: Sum, texts: Mapping[str, str], shop: Shop, library: Library | None
) -> Answer:
    """The answer, or a refusal by a field of the form."""
    typed = Typed(asked.fields, texts, shop, library)
    typed.require_all()
    try:
        return asked.work_out(typed)
    except BadQuantity:
        raise
    except BadInput as refusal:
        raise _blamed(asked, refusal) from None
    except OutOfRange as law:
        raise _blamed(asked, _in_words(law)) from None


def _fault(
    asked: Sum, texts: Mapping[str, str], shop: Shop, library: Library | None
) -> BadInput | None:
    """What is refused of these texts, None where they are answered."""
    try:
        _worked_out(asked, texts, shop, library)
    except BadInput as refusal:
        return refusal
    return None


def _blamed(asked: Sum, refusal: BadInput) -> BadInput:
    """The refusal at the field of the form that it is about."""
    blamed = asked.blames.get(refusal.field, "")
    field = next((field for field in asked.fields if field.id == blamed), None)
    if field is None or asked.field_of(refusal.field) is not None:
        return refusal
    return BadInput(field.words, refusal.fault, refusal.example)
