"""What must not meet: within a formula, in its vessel, and on the shelf beside it.

Only what the library knows of is told; silence is no leave.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Literal

from benchconsole.model.formulas import Formula
from benchconsole.model.hazards import Group, Incompatible, Severity
from benchconsole.model.record import MARK_WORDS, Record
from benchconsole.model.substances import Substance

Where = Literal["formula", "vessel", "material", "shelf"]

SEVERITIES: tuple[Severity, ...] = ("never", "avoid", "caution", "note")
"""The worst first."""

MATERIALS: dict[Group, str] = {
    "aluminium": "aluminium",
    "zinc": "zinc or galvanised iron",
    "iron": "iron or steel",
    "copper": "copper or brass",
    "stainless": "stainless steel",
}
"""What a vessel may be made of, of the kinds that something eats, in words."""


class Clash(Record, frozen=True, kw_only=True):
    """Two things that must not meet, or only so; ``first`` is a thing of the formula.

    ``where`` says what ``second`` is: of the same formula, what the vessel last held, what the
    vessel is made of, or what stands on the shelf.
    """

    where: Where
    severity: Severity
    first: str
    second: str
    says: str
    source: str


def clashes(
    formula: Formula,
    rules: Sequence[Incompatible],
    substances: Mapping[str, Substance],
    *,
    last_content: Iterable[str] = (),
    shelf: Iterable[str] = (),
    vessel: Iterable[Group] = (),
) -> tuple[Clash, ...]:
    """Every clash of a formula, the worst first, each rule once in each place.

    ``last_content`` holds the ids of what the vessel last held, ``shelf`` of what stands within
    reach (of that only what must never meet is told), ``vessel`` the metals it is made of. What
    the vessel held and the library does not know is told as such.
    """
    own = _things(_ids_of(formula), substances)
    held = tuple(dict.fromkeys(last_content))
    near = [each for each in _things(shelf, substances) if each not in own]
    metals = [(MATERIALS.get(kind, kind), (kind,)) for kind in vessel]
    found = [_unknown(each) for each in held if each not in substances]
    for rule in rules:
        found += _first_of(rule, "formula", own, own)
        found += _first_of(rule, "vessel", own, _things(held, substances))
        found += _first_of(rule, "material", own, metals)
        if rule.severity == "never":
            found += _first_of(rule, "shelf", own, near)
    return tuple(sorted(found, key=lambda clash: SEVERITIES.index(clash.severity)))


_Thing = tuple[str, tuple[Group, ...]]
"""A name in words and the kinds it belongs to."""


def _ids_of(formula: Formula) -> Iterator[str]:
    return (each.substance for part in formula.parts for each in part.ingredients)


def _things(ids: Iterable[str], substances: Mapping[str, Substance]) -> list[_Thing]:
    known = [substances[each] for each in dict.fromkeys(ids) if each in substances]
    return [(each.name, each.groups) for each in known]


def _first_of(
    rule: Incompatible, where: Where, ours: Sequence[_Thing], others: Sequence[_Thing]
) -> list[Clash]:
    """The rule's clash between the two, at most one: its sentence holds for all pairs."""
    for mine, my_kinds in ours:
        for other, its_kinds in others:
            apart = where != "formula" or mine != other
            one_way = rule.first in my_kinds and rule.second in its_kinds
            other_way = rule.second in my_kinds and rule.first in its_kinds
            if apart and (one_way or other_way):
                return [_clash(rule, where, mine, other)]
    return []


def _clash(rule: Incompatible, where: Where, mine: str, other: str) -> Clash:
    told = {
        "formula": f"{mine} with {other}: {rule.says}",
        "vessel": f"The vessel last held {other}. {rule.says} "
        "Rinse it with plenty of plain water before anything goes in.",
        "material": f"A vessel of {other}: {rule.says}",
        "shelf": f"Keep {mine} and {other} apart. {rule.says}",
    }
    return Clash(
        where=where,
        severity=rule.severity,
        first=mine,
        second=other,
        says=told[where],
        source=f"{rule.source} ({MARK_WORDS[rule.mark]})",
    )


def _unknown(held: str) -> Clash:
    return Clash(
        where="vessel",
        severity="caution",
        first="",
        second=held,
        says=f"The vessel last held “{held[:40]}”, which is not known here: rinse it with plenty "
        "of plain water before anything goes in.",
        source=MARK_WORDS["practice"],
    )
