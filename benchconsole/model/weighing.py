"""Records of weighing: the plan that is worked down, the taps given, the liquor that came of it."""

from __future__ import annotations

from typing import Literal

import msgspec

from benchconsole.model.formulas import By
from benchconsole.model.record import Instant, Record
from benchconsole.model.shop import Scale

BowlMode = Literal["cumulative", "re-zero"]


class PlannedLine(Record, frozen=True, kw_only=True):
    """One addition of a plan: what the worksheet asks for, in grams, and how it is measured.

    ``density_kg_m3`` turns the grams into the litres a jug shows (None: cannot be jugged).
    ``pack`` is what the pack on the shelf says, where it says more than the name.
    """

    part: str
    substance: str
    name: str
    by: By
    grams: float
    density_kg_m3: float | None = None
    pack: str = ""


class PlannedPart(Record, frozen=True, kw_only=True):
    """A part of a plan: its container, and the sentence to follow when it is weighed out."""

    part: str
    name: str
    container: str
    then: str = ""


class Plan(Record, frozen=True, kw_only=True):
    """A worksheet frozen for the scale, so that it can be resumed whatever else changes.

    ``tolerance`` is a share (0.02 is 2 %); ``limit_g`` the most all lines together may weigh
    after a rebalance (None: no limit), by substance in ``stock_g`` likewise. ``stage`` is the
    stage of the route that ``hides`` are to begin with it (empty: made for no stage yet).
    ``coats`` is in how many coats a dressing goes on (0: none).
    """

    formula: str
    formula_name: str
    target: str
    factor: float
    parts: tuple[PlannedPart, ...]
    lines: tuple[PlannedLine, ...]
    scale: Scale
    tolerance: float
    water_celsius: float
    limit_g: float | None = None
    stock_g: dict[str, float] = msgspec.field(default_factory=dict)
    hides: tuple[str, ...] = ()
    stage: str = ""
    coats: int = 0
    cautions: tuple[str, ...] = ()


class Read(Record, frozen=True, kw_only=True, tag="read"):
    """The scale's display after pouring, in grams."""

    reading_g: float


class Accept(Record, frozen=True, kw_only=True, tag="accept"):
    """The line was brought exactly to its target."""


class Jugged(Record, frozen=True, kw_only=True, tag="jugged"):
    """A jug-measured line was poured: litres really put in."""

    volume_l: float


class CarryOn(Record, frozen=True, kw_only=True, tag="carry-on"):
    """Leave the deviation as it is and go on."""


class Rebalance(Record, frozen=True, kw_only=True, tag="rebalance"):
    """Raise the other ingredients until the proportions hold again."""


class BowlAgain(Record, frozen=True, kw_only=True, tag="bowl-again"):
    """Throw this bowl away and weigh it afresh."""


class SetZero(Record, frozen=True, kw_only=True, tag="set-zero"):
    """What the scale shows with the empty bowl on it, in grams."""

    offset_g: float


class SetMode(Record, frozen=True, kw_only=True, tag="set-mode"):
    """Leave the bowl on and add up, or press zero before each ingredient."""

    mode: BowlMode


Tap = Read | Accept | Jugged | CarryOn | Rebalance | BowlAgain | SetZero | SetMode
"""Everything a person can tell a weigh-out; undo is an event of the history instead."""


def deviation(actual_g: float, target_g: float) -> float:
    """The share by which an amount is off its target: 0.02 is 2 % too much, 0 for no target."""
    return actual_g / target_g - 1.0 if target_g else 0.0


class MadeLine(Record, frozen=True, kw_only=True):
    """What was asked for and what went in, in grams (``wasted_g``: thrown away)."""

    part: str
    substance: str
    name: str
    target_g: float
    actual_g: float
    wasted_g: float = 0.0

    @property
    def deviation(self) -> float:
        """The share by which it is off what was asked for."""
        return deviation(self.actual_g, self.target_g)


class Strength(Record, frozen=True, kw_only=True):
    """Grams of a substance in a litre of the liquor."""

    substance: str
    g_per_l: float


class Liquor(Record, frozen=True, kw_only=True):
    """What was really made: the record that lets a good batch be repeated.

    ``stage`` is the stage it was made to begin, of the route of its ``hides``: a formula that
    two stages of a route use makes one liquor for each.
    """

    id: str
    formula: str
    formula_name: str
    factor: float
    lines: tuple[MadeLine, ...]
    volume_l: float
    density_kg_m3: float
    strengths: tuple[Strength, ...]
    water_celsius: float
    made_at: Instant
    hides: tuple[str, ...] = ()
    stage: str = ""


class WeighOut(Record, frozen=True, kw_only=True):
    """A weigh-out as the history knows it: the plan, and the taps that still stand."""

    id: str
    plan: Plan
    begun_at: Instant
    taps: tuple[Tap, ...] = ()
    ended_at: Instant | None = None
    liquor: str = ""
