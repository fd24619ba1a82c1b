"""The shop's books: every hide there ever was and every event, for tables that leave the shop."""

from __future__ import annotations

from datetime import datetime

from benchconsole.clock import ManualClock
from benchconsole.desk.archive import Archiving
from benchconsole.desk.hides import Hides
from benchconsole.desk.ledger import Ledger
from benchconsole.desk.story import story_of
from benchconsole.desk.tap_lines import TapLines
from benchconsole.exchange.csv import BookedEvent, BookedHide
from benchconsole.exchange.finished import FinishedHide
from benchconsole.model.events import (
    Entry,
    HidesArchived,
    HidesBroughtBack,
    Redone,
    Undone,
    subjects_of,
)
from benchconsole.model.hide_state import HideState
from benchconsole.store import MemoryRepository
from benchconsole.store.entries import together


class Books:
    """The part of the desk that reads all there is, the archive included; nothing is stored.

    What of the archive cannot be read is left out; the archive's ``notices`` tell of it.
    """

    def __init__(self, ledger: Ledger, archive: Archiving) -> None:
        self._ledger = ledger
        self._archive = archive

    def hides(self) -> tuple[BookedHide, ...]:
        """Every hide that was not taken back, the first to come first."""
        whole = self._whole()
        hides = Hides(whole)
        dues = {action.hide: action.due for action in hides.day_sheet() if action.kind != "none"}
        archived = self._ledger.state.archived
        booked = [
            self._booked(whole, hide, dues.get(hide.id), archived=hide.id in archived)
            for hide in whole.state.hides.values()
        ]
        unread = (row for row in self._archive.finished() if row.hide.id not in whole.state.hides)
        booked += [_known_of(row) for row in unread]
        return tuple(sorted(booked, key=lambda hide: hide.taken_in))

    def history(self) -> tuple[BookedEvent, ...]:
        """Every event in the order it was written down, what was taken back included.

        Moving to the archive and back is no event of the trade, and left out.
        """
        whole = self._whole()
        lines, past = TapLines(whole), whole.past
        standing = {entry.seq: entry for entry in past.standing}
        taken_at = {tap: past.of_tap(tap)[0].at for tap in set(past.taken_by.values())}
        return tuple(
            BookedEvent(
                seq=entry.seq,
                tap=entry.tap,
                at=standing.get(entry.seq, entry).at,
                recorded=entry.recorded,
                subjects=subjects_of(entry.event),
                about=lines.about([entry]),
                words=_words(entry, lines),
                taken_back=entry.seq in past.taken_by,
                taken_back_at=taken_at.get(past.taken_by.get(entry.seq, 0)),
            )
            for entry in past.entries
        )

    def _whole(self) -> Ledger:
        """A ledger over the history with what lies in the archive put back in its place."""
        ledger = self._ledger
        entries = together(ledger.past.written, self._archive.entries())
        kept = (e for e in entries if not isinstance(e.event, HidesArchived | HidesBroughtBack))
        clock = ManualClock(ledger.now(), ledger.clock.zone)
        return Ledger(MemoryRepository(kept), clock, ledger.library)

    def _booked(
        self, whole: Ledger, hide: HideState, due: datetime | None, *, archived: bool
    ) -> BookedHide:
        story, library = story_of(whole, hide.id), whole.library
        route, species = library.routes.get(hide.route), library.species.get(hide.species)
        stages = {stage.id: stage.name for stage in route.stages} if route else {}
        out = hide.out_at is not None
        return BookedHide(
            id=hide.id,
            name=hide.name,
            species=species.name if species else hide.species,
            count=hide.count,
            mass_g=hide.mass_g,
            came=hide.came,
            route=route.name if route else hide.route,
            stage=stages.get(hide.stage, hide.stage),
            state="out of work" if out else "in work" if hide.stage else "finished",
            taken_in=story[0].at if story else hide.arrived_at,
            stage_begun=hide.begun_at,
            due=None if out else due,
            finished=hide.finished_at,
            out=hide.out_at,
            why_out=hide.out_why,
            archived=archived,
        )


def _known_of(row: FinishedHide) -> BookedHide:
    """A hide of the archive whose file cannot be read."""
    hide = row.hide
    return BookedHide(
        id=hide.id,
        name=hide.name,
        species=row.species,
        count=hide.count,
        mass_g=None,
        came="",
        route=row.route,
        stage="",
        state="out of work" if hide.lost else "finished",
        taken_in=hide.came_at,
        finished=None if hide.lost else hide.out_at,
        out=hide.out_at if hide.lost else None,
        archived=True,
    )


def _words(entry: Entry, lines: TapLines) -> str:
    words = lines.words([entry])
    if isinstance(entry.event, Undone | Redone):
        return f"tap {entry.event.tap} {words}"
    return words
