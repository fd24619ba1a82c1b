"""The weigh-out on its screen: what is seen after each tap, and what the history then holds."""

from __future__ import annotations

from collections.abc import AsyncIterator, Mapping
from contextlib import asynccontextmanager
from datetime import UTC, datetime

import msgspec
import pytest
from textual.pilot import Pilot

from benchconsole.clock import ManualClock
from benchconsole.console.screens.weigh_out import WeighOutScreen
from benchconsole.console.widgets.big_figure import BigFigure, big_picture
from benchconsole.desk import Desk
from benchconsole.library import Library, shipped_library, with_own_files
from benchconsole.mixing.targets import Limit
from benchconsole.model.events import LiquorMade, WeighOutBegun
from benchconsole.model.weighing import Liquor, WeighOut
from benchconsole.store import MemoryRepository
from tests.console.reading_the_screen import (
    region_text,
    screen_lines,
    screen_text,
    type_ahead,
    wait_until,
)
from tests.console.small_shop import Stand, showing

SIZES = [(60, 20), (80, 24), (120, 36), (200, 60)]
TO_SALT = ("enter", "enter")
"""Past the cautions and the first water of the alum and salt bath."""
TO_THE_END = ("enter",) * 6

HOSTILE_FORMULA = """
[formula]
id = "own-cure"
name = "Cure [/] [bold]loud[/bold]"
purpose = "Cures"
kind = "dry"
hold = "Two weeks"
done_when = "Stiff"
cautions = ["Beware [/x] of [@click=app.exit]this[/]."]

[formula.tolerance]
value = 0.02
source = "own"
mark = "practice"

[[part]]
id = "salt"
name = "salt [/]"
container = "bowl [red]"
do = "Rub it in [/]."

[[part.ingredient]]
substance = "salt"
by = "scale"
amount = "250 g"

[[source]]
source = "own notes"
mark = "practice"
"""


class Bench:
    """A shop over one repository, and the screen of a weigh-out in it."""

    def __init__(
        self,
        formula: str = "alum-salt-bath",
        settings: Mapping[str, str] | None = None,
        library: Library | None = None,
    ) -> None:
        self.repository = MemoryRepository()
        self.library = library or shipped_library()
        self.desk = self.another_desk()
        if settings:
            self.desk.settings.set(settings)
        self.begun = self.desk.weigh_outs.begin(self.desk.worksheet(formula)).weigh_out.id

    def another_desk(self) -> Desk:
        """The program started again over the same history."""
        clock = ManualClock(datetime(2026, 3, 4, 9, 0, tzinfo=UTC))
        return Desk(self.repository, clock, self.library)

    @property
    def kept(self) -> WeighOut:
        """The weigh-out as a freshly started program would find it."""
        return self.another_desk().weigh_outs.view(self.begun).weigh_out

    @asynccontextmanager
    async def at(
        self, *keys: str, size: tuple[int, int] = (80, 24), theme: str = "lamp"
    ) -> AsyncIterator[tuple[Stand, Pilot[None]]]:
        """The screen after these keys."""
        screen = WeighOutScreen(self.begun)
        async with showing(screen, self.desk, size, theme) as (app, pilot):
            await wait_until(pilot, lambda: "step" in screen_text(app) or not keys, "a step")
            type_ahead(app, *keys)
            yield app, pilot


async def sees(pilot: Pilot[None], *words: str) -> None:
    """Wait until all these words stand on the screen, and nothing on it moves any more."""

    def all_there() -> bool:
        flat = " ".join(screen_text(pilot.app).split())
        return all(word in flat for word in words)

    await wait_until(pilot, all_there, " + ".join(words))
    await pilot.pause()


def figure(app: Stand) -> str:
    """The text of the big figure."""
    return app.screen.query_one(BigFigure).text


def liquor_of(bench: Bench) -> Liquor:
    """The liquor that the history holds after the end."""
    made = [e.event for e in bench.repository.entries() if isinstance(e.event, LiquorMade)]
    return made[-1].liquor


# --- a whole bath, accepted line by line ---


