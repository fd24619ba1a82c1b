"""A formula from its file: amounts read as quantities, names resolved, parts joined into one."""

from __future__ import annotations

from benchconsole.errors import BadQuantity
from benchconsole.library.catalogue import Library
from benchconsole.library.checks import (
    check_figure,
    check_known,
    check_marks,
    check_names,
    check_said,
    check_within,
    quantity_fault,
    window_at,
)
from benchconsole.library.faults import Fault
from benchconsole.library.lines import Path
from benchconsole.library.written import FormulaFile, WrittenFormula, WrittenIngredient, WrittenPart
from benchconsole.model.formulas import Coats, Formula, Ingredient, Joining, Part, Serving
from benchconsole.quantities.reading import Amount, read_amount, read_mass
from benchconsole.quantities.words import Measures

COLDEST_C, HOTTEST_C = -5.0, 100.0
MOST_COATS = 10


def formula_from(file: FormulaFile, library: Library, *, own: bool) -> Formula:
    """The formula of a file; Fault for what cannot be mixed with what the library knows."""
    head = file.formula
    check_names([(head.id, head.name, ("formula",))])
    check_said(head.purpose, ("formula", "purpose"))
    if not file.source:
        raise Fault(("source",), "a formula says where it comes from: [[source]]")
    _check_head(head)
    parts = _parts_from(file.part, head.measures, library)
    _check_joinings(file.join, parts)
    for place, serving in enumerate(file.serving):
        _check_serving(serving, library, ("serving", place))
    return Formula(
        id=head.id,
        name=head.name,
        purpose=head.purpose,
        kind=head.kind,
        parts=parts,
        sources=file.source,
        joinings=file.join,
        for_hide_mass_g=_hide_mass_g(head),
        liquor_per_hide=head.liquor_per_hide,
        servings=file.serving,
        coats=_coats_from(head),
        container_room=head.container_room,
        tolerance=head.tolerance,
        celsius_low=head.celsius_low,
        celsius_high=head.celsius_high,
        hold=head.hold,
        done_when=head.done_when,
        cautions=head.cautions,
        notes=head.notes,
        own=own,
    )


def _check_head(head: WrittenFormula) -> None:
    check_figure(head.tolerance, 1e-4, 0.5, ("formula", "tolerance"))
    check_figure(head.liquor_per_hide, 0.01, 200, ("formula", "liquor_per_hide"))
    check_within(head.container_room, 1, 10, ("formula", "container_room"))
    low = COLDEST_C if head.celsius_low is None else head.celsius_low
    check_within(head.celsius_low, COLDEST_C, HOTTEST_C, ("formula", "celsius_low"))
    check_within(head.celsius_high, low, HOTTEST_C, ("formula", "celsius_high"))


def _hide_mass_g(head: WrittenFormula) -> float | None:
    if head.for_hide_mass is None:
        return None
    try:
        return read_mass(head.for_hide_mass, field="for_hide_mass", measures=head.measures)
    except BadQuantity as error:
        raise quantity_fault(error, ("formula", "for_hide_mass")) from None


def _coats_from(head: WrittenFormula) -> Coats | None:
    written = head.coats
    if written is None:
        return None
    path: Path = ("formula", "coats")
    check_within(written.count, 1, MOST_COATS, (*path, "count"))
    waits = (written.wait_min, written.wait_target, written.wait_max)
    shortest, target, longest = window_at(waits, path, "wait_")
    return Coats(
        count=written.count,
        wait_min=shortest,
        wait_target=target,
        wait_max=longest,
        source=written.source,
        mark=written.mark,
    )


def _parts_from(
    written: tuple[WrittenPart, ...], measures: Measures, library: Library
) -> tuple[Part, ...]:
    if not written:
        raise Fault(("part",), "a formula has at least one [[part]]")
    check_names((part.id, part.name, ("part", place)) for place, part in enumerate(written))
    return tuple(
        _part_from(part, measures, library, ("part", place)) for place, part in enumerate(written)
    )


