"""Rounds at the desk: one tap for all hides, taken back as one, refused when it is old."""

from __future__ import annotations

import msgspec
import pytest

from benchconsole.errors import NotPossibleNow
from benchconsole.model.events import Attended, HideTakenIn, StageBegun
from benchconsole.schedule.planning.plans import HidePlan, Plan, Round
from tests.desk.small_bench import Bench

NAMES = ("Brown goat", "Red goat", "White goat")
GOATS = ("brown-goat", "red-goat", "white-goat")


@pytest.fixture
def baths(bench: Bench) -> Bench:
    """Three goats in the alum bath since one hour after another, the first since 13:00."""
    for hide, name in zip(GOATS, NAMES, strict=True):
        bench.clock.advance(hours=1)
        taken_in = HideTakenIn(
            hide=hide, name=name, species="goat", route="hair-on-alum-pelt", stage="alum",
            came="salted",
        )  # fmt: skip
        now = bench.clock.now()
        bench.repository.append([taken_in], at=now, recorded=now)
        begun = StageBegun(hide=hide, stage="alum")
        bench.repository.append([begun], at=now, recorded=now)
    bench.desk = bench.reopened()
    return bench


def _seen(bench: Bench) -> Round:
    return bench.desk.rounds.sheet().round


def test_nothing_is_asked_for_while_nothing_is_tended(bench: Bench) -> None:
    """A shop without hides has no round to go, and one whose bath is fresh says when."""
    assert bench.desk.rounds.next() is None
    assert bench.desk.rounds.due() is None
    with pytest.raises(NotPossibleNow, match="there is no round to go"):
        bench.desk.rounds.sheet()


def test_a_fresh_bath_says_when_its_round_is_due(baths: Bench) -> None:
    """Begun 13:00, 14:00 and 15:00 and stirred every 8 h from an hour later: next at opening."""
    coming = baths.desk.rounds.next()
    assert coming is not None
    assert (coming.at.day, coming.at.hour) == (2, 8)
    assert tuple(given.hide for given in coming.gives) == GOATS
    with pytest.raises(NotPossibleNow, match=r"next round is Tue 08:00, for 3 hides: Brown goat"):
        baths.desk.rounds.sheet()


def test_a_round_is_one_tap_for_all(baths: Bench) -> None:
    """Every hide is attended to now, all in a single tap; each card says so."""
    baths.clock.advance(hours=17)
    before = baths.taps
    assert baths.desk.rounds.give(_seen(baths)) == (
        "Round logged for 3 hides: Brown goat, Red goat, White goat"
    )
    assert baths.taps == before + 1
    now = baths.clock.now()
    for goat in GOATS:
        assert baths.state.hides[goat].attended_at == {1: now}
        assert "stir, refold" in baths.desk.hides.card(goat).history[-1][1]


def test_what_is_left_out_is_not_logged(baths: Bench) -> None:
    """A hide whose tick was taken away keeps its last time, and the next round asks for it."""
    baths.clock.advance(hours=17)
    seen = _seen(baths)
    kept = msgspec.structs.replace(seen, gives=seen.gives[1:])
    baths.desk.rounds.give(kept)
    assert baths.state.hides["brown-goat"].attended_at == {}
    coming = baths.desk.rounds.due()
    assert coming is not None
    assert [given.hide for given in coming.gives] == ["brown-goat"]
    with pytest.raises(NotPossibleNow, match="Nothing is ticked"):
        baths.desk.rounds.give(msgspec.structs.replace(seen, gives=()))


def test_a_round_is_taken_back_whole(baths: Bench) -> None:
    """Undo at one of its hides undoes it for all, and says so."""
    baths.clock.advance(hours=17)
    counted = baths.counts
    baths.desk.rounds.give(_seen(baths))
    assert baths.desk.rounds.undo("red-goat") == (
        "Taken back: the round for 3 hides: Brown goat, Red goat, White goat"
    )
    assert baths.counts == counted
    baths.desk.rounds.give(_seen(baths))
    assert baths.desk.hides.undo("white-goat") == ("White goat: taken back: the round for 3 hides")
    assert baths.counts == counted