async def test_a_bath_is_weighed_out_with_enter_alone_and_ends_as_a_liquor() -> None:
    """Cautions, jug, scale, the turn to the next part, the end, the record: each is told."""
    bench = Bench()
    async with bench.at() as (app, pilot):
        await sees(pilot, "BEFORE YOU BEGIN", "Wear: goggles")
        type_ahead(pilot.app, "enter")
        await sees(pilot, "TUB (BRINE): pour WATER with the jug", "step 1 of 4")
        assert "4 gal" == figure(app)
        type_ahead(pilot.app, "enter")
        await sees(pilot, "add SALT until the scale reads", "right from 1111 g to 1157 g")
        assert "1134 g" == figure(app)
        type_ahead(pilot.app, "enter")
        await sees(pilot, "✓ THE BRINE IS WEIGHED OUT", "stir until it is all dissolved", "bucket")
        type_ahead(pilot.app, "enter", "enter")
        await sees(pilot, "add AMMONIUM ALUM until the scale reads", "step 4 of 4")
        type_ahead(pilot.app, "enter")
        await sees(pilot, "✓ EVERYTHING IS IN", "Pour the alum jug slowly into the brine")
        type_ahead(pilot.app, "f")
        await sees(pilot, "L1: ALUM AND SALT BATH", "1134 g asked 1134 g exact", "strength of salt")
        type_ahead(pilot.app, "enter")
        await wait_until(pilot, lambda: bool(app.came_back), "the end")
        assert ["L1"] == app.came_back
    assert bench.kept.ended_at is not None


async def test_the_record_holds_what_really_went_in() -> None:
    """Readings, not targets, become the liquor; its strength and the record page follow them."""
    bench = Bench()
    async with bench.at(*TO_SALT, *"1150", "enter", "enter", "enter", *"450.5", "enter") as shown:
        await sees(shown[1], "EVERYTHING IS IN")
        type_ahead(shown[0], "f")
        await sees(shown[1], "1150 g asked 1134 g +1.4 %", "451 g asked 454 g −0.7 %")
    liquor = liquor_of(bench)
    assert [1150.0, 450.5] == [liquor.lines[1].actual_g, liquor.lines[3].actual_g]


async def test_enter_pressed_once_too_often_does_not_end_the_weigh_out() -> None:
    """What is recorded for good needs its own key, and even that can be undone."""
    bench = Bench()
    async with bench.at(*TO_THE_END, "enter", "enter") as (app, pilot):
        await sees(pilot, "EVERYTHING IS IN")
        assert [] == app.came_back
        assert bench.kept.ended_at is None
        type_ahead(pilot.app, "f", "u")
        await sees(pilot, "EVERYTHING IS IN")
        assert bench.kept.ended_at is None


async def test_the_pack_is_named_until_some_of_it_is_in() -> None:
    """Of two salts of one name the right one is taken from the shelf."""
    bench = Bench()
    async with bench.at(*TO_SALT) as (app, pilot):
        await sees(pilot, "from the pack: sodium chloride")
        type_ahead(app, *"1000", "enter")
        await sees(pilot, "SHORT")
        assert "from the pack" not in screen_text(app)


@pytest.mark.parametrize("size", SIZES)
async def test_soda_crystals_are_told_from_the_powder_to_the_last_word(
    size: tuple[int, int],
) -> None:
    """The longest pack of the library stands whole on every screen, with figure and list."""
    bench = Bench("alum-salt-soda-bath")
    view = bench.desk.weigh_outs.view(bench.begun)
    while view.pour is not None and view.pour.planned.substance != "washing-soda":
        view = bench.desk.weigh_outs.accept(bench.begun)
    async with bench.at(size=size) as (app, pilot):
        await sees(pilot, "until the scale reads", "▶ NOW", "not the dry powder sold as soda ash")
        assert 5 <= app.screen.query_one(BigFigure).size.height


async def test_a_dressing_ends_with_what_each_coat_takes() -> None:
    """227 g in two coats: the half is told when all is in, and on the record."""
    bench = Bench("oil-ammonia-dressing")
    async with bench.at(*["enter"] * 4) as (app, pilot):
        await sees(pilot, "EVERYTHING IS IN", "each of 2 coats: 113 g")
        type_ahead(app, "f")
        await sees(pilot, "L1:", "each of 2 coats: 113 g")


