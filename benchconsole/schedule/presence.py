"""How long somebody has to be there once a stage is begun."""

from __future__ import annotations

from datetime import timedelta

from benchconsole.model.routes import Attention, Stage

THERE_FOR = timedelta(hours=2)
"""The longest hold, or run of an attention, that nobody leaves the shop in; our own choice.

Within it hands are wanted again today; what takes longer is planned by its own times.
"""


def time_there(stage: Stage, species: str, came: str = "") -> timedelta:
    """The work of a stage, the waits between its coats and the short hold or tending after them.

    Longer than what may turn out: hold and work are added up, as some note a beginning when
    they start the work and some when it is done.
    """
    coats, hold = stage.coats, stage.hold_for(species, came)
    waits = timedelta(0) if coats is None else max(0, coats.count - 1) * coats.wait_target
    after = [each.until for each in stage.attend if each.until is not None and is_stayed_for(each)]
    if hold is not None and hold.target <= THERE_FOR:
        after.append(hold.target)
    return stage.work + waits + max(after, default=timedelta(0))


def is_stayed_for(attention: Attention) -> bool:
    """Whether an attention is over so soon that somebody stays for all of it."""
    return attention.until is not None and attention.until <= THERE_FOR
