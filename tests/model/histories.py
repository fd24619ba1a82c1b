"""Random histories of a small shop: few things, so that taps often meet."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, datetime, timedelta

from hypothesis import strategies as st

from benchconsole.model.events import (
    Attended,
    CheckFailed,
    CoatGiven,
    Entry,
    Event,
    HideLost,
    HideTakenIn,
    LiquorMade,
    LiquorSpoiled,
    LotSplit,
    NoteWritten,
    RouteChanged,
    ShopSet,
    StageBegun,
    StageLeft,
    StageSkipped,
    StartChosen,
    TimerAcknowledged,
    TimerCancelled,
    TimerExtended,
    TimerPaused,
    TimerSet,
)
from benchconsole.model.shop import Shop
from benchconsole.model.weighing import Liquor

START = datetime(2026, 3, 1, 8, tzinfo=UTC)

hides = st.sampled_from(("h1", "h2", "h3"))
stages = st.sampled_from(("soak", "pickle", "oil"))
timers = st.sampled_from(("t1", "t2", "h1/oil/2"))
instants = st.integers(1, 500).map(lambda hours: START + timedelta(hours=hours))


def liquor_named(name: str) -> Liquor:
    """A liquor of no consequence."""
    return Liquor(
        id=name,
        formula="f",
        formula_name="F",
        factor=1.0,
        lines=(),
        volume_l=10.0,
        density_kg_m3=1030.0,
        strengths=(),
        water_celsius=15.0,
        made_at=START,
    )


liquors = st.sampled_from(("l1", "l2")).map(liquor_named)
events: st.SearchStrategy[Event] = st.one_of(
    st.builds(
        HideTakenIn,
        hide=hides,
        name=st.just("Doe"),
        species=st.just("deer"),
        route=st.just("alum"),
        stage=stages,
        came=st.just("salted"),
    ),
    st.builds(StageBegun, hide=hides, stage=stages, liquor=st.sampled_from(("", "l1", "l2"))),
    st.builds(CoatGiven, hide=hides, stage=stages, coat=st.integers(2, 4)),
    st.builds(Attended, hide=hides, stage=stages, attention=st.integers(0, 2)),
    st.builds(NoteWritten, hide=hides, text=st.just("thin belly")),
    st.builds(CheckFailed, hide=hides, stage=stages),
    st.builds(StageLeft, hide=hides, stage=stages, next=st.one_of(st.just(""), stages)),
    st.builds(StageSkipped, hide=hides, stage=stages, next=st.one_of(st.just(""), stages)),
    st.builds(
        RouteChanged,
        hide=hides,
        route=st.sampled_from(("alum", "bark")),
        stage=stages,
        begun=st.booleans(),
    ),
    st.builds(
        LotSplit,
        hide=hides,
        new_hide=st.sampled_from(("h1", "h2", "h3")),
        of=st.just("Doe"),
        name=st.just("Thin"),
        count=st.integers(1, 3),
        mass_g=st.none() | st.just(500.0),
    ),
    st.builds(LiquorMade, weigh_out=st.just("w1"), liquor=liquors),
    st.builds(
        LiquorSpoiled,
        liquor=st.sampled_from(("l1", "l2")),
        why=st.just("slimy"),
        hides=st.lists(hides, max_size=2).map(tuple),
        out=st.lists(hides, max_size=2).map(tuple),
    ),
    st.builds(HideLost, hide=hides, why=st.just("sold raw")),
    st.builds(StartChosen, hide=hides, start_at=st.none() | instants),
    st.builds(TimerSet, timer=timers, name=st.just("turn"), ends_at=instants),
    st.builds(TimerPaused, timer=timers, left_s=st.floats(0, 9000)),
    st.builds(TimerExtended, timer=timers, ends_at=instants),
    st.builds(TimerAcknowledged, timer=timers),
    st.builds(TimerCancelled, timer=timers),
    st.builds(ShopSet, shop=st.builds(Shop, name=st.sampled_from(("Barn", "Yard")))),
)


def numbered(taps: Iterable[Iterable[Event]]) -> tuple[Entry, ...]:
    """Taps of one or more events as a history, an hour apart."""
    history: list[Entry] = []
    for tap, together in enumerate(taps, start=1):
        at = START + timedelta(hours=tap)
        for event in together:
            seq = len(history) + 1
            history.append(Entry(seq=seq, tap=tap, at=at, recorded=at, event=event))
    return tuple(history)


histories = st.lists(st.lists(events, min_size=1, max_size=3), min_size=1, max_size=12).map(
    numbered
)
