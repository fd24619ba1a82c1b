"""Hides at the desk: taps stored, said in words, and refused where they make no sense."""

from __future__ import annotations

from datetime import timedelta

import msgspec
import pytest

from benchconsole.desk import Desk
from benchconsole.errors import BadInput, NotKnown, NotPossibleNow
from benchconsole.library import Library
from tests.desk.small_bench import NOON, Bench


def test_a_hide_comes_in_with_what_was_said(bench: Bench) -> None:
    """Name, kind, weight and count are kept; the stage follows from its condition."""
    hide_id = bench.take_in("  Grey rabbits ", species="rabbit", count="6", weight="2 lb")
    hide = bench.desk.hides.get(hide_id)
    assert ("grey-rabbits", "Grey rabbits", "rabbit", 6) == (
        hide.id,
        hide.name,
        hide.species,
        hide.count,
    )
    assert hide.mass_g == pytest.approx(907.18474)
    assert ("soak", NOON) == (hide.stage, hide.arrived_at)


def test_weight_and_count_may_be_left_out(bench: Bench) -> None:
    """One hide of unknown weight is an ordinary thing."""
    hide = bench.desk.hides.get(bench.take_in(weight=" ", count=""))
    assert (None, 1) == (hide.mass_g, hide.count)


@pytest.mark.parametrize(
    ("field", "given"),
    [
        ("name", {"name": "   "}),
        ("name", {"name": "x" * 61}),
        ("name", {"name": "goat\x1b[31m"}),
        ("name", {"name": "two\nlines"}),
        ("name", {"name": "\u202etaog"}),
        ("name", {"name": "half \udc80"}),
        ("species", {"species": "unicorn"}),
        ("route", {"route": "no-such-way"}),
        ("came in", {"came": "cooked"}),
        ("count", {"count": "0"}),
        ("count", {"count": "1.5"}),
        ("count", {"count": "1e9"}),
        ("weight", {"weight": "3"}),
        ("weight", {"weight": "-3 kg"}),
        ("weight", {"weight": "nan kg"}),
        ("weight", {"weight": "3 fl oz"}),
    ],
)
def test_what_cannot_be_is_refused_by_field(
    bench: Bench, field: str, given: dict[str, str]
) -> None:
    """The field is named with an example, and nothing is stored."""
    with pytest.raises(BadInput, match=rf"^{field}: .*; for example ") as caught:
        bench.take_in(**given)
    assert field == caught.value.field
    assert 0 == bench.taps


def test_two_hides_of_one_name_have_two_ids(bench: Bench) -> None:
    """Letters outside ASCII, or none at all, still make an id."""
    ids = [bench.take_in(name) for name in ("Goat", "goat", "Góat!", "山羊", "山羊")]
    assert ["goat", "goat-2", "goat-3", "hide", "hide-2"] == ids


def test_an_unknown_hide_is_told_what_there_is(bench: Bench) -> None:
    """Every door answers alike to an id that nothing has."""
    bench.take_in()
    hides = bench.desk.hides
    for ask in (hides.get, hides.card, hides.done, hides.not_yet, hides.attended, hides.undo):
        with pytest.raises(NotKnown, match="the nearest is brown-goat"):
            ask("brown-goad")


def test_done_walks_the_whole_route(bench: Bench) -> None:
    """One tap after the other leads from the soak to the finished pelt, each said in words."""
    hide_id = bench.take_in()
    said = [bench.desk.hides.done(hide_id)]
    while bench.desk.hides.get(hide_id).finished_at is None:
        bench.clock.move_to(max(bench.desk.hides.action_of(hide_id).due, bench.clock.now()))
        action = bench.desk.hides.action_of(hide_id)
        # The hide decides: it may pass its check while an attention is what comes first.
        looks = action.kind in ("check", "attend")
        said.append((bench.desk.hides.passed if looks else bench.desk.hides.done)(hide_id))
    assert "Brown goat: “Soak” begun" == said[0]
    assert "Brown goat: “Soften again and clean” done; the piece is finished" == said[-1]
    assert "Brown goat: “Oil in two coats”: coat 2 given" in said
    with pytest.raises(NotPossibleNow, match="nothing to be done now"):
        bench.desk.hides.done(hide_id)