# --- readings ---


async def test_a_reading_in_the_band_goes_on_to_the_next_line() -> None:
    """1120 g of 1134 g is inside 2 %."""
    bench = Bench()
    async with bench.at(*TO_SALT, *"1120", "enter") as (_app, pilot):
        await sees(pilot, "THE BRINE IS WEIGHED OUT")
    assert 1120.0 == bench.desk.weigh_outs.view(bench.begun).bench.poured[1]


async def test_a_short_pour_says_what_is_missing_and_can_be_carried_on_with() -> None:
    """Too little keeps the target on the figure; c leaves it and goes on."""
    bench = Bench()
    async with bench.at(*TO_SALT, *"1100", "enter") as (app, pilot):
        await sees(pilot, "▽ SHORT: 34 g of 1134 g still missing (−3.0 %)", "add more SALT")
        assert "1134 g" == figure(app)
        type_ahead(pilot.app, "c")
        await sees(pilot, "THE BRINE IS WEIGHED OUT")
        type_ahead(pilot.app, "enter")
        await sees(pilot, "✓ AS IS salt 1100 g of 1134 g −3.0 %")


async def test_nothing_is_called_done_before_it_is_in() -> None:
    """On a scale of 20 g steps 8 g of alum wait to be put in, and are told as too little for it."""
    bench = Bench(settings={"scale step": "20 g"})
    plan = bench.kept.plan
    grams = {"water": 9000.0, "salt": 1134.0, "ammonium-alum": 8.0}
    small = msgspec.structs.replace(
        plan,
        lines=tuple(
            msgspec.structs.replace(line, grams=grams[line.substance]) for line in plan.lines
        ),
    )
    now = bench.desk.now()
    bench.repository.append([WeighOutBegun(weigh_out="w9", plan=small)], at=now, recorded=now)
    bench.desk, bench.begun = bench.another_desk(), "w9"
    async with bench.at(*TO_SALT) as (app, pilot):
        await sees(pilot, "▶ NOW salt", "○ TO DO ammonium alum 8 g")
        type_ahead(app, *["enter"] * 3)
        await sees(pilot, "add AMMONIUM ALUM, too little for this scale", "steps of 20 g")
        assert "8 g" == figure(app)
        type_ahead(app, "enter")
        await sees(pilot, "EVERYTHING IS IN", "✓ DONE ammonium alum 8 g exact")


async def test_a_comma_and_a_point_of_any_keypad_begin_or_part_a_reading() -> None:
    """Keypad signs have names of their own, and under some terminals no character at all."""
    bench = Bench(settings={"scale step": "0.1 g", "scale capacity": "5 kg"})
    async with bench.at(*TO_SALT, *"1130") as (app, pilot):
        type_ahead(app, "decimal", "4", "enter")
        await sees(pilot, "THE BRINE IS WEIGHED OUT")
        type_ahead(pilot.app, "u", *"1130", "comma", "6", "enter")
        await sees(pilot, "THE BRINE IS WEIGHED OUT")
    assert 1130.6 == pytest.approx(bench.desk.weigh_outs.view(bench.begun).bench.poured[1])


async def test_letters_belong_to_a_reading_once_it_is_begun() -> None:
    """ "12m" is not a change of mode; backspace and escape take typing back, nothing else."""
    bench = Bench()
    async with bench.at(*TO_SALT, *"12m") as (_app, pilot):
        await sees(pilot, "Reading: 12m▌", "bowl stays on", "↵ Send")
        type_ahead(pilot.app, "backspace")
        await sees(pilot, "Reading: 12▌")
        type_ahead(pilot.app, "escape")
        await sees(pilot, "Reading: ↵ exactly that", "↵ Accept")
        type_ahead(pilot.app, "m")
        await sees(pilot, "zero each time")


