"""What a weigh-out says at each tap, as plain text: no widget, no colour, no key.

Amounts are printed as the person measures them: weights as the shop's scale shows them,
jugged liquids in the shop's own measures.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from rich.cells import cell_len

from benchconsole.console.widgets.cells import fitted, plain
from benchconsole.desk.views import WeighOutView
from benchconsole.mixing.weighing import LineState, OverPour, Pour, WeighedLine
from benchconsole.model.shop import Scale
from benchconsole.model.weighing import Plan, PlannedLine, PlannedPart
from benchconsole.quantities import (
    Measures,
    format_mass,
    format_number,
    format_reading,
    format_volume,
)

LINE_STATES: dict[LineState, tuple[str, str]] = {
    "done": ("✓", "DONE"),
    "settled": ("✓", "AS IS"),
    "now": ("▶", "NOW"),
    "short": ("▽", "SHORT"),
    "over": ("▲", "TOO MUCH"),
    "top-up": ("△", "TOP UP"),
    "to-do": ("○", "TO DO"),
}
"""Mark and word of a line's state."""

LONGEST_NAME, LONGEST_PACK = 32, 99
"""Cells that the name of a thing may take, and what its pack says."""
_POUNDS_OUNCES = re.compile(r"([-−]?[0-9]+) +([0-9]+(?:[.,][0-9]+)?)")
_EXACT = 0.0005


@dataclass(frozen=True)
class PourWords:
    """What to put in now: the figure to bring the scale (or the jug) to, and its sentences."""

    sentence: str
    figure: str
    band: str
    notes: tuple[str, ...]


@dataclass(frozen=True)
class OverWords:
    """Too much is in: by how much, and what each of the three ways out would mean."""

    headline: str
    figure: str
    carry_on: str
    rebalance: tuple[str, ...]
    bowl_again: str


@dataclass(frozen=True)
class LineWords:
    """One line of the list, in words."""

    state: LineState
    name: str
    amount: str
    off: str


def share(deviation: float) -> str:
    """A deviation in per cent with its sign, "exact" below half a thousandth."""
    if abs(deviation) < _EXACT:
        return "exact"
    return f"{'+' if deviation > 0 else '−'}{format_number(abs(deviation) * 100, 1)} %"


def as_reading(typed: str, scale: Scale) -> str:
    """What was typed as the desk reads it: on a pound scale "2 8.05" is two pounds and ounces."""
    both = _POUNDS_OUNCES.fullmatch(typed.strip())
    if scale.shows == "lb oz" and both:
        return f"{both[1]} lb {both[2]} oz"
    return typed.strip()


def called(name: str, longest: int = LONGEST_NAME) -> str:
    """A person's name for a thing, safe to draw and short enough to leave room for the figure."""
    safe = plain(name)
    return safe if cell_len(safe) <= longest else fitted(safe, longest).rstrip()


def part_of(plan: Plan, line: int) -> PlannedPart:
    """The part that a line belongs to."""
    wanted = plan.lines[line].part
    return next(part for part in plan.parts if part.part == wanted)


def into(part: PlannedPart) -> str:
    """Where a part is made: "tub (brine)"."""
    same = part.container.casefold() == part.name.casefold() or not part.name
    return called(part.container) if same else f"{called(part.container)} ({called(part.name)})"


