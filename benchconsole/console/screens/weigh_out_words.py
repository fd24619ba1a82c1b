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
from benchconsole.mixing.weighing import (
    Bench,
    OverPour,
    Pour,
    band_g,
    deviations,
    needed_g,
)
from benchconsole.model.shop import Scale
from benchconsole.model.weighing import Plan, PlannedLine, PlannedPart
from benchconsole.quantities import (
    Measures,
    format_number,
    format_reading,
    format_volume,
)

LINE_STATES: dict[str, tuple[str, str]] = {
    "done": ("✓", "DONE"),
    "now": ("▶", "NOW"),
    "over": ("▲", "TOO MUCH"),
    "top-up": ("△", "TOP UP"),
    "ahead": ("○", "TO DO"),
}
"""Mark and word of a line's state."""

LONGEST_NAME = 32
"""Cells that the name of a thing may take."""
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
    can_rebalance: bool
    bowl_again: str


@dataclass(frozen=True)
class LineWords:
    """One line of the list; ``state`` is a key of ``LINE_STATES``."""

    state: str
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


def called(name: str) -> str:
    """A person's name for a thing, safe to draw and short enough to leave room for the figure."""
    safe = plain(name)
    return safe if cell_len(safe) <= LONGEST_NAME else fitted(safe, LONGEST_NAME).rstrip()


def part_of(plan: Plan, line: int) -> PlannedPart:
    """The part that a line belongs to."""
    wanted = plan.lines[line].part
    return next(part for part in plan.parts if part.part == wanted)


