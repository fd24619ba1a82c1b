"""Laws of beginnings near closing and of closed days, for any hours and any hide."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.model.events import Attended, Entry, Event, HideTakenIn, StageBegun
from benchconsole.model.routes import Attention, CoatWaits, Hold, Route, Stage
from benchconsole.model.shop import OpenSpan
from benchconsole.model.state import HideState, fold
from benchconsole.schedule.hours import Hours
from benchconsole.schedule.next_action import next_action
from benchconsole.schedule.presence import time_there

T0 = datetime(2026, 3, 2, tzinfo=UTC)
"""A Monday, at midnight."""

DAY = timedelta(days=1)


def _minutes(low: int, high: int) -> st.SearchStrategy[timedelta]:
    return st.integers(low, high).map(lambda minutes: timedelta(minutes=minutes))


@st.composite
def _hours(draw: st.DrawFn) -> Hours:
    """Some weekdays by day, each with its own hours, and a holiday or two."""
    spans = [
        OpenSpan(weekday=weekday, opens=time(draw(st.integers(6, 12))), closes=time(closes))
        for weekday in draw(st.sets(st.integers(0, 6), min_size=1))
        for closes in [draw(st.integers(13, 21))]
    ]
    return Hours(spans, draw(st.sets(st.dates(date(2026, 3, 1), date(2026, 3, 20)))), UTC)


def _route(stage: Stage) -> Route:
    return Route(id="r", name="R", purpose="", species=(), stages=(stage,), sources=())


def _hide(at: datetime, *events: tuple[datetime, Event]) -> HideState:
    came = HideTakenIn(hide="h", name="H", species="deer", route="r", stage="s", came="green")
    entries = [
        Entry(seq=place, tap=place, at=when, recorded=when, event=event)
        for place, (when, event) in enumerate([(at, came), *events], start=1)
    ]
    return fold(entries).hides["h"]


@settings(max_examples=200, deadline=None)
@given(
    hours=_hours(),
    arrived=_minutes(0, 10000),
    soon=_minutes(0, 6000),
    work=_minutes(1, 200),
    wait=_minutes(1, 60),
    target=_minutes(0, 240),
)
def test_a_beginning_ends_before_closing_whenever_any_open_time_has_the_room(
    hours: Hours,
    arrived: timedelta,
    soon: timedelta,
    work: timedelta,
    wait: timedelta,
    target: timedelta,
) -> None:
    """Due plus the time there is not past closing, or no opening up to the latest has room."""
    stage = Stage(
        id="s",
        name="S",
        do="Do it.",
        work=work,
        late="",
        soon=soon,
        coats=CoatWaits(count=2, wait_min=wait, wait_target=wait, wait_max=wait),
        hold=(Hold(min=timedelta(0), target=target, max=target),),
    )
    there = time_there(stage, "deer")
    hide = _hide(T0 + arrived)
    action = next_action(hide, _route(stage), hours=hours, now=T0 + arrived)
    assert action.latest is not None
    closes = hours.open_until(action.due)
    if closes is not None and action.due + there <= closes:
        assert "somebody" not in action.why.casefold()
        return
    assert "somebody must" in action.why.casefold()
    for days in range(-1, 6):
        for opens, shuts in hours.openings_on((action.earliest + days * DAY).date()):
            begin = max(opens, action.earliest)
            assert begin > action.latest or begin + there > shuts


@settings(max_examples=150, deadline=None)
@given(
    hours=_hours(),
    begun=_minutes(0, 4000),
    every=_minutes(15, 600),
    more=_minutes(0, 1200),
)
def test_a_closed_day_asks_for_one_visit_at_most(
    hours: Hours, begun: timedelta, every: timedelta, more: timedelta
) -> None:
    """However often a hide wants tending: given when due, it is due once on a closed day."""
    tend = Attention(do="Turn it.", every=every, at_most=every + more)
    long = 60 * DAY
    hold = Hold(min=long, target=long, max=long)
    stage = Stage(
        id="s", name="S", do="Do it.", work=timedelta(0), late="", hold=(hold,), attend=(tend,)
    )
    at = T0 + begun
    events: list[tuple[datetime, Event]] = [(at, StageBegun(hide="h", stage="s"))]
    visits: list[date] = []
    while at < T0 + 12 * DAY:
        hide = _hide(T0, *events[:1], *events[1:][-1:])
        action = next_action(hide, _route(stage), hours=hours, now=at)
        if hours.is_open(action.due):
            # As late as the shop is open that day, so that nights and closed days begin seen to.
            at = hours.last_with_room(action.due + DAY, timedelta(0), action.due) or action.due
        else:
            at = action.due
            opening = hours.next_open(action.earliest)
            assert opening is None or action.latest is None or action.latest < opening
            if not hours.openings_on(at.date()):
                visits.append(at.date())
        events.append((at, Attended(hide="h", stage="s", attention=0)))
    assert sorted(set(visits)) == visits
