"""Moving finished hides to the archive, in steps of which only the quick ones touch the desk.

The order is the guarantee: the files of the years are safe before the tap that says what was moved,
and nothing leaves the history that is not read back from a file. Cut off anywhere, the next time
goes on from there. See DEVELOPERS.md.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta, tzinfo

from msgspec.structs import replace

from benchconsole.desk.archive import found_by
from benchconsole.desk.leaving import Leaving, leaving
from benchconsole.desk.ledger import Ledger, Shorter
from benchconsole.library import Library
from benchconsole.model.archive_events import HidesArchived, things_of
from benchconsole.model.archiving import Subjects
from benchconsole.model.events import Entry
from benchconsole.model.history import History

SETTLED = timedelta(seconds=20)
"""How long after the opening a person is left to themselves first. Our own choice."""
EVERY = timedelta(days=1)


@dataclass(frozen=True, kw_only=True)
class Asked:
    """The shop as it was when it was asked what is ready to go."""

    entries: tuple[Entry, ...]
    now: datetime
    zone: tzinfo
    library: Library

    def leaving(self) -> Leaving:
        """What is ready; pure, and a second's work for ten thousand taps at most."""
        return leaving(
            self.entries,
            self.now,
            self.zone,
            lambda hide, notes: found_by(self.library, hide, notes),
        )


@dataclass(frozen=True, kw_only=True)
class Laid:
    """What lies in the files of its years now, and the history that follows when it is noted."""

    asked: Asked
    event: HidesArchived
    keys: Mapping[int, Collection[str]]
    then: History


class MovingOut:
    """The steps, to be taken in this order: ask, lay, record; then shorter, shorten.

    ``lay`` and ``shorter`` are slow and may be done in another thread.
    """

    def __init__(self, ledger: Ledger) -> None:
        self._ledger = ledger
        self._next: datetime | None = None

    def is_due(self) -> bool:
        """Whether it is time to see what goes: soon after the opening, and then every day.

        Never where the shop is only looked at, or it is not known what its store holds.
        """
        ledger, now = self._ledger, self._ledger.now()
        if ledger.only_looks or ledger.doubt or not ledger.entries:
            return False
        if self._next is None:
            self._next = now + SETTLED
        return now >= self._next or self._next - now > EVERY

    def go_on_soon(self) -> None:
        """More is ready than went at once, or a tap came in between: do not wait for a day."""
        self._next = self._ledger.now() + SETTLED

    def ask(self) -> Asked:
        """Take a picture of the shop; it is due again in a day."""
        ledger = self._ledger
        self._next = ledger.now() + EVERY
        return Asked(
            entries=ledger.past.written, now=ledger.now(), zone=ledger.zone, library=ledger.library
        )

    def lay(self, asked: Asked, goes: Leaving) -> Laid:
        """Put what goes into the files of its years. Raises ``StoreError``."""
        began = self._ledger.began
        assert began is not None, "where something goes, something was"
        self._ledger.archive.put(goes.parcels, began)
        keys: dict[int, set[str]] = {}
        for parcel in goes.parcels:
            keys.setdefault(parcel.year, set()).add(parcel.key)
        last = asked.entries[-1]
        entry = replace(last, seq=last.seq + 1, tap=last.tap + 1, at=asked.now, event=goes.event)
        return Laid(asked=asked, event=goes.event, keys=keys, then=History((*asked.entries, entry)))

    def record(self, laid: Laid) -> bool:
        """Note what was moved; False if something was noted of it since it was asked for.

        Raises ``StoreError``; nothing was moved then.
        """
        entries, known = self._ledger.past.written, len(laid.asked.entries)
        if entries is not laid.asked.entries:
            moved = set(things_of(laid.event))
            subjects = Subjects(entries)
            late = (set(subjects.of(entry)) for entry in entries[known:])
            if entries[:known] != laid.asked.entries or not all(map(moved.isdisjoint, late)):
                return False
        self._ledger.record_moved(laid.event, laid.then)
        return True

    def shorter(self, laid: Laid | None = None) -> Shorter | None:
        """The history without what the archive holds, laid ready; None if nothing is to leave it.

        ``laid`` says where to look for it; else all years are searched. Raises ``StoreError``.
        """
        ledger = self._ledger
        past = ledger.past
        here = {entry.seq for entry in past.entries}
        moved = tuple(entry for entry in past.written if entry.seq not in here)
        if not moved:
            return None
        lacking = ledger.archive.lacks(moved, laid.keys if laid else None)
        without = {entry.seq for entry in moved} - lacking
        return ledger.shorter(past, without) if without else None

    def shorten(self, shorter: Shorter) -> bool:
        """Go on with the shorter history; False if something was tapped meanwhile.

        Raises ``StoreError``, and the history stays as it was.
        """
        return self._ledger.shorten(shorter)

    def all(self) -> int:
        """Every step until nothing is left to go; how many hides were moved.

        Raises ``StoreError``.
        """
        count = 0
        while not (goes := (asked := self.ask()).leaving()).is_empty:
            if not self.record(self.lay(asked, goes)):
                break
            count += len(goes.event.hides)
        if (shorter := self.shorter()) is not None:
            self.shorten(shorter)
        return count
