"""Timers at the desk: own ones, and the waits between coats."""

from __future__ import annotations

from datetime import timedelta

from benchconsole.desk.ids import next_id, timer_ids_used
from benchconsole.desk.ledger import Ledger
from benchconsole.desk.typed_lines import NAME_LONGEST, checked_line
from benchconsole.desk.words import tap_words
from benchconsole.errors import BadInput, NotKnown, NotPossibleNow
from benchconsole.model.events import (
    TimerAcknowledged,
    TimerCancelled,
    TimerExtended,
    TimerNamed,
    TimerPaused,
    TimerResumed,
    TimerSet,
)
from benchconsole.model.state import TimerState
from benchconsole.quantities import read_duration
from benchconsole.schedule import Countdown, countdowns

LONGEST = timedelta(days=400)


class Timers:
    """The part of the desk that counts down."""

    def __init__(self, ledger: Ledger) -> None:
        self._ledger = ledger

    def all(self) -> tuple[Countdown, ...]:
        """Every countdown, ringing ones first, then the soonest."""
        ledger = self._ledger
        return countdowns(ledger.state, ledger.library.routes, ledger.now())

    def set(self, name: str, duration: str) -> str:
        """Start a timer; the sentence to show. ``BadInput`` for a bad name or time."""
        words = checked_line("name", name, NAME_LONGEST, "warm water")
        span = self._span(duration)
        used = timer_ids_used(self._ledger.entries)
        self._ledger.record(
            [TimerSet(timer=next_id("t", used), name=words, ends_at=self._ledger.now() + span)]
        )
        return f"Timer “{words}” runs"

    def newest(self) -> str:
        """The id of the timer that was set last, empty if none ever was."""
        ids = [e.event.timer for e in self._ledger.entries if isinstance(e.event, TimerSet)]
        return ids[-1] if ids else ""

    def extend(self, timer_id: str, duration: str) -> str:
        """Give a timer more time: from its end, or from now if it has ended."""
        timer = self._own(timer_id)
        span = self._span(duration)
        if timer.ends_at is None:
            left = self._bounded(timedelta(seconds=timer.left_s or 0.0) + span)
            self._ledger.record([TimerPaused(timer=timer.id, left_s=left.total_seconds())])
            return f"Timer “{timer.name}” has more time"
        now = self._ledger.now()
        left = self._bounded(max(timer.ends_at - now, timedelta(0)) + span)
        self._ledger.record([TimerExtended(timer=timer.id, ends_at=now + left)])
        return f"Timer “{timer.name}” has more time"

    def pause_or_go_on(self, timer_id: str) -> str:
        """Hold a running timer, or let a paused one run."""
        timer = self._own(timer_id)
        now = self._ledger.now()
        if timer.ends_at is None:
            ends = now + timedelta(seconds=timer.left_s or 0.0)
            self._ledger.record([TimerResumed(timer=timer.id, ends_at=ends)])
            return f"Timer “{timer.name}” goes on"
        if timer.ends_at <= now:
            raise NotPossibleNow(f"Timer “{timer.name}” has ended: extend it, or acknowledge it.")
        left = (timer.ends_at - now).total_seconds()
        self._ledger.record([TimerPaused(timer=timer.id, left_s=left)])
        return f"Timer “{timer.name}” is paused"

    def rename(self, timer_id: str, name: str) -> str:
        """Give a timer another name."""
        timer = self._own(timer_id)
        words = checked_line("name", name, NAME_LONGEST, "warm water")
        self._ledger.record([TimerNamed(timer=timer.id, name=words)])
        return f"Timer “{timer.name}” is now called “{words}”"

    def cancel(self, timer_id: str) -> str:
        """Take a timer away."""
        timer = self._own(timer_id)
        self._ledger.record([TimerCancelled(timer=timer.id)])
        return f"Timer “{timer.name}” cancelled"

    def acknowledge(self, timer_id: str) -> str:
        """Somebody heard it; ``NotPossibleNow`` if it does not ring."""
        for countdown in self.all():
            if countdown.id == timer_id:
                if countdown.state != "ringing":
                    raise NotPossibleNow(f"“{countdown.name}” does not ring.")
                self._ledger.record([TimerAcknowledged(timer=timer_id)])
                return f"“{countdown.name}” heard"
        raise self._not_known(timer_id)

    def undo(self, timer_id: str) -> str:
        """Take back the last tap about a timer, also of one cancelled; the sentence to show."""
        return f"Taken back: {tap_words(self._ledger.undo(f'timer/{timer_id}'))}"

    def _own(self, timer_id: str) -> TimerState:
        timer = self._ledger.state.timers.get(timer_id)
        if timer is not None:
            return timer
        if any(countdown.id == timer_id for countdown in self.all()):
            raise NotPossibleNow("A wait between coats belongs to its hide; act on the hide.")
        raise self._not_known(timer_id)

    def _not_known(self, timer_id: str) -> NotKnown:
        return NotKnown("timer", timer_id, tuple(countdown.id for countdown in self.all()))

    def _span(self, duration: str) -> timedelta:
        return self._bounded(read_duration(duration, field="time"))

    def _bounded(self, span: timedelta) -> timedelta:
        if span > LONGEST:
            raise BadInput("time", "longer than 400 days", "45 min")
        return span
