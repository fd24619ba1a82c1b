"""Taps of the history as lines to read: when, about what, in words, and whether they count."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import Literal

from benchconsole.desk.ledger import Ledger
from benchconsole.desk.naming import NAMING, names_given, routes_given
from benchconsole.desk.story import lineage_of
from benchconsole.desk.words import event_words, tap_words
from benchconsole.model.events import (
    Entry,
    LotSplit,
    Redone,
    TimeCorrected,
    Undone,
    subjects_of,
)
from benchconsole.model.record import Record
from benchconsole.model.routes import Route

Counts = Literal["yes", "in part", "no"]


class TapLine(Record, frozen=True, kw_only=True):
    """A tap as a line of the history.

    ``at`` is when it happened by what is known now, ``recorded`` when it was written down.
    ``about`` names what it is about, ``words`` say what happened. ``counts``: "no" after it was
    taken back, at ``taken_back_at``; "in part" where one hide's share of a round was.
    """

    tap: int
    at: datetime
    recorded: datetime
    about: str
    words: str
    counts: Counts
    taken_back_at: datetime | None = None


class TapLines:
    """The lines of all taps, each worked out when it is asked for."""

    def __init__(self, ledger: Ledger) -> None:
        self._ledger = ledger
        self._version = -1
        self._names: dict[str, str] = {}
        self._routes: dict[str, list[tuple[int, str]]] = {}
        self._lines: dict[int, TapLine] = {}

    def numbers(self, hide: str = "") -> tuple[int, ...]:
        """The taps there are, newest first: all, or those about a hide and its lot before it.

        The taking back and the putting back are not among them, what was taken back is.
        """
        entries = self._ledger.entries
        kept: Iterable[Entry] = (e for e in entries if type(e.event) not in (Undone, Redone))
        if hide:
            kin = {f"hide/{name}": before for name, before in lineage_of(self._ledger, hide)}
            kept = (
                entry
                for entry in kept
                if any(entry.seq < kin.get(subject, 0) for subject in subjects_of(entry.event))
            )
        return tuple(dict.fromkeys(entry.tap for entry in kept))[::-1]

    def line(self, tap: int) -> TapLine:
        """A tap as it stands; it must be one of :meth:`numbers`."""
        self._look()
        if tap not in self._lines:
            self._lines[tap] = self._line(tap)
        return self._lines[tap]

    def about(self, entries: Sequence[Entry]) -> str:
        """The names of what entries are about: a hide, several, a timer, a formula, the shop."""
        self._look()
        subjects = dict.fromkeys(s for entry in entries for s in subjects_of(entry.event))
        hides = [subject for subject in subjects if subject.startswith("hide/")]
        if len(hides) > 1:
            return f"{len(hides)} hides: {', '.join(map(self.name, hides))}"
        return self.name(hides[0] if hides else next(iter(subjects), "shop"))

    def name(self, subject: str) -> str:
        """What a person calls a subject (``hide/ID``...)."""
        self._look()
        kind, _, name = subject.partition("/")
        if kind == "hide" and name in self._ledger.state.hides:
            return self._ledger.state.hides[name].name
        if subject in self._names:
            return self._names[subject]
        if kind == "timer" and name.startswith("coat/"):
            return self.name(f"hide/{name.split('/')[1]}")
        return {"shop": "shop", "liquor": f"liquor {name}"}.get(kind, name)

    def words(self, entries: Sequence[Entry]) -> str:
        """What the events of a tap say together."""
        first, zone = entries[0], self._ledger.zone
        if isinstance(first.event, TimeCorrected):
            corrected = self._ledger.past.of_tap(first.event.tap)
            of_what = f" ({self.words(corrected)})" if corrected else ""
            return f"{event_words(first.event, None, zone)}{of_what}"
        return tap_words([entry.event for entry in entries], self._route_of(first), zone)

    # --- the parts they share -----------------------------------------------------

    def _line(self, tap: int) -> TapLine:
        past = self._ledger.past
        written, standing = past.of_tap(tap), past.standing_of(tap)
        entries = standing or written
        counts: Counts = "yes" if len(standing) == len(written) else "in part"
        taken = max((past.taken_by.get(entry.seq, 0) for entry in written), default=0)
        return TapLine(
            tap=tap,
            at=entries[0].at,
            recorded=written[0].recorded,
            about=self.about(entries),
            words=self.words(entries),
            counts=counts if standing else "no",
            taken_back_at=past.of_tap(taken)[0].at if taken else None,
        )

    def _route_of(self, entry: Entry) -> Route | None:
        """The route that the hide of an entry was on then."""
        hide = getattr(entry.event, "hide", "")
        on = [route for seq, route in self._routes.get(hide, ()) if seq <= entry.seq]
        return self._ledger.library.routes.get(on[-1]) if on else None

    def _look(self) -> None:
        """Learn all names and routes there ever were, once after each tap."""
        if self._version == self._ledger.version:
            return
        self._version = self._ledger.version
        self._names, self._routes, self._lines = {}, {}, {}
        for entry in self._ledger.entries:
            event = entry.event
            if type(event) not in NAMING:
                continue
            self._names.update(names_given(event))
            for hide, route in routes_given(event):
                self._routes.setdefault(hide, []).append((entry.seq, route))
            if isinstance(event, LotSplit):
                before = self._routes.get(event.hide, ())
                self._routes.setdefault(event.new_hide, []).extend(before)
