"""The history at the desk: read, taken back from any tap on, put back, its times corrected."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from benchconsole.desk import Desk
from benchconsole.errors import BadInput, BenchError, NotKnown, NotPossibleNow
from benchconsole.library import shipped_library
from benchconsole.model.events import Attended, Redone, TimeCorrected, Undone
from benchconsole.model.state import ShopState
from tests.desk.small_bench import NOON, Bench

GOAT, RED, DOE = "brown-goat", "red-goat", "doe"
LIBRARY = shipped_library()


def state(desk: Desk) -> ShopState:
    """What this desk goes by."""
    return desk.hides._ledger.state


@pytest.fixture
def tended(bench: Bench) -> Bench:
    """Two goats in the soak and a doe still to begin, tended to on a round of two.

    Taps: 1-3 taken in, 4 and 5 begun, 6 the round, 7 a remark, 8 the brown goat passed.
    """
    for name in ("Brown goat", "Red goat", "Doe"):
        bench.take_in(name)
        bench.clock.advance(minutes=10)
    for hide in (GOAT, RED):
        bench.desk.hides.done(hide)
        bench.clock.advance(minutes=10)
    bench.clock.advance(minutes=55)
    due = bench.desk.rounds.due()
    assert due is not None
    assert {GOAT, RED} == {given.hide for given in due.gives}
    bench.desk.rounds.give(due)
    bench.clock.advance(minutes=5)
    bench.desk.hides.note(GOAT, "belly thin")
    bench.clock.advance(hours=12)
    bench.desk.hides.passed(GOAT)
    bench.clock.advance(minutes=5)
    return bench


def back(bench: Bench, tap: int) -> str:
    """Take back from a tap on."""
    return bench.desk.taps.take_back(bench.desk.taps.falls(tap))


# --- reading it -----------------------------------------------------------------------


def test_the_history_is_told_newest_first(tended: Bench) -> None:
    """Every tap with what it is about and what it says; a round is one line."""
    taps = tended.desk.taps
    lines = [taps.line(tap) for tap in taps.numbers()]
    assert [8, 7, 6, 5, 4, 3, 2, 1] == [line.tap for line in lines]
    assert [
        ("Brown goat", "“Soak” done; next “Flesh”"),
        ("Brown goat", "note: belly thin"),
        ("2 hides: Brown goat, Red goat", "the round for 2 hides"),
        ("Red goat", "“Soak” begun"),
        ("Brown goat", "“Soak” begun"),
        ("Doe", "taken in salted"),
        ("Red goat", "taken in salted"),
        ("Brown goat", "taken in salted"),
    ] == [(line.about, line.words) for line in lines]
    assert all(line.counts == "yes" and line.at == line.recorded for line in lines)


def test_the_history_of_a_hide_is_what_it_is_about(tended: Bench) -> None:
    """A hide's own taps and the rounds it was on, and its lot's before the split."""
    assert (6, 5, 2) == tended.desk.taps.numbers(RED)
    lot = tended.take_in("Lot", count="3")
    tended.desk.moves.split(lot, count="1", name="Thin one")
    tended.desk.hides.note(lot, "of the lot alone")
    assert (10, 9) == tended.desk.taps.numbers("thin-one")
    assert (11, 10, 9) == tended.desk.taps.numbers(lot)


def test_what_was_taken_back_stays_in_the_history(tended: Bench) -> None:
    """With when that was; the taking back is no line of its own."""
    back(tended, 8)
    line = tended.desk.taps.line(8)
    assert ("no", tended.clock.now()) == (line.counts, line.taken_back_at)
    assert 8 == tended.desk.taps.numbers()[0] == tended.desk.taps.numbers(GOAT)[0]
    with pytest.raises(NotKnown):
        tended.desk.taps.line(9)


def test_everything_else_has_words_too(bench: Bench) -> None:
    """Timers, weigh-outs, settings and corrections are told, each by its name."""
    desk = bench.desk
    desk.settings.set({"name": "Yard"})
    desk.timers.set("Rinse", "5 min")
    desk.timers.pause_or_go_on("t1")
    weigh_out = desk.weigh_outs.begin(desk.worksheet("salt-cure")).weigh_out.id
    desk.weigh_outs.accept(weigh_out)
    desk.weigh_outs.finish(weigh_out)
    bench.clock.advance(minutes=1)
    desk.taps.correct_time(2, "1 min earlier")
    told = [(line.about, line.words) for line in map(desk.taps.line, desk.taps.numbers())]
    assert [
        ("Rinse", "time corrected to Mon 1 Jun 2026 11:59 (timer “Rinse” set)"),
        ("Salt cure", "liquor L1 made: Salt cure"),
        ("Salt cure", "at the scale: brought to what was asked for"),
    ] == [(about, words) for about, words in told[:3]]
    assert ("Rinse", "timer paused") == told[4]
    assert ("shop", "the shop's settings written down") == told[6]


# --- taking back and putting back -----------------------------------------------------


def test_taking_back_tells_first_what_falls_with_it(tended: Bench) -> None:
    """All later taps of the hide, of the round only its share; nothing is stored by asking."""
    change = tended.desk.taps.falls(4)
    assert [8, 7, 6, 4] == [line.tap for line in change.lines]
    assert {6: "Brown goat"} == change.in_part
    assert 8 == tended.taps


def test_it_is_one_tap_and_one_redo_brings_it_back(tended: Bench) -> None:
    """The state is that before the hide was begun, and then the one from before again."""
    before, red = tended.state, tended.state.hides[RED]
    said = back(tended, 4)
    assert said == (
        "Taken back: Brown goat: “Soak” done; next “Flesh”; Brown goat: note: belly thin; "
        "and 2 more"
    )
    assert 9 == tended.taps
    assert tended.state.hides[GOAT].begun_at is None
    assert {} == tended.state.hides[GOAT].attended_at
    assert red == tended.state.hides[RED]
    assert "in part" == tended.desk.taps.line(6).counts
    tended.desk.taps.put_back_last(f"hide/{GOAT}")
    assert 10 == tended.taps
    assert before == tended.state == state(tended.desk) == state(tended.reopened())


def test_undo_and_redo_walk_down_and_up(tended: Bench) -> None:
    """Three times down, three times up, and there is nothing above; undo works again after."""
    seen = [tended.state]
    for _ in range(3):
        tended.desk.hides.undo(GOAT)
        seen.append(tended.state)
    for expected in reversed(seen[:-1]):
        tended.desk.taps.put_back_last(f"hide/{GOAT}")
        assert expected == tended.state == state(tended.desk)
    with pytest.raises(NotPossibleNow, match="nothing to put back"):
        tended.desk.taps.put_back_last(f"hide/{GOAT}")
    tended.desk.hides.undo(GOAT)
    assert seen[1] == tended.state


def test_a_round_is_taken_back_and_put_back_whole_by_its_own_tap(tended: Bench) -> None:
    """Nothing rests on it, so nothing else falls."""
    before = tended.state
    assert [6] == [line.tap for line in tended.desk.taps.falls(6).lines]
    back(tended, 6)
    assert {} == tended.state.hides[RED].attended_at == tended.state.hides[GOAT].attended_at
    assert "flesh" == tended.state.hides[GOAT].stage
    tended.desk.taps.put_back(tended.desk.taps.comes_back(6))
    assert before == tended.state


def test_a_newer_tap_ends_the_putting_back(tended: Bench) -> None:
    """The refusal names what came since; another hide's tap does not matter."""
    tended.desk.hides.undo(GOAT)
    tended.desk.hides.note(RED, "well")
    tended.desk.hides.note(GOAT, "not yet through")
    for put_back in (
        lambda: tended.desk.taps.put_back_last(f"hide/{GOAT}"),
        lambda: tended.desk.taps.comes_back(8),
    ):
        with pytest.raises(
            NotPossibleNow, match=r"^Brown goat has gone on since \(note: not yet through\)"
        ):
            put_back()


