"""What a mix can do to a person: each thing as it is weighed, and the liquor at its strength.

Orientation from published labels. The safety sheet of the very product rules; a thing that is
not told of here is not thereby harmless, and nothing here says that a mix is safe.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Literal

from benchconsole.mixing.working import percent_of_a_limit
from benchconsole.model.hazards import HazardBand, Signal
from benchconsole.model.record import MARK_WORDS, Mark, Record
from benchconsole.model.substances import Hazard, Substance

State = Literal["handled", "liquor"]

ACID_PH, ALKALI_PH = 2.0, 11.5
"""A mixture at or beyond these is judged corrosive by its pH alone (CLP regulation, annex I,
3.2.3.1.2; from memory)."""

_STRONGER = {
    "H314": ("H314",),
    "H318": ("H314", "H318"),
    "H315": ("H314", "H315"),
    "H319": ("H314", "H318", "H319"),
}
"""Statements on skin and eyes that add up, each with those that say as much or more."""

_TOGETHER = {
    "H314": "Causes severe skin burns and eye damage (H314)",
    "H318": "Causes serious eye damage (H318)",
    "H315": "Causes skin irritation (H315)",
    "H319": "Causes serious eye irritation (H319)",
}


class HazardNote(Record, frozen=True, kw_only=True):
    """One thing to know before the first weighing; ``says`` tells it, but for what to wear.

    ``substance`` is an id, or "" where the liquor is judged as a whole. ``share`` is the mass of
    it in a gram (1 where that is not known of a thing as sold).
    """

    substance: str
    name: str
    state: State
    share: float
    signal: Signal
    statements: tuple[str, ...]
    pictograms: tuple[str, ...]
    wear: tuple[str, ...]
    says: str
    source: str
    mark: Mark


def hazards_of(
    amounts: Iterable[tuple[Substance, float]], *, liquor: bool = True, ph: float | None = None
) -> tuple[HazardNote, ...]:
    """What to know of (substance, grams) brought together: as weighed first, then as a liquor.

    ``liquor`` is False for a dry mix; ``ph`` is that of the liquor where it is known. Shares are
    of what was poured: that acid and soda take each other up is not reckoned, so the liquor of a
    rinse may be milder than told, never stronger. Method: European rules for mixtures, limits
    beside each band in the library.
    """
    grams: dict[str, float] = {}
    known: dict[str, Substance] = {}
    for substance, mass_g in amounts:
        known[substance.id] = substance
        grams[substance.id] = grams.get(substance.id, 0.0) + max(mass_g, 0.0)
    present = [known[key] for key, mass_g in grams.items() if mass_g > 0.0]
    notes = [note for each in present if (note := _handled(each)) is not None]
    total_g = sum(grams.values())
    if liquor and total_g > 0.0:
        shares = [(each, grams[each.id] * _counted(each) / total_g) for each in present]
        singly = [note for each, share in shares if (note := _in_liquor(each, share)) is not None]
        notes += singly
        notes += _together(shares, singly)
        notes += _by_ph(ph, singly)
    return tuple(notes)


def gear_of(notes: Iterable[HazardNote]) -> tuple[str, ...]:
    """All that these notes ask to wear, each once; long gloves and acid gloves replace gloves."""
    wear = dict.fromkeys(each for note in notes for each in note.wear)
    if any(each.endswith(" gloves") for each in wear):
        wear.pop("gloves", None)
    return tuple(wear)


def _counted(substance: Substance) -> float:
    """A solution counts by its pure share, all else as weighed."""
    return 1.0 if substance.strength is None else substance.strength.value


def _handled(substance: Substance) -> HazardNote | None:
    hazard = substance.hazard
    if hazard is None or not (hazard.signal or hazard.statements):
        return None
    return _note(substance, "handled", _counted(substance), hazard)


def _in_liquor(substance: Substance, share: float) -> HazardNote | None:
    band = _band_at(substance, share)
    return None if band is None else _note(substance, "liquor", share, band)


def _band_at(substance: Substance, share: float) -> HazardBand | None:
    bands = substance.hazard.bands if substance.hazard is not None else ()
    reached = [band for band in bands if share >= band.from_share]
    return max(reached, key=lambda band: band.from_share, default=None)


def _note(
    substance: Substance, state: State, share: float, label: Hazard | HazardBand
) -> HazardNote:
    where = "as it is weighed"
    if state == "liquor":
        where = f"in the finished liquor, {percent_of_a_limit(share)}"
    return HazardNote(
        substance=substance.id,
        name=substance.name,
        state=state,
        share=share,
        signal=label.signal,
        statements=label.statements,
        pictograms=label.pictograms,
        wear=label.wear,
        says=_sentence(f"{substance.name} {where}", label.signal, label.statements),
        source=f"{label.source} ({MARK_WORDS[label.mark]})",
        mark=label.mark,
    )


def _sentence(subject: str, signal: Signal, statements: Sequence[str]) -> str:
    said = ". ".join(statements)
    if signal:
        return f"{subject}: usually labelled {signal}. {said}."
    return f"{subject}: {said[:1].lower()}{said[1:]}."


def _whole(
    subject: str, statement: str, signal: Signal, wear: tuple[str, ...], source: str
) -> HazardNote:
    return HazardNote(
        substance="",
        name="the liquor",
        state="liquor",
        share=1.0,
        signal=signal,
        statements=(statement,),
        pictograms=("corrosion",) if signal == "Danger" else ("exclamation mark",),
        wear=wear,
        says=_sentence(subject, signal, (statement,)),
        source=f"{source} ({MARK_WORDS['memory']})",
        mark="memory",
    )


def _together(
    shares: Sequence[tuple[Substance, float]], singly: Sequence[HazardNote]
) -> list[HazardNote]:
    """What several irritants add up to, where none of them alone is that strong.

    Each counts as its share of its own limit (CLP regulation, annex I, 3.2.3.3; from memory).
    """
    said = {_code(words) for note in singly for words in note.statements}
    found = []
    for code, as_strong in _STRONGER.items():
        if said.intersection(as_strong):
            continue
        parts = [
            (substance.name, share / limit)
            for substance, share in shares
            if (limit := _limit(substance, as_strong)) is not None
        ]
        if len(parts) > 1 and sum(part for _, part in parts) >= 1.0:
            signal: Signal = "Danger" if code in ("H314", "H318") else "Warning"
            found.append(
                _whole(
                    f"{' and '.join(name for name, _ in parts)} together in the finished liquor",
                    _TOGETHER[code],
                    signal,
                    ("goggles", "gloves"),
                    "European rules for mixtures: irritants add up",
                )
            )
            said.add(code)
    return found


def _limit(substance: Substance, codes: Sequence[str]) -> float | None:
    """The least share at which a substance alone earns one of these statements."""
    bands = substance.hazard.bands if substance.hazard is not None else ()
    earning = [b.from_share for b in bands if {_code(words) for words in b.statements} & {*codes}]
    return min(earning, default=None)


def _code(words: str) -> str:
    """``H319`` out of "Causes serious eye irritation (H319)"."""
    return words.rpartition("(")[2].rstrip(")")


def _by_ph(ph: float | None, singly: Sequence[HazardNote]) -> list[HazardNote]:
    if ph is None or ACID_PH < ph < ALKALI_PH:
        return []
    if any("H314" in words for note in singly for words in note.statements):
        return []
    kind, gloves = ("acid", "acid gloves") if ph <= ACID_PH else ("alkaline", "long gloves")
    return [
        _whole(
            f"the finished liquor, pH {ph:.1f}, is so {kind} that it is judged by that alone",
            _TOGETHER["H314"],
            "Danger",
            ("goggles", gloves, "apron"),
            "European rules for mixtures: pH of 2 or less, 11.5 or more",
        )
    ]
