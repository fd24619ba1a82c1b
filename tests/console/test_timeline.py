"""The timeline on the screen: keys, touches, words, a newer plan, every size and theme."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import msgspec
import pytest
from rich.cells import cell_len
from textual.app import App
from textual.events import MouseScrollLeft, MouseScrollRight

from benchconsole.clock import ManualClock
from benchconsole.console.screens.timeline import LEGEND, WAITS, TimelineScreen, legend
from benchconsole.desk import Desk
from benchconsole.schedule.planning.plans import HidePlan, Plan, Visit
from tests.console.at_the_bench import at_the_bench
from tests.console.reading_the_screen import screen_lines, screen_text, wait_until
from tests.console.small_plan import small_plan
from tests.console.small_shop import HOSTILE, goat_named, showing, small_shop

SIZES = [(80, 24), (120, 36), (200, 60)]
HOUR = timedelta(hours=1)


class Planner:
    """A source of plans that is handed the next one."""

    def __init__(self, plan: Plan | None) -> None:
        self.plan = plan

    def __call__(self) -> Plan | None:
        """The newest plan."""
        return self.plan


def planned() -> tuple[Desk, ManualClock, Planner, TimelineScreen]:
    """A desk, its clock, and a timeline over a plan made by hand for its hour."""
    desk, clock = small_shop(goat_named("Brown goat"))
    planner = Planner(small_plan(desk.now(), zone=desk.zone))
    return desk, clock, planner, TimelineScreen(planner)


def line_of(app: App[Any], name: str) -> str:
    """The line of the picture that begins with a hide's name."""
    return next(line for line in screen_lines(app) if line[1:].startswith(name))


@pytest.mark.parametrize("size", SIZES)
async def test_the_picture_is_whole_in_every_size(size: tuple[int, int]) -> None:
    """Every hide or a way to scroll, the legend, the words, the keys, no line over the edge."""
    desk, _, planner, screen = planned()
    async with showing(screen, desk, size) as (app, pilot):
        await wait_until(pilot, lambda: "Rounds" in screen_text(app), "the picture")
        text = screen_text(app)
        for hide in planner.plan.hides[:6] if planner.plan else ():
            assert hide.hide_name in text
        assert "▼" in line_of(app, "Rounds") and "░" in line_of(app, "Rounds")
        for piece in LEGEND:
            assert piece in text
        for words in ("when", "window  earliest", "do  ", "then  ", "Finer", "Back"):
            assert words in text
        assert all(cell_len(line) == size[0] for line in screen_lines(app))
        for part in screen.query("#timeline, #legend, #chosen, #keys"):
            assert screen.region.contains_region(part.region)
            assert part.region.height


async def test_keys_scroll_and_zoom_and_bring_back_to_now() -> None:
    """A quarter of the width; every step; home is now; the heading says what a column is."""
    desk, _, _, screen = planned()
    async with showing(screen, desk) as (app, pilot):
        await wait_until(pilot, lambda: "a column is 3 h" in screen_text(app), "3 h a column")
        ruler = screen.timeline.ruler
        assert ruler is not None
        begun = ruler.left
        await pilot.press("right")
        assert screen.timeline.ruler is not None
        assert screen.timeline.ruler.left == begun + ruler.columns // 4 * ruler.step
        await pilot.press("left")
        assert screen.timeline.ruler.left == begun
        for _ in range(4):
            await pilot.press("right")
        await wait_until(pilot, lambda: "▼" not in screen_text(app), "the present out of sight")
        await pilot.press("home")
        await wait_until(pilot, lambda: "▼" in line_of(app, "Rounds"), "the present")
        for key, step in (
            ("plus", "1 h"),
            ("add", "15 min"),
            ("plus", "15 min"),
            ("minus", "1 h"),
            ("subtract", "3 h"),
            ("minus", "6 h"),
            ("minus", "1 day"),
            ("minus", "1 day"),
        ):
            await pilot.press(key)
            words = f"a column is {step}"
            await wait_until(pilot, lambda words=words: words in screen_text(app), words)