def in_hand(bench: Bench, line: int) -> dict[int, float]:
    """What starting again would throw away, grams by line.

    That is the bowl on the scale; a jug is poured straight into the container of its part, so
    for a jugged line it is all that this part holds.
    """
    lines = bench.plan.lines
    if lines[line].by == "jug":
        own = (place for place, other in enumerate(lines) if other.part == lines[line].part)
        return {place: bench.poured[place] for place in own if bench.poured[place] > 0}
    before = bench.at_line
    if before is not None and lines[before].part != lines[line].part:
        return {}
    return {place: grams for place, grams in bench.bowl.items() if grams > 0}


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
        return self.reading(grams)

    def figure(self, planned: PlannedLine, grams: float) -> str:
        """The amount without whose gallon it is, so that it can be drawn large."""
        return re.sub(r"\b(?:US|imp) ", "", self.amount(planned, grams))

    # --- what to pour -----------------------------------------------------------------

    def pour(self, bench: Bench, pour: Pour) -> PourWords:
        """What to put in next."""
        name = called(pour.planned.name).upper()
        place = into(part_of(self.plan, pour.line)).upper()
        if pour.planned.by == "jug":
            again = "more " if pour.started else ""
            return PourWords(
                sentence=f"{place}: pour {again}{name} with the jug",
                figure=self.figure(pour.planned, pour.aim_g),
                band=self._jug_band(pour),
                notes=self._still_missing(bench, pour),
            )
        return PourWords(
            sentence=f"{place}: {self._verb(bench, pour)} {name} until the scale reads",
            figure=self.reading(pour.reading_g),
            band=f"right from {self.reading(pour.low_g)} to {self.reading(pour.high_g)}"
            f"   {self._adding(pour)}",
            notes=(*self._bowl_notes(bench, pour), *self._still_missing(bench, pour)),
        )

    def _verb(self, bench: Bench, pour: Pour) -> str:
        fresh = self._is_fresh(bench, pour)
        if bench.mode == "re-zero" and fresh:
            return "press zero, then add"
        return "add more" if pour.started and not pour.top_up else "add"

    def _is_fresh(self, bench: Bench, pour: Pour) -> bool:
        return abs(pour.from_g - bench.zero_g) < self.plan.scale.step_g / 2

    def _adding(self, pour: Pour) -> str:
        start = f" to the {self.reading(pour.from_g)} it shows" if pour.from_g else ""
        return f"add {self.reading(pour.aim_g)}{start}"

    def _jug_band(self, pour: Pour) -> str:
        band = self.amount(pour.planned, (pour.high_g - pour.low_g) / 2)
        return f"{self.amount(pour.planned, pour.aim_g)}, give or take {band}"

    def _bowl_notes(self, bench: Bench, pour: Pour) -> tuple[str, ...]:
        notes: list[str] = []
        if pour.empty_first:
            part = into(part_of(self.plan, pour.line))
            notes.append(f"◆ First empty the bowl into the {part}.")
        elif self._is_fresh(bench, pour):
            bowl = "Bowl" if in_hand(bench, pour.line) else "Empty bowl"
            notes.append(f"{bowl} on the scale, which then shows {self.reading(bench.zero_g)}.")
        lots, lot = self._lots(bench, pour)
        if lots > 1:
            most = self.reading(self.plan.scale.capacity_g)
            notes.append(f"Lot {lot} of {lots}: the scale takes {most} at most.")
        return tuple(notes)

    def _lots(self, bench: Bench, pour: Pour) -> tuple[int, int]:
        """How many lots the whole line takes, and which of them this one is."""
        room = self.plan.scale.capacity_g - bench.zero_g
        whole = max(-(-(needed_g(bench, pour.line) - 1e-6) // room), 1) if room > 0 else 1
        lots = max(int(whole), pour.lots)
        return lots, lots - pour.lots + 1

    def _still_missing(self, bench: Bench, pour: Pour) -> tuple[str, ...]:
        if not pour.started:
            return ()
        missing = self.amount(pour.planned, pour.add_g)
        needed = self.amount(pour.planned, needed_g(bench, pour.line))
        if pour.top_up:
            return (f"△ TOP UP after rebalancing: {missing} more makes {needed}.",)
        if pour.planned.by == "scale" and self._lots(bench, pour)[0] > 1:
            return (f"{missing} of {needed} still to come.",)
        off = share(deviations(bench)[pour.line])
        return (f"▽ SHORT: {missing} of {needed} still missing ({off}); add it, or carry on.",)

    # --- too much ---------------------------------------------------------------------

    def over(self, bench: Bench, over: OverPour) -> OverWords:
        """Too much is in, and the three ways out."""
        name = called(over.planned.name).upper()
        excess = self.amount(over.planned, over.excess_g)
        is_in = self.amount(over.planned, bench.poured[over.line])
        asked = self.amount(over.planned, needed_g(bench, over.line))
        return OverWords(
            headline=f"▲ TOO MUCH {name}: {is_in} is in, {asked} was asked",
            figure=f"+{self.figure(over.planned, over.excess_g)}",
            carry_on=f"{name} stays {excess} over ({share(over.deviation)}); "
            "the rest goes on as planned.",
            rebalance=self._rebalance(bench, over),
            can_rebalance=not over.refused,
            bowl_again=f"Throws away {self._thrown(bench, over)}; weigh it afresh.",
        )

    def _rebalance(self, bench: Bench, over: OverPour) -> tuple[str, ...]:
        if over.refused:
            return ("Not possible:", plain(over.refused))
        rows = [f"The whole batch × {format_number(over.factor / bench.factor, 3)}:"]
        for change in over.raises:
            was, new = (self.amount(change.planned, g) for g in (change.was_g, change.new_g))
            top_up = ""
            if bench.poured[change.line] > 0:
                top_up = f", top up {self.amount(change.planned, change.add_g)}"
            rows.append(f"{called(change.planned.name)}  {was} → {new}{top_up}")
        return tuple(rows)

    def _thrown(self, bench: Bench, over: OverPour) -> str:
        told = [
            f"{self.amount(bench.plan.lines[line], grams)} {called(bench.plan.lines[line].name)}"
            for line, grams in in_hand(bench, over.line).items()
        ]
        return " and ".join(told) or "nothing"

    # --- the list --------------------------------------------------

    def lines(self, view: WeighOutView) -> tuple[LineWords, ...]:
        """Every line with its state."""
        return tuple(self._line(view, line) for line in range(len(self.plan.lines)))

    def _line(self, view: WeighOutView, line: int) -> LineWords:
        bench, planned = view.bench, self.plan.lines[line]
        needed, poured = needed_g(bench, line), bench.poured[line]
        is_in = line in bench.settled or poured >= needed - band_g(self.plan, line, needed)
        if view.over is not None and view.over.line == line:
            state = "over"
        elif view.pour is not None and view.pour.line == line:
            state = "now"
        else:
            state = "done" if is_in else "top-up" if poured > 0 else "ahead"
        asked = self.amount(planned, needed)
        got = self.amount(planned, poured)
        same = got == asked or not poured
        return LineWords(
            state=state,
            name=called(planned.name),
            amount=asked if same else f"{got} of {asked}",
            off=share(deviations(bench)[line]) if poured > 0 and state != "now" else "",
        )