def test_not_yet_asks_again_later(bench: Bench) -> None:
    """A failed look is no error; the next one comes after the route's interval."""
    hide_id = bench.take_in()
    bench.desk.hides.done(hide_id)
    bench.clock.advance(hours=2)
    assert "Brown goat: “Soak”: looked at, not yet ready" == bench.desk.hides.not_yet(hide_id)
    looks = bench.desk.hides.get(hide_id).failed_at
    assert (NOON + timedelta(hours=2),) == looks


def test_an_attention_is_said_as_what_was_done(bench: Bench) -> None:
    """The card reads like a diary."""
    hide_id = bench.take_in()
    bench.desk.hides.done(hide_id)
    assert (
        "Brown goat: “Soak”, attended to: turn the hide, feel it and open the folds"
        == bench.desk.hides.attended(hide_id)
    )


def test_a_tap_meant_for_another_action_is_refused(bench: Bench) -> None:
    """The same tap twice, or one on a picture that has grown old, changes nothing."""
    hide_id = bench.take_in()
    seen = bench.desk.hides.action_of(hide_id)
    bench.desk.hides.done(hide_id, seen=seen)
    with pytest.raises(NotPossibleNow, match="moved on since you looked; next: Turn the hide"):
        bench.desk.hides.done(hide_id, seen=seen)
    stirring = bench.desk.hides.action_of(hide_id)
    bench.clock.advance(hours=3)
    with pytest.raises(NotPossibleNow, match="something else comes first now: Limp as fresh"):
        bench.desk.hides.done(hide_id, seen=stirring)
    assert 2 == bench.taps


@pytest.mark.parametrize("tap", ["attended", "not_yet", "passed"])
def test_two_quick_taps_are_noted_once(bench: Bench, tap: str) -> None:
    """The second was meant for the picture before the first: nothing is noted twice or unseen."""
    hides, hide_id = bench.desk.hides, bench.take_in()
    hides.done(hide_id)
    note = getattr(hides, tap)
    for _ in range(2):
        seen = hides.action_of(hide_id)
        note(hide_id, seen=seen)
        taps = bench.taps
        with pytest.raises(NotPossibleNow, match="has moved on since you looked; next: "):
            note(hide_id, seen=seen)
        assert taps == bench.taps
        if tap == "passed":
            hides.done(hide_id)


def test_an_attention_is_the_one_that_was_seen(bench: Bench) -> None:
    """While the person stirred, another attention fell due: theirs is not noted as that one."""
    hides, hide_id = bench.desk.hides, bench.take_in()
    hides.done(hide_id)
    seen = hides.action_of(hide_id)
    other = msgspec.structs.replace(seen, attention=1)
    with pytest.raises(NotPossibleNow, match="something else comes first now: Turn the hide"):
        hides.attended(hide_id, seen=other)
    # A look may be answered from a picture in which an attention came first.
    bench.clock.advance(hours=3)
    assert "check" == hides.action_of(hide_id).kind != seen.kind
    hides.passed(hide_id, seen=seen)


def test_a_row_says_what_it_allows(bench: Bench) -> None:
    """Nothing to look at before a stage is begun; all of it while an attention comes first."""
    hides, hide_id = bench.desk.hides, bench.take_in()

    def allowed() -> set[str]:
        (row,) = hides.rows()
        return set(row.allowed)

    assert {"done"} == allowed()
    hides.done(hide_id)
    assert "attend" == hides.action_of(hide_id).kind
    assert {"done", "passed", "not-yet", "attended"} == allowed()
    bench.clock.advance(hours=3)
    assert "check" == hides.action_of(hide_id).kind
    assert {"done", "passed", "not-yet", "attended"} == allowed()
    hides.passed(hide_id)
    hides.done(hide_id)
    assert {"done", "passed", "not-yet"} == allowed()


