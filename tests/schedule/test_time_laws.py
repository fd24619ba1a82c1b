"""Time as it really goes: clock changes, leap days, a clock that jumps, a shop that moves.

Waits are elapsed time, so none of this touches them; opening hours are what the wall shows.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, time, timedelta

import pytest
from dateutil import tz
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.model.events import (
    Attended,
    CheckFailed,
    CoatGiven,
    Entry,
    Event,
    HideCorrected,
    HideLost,
    HideTakenIn,
    LiquorMade,
    LiquorSpoiled,
    LotSplit,
    Lying,
    RouteChanged,
    StageBegun,
    StageLeft,
    StageSkipped,
    StartChosen,
    TimerAcknowledged,
    TimerPaused,
    TimerSet,
    Undone,
)
from benchconsole.model.routes import Route
from benchconsole.model.shop import OpenSpan
from benchconsole.model.state import HideState, fold
from benchconsole.schedule.actions import Action
from benchconsole.schedule.countdowns import countdowns
from benchconsole.schedule.day_sheet import day_sheet
from benchconsole.schedule.hours import Hours
from benchconsole.schedule.next_action import next_action, open_actions
from benchconsole.schedule.steps import allowed_acts
from tests.schedule.lives import LIQUOR, T0, Life, lives, opening_hours, routes, spans

History = Callable[..., HideState]

JUMPS = {
    "asleep for nine hours": timedelta(hours=9),
    "set back ten minutes": timedelta(minutes=-10),
    "set back a day": timedelta(days=-1),
    "forward a year": timedelta(days=365),
}


def _h(count: float) -> timedelta:
    return timedelta(hours=count)


def _at(text: str, zone: str) -> datetime:
    """The instant of a time on a wall."""
    return datetime.fromisoformat(text).replace(tzinfo=tz.gettz(zone)).astimezone(UTC)


def _wall(instant: datetime, zone: str) -> str:
    return f"{instant.astimezone(tz.gettz(zone)):%Y-%m-%d %H:%M}"


def _hours(zone: str, opens: int = 0, closes: int = 0) -> Hours:
    """Open every day from and to these hours of the wall in a zone; always, if not said."""
    days = [OpenSpan(weekday=day, opens=time(opens), closes=time(closes)) for day in range(7)]
    return Hours(days, (), tz.gettz(zone) or UTC)


def _check(hide: HideState, route: Route, hours: Hours, now: datetime) -> Action:
    asked = open_actions(hide, route, hours=hours, now=now)
    return next(action for action in asked if action.kind == "check")


@pytest.mark.parametrize(
    ("zone", "begun", "after_48_h"),
    [
        ("Europe/Berlin", "2026-03-28 12:00", "2026-03-30 13:00"),
        ("Europe/Berlin", "2026-10-24 12:00", "2026-10-26 11:00"),
        ("America/Chicago", "2026-03-07 12:00", "2026-03-09 13:00"),
        ("America/Chicago", "2026-10-31 12:00", "2026-11-02 11:00"),
        ("Europe/Berlin", "2026-03-29 01:59", "2026-03-31 02:59"),
        ("America/Chicago", "2026-11-01 00:59", "2026-11-02 23:59"),
        ("Europe/Berlin", "2028-02-28 12:00", "2028-03-01 12:00"),
        ("Europe/Berlin", "2026-02-28 12:00", "2026-03-02 12:00"),
        ("America/Chicago", "2100-02-28 12:00", "2100-03-02 12:00"),
        ("America/Chicago", "2026-12-31 20:00", "2027-01-02 20:00"),
        ("Europe/Berlin", "2026-12-30 23:30", "2027-01-01 23:30"),
    ],
)
def test_a_hold_is_elapsed_time(
    route: Route, history: History, zone: str, begun: str, after_48_h: str
) -> None:
    """48 hours are 48 hours over a clock change, a leap day, no leap day in 2100, a year end."""
    began = _at(begun, zone)
    hide = history(began, (began, StageBegun(hide="h1", stage="salt")))
    check = _check(hide, route, _hours(zone), began)
    assert after_48_h == _wall(check.due, zone)
    assert (_h(24), _h(48), _h(72)) == (
        check.earliest - began,
        check.due - began,
        check.latest - began if check.latest else None,
    )


@pytest.mark.parametrize(
    ("zone", "begun", "opening"),
    [
        ("Europe/Berlin", "2026-03-27 07:30", "2026-03-29 08:30"),
        ("Europe/Berlin", "2026-10-23 08:30", "2026-10-25 08:00"),
        ("America/Chicago", "2026-03-06 07:30", "2026-03-08 08:30"),
        ("America/Chicago", "2026-10-30 08:30", "2026-11-01 08:00"),
    ],
)
def test_opening_hours_are_what_the_wall_shows(
    route: Route, history: History, zone: str, begun: str, opening: str
) -> None:
    """The shop opens at eight by its wall on the day of the change as on every other."""
    began = _at(begun, zone)
    hide = history(began, (began, StageBegun(hide="h1", stage="salt")))
    check = _check(hide, route, _hours(zone, 8, 18), began)
    assert opening == _wall(check.due, zone)
    assert _h(48) == check.ideal - began


@pytest.mark.parametrize("jump", JUMPS)
def test_a_clock_that_jumps_moves_no_window(
    route: Route, history: History, hours: Hours, jump: str
) -> None:
    """Read before, while and after the clock is wrong, the hide asks for the same times."""
    hide = history(T0, (T0, StageBegun(hide="h1", stage="pickle")), stage="pickle")

    def times(now: datetime) -> tuple[object, ...]:
        check = _check(hide, route, hours, now)
        return check.earliest, check.due, check.latest, check.ideal

    now = T0 + _h(30)
    right = times(now)
    assert right == times(now + JUMPS[jump]) == times(now)


@pytest.mark.parametrize("jump", JUMPS)
def test_a_timer_rings_at_its_end_whatever_the_clock_did(jump: str) -> None:
    """It is a due instant: after the clock is right again as much is left as should be."""
    entry = Entry(
        seq=1,
        tap=1,
        at=T0,
        recorded=T0,
        event=TimerSet(timer="t1", name="Rinse", ends_at=T0 + _h(2)),
    )
    state = fold([entry])
    before, wrong, after = (
        countdowns(state, {}, now)[0] for now in (T0, T0 + JUMPS[jump], T0 + _h(0.5))
    )
    assert (_h(2), _h(1.5)) == (before.left, after.left)
    assert max(_h(2) - JUMPS[jump], timedelta(0)) == wrong.left
    assert max(JUMPS[jump] - _h(2), timedelta(0)) == wrong.over


@pytest.mark.parametrize("jump", JUMPS)
def test_what_is_noted_by_a_wrong_clock_can_be_gone_on_from(
    route: Route, history: History, hours: Hours, jump: str
) -> None:
    """Stirred and looked at while the clock was wrong: there is a next action, its times in order.

    The hold counts from its beginning all the same.
    """
    wrong = T0 + _h(30) + JUMPS[jump]
    hide = history(
        T0,
        (T0, StageBegun(hide="h1", stage="pickle")),
        (wrong, Attended(hide="h1", stage="pickle", attention=0)),
        (wrong, CheckFailed(hide="h1", stage="pickle")),
        stage="pickle",
    )
    for now in (wrong, T0 + _h(31)):
        check = _check(hide, route, hours, now)
        assert check.earliest <= check.due
        assert T0 + _h(120) == check.latest
        assert allowed_acts(next_action(hide, route, hours=hours, now=now))


def test_a_shop_that_moves_to_another_zone_keeps_its_waits(route: Route, history: History) -> None:
    """In the middle of a hold the zone is set anew: what has run has run; the doors open anew."""
    began = _at("2026-06-01 12:00", "Europe/Berlin")
    hide = history(began, (began, StageBegun(hide="h1", stage="salt")))
    now = began + _h(20)
    here = _check(hide, route, _hours("Europe/Berlin", 8, 18), now)
    there = _check(hide, route, _hours("America/Chicago", 8, 18), now)
    assert (here.earliest, here.ideal, here.latest) == (there.earliest, there.ideal, there.latest)
    assert "2026-06-03 12:00" == _wall(here.due, "Europe/Berlin")
    assert "2026-06-03 08:00" == _wall(there.due, "America/Chicago")


# --- any life, any hour -----------------------------------------------------------------


def _times(action: Action) -> tuple[object, ...]:
    return action.earliest, action.due, action.latest, action.ideal


@settings(max_examples=80, deadline=None)
@given(life=lives(off_route=True), first=spans(-600000, 600000), second=spans(-600000, 600000))
def test_windows_do_not_depend_on_the_hour(life: Life, first: timedelta, second: timedelta) -> None:
    """A year ahead or back: what is asked for at both hours is asked for at the same times."""
    asked = [
        {
            (
                action.kind,
                action.stage,
                action.coat,
                action.kind == "attend" and action.attention,
            ): (_times(action))
            for action in open_actions(life.hide, life.route, hours=life.hours, now=life.now + far)
        }
        for far in (first, second)
    ]
    both = asked[0].keys() & asked[1].keys()
    assert {key: asked[0][key] for key in both} == {key: asked[1][key] for key in both}
    # Only attentions whose time is over may be missing from one of them.
    assert {"attend"} >= {key[0] for key in asked[0].keys() ^ asked[1].keys()}


@settings(max_examples=80, deadline=None)
@given(life=lives(off_route=True), ahead=spans(-600000, 600000))
def test_no_hour_makes_anything_earlier_than_its_least_wait(life: Life, ahead: timedelta) -> None:
    """A look is never early before the hold's minimum, a coat never before its wait's, a beginning
    never before the hide is there."""
    hide, now = life.hide, life.now + ahead
    stage = next((each for each in life.route.stages if each.id == hide.stage), None)
    for action in open_actions(hide, life.route, hours=life.hours, now=now):
        if stage is None or action.kind == "none":
            continue
        least = hide.arrived_at
        if action.kind == "check":
            hold = stage.hold_for(hide.species, hide.came)
            least = (hide.hold_from or least) + (hold.min if hold else timedelta(0))
        elif action.kind == "coat" and stage.coats is not None:
            least = hide.coats_at[-1] + stage.coats.wait_min
        elif action.kind == "attend" and action.attention is not None:
            since = stage.attend[action.attention].since
            least = (hide.hold_from or least) + since
        assert least <= action.earliest <= action.due


# --- histories that no desk would write -------------------------------------------------

_HIDES = st.sampled_from(("h", "h2", "h3"))
_STAGES = st.sampled_from(("s0", "s1", "s2", "gone", ""))
_PLACES = st.integers(-3, 9)
_AT = st.none() | spans(-600000, 600000).map(lambda far: T0 + far)
_LYING = st.builds(
    Lying, stage=st.just("Salt"), until=_AT, spoils=st.just("rots"), keeps=st.booleans()
)
_ODD: st.SearchStrategy[Event] = st.one_of(
    st.builds(
        HideTakenIn,
        hide=_HIDES,
        name=st.just("H"),
        species=st.sampled_from(("deer", "unicorn")),
        route=st.sampled_from(("r", "gone")),
        stage=_STAGES,
        came=st.sampled_from(("green", "cooked")),
        count=st.integers(1, 5),
        mass_g=st.none() | st.just(0.0) | st.just(1e6),
    ),
    st.builds(HideCorrected, hide=_HIDES, name=st.just("H"), count=st.integers(1, 5)),
    st.builds(StageBegun, hide=_HIDES, stage=_STAGES, liquor=st.sampled_from(("", "L1", "L2"))),
    st.builds(CoatGiven, hide=_HIDES, stage=_STAGES, coat=_PLACES),
    st.builds(Attended, hide=_HIDES, stage=_STAGES, attention=_PLACES),
    st.builds(CheckFailed, hide=_HIDES, stage=_STAGES),
    st.builds(StageLeft, hide=_HIDES, stage=_STAGES, next=_STAGES),
    st.builds(StageSkipped, hide=_HIDES, stage=_STAGES, next=_STAGES),
    st.builds(
        RouteChanged,
        hide=_HIDES,
        route=st.sampled_from(("r", "gone")),
        stage=_STAGES,
        begun=st.booleans(),
        attended_at=st.dictionaries(_PLACES, st.just(T0), max_size=2),
        lying=st.none() | _LYING,
    ),
    st.builds(
        LotSplit,
        hide=_HIDES,
        new_hide=_HIDES,
        of=st.just("H"),
        name=st.just("P"),
        count=st.integers(1, 9),
        mass_g=st.none() | st.just(5000.0),
    ),
    st.just(LiquorMade(weigh_out="", liquor=LIQUOR)),
    st.builds(
        LiquorSpoiled,
        liquor=st.sampled_from(("L1", "L2")),
        why=st.just("slimy"),
        hides=st.lists(_HIDES, max_size=3).map(tuple),
        out=st.lists(_HIDES, max_size=3).map(tuple),
    ),
    st.builds(StartChosen, hide=_HIDES, start_at=_AT),
    st.builds(HideLost, hide=_HIDES, why=st.just("sold raw")),
    st.builds(
        TimerSet, timer=st.just("t1"), name=st.just("T"), ends_at=spans(0, 9).map(T0.__add__)
    ),
    st.builds(TimerPaused, timer=st.just("t1"), left_s=st.floats(-10, 1e6)),
    st.builds(TimerAcknowledged, timer=st.sampled_from(("t1", "coat/h/s0/2", "coat/h/"))),
    st.builds(Undone, tap=st.integers(-1, 15)),
)


@settings(max_examples=150, deadline=None)
@given(
    odd=st.lists(st.tuples(_ODD, spans(-600000, 600000)), max_size=14),
    route=routes(),
    hours=opening_hours(),
)
def test_no_history_however_odd_stops_the_shop(
    odd: list[tuple[Event, timedelta]], route: Route, hours: Hours
) -> None:
    """Events about nothing, twice over, of stages that are gone, at hours in any order: the day
    sheet, the countdowns and every next action are there, in words and with times in order."""
    entries = [
        Entry(seq=place, tap=place, at=T0 + far, recorded=T0, event=event)
        for place, (event, far) in enumerate(odd, start=1)
    ]
    state, now = fold(entries), T0 + _h(12)
    hides = tuple(state.hides.values())
    sheet = day_sheet(hides, {"r": route}, hours=hours, now=now)
    assert {hide.id for hide in hides if hide.out_at is None} == {action.hide for action in sheet}
    for action in sheet:
        assert action.earliest <= action.due
        assert action.latest is None or action.earliest <= action.latest
        assert action.action and action.why
    for countdown in countdowns(state, {"r": route}, now):
        assert countdown.words
    for hide in hides:
        assert 0 < len(open_actions(hide, route, hours=hours, now=now))
        assert 1 <= hide.count