@dataclass(frozen=True)
class BatchWords:
    """The words of one plan in one shop's measures."""

    plan: Plan
    measures: Measures

    def reading(self, grams: float) -> str:
        """A weight as the plan's scale shows it."""
        scale = self.plan.scale
        return format_reading(grams, step_g=scale.step_g, unit=scale.shows)

    def amount(self, planned: PlannedLine, grams: float) -> str:
        """So much of a line as it is measured: by jug or on the scale."""
        if planned.by == "jug" and planned.density_kg_m3:
            return format_volume(grams / planned.density_kg_m3, measures=self.measures)
        scale = self.plan.scale
        # What the scale shows as nothing is something all the same.
        if 0.0 < grams < scale.step_g / 2:
            unit: Measures = "metric" if scale.shows in ("g", "kg") else "us"
            return format_mass(grams, measures=unit, step_g=scale.step_g)
        return self.reading(grams)

    def figure(self, planned: PlannedLine, grams: float) -> str:
        """The amount without whose gallon it is, so that it can be drawn large."""
        return re.sub(r"\b(?:US|imp) ", "", self.amount(planned, grams))

    # --- what to pour -----------------------------------------------------------------

    def pour(self, view: WeighOutView, pour: Pour) -> PourWords:
        """What to put in next."""
        name = called(pour.planned.name).upper()
        place = into(part_of(self.plan, pour.line)).upper()
        missing = (*self._still_missing(view, pour), *_pack(pour))
        if pour.planned.by == "jug":
            again = "more " if pour.started else ""
            return PourWords(
                sentence=f"{place}: pour {again}{name} with the jug",
                figure=self.figure(pour.planned, pour.aim_g),
                band=self._jug_band(pour),
                notes=missing,
            )
        if pour.too_fine:
            step = self.reading(self.plan.scale.step_g)
            return PourWords(
                sentence=f"{place}: add {name}, too little for this scale",
                figure=self.figure(pour.planned, pour.aim_g),
                band=f"Weigh it on a finer scale: this one shows steps of {step}.",
                notes=missing,
            )
        return PourWords(
            sentence=f"{place}: {_verb(view, pour)} {name} until the scale reads",
            figure=self.reading(pour.reading_g),
            band=f"right from {self.reading(pour.low_g)} to {self.reading(pour.high_g)}"
            f"   {self._adding(pour)}",
            notes=(*self._bowl_notes(view, pour), *missing),
        )

    def _adding(self, pour: Pour) -> str:
        start = f" to the {self.reading(pour.from_g)} it shows" if pour.from_g else ""
        return f"add {self.reading(pour.aim_g)}{start}"

    def _jug_band(self, pour: Pour) -> str:
        band = self.amount(pour.planned, (pour.high_g - pour.low_g) / 2)
        return f"{self.amount(pour.planned, pour.aim_g)}, give or take {band}"

    def _bowl_notes(self, view: WeighOutView, pour: Pour) -> tuple[str, ...]:
        notes: list[str] = []
        if pour.empty_first:
            part = into(part_of(self.plan, pour.line))
            notes.append(f"◆ First empty the bowl into the {part}.")
        elif pour.fresh:
            bowl = "Empty bowl" if pour.bowl_empty else "Bowl"
            shows = self.reading(view.bench.zero_g)
            notes.append(f"{bowl} on the scale, which then shows {shows}.")
        if pour.of_lots > 1:
            most = self.reading(self.plan.scale.capacity_g)
            notes.append(f"Lot {pour.lot} of {pour.of_lots}: the scale takes {most} at most.")
        return tuple(notes)

    def _still_missing(self, view: WeighOutView, pour: Pour) -> tuple[str, ...]:
        if not pour.started:
            return ()
        line = view.lines[pour.line]
        missing = self.amount(pour.planned, pour.add_g)
        needed = self.amount(pour.planned, line.needed_g)
        if pour.top_up:
            return (f"△ TOP UP after rebalancing: {missing} more makes {needed}.",)
        if pour.of_lots > 1:
            return (f"{missing} of {needed} still to come.",)
        off = share(line.deviation)
        return (f"▽ SHORT: {missing} of {needed} still missing ({off}); add it, or carry on.",)

    # --- too much ---------------------------------------------------------------------

    def over(self, view: WeighOutView, over: OverPour) -> OverWords:
        """Too much is in, and the three ways out."""
        name = called(over.planned.name).upper()
        line = view.lines[over.line]
        excess = self.amount(over.planned, over.excess_g)
        is_in = self.amount(over.planned, line.poured_g)
        asked = self.amount(over.planned, line.needed_g)
        return OverWords(
            headline=f"▲ TOO MUCH {name}: {is_in} is in, {asked} was asked",
            figure=f"+{self.figure(over.planned, over.excess_g)}",
            carry_on=f"{name} stays {excess} over ({share(over.deviation)}); "
            "the rest goes on as planned.",
            rebalance=self._rebalance(view, over),
            bowl_again=f"Throws away {self._thrown(view)}; weigh it afresh.",
        )

    def _rebalance(self, view: WeighOutView, over: OverPour) -> tuple[str, ...]:
        if over.refused:
            return ("Not possible:", plain(over.refused))
        times = format_number(over.factor / view.bench.factor, 3)
        rows = [f"The whole batch × {times}:"]
        for change in over.raises:
            was, new = (self.amount(change.planned, g) for g in (change.was_g, change.new_g))
            top_up = ""
            if view.lines[change.line].poured_g > 0:
                top_up = f", top up {self.amount(change.planned, change.add_g)}"
            rows.append(f"{called(change.planned.name)}  {was} → {new}{top_up}")
        return tuple(rows)

    def _thrown(self, view: WeighOutView) -> str:
        told = [
            f"{self.amount(line.planned, line.in_hand_g)} {called(line.planned.name)}"
            for line in view.lines
            if line.in_hand_g > 0
        ]
        return " and ".join(told) or "nothing"

    # --- the end ---

    def coats(self, view: WeighOutView) -> str:
        """What each coat of a dressing takes; empty for what has no coats."""
        if view.coat_g is None:
            return ""
        many = self.plan.coats
        return f"{f'each of {many} coats' if many > 1 else 'one coat'}: {self.reading(view.coat_g)}"

    # --- the list --------------------------------------------------

    def lines(self, view: WeighOutView) -> tuple[LineWords, ...]:
        """Every line with its state."""
        return tuple(self._line(line) for line in view.lines)

    def _line(self, line: WeighedLine) -> LineWords:
        asked = self.amount(line.planned, line.needed_g)
        got = self.amount(line.planned, line.poured_g)
        same = got == asked or not line.poured_g
        weighed = line.poured_g > 0 and line.state != "now"
        return LineWords(
            state=line.state,
            name=called(line.planned.name),
            amount=asked if same else f"{got} of {asked}",
            off=share(line.deviation) if weighed else "",
        )


def _pack(pour: Pour) -> tuple[str, ...]:
    """Which pack to take from the shelf, until some of it is in."""
    if not pour.planned.pack or pour.started:
        return ()
    return (f"from the pack: {called(pour.planned.pack, LONGEST_PACK)}",)


def _verb(view: WeighOutView, pour: Pour) -> str:
    if view.bench.mode == "re-zero" and pour.fresh:
        return "press zero, then add"
    return "add more" if pour.started and not pour.top_up else "add"
