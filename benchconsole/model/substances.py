"""Substances: what stands on the shelf, with the physical figures a worksheet needs."""

from __future__ import annotations

from typing import Literal

from benchconsole.model.hazards import Group, HazardBand, Signal
from benchconsole.model.record import Citation, Figure, Mark, Record

Form = Literal["water", "solid", "liquid", "oil"]
"""``liquid`` mixes with water, ``oil`` does not, ``solid`` is weighed."""

AcidName = Literal["", "formic", "acetic", "lactic", "citric", "oxalic", "sulphuric"]
"""An acid by the first word of its name in :mod:`benchconsole.chemistry.acids`."""


class SolubilityPoint(Record, frozen=True, kw_only=True):
    """Anhydrous grams that 100 g of water holds at ``celsius``: where sources differ, a band."""

    celsius: float
    low: float
    high: float


class Solubility(Record, frozen=True, kw_only=True):
    """How much of a solid dissolves, and how sure that is."""

    points: tuple[SolubilityPoint, ...]
    source: str
    mark: Mark
    note: str = ""


class Hazard(Record, frozen=True, kw_only=True):
    """The usual label of a substance; the bottle's own safety sheet rules.

    The fields of its own tell of the substance as it is sold, ``bands`` of a liquor that holds
    it, by strength.
    """

    signal: Signal
    statements: tuple[str, ...]
    wear: tuple[str, ...]
    source: str
    mark: Mark
    pictograms: tuple[str, ...] = ()
    bands: tuple[HazardBand, ...] = ()


class Substance(Record, frozen=True, kw_only=True):
    """One thing that goes into a mix.

    ``name`` is the short word of the bench, ``pack`` what the pack says, so that the right one
    is taken from the shelf.

    Molar masses in g/mol (``molar_mass`` of what is weighed, crystal water included;
    ``anhydrous_molar_mass`` without it). ``density`` in kg/m3 of the liquid, or of the loose
    dry goods: the only bridge between weight and volume. ``specific_volume`` in cm3 per
    anhydrous gram: the room it takes up once dissolved. ``brine``: it is common salt, and the
    density law of brine tells its room instead. ``strength`` is the pure share, by weight, of
    a substance sold as a solution (85 % is 0.85). ``acid`` names the acid it is, for its pH,
    and ``groups`` the kinds it belongs to where things must not meet.
    """

    id: str
    name: str
    form: Form
    pack: str = ""
    density: Figure | None = None
    molar_mass: float | None = None
    anhydrous_molar_mass: float | None = None
    solubility: Solubility | None = None
    specific_volume: Figure | None = None
    brine: bool = False
    strength: Figure | None = None
    acid: AcidName = ""
    groups: tuple[Group, ...] = ()
    hazard: Hazard | None = None
    cautions: tuple[str, ...] = ()
    sources: tuple[Citation, ...] = ()

    @property
    def anhydrous_share(self) -> float:
        """Mass of the water-free substance in a gram of what is weighed."""
        if self.molar_mass is None or self.anhydrous_molar_mass is None:
            return 1.0
        return self.anhydrous_molar_mass / self.molar_mass

    @property
    def pure_share(self) -> float:
        """Mass of the pure, water-free substance in a gram of what is handled."""
        return self.anhydrous_share if self.strength is None else self.strength.value
