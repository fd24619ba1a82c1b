"""What archiving must never change, over any history: what stays, and what returns."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import timedelta
from typing import Any

import msgspec
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.clock import ManualClock
from benchconsole.desk import Desk
from benchconsole.errors import BenchError
from benchconsole.model.events import (
    Entry,
    HidesArchived,
    HideTakenIn,
    LiquorMade,
    TimerSet,
    WeighOutBegun,
    subjects_of,
)
from benchconsole.model.state import ShopState, fold
from benchconsole.store import MemoryRepository
from tests.desk.small_bench import Bench
from tests.desk.test_any_taps import HOURS, LIBRARY, TAPS, Tap, busy, lose, take_in

LATER = st.sampled_from([20, 31, 60, 500])
"""Days after which the shop is looked at again: before a month is over, and after a year."""


def worked(taps: Iterable[tuple[Tap, float]], out: Iterable[int], days: int) -> Bench:
    """A shop in which all this was done; the hides at these places were then taken out of work."""
    bench = busy()
    for tap, hours in taps:
        tapped(bench.desk, tap)
        bench.clock.advance(hours=hours)
    for place in out:
        tapped(bench.desk, lose(place))
    bench.clock.advance(days=days)
    return bench


def tapped(desk: Desk, tap: Tap) -> str:
    """What became of a tap: its name of fault, or nothing."""
    try:
        tap(desk)
    except BenchError as fault:
        return type(fault).__name__
    return ""


def beside(bench: Bench, entries: tuple[Entry, ...]) -> Desk:
    """A desk of its own at the same moment, over a history."""
    return Desk(MemoryRepository(entries), ManualClock(bench.clock.now()), LIBRARY)


def seen(desk: Desk, hides: Iterable[str]) -> list[Any]:
    """All that the bench shows of some hides, and its timers."""
    rows = [row for row in desk.hides.rows() if row.hide.id in set(hides)]
    return [rows, [desk.hides.card(row.hide.id) for row in rows], desk.timers.all()]


def without(state: ShopState, moved: HidesArchived) -> ShopState:
    """The tables without what was moved."""
    hides = {hide.id for hide in moved.hides}
    gone = hides | set(moved.gone)
    return msgspec.structs.replace(
        state,
        hides={name: hide for name, hide in state.hides.items() if name not in hides},
        heard={k: at for k, at in state.heard.items() if k.split("/")[1] not in gone},
        timers={k: each for k, each in state.timers.items() if k not in moved.timers},
        weigh_outs={k: each for k, each in state.weigh_outs.items() if k not in moved.weigh_outs},
        liquors={k: each for k, each in state.liquors.items() if k not in moved.liquors},
        spoiled={k: each for k, each in state.spoiled.items() if k not in moved.liquors},
        archived={hide.id: hide for hide in moved.hides},
    )


SHOPS = st.builds(
    worked,
    st.lists(st.tuples(TAPS, HOURS), min_size=5, max_size=30),
    st.lists(st.integers(0, 3), max_size=3),
    LATER,
)


@settings(max_examples=80, deadline=None)
@given(SHOPS, st.lists(st.tuples(TAPS, HOURS), max_size=8))
def test_what_stays_is_as_if_nothing_had_been_moved(
    bench: Bench, then: list[tuple[Tap, float]]
) -> None:
    """State, cards, actions and timers of what stays, with and without the entries that left."""
    before = bench.repository.entries()
    bench.desk.moving_out.all()
    after = bench.repository.entries()
    moved = [entry for entry in after if isinstance(entry.event, HidesArchived)]
    assert fold(after) == bench.desk.hides._ledger.state
    if not moved:
        assert before == after
        return
    event = moved[0].event
    assert isinstance(event, HidesArchived)
    full = beside(bench, (*before, moved[0]))
    assert fold(full.hides._ledger.entries) == fold(after) == without(fold(before), event)
    for place, (tap, hours) in enumerate(then):
        assert tapped(full, tap) == tapped(bench.desk, tap), place
        full._ledger.clock.advance(hours=hours)
        bench.clock.advance(hours=hours)
    ids = bench.desk.hides.ids()
    assert seen(full, ids) == seen(bench.desk, ids)


@settings(max_examples=80, deadline=None)
@given(SHOPS)
def test_what_is_brought_back_is_as_it_was(bench: Bench) -> None:
    """Every hide returns as it stood, with its card, its liquors and its whole history."""
    before = fold(bench.repository.entries())
    entries = bench.repository.entries()
    beside_it = beside(bench, entries)
    was = {hide: beside_it.hides.card(hide) for hide in beside_it.hides.ids()}
    bench.desk.moving_out.all()
    away = list(bench.state.archived)
    for hide in away:
        if hide in bench.state.archived:
            bench.desk.archive.bring_back(hide)
    desk = bench.reopened()
    assert before.hides == bench.state.hides == desk.hides._ledger.state.hides
    assert not bench.state.archived
    for hide in away:
        card = desk.hides.card(hide)
        assert was[hide].liquors == card.liquors
        assert was[hide].spoiled == card.spoiled
        assert was[hide].history == card.history[: len(was[hide].history)]
        assert was[hide].action == card.action
    assert desk.moving_out.ask().leaving().event.hides == ()


@settings(max_examples=40, deadline=None)
@given(SHOPS, st.integers(0, 60))
def test_the_shop_of_an_earlier_day_is_the_same(bench: Bench, days: int) -> None:
    """Looking back to a day before the move shows the hides that went since."""
    then = bench.clock.now() - timedelta(days=days, hours=1)
    before = bench.desk.as_of(then)
    ids = before.hides.ids()
    was = seen(before, ids)
    bench.desk.moving_out.all()
    after = bench.desk.as_of(then)
    assert ids == after.hides.ids()
    assert was[:1] == seen(after, ids)[:1]


@settings(max_examples=40, deadline=None)
@given(SHOPS)
def test_no_id_is_given_twice(bench: Bench) -> None:
    """New hides, timers, weigh-outs and liquors get ids that nothing in the archive has."""
    used = {subject for e in bench.repository.entries() for subject in subjects_of(e.event)}
    bench.desk.moving_out.all()
    before = bench.repository.entries()
    desk = bench.desk
    take_in(desk)
    desk.timers.set("Warm water", "5 min")
    left = desk.weigh_outs.unfinished()
    sheet = desk.worksheet("salt-citric-pickle")
    view = desk.weigh_outs.begin(sheet, instead_of=left.id if left else "")
    while not view.done:
        view = desk.weigh_outs.accept(view.weigh_out.id)
    desk.weigh_outs.finish(view.weigh_out.id)
    new = bench.repository.entries()[len(before) :]
    begun = [e for e in new if isinstance(e.event, HideTakenIn | TimerSet | WeighOutBegun)]
    made = [f"liquor/{e.event.liquor.id}" for e in new if isinstance(e.event, LiquorMade)]
    ids = {subjects_of(entry.event)[0] for entry in begun} | set(made)
    assert 4 == len(ids)
    assert ids.isdisjoint(used)
