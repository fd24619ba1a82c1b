"""The desk as a whole: the target that fits a hide, other measures for once, words for events."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from typing import get_args

import pytest
from dateutil import tz

from benchconsole.clock import ManualClock
from benchconsole.desk import Desk
from benchconsole.desk.words import event_words, tap_words
from benchconsole.errors import NotKnown
from benchconsole.library import Library
from benchconsole.mixing.targets import AsWritten, ForHideMass, ForHides, Make, Target
from benchconsole.model import events
from benchconsole.model.events import Event, HideEvent, ShopSet
from benchconsole.model.shop import Shop
from benchconsole.store import MemoryRepository
from tests.desk.small_bench import NOON, Bench


@pytest.mark.parametrize(
    ("formula", "given", "expected"),
    [
        ("alum-salt-bath", {"species": "deer"}, ForHideMass(mass_g=2900.0)),
        ("salt-cure", {"species": "deer"}, ForHideMass(mass_g=2900.0)),
        ("salt-cure", {"species": "deer", "weight": ""}, AsWritten()),
        ("alum-salt-bath", {"species": "deer", "weight": ""}, ForHides(count=1, species="deer")),
        ("oil-ammonia-dressing", {"species": "deer"}, ForHides(count=1, species="deer")),
        (
            "oil-ammonia-dressing",
            {"species": "deer", "count": "3"},
            ForHides(count=3, species="deer"),
        ),
        ("oil-ammonia-dressing", {"species": "goat"}, AsWritten()),
        ("alum-salt-bath", {"species": "goat", "weight": ""}, AsWritten()),
        ("lime-bath", {"species": "goat", "weight": ""}, AsWritten()),
    ],
)
def test_the_target_that_fits_a_hide(
    bench: Bench, formula: str, given: dict[str, str], expected: Target
) -> None:
    """By weight where the formula knows weight or float, else by hides, else as written."""
    hide = bench.desk.hides.get(bench.take_in(**given))
    assert expected == bench.desk.target_for(hide, formula)


def test_the_target_for_every_hide_and_formula_makes_a_worksheet(
    bench: Bench, library: Library
) -> None:
    """Whatever is chosen for a person is never refused."""
    for species in library.species:
        for weight in ("", "1.2 kg"):
            hide = bench.desk.hides.get(bench.take_in(species=species, weight=weight, count="2"))
            for formula in library.formulas:
                sheet = bench.desk.worksheet(formula, bench.desk.target_for(hide, formula))
                assert sheet.factor > 0.0


def test_an_unknown_formula_is_told_what_is_near(bench: Bench) -> None:
    """The desk passes on what the library says."""
    hide = bench.desk.hides.get(bench.take_in())
    with pytest.raises(NotKnown, match="the nearest is lime-bath"):
        bench.desk.target_for(hide, "lime-bat")
    with pytest.raises(NotKnown, match="the nearest is lime-bath"):
        bench.desk.worksheet("lime-bat")


def test_the_shop_in_other_measures_for_once(bench: Bench) -> None:
    """The settings on disk stay what they are."""
    metric = bench.desk.shop_in("metric")
    assert ("metric", "us") == (metric.measures, bench.desk.shop.measures)
    assert bench.desk.shop == bench.desk.shop_in(None)
    sheet = bench.desk.worksheet("borax-rinse", Make(volume_l=5.0), shop=metric)
    assert "make 5 L" == sheet.target_says


def test_the_water_at_hand(bench: Bench) -> None:
    """The shop's usual water unless another temperature is given, 0 °C included."""
    assert 15.0 == bench.desk.worksheet("borax-rinse").water_celsius
    assert 0.0 == bench.desk.worksheet("borax-rinse", water_celsius=0.0).water_celsius


def test_the_shops_zone_rules_the_wall(library: Library) -> None:
    """The zone of the settings, else the computer's, also where the name means nothing here."""
    berlin = tz.gettz("Europe/Berlin")
    repository = MemoryRepository()
    desk = Desk(repository, ManualClock(NOON, berlin or UTC), library)
    assert 14 == desk.local(NOON).hour
    repository.append([ShopSet(shop=Shop(zone="Asia/Tokyo"))], at=NOON, recorded=NOON)
    assert 21 == Desk(repository, desk._ledger.clock, library).local(NOON).hour
    repository.append([ShopSet(shop=Shop(zone="Not/There"))], at=NOON, recorded=NOON)
    nowhere = Desk(repository, desk._ledger.clock, library)
    assert 14 == nowhere.local(NOON).hour
    (notice,) = nowhere.notices
    assert "“Not/There” is not known on this computer" in notice
    nowhere.settings.set({"zone": "Asia/Tokyo"})
    assert ((), 21) == (nowhere.notices, nowhere.local(NOON).hour)


def test_a_shops_tag_outlives_names_and_taps_taken_back(bench: Bench, library: Library) -> None:
    """Empty before the first tap, then the same for good, and another shop has another."""
    assert "" == bench.desk.shop_tag
    hide = bench.take_in()
    tag = bench.desk.shop_tag
    bench.clock.advance(days=1)
    bench.desk.settings.set({"name": "Another name"})
    bench.desk.hides.undo(hide)
    assert tag == bench.desk.shop_tag == bench.reopened().shop_tag
    other = MemoryRepository()
    other.append([ShopSet(shop=Shop())], at=bench.clock.now(), recorded=bench.clock.now())
    assert tag != Desk(other, bench.clock, library).shop_tag


