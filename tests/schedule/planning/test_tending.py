"""What is to be tended when: the hold that runs now, the holds between planned visits."""

from __future__ import annotations

from datetime import UTC, datetime, time, timedelta, tzinfo

import msgspec
from hypothesis import given
from hypothesis import strategies as st

from benchconsole.model.events import (
    Attended,
    CheckFailed,
    CoatGiven,
    Entry,
    HideTakenIn,
    StageBegun,
    StageLeft,
)
from benchconsole.model.routes import Attention, Check, Hold, Route, Stage
from benchconsole.model.shop import OpenSpan
from benchconsole.model.state import HideState, fold
from benchconsole.schedule.hours import Hours
from benchconsole.schedule.next_action import next_action
from benchconsole.schedule.planning.plans import HidePlan, Plan, Visit, VisitKind
from benchconsole.schedule.planning.rounds import rounds_for
from benchconsole.schedule.planning.tending import (
    all_busy,
    come_in_hours,
    openings_around,
    rounds_of,
    tended_of,
    unplanned,
)
from tests.schedule.conftest import History

MONDAY = datetime(2026, 6, 1, 8, tzinfo=UTC)
HOUR = timedelta(hours=1)


def _visit(stage: str, at: datetime, kind: VisitKind = "begin", number: int = 1) -> Visit:
    return Visit(
        hide="h1",
        hide_name="Doe",
        stage=stage,
        stage_name=stage,
        kind=kind,
        action="Do it.",
        starts=at,
        ends=at + HOUR / 2,
        earliest=at,
        due=at,
        latest=None,
        number=number,
    )


def _plan(*visits: Visit) -> HidePlan:
    return HidePlan(hide="h1", hide_name="Doe", lies_in="", since=None, visits=visits)


def _in_pickle(history: History, *more: tuple[datetime, object]) -> HideState:
    return history(
        MONDAY - 72 * HOUR,
        (MONDAY - 72 * HOUR, StageBegun(hide="h1", stage="salt")),
        (MONDAY, StageLeft(hide="h1", stage="salt", next="pickle")),
        (MONDAY, StageBegun(hide="h1", stage="pickle")),
        *more,
    )


def test_a_running_hold_is_tended_until_the_next_visit(route: Route, history: History) -> None:
    """From its beginning to the visit that takes the hide out, as its last attention left it."""
    given_at = MONDAY + 7 * HOUR
    hide = _in_pickle(history, (given_at, Attended(hide="h1", stage="pickle", attention=0)))
    out = MONDAY + 72 * HOUR
    (tended,) = tended_of(hide, route, _plan(_visit("rinse", out)), MONDAY + 8 * HOUR)
    assert (tended.since, tended.until, tended.last) == (MONDAY, out, given_at)
    assert (tended.do, tended.every, tended.at_most) == ("Stir.", 8 * HOUR, 16 * HOUR)
    assert tended.facts == hide.facts


def test_a_look_gives_the_attention_unless_it_is_an_act_of_its_own(
    route: Route, history: History
) -> None:
    """The look that said "not yet" counts as stirring, but not as a change of water."""
    looked = MONDAY + 6 * HOUR
    hide = _in_pickle(history, (looked, CheckFailed(hide="h1", stage="pickle")))
    (stirred,) = tended_of(hide, route, _plan(), looked)
    assert stirred.last == looked
    (changed,) = tended_of(hide, _with_attention(route, own_act=True), _plan(), looked)
    assert changed.last is None


def test_a_planned_look_gives_it_too_and_the_hold_goes_on(route: Route, history: History) -> None:
    """Between two looks of one stage lie two stretches; a change of water has only one."""
    look, out = MONDAY + 24 * HOUR, MONDAY + 48 * HOUR
    plan = _plan(_visit("pickle", look, "check"), _visit("pickle", out, "check", 2))
    hide = _in_pickle(history)
    spans = [(t.since, t.until) for t in tended_of(hide, route, plan, MONDAY)]
    assert spans == [(MONDAY, look), (look + HOUR / 2, out)]
    own = tended_of(hide, _with_attention(route, own_act=True), plan, MONDAY)
    assert [(t.since, t.until) for t in own] == [(MONDAY, out)]


