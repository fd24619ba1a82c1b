"""The archive at the desk: finished hides moved out of the way, found, read and brought back."""

from __future__ import annotations

import contextlib
import unicodedata
from collections.abc import Callable, Iterable, Iterator
from datetime import datetime

from benchconsole.desk.leaving import as_archived, out_at
from benchconsole.desk.ledger import Ledger
from benchconsole.desk.story import story_of
from benchconsole.errors import NotKnown, NotPossibleNow, StoreError
from benchconsole.exchange.finished import FinishedHide
from benchconsole.library import Library
from benchconsole.model.archive_events import ArchivedHide, HidesArchived, HidesBroughtBack
from benchconsole.model.archiving import archived_since
from benchconsole.model.events import Entry, NoteWritten, subjects_of
from benchconsole.model.state import HideState
from benchconsole.store.entries import together


class Archiving:
    """The part of the desk that knows the archive."""

    def __init__(self, ledger: Ledger) -> None:
        self._ledger = ledger
        self._words: dict[str, str] = {}

    @property
    def notices(self) -> tuple[str, ...]:
        """What is wrong with the files that were looked at, a sentence each."""
        there = set(self._ledger.archive.years())
        away: dict[int, int] = {}
        for hide in self._ledger.state.archived.values():
            if hide.year not in there:
                away[hide.year] = away.get(hide.year, 0) + 1
        return (
            *self._ledger.archive.notices,
            *(
                f"The archive of {year} is gone, and so is its copy: of {_many(count)} only names, "
                "routes and dates are known. Put the file back if you have it."
                for year, count in sorted(away.items())
            ),
        )

    # --- finding and reading --------------------------------------------------------------

    def finished(self, text: str = "") -> tuple[FinishedHide, ...]:
        """The hides out of work that all the words of a text are found in, the latest first.

        Words are looked for in name, animal, route, year and notes. The first time this reads the
        files of all years.
        """
        return self.finding(text)()

    def finding(self, text: str = "") -> Callable[[], tuple[FinishedHide, ...]]:
        """The slow part of :meth:`finished`, which may be done in another thread."""
        words = folded(text).split()
        state, library = self._ledger.state, self._ledger.library
        here = [
            _row(library, hide, archived=False)
            for hide in self._out_of_work()
            if _holds(found_by(library, hide, self._notes(hide.id)), words)
        ]
        archive, found_known = self._ledger.archive, self._found_by

        def find() -> tuple[FinishedHide, ...]:
            found = {
                hide.id: hide
                for hide in state.archived.values()
                if _holds(found_known(hide), words)
            }
            for hide in archive.search(words):
                if hide.id in state.archived or hide.id not in state.hides:
                    found[hide.id] = state.archived.get(hide.id, hide)
            rows = [*here, *(_row(library, hide, archived=True) for hide in found.values())]
            return tuple(sorted(rows, key=lambda row: row.hide.out_at, reverse=True))

        return find

    def _found_by(self, hide: ArchivedHide) -> str:
        """What is known of a hide in the archive without its file, to be found by."""
        known = self._words.get(hide.id)
        if known is None:
            known = self._words[hide.id] = found_by(self._ledger.library, hide, ())
        return known

    def _out_of_work(self) -> Iterable[ArchivedHide]:
        ledger = self._ledger
        for hide in ledger.state.hides.values():
            if not hide.in_work:
                yield as_archived(
                    hide, self._came_at(hide), out_at(hide).astimezone(ledger.zone).year, ""
                )

    def _came_at(self, hide: HideState) -> datetime:
        story = story_of(self._ledger, hide.id)
        return story[0].at if story else hide.arrived_at

    def _notes(self, hide_id: str) -> Iterable[str]:
        for entry in self._ledger.history(f"hide/{hide_id}"):
            if isinstance(entry.event, NoteWritten):
                yield entry.event.text

    def get(self, hide_id: str) -> ArchivedHide:
        """A hide in the archive; ``NotKnown`` if there is none of that id."""
        found = self._ledger.state.archived.get(hide_id) or self._strays().get(hide_id)
        if found is None:
            raise NotKnown("hide in the archive", hide_id, tuple(self._ledger.state.archived))
        return found

    def _strays(self) -> dict[str, ArchivedHide]:
        """The hides in the files that the history knows nothing of, as after great damage."""
        state = self._ledger.state
        return {
            hide.id: hide
            for hide in self._ledger.archive.search(())
            if hide.id not in state.archived and hide.id not in state.hides
        }

    def history_of(self, hide: ArchivedHide) -> tuple[Entry, ...]:
        """All entries about an archived hide and its family, and of their liquors.

        Raises ``StoreError`` where the file of its year cannot be read.
        """
        key = f"hide/{hide.family}"
        held = self._ledger.archive.parcels(hide.year, (key,)).get(key)
        if not held:
            raise StoreError(
                f"The story of {hide.name} is not in the archive of {hide.year}"
                f"{self._because(hide.year)}: only its name, route and dates are known."
            )
        return self._with_here(held)

    def _with_here(self, held: Iterable[Entry]) -> tuple[Entry, ...]:
        """Entries of the archive, with what the history itself still says of the same things."""
        entries = tuple(held)
        subjects = _named_in(entries)
        here = (
            entry
            for entry in self._ledger.past.written
            if not isinstance(entry.event, HidesArchived | HidesBroughtBack)
            and not subjects.isdisjoint(subjects_of(entry.event))
        )
        return together(here, entries)

    def _because(self, year: int) -> str:
        why = [notice for notice in self.notices if str(year) in notice]
        return f" ({why[0].rstrip('.')})" if why else ""

    def entries(self, hides: Iterable[ArchivedHide] | None = None) -> tuple[Entry, ...]:
        """The entries about some archived hides, or all, for exports; in order.

        Reads the files of their years. What cannot be read is left out; ``notices`` tell of it.
        """
        wanted = self._ledger.state.archived.values() if hides is None else hides
        by_year: dict[int, set[str]] = {}
        for hide in wanted:
            by_year.setdefault(hide.year, set()).add(f"hide/{hide.family}")
        held: list[Entry] = []
        for year, keys in by_year.items():
            with contextlib.suppress(StoreError):
                for entries in self._ledger.archive.parcels(year, keys).values():
                    held += entries
        return self._with_here(held) if held else ()

    def at(self, instant: datetime) -> tuple[Entry, ...]:
        """The entries of hides that were in the shop at an instant and went to the archive since.

        What cannot be read is left out, as in :meth:`entries`.
        """
        return self.entries(
            hide
            for entry in self._ledger.standing
            if isinstance(entry.event, HidesArchived) and entry.at > instant
            for hide in entry.event.hides
            if hide.came_at <= instant
        )

    # --- bringing back --------------------------------------------------------------------

    def bring_back(self, hide_id: str) -> str:
        """Bring a hide back to the bench with its family and its history; the sentence to show.

        One tap, which can be taken back. Raises ``StoreError`` where its story cannot be read.
        """
        hide = self.get(hide_id)
        state = self._ledger.state
        entries = self.history_of(hide)
        if hide_id not in state.archived:
            self._refuse_parted_ways(hide, entries)
        kin = [each.id for each in state.archived.values() if each.family == hide.family]
        named = _named_in(entries)
        away = [each for each in archived_since(self._ledger.standing) if each in named]
        event = HidesBroughtBack(
            hides=tuple(kin or [hide.id]),
            gone=tuple(each for each in _names(away, "hide/") if each not in kin),
            weigh_outs=tuple(_names(away, "weigh-out/")),
            liquors=tuple(_names(away, "liquor/")),
        )
        self._ledger.put_in(entries, [event])
        others = len(event.hides) - 1
        rest = f" and {others} more of its lot" if others else ""
        return f"{hide.name}{rest} brought back from the archive of {hide.year}"

    def _refuse_parted_ways(self, hide: ArchivedHide, entries: Iterable[Entry]) -> None:
        """A hide that the history does not know can come back where its numbers are still free."""
        by_seq = {entry.seq: entry for entry in self._ledger.past.written}
        taps = {entry.tap: entry.recorded for entry in self._ledger.past.written}
        last = max(taps, default=0)
        for entry in entries:
            if (
                entry.tap > last
                or by_seq.get(entry.seq, entry) != entry
                or taps.get(entry.tap, entry.recorded) != entry.recorded
            ):
                raise NotPossibleNow(
                    f"{hide.name} is of a history that the shop left when a copy was put back: it "
                    "can be read here, but not brought back."
                )


