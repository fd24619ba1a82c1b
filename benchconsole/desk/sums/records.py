"""A sum, the fields it asks for, and what it answers."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Literal

from benchconsole.mixing.working import Working
from benchconsole.model.record import Record
from benchconsole.quantities import Measures

if TYPE_CHECKING:
    from benchconsole.desk.sums.typed import Typed

Asks = Literal[
    "mass",
    "volume",
    "amount",
    "length",
    "area",
    "temperature",
    "strength",
    "brine",
    "float",
    "density",
    "pH",
    "percent",
    "count",
    "choice",
    "sizes",
    "strengths",
    "things",
    "contents",
]
"""What a field is read as. ``brine`` is a strength in any measure, a spindle's too; ``amount`` a
weight or a volume; ``sizes`` the sizes of the shape chosen beside it; ``strengths`` a list;
``things`` names of the library, ``contents`` the same or one that it does not know."""


class SumField(Record, frozen=True, kw_only=True):
    """One thing asked for; ``id`` is its name on the command line.

    ``example`` is what would be typed, ``customary`` the same in a shop of gallons and pounds
    where that differs; with ``usual`` it is also what a field left empty means. ``choices`` are
    (id, words).
    """

    id: str
    label: str
    asks: Asks
    example: str
    customary: str = ""
    optional: bool = False
    usual: bool = False
    choices: tuple[tuple[str, str], ...] = ()

    @property
    def words(self) -> str:
        """How a refusal names it."""
        return self.id.replace("-", " ")

    def example_in(self, measures: Measures) -> str:
        """An input that works in these measures."""
        return self.customary if self.customary and measures != "metric" else self.example

    def prompt_in(self, measures: Measures, example: str = "") -> str:
        """What stands in the field while it is empty; ``example`` instead of the field's own."""
        shown = example or self.example_in(measures)
        if self.usual:
            return f"empty means {shown}"
        return f"may stay empty, or {shown}" if self.optional else f"such as {shown}"


class SumFigure(Record, frozen=True, kw_only=True):
    """A number of an answer; ``unit`` is empty for a count, a share, a pH or degrees."""

    name: str
    value: float
    unit: str = ""


class Answer(Record, frozen=True, kw_only=True):
    """What comes out: the sentence, more of them, how they came about, and what to heed.

    ``figures`` are the numbers behind the sentences, unrounded, in metric units.
    """

    says: str
    figures: tuple[SumFigure, ...] = ()
    lines: tuple[str, ...] = ()
    workings: tuple[Working, ...] = ()
    cautions: tuple[str, ...] = ()


class SumLook(Record, frozen=True, kw_only=True):
    """A form as far as it is filled in: ``faults`` are sentences by field id.

    ``answer`` is None while anything is at fault or still wanted.
    """

    answer: Answer | None
    faults: dict[str, str]
    wanted: tuple[str, ...]


class Sum(Record, frozen=True, kw_only=True):
    """One sum: ``purpose`` says in a sentence what it is for.

    ``blames`` gives the field that is at fault for a word by which a law or a mixing rule
    refuses.
    """

    name: str
    title: str
    purpose: str
    fields: tuple[SumField, ...]
    work_out: Callable[[Typed], Answer]
    blames: Mapping[str, str] = {}

    def field_of(self, words: str) -> SumField | None:
        """The field that a refusal names."""
        return next((field for field in self.fields if field.words == words), None)
