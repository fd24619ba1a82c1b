"""Every event, one by one: what it changes in the state, and what it leaves alone."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import Any, get_args

import msgspec
import pytest

from benchconsole.model.drying import Covered, Weighed
from benchconsole.model.events import (
    ArchivedHide,
    Attended,
    CheckFailed,
    CoatGiven,
    CoverChanged,
    DryingWeighed,
    Entry,
    Event,
    HideCorrected,
    HideLost,
    HidesArchived,
    HidesBroughtBack,
    HideTakenIn,
    LiquorMade,
    LiquorSpoiled,
    LotSplit,
    Lying,
    NoteWritten,
    Redone,
    RouteChanged,
    ShopSet,
    StageBegun,
    StageLeft,
    StageSkipped,
    StartChosen,
    TimeCorrected,
    TimerAcknowledged,
    TimerCancelled,
    TimerExtended,
    TimerNamed,
    TimerPaused,
    TimerResumed,
    TimerSet,
    Undone,
    WeighOutBegun,
    WeighOutLeft,
    WeighOutTapped,
    subjects_of,
)
from benchconsole.model.history import last_tap
from benchconsole.model.shop import Scale, Shop
from benchconsole.model.state import HideState, ShopState, TimerState, apply, fold
from benchconsole.model.weighing import Accept, Liquor, Plan, Read, WeighOut

MORNING = datetime(2026, 3, 1, 8, tzinfo=UTC)
NOON = MORNING + timedelta(hours=4)

PLAN = Plan(
    formula="f",
    formula_name="F",
    target="10 L",
    factor=1.0,
    parts=(),
    lines=(),
    scale=Scale(),
    tolerance=0.02,
    water_celsius=15.0,
)
LIQUOR = Liquor(
    id="l1",
    formula="f",
    formula_name="F",
    factor=1.0,
    lines=(),
    volume_l=10.0,
    density_kg_m3=1030.0,
    strengths=(),
    water_celsius=15.0,
    made_at=NOON,
)
TAKEN_IN = HideTakenIn(
    hide="h1",
    name="Doe 7",
    species="deer",
    route="alum",
    stage="soak",
    came="salted",
    mass_g=2000.0,
)
BEGUN = StageBegun(hide="h1", stage="soak", liquor="l1")
TIMER = TimerSet(timer="t1", name="Second coat", ends_at=NOON)
WEIGHING = WeighOutBegun(weigh_out="w1", plan=PLAN)
SHOP = Shop(name="The back yard", water_celsius=9.0)

HIDE = HideState(
    id="h1",
    name="Doe 7",
    species="deer",
    route="alum",
    came="salted",
    count=1,
    mass_g=2000.0,
    stage="soak",
    arrived_at=MORNING,
)


def happened(*events: Event) -> tuple[Entry, ...]:
    """A history of one tap an hour, the first at eight."""
    return tuple(
        Entry(
            seq=place,
            tap=place,
            at=MORNING + timedelta(hours=place - 1),
            recorded=MORNING + timedelta(days=1),
            event=event,
        )
        for place, event in enumerate(events, start=1)
    )


def hour(count: int) -> datetime:
    """The instant of the tap at that place, counted from 0."""
    return MORNING + timedelta(hours=count)


def hide(**changes: Any) -> ShopState:
    """The state with one hide in it, taken in at eight."""
    return ShopState(hides={"h1": msgspec.structs.replace(HIDE, **changes)})


def timer(**changes: Any) -> ShopState:
    """The state with one timer in it."""
    plain = TimerState(id="t1", name="Second coat", ends_at=NOON)
    return ShopState(timers={"t1": msgspec.structs.replace(plain, **changes)})


def weigh_out(**changes: Any) -> WeighOut:
    """The weigh-out as it was begun at eight, with changes."""
    return msgspec.structs.replace(WeighOut(id="w1", plan=PLAN, begun_at=MORNING), **changes)


LOOKED_AFTER = (
    TAKEN_IN,
    BEGUN,
    CoatGiven(hide="h1", stage="soak", coat=2),
    Attended(hide="h1", stage="soak", attention=0),
    CheckFailed(hide="h1", stage="soak"),
)
LEFT = StageLeft(hide="h1", stage="soak", next="pickle")
LYING = Lying(stage="Soak", until=NOON, spoils="hair slips", inspect="pull the hair")
LOT = msgspec.structs.replace(TAKEN_IN, count=5)
SPLIT = LotSplit(hide="h1", new_hide="h2", of="Doe 7", name="Thin ones", count=2, mass_g=800.0)
MADE = LiquorMade(weigh_out="", liquor=LIQUOR)
SPOILED = LiquorSpoiled(liquor="l1", why="slimy", hides=("h1",), out=("h1",))


def lot(**changes: Any) -> HideState:
    """The lot begun at nine, or what was split off it."""
    begun = msgspec.structs.replace(HIDE, begun_at=hour(1), coats_at=(hour(1),), liquor="l1")
    return msgspec.structs.replace(begun, **changes)


LOST = HideLost(hide="h1", why="sold raw")
IN_ARCHIVE = ArchivedHide(
    id="h1",
    name="Goat",
    species="goat",
    route="hair-on-alum-pelt",
    year=2026,
    came_at=MORNING,
    out_at=NOON,
    family="h1",
)
MOVED = HidesArchived(hides=(IN_ARCHIVE,))
ALL_MOVED = HidesArchived(hides=(IN_ARCHIVE,), weigh_outs=("w1",), liquors=("l1",), timers=("t1",))

CASES: dict[str, tuple[tuple[Event, ...], ShopState]] = {
    "taken in": ((TAKEN_IN,), hide()),
    "stage begun": (
        (TAKEN_IN, BEGUN),
        hide(begun_at=hour(1), coats_at=(hour(1),), liquor="l1", facts=1),
    ),
    "coat given": (
        LOOKED_AFTER[:3],
        hide(begun_at=hour(1), coats_at=(hour(1), hour(2)), liquor="l1", facts=2),
    ),
    "attended twice": (
        (TAKEN_IN, BEGUN, LOOKED_AFTER[3], LOOKED_AFTER[3]),
        hide(
            begun_at=hour(1),
            coats_at=(hour(1),),
            liquor="l1",
            attended_at={0: hour(3)},
            facts=3,
        ),
    ),
    "check failed twice": (
        (TAKEN_IN, BEGUN, LOOKED_AFTER[4], LOOKED_AFTER[4]),
        hide(
            begun_at=hour(1),
            coats_at=(hour(1),),
            liquor="l1",
            failed_at=(hour(2), hour(3)),
            facts=3,
        ),
    ),
    "stage left": (
        (*LOOKED_AFTER, LEFT),
        hide(
            stage="pickle",
            arrived_at=hour(5),
            left_stage="soak",
            left_hold_from=hour(2),
            left_at=hour(5),
            left_liquor="l1",
            facts=5,
        ),
    ),
    "next stage begun": (
        (TAKEN_IN, BEGUN, LEFT, StageBegun(hide="h1", stage="pickle")),
        hide(
            stage="pickle",
            arrived_at=hour(2),
            begun_at=hour(3),
            coats_at=(hour(3),),
            left_stage="soak",
            left_hold_from=hour(1),
            left_at=hour(2),
            facts=3,
        ),
    ),
    "finished": (
        (TAKEN_IN, BEGUN, StageLeft(hide="h1", stage="soak")),
        hide(
            stage="",
            arrived_at=hour(2),
            left_stage="soak",
            left_hold_from=hour(1),
            left_at=hour(2),
            left_liquor="l1",
            finished_at=hour(2),
            facts=2,
        ),
    ),
    "start chosen": (
        (TAKEN_IN, StartChosen(hide="h1", start_at=NOON)),
        hide(start_at=NOON, facts=1),
    ),
    "start chosen no more": (
        (TAKEN_IN, StartChosen(hide="h1", start_at=NOON), StartChosen(hide="h1")),
        hide(facts=2),
    ),
    "start chosen, then begun": (
        (TAKEN_IN, StartChosen(hide="h1", start_at=NOON), BEGUN),
        hide(begun_at=hour(2), coats_at=(hour(2),), liquor="l1", facts=2),
    ),
    "start chosen for what is begun": (
        (TAKEN_IN, BEGUN, StartChosen(hide="h1", start_at=NOON)),
        hide(begun_at=hour(1), coats_at=(hour(1),), liquor="l1", facts=2),
    ),
    "weighed while drying": (
        (TAKEN_IN, BEGUN, DryingWeighed(hide="h1", stage="soak", mass_g=900.0)),
        hide(
            begun_at=hour(1),
            coats_at=(hour(1),),
            liquor="l1",
            weighed=(Weighed(at=hour(2), stage="soak", mass_g=900.0),),
            facts=2,
        ),
    ),
    "covered": (
        (TAKEN_IN, BEGUN, CoverChanged(hide="h1", stage="soak", cover="plastic")),
        hide(
            begun_at=hour(1),
            coats_at=(hour(1),),
            liquor="l1",
            covered=(Covered(at=hour(2), cover="plastic"),),
            facts=2,
        ),
    ),
    "covered before it was begun": (
        (TAKEN_IN, CoverChanged(hide="h1", stage="soak", cover="loose"), BEGUN),
        hide(begun_at=hour(2), coats_at=(hour(2),), liquor="l1", facts=2),
    ),
    "covered in a stage it has left": (
        (TAKEN_IN, CoverChanged(hide="h1", stage="trim", cover="loose")),
        hide(facts=1),
    ),
    "skipped before it was begun": (
        (TAKEN_IN, StageSkipped(hide="h1", stage="soak", next="oil")),
        hide(stage="oil", arrived_at=hour(1), left_at=hour(0), moved=True, facts=1),
    ),
    "moved on out of a stage, before its time": (
        (*LOOKED_AFTER, StageSkipped(hide="h1", stage="soak", next="oil")),
        hide(
            stage="oil",
            arrived_at=hour(5),
            left_stage="soak",
            left_hold_from=hour(2),
            left_liquor="l1",
            moved=True,
            facts=5,
        ),
    ),
    "skipped to the end": (
        (TAKEN_IN, StageSkipped(hide="h1", stage="soak")),
        hide(
            stage="", arrived_at=hour(1), left_at=hour(0), moved=True, finished_at=hour(1), facts=1
        ),
    ),
    "back into the bath it has passed": (
        (TAKEN_IN, BEGUN, LEFT, StageSkipped(hide="h1", stage="pickle", next="soak")),
        hide(
            arrived_at=hour(3),
            left_stage="soak",
            left_hold_from=hour(1),
            left_at=hour(2),
            left_liquor="l1",
            moved=True,
            facts=3,
        ),
    ),
    "begun after it was moved": (
        (
            TAKEN_IN,
            BEGUN,
            StageSkipped(hide="h1", stage="soak", next="oil"),
            StageBegun(hide="h1", stage="oil"),
        ),
        hide(
            stage="oil",
            arrived_at=hour(2),
            begun_at=hour(3),
            coats_at=(hour(3),),
            left_stage="soak",
            left_hold_from=hour(1),
            facts=3,
        ),
    ),
    "route changed, to begin": (
        (TAKEN_IN, BEGUN, RouteChanged(hide="h1", route="bark", stage="tan", lying=LYING)),
        hide(
            route="bark",
            stage="tan",
            arrived_at=hour(2),
            left_liquor="l1",
            lying=LYING,
            moved=True,
            facts=2,
        ),
    ),
    "route changed within a stage": (
        (
            *LOOKED_AFTER,
            DryingWeighed(hide="h1", stage="soak", mass_g=900.0),
            RouteChanged(
                hide="h1", route="bark", stage="tan", begun=True, attended_at={2: hour(3)}
            ),
        ),
        hide(
            route="bark",
            stage="tan",
            arrived_at=hour(6),
            begun_at=hour(1),
            coats_at=(hour(1), hour(2)),
            failed_at=(hour(4),),
            attended_at={2: hour(3)},
            liquor="l1",
            weighed=(Weighed(at=hour(5), stage="tan", mass_g=900.0),),
            facts=6,
        ),
    ),
    "route changed within a stage that was never begun": (
        (TAKEN_IN, RouteChanged(hide="h1", route="bark", stage="tan", begun=True)),
        hide(route="bark", stage="tan", arrived_at=hour(1), left_at=hour(0), moved=True, facts=1),
    ),
    "lot split": (
        (LOT, BEGUN, SPLIT),
        ShopState(
            hides={
                "h1": lot(count=3, mass_g=1200.0, facts=2),
                "h2": lot(id="h2", name="Thin ones", count=2, mass_g=800.0),
            }
        ),
    ),
    "lot split while it dries": (
        (LOT, BEGUN, DryingWeighed(hide="h1", stage="soak", mass_g=900.0), SPLIT),
        ShopState(
            hides={
                "h1": lot(
                    count=3,
                    mass_g=1200.0,
                    weighed=(Weighed(at=hour(2), stage="soak", mass_g=540.0),),
                    facts=3,
                ),
                "h2": lot(
                    id="h2",
                    name="Thin ones",
                    count=2,
                    mass_g=800.0,
                    weighed=(Weighed(at=hour(2), stage="soak", mass_g=360.0),),
                ),
            }
        ),
    ),
    "lot split that was corrected to fewer": (
        (LOT, BEGUN, HideCorrected(hide="h1", name="Does", count=2, mass_g=None), SPLIT),
        ShopState(
            hides={
                "h1": lot(name="Does", count=1, mass_g=None, facts=3),
                "h2": lot(id="h2", name="Thin ones", count=2, mass_g=800.0),
            }
        ),
    ),
    "lot split between coats whose ringing was heard": (
        (LOT, BEGUN, TimerAcknowledged(timer="coat/h1/soak/2"), SPLIT),
        ShopState(
            hides={
                "h1": lot(count=3, mass_g=1200.0, facts=2),
                "h2": lot(id="h2", name="Thin ones", count=2, mass_g=800.0),
            },
            heard={"coat/h1/soak/2": hour(2), "coat/h2/soak/2": hour(2)},
        ),
    ),
    "liquor spoiled with a hide in it": (
        (MADE, TAKEN_IN, BEGUN, SPOILED),
        ShopState(
            hides={
                "h1": msgspec.structs.replace(
                    HIDE,
                    arrived_at=hour(3),
                    left_stage="soak",
                    left_hold_from=hour(2),
                    left_liquor="l1",
                    moved=True,
                    spoiled_at=hour(3),
                    spoiled_why="slimy",
                    facts=2,
                )
            },
            liquors={"l1": LIQUOR},
            spoiled={"l1": "slimy"},
        ),
    ),
    "dressing spoiled between two coats": (
        (MADE, TAKEN_IN, BEGUN, msgspec.structs.replace(SPOILED, out=())),
        ShopState(
            hides={
                "h1": msgspec.structs.replace(
                    HIDE,
                    arrived_at=hour(1),
                    begun_at=hour(2),
                    coats_at=(hour(2),),
                    liquor="l1",
                    spoiled_at=hour(3),
                    spoiled_why="slimy",
                    facts=2,
                )
            },
            liquors={"l1": LIQUOR},
            spoiled={"l1": "slimy"},
        ),
    ),
    "liquor spoiled before anything was in it": (
        (MADE, TAKEN_IN, SPOILED),
        ShopState(
            hides={"h1": msgspec.structs.replace(HIDE, arrived_at=hour(1), facts=1)},
            liquors={"l1": LIQUOR},
            spoiled={"l1": "slimy"},
        ),
    ),
    "hide lost": (
        (TAKEN_IN, BEGUN, HideLost(hide="h1", why="sold raw")),
        hide(
            begun_at=hour(1),
            coats_at=(hour(1),),
            liquor="l1",
            out_at=hour(2),
            out_why="sold raw",
            facts=2,
        ),
    ),
    "note written": ((TAKEN_IN, NoteWritten(hide="h1", text="thin belly")), hide()),
    "weigh-out begun": ((WEIGHING,), ShopState(weigh_outs={"w1": weigh_out()})),
    "weigh-out tapped": (
        (
            WEIGHING,
            WeighOutTapped(weigh_out="w1", tap=Read(reading_g=501.0)),
            WeighOutTapped(weigh_out="w1", tap=Accept()),
        ),
        ShopState(weigh_outs={"w1": weigh_out(taps=(Read(reading_g=501.0), Accept()))}),
    ),
    "weigh-out left": (
        (WEIGHING, WeighOutLeft(weigh_out="w1")),
        ShopState(weigh_outs={"w1": weigh_out(ended_at=hour(1))}),
    ),
    "liquor made": (
        (WEIGHING, LiquorMade(weigh_out="w1", liquor=LIQUOR)),
        ShopState(
            weigh_outs={"w1": weigh_out(ended_at=hour(1), liquor="l1")}, liquors={"l1": LIQUOR}
        ),
    ),
    "liquor made without a weigh-out": (
        (LiquorMade(weigh_out="", liquor=LIQUOR),),
        ShopState(liquors={"l1": LIQUOR}),
    ),
    "timer set": ((TIMER,), timer()),
    "timer paused": (
        (TIMER, TimerPaused(timer="t1", left_s=90.0)),
        timer(ends_at=None, left_s=90.0),
    ),
    "timer resumed": (
        (TIMER, TimerPaused(timer="t1", left_s=90.0), TimerResumed(timer="t1", ends_at=hour(9))),
        timer(ends_at=hour(9)),
    ),
    "timer extended after it rang": (
        (TIMER, TimerAcknowledged(timer="t1"), TimerExtended(timer="t1", ends_at=hour(9))),
        timer(ends_at=hour(9)),
    ),
    "timer named": ((TIMER, TimerNamed(timer="t1", name="Turn it")), timer(name="Turn it")),
    "timer cancelled": ((TIMER, TimerCancelled(timer="t1")), ShopState()),
    "timer heard": ((TIMER, TimerAcknowledged(timer="t1")), timer(acknowledged_at=hour(1))),
    "derived wait heard": (
        (TimerAcknowledged(timer="h1/oil/2"),),
        ShopState(heard={"h1/oil/2": hour(0)}),
    ),
    "shop set": ((ShopSet(shop=SHOP),), ShopState(shop=SHOP)),
    "hide corrected": (
        (TAKEN_IN, HideCorrected(hide="h1", name="Two goats", count=2, mass_g=4100.0)),
        hide(name="Two goats", count=2, mass_g=4100.0, facts=1),
    ),
    "undone": ((TAKEN_IN, BEGUN, Undone(tap=2)), hide()),
    "redone": (
        (TAKEN_IN, BEGUN, Undone(tap=2), Redone(tap=2)),
        hide(begun_at=hour(1), coats_at=(hour(1),), liquor="l1", facts=1),
    ),
    "undone, redone and undone again": (
        (TAKEN_IN, BEGUN, Undone(tap=2), Redone(tap=2), Undone(tap=2)),
        hide(),
    ),
    "undone for another hide": (
        (TAKEN_IN, BEGUN, Undone(tap=2, only="hide/h2")),
        hide(begun_at=hour(1), coats_at=(hour(1),), liquor="l1", facts=1),
    ),
    "time corrected": (
        (TAKEN_IN, BEGUN, TimeCorrected(tap=2, at=MORNING + timedelta(minutes=5))),
        hide(
            begun_at=MORNING + timedelta(minutes=5),
            coats_at=(MORNING + timedelta(minutes=5),),
            liquor="l1",
            facts=1,
        ),
    ),
    "time corrected twice": (
        (TAKEN_IN, TimeCorrected(tap=1, at=hour(-9)), TimeCorrected(tap=1, at=hour(-3))),
        hide(arrived_at=hour(-3)),
    ),
    "time corrected, and that taken back": (
        (TAKEN_IN, TimeCorrected(tap=1, at=hour(-9)), Undone(tap=2)),
        hide(),
    ),
    "time of a setting of a timer corrected": (
        (TIMER, TimeCorrected(tap=1, at=hour(-1))),
        timer(ends_at=NOON - timedelta(hours=1)),
    ),
    "archived": ((TAKEN_IN, LOST, MOVED), ShopState(archived={"h1": IN_ARCHIVE})),
    "archived with all that is its own": (
        (TAKEN_IN, TIMER, MADE, TimerAcknowledged(timer="coat/h1/oil/2"), ALL_MOVED),
        ShopState(archived={"h1": IN_ARCHIVE}),
    ),
    "archived, and the entries have left": ((MOVED,), ShopState(archived={"h1": IN_ARCHIVE})),
    "archived and brought back": ((TAKEN_IN, MOVED, HidesBroughtBack(hides=("h1",))), hide()),
    "brought back, and that taken back": (
        (TAKEN_IN, MOVED, HidesBroughtBack(hides=("h1",)), Undone(tap=3, about=("hide/h1",))),
        ShopState(archived={"h1": IN_ARCHIVE}),
    ),
    "time of a liquor's making corrected": (
        (MADE, TimeCorrected(tap=1, at=hour(-1))),
        ShopState(
            liquors={
                "l1": msgspec.structs.replace(LIQUOR, made_at=LIQUOR.made_at - timedelta(hours=1))
            }
        ),
    ),
}


@pytest.mark.parametrize("case", CASES)
def test_an_event_changes_exactly_what_it_says(case: str) -> None:
    """The whole state after each kind of event is the one written out beside it."""
    events, expected = CASES[case]
    assert expected == fold(happened(*events))


def test_the_table_misses_no_event() -> None:
    """A new kind of event cannot be added without a row above."""
    tried = {type(event) for events, _ in CASES.values() for event in events}
    assert set(get_args(Event)) == tried


@pytest.mark.parametrize(
    "event",
    [
        *(change for change in (BEGUN, *LOOKED_AFTER[2:], LEFT)),
        NoteWritten(hide="h1", text="whose?"),
        StageSkipped(hide="h1", stage="soak", next="oil"),
        RouteChanged(hide="h1", route="bark", stage="tan"),
        LotSplit(hide="h1", new_hide="h3", of="", name="", count=1),
        LotSplit(hide="h2", new_hide="h2", of="", name="", count=1),
        LiquorSpoiled(liquor="l1", why="slimy", hides=("h1", "h2"), out=("h2",)),
        HideLost(hide="h1", why="sold raw"),
        WeighOutTapped(weigh_out="w1", tap=Accept()),
        WeighOutLeft(weigh_out="w1"),
        TimerPaused(timer="t1", left_s=1.0),
        TimerResumed(timer="t1", ends_at=NOON),
        TimerExtended(timer="t1", ends_at=NOON),
        TimerNamed(timer="t1", name="nobody's"),
        TimerCancelled(timer="t1"),
        Undone(tap=77),
        Redone(tap=77),
        TimeCorrected(tap=77, at=NOON),
    ],
    ids=lambda event: type(event).__name__,
)
def test_an_event_about_an_unknown_thing_changes_nothing(event: Event) -> None:
    """A history with holes still opens, and what is known stays as it is."""
    others = (
        msgspec.structs.replace(TAKEN_IN, hide="h2"),
        msgspec.structs.replace(TIMER, timer="t2"),
    )
    assert fold(happened(*others)) == fold(happened(*others, event))


def test_the_hold_counts_from_the_last_coat() -> None:
    """The wait after a dressing starts with its last coat, and before the first there is none."""
    state = fold(happened(*LOOKED_AFTER))
    assert hour(2) == state.hides["h1"].hold_from
    assert fold(happened(TAKEN_IN)).hides["h1"].hold_from is None


def test_two_hides_do_not_touch_each_other() -> None:
    """What happens to one hide leaves its neighbour equal to itself."""
    neighbour = msgspec.structs.replace(TAKEN_IN, hide="h2")
    before = fold(happened(TAKEN_IN, neighbour))
    after = fold(happened(TAKEN_IN, neighbour, BEGUN, LEFT))
    assert before.hides["h2"] == after.hides["h2"]
    assert before.hides["h1"] != after.hides["h1"]


def test_apply_leaves_the_earlier_state_as_it_was() -> None:
    """A state that a screen still holds is not changed under it."""
    before = fold(happened(TAKEN_IN, BEGUN))
    copy = msgspec.json.encode(before)
    apply(before, happened(LOOKED_AFTER[3])[0])
    apply(before, happened(TIMER)[0])
    assert copy == msgspec.json.encode(before)


def test_it_counts_when_it_happened_not_when_it_was_written_down() -> None:
    """An act entered a day later still has its own time."""
    (entry,) = happened(TAKEN_IN)
    assert entry.recorded != entry.at
    assert entry.at == fold((entry,)).hides["h1"].arrived_at


@pytest.mark.parametrize(
    ("subjects", "event"),
    [
        (("hide/h1", "hide/h2"), SPLIT),
        (("liquor/l1", "hide/h1"), SPOILED),
        (("liquor/l1",), LiquorSpoiled(liquor="l1", why="slimy")),
        (("weigh-out/w1", "liquor/l1"), LiquorMade(weigh_out="w1", liquor=LIQUOR)),
        (("hide/h1", "hide/h2"), TimeCorrected(tap=1, at=NOON, about=("hide/h1", "hide/h2"))),
    ],
)
def test_an_event_about_several_things_is_about_each(
    subjects: tuple[str, ...], event: Event
) -> None:
    """A split is found from both its parts, a spoiled liquor from every hide it concerns."""
    assert subjects == subjects_of(event)
    history = happened(event)
    assert {1} == {last_tap(history, subject) for subject in subjects}


@pytest.mark.parametrize(
    ("subject", "event"),
    [
        ("hide/h1", TAKEN_IN),
        ("hide/h1", LEFT),
        ("weigh-out/w1", WEIGHING),
        ("timer/t1", TIMER),
        ("shop", ShopSet(shop=SHOP)),
    ],
)
def test_every_event_has_its_subject(subject: str, event: Event) -> None:
    """Undo asks for the last tap about a thing, by the thing's name."""
    assert (subject,) == subjects_of(event)


def test_last_tap_is_the_latest_that_stands() -> None:
    """Taps about other things and taps already taken back are passed over."""
    history = happened(TAKEN_IN, BEGUN, LEFT, TIMER, Undone(tap=3))
    assert last_tap(history, "hide/h1") == 2
    assert last_tap(history, "timer/t1") == 4
    assert last_tap(history, "hide/h9") is None
    assert last_tap((), "shop") is None
