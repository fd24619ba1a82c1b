"""Which liquors belong to a hide, and which of them its next stage begins with."""

from __future__ import annotations

from benchconsole.desk.ledger import Ledger
from benchconsole.desk.story import lineage_of, story_of
from benchconsole.mixing.batches import liquor_for
from benchconsole.model.events import LiquorMade, StageBegun, WeighOutBegun
from benchconsole.model.state import HideState
from benchconsole.model.weighing import Liquor
from benchconsole.schedule import Action


def liquors_of(ledger: Ledger, hide_id: str) -> tuple[Liquor, ...]:
    """The liquors made for a hide, or for its lot before the split; those it was in."""
    was_in = _begun_with(ledger, hide_id)
    mine = {liquor.id for _, liquor in _made_for(ledger, hide_id)}
    liquors = ledger.state.liquors.values()
    return tuple(liquor for liquor in liquors if liquor.id in mine | was_in)


def liquor_to_begin(ledger: Ledger, hide: HideState, action: Action) -> str:
    """The id of the liquor that a stage begins with: weighed out for it, or the one it lies in.

    A hide that goes back into the stage it has just left goes back into the same liquor, if no
    other was made. A spoiled one is never meant. Empty if nothing is known of one.
    """
    state = ledger.state
    used = _begun_with(ledger, hide.id) | set(state.spoiled)
    for name, _ in lineage_of(ledger, hide.id):
        ready = liquor_for(
            (liquor for kin, liquor in _made_for(ledger, hide.id) if kin == name),
            hide=name,
            stage=action.stage,
            formula=action.mix,
            used=used,
        )
        if ready is not None:
            return ready.id
    same = state.liquors.get(hide.left_liquor)
    if same is None or same.id in state.spoiled or hide.left_stage != action.stage:
        return ""
    return same.id if same.formula == action.mix else ""


def _begun_with(ledger: Ledger, hide_id: str) -> set[str]:
    return {
        entry.event.liquor
        for entry in story_of(ledger, hide_id)
        if isinstance(entry.event, StageBegun) and entry.event.liquor
    }


def _made_for(ledger: Ledger, hide_id: str) -> list[tuple[str, Liquor]]:
    """The liquors made for a hide or for its lot before the split, each with which of them."""
    planned: dict[str, int] = {}
    began: dict[str, int] = {}
    for entry in ledger.entries:
        match entry.event:
            case WeighOutBegun():
                planned[entry.event.weigh_out] = entry.seq
            case LiquorMade():
                # What was on the scale at the split was meant for all.
                began[entry.event.liquor.id] = planned.get(entry.event.weigh_out, entry.seq)
    return [
        (name, liquor)
        for name, before in lineage_of(ledger, hide_id)
        for liquor in ledger.state.liquors.values()
        if name in liquor.hides and began.get(liquor.id, 0) < before
    ]