def test_a_hide_whose_coming_was_taken_back_comes_back(tended: Bench) -> None:
    """By the name of the hide, which the shop knows no more."""
    before = tended.state
    back(tended, 3)
    assert DOE not in tended.state.hides
    assert "Put back: Doe: taken in salted" == tended.desk.taps.put_back_last(f"hide/{DOE}")
    assert before == tended.state


def test_the_older_of_two_takings_comes_back_with_the_newer(tended: Bench) -> None:
    """Told before it is done; the newer one alone comes first by the plain redo."""
    before = tended.state
    tended.desk.hides.undo(GOAT)
    tended.desk.hides.undo(GOAT)
    change = tended.desk.taps.comes_back(8)
    assert [8, 7] == [line.tap for line in change.lines]
    tended.desk.taps.put_back(change)
    assert before == tended.state


def test_redo_of_a_round_waits_for_what_was_taken_back_under_it(tended: Bench) -> None:
    """The red goat is in no bath any more: stirring cannot come back before its beginning."""
    for hide in (GOAT, GOAT, RED, RED):
        tended.desk.hides.undo(hide)
    with pytest.raises(NotPossibleNow, match=r"^Red goat: .* put back first"):
        tended.desk.taps.put_back_last(f"hide/{GOAT}")
    tended.desk.taps.put_back_last(f"hide/{RED}")
    assert tended.desk.taps.put_back_last(f"hide/{GOAT}").startswith("Put back: 2 hides")