async def test_keys_choose_hides_visits_and_holds() -> None:
    """Up and down, next and previous, the hold before; the words follow."""
    desk, _, planner, screen = planned()
    plan = planner.plan
    assert plan is not None
    async with showing(screen, desk, (120, 36)) as (app, pilot):
        first = plan.visits[0]
        await wait_until(pilot, lambda: f"{first.hide_name}, Soak: begin" in screen_text(app), "it")
        await pilot.press("n")
        await wait_until(pilot, lambda: "Brown goat, Flesh: begin" in screen_text(app), "Flesh")
        assert "Flesh the hide on the beam. Vessel: beam." in screen_text(app)
        await pilot.press("h")
        await wait_until(pilot, lambda: "Brown goat lies in Soak" in screen_text(app), "the hold")
        await pilot.press("h", "p")
        await wait_until(pilot, lambda: "Brown goat, Soak: begin" in screen_text(app), "Soak")
        await pilot.press("up")
        await wait_until(pilot, lambda: "Round, " in screen_text(app), "a round")
        assert "Stir and push under." in screen_text(app)
        await pilot.press("down", "down")
        await wait_until(pilot, lambda: "Grey rabbits, " in screen_text(app), "the next hide")
        assert line_of(app, "Grey rabbits").startswith("▌")
        for _ in plan.hides:
            await pilot.press("down")
        await wait_until(pilot, lambda: "? not planned: its route" in screen_text(app), "why not")


async def test_a_visit_far_off_is_scrolled_to() -> None:
    """Stepping to the last visit brings it, and its day, on the screen."""
    desk, _, planner, screen = planned()
    assert planner.plan is not None
    hide = planner.plan.hides[0]
    async with showing(screen, desk) as (app, pilot):
        await wait_until(pilot, lambda: "Brown goat, Soak" in screen_text(app), "the first visit")
        for _ in hide.visits:
            await pilot.press("n")
        await wait_until(pilot, lambda: "Brown goat, Finish" in screen_text(app), "the last visit")
        assert "nothing more is planned for this hide" in screen_text(app)
        ruler = screen.timeline.ruler
        assert ruler is not None
        assert 0 <= ruler.column(hide.visits[-1].starts) < ruler.columns
        assert "●" in line_of(app, "Brown goat") or "◆" in line_of(app, "Brown goat")


async def test_a_late_visit_says_how_late_and_what_spoils() -> None:
    """The one that is planned past its latest time: mark, words, reason."""
    desk, _, planner, screen = planned()
    assert planner.plan is not None
    late = next(
        hide for hide in planner.plan.hides if hide.visits[:1] and hide.visits[0].past_latest
    )
    async with showing(screen, desk, (120, 36)) as (app, pilot):
        await wait_until(pilot, lambda: late.hide_name in screen_text(app), "the hide")
        while screen.timeline.choice.hide != late.hide:
            await pilot.press("down")
        await pilot.press(*"pppp")
        await wait_until(pilot, lambda: "past its latest time" in screen_text(app), "how late")
        assert "▲ Fallow deer" in screen_text(app)
        assert "if late  The hair slips" in screen_text(app)
        assert "▲" in line_of(app, late.hide_name)


async def test_a_newer_plan_keeps_the_place_and_the_choice() -> None:
    """Same instant at the left edge, same step, same hide and visit, at its new time."""
    desk, clock, planner, screen = planned()
    async with showing(screen, desk, (120, 36)) as (app, pilot):
        await wait_until(pilot, lambda: "Rounds" in screen_text(app), "the picture")
        await pilot.press("down", "n", "n", "plus", "right")
        before, ruler = screen.timeline.choice, screen.timeline.ruler
        assert ruler is not None
        clock.advance(hours=2)
        planner.plan = small_plan(clock.now(), zone=desk.zone, days=30)
        screen.look_again()
        after = screen.timeline.choice
        assert screen.plan is planner.plan
        assert screen.timeline.ruler == ruler
        assert isinstance(before.piece, Visit)
        assert isinstance(after.piece, Visit)
        assert (before.hide, before.piece.stage) == (after.hide, after.piece.stage)
        planner.plan = None
        screen.look_again()
        assert screen.plan is not None
        await wait_until(pilot, lambda: "Grey rabbits" in screen_text(app), "the last plan")


