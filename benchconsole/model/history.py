"""What counts of a history: what was taken back and put back, and when it really happened."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Mapping, Sequence
from operator import attrgetter

from benchconsole.model.archiving import moved_out, with_returned
from benchconsole.model.events import (
    Entry,
    HidesArchived,
    HidesBroughtBack,
    Redone,
    TimeCorrected,
    Undone,
    entries_of,
    subjects_of,
)
from benchconsole.model.retiming import retimed

_BACK_AND_FORTH = (Undone, Redone)
_READ_ANEW = (Undone, Redone, TimeCorrected, HidesArchived, HidesBroughtBack)
_tap_of = attrgetter("tap")


class History:
    """A history read once, which grows tap by tap.

    ``written`` is all of it; ``entries`` what of it does not lie in the archive, whether or not it
    has left the log yet; ``standing`` those that count, at their corrected times.
    ``taken_by`` says of every entry that was taken back, by its ``seq``, which tap did it.
    """

    def __init__(self, entries: Iterable[Entry] = ()) -> None:
        self._read(tuple(entries))

    def _read(self, entries: tuple[Entry, ...]) -> None:
        self.written = self.entries = entries
        self.taken_by = taken_by(entries)
        self.standing = _standing(entries, self.taken_by)
        moved = {entry.seq for entry in moved_out(entries, self.standing)}
        if moved:
            self.entries = tuple(entry for entry in entries if entry.seq not in moved)
            self.taken_by = taken_by(self.entries)
            self.standing = _standing(self.entries, self.taken_by)
        self._by_subject: dict[str, list[Entry]] | None = None

    def add(self, new: Sequence[Entry]) -> None:
        """One more tap, after all others."""
        if any(isinstance(entry.event, _READ_ANEW) for entry in new):
            self._read((*self.written, *new))
            return
        is_all = self.written is self.entries
        self.entries += tuple(new)
        self.written = self.entries if is_all else (*self.written, *new)
        self.standing += tuple(new)
        if self._by_subject is not None:
            _file(new, self._by_subject)

    def is_really(self, last: Entry) -> None:
        """Take the last entry as it was written in the end; it says the same, at another time."""
        self.written = (*self.written[:-1], last)
        self.entries = (*self.entries[:-1], last)
        self.standing = (*self.standing[:-1], last)
        self._by_subject = None

    def about(self, subject: str) -> tuple[Entry, ...]:
        """The standing entries about a subject (``hide/ID``...), oldest first."""
        if self._by_subject is None:
            self._by_subject = {}
            _file(self.standing, self._by_subject)
        return tuple(self._by_subject.get(subject, ()))

    def last_tap(self, subject: str) -> int | None:
        """The latest standing tap about a subject, the one that undo takes back."""
        about = self.about(subject)
        return about[-1].tap if about else None

    def of_tap(self, tap: int) -> tuple[Entry, ...]:
        """The entries of a tap as they were written down; none if there is no such tap."""
        return tuple(entries_of(self.entries, tap))

    def standing_of(self, tap: int) -> tuple[Entry, ...]:
        """The entries of a tap that count, at their corrected times."""
        return tuple(entries_of(self.standing, tap))

    def since(self, tap: int) -> tuple[Entry, ...]:
        """The standing entries of the taps after one."""
        return self.standing[bisect_left(self.standing, tap + 1, key=_tap_of) :]


def standing(entries: Iterable[Entry]) -> tuple[Entry, ...]:
    """The entries that still count, at their corrected times.

    What was taken back is left out, and so are the taking back and the putting back.
    """
    kept = tuple(entries)
    return _standing(kept, taken_by(kept))


def last_tap(entries: Iterable[Entry], subject: str) -> int | None:
    """The latest standing tap about a subject (``hide/ID``...), the one that undo takes back."""
    return History(entries).last_tap(subject)


def taken_by(entries: Sequence[Entry]) -> Mapping[int, int]:
    """The entries that were taken back, by ``seq``, with the tap that did it, in their order.

    What is put back is not among them. Nothing takes back a taking back: it is put back instead.
    """
    taken: dict[int, int] = {}
    for entry in entries:
        kind = type(entry.event)
        if kind is Undone:
            for each in meant(entries, entry):
                taken.setdefault(each.seq, entry.tap)
        elif kind is Redone:
            for each in meant(entries, entry):
                taken.pop(each.seq, None)
    return taken


def meant(entries: Sequence[Entry], entry: Entry) -> Iterator[Entry]:
    """The entries that a taking back or putting back is about.

    Where it says what that is, nothing else of the tap is meant: of a tap that lay in part in the
    archive when it was taken back, that part was not.
    """
    event = entry.event
    assert isinstance(event, _BACK_AND_FORTH), "only these are about other entries"
    for each in entries_of(entries, event.tap):
        ordinary = each.seq < entry.seq and not isinstance(each.event, _BACK_AND_FORTH)
        if ordinary and _is_about(event, subjects_of(each.event)):
            yield each


def _is_about(event: Undone | Redone, subjects: tuple[str, ...]) -> bool:
    if event.only:
        return event.only in subjects
    return not event.about or any(subject in event.about for subject in subjects)


def _standing(entries: tuple[Entry, ...], taken: Mapping[int, int]) -> tuple[Entry, ...]:
    counted = tuple(
        entry
        for entry in entries
        if entry.seq not in taken and type(entry.event) not in _BACK_AND_FORTH
    )
    return with_returned(retimed(counted))


def _file(entries: Iterable[Entry], by_subject: dict[str, list[Entry]]) -> None:
    for entry in entries:
        about = subjects_of(entry.event)
        for subject in about if len(about) == 1 else dict.fromkeys(about):
            by_subject.setdefault(subject, []).append(entry)
