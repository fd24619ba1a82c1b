"""The texts of a form, each read as its field asks."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TypeVar

from benchconsole.desk.sums.records import Asks, SumField
from benchconsole.desk.sums.typed_numbers import read_density, read_percent, read_ph
from benchconsole.desk.sums.typed_shapes import read_shape
from benchconsole.desk.sums.typed_strengths import read_brine_strength, read_strengths
from benchconsole.desk.sums.typed_things import Things, read_things
from benchconsole.desk.sums.ways_out import example_for
from benchconsole.errors import BadInput
from benchconsole.library import Library, shipped_library
from benchconsole.mixing.brines import Measure
from benchconsole.mixing.shapes import full_volume_l
from benchconsole.model.shop import Shop
from benchconsole.model.vessels import Shape, Vessel
from benchconsole.model.weighing import Strength
from benchconsole.quantities import (
    Amount,
    Measures,
    read_amount,
    read_area,
    read_count,
    read_length,
    read_mass,
    read_strength,
    read_temperature,
    read_volume,
    read_volume_per_mass,
)

T = TypeVar("T")

MOST_HELD_L = 100_000.0
"""Our own choice, no source: a hundred cubic metres are a pool, not a vessel of a small workshop;
past it a size is a slip of the hand, mm typed as cm or cm as m."""


class Typed:
    """What was typed into the fields of one sum, for one shop; every reader raises ``BadInput``.

    Without a ``library`` the names of the shipped one are known.
    """

    def __init__(
        self,
        fields: Sequence[SumField],
        texts: Mapping[str, str],
        shop: Shop,
        library: Library | None = None,
    ) -> None:
        self._fields = {field.id: field for field in fields}
        self._texts = texts
        self._library = library
        self.shop = shop

    @property
    def measures(self) -> Measures:
        """What a gallon means here."""
        return self.shop.measures

    @property
    def library(self) -> Library:
        """The substances, formulas and rules that a name is looked up in."""
        return shipped_library() if self._library is None else self._library

    def given(self, field_id: str) -> bool:
        """Whether anything was typed there."""
        return bool(self._texts.get(field_id, "").strip())

    def require_all(self) -> None:
        """Raise ``BadInput`` for the first field that is still empty and may not be."""
        for field in self._fields.values():
            if not field.optional and not self.given(field.id):
                raise self.refuse(field.id, "nothing is said yet")

    def check(self, field_id: str) -> None:
        """Read what stands in a field, if anything does, whatever it is for."""
        field = self._fields[field_id]
        if not self.given(field_id) or (field.asks == "sizes" and not self.given("shape")):
            return
        readers: dict[Asks, Callable[[str], object]] = {
            "mass": lambda name: self.mass_g(name, zero=True),
            "volume": lambda name: self.volume_l(name, zero=True),
            "amount": self.amount,
            "length": lambda name: self.length_m(name, zero=True),
            "area": self.area_m2,
            "temperature": self.celsius,
            "strength": self.grams_per_litre,
            "brine": self.brine_strength,
            "float": self.litres_per_kg,
            "density": self.density_kg_m3,
            "pH": self.ph,
            "percent": self.percent,
            "count": self.count,
            "choice": self.choice,
            "sizes": lambda _: self.shape(),
            "strengths": self.strengths,
            "things": self.things,
            "contents": self.contents,
        }
        readers[field.asks](field_id)

    def refuse(self, field_id: str, fault: str) -> BadInput:
        """The error to raise for a field, with its own example."""
        field = self._fields[field_id]
        shape = self._texts.get("shape", "")
        return BadInput(field.words, fault, example_for(field, shape, self.measures))

    def at(self, field_id: str, refusal: BadInput, about: Sequence[str]) -> BadInput:
        """The refusal put to this field where it is about one of these words."""
        return self.refuse(field_id, refusal.fault) if refusal.field in about else refusal

    def mass_g(self, field_id: str, *, zero: bool = False) -> float:
        """Grams."""
        text, words = self._asked(field_id)
        return read_mass(text, field=words, measures=self.measures, zero=zero)

    def volume_l(self, field_id: str, *, zero: bool = False) -> float:
        """Litres."""
        text, words = self._asked(field_id)
        return read_volume(text, field=words, measures=self.measures, zero=zero)

    def amount(self, field_id: str) -> Amount:
        """A weight or a volume."""
        text, words = self._asked(field_id)
        return read_amount(text, field=words, measures=self.measures)

    def length_m(self, field_id: str, *, zero: bool = False) -> float:
        """Metres."""
        text, words = self._asked(field_id)
        return read_length(text, field=words, measures=self.measures, zero=zero)

    def area_m2(self, field_id: str) -> float:
        """Square metres."""
        text, words = self._asked(field_id)
        return read_area(text, field=words, measures=self.measures)

    def celsius(self, field_id: str) -> float:
        """Degrees Celsius."""
        text, words = self._asked(field_id)
        return read_temperature(text, field=words)

    def grams_per_litre(self, field_id: str) -> float:
        """Grams in a litre."""
        text, words = self._asked(field_id)
        return read_strength(text, field=words, measures=self.measures)

    def litres_per_kg(self, field_id: str) -> float:
        """Litres of float for a kilogram."""
        text, words = self._asked(field_id)
        return read_volume_per_mass(text, field=words, measures=self.measures)

    def brine_strength(self, field_id: str) -> tuple[Measure, float]:
        """A strength of brine in the measure it was given in."""
        text, words = self._asked(field_id)
        return read_brine_strength(text, field=words, measures=self.measures)

    def strengths(self, field_id: str) -> tuple[Strength, ...]:
        """Grams in a litre of each thing dissolved."""
        text, words = self._asked(field_id)
        return read_strengths(text, field=words, measures=self.measures)

    def things(self, field_id: str) -> Things:
        """Substances and formulas of the library."""
        return self._named(field_id, unknown=False)

    def contents(self, field_id: str) -> Things:
        """The same, or something that the library does not know."""
        return self._named(field_id, unknown=True)

    def density_kg_m3(self, field_id: str) -> float:
        """Kilograms in a cubic metre."""
        text, words = self._asked(field_id)
        return read_density(text, field=words)

    def ph(self, field_id: str) -> float:
        """A pH."""
        text, words = self._asked(field_id)
        return read_ph(text, field=words)

    def percent(self, field_id: str) -> float:
        """Per cent, 0 to 100."""
        text, words = self._asked(field_id)
        return read_percent(text, field=words, example=self._fields[field_id].example)

    def count(self, field_id: str) -> int:
        """A whole number from 1."""
        text, words = self._asked(field_id)
        return read_count(text, field=words)

    def choice(self, field_id: str) -> str:
        """The id of the option chosen."""
        text, words = self._asked(field_id)
        known = [name for name, _ in self._fields[field_id].choices]
        chosen = text.strip().lower()
        if chosen not in known:
            fault = f"“{' '.join(text.split())[:40]}” is none of {', '.join(known)}"
            raise BadInput(words, fault, self._fields[field_id].example)
        return chosen

    def shape(self) -> Shape:
        """The shape chosen in ``shape`` with the sizes of ``sizes``."""
        text, words = self._asked("sizes")
        kind = self.choice("shape")
        try:
            shape = read_shape(kind, text, field=words, measures=self.measures)
            holds = full_volume_l(shape)
        except BadInput as refusal:
            # One size of several is no example for all of them.
            part = "" if refusal.field == words else f"{refusal.field}: "
            raise self.refuse("sizes", f"{part}{refusal.fault}") from None
        if holds > MOST_HELD_L:
            raise self.refuse("sizes", f"no vessel holds the {holds / 1000.0:.0f} m³ they make")
        return shape

    def vessel(self, name: str = "the vessel") -> Vessel:
        """A vessel of that shape, ``keep-free`` below its rim where that was said."""
        free = self.or_else("keep-free", lambda name: self.length_m(name, zero=True), 0.0)
        return Vessel(name=name, shape=self.shape(), keep_free_m=free)

    def or_none(self, field_id: str, read: Callable[[str], T]) -> T | None:
        """What one of the readers makes of a field, None where nothing was typed."""
        return read(field_id) if self.given(field_id) else None

    def or_else(self, field_id: str, read: Callable[[str], T], default: T) -> T:
        """What one of the readers makes of a field, ``default`` where nothing was typed."""
        return read(field_id) if self.given(field_id) else default

    def _named(self, field_id: str, *, unknown: bool) -> Things:
        text, words = self._asked(field_id)
        example = self._fields[field_id].example
        return read_things(
            text, field=words, example=example, library=self.library, unknown=unknown
        )

    def _asked(self, field_id: str) -> tuple[str, str]:
        return self._texts.get(field_id, ""), self._fields[field_id].words