async def test_the_now_line_moves_with_the_clock() -> None:
    """Time that passes moves the line, not the picture."""
    desk, clock, _, screen = planned()
    async with showing(screen, desk) as (app, pilot):
        await wait_until(pilot, lambda: "▼" in screen_text(app), "the present")
        before = line_of(app, "Rounds").index("▼")
        clock.advance(hours=9)
        screen.look_again()
        await wait_until(pilot, lambda: line_of(app, "Rounds").index("▼") == before + 3, "3 on")


async def test_a_touch_chooses_and_twice_opens_the_card() -> None:
    """By mouse or finger: a name, a visit; twice is the card, as enter is."""
    desk, _ = small_shop(goat_named("Brown goat"))
    plan = small_plan(desk.now(), zone=desk.zone)
    first = msgspec.structs.replace(plan.hides[0], hide="goat")
    visits = tuple(msgspec.structs.replace(visit, hide="goat") for visit in first.visits)
    first = msgspec.structs.replace(first, visits=visits)
    plan = msgspec.structs.replace(plan, hides=(first, *plan.hides[1:]))
    screen = TimelineScreen(lambda: plan)
    async with showing(screen, desk) as (app, pilot):
        await wait_until(pilot, lambda: "Grey rabbits" in screen_text(app), "the picture")
        await pilot.click("#timeline", offset=(4, 6))
        await wait_until(pilot, lambda: "Old ewe, " in screen_text(app), "the hide touched")
        await pilot.press("enter")
        await wait_until(
            pilot, lambda: "No hide is called “old-ewe”" in screen_text(app), "no such hide"
        )
        await pilot.click("#timeline", offset=(4, 3), times=2)
        await wait_until(pilot, lambda: "ROUTE: Hair-on" in screen_text(app), "the card")
        await pilot.press("escape", "enter")
        await wait_until(pilot, lambda: "ROUTE: Hair-on" in screen_text(app), "the card by key")


async def test_on_a_small_screen_the_picture_comes_first_and_all_words_can_be_read() -> None:
    """Several hides at 60 by 20; the words below are turned by keys that nothing can take away."""
    desk, _, _, screen = planned()
    async with showing(screen, desk, (60, 20)) as (app, pilot):
        for name in ("Grey rabbi", "Old ewe", "Fallow", "Calf"):
            await wait_until(pilot, lambda name=name: name in screen_text(app), name)
        await pilot.press("tab", "n", "n")
        await wait_until(pilot, lambda: "more lines" in screen_text(app), "more than there is room")
        await pilot.press("pagedown")
        await wait_until(pilot, lambda: "then  it lies" in screen_text(app), "the end of it")
        await pilot.press("pageup")
        await wait_until(pilot, lambda: "when  " in screen_text(app), "the beginning")