def _part_from(written: WrittenPart, measures: Measures, library: Library, path: Path) -> Part:
    if not written.ingredient:
        raise Fault((*path, "ingredient"), "a part has at least one [[part.ingredient]]")
    check_within(written.celsius, COLDEST_C, HOTTEST_C, (*path, "celsius"))
    return Part(
        id=written.id,
        name=written.name,
        container=written.container,
        ingredients=tuple(
            _ingredient_from(ingredient, measures, library, (*path, "ingredient", place))
            for place, ingredient in enumerate(written.ingredient)
        ),
        celsius=written.celsius,
        do=written.do,
    )


def _ingredient_from(
    written: WrittenIngredient, measures: Measures, library: Library, path: Path
) -> Ingredient:
    check_known(written.substance, library.substances, "substance", (*path, "substance"))
    amount = _amount_at(written.amount, measures, (*path, "amount"))
    substance = library.substances[written.substance]
    measured = written.by == "jug" or amount.volume_l is not None
    weighed = written.by == "scale" or amount.mass_g is not None
    if measured and weighed and substance.density is None:
        raise Fault((*path, "amount"), f"the density of {substance.name} is not known: weigh it")
    for place, other in enumerate(written.instead):
        here = (*path, "instead", place)
        check_known(other.substance, library.substances, "substance", (*here, "substance"))
        check_within(other.ratio, 0.01, 100, (*here, "ratio"))
        check_said(other.source, (*here, "source"))
        check_marks([(other.mark, here)])
        if other.substance == written.substance:
            raise Fault((*here, "substance"), "a substance cannot stand in for itself")
    return Ingredient(
        substance=written.substance,
        by=written.by,
        printed=written.printed or written.amount,
        mass_g=amount.mass_g,
        volume_l=amount.volume_l,
        instead=written.instead,
        suspended=written.suspended,
        note=written.note,
    )


def _amount_at(text: str, measures: Measures, path: Path) -> Amount:
    try:
        return read_amount(text, field="amount", measures=measures)
    except BadQuantity as error:
        raise quantity_fault(error, path) from None


def _check_joinings(joinings: tuple[Joining, ...], parts: tuple[Part, ...]) -> None:
    """All parts must end in one liquor: each but the last is added once, and nothing to itself."""
    ids = {part.id: part for part in parts}
    went_into: dict[str, str] = {}
    for place, joining in enumerate(joinings):
        path: Path = ("join", place)
        check_known(joining.add, ids, "part", (*path, "add"))
        check_known(joining.into, ids, "part", (*path, "into"))
        check_said(joining.how, (*path, "how"))
        if joining.add in went_into:
            raise Fault((*path, "add"), f"“{joining.add}” was already added to another part")
        if _end_of(joining.into, went_into) == joining.add:
            raise Fault((*path, "add"), f"“{joining.add}” would be added to itself, in a circle")
        if joining.into in went_into:
            raise Fault((*path, "into"), f"“{joining.into}” was already added to another part")
        went_into[joining.add] = joining.into
    if len(went_into) != len(parts) - 1:
        left = ", ".join(part.id for part in parts if part.id not in went_into)
        raise Fault(("join",), f"a [[join]] is missing: {left} stay apart")


def _end_of(part_id: str, went_into: dict[str, str]) -> str:
    while part_id in went_into:
        part_id = went_into[part_id]
    return part_id


def _check_serving(serving: Serving, library: Library, path: Path) -> None:
    for species in serving.species:
        check_known(species, library.species, "species", (*path, "species"))
    check_within(serving.hides, 0.001, 10_000, (*path, "hides"))
    check_within(serving.times, 0.001, 10_000, (*path, "times"))
    check_said(serving.source, (*path, "source"))
    check_marks([(serving.mark, path)])
