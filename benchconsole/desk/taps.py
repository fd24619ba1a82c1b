"""Past taps at the desk: looked through, taken back, put back, their times corrected."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta

from benchconsole.desk.ledger import Ledger
from benchconsole.desk.standing_fast import refuse_archived
from benchconsole.desk.tap_lines import TapLine, TapLines
from benchconsole.desk.typed_past import read_past
from benchconsole.desk.words import moment_words
from benchconsole.errors import BadInput, NotKnown, NotPossibleNow
from benchconsole.model.events import (
    Entry,
    Event,
    HideEvent,
    LiquorMade,
    LotSplit,
    Redone,
    RouteChanged,
    TimeCorrected,
    TimerExtended,
    TimerPaused,
    TimerResumed,
    TimerSet,
    Undone,
    subjects_of,
)
from benchconsole.model.history import History
from benchconsole.model.record import Record
from benchconsole.model.retiming import room_for
from benchconsole.model.state import ShopState, after
from benchconsole.model.taking_back import falls, last_taking, puts_back

_TIMED = HideEvent | LiquorMade | TimerSet | TimerPaused | TimerResumed | TimerExtended
_LONGEST_AGO = timedelta(days=3653)
_MINUTE = timedelta(minutes=1)


class Change(Record, frozen=True, kw_only=True):
    """What taking back or putting back comes to, before it is done.

    ``lines`` are the taps it changes, the newest first; of those ``in_part`` (a round) only what
    concerns the hides named beside their number. ``beyond``: it goes further than the tap that
    was asked about, or what fell with that. ``version`` is the desk's when it was asked.
    """

    events: tuple[Undone, ...] | tuple[Redone, ...]
    lines: tuple[TapLine, ...]
    in_part: dict[int, str]
    beyond: bool
    version: int


class Room(Record, frozen=True, kw_only=True):
    """When a tap may have happened: ``earliest`` and ``latest`` included, both aware, UTC."""

    line: TapLine
    earliest: datetime
    latest: datetime


class Taps:
    """The part of the desk that knows what was tapped.

    :meth:`take_back` and :meth:`put_back` do what :meth:`falls` and :meth:`comes_back` told.
    """

    def __init__(self, ledger: Ledger) -> None:
        self._ledger = ledger
        self._lines = TapLines(ledger)

    # --- views --------------------------------------------------------------------

    def numbers(self, hide: str = "") -> tuple[int, ...]:
        """The taps there are, newest first; those about a hide only, and its lot before it."""
        return self._lines.numbers(hide)

    def name(self, hide: str) -> str:
        """What a hide is called, or was while it was there."""
        return self._lines.name(f"hide/{hide}")

    def line(self, tap: int) -> TapLine:
        """A tap as a line; ``NotKnown`` if there is none."""
        self._written(tap)
        return self._lines.line(tap)

    def falls(self, tap: int) -> Change:
        """What taking back a tap takes back with it; ``NotPossibleNow`` if it does not stand."""
        refuse_archived(self._ledger.state, (entry.event for entry in self._written(tap)))
        events = falls(self._ledger.past, tap)
        if not events:
            raise NotPossibleNow("It was taken back before: press F2 to put it back.")
        return self._change(events, beyond=len(events) > 1)

    def comes_back(self, tap: int) -> Change:
        """What putting back a tap puts back with it.

        ``NotPossibleNow`` if it stands, or what it is about has gone on since.
        """
        taken = [self._ledger.past.taken_by.get(entry.seq) for entry in self._written(tap)]
        taking = max((each for each in taken if each is not None), default=None)
        if taking is None:
            raise NotPossibleNow("It counts: there is nothing to put back.")
        return self._putting_back(taking)

    def room(self, tap: int) -> Room:
        """Between which times a tap may have happened; ``NotPossibleNow`` if none can be said."""
        entries = self._timed(tap)
        earliest, latest = room_for(self._ledger.standing, tap)
        now = self._ledger.now()
        earliest = earliest or min(entries[0].at, entries[0].recorded) - _LONGEST_AGO
        return Room(
            line=self._lines.line(tap),
            earliest=earliest,
            latest=min(latest, now) if latest else now,
        )

    # --- intents ------------------------------------------------------------------

    def take_back(self, change: Change) -> str:
        """Do what :meth:`falls` told, as one tap; the sentence to show."""
        self._record(change)
        return f"Taken back: {self._told(change)}"

    def put_back(self, change: Change) -> str:
        """Do what :meth:`comes_back` told, as one tap; the sentence to show."""
        self._record(change)
        return f"Put back: {self._told(change)}"

    def put_back_last(self, subject: str) -> str:
        """Put back what was last taken back about a subject (``hide/ID``...); the sentence.

        ``NotPossibleNow`` if there is nothing, if it has gone on since, or if what was taken back
        later about something else would have to come back first.
        """
        taking = last_taking(self._ledger.past, subject)
        if taking is None:
            raise NotPossibleNow("There is nothing to put back.")
        others = puts_back(self._ledger.past, taking).taken_by[:-1]
        if others:
            about = self._lines.about(self._ledger.past.of_tap(others[0]))
            raise NotPossibleNow(
                f"{about}: what was taken back there later has to be put back first, there or in "
                "the history (F4)."
            )
        return self.put_back(self._putting_back(taking))

    def correct_time(self, tap: int, text: str) -> str:
        """Say when a tap really happened, as typed ("14:10", "20 min earlier"); the sentence.

        ``BadInput`` for a time that cannot be read or does not lie in :meth:`room`;
        ``NotPossibleNow`` for a tap that was taken back or whose time counts for nothing.
        """
        ledger, entries = self._ledger, self._timed(tap)
        room, was = self.room(tap), entries[0].at
        moments = read_past(text, was=was, now=ledger.now(), zone=ledger.zone)
        fits = [at for at in moments if room.earliest < at + _MINUTE and at <= room.latest]
        if not fits:
            raise self._out_of_room(room)
        # A time is typed to the minute; in the minute of the tap before it comes just after it.
        at = max(min(fits, key=lambda each: abs(each - was)), room.earliest)
        words = moment_words(at, ledger.zone)
        if at.replace(second=0, microsecond=0) == was.replace(second=0, microsecond=0):
            return f"{room.line.about}: it is {words} already, nothing was changed"
        # Also about a hide whose share of a round was taken back: it cannot come back unchecked.
        written = ledger.past.of_tap(tap)
        about = (subject for entry in written for subject in subjects_of(entry.event))
        named = tuple(dict.fromkeys(each for each in about if not each.startswith("weigh-out/")))
        ledger.record([TimeCorrected(tap=tap, at=at, about=named)])
        return f"{room.line.about}: {room.line.words}: now {words}"

    # --- the parts they share -----------------------------------------------------

    def _written(self, tap: int) -> tuple[Entry, ...]:
        entries = self._ledger.past.of_tap(tap)
        if not entries or isinstance(entries[0].event, Undone | Redone):
            raise NotKnown("tap", str(tap))
        return entries

    def _timed(self, tap: int) -> tuple[Entry, ...]:
        """The standing entries of a tap whose time can be corrected."""
        self._written(tap)
        entries = self._ledger.past.standing_of(tap)
        if not entries:
            raise NotPossibleNow("It was taken back: its time counts for nothing.")
        if isinstance(entries[0].event, TimeCorrected):
            raise NotPossibleNow(
                "This is a correction itself: correct the time of what it is about once more."
            )
        if not all(isinstance(entry.event, _TIMED) for entry in entries):
            raise NotPossibleNow("Nothing depends on when this was tapped: no time to correct.")
        hides = {subject for entry in entries for subject in subjects_of(entry.event)}
        for entry in self._ledger.past.since(tap):
            event = entry.event
            if isinstance(event, LotSplit) and f"hide/{event.hide}" in hides:
                hides.add(f"hide/{event.new_hide}")
            if isinstance(event, RouteChanged) and f"hide/{event.hide}" in hides:
                name = self._lines.name(f"hide/{event.hide}")
                raise NotPossibleNow(
                    f"{name} was moved to another route since, with the times as they were: take "
                    "that back first, correct this time, then move it again."
                )
        return entries

    def _out_of_room(self, room: Room) -> BadInput | NotPossibleNow:
        zone = self._ledger.zone
        earliest, latest = (moment_words(at, zone) for at in (room.earliest, room.latest))
        if room.latest < room.earliest:
            return NotPossibleNow(
                f"{room.line.about}: what was tapped before and after it leaves no other time."
            )
        middle = room.earliest + (room.latest - room.earliest) / 2
        example = moment_words(max(middle, room.latest - timedelta(hours=1)), zone)
        return BadInput(
            "time",
            f"it must lie from {earliest} to {latest}, between what was tapped before and after it",
            example,
        )

    def _putting_back(self, taking: int) -> Change:
        back = puts_back(self._ledger.past, taking)
        if back.blocked_by is not None:
            about = self._lines.about([back.blocked_by])
            raise NotPossibleNow(
                f"{about} has gone on since ({self._lines.words([back.blocked_by])}): what was "
                "taken back before that cannot be put back."
            )
        return self._change(back.events, beyond=len(back.taken_by) > 1)

    def _change(self, events: tuple[Undone, ...] | tuple[Redone, ...], *, beyond: bool) -> Change:
        shares: dict[int, list[str]] = {}
        for event in events:
            if event.only:
                shares.setdefault(event.tap, []).append(self._lines.name(event.only))
        taps = sorted({event.tap for event in events}, reverse=True)
        return Change(
            events=events,
            lines=tuple(self._lines.line(tap) for tap in taps),
            in_part={tap: ", ".join(names) for tap, names in shares.items()},
            beyond=beyond,
            version=self._ledger.version,
        )

    def _record(self, change: Change) -> None:
        if change.version != self._ledger.version:
            raise NotPossibleNow("Something was tapped since you looked: look again, then tap.")
        self._refuse_two_weigh_outs(change.events)
        self._ledger.record(change.events)

    def _refuse_two_weigh_outs(self, events: Sequence[Event]) -> None:
        """Only one weigh-out can be on the scale."""
        about = {subject.partition("/")[0] for event in events for subject in subjects_of(event)}
        if "weigh-out" not in about:
            return
        entries = self._ledger.entries
        tap, seq, now = entries[-1].tap + 1, entries[-1].seq + 1, self._ledger.now()
        new = (
            Entry(seq=seq + place, tap=tap, at=now, recorded=now, event=event)
            for place, event in enumerate(events)
        )
        then = after(ShopState(), History((*entries, *new)).standing)
        left = [each for each in then.weigh_outs.values() if each.ended_at is None]
        before = [w for w in self._ledger.state.weigh_outs.values() if w.ended_at is None]
        if len(left) > max(len(before), 1):
            raise NotPossibleNow(
                f"Two weigh-outs would be unfinished, {left[0].plan.formula_name} and "
                f"{left[-1].plan.formula_name}: finish the one on the scale first, or give it up."
            )

    def _told(self, change: Change) -> str:
        """The taps of a change in a sentence, the first ones if they are many."""
        lines = change.lines
        told = [f"{line.about}: {line.words}" for line in lines[:2]]
        more = len(lines) - len(told)
        return "; ".join([*told, f"and {more} more"] if more else told)
