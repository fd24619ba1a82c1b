"""Taps of any log in a person's words, also of one that is not the desk's own."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import tzinfo

from benchconsole.desk.naming import names_given, routes_given
from benchconsole.desk.words import event_words, tap_words
from benchconsole.model.events import (
    Event,
    HidesArchived,
    LotSplit,
    Redone,
    TimeCorrected,
    Undone,
    subjects_of,
)
from benchconsole.model.routes import Route
from benchconsole.store.holdings import Tap

_ABOUT_TAPS = (Undone, Redone, TimeCorrected)


def told_taps(
    taps: Iterable[Tap], *, all_taps: Iterable[Tap], routes: Mapping[str, Route], zone: tzinfo
) -> tuple[tuple[Tap, str], ...]:
    """Taps with what each did: ``Brown goat: “Alum bath” begun with liquor L1``.

    ``all_taps`` are those of the whole log that they are part of, in order, of each number the
    last; names and routes are those that stood when the tap was made.
    """
    wanted, every = tuple(taps), tuple(all_taps)
    if not wanted:
        return ()
    numbers = _with_those_they_name({tap.number for tap in wanted}, every)
    known = _Known(routes, zone)
    for tap in every:
        known.learn(tap.events)
        if tap.number in numbers:
            known.said[tap.number] = known.told(tap.events)
    return tuple((tap, known.said.get(tap.number, "")) for tap in wanted)


def _with_those_they_name(numbers: set[int], every: Sequence[Tap]) -> set[int]:
    """The numbers of taps and of those they took back, put back or corrected the time of."""
    for tap in reversed(every):
        if tap.number in numbers:
            numbers |= {event.tap for event in tap.events if isinstance(event, _ABOUT_TAPS)}
    return numbers


class _Known:
    """What is known of names when a tap is told: it grows as the taps go by."""

    def __init__(self, routes: Mapping[str, Route], zone: tzinfo) -> None:
        self._routes = routes
        self._zone = zone
        self._names: dict[str, str] = {}
        self._route_of: dict[str, str] = {}
        self.said: dict[int, str] = {}

    def learn(self, events: Sequence[Event]) -> None:
        """Take in what a tap gives a name to."""
        for event in events:
            self._names.update(names_given(event))
            self._route_of.update(routes_given(event))
            if isinstance(event, LotSplit):
                self._route_of[event.new_hide] = self._route_of.get(event.hide, "")

    def told(self, events: Sequence[Event]) -> str:
        """What a tap did, and to what."""
        if not events:
            return "something that this version cannot read"
        first = events[0]
        if isinstance(first, _ABOUT_TAPS):
            what = self.said.get(first.tap, "something before these")
            return f"{event_words(first, None, self._zone)}: {what}"
        if isinstance(first, HidesArchived):
            return event_words(first, None, self._zone)
        subject = next(iter(subjects_of(first)), "shop")
        kind, _, name = subject.partition("/")
        route = self._routes.get(self._route_of.get(name, "")) if kind == "hide" else None
        words = tap_words(events, route, self._zone)
        whom = self._names.get(subject, name if kind == "hide" else "")
        if len({each for event in events for each in subjects_of(event)[:1]}) > 1:
            whom = ""  # a round is told by how many hides it was for
        return words if not whom or whom in words else f"{whom}: {words}"
