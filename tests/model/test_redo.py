"""Undo and redo as laws over random histories, against a plain model of what counts."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.model.events import (
    Attended,
    Entry,
    Event,
    HideTakenIn,
    LiquorMade,
    LotSplit,
    NoteWritten,
    Redone,
    StageBegun,
    StageLeft,
    TimeCorrected,
    Undone,
    subjects_of,
)
from benchconsole.model.history import History, standing
from benchconsole.model.state import fold
from benchconsole.model.taking_back import falls, last_taking, puts_back
from tests.model.histories import START, events, histories, liquor_named, numbered

SUBJECTS = ("hide/h1", "hide/h2", "hide/h3", "liquor/l1", "timer/t1", "shop")
subjects = st.sampled_from(SUBJECTS)


class Plain:
    """A history beside the bare list of its ordinary entries, each with what took it back."""

    def __init__(self, entries: Sequence[Entry] = ()) -> None:
        self.entries = tuple(entries)
        self.ordinary = list(entries)
        self.taken_by: dict[int, int] = {}

    @property
    def counting(self) -> list[Entry]:
        """What counts, by the plain model."""
        return [entry for entry in self.ordinary if entry.seq not in self.taken_by]

    def add(self, *together: Event) -> int:
        """One more tap; its number."""
        last = self.entries[-1] if self.entries else None
        tap, seq = (last.tap + 1, last.seq + 1) if last else (1, 1)
        at = START + timedelta(hours=tap)
        new = [
            Entry(seq=seq + place, tap=tap, at=at, recorded=at, event=event)
            for place, event in enumerate(together)
        ]
        self.entries += tuple(new)
        for event in together:
            if isinstance(event, Undone | Redone):
                self._take_or_put(event, tap)
        if not isinstance(together[0], Undone | Redone):
            self.ordinary += new
        return tap

    def _take_or_put(self, event: Undone | Redone, tap: int) -> None:
        for entry in self.ordinary:
            if entry.tap != event.tap or (
                event.only and event.only not in subjects_of(entry.event)
            ):
                continue
            if isinstance(event, Redone):
                self.taken_by.pop(entry.seq, None)
            else:
                self.taken_by.setdefault(entry.seq, tap)

    def undo(self, subject: str) -> bool:
        """Take back the last tap about a subject, if there is one."""
        about = [entry.tap for entry in self.counting if subject in subjects_of(entry.event)]
        if about:
            self.add(Undone(tap=about[-1]))
        return bool(about)

    def redo(self, subject: str) -> bool:
        """Put back what was last taken back about a subject, as far as that can be."""
        history = History(self.entries)
        taking = last_taking(history, subject)
        if taking is None:
            return False
        back = puts_back(history, taking)
        if back.blocked_by is None:
            self.add(*back.events)
        return back.blocked_by is None

    def back_to(self, tap: int) -> bool:
        """Take back a tap and what rests on it, if it stands."""
        gone = falls(History(self.entries), tap)
        if gone:
            self.add(*gone)
        return bool(gone)


steps = st.lists(
    st.one_of(
        st.tuples(st.just("tap"), st.lists(events, min_size=1, max_size=3)),
        st.tuples(st.just("undo"), subjects),
        st.tuples(st.just("redo"), subjects),
        st.tuples(st.just("back to"), st.integers(1, 15)),
    ),
    min_size=4,
    max_size=30,
)


@settings(max_examples=200, deadline=None)
@given(steps=steps)
def test_any_taps_undos_and_redos_leave_what_a_plain_list_says(
    steps: list[tuple[str, Any]],
) -> None:
    """Whatever is tapped, taken back and put back: the state is that of the entries that count.

    Read whole or grown tap by tap, and what is redone is the newest there is about a subject.
    """
    plain, grown = Plain(), History()
    for act, what in steps:
        before = len(plain.entries)
        if act == "tap":
            plain.add(*what)
        elif act == "redo":
            newest = max(
                (
                    plain.taken_by[entry.seq]
                    for entry in plain.ordinary
                    if entry.seq in plain.taken_by and what in subjects_of(entry.event)
                ),
                default=None,
            )
            assert newest == last_taking(History(plain.entries), str(what))
            plain.redo(str(what))
        elif act == "undo":
            plain.undo(str(what))
        else:
            plain.back_to(int(str(what)))
        grown.add(plain.entries[before:])
        assert tuple(plain.counting) == standing(plain.entries) == grown.standing
        assert plain.taken_by == History(plain.entries).taken_by
    assert fold(plain.counting) == fold(plain.entries)
    for subject in SUBJECTS:
        about = [entry for entry in plain.counting if subject in subjects_of(entry.event)]
        assert about == list(grown.about(subject))


@settings(max_examples=150, deadline=None)
@given(history=histories, subject=subjects)
def test_undo_then_redo_changes_nothing(history: tuple[Entry, ...], subject: str) -> None:
    """The state is the one before, and so is the next undo."""
    plain = Plain(history)
    before = fold(history)
    if plain.undo(subject):
        assert plain.redo(subject)
        assert before == fold(plain.entries)
        assert History(history).last_tap(subject) == History(plain.entries).last_tap(subject)


@settings(max_examples=100, deadline=None)
@given(history=histories, subject=subjects, data=st.data())
def test_so_many_undos_are_made_good_by_as_many_redos(
    history: tuple[Entry, ...], subject: str, data: st.DataObject
) -> None:
    """Every state on the way down is met again on the way up, and there is nothing above."""
    plain = Plain(history)
    many = data.draw(st.integers(1, 12))
    seen = [fold(history)]
    while len(seen) <= many and plain.undo(subject):
        seen.append(fold(plain.entries))
    for expected in reversed(seen[:-1]):
        assert plain.redo(subject)
        assert expected == fold(plain.entries)
    assert last_taking(History(plain.entries), subject) is None


@settings(max_examples=200, deadline=None)
@given(history=histories, data=st.data())
def test_taking_back_from_a_tap_on_is_one_tap_that_one_redo_makes_good(
    history: tuple[Entry, ...], data: st.DataObject
) -> None:
    """However many taps fall with it: one redo, asked for about anything of it, brings all back."""
    plain = Plain(history)
    tap = data.draw(st.sampled_from(sorted({entry.tap for entry in history})))
    before = fold(history)
    assert plain.back_to(tap)
    assert history[-1].tap + 1 == plain.entries[-1].tap
    gone = [entry for entry in history if entry not in plain.counting]
    assert tap == gone[0].tap
    about = sorted({subject for entry in gone for subject in subjects_of(entry.event)})
    assert plain.redo(data.draw(st.sampled_from(about)))
    assert before == fold(plain.entries)


@settings(max_examples=200, deadline=None)
@given(history=histories, data=st.data())
def test_nothing_is_left_standing_on_what_was_taken_back(
    history: tuple[Entry, ...], data: st.DataObject
) -> None:
    """No later tap about the same things stands, but for the hides told of a spoiled liquor."""
    plain = Plain(history)
    plain.back_to(data.draw(st.sampled_from(sorted({entry.tap for entry in history}))))
    for gone in history:
        if gone in plain.counting or isinstance(gone.event, Attended | NoteWritten):
            continue
        bare = set(subjects_of(gone.event))
        for later in plain.counting:
            about = subjects_of(later.event)
            if later.tap > gone.tap and about[0].startswith("liquor/"):
                assert about[0] not in bare
            elif later.tap > gone.tap:
                assert bare.isdisjoint(about)


@settings(max_examples=100, deadline=None)
@given(history=histories, subject=subjects, new=events)
def test_a_newer_tap_about_the_same_ends_the_putting_back(
    history: tuple[Entry, ...], subject: str, new: Event
) -> None:
    """As in an editor: what was taken back before it stays so, be the newer one taken back too."""
    plain = Plain(history)
    if not plain.undo(subject):
        return
    taking = plain.entries[-1].tap
    taken = [entry for entry in plain.ordinary if entry.seq in plain.taken_by]
    tap = plain.add(new)
    plain.add(Undone(tap=tap))
    blocked = puts_back(History(plain.entries), taking).blocked_by
    about = {each for entry in taken for each in subjects_of(entry.event)}
    if not about.isdisjoint(subjects_of(new)):
        assert blocked is not None
        assert tap == blocked.tap
    elif not any(isinstance(entry.event, StageBegun) for entry in taken):
        assert blocked is None


# --- cases one by one -----------------------------------------------------------------

TAKEN_IN = [
    HideTakenIn(hide=hide, name="Doe", species="deer", route="alum", stage="soak", came="salted")
    for hide in ("h1", "h2", "h3")
]
BEGUN = [StageBegun(hide=hide, stage="soak") for hide in ("h1", "h2", "h3")]
ROUND = [Attended(hide=hide, stage="soak", attention=0) for hide in ("h1", "h2", "h3")]
LEFT = StageLeft(hide="h1", stage="soak", next="pickle")


def told(taps: Sequence[Sequence[Event]], tap: int) -> list[tuple[int, str]]:
    """What falls with a tap of a history: the taps, each with the one share that falls."""
    return [(gone.tap, gone.only) for gone in falls(History(numbered(taps)), tap)]


def test_of_a_round_only_the_share_of_the_hide_falls() -> None:
    """Three hides were turned since; the first was never begun, the others were turned still."""
    taps = [TAKEN_IN, [BEGUN[0]], [BEGUN[1]], ROUND, [LEFT]]
    assert [(2, ""), (4, "hide/h1"), (5, "")] == told(taps, 2)
    plain = Plain(numbered(taps))
    plain.back_to(2)
    state = fold(plain.entries)
    assert {0} == set(state.hides["h2"].attended_at) == set(state.hides["h3"].attended_at)
    assert {} == state.hides["h1"].attended_at


def test_a_round_falls_whole_where_all_its_hides_are_taken_back() -> None:
    """Taken in by one tap: nothing of any of them is left."""
    assert [(1, ""), (2, "")] == told([TAKEN_IN, ROUND], 1)


def test_two_attentions_of_a_hide_in_one_round_fall_together() -> None:
    """One share is named once, however many attentions it holds."""
    twice = [*ROUND, Attended(hide="h1", stage="soak", attention=1)]
    taps = [TAKEN_IN, [BEGUN[0]], twice]
    assert [(2, ""), (3, "hide/h1")] == told(taps, 2)
    plain = Plain(numbered(taps))
    plain.back_to(2)
    assert {} == fold(plain.entries).hides["h1"].attended_at


def test_on_a_remark_or_an_attention_nothing_rests() -> None:
    """Taken back alone, whatever happened to the hide since."""
    note = NoteWritten(hide="h1", text="thin")
    assert [(2, "")] == told([TAKEN_IN, [note], [BEGUN[0]], [LEFT]], 2)
    assert [(3, "")] == told([TAKEN_IN, [BEGUN[0]], ROUND, [LEFT]], 3)


def test_with_a_split_falls_what_both_parts_did_since() -> None:
    """The part that goes would not be there at all."""
    split = LotSplit(hide="h1", new_hide="h9", of="Doe", name="Thin", count=1)
    begun = StageBegun(hide="h9", stage="soak")
    assert [(2, ""), (3, ""), (4, "")] == told([TAKEN_IN, [split], [begun], [BEGUN[0]]], 2)


def test_with_a_liquor_falls_what_was_begun_with_it() -> None:
    """A hide cannot lie in what was never made; it falls back, and others stay."""
    made = LiquorMade(weigh_out="w1", liquor=liquor_named("l1"))
    begun = StageBegun(hide="h1", stage="soak", liquor="l1")
    assert [(2, ""), (3, ""), (5, "")] == told([TAKEN_IN, [made], [begun], [BEGUN[1]], [LEFT]], 2)


def test_with_the_correction_of_a_time_fall_later_corrections_alone() -> None:
    """They were checked against it; what was tapped since has its own time."""
    corrections: list[list[Event]] = [
        [TimeCorrected(tap=tap, at=START, about=("hide/h1",))] for tap in (1, 2)
    ]
    taps = [TAKEN_IN[:1], [BEGUN[0]], corrections[0], [LEFT], corrections[1]]
    assert [(3, ""), (5, "")] == told(taps, 3)
    assert [(2, ""), (4, ""), (5, "")] == told(taps, 2)


def test_the_time_of_a_round_stays_corrected_for_the_hides_that_are_left() -> None:
    """One hide's share falls, and the walk was still when it was."""
    correction = TimeCorrected(tap=3, at=START, about=("hide/h1", "hide/h2", "hide/h3"))
    taps = [TAKEN_IN, [BEGUN[0]], ROUND, [correction]]
    assert [(2, ""), (3, "hide/h1")] == told(taps, 2)


def test_what_was_taken_from_under_it_comes_back_first() -> None:
    """The older of two takings back is put back with the newer one that it rests on."""
    plain = Plain(numbered([TAKEN_IN[:1], [BEGUN[0]], [LEFT]]))
    before = fold(plain.entries)
    plain.undo("hide/h1")
    first = plain.entries[-1].tap
    plain.undo("hide/h1")
    back = puts_back(History(plain.entries), first)
    assert [2, 3] == [event.tap for event in back.events]
    plain.add(*back.events)
    assert before == fold(plain.entries)


def test_what_is_taken_back_twice_is_counted_to_the_first() -> None:
    """The second took nothing, so there is nothing of it to put back."""
    plain = Plain(numbered([TAKEN_IN[:1], [Undone(tap=1)], [Undone(tap=1)]]))
    history = History(plain.entries)
    assert {1: 2} == history.taken_by
    assert last_taking(history, "hide/h1") == 2