def test_an_earlier_hour_as_it_is_known_now(bench: Bench) -> None:
    """What came later is left out, what was taken back never was, the settings are today's."""
    desk, clock = bench.desk, bench.clock
    goat = bench.take_in()
    desk.timers.set("a", "9 h")
    clock.advance(hours=1)
    desk.hides.done(goat)
    desk.timers.set("mistake", "9 h")
    clock.advance(hours=1)
    desk.timers.undo("t2")
    desk.hides.passed(goat)
    desk.settings.set({"name": "New name"})
    earlier = desk.as_of(NOON + timedelta(hours=1, minutes=30))
    assert NOON + timedelta(hours=1, minutes=30) == earlier.now()
    assert ("soak", 1) == (earlier.hides.get(goat).stage, len(earlier.hides.day_sheet()))
    assert ["a"] == [countdown.name for countdown in earlier.timers.all()]
    assert "New name" == earlier.shop.name
    assert () == desk.as_of(NOON - timedelta(minutes=1)).hides.day_sheet()
    assert desk.hides.day_sheet() == desk.as_of(clock.now()).hides.day_sheet()
    taps = bench.taps
    earlier.hides.passed(goat)
    assert (taps, "flesh") == (bench.taps, desk.hides.get(goat).stage)


def test_a_closed_desk_lets_go_of_its_store(bench: Bench) -> None:
    """Closing twice does no harm."""
    bench.desk.close()
    bench.desk.close()
    with pytest.raises(ValueError, match="closed"):
        bench.repository.entries()


# --- words for events -----------------------------------------------------------------


def every_event(bench: Bench) -> list[Event]:
    """One event of every kind about a hide or a timer, from a shop where all was done once."""
    desk = bench.desk
    goat = bench.take_in("Kids", count="3")
    hides, timers = desk.hides, desk.timers
    desk.moves.start_at(goat, NOON + timedelta(days=1))
    while hides.action_of(goat).kind != "coat":
        looks = hides.action_of(goat).kind in ("check", "attend")
        if hides.action_of(goat).kind == "attend":
            hides.attended(goat)
            hides.not_yet(goat)
        (hides.passed if looks else hides.done)(goat)
        if desk.drying.dries(goat) and hides.get(goat).begun_at:
            desk.drying.weigh(goat, "2.1 kg")
            desk.drying.cover(goat, "plastic")
    hides.done(goat)
    hides.note(goat, "thin")
    hides.correct(goat, name="Bess", weight="2 lb", count="1")
    desk.moves.move(goat, stage="alum")
    sheet = desk.worksheet(hides.action_of(goat).mix)
    weigh_out = desk.weigh_outs.begin(sheet, [goat]).weigh_out.id
    while not desk.weigh_outs.view(weigh_out).done:
        desk.weigh_outs.accept(weigh_out)
    desk.moves.spoil(desk.weigh_outs.finish(weigh_out).id, "slimy")
    desk.moves.move(goat, route="small-fur-skin", stage="soak")
    hides.correct(goat, name="Bess", weight="2 lb", count="3")
    desk.moves.split(goat, count="1", name="Thin one")
    desk.moves.out_of_work(goat, "sold raw")
    timers.set("Rinse", "1 min")
    timers.pause_or_go_on("t1")
    timers.pause_or_go_on("t1")
    timers.extend("t1", "1 min")
    timers.rename("t1", "Borax")
    bench.clock.advance(minutes=5)
    timers.acknowledge("t1")
    timers.cancel("t1")
    return [entry.event for entry in bench.repository.entries()]


def test_every_kind_of_event_on_a_card_has_its_own_words(bench: Bench, library: Library) -> None:
    """No event is told as another, as nothing, or with a name of the program's own."""
    on_cards = {
        kind
        for kind in get_args(Event)
        if kind in get_args(HideEvent) or "timer" in kind.__struct_fields__
    }
    found = {type(event): event for event in every_event(bench) if type(event) in on_cards}
    assert on_cards == set(found)
    route = library.routes["hair-on-alum-pelt"]
    words = [event_words(event, route) for event in found.values()]
    assert len(words) == len(set(words))
    for said in words:
        assert said
        assert not said.endswith(".")
        assert "-out-" not in said


def test_words_do_without_the_route(bench: Bench) -> None:
    """When the route's file is gone the ids of the stages have to do."""
    begun = events.StageBegun(hide="a", stage="soak")
    tended = events.Attended(hide="a", stage="soak", attention=4)
    assert ("“soak” begun", "“soak”, attended to") == (event_words(begun), event_words(tended))


def test_a_stage_begun_and_over_in_one_tap_is_said_once() -> None:
    """“Begun; done” says nothing that “done” does not."""
    tap = (
        events.StageBegun(hide="a", stage="wash"),
        events.StageLeft(hide="a", stage="wash", next="alum"),
    )
    assert "“wash” done; next “alum”" == tap_words(tap)
    coat = (
        events.CoatGiven(hide="a", stage="oil", coat=2),
        events.StageLeft(hide="a", stage="oil"),
    )
    assert "“oil”: coat 2 given; “oil” done; the piece is finished" == tap_words(coat)


def test_the_clock_is_asked_each_time(bench: Bench) -> None:
    """Now is never kept."""
    first = bench.desk.now()
    bench.clock.move_to(datetime(2027, 1, 1, tzinfo=UTC))
    assert (NOON, datetime(2027, 1, 1, tzinfo=UTC)) == (first, bench.desk.now())
