"""The library as the rest of the program sees it: records by id, and a plain "not known"."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TypeVar

import msgspec

from benchconsole.errors import NotKnown
from benchconsole.model.formulas import Formula
from benchconsole.model.hazards import Incompatible
from benchconsole.model.record import Record
from benchconsole.model.routes import Route, Species
from benchconsole.model.substances import Substance

Entry = TypeVar("Entry", Substance, Formula, Route, Species)


class Library(Record, frozen=True, kw_only=True):
    """Everything that can be mixed and every route that can be followed, by id."""

    substances: dict[str, Substance] = msgspec.field(default_factory=dict)
    formulas: dict[str, Formula] = msgspec.field(default_factory=dict)
    routes: dict[str, Route] = msgspec.field(default_factory=dict)
    species: dict[str, Species] = msgspec.field(default_factory=dict)
    incompatible: tuple[Incompatible, ...] = ()
    """Kinds of substance that must not meet."""

    def substance(self, substance_id: str) -> Substance:
        """The substance of that id; NotKnown if there is none."""
        return _entry(self.substances, "substance", substance_id)

    def formula(self, formula_id: str) -> Formula:
        """The formula of that id; NotKnown if there is none."""
        return _entry(self.formulas, "formula", formula_id)

    def route(self, route_id: str) -> Route:
        """The route of that id; NotKnown if there is none."""
        return _entry(self.routes, "route", route_id)

    def animal(self, species_id: str) -> Species:
        """The species of that id; NotKnown if there is none."""
        return _entry(self.species, "species", species_id)


def _entry(entries: Mapping[str, Entry], kind: str, entry_id: str) -> Entry:
    try:
        return entries[entry_id]
    except KeyError:
        raise NotKnown(kind, entry_id, tuple(sorted(entries))) from None