async def test_pounds_and_ounces_are_typed_with_a_space_between() -> None:
    """On a pound scale the keypad's digits and the space bar are enough."""
    bench = Bench(settings={"scale shows": "lb oz"})
    async with bench.at(*TO_SALT, "2", "space", "8", "enter") as (_app, pilot):
        await sees(pilot, "THE BRINE IS WEIGHED OUT")
    assert 1133.98 == pytest.approx(bench.desk.weigh_outs.view(bench.begun).bench.poured[1], 1e-4)


async def test_a_jugged_volume_is_typed_with_its_unit() -> None:
    """A bare number of a jug is refused in words and stays to be completed."""
    bench = Bench()
    async with bench.at("enter", "4", "enter") as (_app, pilot):
        await sees(pilot, "✗ volume:", "Poured: 4▌")
        type_ahead(pilot.app, "space", "g", "a", "l", "enter")
        await sees(pilot, "add SALT")


async def test_an_impossible_reading_is_refused_in_a_sentence_and_nothing_is_kept() -> None:
    """The fault stands under the figure, which keeps its size; the typed text stays."""
    bench = Bench()
    async with bench.at(*TO_SALT) as (app, pilot):
        await sees(pilot, "add SALT")
        before = app.screen.query_one(BigFigure).size
        type_ahead(pilot.app, *"99999", "enter")
        await sees(pilot, "✗ reading: more than the scale can show (5000 g)", "Reading: 99999▌")
        assert before == app.screen.query_one(BigFigure).size
        assert 1 == len(bench.kept.taps)
        type_ahead(pilot.app, "escape", *"1134", "enter")
        await sees(pilot, "THE BRINE IS WEIGHED OUT")


# --- too much ---


async def test_too_much_is_told_in_words_and_offers_three_ways_with_their_consequences() -> None:
    """Mark and word, the excess in large, and what each way out would cost."""
    bench = Bench()
    async with bench.at(*TO_SALT, *"1200", "enter") as (app, pilot):
        await sees(
            pilot,
            "▲ TOO MUCH SALT: 1200 g is in, 1134 g was asked",
            "c Carry on",
            "66 g over (+5.8 %)",
            "r Rebalance",
            "4 US gal → 4 US gal 1 US qt, top up 30 US fl oz",
            "ammonium alum 454 g → 480 g",
            "s New bowl",
            "Throws away 1200 g salt",
        )
        assert "+66 g" == figure(app)
        type_ahead(pilot.app, "enter")
        await sees(pilot, "TOO MUCH SALT")
    assert 2 == len(bench.kept.taps)


async def test_carrying_on_keeps_the_deviation_in_the_record() -> None:
    """The first way out."""
    bench = Bench()
    async with bench.at(*TO_SALT, *"1200", "enter", "c", *["enter"] * 3, "f") as (_app, pilot):
        await sees(pilot, "1200 g asked 1134 g +5.8 %")


async def test_rebalancing_tops_up_what_is_in_and_raises_what_is_not() -> None:
    """The second way out: back to the water, then on with more alum."""
    bench = Bench()
    async with bench.at(*TO_SALT, *"1200", "enter", "r") as (app, pilot):
        await sees(pilot, "△ TOP UP after rebalancing", "pour more WATER with the jug")
        assert "30 fl oz" == figure(app)
        type_ahead(pilot.app, "enter", "enter", "enter")
        await sees(pilot, "add AMMONIUM ALUM until")
        assert "480 g" == figure(app)


async def test_a_rebalance_that_cannot_be_says_why_and_cannot_be_pressed() -> None:
    """With only so much water there is not enough for the larger batch."""
    bench = Bench()
    sheet = bench.desk.worksheet("alum-salt-bath")
    bench.desk.weigh_outs.give_up(bench.begun)
    water = sum(line.mass_g for line in sheet.lines if line.substance == "water")
    limited = bench.desk.worksheet("alum-salt-bath", Limit(substance="water", mass_g=water))
    bench.begun = bench.desk.weigh_outs.begin(limited).weigh_out.id
    async with bench.at(*TO_SALT, *"1200", "enter", "r") as (_app, pilot):
        await sees(pilot, "Not possible:", "There is not enough", "TOO MUCH SALT")
    assert 2 == len(bench.kept.taps)


