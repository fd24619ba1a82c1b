"""What counts of a history: what was taken back and put back, and when it really happened."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Mapping, Sequence
from operator import attrgetter

from benchconsole.model.events import (
    Entry,
    Redone,
    TimeCorrected,
    Undone,
    entries_of,
    subjects_of,
)
from benchconsole.model.retiming import retimed

_BACK_AND_FORTH = (Undone, Redone)
_ABOUT_TAPS = (Undone, Redone, TimeCorrected)
_tap_of = attrgetter("tap")


class History:
    """A history read once, which grows tap by tap.

    ``entries`` are all of it; ``standing`` those that count, at their corrected times.
    ``taken_by`` says of every entry that was taken back, by its ``seq``, which tap did it.
    """

    def __init__(self, entries: Iterable[Entry] = ()) -> None:
        self._read(tuple(entries))

    def _read(self, entries: tuple[Entry, ...]) -> None:
        self.entries = entries
        self.taken_by = taken_by(entries)
        self.standing = _standing(entries, self.taken_by)
        self._by_subject: dict[str, list[Entry]] | None = None

    def add(self, new: Sequence[Entry]) -> None:
        """One more tap, after all others."""
        if any(isinstance(entry.event, _ABOUT_TAPS) for entry in new):
            self._read((*self.entries, *new))
            return
        self.entries += tuple(new)
        self.standing += tuple(new)
        if self._by_subject is not None:
            _file(new, self._by_subject)

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
    """The entries that a taking back or putting back is about."""
    event = entry.event
    assert isinstance(event, _BACK_AND_FORTH), "only these are about other entries"
    for each in entries_of(entries, event.tap):
        ordinary = each.seq < entry.seq and not isinstance(each.event, _BACK_AND_FORTH)
        if ordinary and (not event.only or event.only in subjects_of(each.event)):
            yield each


def _standing(entries: tuple[Entry, ...], taken: Mapping[int, int]) -> tuple[Entry, ...]:
    counted = tuple(
        entry
        for entry in entries
        if entry.seq not in taken and type(entry.event) not in _BACK_AND_FORTH
    )
    return retimed(counted)


def _file(entries: Iterable[Entry], by_subject: dict[str, list[Entry]]) -> None:
    for entry in entries:
        about = subjects_of(entry.event)
        for subject in about if len(about) == 1 else dict.fromkeys(about):
            by_subject.setdefault(subject, []).append(entry)
