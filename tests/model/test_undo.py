"""Undo as a law over random histories: a tap taken back might as well never have been given."""

from __future__ import annotations

from datetime import timedelta
from functools import reduce
from itertools import accumulate

import msgspec
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.model.events import Entry, Undone, subjects_of
from benchconsole.model.history import last_tap, standing
from benchconsole.model.state import ShopState, after, apply, fold
from tests.model.histories import histories


def taken_back(history: tuple[Entry, ...], tap: int) -> tuple[Entry, ...]:
    """The history with one more tap, the undoing of that one."""
    last = history[-1]
    at = last.at + timedelta(minutes=1)
    undone = Entry(seq=last.seq + 1, tap=last.tap + 1, at=at, recorded=at, event=Undone(tap=tap))
    return (*history, undone)


@settings(max_examples=150, deadline=None)
@given(history=histories)
def test_taking_back_the_last_tap_gives_the_state_before_it(history: tuple[Entry, ...]) -> None:
    """fold(entries + Undone(last tap)) == fold(entries without that tap)."""
    last = history[-1].tap
    assert fold(e for e in history if e.tap != last) == fold(taken_back(history, last))


@settings(max_examples=150, deadline=None)
@given(history=histories, data=st.data())
def test_any_tap_can_be_taken_back(history: tuple[Entry, ...], data: st.DataObject) -> None:
    """The law holds for every tap of the history, and all events of the tap fall together."""
    tap = data.draw(st.sampled_from(sorted({entry.tap for entry in history})))
    assert fold(e for e in history if e.tap != tap) == fold(taken_back(history, tap))


@settings(max_examples=100, deadline=None)
@given(history=histories, data=st.data())
def test_the_order_of_taking_back_makes_no_difference(
    history: tuple[Entry, ...], data: st.DataObject
) -> None:
    """Any taps, taken back in any order, once or twice: as if none of them had been given."""
    taps = sorted({entry.tap for entry in history})
    gone = data.draw(st.lists(st.sampled_from(taps), max_size=6))
    expected = fold(entry for entry in history if entry.tap not in gone)
    for tap in gone:
        history = taken_back(history, tap)
    assert expected == fold(history)


@settings(max_examples=100, deadline=None)
@given(history=histories)
def test_undo_pressed_again_and_again_empties_the_bench(history: tuple[Entry, ...]) -> None:
    """Each undo finds the next older standing tap, until nothing stands and the state is bare."""
    left = len({entry.tap for entry in history})
    while standing(history):
        tap = max(entry.tap for entry in standing(history))
        history = taken_back(history, tap)
        left -= 1
        assert left == len({entry.tap for entry in standing(history)})
    assert left == 0
    assert fold(()) == fold(history)


@settings(max_examples=100, deadline=None)
@given(history=histories, undone=st.integers(1, 12))
def test_last_tap_names_a_standing_tap_about_its_subject(
    history: tuple[Entry, ...], undone: int
) -> None:
    """For every subject it is the newest tap that still counts, and None only if there is none."""
    history = taken_back(history, undone)
    for subject in ("hide/h1", "hide/h2", "hide/h3", "liquor/l1", "timer/t1", "shop"):
        about = [e.tap for e in standing(history) if subject in subjects_of(e.event)]
        expected = about[-1] if about else None
        assert expected == last_tap(history, subject)


@settings(max_examples=150, deadline=None)
@given(history=histories, data=st.data())
def test_the_fold_is_one_entry_after_another(
    history: tuple[Entry, ...], data: st.DataObject
) -> None:
    """fold(entries) == apply step by step == any part of them, and then the rest in one go."""
    step_by_step = reduce(apply, history, ShopState())
    cut = data.draw(st.integers(0, len(history)))
    assert fold(history) == step_by_step
    assert step_by_step == after(fold(history[:cut]), history[cut:])


@settings(max_examples=100, deadline=None)
@given(history=histories)
def test_a_state_is_not_changed_by_what_comes_after(history: tuple[Entry, ...]) -> None:
    """Each state along the way still says at the end what it said when it was made."""
    states = list(accumulate(history, apply, initial=ShopState()))
    seen = [msgspec.msgpack.encode(state) for state in states]
    after(states[0], history)
    assert seen == [msgspec.msgpack.encode(state) for state in states]