async def test_a_new_bowl_throws_away_what_was_in_and_asks_for_it_again() -> None:
    """The third way out, by mouse; the waste goes into the record."""
    bench = Bench()
    async with bench.at(*TO_SALT, *"1200", "enter") as (app, pilot):
        await sees(pilot, "s New bowl")
        row = next(y for y, line in enumerate(screen_lines(app)) if "s New bowl" in line)
        await pilot.click(offset=(8, row))
        await sees(pilot, "add SALT until the scale reads", "Empty bowl on the scale")
        type_ahead(pilot.app, *["enter"] * 4, "f")
        await sees(pilot, "1134 g asked 1134 g exact, 1200 g thrown away")


async def test_spooning_back_is_typed_as_a_new_reading() -> None:
    """Some taken out of the bowl: the lower reading puts it right."""
    bench = Bench()
    async with bench.at(*TO_SALT, *"1200", "enter", *"1140", "enter") as (_app, pilot):
        await sees(pilot, "THE BRINE IS WEIGHED OUT")


# --- zero, bowl, lots ---


async def test_a_leftover_zero_moves_the_figure() -> None:
    """An empty bowl that shows −2 g: the salt is right at 1132 g, and the header says so."""
    bench = Bench()
    async with bench.at(*TO_SALT, "z") as (app, pilot):
        await sees(pilot, "With the empty bowl on, the scale shows:")
        type_ahead(pilot.app, "minus", "2", "enter")
        await sees(pilot, "zero −2 g", "Empty bowl on the scale, which then shows −2 g")
        assert "1132 g" == figure(app)


async def test_enter_on_an_empty_zero_accepts_nothing() -> None:
    """The question of the zero is answered or left; enter never reaches the line behind it."""
    bench = Bench()
    async with bench.at(*TO_SALT, "z", "enter") as (_app, pilot):
        await sees(pilot, "The zero stays as it was", "Reading: ↵")
    assert 1 == len(bench.kept.taps)


async def test_the_bowl_stays_on_or_is_zeroed_each_time() -> None:
    """With the bowl left on readings add up; zeroed, each starts at nothing; both are told."""
    bench = Bench("oil-ammonia-dressing")
    async with bench.at("enter", "enter") as (app, pilot):
        await sees(pilot, "bowl stays on", "to the 99 g it shows")
        assert "198 g" == figure(app)
        type_ahead(pilot.app, "m")
        await sees(pilot, "zero each time", "press zero, then add WATER", "Bowl on the scale")
        assert "99 g" == figure(app)


async def test_a_small_scale_takes_the_salt_in_lots() -> None:
    """Lot 2 of 3 asks for the bowl to be emptied first; after the third the line is in."""
    bench = Bench(settings={"scale capacity": "500 g"})
    async with bench.at(*TO_SALT) as (app, pilot):
        await sees(pilot, "Lot 1 of 3: the scale takes 500 g at most.")
        assert "378 g" == figure(app)
        type_ahead(pilot.app, "enter")
        await sees(pilot, "Lot 2 of 3", "First empty the bowl into the tub", "756 g of 1134 g")
        type_ahead(pilot.app, "enter")
        await sees(pilot, "Lot 3 of 3")
        type_ahead(pilot.app, "enter")
        await sees(pilot, "THE BRINE IS WEIGHED OUT")


# --- back, away, and again ---


async def test_any_tap_can_be_taken_back_to_the_first() -> None:
    """u from the turn of a part, from a short pour, from the zero; then there is none left."""
    bench = Bench()
    async with bench.at(*TO_SALT, *"1100", "enter", "z", "5", "enter", "c") as (app, pilot):
        await sees(pilot, "THE BRINE IS WEIGHED OUT")
        type_ahead(pilot.app, "u")
        await sees(pilot, "SHORT", "zero 5 g")
        type_ahead(pilot.app, "u", "u")
        await sees(pilot, "add SALT until", "Empty bowl on the scale, which then shows 0 g")
        type_ahead(pilot.app, "u")
        await sees(pilot, "pour WATER", "step 1 of 4")
        type_ahead(pilot.app, "u")
        await sees(pilot, "pour WATER", "step 1 of 4")
        assert [] == app.came_back
    assert () == bench.kept.taps


