"""What happens to hides beside their routes: starts that a person chooses."""

from __future__ import annotations

from datetime import datetime

from benchconsole.desk.hides import Hides
from benchconsole.desk.ledger import Ledger
from benchconsole.desk.words import tap_words
from benchconsole.errors import NotPossibleNow
from benchconsole.model.events import Event, StartChosen
from benchconsole.model.state import HideState
from benchconsole.schedule.wording import wall_time


class Moves:
    """The part of the desk for what no route foresees; each intent is one tap.

    They are taken back where other taps about a hide are: :meth:`Hides.undo`.
    """

    def __init__(self, ledger: Ledger, hides: Hides) -> None:
        self._ledger = ledger
        self._hides = hides

    def start_at(self, hide_id: str, at: datetime) -> str:
        """Choose when to begin the stage a hide waits for; the sentence to show.

        ``at`` is aware. ``NotPossibleNow`` for a hide that is in a stage or has none, for a
        time that is past and for one after which the hide spoils.
        """
        hide = self._waiting(hide_id)
        now, zone = self._ledger.now(), self._ledger.zone
        if at < now:
            raise NotPossibleNow(f"{hide.name}: {wall_time(at, zone, now)} is past.")
        latest = self._hides.action_of(hide_id).latest
        if latest is not None and latest < at and now <= latest:
            raise NotPossibleNow(
                f"{hide.name}: it may lie until {wall_time(latest, zone, now)}, no longer; "
                "choose a time before."
            )
        return self._record(hide, StartChosen(hide=hide.id, start_at=at))

    def start_any_time(self, hide_id: str) -> str:
        """Take the chosen start away; the sentence to show."""
        hide = self._waiting(hide_id)
        if hide.start_at is None:
            raise NotPossibleNow(f"{hide.name}: no start was chosen.")
        return self._record(hide, StartChosen(hide=hide.id))

    def _waiting(self, hide_id: str) -> HideState:
        """A hide whose next action is to begin a stage."""
        hide = self._hides.get(hide_id)
        action = self._hides.action_of(hide_id)
        if action.kind != "begin":
            raise NotPossibleNow(f"{hide.name}: there is no stage to begin; {action.action}")
        return hide

    def _record(self, hide: HideState, event: Event) -> str:
        self._ledger.record([event])
        route = self._ledger.library.routes.get(hide.route)
        return f"{hide.name}: {tap_words([event], route, self._ledger.zone)}"
