"""The shape of the files, before their quantities are read; shipped and own alike.

A file says what it is by its top table: ``[formula]``, ``[route]``, ``[[substance]]``,
``[[species]]`` or ``[[incompatible]]``.  Amounts and durations are text with a unit, as a recipe
prints them; names that end in a unit (``celsius``) are bare numbers in it.
"""

from __future__ import annotations

import msgspec

from benchconsole.model.formulas import Alternative, By, Joining, Kind, Serving
from benchconsole.model.hazards import Incompatible
from benchconsole.model.record import Citation, Figure, Mark, Record
from benchconsole.model.routes import DriesTo, Species, Stake
from benchconsole.model.substances import Substance
from benchconsole.quantities.words import Measures


class WrittenIngredient(Record, frozen=True, kw_only=True):
    """One addition; ``amount`` such as "2 1/2 lb"; ``printed`` if the source says more.

    ``suspended``: what does not dissolve of it is meant to stay as a sediment.
    """

    substance: str
    by: By
    amount: str
    printed: str = ""
    instead: tuple[Alternative, ...] = ()
    suspended: bool = False
    note: str = ""


class WrittenPart(Record, frozen=True, kw_only=True):
    """One sub-solution, its ingredients in order of addition."""

    id: str
    name: str
    container: str
    ingredient: tuple[WrittenIngredient, ...]
    celsius: float | None = None
    do: str = ""


class WrittenCoats(Record, frozen=True, kw_only=True):
    """Coats and the waits between; in a route's stage the stage's sources vouch for them."""

    count: int
    wait_min: str
    wait_target: str
    wait_max: str


class WrittenFormulaCoats(WrittenCoats, frozen=True, kw_only=True):
    """The coats of a formula, with their source."""

    source: str
    mark: Mark


class WrittenFormula(Record, frozen=True, kw_only=True):
    """The ``[formula]`` table; ``measures`` says whose gallon and pint its amounts mean."""

    id: str
    name: str
    purpose: str
    kind: Kind
    measures: Measures = "metric"
    for_hide_mass: str | None = None
    liquor_per_hide: Figure | None = None
    coats: WrittenFormulaCoats | None = None
    container_room: float = 1.0
    tolerance: Figure = Figure(value=0.02, source="common practice, no source", mark="practice")
    celsius_low: float | None = None
    celsius_high: float | None = None
    hold: str = ""
    done_when: str = ""
    cautions: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


class FormulaFile(Record, frozen=True, kw_only=True):
    """A whole formula file."""

    formula: WrittenFormula
    part: tuple[WrittenPart, ...]
    source: tuple[Citation, ...]
    join: tuple[Joining, ...] = ()
    serving: tuple[Serving, ...] = ()


class WrittenHold(Record, frozen=True, kw_only=True):
    """A hold's minimum, target and maximum; without species and condition the general row."""

    min: str
    target: str
    max: str
    species: tuple[str, ...] = ()
    came: tuple[str, ...] = ()


class WrittenAttention(Record, frozen=True, kw_only=True):
    """What to do during a hold, how often, and between which times after it began.

    ``work`` is the hands-on time of doing it once; without it the usual few minutes.
    """

    do: str
    every: str
    at_most: str
    since: str = "0 min"
    until: str | None = None
    own_act: bool = False
    work: str | None = None


class WrittenCheck(Record, frozen=True, kw_only=True):
    """The test that ends a stage."""

    ask: str
    again: str


class WrittenStage(Record, frozen=True, kw_only=True):
    """One ``[[stage]]``, in the order of the work; ``stake`` weighs what ``late`` tells."""

    id: str
    name: str
    do: str
    work: str
    late: str
    hold: tuple[WrittenHold, ...] = ()
    attend: tuple[WrittenAttention, ...] = ()
    check: WrittenCheck | None = None
    coats: WrittenCoats | None = None
    mix: str = ""
    mix_when: dict[str, str] = msgspec.field(default_factory=dict)
    needs: tuple[str, ...] = ()
    vessel: str = ""
    keeps: str | None = None
    soon: str | None = None
    inspect: str = ""
    gate: str = ""
    dries_to: DriesTo | None = None
    stake: Stake = "quality"
    source: tuple[Citation, ...] = ()


class WrittenRoute(Record, frozen=True, kw_only=True):
    """The ``[route]`` table; ``starts`` maps a hide's condition to the stage it comes in at."""

    id: str
    name: str
    purpose: str
    species: tuple[str, ...]
    starts: dict[str, str]
    cautions: tuple[str, ...] = ()
    hair_on: bool = True


class RouteFile(Record, frozen=True, kw_only=True):
    """A whole route file."""

    route: WrittenRoute
    stage: tuple[WrittenStage, ...]
    source: tuple[Citation, ...]


class SubstanceFile(Record, frozen=True, kw_only=True):
    """A file of one or more substances, written as the model has them."""

    substance: tuple[Substance, ...]


class SpeciesFile(Record, frozen=True, kw_only=True):
    """A file of one or more species."""

    species: tuple[Species, ...]


class IncompatibleFile(Record, frozen=True, kw_only=True):
    """A file of kinds that must not meet."""

    incompatible: tuple[Incompatible, ...]


FILES: dict[str, type[Record]] = {
    "formula": FormulaFile,
    "route": RouteFile,
    "substance": SubstanceFile,
    "species": SpeciesFile,
    "incompatible": IncompatibleFile,
}
"""The shape of a file by its top table."""


def words_of(shape: type[Record]) -> tuple[str, ...]:
    """Every key that may stand in a file of that shape, for a "did you mean"."""
    words: set[str] = set()
    waiting: list[object] = [msgspec.inspect.type_info(shape)]
    while waiting:
        info = waiting.pop()
        if isinstance(info, msgspec.inspect.StructType):
            words.update(field.encode_name for field in info.fields)
            waiting.extend(field.type for field in info.fields)
        elif isinstance(info, msgspec.inspect.VarTupleType):
            waiting.append(info.item_type)
        elif isinstance(info, msgspec.inspect.UnionType):
            waiting.extend(info.types)
    return tuple(sorted(words))
