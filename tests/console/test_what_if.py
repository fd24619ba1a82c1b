"""What if, on the screen: typed, worked out, read, accepted or left."""

from __future__ import annotations

import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path

import pytest

from benchconsole import bootstrap
from benchconsole.clock import ManualClock
from tests.console.at_the_bench import Person, at_the_bench
from tests.console.test_starts import choose

SIZES = [(80, 24), (200, 60)]


@pytest.fixture
def clock() -> ManualClock:
    """A Wednesday afternoon."""
    return ManualClock(datetime(2026, 3, 18, 13, 20, tzinfo=UTC))


@pytest.fixture
def demo(tmp_path: Path, clock: ManualClock) -> Path:
    """The demo shop on disk."""
    path = tmp_path / "shop.json"
    bootstrap.fill_demo(path, clock)
    return path


async def suppose(person: Person, downs: int, text: str) -> None:
    """Open the form, choose what by the arrow, type when or which, hand it in."""
    await person.press("j")
    await person.sees("What if …", "When, or which")
    await person.press(*["down"] * downs, "tab")
    await person.write(text)
    await person.press("enter")


@pytest.mark.parametrize("size", SIZES)
async def test_time_away_is_supposed_accepted_and_taken_back(
    demo: Path, clock: ManualClock, size: tuple[int, int]
) -> None:
    """What breaks and a way out are told; enter accepts both as one tap, u takes all back."""
    async with at_the_bench(demo, clock, size) as person:
        shop = person.app.desk.shop
        await suppose(person, 0, "21-24 Mar")
        await person.sees("What if: away 21 Mar to 24 Mar", "nothing is changed yet")
        await person.sees("▸ away 21 Mar to 24 Mar: 1 window breaks", "and come in Saturday")
        await person.sees("▲ Grey rabbits, Oil in two coats", "3 d 14 h past", "if late")
        assert person.app.desk.shop == shop
        await person.press("down")
        await person.sees("✓ No visit breaks its window.", "instead of")
        await person.press("enter")
        await person.sees("Hides", "✓ Accepted: away 21 Mar to 24 Mar; come in Saturday")
        assert person.app.desk.shop.away_times
        await person.press("u")
        await person.sees("✓ The settings are as before")
        assert person.app.desk.shop == shop


async def test_leaving_changes_nothing(demo: Path, clock: ManualClock) -> None:
    """Escape on the answer leaves all as it is, and so does escape on the form."""
    async with at_the_bench(demo, clock, (80, 24)) as person:
        version = person.app.desk.version
        await suppose(person, 1, "22 March")
        await person.sees("What if: closed 22 Mar", "breaks")
        await person.press("escape")
        await person.sees("Hides")
        await person.press("j")
        await person.sees("What if …")
        await person.press("escape")
        await person.sees_no_more("What if …")
        assert person.app.desk.version == version


async def test_with_nothing_broken_it_says_so(demo: Path, clock: ManualClock) -> None:
    """One more pair of hands breaks nothing; what gets better is told."""
    async with at_the_bench(demo, clock) as person:
        await suppose(person, 3, "hands")
        await person.sees("▸ one more pair of hands: nothing breaks", "✓ Nothing breaks.")
        await person.sees("less past its latest", "sooner")
        await person.press("enter")
        await person.sees("✓ Accepted: one more pair of hands")
        assert person.app.desk.shop.hands == 2


async def test_what_cannot_be_read_stays_on_the_form(demo: Path, clock: ManualClock) -> None:
    """One sentence with an example; what was typed stays."""
    async with at_the_bench(demo, clock, (80, 24)) as person:
        await suppose(person, 0, "soon")
        await person.sees("▲ when or which:", "example 3-6 Dec", "soon")
        await person.press("escape")
        await suppose(person, 3, "rail")
        await person.sees("was not said")


async def test_a_start_is_supposed_for_the_chosen_hide(demo: Path, clock: ManualClock) -> None:
    """Only a hide that waits can be begun at another time; accepted, undo is about that hide."""
    async with at_the_bench(demo, clock) as person:
        await choose(person, "red-calf")
        await person.press("j")
        await person.sees("What if …")
        assert "is begun then" not in person.text
        await person.press("escape")
        await choose(person, "autumn-buck")
        await person.press("j")
        await person.sees("Autumn buck is begun then")
        await person.press("escape")
        await suppose(person, 5, "26 Mar 9:00")
        await person.sees("What if: begin Autumn buck Thursday 26 March 09:00", "is done")
        await person.press("enter")
        await person.sees("✓ Accepted: begin Autumn buck")
        assert person.app.desk.hides.get("autumn-buck").start_at is not None
        await person.press("u")
        await person.sees("taken back: start chosen")
        assert person.app.desk.hides.get("autumn-buck").start_at is None


async def test_a_tap_meanwhile_makes_the_answer_old(demo: Path, clock: ManualClock) -> None:
    """Nothing is accepted on a picture of the shop that is no longer true."""
    async with at_the_bench(demo, clock) as person:
        await suppose(person, 3, "hands")
        await person.sees("nothing breaks")
        person.app.desk.hides.note("brown-goat", "seen")
        await person.press("enter")
        await person.sees("ask again")
        assert person.app.desk.shop.hands == 1


async def test_a_name_that_looks_like_markup_is_shown_as_it_is(
    demo: Path, clock: ManualClock
) -> None:
    """What people typed is never markup, in the list, the words and the answer."""
    async with at_the_bench(demo, clock) as person:
        person.app.desk.hides.correct("grey-rabbits", name="[/] grey [b]", weight="", count="4")
        await suppose(person, 0, "21-24 Mar")
        await person.sees("▲ [/] grey [b], Oil in two coats", "for [/] grey [b]: Oil")


async def test_beside_the_planner_the_accepted_plan_stands(demo: Path, clock: ManualClock) -> None:
    """With the plan worked out beside the bench, too: what was accepted is what is planned."""
    async with at_the_bench(demo, clock, planning=True) as person:
        await suppose(person, 0, "21-24 Mar")
        await person.sees("1 window breaks", "and come in Saturday")
        await person.press("down", "enter")
        await person.sees("Hides", "✓ Accepted: away 21 Mar to 24 Mar")
        plan = person.app.desk.planning.current
        assert plan is not None
        saturday = [visit for visit in plan.visits if visit.starts.date().day == 21]
        assert "grey-rabbits" in {visit.hide for visit in saturday}
        # 13:30 is when they come in, and 14:45 when they leave.
        assert all((13, 30) <= (v.starts.hour, v.starts.minute) < (14, 45) for v in saturday)
        await person.later(seconds=1)
        assert person.app.plan == plan


def test_the_pages_load_no_arrays() -> None:
    """Opened on the loop, the pages leave numpy to the thread that works them out."""
    pages = "starts, what_if, what_if_form"
    program = (
        "import sys; "
        f"from benchconsole.console.screens import {pages}; "
        "sys.exit('numpy' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", program], check=False).returncode == 0
