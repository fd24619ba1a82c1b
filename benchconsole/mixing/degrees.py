"""What a spindle shows in the brine of a finished liquor."""

from __future__ import annotations

from collections.abc import Iterable

from benchconsole.chemistry import OutOfRange
from benchconsole.mixing.brines import SpindleDegrees, salometer_words, spindle_degrees
from benchconsole.model.record import Record
from benchconsole.model.substances import Substance
from benchconsole.quantities import Measures, format_temperature


class BrineDegrees(Record, frozen=True, kw_only=True):
    """What 60/60 °F spindles show in a liquor's salt and water alone, at ``celsius``.

    ``higher_by`` names what else is dissolved in it and makes the spindle read too high.
    """

    celsius: float
    shows: SpindleDegrees
    higher_by: tuple[str, ...]


def degrees_of(
    amounts: Iterable[tuple[Substance, float]], salt_g: float, water_g: float, celsius: float
) -> BrineDegrees | None:
    """The degrees of a brine, None of what is none.

    That is: no salt in it, more than water holds, or things that float or lie in it (oil, flour,
    bark, soap), where a spindle tells nothing. ``water_g`` counts the water of crystals.
    """
    others = [each for each, _ in amounts if each.form != "water" and not each.brine]
    if salt_g <= 0.0 or any(not _dissolves(each) for each in others):
        return None
    try:
        shows = spindle_degrees(salt_g / (salt_g + water_g), celsius)
    except OutOfRange:
        return None
    higher_by = tuple(each.name for each in others)
    return BrineDegrees(celsius=celsius, shows=shows, higher_by=higher_by)


def degrees_words(degrees: BrineDegrees, measures: Measures) -> str:
    """One line: every scale, the temperature, and what makes the spindle read high."""
    shows = degrees.shows
    at = format_temperature(degrees.celsius, measures=measures)
    scales = f"SG {shows.specific_gravity:.3f}, {salometer_words(shows)}"
    told = f"Spindle at {at}: {scales}, barkometer {max(shows.barkometer, 0.0):.0f}"
    if not degrees.higher_by:
        return f"{told}."
    return (
        f"{told} with the salt alone; {' and '.join(degrees.higher_by)} will make it read higher."
    )


def _dissolves(substance: Substance) -> bool:
    return bool(substance.acid) or substance.solubility is not None
