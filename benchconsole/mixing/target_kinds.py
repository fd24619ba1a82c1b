"""The targets a person can have: how much of a formula is wanted, put in different ways."""

from __future__ import annotations

from benchconsole.model.record import Record


class AsWritten(Record, frozen=True, kw_only=True, tag="as-written"):
    """The recipe as its source prints it."""


class Make(Record, frozen=True, kw_only=True, tag="make"):
    """This much finished liquor or dressing."""

    volume_l: float


class Times(Record, frozen=True, kw_only=True, tag="times"):
    """The recipe so many times."""

    times: float


class ForHideMass(Record, frozen=True, kw_only=True, tag="hide-mass"):
    """For a hide of this weight; ``litres_per_kg`` None takes the formula's own float."""

    mass_g: float
    litres_per_kg: float | None = None


class ForHides(Record, frozen=True, kw_only=True, tag="hides"):
    """For so many hides; ``species`` empty takes the one the recipe is written for."""

    count: int
    species: str = ""


class Limit(Record, frozen=True, kw_only=True, tag="limit"):
    """As much as this amount of one ingredient allows."""

    substance: str
    mass_g: float | None = None
    volume_l: float | None = None


Target = AsWritten | Make | Times | ForHideMass | ForHides | Limit

TARGET_KINDS: dict[str, tuple[str, str]] = {
    "as-written": ("as written", ""),
    "make": ("make", "6 US gal"),
    "times": ("times the recipe", "2"),
    "hide-mass": ("for hide weight", "3.2 kg"),
    "hides": ("for hides", "3"),
    "limit": ("as much as", "salt=14 oz"),
}
"""Every kind of target: its words on the screen, and an example of what to type."""


def kind_of(target: Target) -> str:
    """The kind of a target, a key of ``TARGET_KINDS``."""
    return str(target.__struct_config__.tag)
