"""When to begin a hide, at the desk: asked, worked out, chosen, taken back."""

from __future__ import annotations

from datetime import timedelta

import pytest

from benchconsole.desk.starting import work_out_starts
from benchconsole.errors import NotPossibleNow
from tests.desk.small_bench import Bench


def stored(bench: Bench) -> str:
    """A salted goat that waits to be soaked."""
    return bench.take_in()


def test_a_start_is_chosen_and_taken_back(bench: Bench) -> None:
    """The history holds one tap more; the plan begins it then; undo leaves all as before."""
    hide = stored(bench)
    before, taps = bench.desk.hides.get(hide), bench.taps
    starts = bench.desk.starting.starts(hide)
    choice = next(c for c in starts.ranked if c.at >= bench.clock.now() + timedelta(days=2))
    assert "start chosen" in bench.desk.starting.choose(hide, choice.at)
    assert bench.taps == taps + 1
    planned = bench.desk.planning.plan().of(hide)
    assert planned is not None
    assert planned.visits[0].starts >= choice.at
    again = bench.desk.starting.starts(hide)
    assert again.chosen == choice.at
    bench.desk.hides.undo(hide)
    assert bench.desk.hides.get(hide) == before
    assert bench.desk.starting.starts(hide).chosen is None


def test_a_chosen_start_is_cleared(bench: Bench) -> None:
    """Left to the plan again; a second time there is nothing to clear."""
    hide = stored(bench)
    bench.desk.starting.choose(hide, bench.clock.now() + timedelta(days=3))
    assert "no start chosen any more" in bench.desk.starting.clear(hide)
    with pytest.raises(NotPossibleNow, match="no start was chosen"):
        bench.desk.starting.clear(hide)


def test_the_plan_that_is_there_is_gone_by(bench: Bench) -> None:
    """Nothing happened: the answer has the plan that the desk keeps."""
    hide = stored(bench)
    plan = bench.desk.planning.plan()
    answer = work_out_starts(bench.desk.starting.ask(hide))
    assert answer.plan.plan is plan
    assert bench.desk.starting.take(answer)


def test_an_answer_for_an_older_shop_says_so(bench: Bench) -> None:
    """Something was noted while it was worked out."""
    hide = stored(bench)
    answer = work_out_starts(bench.desk.starting.ask(hide))
    stored(bench)
    assert not bench.desk.starting.take(answer)


def test_a_hide_in_a_stage_is_refused(bench: Bench) -> None:
    """It waits for no start."""
    hide = stored(bench)
    bench.desk.hides.done(hide)
    with pytest.raises(NotPossibleNow, match="no stage to begin"):
        bench.desk.starting.ask(hide)