def test_what_is_asked_wrongly_is_refused(tended: Bench) -> None:
    """A tap that stands is not put back, one taken back not again, an unknown one neither."""
    taps = tended.desk.taps
    with pytest.raises(NotPossibleNow, match="It counts"):
        taps.comes_back(8)
    back(tended, 8)
    with pytest.raises(NotPossibleNow, match="taken back before"):
        taps.falls(8)
    for ask in (taps.falls, taps.comes_back, taps.line, taps.room):
        for unknown in (0, -1, 9, 99):
            with pytest.raises(NotKnown):
                ask(unknown)
    with pytest.raises(NotPossibleNow, match="nothing to put back"):
        taps.put_back_last("hide/nobody")


def test_a_picture_that_has_grown_old_changes_nothing(tended: Bench) -> None:
    """Between the question and the answer something was tapped: look again."""
    change = tended.desk.taps.falls(4)
    tended.desk.hides.note(DOE, "large")
    with pytest.raises(NotPossibleNow, match="since you looked"):
        tended.desk.taps.take_back(change)
    assert 9 == tended.taps


def test_only_one_weigh_out_can_be_on_the_scale(bench: Bench) -> None:
    """Taking back the end of one while another is begun would leave two."""
    desk = bench.desk
    first = desk.weigh_outs.begin(desk.worksheet("salt-cure")).weigh_out.id
    desk.weigh_outs.give_up(first)
    desk.weigh_outs.begin(desk.worksheet("alum-salt-bath"))
    with pytest.raises(NotPossibleNow, match="Two weigh-outs would be unfinished"):
        back(bench, 2)
    assert 3 == bench.taps


def test_a_liquor_falls_with_the_hide_that_lies_in_it(bench: Bench) -> None:
    """It is told before, and one redo brings both back."""
    bench.take_in()
    desk = bench.desk
    desk.moves.move(GOAT, stage="alum")
    weigh_out = desk.weigh_outs.begin(desk.worksheet("alum-salt-bath"), [GOAT]).weigh_out.id
    while not desk.weigh_outs.view(weigh_out).done:
        desk.weigh_outs.accept(weigh_out)
    desk.weigh_outs.finish(weigh_out)
    made = bench.taps
    desk.hides.done(GOAT)
    before = bench.state
    assert "L1" == before.hides[GOAT].liquor
    change = desk.taps.falls(made)
    assert [made + 1, made] == [line.tap for line in change.lines]
    desk.taps.take_back(change)
    assert {} == bench.state.liquors
    assert bench.state.hides[GOAT].begun_at is None
    desk.taps.put_back_last(f"hide/{GOAT}")
    assert before == bench.state