def test_a_planned_hold_is_tended_from_its_last_coat_or_beginning(
    route: Route, history: History
) -> None:
    """Nothing is tended between the coats; after the last one the hold counts."""
    hide = history(MONDAY, stage="salt")
    coats = msgspec.structs.replace(
        route.stage("oil"), attend=(Attention(do="Cover.", every=8 * HOUR, at_most=16 * HOUR),)
    )
    oiled = msgspec.structs.replace(
        route, stages=tuple(coats if s.id == "oil" else s for s in route.stages)
    )
    into, first, second, dry = (MONDAY + n * HOUR for n in (1, 50, 52, 70))
    plan = _plan(
        _visit("pickle", into),
        _visit("oil", first),
        _visit("oil", second, "coat", 2),
        _visit("dry", dry),
    )
    spans = [(t.stage, t.since, t.until) for t in tended_of(hide, oiled, plan, MONDAY)]
    assert spans == [
        ("pickle", into + HOUR / 2, first),
        ("oil", second + HOUR / 2, dry),
    ]


def test_a_coat_already_given_counts(route: Route, history: History) -> None:
    """With the first coat on the hide, the planned second one is the last."""
    hide = history(MONDAY, (MONDAY, StageBegun(hide="h1", stage="oil")), stage="oil", came="salted")
    coats = msgspec.structs.replace(
        route.stage("oil"), attend=(Attention(do="Cover.", every=8 * HOUR, at_most=16 * HOUR),)
    )
    oiled = msgspec.structs.replace(
        route, stages=tuple(coats if s.id == "oil" else s for s in route.stages)
    )
    second = MONDAY + HOUR
    plan = _plan(_visit("oil", second, "coat", 2))
    (tended,) = tended_of(hide, oiled, plan, MONDAY)
    assert tended.since == second + HOUR / 2
    done = history(
        MONDAY,
        (MONDAY, StageBegun(hide="h1", stage="oil")),
        (second, CoatGiven(hide="h1", stage="oil", coat=2)),
        stage="oil",
        came="salted",
    )
    (running,) = tended_of(done, oiled, _plan(), second)
    assert running.since == second


def test_what_somebody_stays_for_is_no_round(route: Route, history: History) -> None:
    """Moving a hide about for the first hour belongs to the visit that put it in."""
    short = _with_attention(route, until=HOUR)
    assert tended_of(_in_pickle(history), short, _plan(), MONDAY) == ()


def test_a_plan_that_was_not_kept_is_not_believed(route: Route, history: History) -> None:
    """The visit should have begun an hour ago: the hide lies in the pickle still."""
    plan = _plan(_visit("rinse", MONDAY + 2 * HOUR), _visit("oil", MONDAY + 3 * HOUR))
    (tended,) = tended_of(_in_pickle(history), route, plan, MONDAY + 3 * HOUR)
    assert (tended.stage, tended.until) == ("pickle", None)


def test_the_rounds_of_a_plan_run_to_its_end(route: Route, history: History, hours: Hours) -> None:
    """Stirred every 8 h from Monday 8:00, slept over, out of the pickle on Wednesday."""
    hide = _in_pickle(history)
    plan = Plan(
        made_at=MONDAY,
        until=MONDAY + 72 * HOUR,
        hides=(_plan(_visit("rinse", MONDAY + 50 * HOUR)),),
        openings=(),
    )
    rounds = rounds_of(plan, {"h1": hide}, {"pelt": route}, hours, MONDAY)
    assert [each.at - MONDAY for each in rounds] == [
        8 * HOUR,
        24 * HOUR,
        32 * HOUR,
        48 * HOUR,
    ]


