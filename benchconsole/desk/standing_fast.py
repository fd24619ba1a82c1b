"""Taps that cannot be taken back as things stand, each refused in a sentence."""

from __future__ import annotations

from collections.abc import Iterable

from benchconsole.errors import NotPossibleNow
from benchconsole.model.events import Event, HidesArchived, HidesBroughtBack, LotSplit
from benchconsole.model.history import History
from benchconsole.model.state import ShopState


def refuse_parted(state: ShopState, past: History, tap: int, gone: Iterable[Event]) -> None:
    """A split is taken back only while neither part has gone on by itself."""
    for event in gone:
        for hide in (event.hide, event.new_hide) if isinstance(event, LotSplit) else ():
            if past.last_tap(f"hide/{hide}") != tap and hide in state.hides:
                raise NotPossibleNow(
                    f"{state.hides[hide].name}, the other part of the split lot, has gone on "
                    "since: take that back first, on its own card."
                )


def refuse_archived(state: ShopState, gone: Iterable[Event]) -> None:
    """The moving to the archive is not taken back, and a hide that went on is not moved there.

    The entries of what was moved are in the history no more; only bringing back fetches them.
    """
    for event in gone:
        if isinstance(event, HidesArchived):
            raise NotPossibleNow(
                "That lies in the archive now: a hide is brought back from there (F6)."
            )
        for hide in event.hides if isinstance(event, HidesBroughtBack) else ():
            if hide in state.hides and state.hides[hide].in_work:
                raise NotPossibleNow(
                    f"{state.hides[hide].name} was brought back and is in work again: it cannot "
                    "lie in the archive."
                )