async def test_a_wheel_that_turns_sideways_scrolls_through_time() -> None:
    """As the arrows do, while the pointer is over the picture."""
    desk, _, _, screen = planned()
    async with showing(screen, desk) as (app, pilot):
        await wait_until(pilot, lambda: "Grey rabbits" in screen_text(app), "the picture")
        ruler = screen.timeline.ruler
        assert ruler is not None
        for kind, moved in ((MouseScrollRight, 1), (MouseScrollLeft, 0)):
            screen.timeline.post_message(kind(screen.timeline, 30, 5, 0, 0, 0, False, False, False))
            left = ruler.left + moved * (ruler.columns // 4) * ruler.step
            await wait_until(
                pilot,
                lambda left=left: (
                    screen.timeline.ruler is not None and screen.timeline.ruler.left == left
                ),
                "another time at the left edge",
            )


async def test_without_a_plan_it_says_that_it_is_worked_out() -> None:
    """And draws it as soon as it comes; with no hides it says so."""
    desk, _, planner, screen = planned()
    ready, planner.plan = planner.plan, None
    assert ready is not None
    async with showing(screen, desk) as (app, pilot):
        await wait_until(pilot, lambda: WAITS in screen_text(app), "the sentence")
        await pilot.press("n", "right", "plus", "up", "h", "home", "enter")
        planner.plan = msgspec.structs.replace(ready, hides=(), rounds=())
        screen.look_again()
        await wait_until(pilot, lambda: "No hides yet" in screen_text(app), "no hides")
        planner.plan = ready
        screen.look_again()
        await wait_until(pilot, lambda: "Grey rabbits" in screen_text(app), "the picture")
        assert WAITS not in screen_text(app)


async def test_hostile_names_are_only_writing() -> None:
    """Markup, wide and joined characters, marks that turn the writing, length."""
    desk, _ = small_shop()
    hides = tuple(
        HidePlan(hide=f"h{n}", hide_name=name, lies_in=name, since=None, visits=(), unplanned=name)
        for n, name in enumerate((*HOSTILE, "皮" * 40))
    )
    plan = msgspec.structs.replace(small_plan(desk.now(), zone=desk.zone), hides=hides)
    screen = TimelineScreen(lambda: plan)
    async with showing(screen, desk, (120, 36)) as (app, pilot):
        await wait_until(pilot, lambda: "[bold red]" in screen_text(app), "the names")
        for _ in hides:
            await pilot.press("down")
            drawn = screen_text(app)
            assert not any(c in drawn for c in "\x07\x1b\x00\u202e\u202c\u2066\u2069\u200d")
            assert all(cell_len(line) == 120 for line in screen_lines(app))
        assert "皮皮" in screen_text(app)


async def test_without_colour_everything_is_told_by_characters(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """NO_COLOR: the same characters; what is chosen stands out by an edge and by reversal."""
    monkeypatch.setenv("NO_COLOR", "1")
    desk, _, _, screen = planned()
    async with showing(screen, desk, (120, 36)) as (app, pilot):
        await wait_until(pilot, lambda: "Grey rabbits" in screen_text(app), "the picture")
        text = screen_text(app)
        assert all(mark in text for mark in "●◆▲─━═▓░•▼[◇]▌")
        strips = app.screen._compositor.render_strips(app.screen.size)
        reversed_cells = [s.text for strip in strips for s in strip if s.style and s.style.reverse]
        assert "●" in "".join(reversed_cells)


async def test_the_bench_and_the_day_sheet_open_it(tmp_path: Path) -> None:
    """One key on either; escape leads back."""
    clock = ManualClock(datetime.fromisoformat("2026-03-04T09:00:00+00:00"))
    async with at_the_bench(tmp_path / "shop.json", clock) as person:
        await person.press("z")
        await person.sees("Timeline")
        await person.press("escape")
        await person.sees("Hides", "Mix")
        await person.press("l", "z")
        await person.sees("Timeline  ·  Wed 4 Mar 09:00")
        await person.press("q")
        await person.sees("Day sheet")


@pytest.mark.parametrize("room", [40, 78, 118, 198])
def test_the_legend_is_never_split_within_a_piece(room: int) -> None:
    """Whole pieces on lines that fit, in order; two lines on the smallest bench."""
    lines = legend(room).split("\n")
    assert all(len(line) <= room for line in lines)
    assert "  ".join(lines) == "  ".join(LEGEND)
    assert room < 78 or len(lines) <= 2
