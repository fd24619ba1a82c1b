"""The plan at the desk: asked for, worked out elsewhere, and kept only while it is true."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from benchconsole.desk.planning import GOES_OLD, work_out, worked_out_better
from benchconsole.schedule.drying import dry_window
from benchconsole.schedule.planning.plans import Plan
from tests.desk.small_bench import NOON, Bench
from tests.desk.test_drying import AIR, stretched


def test_before_any_plan_there_is_none_and_one_is_wanted(bench: Bench) -> None:
    """Nothing is worked out by itself."""
    planning = bench.desk.planning
    assert planning.is_wanted
    assert planning.known is None
    assert planning.current is None


def test_the_question_is_the_shop_as_it_stands(bench: Bench) -> None:
    """Hides in work, hands, vessels, hours and the moment; nothing of those out of work."""
    goat, lost = bench.take_in(), bench.take_in("White goat")
    bench.desk.moves.out_of_work(lost, "hair slipped")
    bench.desk.settings.set({"hands": "2", "vessels": "3 tubs"})
    asked = bench.desk.planning.ask()
    assert [hide.id for hide in asked.question.hides] == [goat]
    assert asked.question.hands == 2
    assert asked.question.vessels == {"tub": 3}
    assert asked.question.now == NOON
    assert asked.question.hours.is_open(NOON)


def test_a_visit_names_the_mix_to_have_ready_as_the_formula_is_called(bench: Bench) -> None:
    """Not by its id: it is read at the bench."""
    bench.take_in()
    ready = {word for visit in bench.desk.planning.plan().visits for word in visit.ready}
    assert "the mix “Alum and salt bath”" in ready


def test_better_plans_replace_the_first_and_no_worse_one_does(bench: Bench) -> None:
    """While nobody waits the search goes on: every answer costs less than the one before."""
    for name in ("Goat", "Deer", "Kid", "Buck"):
        bench.take_in(name)
    bench.desk.settings.set({"vessels": "1 tub, 1 frame"})
    answers = list(worked_out_better(bench.desk.planning.ask()))
    costs = [answer.plan.cost for answer in answers]
    assert costs == sorted(costs, reverse=True)
    assert len(set(costs)) == len(costs)
    assert bench.desk.planning.plan().cost == costs[-1]


def test_a_plan_worked_out_is_current_until_something_happens(bench: Bench) -> None:
    """An act on any hide makes it old; it is known still, and not current any more."""
    goat = bench.take_in()
    planning = bench.desk.planning
    answer = work_out(planning.ask())
    assert planning.take(answer)
    assert planning.current is planning.known is answer.plan
    assert not planning.is_wanted
    bench.desk.hides.done(goat)
    assert planning.is_wanted
    assert planning.current is None
    assert planning.known is answer.plan
    assert planning.plan() is not answer.plan
    assert not planning.is_wanted


def test_what_is_taken_back_makes_a_plan_old_too(bench: Bench) -> None:
    """Undo is an event of its own: the plan for the picture between is not the plan now."""
    goat = bench.take_in()
    bench.desk.hides.done(goat)
    plan = bench.desk.planning.plan()
    bench.desk.hides.undo(goat)
    assert bench.desk.planning.is_wanted
    after = bench.desk.planning.plan()
    assert after.visits[0].stage == "soak"
    assert plan.visits[0].stage != "soak"


@pytest.mark.parametrize("said", [{"hands": "2"}, {"vessels": "1 tub"}, {"hours": "Mon-Fri 9-12"}])
def test_a_setting_that_the_plan_rests_on_makes_it_old(bench: Bench, said: dict[str, str]) -> None:
    """Hands, vessels and hours."""
    bench.take_in()
    bench.desk.planning.plan()
    bench.desk.settings.set(said)
    assert bench.desk.planning.is_wanted


def test_a_while_later_it_is_wanted_again_though_nothing_happened(bench: Bench) -> None:
    """Up to a quarter of an hour it stands; and a clock that was set back makes it old as well."""
    bench.take_in()
    planning = bench.desk.planning
    plan = planning.plan()
    bench.clock.move_to(NOON + GOES_OLD - timedelta(seconds=1))
    assert not planning.is_wanted
    assert planning.plan() is plan
    bench.clock.advance(seconds=1)
    assert planning.is_wanted
    assert planning.plan().made_at == NOON + GOES_OLD
    bench.clock.move_to(NOON - timedelta(hours=1))
    assert planning.is_wanted
    assert planning.plan().made_at == NOON - timedelta(hours=1)
    assert not planning.is_wanted


def test_an_answer_for_an_older_picture_is_not_kept_over_a_newer(bench: Bench) -> None:
    """A thread that took long brings its answer when it is no longer wanted."""
    goat = bench.take_in()
    planning = bench.desk.planning
    slow = planning.ask()
    bench.desk.hides.done(goat)
    newer = work_out(planning.ask())
    assert planning.take(newer)
    assert not planning.take(work_out(slow))
    assert planning.current is newer.plan


def test_of_two_answers_for_one_picture_the_later_stands(bench: Bench) -> None:
    """Asked at noon and ten minutes later, answered the other way round."""
    bench.take_in()
    planning = bench.desk.planning
    slow = planning.ask()
    bench.clock.advance(minutes=10)
    newer = work_out(planning.ask())
    assert planning.take(newer)
    assert not planning.take(work_out(slow))
    assert planning.current is newer.plan


def test_an_answer_that_is_already_old_is_known_and_not_current(bench: Bench) -> None:
    """Better than nothing while the next is worked out, as long as it is not called true."""
    goat = bench.take_in()
    planning = bench.desk.planning
    slow = work_out(planning.ask())
    bench.desk.hides.done(goat)
    assert planning.take(slow)
    assert planning.known is slow.plan
    assert planning.current is None
    assert planning.is_wanted


def test_working_it_out_leaves_the_desk_alone_and_can_be_broken_off(bench: Bench) -> None:
    """No event is written; what is called now and then ends the work by raising."""
    bench.take_in()
    taps = bench.taps
    asked = bench.desk.planning.ask()
    work_out(asked)
    assert bench.taps == taps
    assert bench.desk.planning.known is None

    class Enough(Exception):
        pass

    def stop() -> None:
        raise Enough

    with pytest.raises(Enough):
        work_out(asked, between=stop)


def test_the_plan_in_hand_is_what_the_next_starts_from(bench: Bench) -> None:
    """The same question with its own plan in hand has the same answer."""
    for name in ("one", "two", "three"):
        bench.take_in(name)
    asked = bench.desk.planning.ask()
    plan = work_out(asked).plan
    assert work_out(asked, like=plan).plan == plan


def _window(plan: Plan, goat: str) -> tuple[datetime, datetime, datetime | None]:
    found = plan.of(goat)
    assert found is not None
    first = found.visits[0]
    return first.earliest, first.due, first.latest


def test_a_hide_that_dries_is_planned_by_its_weighings(bench: Bench) -> None:
    """The look stands in the window of the forecast, to the next quarter of an hour."""
    goat = stretched(bench)
    bench.desk.settings.set(AIR)
    by_route = _window(bench.desk.planning.plan(), goat)
    for grams, hours in ((2900, 2), (2610, 2), (2350, 0)):
        bench.desk.drying.weigh(goat, f"{grams} g")
        bench.clock.advance(hours=hours)
    by_weight = _window(bench.desk.planning.plan(), goat)
    assert by_weight != by_route
    window = dry_window(bench.desk.drying.forecast(goat).forecast)
    assert window is not None
    for said, foretold in zip(by_weight[:2], window[:2], strict=True):
        assert timedelta(0) <= said - foretold < timedelta(minutes=15)
    assert by_weight[2] is not None
    assert timedelta(0) <= window[2] - by_weight[2] < timedelta(minutes=15)


def test_an_answer_is_for_the_version_it_was_asked_at(bench: Bench) -> None:
    """Whatever happened while it was worked out."""
    goat = bench.take_in()
    asked = bench.desk.planning.ask()
    bench.desk.hides.done(goat)
    answer = work_out(asked)
    assert answer.version == asked.version < bench.desk.planning.ask().version
    assert answer.plan.made_at == NOON
    assert answer.plan.made_at.tzinfo is UTC
