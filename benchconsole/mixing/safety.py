"""What a worksheet says before the first weighing: gear, hazards, what must not meet, order."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from benchconsole.mixing.clashes import Clash, clashes
from benchconsole.mixing.findings import JOINED, Check
from benchconsole.mixing.hazards import HazardNote, gear_of
from benchconsole.mixing.order import OrderNote, order_notes
from benchconsole.mixing.working import Working
from benchconsole.model.formulas import Formula
from benchconsole.model.hazards import Incompatible, Severity
from benchconsole.model.record import Record
from benchconsole.model.substances import Substance

STANDING_CAUTION = (
    "The safety sheet of the very product in your hand, and the rules of your place for use and "
    "disposal, come before anything shown here. Nothing here says that a mix is safe."
)

FAULTS: tuple[Severity, ...] = ("never", "avoid")
"""These are faults of a formula; "caution" is told among the cautions, "note" not on a worksheet:
it is good to know at the shelf, and the checks tell what it comes to in this mix."""

PLACE = "open air or a draught"
"""The one thing that a label's "wear" asks for and nobody wears."""


class Meetings(Record, frozen=True, kw_only=True):
    """What meets in a formula and in which order, with what is wrong with that."""

    clashes: tuple[Clash, ...]
    order: tuple[OrderNote, ...]


def meetings_of(
    formula: Formula, rules: Sequence[Incompatible], substances: Mapping[str, Substance]
) -> Meetings:
    """Every clash within the formula and every note on its order."""
    return Meetings(
        clashes=clashes(formula, rules, substances), order=order_notes(formula, substances)
    )


def meeting_checks(formula: Formula, meetings: Meetings) -> list[Check]:
    """``clash`` and ``order``: a check, not ok, for each thing that must not be or spoils it."""
    ids = {part.name: part.id for part in formula.parts}
    found = [
        _check("clash", JOINED, clash.says, clash.source, "What must not meet")
        for clash in meetings.clashes
        if clash.severity in FAULTS
    ]
    return found + [
        _check("order", ids.get(note.part, JOINED), note.says, "", "Order of addition")
        for note in meetings.order
        if note.severity in FAULTS
    ]


def _check(code: str, part: str, says: str, source: str, title: str) -> Check:
    return Check(
        code=code,
        substance="",
        part=part,
        ok=False,
        value=0.0,
        says=says,
        working=Working(
            title=title,
            result="do not make it so",
            source=source or "common practice, no source",
            sure="only what the library knows of is told; silence is no leave",
        ),
    )


def cautions_of(
    formula: Formula,
    substances: Mapping[str, Substance],
    hazards: Sequence[HazardNote],
    meetings: Meetings,
) -> tuple[str, ...]:
    """Gear first, then the formula's own, each thing's hazard with its cautions, what may meet.

    Each sentence once; the standing caution is the last.
    """
    said = [*gear_words(gear_of(hazards)), *formula.cautions]
    in_it = dict.fromkeys(each.substance for part in formula.parts for each in part.ingredients)
    for key in in_it:
        said += [_capital(note.says) for note in hazards if note.substance == key]
        said += substances[key].cautions
    said += [_capital(note.says) for note in hazards if not note.substance]
    said += [_capital(clash.says) for clash in meetings.clashes if clash.severity == "caution"]
    said += [note.says for note in meetings.order if note.severity not in FAULTS]
    return (*dict.fromkeys(said), STANDING_CAUTION)


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def gear_words(gear: Iterable[str]) -> list[str]:
    """One line on what to wear and where to work; none where nothing is asked for."""
    kept = list(gear)
    worn = [each for each in kept if each != PLACE]
    line = f"Wear: {', '.join(worn)}." if worn else ""
    place = f"Work in {PLACE}." if PLACE in kept else ""
    told = " ".join(words for words in (line, place) if words)
    return [told] if told else []