async def test_the_turn_to_a_part_is_shown_again_after_it_was_undone() -> None:
    """What to do with the brine is not lost when the salt is weighed a second time."""
    bench = Bench()
    async with bench.at(*TO_SALT, "enter", "enter") as (_app, pilot):
        await sees(pilot, "BUCKET (ALUM JUG): pour WATER")
        type_ahead(pilot.app, "u")
        await sees(pilot, "add SALT until")
        type_ahead(pilot.app, "enter")
        await sees(pilot, "THE BRINE IS WEIGHED OUT")


async def test_leaving_keeps_the_weigh_out_and_coming_back_goes_on() -> None:
    """Escape ends with None; the same screen again stands at the same tap, without cautions."""
    bench = Bench()
    async with bench.at(*TO_SALT, "escape") as (app, pilot):
        await wait_until(pilot, lambda: [None] == app.came_back, "leaving")
        await app.push_screen(WeighOutScreen(bench.begun))
        await sees(pilot, "add SALT until the scale reads", "step 2 of 4")
    assert bench.kept.ended_at is None


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        ((*TO_SALT, *"1200", "enter"), "TOO MUCH SALT: 1200 g"),
        ((*TO_SALT, *"1100", "enter"), "SHORT: 34 g of 1134 g"),
        ((*TO_SALT, "z", "3", "enter"), "zero 3 g"),
        ((*TO_SALT, "enter"), "THE BRINE IS WEIGHED OUT"),
        (TO_THE_END, "EVERYTHING IS IN"),
    ],
)
async def test_a_restart_of_the_program_resumes_at_the_same_tap(
    keys: tuple[str, ...], words: str
) -> None:
    """Another desk over the same history shows what the first one showed."""
    bench = Bench()
    async with bench.at(*keys) as (app, pilot):
        await sees(pilot, words)
        before = screen_text(app)
    bench.desk = bench.another_desk()
    async with bench.at() as (app, pilot):
        await wait_until(pilot, lambda: before == screen_text(app), f"{words}, as before")


async def test_giving_up_is_asked_first_and_enter_means_no() -> None:
    """g then enter goes on weighing; g then y ends it with nothing made."""
    bench = Bench()
    async with bench.at(*TO_SALT, "g") as (app, pilot):
        await sees(pilot, "GIVE UP THIS WEIGH-OUT?")
        type_ahead(pilot.app, "enter")
        await sees(pilot, "add SALT")
        assert bench.kept.ended_at is None
        type_ahead(pilot.app, "y")
        await sees(pilot, "add SALT")
        type_ahead(pilot.app, "g", "y")
        await wait_until(pilot, lambda: [None] == app.came_back, "the end")
    assert ("", True) == (bench.kept.liquor, bench.kept.ended_at is not None)


async def test_the_cautions_can_be_read_again() -> None:
    """w shows them over the pour, enter or escape goes back to it."""
    bench = Bench()
    async with bench.at(*TO_SALT, "w") as (app, pilot):
        await sees(pilot, "BEFORE YOU BEGIN", "Wear: goggles")
        type_ahead(pilot.app, "escape")
        await sees(pilot, "add SALT")
        assert [] == app.came_back


# --- how it looks ---


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("end", [(), (*"1100", "enter"), (*"1200", "enter")])
async def test_nothing_is_cut_or_lost_at_any_size(
    size: tuple[int, int], end: tuple[str, ...]
) -> None:
    """Every visible widget lies inside the screen, its words whole, its buttons large enough."""
    bench = Bench()
    async with bench.at(*TO_SALT, *end, size=size) as (app, pilot):
        await sees(pilot, "step 2 of 4")
        screen = app.screen
        for widget in screen.query("#scale, #buttons, #sentence, #reading, Footer, ActButton"):
            if widget.display and all(above.display for above in widget.ancestors_with_self):
                assert screen.region.contains_region(widget.region), widget
        for button in screen.query("#buttons ActButton"):
            if button.display:
                assert button.region.width >= 12 and button.region.height >= 3
                assert str(button.render()) in region_text(app, button.region)
        wanted = "TOO MUCH SALT" if end[:2] == ("1", "2") else "SALT until the scale reads"
        await sees(pilot, wanted)
        if "TOO" in wanted:
            await sees(pilot, "c Carry on", "r Rebalance", "s New bowl", "afresh.")
        else:
            await sees(pilot, "right from 1111 g to 1157 g", "○ TO DO ammonium alum 454 g")
            assert 5 <= app.screen.query_one(BigFigure).size.height


