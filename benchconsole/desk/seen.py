"""Taps are meant for the picture the person had before them: what makes such a picture old."""

from __future__ import annotations

from benchconsole.errors import NotPossibleNow
from benchconsole.model.state import HideState
from benchconsole.schedule import Action


def refuse_old(hide: HideState, seen: Action | None, action: Action, *, same: bool) -> None:
    """Refuse a tap on a picture that has grown old; ``same``: it means the same act all the same.

    Whatever was noted about the hide since makes it old: a second tap would be noted twice.
    """
    if seen is None:
        return
    if (seen.stage, seen.facts) != (action.stage, action.facts):
        raise NotPossibleNow(f"{hide.name} has moved on since you looked; next: {action.action}")
    if not same:
        raise NotPossibleNow(f"{hide.name}: something else comes first now: {action.action}")


def meant(action: Action) -> tuple[str, str, int, int | None]:
    """What a tap on an action is about; a check's attention may change without harm."""
    attention = action.attention if action.kind == "attend" else None
    return action.stage, action.kind, action.coat, attention