def test_a_round_is_taken_back_though_one_of_its_hides_has_gone_on(baths: Bench) -> None:
    """The goat that passed since stays where it is; the others are as before the round."""
    baths.clock.advance(hours=17)
    baths.desk.rounds.give(_seen(baths))
    baths.desk.hides.passed("red-goat")
    assert "the round for 3 hides" in baths.desk.hides.undo("white-goat")
    assert baths.state.hides["red-goat"].stage == "rinse"
    assert baths.state.hides["brown-goat"].attended_at == {}
    assert baths.desk.hides.undo("red-goat").startswith("Red goat: taken back: “Alum bath” done")


def test_an_old_round_is_refused_whole(baths: Bench) -> None:
    """Given twice, or one hide passed meanwhile: nothing of it is stored, one sentence says why."""
    baths.clock.advance(hours=17)
    seen = _seen(baths)
    baths.desk.hides.passed("red-goat")
    counted = baths.counts
    with pytest.raises(NotPossibleNow, match="Red goat has moved on since you looked"):
        baths.desk.rounds.give(seen)
    assert baths.counts == counted
    again = _seen(baths)
    baths.desk.rounds.give(again)
    with pytest.raises(NotPossibleNow, match="Brown goat has moved on since you looked"):
        baths.desk.rounds.give(again)


def test_the_walk_goes_vessel_by_vessel(baths: Bench) -> None:
    """Lines stand by vessel and stage, with what was last and how long it may be left."""
    baths.clock.advance(hours=17)
    baths.take_in("Soaked goat")
    baths.desk.hides.done("soaked-goat")
    baths.clock.advance(hours=1)
    lines = baths.desk.rounds.sheet().lines
    where = [(line.vessel, line.stage_name) for line in lines]
    assert where == sorted(where)
    assert {"Alum bath", "Soak"} == {stage for _, stage in where}
    stirred = lines[0]
    assert (stirred.given.hide, stirred.last) == ("brown-goat", None)
    assert (stirred.every.total_seconds(), stirred.at_most.days) == (8 * 3600, 1)


def test_a_look_that_said_not_yet_counts_as_tending(baths: Bench) -> None:
    """The hide that was just looked at is not asked for at the round an hour later."""
    baths.clock.advance(hours=17)
    baths.desk.hides.not_yet("brown-goat")
    baths.clock.advance(hours=1)
    coming = baths.desk.rounds.due()
    assert coming is not None
    assert [given.hide for given in coming.gives] == ["red-goat", "white-goat"]


def test_a_plan_ends_what_is_tended(baths: Bench) -> None:
    """By a plan that ends tonight no round is left for tomorrow; without one there is."""
    now = baths.clock.now()
    until = now.replace(hour=17)
    hides = tuple(
        HidePlan(hide=goat, hide_name=goat, lies_in="alum", since=now, visits=()) for goat in GOATS
    )
    plan = Plan(made_at=now, until=until, hides=hides, openings=())
    assert baths.desk.rounds.next(plan) is None
    assert baths.desk.rounds.next() is not None
    assert baths.desk.rounds.next(plan) is None


def test_the_days_line_says_when_the_next_round_is(baths: Bench) -> None:
    """Its time and for how many hides; after the round it is a later one."""
    line = baths.desk.day_line(baths.desk.hides.rows())
    assert line.round_at is not None
    assert (line.round_at.day, line.round_at.hour, line.round_hides) == (2, 8, 3)
    baths.clock.advance(hours=17)
    baths.desk.rounds.give(_seen(baths))
    later = baths.desk.day_line(baths.desk.hides.rows())
    assert later.round_at is not None and later.round_at > baths.clock.now()
    assert sum(isinstance(entry.event, Attended) for entry in baths.counts) == 3