def found_by(library: Library, hide: ArchivedHide, notes: Iterable[str]) -> str:
    """What a hide is found by: name, animal, route, year and notes, as :func:`folded`."""
    row = _row(library, hide, archived=True)
    ended = "lost" if hide.lost else "finished"
    words = (hide.name, hide.id, row.species, row.route, str(hide.year), ended, *notes)
    return folded("  ".join(words))


def folded(text: str) -> str:
    """A text as it is compared: without accents, small and capital letters alike."""
    apart = unicodedata.normalize("NFKD", text.casefold())
    return "".join(letter for letter in apart if not unicodedata.combining(letter))


def _row(library: Library, hide: ArchivedHide, *, archived: bool) -> FinishedHide:
    animal, route = library.species.get(hide.species), library.routes.get(hide.route)
    return FinishedHide(
        hide=hide,
        species=animal.name if animal else hide.species,
        route=route.name if route else hide.route,
        archived=archived,
    )


def _holds(text: str, words: Iterable[str]) -> bool:
    return all(word in text for word in words)


def _named_in(entries: Iterable[Entry]) -> set[str]:
    return {subject for entry in entries for subject in subjects_of(entry.event)}


def _names(subjects: Iterable[str], kind: str) -> Iterator[str]:
    return (each.removeprefix(kind) for each in subjects if each.startswith(kind))


def _many(count: int) -> str:
    return "1 hide" if count == 1 else f"{count} hides"
