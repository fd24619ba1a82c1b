"""The plan of the shop at the bench: worked out beside it, replaced by newer ones, told if lost."""

from __future__ import annotations

import sys
import threading
import time
from collections.abc import Callable, Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from benchconsole import bootstrap
from benchconsole.clock import ManualClock
from benchconsole.console.panes.hide_list import HideList
from benchconsole.console.panes.next_step import NextStep
from benchconsole.console.screens.bench import BenchScreen
from benchconsole.desk import planning
from benchconsole.desk.planning import PlanAnswer, PlanQuestion
from benchconsole.schedule.planning.plans import Plan
from tests.console.at_the_bench import Person, at_the_bench
from tests.console.reading_the_screen import screen_lines, wait_until

PATIENCE_S = 10.0
TRUE_WORK_OUT = planning.work_out


def choose(person: Person, hide: str) -> None:
    """Choose a hide on the bench."""
    bench = person.app.screen
    assert isinstance(bench, BenchScreen)
    bench.choose(hide)


class SlowPlanner:
    """Stands in for the working out: every question waits until it is let go."""

    def __init__(self) -> None:
        self.asked: list[int] = []
        self.given_up: list[int] = []
        self.let_go: set[int] = set()

    def __call__(
        self, asked: PlanQuestion, *, like: Plan | None, between: Callable[[], None]
    ) -> PlanAnswer:
        """An empty plan once the question's version is let go; ended by what ``between`` raises."""
        self.asked.append(asked.version)
        until = time.monotonic() + PATIENCE_S
        while asked.version not in self.let_go and time.monotonic() < until:
            time.sleep(0.001)
            try:
                between()
            except BaseException:
                self.given_up.append(asked.version)
                raise
        now = asked.question.now
        return PlanAnswer(
            version=asked.version, plan=Plan(made_at=now, until=now, hides=(), openings=())
        )


@pytest.fixture
def clock() -> ManualClock:
    """A Wednesday afternoon."""
    return ManualClock(datetime(2026, 3, 18, 13, 20, tzinfo=UTC))


@pytest.fixture
def demo(tmp_path: Path, clock: ManualClock) -> Path:
    """The demo shop."""
    path = tmp_path / bootstrap.STORE_FILE
    bootstrap.fill_demo(path, clock)
    return path


@pytest.fixture
def slow(monkeypatch: pytest.MonkeyPatch) -> Iterator[SlowPlanner]:
    """The slow planner in the place of the true one."""
    planner = SlowPlanner()
    monkeypatch.setattr(planning, "work_out", planner)
    yield planner


async def until(person: Person, condition: Callable[[], bool], what: str) -> None:
    """Wait for something that does not stand on the screen."""
    await wait_until(person.pilot, condition, what)


async def asked_first(person: Person, slow: SlowPlanner) -> int:
    """The version of the first question, once it is being worked out."""
    await until(person, lambda: bool(slow.asked), "a first question")
    return slow.asked[0]


async def test_the_plan_comes_by_itself_and_serves_the_timeline(
    demo: Path, clock: ManualClock
) -> None:
    """Some time after opening the console has the true plan, and z draws it."""
    async with at_the_bench(demo, clock, planning=True) as person:
        await until(person, lambda: person.app.plan is not None, "a plan")
        plan = person.app.plan
        assert plan is not None
        assert {hide.hide for hide in plan.hides} >= {"brown-goat", "autumn-buck"}
        assert plan.made_at == clock.now()
        await person.press("z")
        await person.sees("Timeline", "a column is", "Brown goat", "Autumn buck")


async def test_keys_are_answered_while_the_plan_is_worked_out(
    demo: Path, clock: ManualClock, slow: SlowPlanner
) -> None:
    """The list moves and a note is written although the planner never comes to an end."""
    async with at_the_bench(demo, clock, planning=True) as person:
        await asked_first(person, slow)
        before = person.app.screen.query_one("#hides", HideList).chosen
        await person.press("down", "o")
        await person.sees("Note")
        await person.press("escape")
        await person.sees("Hides")
        assert person.app.screen.query_one("#hides", HideList).chosen != before
        assert person.app.plan is None
        await person.press("z")
        await person.sees("The plan is being worked out")


async def test_a_newer_question_replaces_the_one_in_work(
    demo: Path, clock: ManualClock, slow: SlowPlanner
) -> None:
    """A tap ends the working out that knows nothing of it; only the newer answer is kept."""
    async with at_the_bench(demo, clock, planning=True) as person:
        first = await asked_first(person, slow)
        await person.press("a")
        await until(person, lambda: len(slow.asked) == 2, "a second question, without a tick")
        await until(person, lambda: slow.given_up == [first], "the first given up")
        second = slow.asked[1]
        assert second > first
        slow.let_go |= {first, second}
        await until(person, lambda: person.app.plan is not None, "the plan")
        assert person.app.desk.planning.current is person.app.plan
        assert slow.asked == [first, second]