def test_a_look_where_there_is_none_is_refused(bench: Bench) -> None:
    """A hide whose stage was not begun has nothing to look at; the sentence says what comes."""
    hide_id = bench.take_in()
    for ask in (bench.desk.hides.passed, bench.desk.hides.not_yet, bench.desk.hides.attended):
        with pytest.raises(NotPossibleNow, match="Brown goat"):
            ask(hide_id)
    assert 1 == bench.taps


def test_a_hide_without_its_route_is_kept(bench: Bench, library: Library) -> None:
    """When its file is gone the hide stays on the sheet, and taps wait for the file."""
    hide_id = bench.take_in()
    desk = Desk(bench.repository, bench.clock, msgspec.structs.replace(library, routes={}))
    assert "none" == desk.hides.action_of(hide_id).kind
    assert () == desk.hides.card(hide_id).stages
    assert "Brown goat: taken back: taken in salted" == bench.desk.hides.undo(hide_id)
    again = bench.take_in()
    with pytest.raises(NotPossibleNow, match="bring the file back"):
        Desk(bench.repository, bench.clock, desk.library).hides.done(again)


def test_a_note_stands_on_the_card(bench: Bench) -> None:
    """Several lines are one note, also when they come from another system."""
    hide_id = bench.take_in()
    bench.desk.hides.note(hide_id, " belly thin\r\nwatch it [/] ")
    assert "note: belly thin\nwatch it [/]" == bench.desk.hides.card(hide_id).history[-1][1]


@pytest.mark.parametrize("text", ["", " \n ", "x" * 2001, "bell\x07", "\u2066hidden"])
def test_a_note_that_cannot_be_shown_is_refused(bench: Bench, text: str) -> None:
    """Nothing that would scramble the screen gets into the history."""
    hide_id = bench.take_in()
    with pytest.raises(BadInput, match=r"^note: "):
        bench.desk.hides.note(hide_id, text)
    assert 1 == bench.taps


def test_the_card_shows_the_way(bench: Bench) -> None:
    """What is behind, where the hide is, what is ahead, and its history oldest first."""
    hide_id = bench.take_in()
    bench.desk.hides.done(hide_id)
    bench.desk.hides.passed(hide_id)
    card = bench.desk.hides.card(hide_id)
    places = {mark.stage: mark.place for mark in card.stages}
    assert ("done", "here", "ahead") == (places["soak"], places["flesh"], places["wash"])
    assert ["taken in salted", "“Soak” begun", "“Soak” done; next “Flesh”"] == [
        words for _, words in card.history
    ]
    assert "Hair-on alum pelt" == card.route_name


def test_the_days_line_counts_what_calls(bench: Bench) -> None:
    """Open until when, how many are due, how many timers run or ring."""
    bench.take_in()
    bench.desk.timers.set("tea", "5 min")
    bench.desk.timers.set("rinse", "10 min")
    bench.clock.advance(minutes=6)
    line = bench.desk.day_line(bench.desk.hides.rows())
    assert (0, 1, 1, 1) == (line.overdue, line.due, line.running, line.ringing)
    assert (18, None) == (line.open_until and line.open_until.hour, line.opens_at)
    bench.clock.advance(hours=8)
    line = bench.desk.day_line(bench.desk.hides.rows())
    assert (None, 8) == (line.open_until, line.opens_at and line.opens_at.hour)
    assert not line.away
    bench.desk.settings.set({"away": "1-3 Jun"})
    line = bench.desk.day_line(bench.desk.hides.rows())
    assert (True, 4) == (line.away, line.opens_at and line.opens_at.day)
