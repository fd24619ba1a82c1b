"""Laws that hold for any route, any hours and any history of acts."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta

from dateutil import tz
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.model.events import Entry, Event, HideTakenIn
from benchconsole.model.routes import Attention, Check, CoatWaits, Hold, Route, Stage
from benchconsole.model.shop import OpenSpan
from benchconsole.model.state import HideState, ShopState, fold
from benchconsole.schedule.actions import Action
from benchconsole.schedule.countdowns import countdowns
from benchconsole.schedule.day_sheet import day_sheet
from benchconsole.schedule.hours import Hours
from benchconsole.schedule.next_action import next_action, open_actions
from benchconsole.schedule.steps import (
    allowed_acts,
    events_for_attended,
    events_for_done,
    events_for_not_yet,
)

T0 = datetime(2026, 3, 6, 9, tzinfo=UTC)
"""Two days before the American spring change, three weeks before the European one."""

SPECIES = st.sampled_from(["deer", "rabbit"])


def _spans(low_min: int, high_min: int) -> st.SearchStrategy[timedelta]:
    return st.integers(low_min, high_min).map(lambda minutes: timedelta(minutes=minutes))


@st.composite
def _holds(draw: st.DrawFn) -> Hold:
    low, middle, high = sorted(draw(st.lists(_spans(0, 6000), min_size=3, max_size=3)))
    species = draw(st.sampled_from([(), ("deer",), ("rabbit",)]))
    return Hold(min=low, target=middle, max=high, species=species)


@st.composite
def _attentions(draw: st.DrawFn) -> Attention:
    every = draw(_spans(60, 1500))
    return Attention(
        do="Stir.",
        every=every,
        at_most=every + draw(_spans(0, 900)),
        since=draw(_spans(0, 1500)),
        until=draw(st.none() | _spans(60, 4000)),
    )


@st.composite
def _coats(draw: st.DrawFn) -> CoatWaits:
    low, middle, high = sorted(draw(st.lists(_spans(1, 300), min_size=3, max_size=3)))
    count = draw(st.integers(1, 4))
    return CoatWaits(count=count, wait_min=low, wait_target=middle, wait_max=high)


@st.composite
def _routes(draw: st.DrawFn) -> Route:
    stages = tuple(
        Stage(
            id=f"s{place}",
            name=f"stage {place}",
            do="Do it.",
            work=timedelta(minutes=10),
            late="it spoils",
            hold=tuple(draw(st.lists(_holds(), max_size=2))),
            attend=tuple(draw(st.lists(_attentions(), max_size=2))),
            check=draw(st.none() | st.builds(Check, ask=st.just("Ready?"), again=_spans(30, 900))),
            coats=draw(st.none() | _coats()),
            keeps=draw(st.none() | _spans(0, 9000)),
            soon=draw(st.none() | _spans(0, 900)),
        )
        for place in range(draw(st.integers(1, 3)))
    )
    return Route(id="r", name="R", purpose="", species=(), stages=stages, sources=())


@st.composite
def _hours(draw: st.DrawFn) -> Hours:
    zone = draw(st.sampled_from(["Europe/Berlin", "America/Chicago"]))
    opens = [
        OpenSpan(weekday=weekday, opens=time(first), closes=time(last % 24))
        for weekday, first, last in draw(
            st.lists(
                st.tuples(st.integers(0, 6), st.integers(0, 12), st.integers(13, 24)), max_size=7
            )
        )
    ]
    closed_on = draw(st.lists(st.dates(date(2026, 3, 1), date(2026, 4, 30)), max_size=4))
    return Hours(opens, closed_on, tz.gettz(zone) or UTC)


class _Life:
    """A hide walked along its route by acts, each folded like the desk folds it."""

    def __init__(self, route: Route, hours: Hours, species: str) -> None:
        self.route, self.hours, self.now = route, hours, T0
        came = HideTakenIn(hide="h", name="H", species=species, route="r", stage="s0", came="green")
        self.entries: list[Entry] = []
        self._note((came,))

    @property
    def hide(self) -> HideState:
        return fold(self.entries).hides["h"]

    def asked(self) -> Action:
        return next_action(self.hide, self.route, hours=self.hours, now=self.now)

    def act(self, wish: str) -> None:
        action = self.asked()
        hide = self.hide
        if wish not in allowed_acts(action):
            return
        if wish == "done":
            self._note(events_for_done(hide, self.route, action))
        elif wish == "not-yet":
            self._note(events_for_not_yet(hide, self.route, action))
        else:
            self._note(events_for_attended(hide, self.route, action))

    def _note(self, events: tuple[Event, ...]) -> None:
        tap = len(self.entries) + 1
        for event in events:
            seq = len(self.entries) + 1
            self.entries.append(
                Entry(seq=seq, tap=tap, at=self.now, recorded=self.now, event=event)
            )


ACTS = st.lists(
    st.tuples(
        st.sampled_from(["done", "done", "not-yet", "attended", "wait"]),
        st.integers(-60, 3000).map(lambda minutes: timedelta(minutes=minutes)),
    ),
    max_size=10,
)


@st.composite
def _lives(draw: st.DrawFn) -> _Life:
    life = _Life(draw(_routes()), draw(_hours()), draw(SPECIES))
    for wish, moved in draw(ACTS):
        life.now += moved
        life.act(wish)
    return life


@settings(max_examples=150, deadline=None)
@given(life=_lives(), moved=_spans(-3000, 90000))
def test_every_history_has_a_next_action_with_its_times_in_order(
    life: _Life, moved: timedelta
) -> None:
    """Whatever was done and whenever it is asked: an answer, in words, its times in order."""
    now = life.now + moved
    hide = life.hide
    for action in open_actions(hide, life.route, hours=life.hours, now=now):
        assert action.earliest <= action.due
        assert action.earliest <= action.ideal
        assert action.latest is None or action.earliest <= action.latest
        assert action.action and action.why.endswith(".")
        if action.state == "overdue":
            assert action.latest is not None and action.latest < now
    assert (
        next_action(hide, life.route, hours=life.hours, now=now)
        == (open_actions(hide, life.route, hours=life.hours, now=now)[0])
    )
    assert 1 == len(day_sheet([hide], {"r": life.route}, hours=life.hours, now=now))
    for countdown in countdowns(ShopState(hides={"h": hide}), {"r": life.route}, now):
        assert timedelta(0) in (countdown.left, countdown.over)


@settings(max_examples=100, deadline=None)
@given(life=_lives(), moved=_spans(0, 20000), further=_spans(0, 20000))
def test_time_passing_brings_nothing_forward(
    life: _Life, moved: timedelta, further: timedelta
) -> None:
    """For the same facts a later now never asks for something earlier than was foreseen."""
    first = life.now + moved
    foreseen = open_actions(life.hide, life.route, hours=life.hours, now=first)
    later = next_action(life.hide, life.route, hours=life.hours, now=first + further)
    assert min(action.due for action in foreseen) <= later.due


@settings(max_examples=100, deadline=None)
@given(life=_lives())
def test_doing_each_thing_when_due_finishes_the_hide(life: _Life) -> None:
    """Done always leads on: within a bounded number of acts the piece is finished."""
    for _ in range(1000):
        action = life.asked()
        if action.kind == "none":
            break
        life.now = max(life.now, action.due)
        life.act("done")
    assert "finished" == life.asked().state


@settings(max_examples=150, deadline=None)
@given(life=_lives())
def test_a_due_time_is_in_open_hours_whenever_its_window_has_any(life: _Life) -> None:
    """Attentions, checks and beginnings stand in closed time only if no open moment fits."""
    for action in open_actions(life.hide, life.route, hours=life.hours, now=life.now):
        if action.kind in ("coat", "none") or life.hours.is_open(action.due):
            continue
        opening = life.hours.next_open(action.earliest)
        assert opening is None or (action.latest is not None and action.latest < opening)