def test_a_walk_needs_one_pair_of_hands_that_is_free() -> None:
    """With two pairs only the time in which both are at visits is taken."""
    visits = [
        msgspec.structs.replace(_visit("rinse", MONDAY + n * HOUR), ends=MONDAY + (n + 2) * HOUR)
        for n in (0, 1, 4)
    ]
    assert all_busy(visits, 1) == (
        (MONDAY, MONDAY + 3 * HOUR),
        (MONDAY + 4 * HOUR, MONDAY + 6 * HOUR),
    )
    assert all_busy(visits, 2) == ((MONDAY + HOUR, MONDAY + 2 * HOUR),)
    one_after_another = (_visit("oil", MONDAY), _visit("dry", MONDAY + HOUR / 2))
    assert all_busy(one_after_another, 1) == (
        (MONDAY, MONDAY + HOUR / 2),
        (MONDAY + HOUR / 2, MONDAY + HOUR),
    )


def test_the_night_of_a_clock_change_is_as_long_as_it_is(
    berlin: tzinfo, route: Route, history: History
) -> None:
    """From 18:00 to 8:00 are 13 h in the spring night and 14 h in others: 13 h 30 min decides."""
    every_day = [OpenSpan(weekday=day, opens=time(8), closes=time(18)) for day in range(7)]
    hours = Hours(every_day, (), berlin)
    limited = _with_attention(route, every=5 * HOUR, at_most=13.5 * HOUR)
    for day, said in ((28, False), (27, True)):
        begun = datetime(2026, 3, day, 17, tzinfo=berlin).astimezone(UTC)
        hide = history(begun, (begun, StageBegun(hide="h1", stage="pickle")), stage="pickle")
        rounds = rounds_for(
            tended_of(hide, limited, _plan(), begun),
            openings_around(hours, begun, begun + 20 * HOUR),
            begun,
            begun + 20 * HOUR,
        )
        assert rounds[0].at.astimezone(berlin).hour == (18 if not said else 8)
        assert ("past the limit" in rounds[0].why) is said


@given(hour=st.integers(0, 24 * 7), every=st.integers(1, 12), longer=st.integers(0, 30))
def test_one_hide_alone_is_asked_for_as_its_own_next_action_says(
    hour: int, every: int, longer: int
) -> None:
    """A round for a single attention stands at the due time that its hide shows, where open."""
    hide, route, hours, begun = _alone_in_a_bath(hour, every, every + longer)
    action = next_action(hide, route, hours=hours, now=begun)
    rounds = rounds_for(
        tended_of(hide, route, unplanned(hide, route, hours, begun), begun),
        openings_around(hours, begun, begun + 240 * HOUR),
        begun,
        begun + 240 * HOUR,
        come_in=come_in_hours(hours, begun, begun + 240 * HOUR),
    )
    if action.kind == "attend" and hours.is_open(action.due):
        assert rounds[0].at == action.due


def _alone_in_a_bath(
    hour: int, every: int, at_most: int
) -> tuple[HideState, Route, Hours, datetime]:
    """A hide begun at some hour of a week in a bath of ten days, in a shop closed on Sundays."""
    begun = MONDAY + hour * HOUR
    stage = Stage(
        id="bath",
        name="bath",
        do="Lay it in.",
        work=HOUR / 4,
        late="it spoils",
        hold=(Hold(min=200 * HOUR, target=240 * HOUR, max=300 * HOUR),),
        attend=(Attention(do="Stir.", every=every * HOUR, at_most=at_most * HOUR),),
        check=Check(ask="Through?", again=12 * HOUR),
    )
    route = Route(id="pelt", name="P", purpose="", species=(), stages=(stage,), sources=())
    events = (
        HideTakenIn(
            hide="h1", name="Doe", species="deer", route="pelt", stage="bath", came="green"
        ),
        StageBegun(hide="h1", stage="bath"),
    )
    entries = [
        Entry(seq=place, tap=place, at=begun, recorded=begun, event=event)
        for place, event in enumerate(events, start=1)
    ]
    spans = [OpenSpan(weekday=day, opens=time(8), closes=time(18)) for day in range(6)]
    return fold(entries).hides["h1"], route, Hours(spans, (), UTC), begun


def _with_attention(route: Route, **changes: object) -> Route:
    pickle = route.stage("pickle")
    changed = msgspec.structs.replace(
        pickle, attend=(msgspec.structs.replace(pickle.attend[0], **changes),)
    )
    stages = tuple(changed if stage.id == "pickle" else stage for stage in route.stages)
    return msgspec.structs.replace(route, stages=stages)
