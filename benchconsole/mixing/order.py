"""The order of addition: what boils, foams, swells a skin or spoils the liquor if it goes wrong.

These watch a person's own formulas as much as ours; a formula they are silent about is not
thereby safe.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from benchconsole.model.formulas import Formula, Joining, Part
from benchconsole.model.hazards import Group, Severity
from benchconsole.model.record import Record
from benchconsole.model.substances import Substance

HOT_CELSIUS = 40.0
"""Acid goes into nothing warmer. Our own choice, no source: a liquor that still steams."""

FOAM_ROOM = 1.5
"""Less room than so many times the contents is none for foam. Our own choice, no source: the
guides that print the alum and soda bath ask for twice."""


class OrderNote(Record, frozen=True, kw_only=True):
    """One thing about the order of a formula.

    Codes: ``water-into-acid``, ``acid-into-hot``, ``acid-before-salt``, ``soda-fast``,
    ``alum-into-soda``, ``foam-room``.
    """

    code: str
    part: str
    severity: Severity
    says: str


class _Container(Record, frozen=True, kw_only=True):
    """What is in a part's container by now: its own ingredients and what was joined to them."""

    name: str
    things: tuple[Substance, ...]
    hot: bool

    def with_poured(self, other: _Container) -> _Container:
        """The same with the other's contents in it; what was hot is taken to stay so."""
        return _Container(
            name=self.name, things=self.things + other.things, hot=self.hot or other.hot
        )


def order_notes(formula: Formula, substances: Mapping[str, Substance]) -> tuple[OrderNote, ...]:
    """What is wrong with the order in which a formula brings its things together.

    Each container's contents are followed through the joinings, in their order.
    """
    found: list[OrderNote] = []
    containers: dict[str, _Container] = {}
    for part in formula.parts:
        found += _within(part, substances)
        containers[part.id] = _Container(
            name=part.name, things=tuple(_things(part, substances)), hot=_is_hot(part)
        )
    for joining in formula.joinings:
        poured, into = containers[joining.add], containers[joining.into]
        found += _joined(poured, into, joining)
        containers[joining.into] = into.with_poured(poured)
    if _foams(formula, substances) and formula.container_room < FOAM_ROOM:
        says = "Acid or alum with soda foams: say how much room the container needs."
        found.append(OrderNote(code="foam-room", part="", severity="caution", says=says))
    return tuple(dict.fromkeys(found))


def _within(part: Part, substances: Mapping[str, Substance]) -> Iterator[OrderNote]:
    """In one container, one after the other."""
    things = [substances[each.substance] for each in part.ingredients]
    strong = _places(things, "strong-acid")
    water = [place for place, thing in enumerate(things) if thing.form == "water"]
    if strong and water and max(water) > strong[0]:
        yield _water_into_acid(part.name, things[strong[0]].name)
    if strong and water and _is_hot(part):
        yield _acid_into_hot(part.name, things[strong[0]].name)
    acids = [place for place, thing in enumerate(things) if thing.acid]
    salt = _places(things, "brine")
    if acids and salt and max(salt) > acids[0]:
        yield _acid_before_salt(part.name, things[acids[0]].name)
    if _places(things, "alum") and _places(things, "carbonate"):
        yield _soda_fast(part.name)


def _joined(poured: _Container, into: _Container, joining: Joining) -> Iterator[OrderNote]:
    """One container poured into another."""
    acid_waits = _places(into.things, "strong-acid")
    if acid_waits and _has_water(poured.things) and not _has_water(into.things):
        yield _water_into_acid(into.name, into.things[acid_waits[0]].name)
    acid_poured = _places(poured.things, "strong-acid")
    if acid_poured and into.hot:
        yield _acid_into_hot(into.name, poured.things[acid_poured[0]].name)
    acids = [thing for thing in into.things if thing.acid]
    if acids and _places(poured.things, "brine") and not _places(into.things, "brine"):
        yield _acid_before_salt(into.name, acids[0].name)
    if _places(poured.things, "carbonate") and _places(into.things, "alum"):
        if "slow" not in joining.how.lower():
            yield _soda_fast(into.name)
    elif _places(poured.things, "alum") and _places(into.things, "carbonate"):
        says = f"{into.name}: pour the soda into the alum, not the alum into the soda: it jellies."
        yield OrderNote(code="alum-into-soda", part=into.name, severity="caution", says=says)


def _things(part: Part, substances: Mapping[str, Substance]) -> list[Substance]:
    return [substances[each.substance] for each in part.ingredients]


def _places(things: Sequence[Substance], kind: Group) -> list[int]:
    return [place for place, thing in enumerate(things) if kind in thing.groups]


def _has_water(things: Sequence[Substance]) -> bool:
    return any(thing.form == "water" for thing in things)


def _is_hot(part: Part) -> bool:
    return part.celsius is not None and part.celsius > HOT_CELSIUS


def _foams(formula: Formula, substances: Mapping[str, Substance]) -> bool:
    things = [thing for part in formula.parts for thing in _things(part, substances)]
    return bool(_places(things, "acid")) and bool(_places(things, "carbonate"))


def _water_into_acid(part: str, acid: str) -> OrderNote:
    says = f"{part}: never water into {acid}, it boils and spits: the acid goes into the water."
    return OrderNote(code="water-into-acid", part=part, severity="never", says=says)


def _acid_into_hot(part: str, acid: str) -> OrderNote:
    says = f"{part}: {acid} into a hot liquor fumes and spatters: let the liquor get cold first."
    return OrderNote(code="acid-into-hot", part=part, severity="never", says=says)


def _acid_before_salt(part: str, acid: str) -> OrderNote:
    says = f"{part}: the salt goes in before the {acid}: acid without salt swells a skin."
    return OrderNote(code="acid-before-salt", part=part, severity="avoid", says=says)


def _soda_fast(part: str) -> OrderNote:
    says = (
        f"{part}: soda goes into alum dissolved, very slowly and stirring: "
        "fast, it foams over and jellies."
    )
    return OrderNote(code="soda-fast", part=part, severity="caution", says=says)