# --- correcting times -----------------------------------------------------------------


def test_a_corrected_time_moves_what_follows_from_it(tended: Bench) -> None:
    """The hold counts from there, the history shows it, and when it was written down stays."""
    was = tended.state.hides[RED].begun_at
    assert was is not None
    due = tended.desk.hides.action_of(RED).due
    said = tended.desk.taps.correct_time(5, "30 min earlier")
    assert "Red goat: “Soak” begun: now Mon 1 Jun 2026 12:10" == said
    assert was - timedelta(minutes=30) == tended.state.hides[RED].begun_at
    line = tended.desk.taps.line(5)
    assert (was - timedelta(minutes=30), was) == (line.at, line.recorded)
    assert state(tended.reopened()) == tended.state == state(tended.desk)
    assert due != tended.desk.hides.action_of(RED).due
    (told,) = [at for at, words in tended.desk.hides.card(RED).history if "begun" in words][:1]
    assert line.at == told


def test_a_hold_and_its_window_follow(bench: Bench) -> None:
    """Begun four hours before: the look is due four hours sooner."""
    bench.take_in()
    bench.clock.advance(hours=5)
    bench.desk.hides.done(GOAT)
    route = bench.desk.library.routes["hair-on-alum-pelt"]
    soak = next(stage for stage in route.stages if stage.id == "soak")
    hold = soak.hold_for("goat", "salted")
    assert hold is not None
    before = bench.desk.hides.look_of(GOAT).latest
    bench.desk.taps.correct_time(2, "4 h earlier")
    assert bench.state.hides[GOAT].begun_at == NOON + timedelta(hours=1)
    assert before is not None
    assert before - timedelta(hours=4) == bench.desk.hides.look_of(GOAT).latest


def test_a_coat_wait_follows(bench: Bench) -> None:
    """The second coat is waited for from when the first really went on."""
    bench.take_in()
    bench.desk.moves.move(GOAT, stage="oil")
    bench.clock.advance(minutes=30)
    bench.desk.hides.done(GOAT)
    (wait,) = bench.desk.timers.all()
    bench.clock.advance(minutes=1)
    bench.desk.taps.correct_time(3, "10 min earlier")
    (corrected,) = bench.desk.timers.all()
    assert wait.ends_at is not None
    assert wait.ends_at - timedelta(minutes=10) == corrected.ends_at


def test_a_timer_follows(bench: Bench) -> None:
    """Set ten minutes before: it ends ten minutes sooner, and rings at once if that is past."""
    bench.desk.timers.set("Rinse", "15 min")
    bench.clock.advance(minutes=8)
    bench.desk.taps.correct_time(1, "10 min earlier")
    (rinse,) = bench.desk.timers.all()
    assert (NOON + timedelta(minutes=5), "ringing") == (rinse.ends_at, rinse.state)
    bench.desk.timers.undo("t1")
    assert NOON + timedelta(minutes=15) == bench.desk.timers.all()[0].ends_at


def test_a_correction_is_taken_back_and_put_back(tended: Bench) -> None:
    """Like any other tap, from the card of the hide it is about."""
    before = tended.state
    tended.desk.taps.correct_time(5, "30 min earlier")
    corrected = tended.state
    assert "Red goat: taken back: time corrected to Mon 1 Jun 2026 12:10" == (
        tended.desk.hides.undo(RED)
    )
    assert before == tended.state == state(tended.desk)
    tended.desk.taps.put_back_last(f"hide/{RED}")
    assert corrected == tended.state == state(tended.desk)