@pytest.mark.parametrize(("size", "least"), [((80, 24), 9), ((120, 36), 18), ((200, 60), 31)])
@pytest.mark.parametrize("end", [(), (*"1100", "enter")])
async def test_the_figure_can_be_read_from_two_metres(
    size: tuple[int, int], least: int, end: tuple[str, ...]
) -> None:
    """1134 g is nine rows high on the common terminal and twice that on the next."""
    bench = Bench()
    async with bench.at(*TO_SALT, *end, size=size) as (app, pilot):
        await sees(pilot, "step 2 of 4")
        drawn = region_text(app, app.screen.query_one(BigFigure).region).splitlines()
        assert least <= sum(1 for line in drawn if line.strip())


async def test_words_of_a_persons_own_file_are_shown_as_they_are() -> None:
    """Markup in names, containers and cautions is text: nothing breaks, nothing turns bold."""
    library, refused = with_own_files(
        shipped_library(), [("formulas/own-cure.toml", HOSTILE_FORMULA)]
    )
    assert () == refused
    bench = Bench("own-cure", library=library)
    async with bench.at() as (_app, pilot):
        await sees(pilot, "Beware [/x] of [@click=app.exit]this[/].")
        type_ahead(pilot.app, "enter")
        await sees(pilot, "Cure [/] [bold]loud[/bold]", "BOWL [RED] (SALT [/]): add SALT")
        type_ahead(pilot.app, *"300", "enter")
        await sees(pilot, "TOO MUCH SALT")
        type_ahead(pilot.app, "c")
        await sees(pilot, "Rub it in [/].")
        type_ahead(pilot.app, "f")
        await sees(pilot, "CURE [/] [BOLD]LOUD[/BOLD]", "300 g asked 250 g +20.0 %")


@pytest.mark.parametrize("size", [(60, 20), (80, 24)])
async def test_a_name_without_end_leaves_room_for_the_figure(size: tuple[int, int]) -> None:
    """Names of a person's own are cut; the figure and the three ways out stay in sight."""
    bench = Bench()
    plan = bench.kept.plan
    long = msgspec.structs.replace(
        plan,
        formula_name="f" * 999,
        lines=tuple(
            msgspec.structs.replace(line, name="n" * 999, pack="k" * 999) for line in plan.lines
        ),
        parts=tuple(
            msgspec.structs.replace(part, name="p" * 999, container="c" * 999)
            for part in plan.parts
        ),
    )
    now = bench.desk.now()
    bench.repository.append([WeighOutBegun(weigh_out="w9", plan=long)], at=now, recorded=now)
    bench.desk, bench.begun = bench.another_desk(), "w9"
    async with bench.at(*TO_SALT, size=size) as (app, pilot):
        await sees(pilot, "until the scale reads", "▶ NOW", "↵ Accept")
        assert big_picture("1134 g", 60, 5)[2].strip() in screen_text(app) or size != (60, 20)
        type_ahead(app, *"1200", "enter")
        await sees(pilot, "▲ TOO MUCH", "c Carry on", "r Rebalance")


def test_every_act_has_a_key_of_its_own_and_says_what_it_does() -> None:
    """No two acts share a key, none needs a modifier, five stand in the footer."""
    acts = WeighOutScreen.acts()
    keys = [act.keys for act in acts]
    assert len(set(keys)) == len(keys)
    assert not [key for key in keys if "+" in key]
    assert 5 == sum(act.footer for act in acts)
    assert all(act.help().endswith(".") for act in acts)
