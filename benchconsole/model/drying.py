"""What is known of drying: the air, how a hide is covered, its weighings, and published figures."""

from __future__ import annotations

from typing import Literal

from benchconsole.model.record import Figure, Instant, Mark, Record
from benchconsole.model.routes import DriesTo

AirMovement = Literal["still", "moving", "fan"]
"""How the air moves where hides dry: hardly, with a door or window open, or before a fan."""

Cover = Literal["open", "loose", "plastic"]
"""How a drying hide lies: open, loosely covered with cloth or paper, or under plastic."""


class Climate(Record, frozen=True, kw_only=True):
    """The air where hides dry: temperature in °C, relative humidity in %, and how it moves."""

    celsius: float
    humidity_pct: float
    air: AirMovement = "still"


class Weighed(Record, frozen=True, kw_only=True):
    """A weighing of a drying hide, or of a lot all together, in grams."""

    at: Instant
    stage: str
    mass_g: float


class Covered(Record, frozen=True, kw_only=True):
    """From when on a hide lay so; before the first it lay open."""

    at: Instant
    cover: Cover


class SorptionCurve(Record, frozen=True, kw_only=True):
    """Published equilibrium moisture: ``points`` of (relative humidity in %, g water per g dry).

    ``doubt`` is the share by which the moisture may be off either way.
    """

    name: str
    points: tuple[tuple[float, float], ...]
    doubt: float
    source: str
    mark: Mark


class MoistureWindow(Record, frozen=True, kw_only=True):
    """A state of the hide between two moistures, shares of the whole weight (wet basis).

    ``lower`` None: it stays in that state for good.
    """

    id: DriesTo
    name: str
    upper: Figure
    lower: Figure | None = None


class MoistureMark(Record, frozen=True, kw_only=True):
    """A published moisture to find one's way by, as a share of the whole weight (wet basis)."""

    name: str
    moisture: Figure


class DryingFigures(Record, frozen=True, kw_only=True):
    """The figures a drying forecast begins with, each with its source; low to high is 10 to 90 %.

    ``rate_per_h`` and ``exponent`` are those of Page's curve for the ``reference`` hide and air;
    ``speed_m_s`` the air speed of each word, ``cover`` the share of the rate that is left under a
    cover; ``thickness_offset_mm`` and ``hair_halves_mm`` how skin and hair slow it;
    ``start`` the moisture at the beginning of a stage that dries to damp, soft or dry.
    """

    rate_per_h: Figure
    exponent: Figure
    reference_celsius: Figure
    reference_humidity_pct: Figure
    reference_speed_m_s: Figure
    reference_thickness_mm: Figure
    reference_hair_mm: Figure
    speed_exponent: Figure
    speed_m_s: dict[AirMovement, Figure]
    cover: dict[Cover, Figure]
    thickness_offset_mm: Figure
    hair_halves_mm: Figure
    hair_share: Figure
    scaling_doubt: Figure
    handling_share: Figure
    start: dict[DriesTo, Figure]
    sorption: dict[Literal["skin", "hair"], SorptionCurve]
    window: tuple[MoistureWindow, ...]
    mark: tuple[MoistureMark, ...] = ()

    def window_of(self, dries_to: DriesTo) -> MoistureWindow:
        """The window of that state; KeyError if the figures have none."""
        for window in self.window:
            if window.id == dries_to:
                return window
        raise KeyError(dries_to)