@pytest.mark.parametrize("text", ["09:00", "31 May 23:00", "3 h earlier", "1 min later", "5:59 pm"])
def test_a_time_stays_between_its_neighbours(tended: Bench, text: str) -> None:
    """Not before the hide came nor after it was tended to; the sentence says from when to when."""
    tended.desk.taps.correct_time(6, "13:50")
    text = text.replace("1 min later", "13:51").replace("5:59 pm", "2 Jun 01:00")
    with pytest.raises(BadInput) as refused:
        tended.desk.taps.correct_time(4, text)
    assert "time" == refused.value.field
    assert "from Mon 1 Jun 2026 12:00 to Mon 1 Jun 2026 13:50" in str(refused.value)
    assert 9 == tended.taps
    tended.desk.taps.correct_time(4, refused.value.example)
    assert 10 == tended.taps


def test_nothing_happens_in_the_future(tended: Bench) -> None:
    """The last tap of a hide can be no later than now."""
    with pytest.raises(BadInput, match="it must lie from"):
        tended.desk.taps.correct_time(8, "2 h later")
    assert tended.clock.now() == tended.desk.taps.room(8).latest


def test_a_correction_bounds_no_time_by_its_own(tended: Bench) -> None:
    """It is about the past: a tap may have been later than the moment its time was first mended."""
    tended.desk.taps.correct_time(8, "5 min earlier")
    tended.clock.advance(hours=1)
    tended.desk.taps.correct_time(8, "30 min later")
    assert tended.clock.now() == tended.desk.taps.room(8).latest


def test_nothing_lies_in_a_liquor_before_it_was_made(bench: Bench) -> None:
    """The hide came long before, but the bath was ready at half past twelve."""
    bench.take_in()
    desk = bench.desk
    desk.moves.move(GOAT, stage="alum")
    bench.clock.advance(minutes=30)
    weigh_out = desk.weigh_outs.begin(desk.worksheet("alum-salt-bath"), [GOAT]).weigh_out.id
    while not desk.weigh_outs.view(weigh_out).done:
        desk.weigh_outs.accept(weigh_out)
    desk.weigh_outs.finish(weigh_out)
    bench.clock.advance(minutes=30)
    desk.hides.done(GOAT)
    assert NOON + timedelta(minutes=30) == desk.taps.room(bench.taps).earliest
    with pytest.raises(BadInput, match="from Mon 1 Jun 2026 12:30"):
        desk.taps.correct_time(bench.taps, "12:15")


def test_the_minute_of_the_neighbour_will_do(bench: Bench) -> None:
    """Times are typed to the minute: in the same one it comes just after the tap before."""
    bench.clock.advance(seconds=40)
    bench.take_in()
    bench.clock.advance(minutes=9)
    bench.desk.hides.done(GOAT)
    bench.desk.taps.correct_time(2, "12:00")
    hide = bench.state.hides[GOAT]
    assert NOON + timedelta(seconds=40) == hide.arrived_at == hide.begun_at


def test_the_same_minute_changes_nothing(tended: Bench) -> None:
    """What the form shows to begin with can be handed in as it is."""
    assert "nothing was changed" in tended.desk.taps.correct_time(8, "2 Jun 01:50")
    assert 8 == tended.taps


def test_some_taps_have_no_time_to_correct(tended: Bench) -> None:
    """Settings, a correction, what was taken back, and what a move to another route rests on."""
    desk = tended.desk
    desk.settings.set({"name": "Yard"})
    desk.taps.correct_time(5, "5 min earlier")
    back(tended, 8)
    desk.moves.move(RED, route="hair-off-white-leather", stage="lime")
    for tap, why in (
        (9, "no time to correct"),
        (10, "correction itself"),
        (8, "taken back"),
        (5, "Red goat was moved to another route since"),
    ):
        with pytest.raises(NotPossibleNow, match=why):
            desk.taps.correct_time(tap, "5 min earlier")


