"""Formulas: the proportions and order of a liquor or dressing, independent of scale."""

from __future__ import annotations

from datetime import timedelta
from typing import Literal

from benchconsole.model.record import Citation, Figure, Mark, Record

Kind = Literal["liquor", "dressing", "dry"]
By = Literal["scale", "jug"]


class Alternative(Record, frozen=True, kw_only=True):
    """Another substance that may stand in, at ``ratio`` grams for one gram."""

    substance: str
    ratio: float
    source: str
    mark: Mark


class Ingredient(Record, frozen=True, kw_only=True):
    """One addition, as the recipe is written: a mass or a volume, never both.

    ``printed`` is the amount in the source's own words. ``by`` says whether it is weighed
    or measured with a jug. ``suspended``: what does not dissolve is meant to lie in the liquor
    as a sediment that is stirred up, as lime is.
    """

    substance: str
    by: By
    printed: str
    mass_g: float | None = None
    volume_l: float | None = None
    instead: tuple[Alternative, ...] = ()
    suspended: bool = False
    note: str = ""


class Part(Record, frozen=True, kw_only=True):
    """A sub-solution made in its own container, ingredients in order of addition."""

    id: str
    name: str
    container: str
    ingredients: tuple[Ingredient, ...]
    celsius: float | None = None
    do: str = ""


class Joining(Record, frozen=True, kw_only=True):
    """How one part is combined with another: ``add`` goes into ``into``."""

    add: str
    into: str
    how: str


class Serving(Record, frozen=True, kw_only=True):
    """What the recipe as written is enough for: ``hides`` of ``species`` take ``times`` of it."""

    species: tuple[str, ...]
    hides: float
    times: float
    source: str
    mark: Mark


class Coats(Record, frozen=True, kw_only=True):
    """A dressing put on in several coats with a timed wait between."""

    count: int
    wait_min: timedelta
    wait_target: timedelta
    wait_max: timedelta
    source: str
    mark: Mark


class Formula(Record, frozen=True, kw_only=True):
    """Proportions, order, cautions and source of one mix.

    ``for_hide_mass_g``: the amounts are for this much hide (recipes on hide weight).
    ``liquor_per_hide`` is the float, litres of liquor for each kg of hide. ``container_room``
    is how many times its contents a container must hold (foam). ``tolerance`` is the share
    by which a weighing may miss.
    """

    id: str
    name: str
    purpose: str
    kind: Kind
    parts: tuple[Part, ...]
    sources: tuple[Citation, ...]
    joinings: tuple[Joining, ...] = ()
    for_hide_mass_g: float | None = None
    liquor_per_hide: Figure | None = None
    servings: tuple[Serving, ...] = ()
    coats: Coats | None = None
    container_room: float = 1.0
    tolerance: Figure
    celsius_low: float | None = None
    celsius_high: float | None = None
    hold: str = ""
    done_when: str = ""
    cautions: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    own: bool = False

    def part(self, part_id: str) -> Part:
        """The part of that name; KeyError if there is none."""
        for part in self.parts:
            if part.id == part_id:
                return part
        raise KeyError(part_id)
