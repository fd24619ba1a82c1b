"""What a substance can do to a person, by strength, and which kinds must not meet.

Records only: orientation from published labels, never a label. The safety sheet of the very
product rules, and nothing here says that a mix is safe.
"""

from __future__ import annotations

from typing import Literal

from benchconsole.model.record import Mark, Record

Signal = Literal["", "Warning", "Danger"]

Group = Literal[
    "acid",
    "strong-acid",
    "alkali",
    "strong-alkali",
    "carbonate",
    "ammonia",
    "ammonium",
    "bleach",
    "oxidiser",
    "sulphide",
    "sulphuric",
    "formic",
    "oxalic",
    "calcium",
    "alum",
    "soap",
    "tannin",
    "borax",
    "brine",
    "flammable",
    "oil",
    "aluminium",
    "zinc",
    "iron",
    "copper",
    "stainless",
]
"""Kinds that react alike. Alums are acids too; the last five are also what vessels are made of."""

Severity = Literal["never", "avoid", "caution", "note"]
"""``never``: it has killed or blinded; ``avoid``: it spoils vessel or hide; ``caution``: slowly,
with care; ``note``: good to know."""


class HazardBand(Record, frozen=True, kw_only=True):
    """What a liquor is usually labelled from a strength up to the next band.

    ``from_share`` is the mass of the substance in a gram of liquor: of the pure substance where
    it is sold as a solution (its ``strength``), otherwise as weighed, crystal water included.
    ``statements`` end in their code: "Causes serious eye irritation (H319)".
    """

    from_share: float
    signal: Signal
    statements: tuple[str, ...]
    wear: tuple[str, ...]
    source: str
    mark: Mark
    pictograms: tuple[str, ...] = ()


class Incompatible(Record, frozen=True, kw_only=True):
    """Two kinds that must not meet, or only so; ``says`` is the whole sentence."""

    first: Group
    second: Group
    severity: Severity
    says: str
    source: str
    mark: Mark