def test_a_split_off_hide_keeps_the_times_of_its_lot_when_moved(bench: Bench) -> None:
    """Its move to another route went by the beginning of the whole lot."""
    bench.take_in("Lot", count="3")
    bench.clock.advance(hours=1)
    bench.desk.hides.done("lot")
    bench.desk.moves.split("lot", count="1", name="Thin one")
    bench.desk.moves.move("thin-one", route="hair-off-white-leather", stage="lime")
    with pytest.raises(NotPossibleNow, match="Thin one was moved to another route"):
        bench.desk.taps.correct_time(2, "5 min earlier")


def test_as_of_an_earlier_hour_goes_by_the_corrected_times(tended: Bench) -> None:
    """The shop as it stood, by what is known now: the correction itself is not there twice."""
    tended.desk.taps.correct_time(5, "30 min earlier")
    then = tended.desk.as_of(NOON + timedelta(minutes=12))
    assert then.hides.get(RED).begun_at == NOON + timedelta(minutes=10)
    assert then.hides.get(GOAT).begun_at is None


# --- whatever is done -----------------------------------------------------------------

ACTS = st.lists(
    st.tuples(
        st.sampled_from(
            ["note", "round", "round", "done", "back", "back", "last", "put", "time", "time"]
        ),
        st.integers(1, 24),
        st.integers(-300, 60),
    ),
    max_size=14,
)


def act_on(bench: Bench, act: str, number: int, minutes: int) -> None:
    """One tap about a goat or about the past."""
    hides, taps = bench.desk.hides, bench.desk.taps
    hide = (GOAT, RED)[number % 2]
    match act:
        case "note":
            hides.note(hide, f"note {number}")
        case "done":
            hides.done(hide)
        case "round":
            both = [Attended(hide=each, stage="soak", attention=0) for each in (GOAT, RED)]
            hides._ledger.record(both)
        case "back":
            back(bench, number)
        case "last":
            taps.put_back_last(f"hide/{hide}")
        case "put":
            taps.put_back(taps.comes_back(number))
        case _:
            word = "earlier" if minutes < 0 else "later"
            taps.correct_time(number, f"{abs(minutes) or 1} min {word}")


@settings(max_examples=40, deadline=None)
@given(acts=ACTS)
def test_any_backs_and_forths_leave_times_in_order(acts: list[tuple[str, int, int]]) -> None:
    """Each is refused or one tap; of every hide the taps that count stay in their order in time."""
    bench = Bench(LIBRARY)
    for name in ("Brown goat", "Red goat"):
        bench.take_in(name)
        bench.clock.advance(minutes=30)
        bench.desk.hides.done(bench.desk.hides.ids()[-1])
        bench.clock.advance(minutes=30)
    for act, number, minutes in acts:
        before = bench.taps
        try:
            act_on(bench, act, number, minutes)
        except BenchError:
            assert before == bench.taps
        else:
            assert bench.taps in (before + 1, before + (act != "time"))
        bench.clock.advance(minutes=7)
    assert state(bench.desk) == bench.state == state(bench.reopened())
    for hide in (GOAT, RED):
        at = [
            entry.at
            for entry in bench.desk.hides._ledger.history(f"hide/{hide}")
            if not isinstance(entry.event, TimeCorrected | Undone | Redone)
        ]
        assert sorted(at) == at
        assert all(each <= bench.clock.now() for each in at)
    for tap in bench.desk.taps.numbers():
        assert bench.desk.taps.line(tap).words


def test_times_are_those_of_utc() -> None:
    """An aware instant, whatever zone the shop is in."""
    bench = Bench(LIBRARY)
    bench.desk.settings.set({"zone": "Asia/Tokyo"})
    bench.take_in()
    bench.desk.taps.correct_time(2, "20:30")
    assert datetime(2026, 6, 1, 11, 30, tzinfo=UTC) == bench.state.hides[GOAT].arrived_at