async def test_it_is_asked_again_only_when_something_happened_or_time_went_by(
    demo: Path, clock: ManualClock, slow: SlowPlanner
) -> None:
    """Ticks ask nothing while the plan is true; a quarter of an hour later it is old."""
    async with at_the_bench(demo, clock, planning=True) as person:
        first = await asked_first(person, slow)
        for _ in range(3):
            await person.later(seconds=1)
        assert slow.asked == [first]
        slow.let_go.add(first)
        await until(person, lambda: person.app.plan is not None, "the plan")
        made = person.app.plan
        await person.later(minutes=14)
        assert slow.asked == [first]
        await person.later(minutes=1)
        await until(person, lambda: slow.asked == [first, first], "the same question later")
        await until(person, lambda: person.app.plan is not made, "a plan of the later hour")


async def test_an_answer_for_an_older_picture_is_dropped(demo: Path, clock: ManualClock) -> None:
    """The desk keeps the newer of two answers, whichever comes last."""
    desk = bootstrap.open_desk(demo, writing=True, clock=clock)
    older = desk.planning.ask()
    desk.hides.note("brown-goat", "something happened")
    newer = planning.work_out(desk.planning.ask())
    assert desk.planning.take(newer)
    assert not desk.planning.take(planning.work_out(older))
    assert desk.planning.known is newer.plan
    desk.close()


async def test_leaving_in_the_midst_of_planning_ends_at_once(
    demo: Path, clock: ManualClock, slow: SlowPlanner
) -> None:
    """The thread ends with the console and hands nothing to a closed desk."""
    async with at_the_bench(demo, clock, planning=True) as person:
        first = await asked_first(person, slow)
        desk = person.app.desk
        began = time.monotonic()
    await_end = time.monotonic() + PATIENCE_S
    while not slow.given_up and time.monotonic() < await_end:
        time.sleep(0.005)
    assert slow.given_up == [first]
    assert time.monotonic() - began < 2.0
    assert desk.planning.known is None


async def test_leaving_while_the_true_planner_works_gives_back_the_interpreter(
    demo: Path, clock: ManualClock
) -> None:
    """The turns of the threads are as before the console, and the thread has gone."""
    turns, threads = sys.getswitchinterval(), threading.active_count()
    async with at_the_bench(demo, clock, planning=True) as person:
        await until(person, lambda: sys.getswitchinterval() < turns, "shorter turns")
    assert sys.getswitchinterval() == turns
    assert threading.active_count() <= threads + 1  # the loop's own pool keeps one at hand


