"""The order of addition: the wrong way round is told, whatever container it happens in."""

import msgspec
import pytest

from benchconsole.library import Library
from benchconsole.mixing.order import order_notes
from benchconsole.model.formulas import Formula, Ingredient, Joining, Part


def turned(formula: Formula) -> Formula:
    """The same formula, poured the other way round, its ingredients in reverse."""
    parts = tuple(
        msgspec.structs.replace(part, ingredients=part.ingredients[::-1]) for part in formula.parts
    )
    joinings = tuple(
        msgspec.structs.replace(joining, add=joining.into, into=joining.add)
        for joining in formula.joinings
    )
    return msgspec.structs.replace(formula, parts=parts, joinings=joinings)


@pytest.mark.parametrize(
    ("formula", "codes"),
    [
        ("salt-formic-pickle", {"water-into-acid", "acid-before-salt"}),
        ("salt-citric-pickle", {"acid-before-salt"}),
        ("alum-salt-soda-bath", {"alum-into-soda"}),
    ],
)
def test_the_wrong_way_round_is_told(library: Library, formula: str, codes: set[str]) -> None:
    """Water into acid, acid before salt, alum into soda: each told by its code, in a sentence."""
    found = order_notes(turned(library.formula(formula)), library.substances)
    assert codes == {each.code for each in found}
    assert all(each.says.endswith(".") for each in found)


def test_acid_into_a_hot_brine_is_told(library: Library) -> None:
    """The one old version that adds acid while the brine is hot is not followed unwarned."""
    formula = library.formula("salt-formic-pickle")
    hot = msgspec.structs.replace(formula.parts[0], celsius=90.0)
    parts = (hot, *formula.parts[1:])
    found = order_notes(msgspec.structs.replace(formula, parts=parts), library.substances)
    assert ["acid-into-hot"] == [each.code for each in found]


def test_soda_all_at_once_is_told(library: Library) -> None:
    """Without “slowly” in how the soda joins the alum, and without room for foam, it is told."""
    formula = library.formula("alum-salt-soda-bath")
    (joining,) = formula.joinings
    fast = msgspec.structs.replace(joining, how="Tip it in.")
    found = order_notes(
        msgspec.structs.replace(formula, joinings=(fast,), container_room=1.0), library.substances
    )
    assert ["soda-fast", "foam-room"] == [each.code for each in found]


def joined_in(library: Library, *order: str) -> Formula:
    """A tub of water, and jugs of acid, salt, alum or soda water joined to it in this order."""
    jugs = {"acid": "formic-acid", "salt": "salt", "alum": "potassium-alum", "soda": "washing-soda"}
    formula = library.formula("salt-formic-pickle")
    water = Ingredient(substance="water", by="scale", printed="1 L", mass_g=1000.0)
    parts = [Part(id="tub", name="Tub", container="tub", ingredients=(water,))]
    for name in order:
        thing = Ingredient(substance=jugs[name], by="scale", printed="50 g", mass_g=50.0)
        things = (water, thing)
        parts.append(Part(id=name, name=f"{name} jug", container="jug", ingredients=things))
    return msgspec.structs.replace(
        formula,
        parts=tuple(parts),
        joinings=tuple(Joining(add=each, into="tub", how="Pour it in.") for each in order),
        container_room=2.0,
    )


@pytest.mark.parametrize(
    ("order", "codes"),
    [
        (("acid", "salt"), ["acid-before-salt"]),
        (("salt", "acid"), []),
        (("acid", "salt", "salt"), ["acid-before-salt"]),
        (("alum", "soda"), ["soda-fast"]),
        (("soda", "alum"), ["alum-into-soda"]),
    ],
)
def test_what_was_joined_before_is_in_the_tub(
    library: Library, order: tuple[str, ...], codes: list[str]
) -> None:
    """The tub holds only water of its own; what counts is which jug went in first."""
    names = tuple(dict.fromkeys(order))
    formula = joined_in(library, *names)
    again = tuple(Joining(add=each, into="tub", how="Pour it in.") for each in order)
    found = order_notes(msgspec.structs.replace(formula, joinings=again), library.substances)
    assert codes == [each.code for each in found]
    assert {"Tub"} >= {each.part for each in found}
