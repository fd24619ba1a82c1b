"""The history on disk and the state that follows from it, kept together."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from datetime import datetime, tzinfo
from typing import TYPE_CHECKING, NamedTuple

from dateutil import tz

from benchconsole.clock import Clock
from benchconsole.desk.standing_fast import refuse_archived, refuse_parted
from benchconsole.errors import NotPossibleNow, StoreBusy, StoreError
from benchconsole.library import Library
from benchconsole.model.events import (
    Entry,
    Event,
    HidesArchived,
    Redone,
    ShopSet,
    TimeCorrected,
    Undone,
    subjects_of,
)
from benchconsole.model.history import History, standing
from benchconsole.model.shop import Shop
from benchconsole.model.state import ShopState, after
from benchconsole.schedule import Hours
from benchconsole.store import Repository
from benchconsole.store.backups import Backup
from benchconsole.store.entries import together
from benchconsole.store.parcels import Prepared
from benchconsole.store.restoring import Restored

if TYPE_CHECKING:
    from benchconsole.store.archive import Archive


class Shorter(NamedTuple):
    """A shorter history that lies ready."""

    past: History
    prepared: Prepared


class Ledger:
    """What every part of the desk works on: clock, library, history, state.

    ``version`` grows with every change, so that a screen can see whether to look again.
    ``doubt`` says why it is not known what the disk holds (empty: it is known). State and
    history are then the last that were known, and no tap is taken until the disk can be read.
    ``only_looks`` says why no tap is taken here (empty: taps are taken): see ``LookingOn``.
    """

    def __init__(self, repository: Repository, clock: Clock, library: Library) -> None:
        self._repository = repository
        self._past: History
        self._state: ShopState
        self.clock = clock
        self.library = library
        self.version = 0
        self.doubt = ""
        self.only_looks = ""
        self._read(repository.entries())
        self._hours: tuple[Shop, tzinfo, Hours] | None = None

    @property
    def state(self) -> ShopState:
        """How things stand now."""
        return self._state

    @property
    def shop(self) -> Shop:
        """The shop's settings."""
        return self._state.shop

    @property
    def zone(self) -> tzinfo:
        """The zone the shop's walls show: the settings', else the computer's own."""
        return self._own_zone or self.clock.zone

    @property
    def hours(self) -> Hours:
        """The shop's open hours in its zone; the same object until either of them changes."""
        shop, zone = self.shop, self.zone
        if self._hours is None or self._hours[0] is not shop or self._hours[1] != zone:
            self._hours = (shop, zone, Hours.of(shop, zone))
        return self._hours[2]

    @property
    def zone_is_missing(self) -> bool:
        """Whether the settings name a zone that this computer does not know."""
        return bool(self.shop.zone) and self._own_zone is None

    @property
    def _own_zone(self) -> tzinfo | None:
        return tz.gettz(self.shop.zone) if self.shop.zone else None

    @property
    def entries(self) -> tuple[Entry, ...]:
        """The whole history, undone taps included; without what lies in the archive."""
        return self._past.entries

    @property
    def standing(self) -> tuple[Entry, ...]:
        """The entries that count, at their corrected times."""
        return self._past.standing

    @property
    def past(self) -> History:
        """The history, read: what counts of it and what took back the rest."""
        return self._past

    @property
    def began(self) -> datetime | None:
        """When the first tap of all was recorded; None before it."""
        return self._repository.began

    @property
    def store_notices(self) -> tuple[str, ...]:
        """What a person must know of how the store was read, a sentence each."""
        return self._repository.notices

    @property
    def archive(self) -> Archive:
        """The files of the years."""
        return self._repository.archive

    def now(self) -> datetime:
        """The present instant, aware, UTC."""
        return self.clock.now()

    def record(self, events: Sequence[Event]) -> ShopState:
        """Store the events of one tap, then move the state on; in that order, always.

        Raises ``StoreError`` when it could not be kept; the state is then what the disk says
        it is or, where the disk cannot be read either, the last that was known.
        """
        new = self._append(events)
        about_taps = any(isinstance(event, Undone | Redone | TimeCorrected) for event in events)
        self._state = (
            after(ShopState(), self._past.standing) if about_taps else after(self._state, new)
        )
        self.version += 1
        return self._state

    def record_moved(self, event: HidesArchived, then: History) -> None:
        """Store what was moved to the archive, and go on with the history worked out before.

        ``then`` ends with this event, at any time. Raises ``StoreError`` as :meth:`record`.
        """
        past = self._past
        (new,) = self._append([event], add=False)
        if self._past is past and past.written == then.written[:-1]:
            then.is_really(new)
            self._past = then
        else:
            self._past.add((new,))
        self._state = after(self._state, (new,))
        self.version += 1

    def undo(self, subject: str) -> tuple[Event, ...]:
        """Take back the last standing tap about ``subject``; the events that no longer count.

        Raises ``NotPossibleNow`` when there is none, or when it split a lot and the other part
        has gone on by itself since, and ``StoreError`` as :meth:`record`.
        """
        tap = self._past.last_tap(subject)
        if tap is None:
            raise NotPossibleNow("There is nothing to take back.")
        gone = tuple(entry.event for entry in self._past.standing_of(tap))
        refuse_archived(self._state, gone)
        refuse_parted(self._state, self._past, tap, gone)
        about = dict.fromkeys(each for event in gone for each in subjects_of(event))
        self.record([Undone(tap=tap, about=tuple(about))])
        return gone

    def shorter(self, of: History, without: Collection[int]) -> Shorter:
        """A history without the entries of these ``seq``, laid ready; see :meth:`shorten`.

        This is the slow part and may be done in another thread. Raises ``StoreError``.
        """
        kept = tuple(entry for entry in of.written if entry.seq not in without)
        return Shorter(History(kept), self._repository.prepare(kept))

    def shorten(self, shorter: Shorter) -> bool:
        """Go on with a shorter history that means the same; False if it grew meanwhile.

        Raises ``StoreError``, and the history is then as it was.
        """
        if not self._repository.take(shorter.prepared):
            return False
        self._past = shorter.past
        return True

    def put_in(self, old: Iterable[Entry], events: Sequence[Event]) -> None:
        """Put entries of the archive back where they were, with the tap that says so.

        Raises ``StoreError`` as :meth:`record`.
        """
        self._make_ready()
        now = self.now()
        try:
            entries = self._repository.put_in(old, events, at=now, recorded=now)
        except StoreError:
            self._read_again()
            raise
        self._read(entries)
        self.version += 1

    def _append(self, events: Sequence[Event], *, add: bool = True) -> tuple[Entry, ...]:
        self._make_ready()
        now = self.now()
        try:
            new = self._repository.append(events, at=now, recorded=now)
        except StoreError as fault:
            # The write may have come through before it failed: only the disk knows.
            if self._read_again():
                raise StoreError(
                    f"{fault} What was tapped is kept after all: look before you tap again."
                ) from fault
            raise
        if add:
            self._past.add(new)
        return new

    def _read_again(self) -> bool:
        """Go by the disk again, if it can be read; whether it held something else."""
        self.version += 1
        try:
            entries = self._repository.entries()
        except StoreError as fault:
            self.doubt = str(fault)
            return False
        changed = entries != self._past.written
        self._read(entries)
        self.doubt = ""
        return changed

    def _read(self, entries: Iterable[Entry]) -> None:
        self._past = History(entries)
        self._state = after(ShopState(), self._past.standing)

    def _make_ready(self) -> None:
        """Before a tap: be the one who records, and know what the disk holds; or refuse it."""
        if self.only_looks:
            raise StoreBusy(self.only_looks)
        if not self.doubt:
            return
        changed = self._read_again()
        if self.doubt:
            raise StoreError(
                "Nothing more is saved, for it is not known what the store holds: "
                f"{self.doubt[:1].lower()}{self.doubt[1:]}"
            )
        if changed:
            # The tap that seemed to fail had come through: this one was meant for the old picture.
            raise NotPossibleNow(
                "The store can be read again, and the tap that failed before is in it: "
                "look how things stand, then tap."
            )

    def history(self, subject: str) -> tuple[Entry, ...]:
        """The standing entries about a subject, oldest first."""
        return self._past.about(subject)

    def until(self, instant: datetime, fetched: Iterable[Entry] = ()) -> tuple[Entry, ...]:
        """The standing entries of what happened up to an instant, and all of the settings.

        At their corrected times, so that the corrections themselves are left out. ``fetched`` are
        entries from the archive that belong among them.
        """
        old = tuple(fetched)
        return tuple(
            entry
            for entry in (standing(together(self.entries, old)) if old else self.standing)
            if (entry.at <= instant or isinstance(entry.event, ShopSet))
            and not isinstance(entry.event, TimeCorrected)
        )

    @property
    def repository(self) -> Repository:
        """Where the history is kept."""
        return self._repository

    def restore(self, copy: Backup) -> Restored:
        """Go by what a copy of the store holds, which is put in the store's place.

        Raises ``StoreError`` as :meth:`record`; how things stand is then what the disk says.
        """
        self._make_ready()
        try:
            return self._repository.restore(copy, self.now())
        finally:
            self._read_again()

    def go_by(self, past: History, state: ShopState, repository: Repository | None = None) -> None:
        """Go by a history that was read and folded elsewhere, from another repository or this."""
        self._past, self._state, self.doubt = past, state, ""
        if repository is not None and repository is not self._repository:
            self._repository.close()
            self._repository = repository
        self.version += 1

    def close(self) -> None:
        """Let go of the store."""
        self._repository.close()
