"""Taps of any log in words: with the names that stood then, and never without words."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import get_args

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.desk.told_taps import told_taps
from benchconsole.library import shipped_library
from benchconsole.model.events import (
    Attended,
    Event,
    HideCorrected,
    HideTakenIn,
    LotSplit,
    NoteWritten,
    Redone,
    ShopSet,
    StageBegun,
    TimeCorrected,
    TimerPaused,
    TimerSet,
    Undone,
)
from benchconsole.model.shop import Shop
from benchconsole.store.holdings import Tap
from tests.model.test_event_records import values_of

AT = datetime(2026, 3, 4, 9, tzinfo=UTC)
GOAT = HideTakenIn(
    hide="h1",
    name="Brown goat",
    species="goat",
    route="hair-on-alum-pelt",
    stage="soak",
    came="salted",
)


def taps(*events: Event | tuple[Event, ...]) -> list[Tap]:
    """One tap of each, an hour apart."""
    return [
        Tap(number, AT + timedelta(hours=number), each if isinstance(each, tuple) else (each,))
        for number, each in enumerate(events, start=1)
    ]


def words(every: list[Tap], told: list[Tap] | None = None) -> list[str]:
    """What is told of taps."""
    routes = shipped_library().routes
    return [said for _, said in told_taps(told or every, all_taps=every, routes=routes, zone=UTC)]


def test_every_kind_of_tap_says_whom_and_what() -> None:
    """Hides and timers by name, stages by their names in the route, the rest in plain words."""
    assert words(
        taps(
            GOAT,
            StageBegun(hide="h1", stage="soak"),
            LotSplit(hide="h1", of="Brown goat", new_hide="h2", name="Small goat", count=1),
            NoteWritten(hide="h2", text="thin"),
            TimerSet(timer="t1", name="Oil", ends_at=AT),
            TimerPaused(timer="t1", left_s=5.0),
            ShopSet(shop=Shop()),
            Undone(tap=4),
            Redone(tap=4),
            TimeCorrected(tap=2, at=AT),
            Undone(tap=99),
            tuple(Attended(hide=hide, stage="soak", attention=0) for hide in ("h1", "h2")),
        )
    ) == [
        "Brown goat: taken in salted",
        "Brown goat: “Soak” begun",
        "lot split: 1 skin of “Brown goat” as “Small goat”",
        "Small goat: note: thin",
        "timer “Oil” set",
        "Oil: timer paused",
        "the shop's settings written down",
        "taken back: Small goat: note: thin",
        "put back: Small goat: note: thin",
        "time corrected to Wed 4 Mar 2026 09:00: Brown goat: “Soak” begun",
        "taken back: something before these",
        "the round for 2 hides",
    ]


def test_a_name_is_the_one_of_its_time() -> None:
    """A hide that was given another name later is told by the one it had."""
    every = taps(
        GOAT,
        NoteWritten(hide="h1", text="a"),
        HideCorrected(hide="h1", name="White goat", mass_g=None, count=1),
        NoteWritten(hide="h1", text="b"),
    )
    assert words(every, [every[1], every[3]]) == ["Brown goat: note: a", "White goat: note: b"]


@pytest.mark.parametrize("kind", get_args(Event), ids=lambda kind: kind.__name__)
@settings(max_examples=8, deadline=None)
@given(data=st.data())
def test_no_tap_is_without_words(kind: type, data: st.DataObject) -> None:
    """Whatever is in an event, and though nothing is known of what it is about."""
    (told,) = words(taps(data.draw(values_of(kind))))
    assert told


def test_a_tap_of_another_version_is_told_as_one() -> None:
    """What cannot be read is in the list all the same."""
    assert words([Tap(1, None, ())]) == ["something that this version cannot read"]