async def test_a_failure_is_told_once_and_the_console_goes_on(
    demo: Path, clock: ManualClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A planner that breaks down costs the plan and one sentence, nothing else."""
    asked = []

    def broken(question: PlanQuestion, **_: Any) -> PlanAnswer:
        asked.append(question.version)
        raise ArithmeticError("the slots do not add up")

    monkeypatch.setattr(planning, "work_out", broken)
    async with at_the_bench(demo, clock, planning=True) as person:
        await person.sees("could not be worked out", "the slots do not add up")
        await person.later(seconds=1)
        assert len(asked) == 1
        person.app.clear_notifications()
        await person.sees_no_more("could not be worked out")
        await person.press("a")
        await until(person, lambda: len(asked) == 2, "another try after the tap")
        await person.later(seconds=1)
        assert "could not be worked out" not in person.text
        assert person.app.plan is None


async def test_after_a_failure_a_plan_that_can_be_worked_out_is_there_again(
    demo: Path, clock: ManualClock, monkeypatch: pytest.MonkeyPatch, slow: SlowPlanner
) -> None:
    """The failure was of that moment: the next tap brings the plan."""

    def broken(question: PlanQuestion, **_: Any) -> PlanAnswer:
        raise ArithmeticError("the slots do not add up")

    monkeypatch.setattr(planning, "work_out", broken)
    async with at_the_bench(demo, clock, planning=True) as person:
        await person.sees("could not be worked out")
        monkeypatch.setattr(planning, "work_out", slow)
        await person.press("a")
        await until(person, lambda: bool(slow.asked), "another question")
        slow.let_go |= set(slow.asked)
        await until(person, lambda: person.app.plan is not None, "the plan")


def test_numpy_is_not_loaded_before_the_thread() -> None:
    """Neither the console nor the desk's window loads it: the first frame must not wait for it."""
    import subprocess

    code = (
        "import sys, benchconsole.console, benchconsole.desk.planning, "
        "benchconsole.console.plan_keeper, benchconsole.console.screens.bench; "
        "sys.exit('numpy' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


# --- what the plan shows at the bench -----------------------------------------------------


@pytest.mark.parametrize("size", [(80, 24), (120, 36), (200, 60)])
async def test_the_list_says_when_the_plan_has_a_visit_at_another_time(
    demo: Path, clock: ManualClock, size: tuple[int, int]
) -> None:
    """The deer's second coat is due at 13:43, but the hands are at the kid until 14:00."""
    async with at_the_bench(demo, clock, size, planning=True) as person:
        await person.sees("planned 14:00", "planned 14:15")
        lines = screen_lines(person.app)
        deer = next(place for place, line in enumerate(lines) if "Roe doe  " in line)
        assert "planned 14:00" in lines[deer + 1]
        assert "planned 14:00…" not in person.text
        goat = next(place for place, line in enumerate(lines) if "Brown goat  " in line)
        assert "planned" not in lines[goat + 1]


async def test_the_next_step_says_why_it_was_moved(demo: Path, clock: ManualClock) -> None:
    """The chosen hide's planned time with its reason; of one that is tended, its next visit."""
    async with at_the_bench(demo, clock, (200, 60), planning=True) as person:
        await person.sees("planned 14:00")
        choose(person, "roe-doe")
        await person.sees("planned 14:00 (in 40 min): your")
        words = str(person.app.screen.query_one("#next-step", NextStep).content)
        assert "your hands are at Black kid (Alum bath)" in words
        choose(person, "brown-goat")
        await person.sees("next visit planned Fri")


async def test_a_plan_that_is_being_reworked_is_marked_so(
    demo: Path, clock: ManualClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    """After a tap the kept times carry a mark and words until the new plan is there."""
    async with at_the_bench(demo, clock, (200, 60), planning=True) as person:
        await person.sees("planned 14:00")
        monkeypatch.setattr(planning, "work_out", SlowPlanner())
        choose(person, "roe-doe")
        person.app.desk.hides.note("red-calf", "something happened")
        await person.later(seconds=1)
        await person.sees("planned 14:00…")
        words = str(person.app.screen.query_one("#next-step", NextStep).content)
        assert "the plan is being worked out anew" in words
        await person.press("l")
        await person.sees("This is the plan of 13:20", "worked out anew")


async def test_a_hide_that_has_gone_on_shows_no_time_of_the_old_plan(
    demo: Path, clock: ManualClock
) -> None:
    """What was planned for the act that is done now is not told of the next one."""
    async with at_the_bench(demo, clock, planning=True) as person:
        await until(person, lambda: person.app.plan is not None, "a plan")
        desk = person.app.desk
        assert desk.planning.next_visit(desk.hides.get("black-kid")) is not None
        desk.hides.done("black-kid")
        assert desk.planning.next_visit(desk.hides.get("black-kid")) is None
        assert desk.planning.next_visit(desk.hides.get("roe-doe")) is not None


@pytest.mark.parametrize("size", [(80, 24), (120, 36), (200, 60)])
async def test_the_day_sheet_tells_the_plan_and_before_it_each_hide(
    demo: Path, clock: ManualClock, size: tuple[int, int], slow: SlowPlanner
) -> None:
    """First every hide's own next action, then the planned days, past-latest first."""
    async with at_the_bench(demo, clock, size, planning=True) as person:
        await asked_first(person, slow)
        await person.press("l")
        await person.sees("Day sheet", "OVERDUE", "why then")
        person.app.desk.planning.take(TRUE_WORK_OUT(person.app.desk.planning.ask()))
        person.app.look_again()
        await person.sees("PAST THE LATEST TIME", "▲ Grey rabbits, Flesh and wash: begin")
        await person.press("end")
        await person.sees("FINISHED", "Spotted goat")
        await person.press("z")
        await person.sees("Timeline")


async def test_the_round_follows_the_plan(demo: Path, clock: ManualClock) -> None:
    """The line on top and the round itself are those of the plan while it is true."""
    async with at_the_bench(demo, clock, planning=True) as person:
        await until(person, lambda: person.app.plan is not None, "a plan")
        desk, plan = person.app.desk, person.app.plan
        assert plan is not None
        await person.press("h")
        then = desk.rounds.sheet(plan).then
        assert then is not None
        await person.sees("Round", f"next {desk.local(then):%H:%M}")
