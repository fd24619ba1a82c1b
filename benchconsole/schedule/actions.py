"""The next action of a hide: what, when, why then, what spoils, what to have ready."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Literal

from benchconsole.model.record import Record

ActionKind = Literal["begin", "coat", "attend", "check", "none"]
ActionState = Literal["overdue", "due", "ready", "waiting", "stored", "finished", "out"]

STATE_ORDER: dict[ActionState, int] = {
    "overdue": 0,
    "due": 1,
    "ready": 2,
    "waiting": 3,
    "stored": 4,
    "finished": 5,
    "out": 6,
}
"""Urgency: past its latest, past its due time, may be done, too early, in store; finished, and
taken out of work.
"""


class Action(Record, frozen=True, kw_only=True):
    """What a hide needs next.

    ``earliest <= due``; ``latest`` is when something spoils (None: nothing known to).
    ``ideal`` is the due time the hide itself asks for, before the shop's hours moved it.
    ``coat`` (from 1) and ``attention`` (place in the stage's list) say which one is meant.
    ``mix`` is the formula to have made: for a beginning only, as later coats are the rest of it.
    ``gate`` is the state in which the hide may go on, for a look that may let it pass.
    ``facts`` tells one picture of the hide from the next: it grows with what is noted about it.
    All instants aware, UTC.
    """

    hide: str
    hide_name: str
    stage: str
    stage_name: str
    kind: ActionKind
    action: str
    earliest: datetime
    due: datetime
    latest: datetime | None
    ideal: datetime
    state: ActionState
    why: str
    spoils: str
    needs: tuple[str, ...] = ()
    mix: str = ""
    check: str = ""
    gate: str = ""
    inspect: str = ""
    work: timedelta = timedelta(0)
    coat: int = 0
    attention: int | None = None
    facts: int = 0
