"""Corrected times: what was worked out from a time follows it, as if it had been right at once."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.model.events import (
    Entry,
    Event,
    NoteWritten,
    TimeCorrected,
    TimerExtended,
    TimerPaused,
    TimerResumed,
    TimerSet,
)
from benchconsole.model.history import standing
from benchconsole.model.state import TimerState, fold

START = datetime(2026, 3, 1, 8, tzinfo=UTC)


def entry(place: int, at: datetime, event: Event) -> Entry:
    """The only entry of a tap."""
    return Entry(seq=place, tap=place, at=at, recorded=at, event=event)


def tapped(timer: TimerState | None, act: str, span: timedelta, at: datetime) -> Event:
    """What a person's tap on a timer writes down, worked out from how the timer stands."""
    if timer is None:
        return TimerSet(timer="t1", name="turn", ends_at=at + span)
    if act == "extend" and timer.ends_at is not None:
        return TimerExtended(timer="t1", ends_at=max(timer.ends_at, at) + span)
    left = timedelta(seconds=timer.left_s or 0.0)
    if act == "extend":
        return TimerPaused(timer="t1", left_s=(left + span).total_seconds())
    if timer.ends_at is None:
        return TimerResumed(timer="t1", ends_at=at + left)
    return TimerPaused(timer="t1", left_s=max(timer.ends_at - at, timedelta(0)).total_seconds())


class Course:
    """A person tapping on one timer, the desk reading the history afresh before each tap."""

    def __init__(self) -> None:
        self.history: tuple[Entry, ...] = ()

    def tap(self, act: str, span: int, minute: int) -> int:
        """One tap at a minute; its number."""
        at = START + timedelta(minutes=minute)
        timer = fold(self.history).timers.get("t1")
        return self.add(at, tapped(timer, act, timedelta(minutes=span), at))

    def correct(self, tap: int, minute: int) -> None:
        """The tap happened at that minute."""
        at = START + timedelta(minutes=minute)
        self.add(START, TimeCorrected(tap=tap, at=at, about=("timer/t1",)))

    def add(self, at: datetime, event: Event) -> int:
        """Write it down."""
        place = len(self.history) + 1
        self.history = (*self.history, entry(place, at, event))
        return place


minutes = st.integers(0, 600)
acts = st.lists(
    st.tuples(
        st.sampled_from(("pause or go on", "extend")),
        st.integers(1, 90),
        minutes,
        minutes,
        st.booleans(),
    ),
    min_size=1,
    max_size=6,
)


@settings(max_examples=200, deadline=None)
@given(acts=acts)
def test_a_timer_runs_as_if_its_taps_had_been_timed_right(
    acts: list[tuple[str, int, int, int, bool]],
) -> None:
    """Set, paused, gone on, extended, corrected now or later: it stands as by the true times.

    The true course is worked out by tapping at the true times, without any correction.
    """
    corrected, straight = Course(), Course()
    written = sorted(act[2] for act in acts)
    true = sorted(act[3] for act in acts)
    wrong: list[tuple[int, int]] = []
    for place, (act, span, _, _, mends) in enumerate(acts):
        wrong.append((corrected.tap(act, span, written[place]), true[place]))
        straight.tap(act, span, true[place])
        if mends or place == len(acts) - 1:
            for tap, minute in wrong:
                corrected.correct(tap, minute)
            wrong = []
    assert fold(straight.history).timers == fold(corrected.history).timers


def test_a_correction_moves_its_tap_alone() -> None:
    """All events of the tap are moved and no other; when they were written down stays."""
    notes = [NoteWritten(hide=hide, text="turned") for hide in ("h1", "h2")]
    before = tuple(
        Entry(seq=seq, tap=tap, at=START, recorded=START, event=event)
        for seq, tap, event in ((1, 1, notes[0]), (2, 2, notes[0]), (3, 2, notes[1]))
    )
    earlier = START - timedelta(hours=5)
    history = (*before, entry(4, START, TimeCorrected(tap=2, at=earlier)))
    assert [START, earlier, earlier, START] == [each.at for each in standing(history)]
    assert [START] * 4 == [each.recorded for each in standing(history)]
    assert [e.event for e in history] == [e.event for e in standing(history)]
