"""Every shipped route walked by acts, from each way a hide can come in to the last stage."""

from __future__ import annotations

from datetime import UTC, datetime, time, timedelta

import pytest

from benchconsole.library import shipped_library
from benchconsole.model.events import Entry, Event, HideTakenIn
from benchconsole.model.routes import Route, Stage
from benchconsole.model.shop import OpenSpan
from benchconsole.model.state import HideState, fold
from benchconsole.schedule.actions import Action
from benchconsole.schedule.hours import Hours
from benchconsole.schedule.next_action import next_action
from benchconsole.schedule.steps import events_for_done, events_for_not_yet

LIBRARY = shipped_library()
ROUTES = list(LIBRARY.routes.values())
SHOP = Hours([OpenSpan(weekday=day, opens=time(8), closes=time(18)) for day in range(6)], (), UTC)
"""Monday to Saturday, 08:00 to 18:00."""
MONDAY = datetime(2026, 3, 2, 8, tzinfo=UTC)
MOST_ACTS = 400
NO_TIME = timedelta(0)
CAME_IN = [(route, came) for route in ROUTES for came in route.starts]
NAMES = [f"{route.id}, {came}" for route, came in CAME_IN]


class _Walk:
    """One hide on its route; each act is noted when its work is done."""

    def __init__(self, route: Route, came: str, species: str) -> None:
        self.route, self.now = route, MONDAY
        self.entries: list[Entry] = []
        self.begun: list[str] = []
        self.late: list[str] = []
        stage = route.starts[came]
        self._note(
            HideTakenIn(hide="h", name="H", species=species, route=route.id, stage=stage, came=came)
        )

    @property
    def hide(self) -> HideState:
        return fold(self.entries).hides["h"]

    def asked(self) -> Action:
        """What comes next."""
        return next_action(self.hide, self.route, hours=SHOP, now=self.now)

    def to_the_end(self, *, not_yet_once: bool = False) -> None:
        """Do each thing when it is due, what lies in store at once; look twice if so wished."""
        doubted: set[str] = set()
        for _ in range(MOST_ACTS):
            action, hide = self.asked(), self.hide
            if action.kind == "none":
                return
            if action.state != "stored":
                self.now = max(self.now, action.due)
            if action.latest is not None and self.now > action.latest:
                self.late.append(f"{action.stage} {action.kind}")
            if action.kind == "begin":
                self.begun.append(action.stage)
            if not_yet_once and action.check and action.stage not in doubted:
                doubted.add(action.stage)
                self._note(*events_for_not_yet(hide, self.route, action))
            else:
                self._note(*events_for_done(hide, self.route, action))
        raise AssertionError(f"no end after {MOST_ACTS} acts, in {self.hide.stage}")

    def _note(self, *events: Event) -> None:
        tap = len(self.entries) + 1
        for event in events:
            seq = len(self.entries) + 1
            self.entries.append(
                Entry(seq=seq, tap=tap, at=self.now, recorded=self.now, event=event)
            )


@pytest.mark.parametrize(("route", "came"), CAME_IN, ids=NAMES)
def test_each_route_is_walked_from_each_start_to_its_end(route: Route, came: str) -> None:
    """Doing what comes next begins every stage from the start on, in order, and finishes."""
    first = route.place_of(route.starts[came])
    walk = _Walk(route, came, route.species[0])
    walk.to_the_end()
    assert "finished" == walk.asked().state
    assert [stage.id for stage in route.stages[first:]] == walk.begun


@pytest.mark.parametrize(("route", "came"), CAME_IN, ids=NAMES)
def test_begun_on_a_monday_morning_no_route_is_ever_late(route: Route, came: str) -> None:
    """With ordinary hours and each thing done when due, no latest time of any stage is missed."""
    walk = _Walk(route, came, route.species[0])
    walk.to_the_end()
    assert [] == walk.late


@pytest.mark.parametrize(("route", "came"), CAME_IN, ids=NAMES)
def test_a_doubtful_look_at_every_stage_does_not_hold_a_route_up(route: Route, came: str) -> None:
    """One "not yet" at each look still leads to the end, whichever species it is."""
    walk = _Walk(route, came, route.species[-1])
    walk.to_the_end(not_yet_once=True)
    assert "finished" == walk.asked().state


def _stages() -> list[tuple[str, Stage]]:
    return [(f"{route.id}, {stage.id}", stage) for route in ROUTES for stage in route.stages]


def test_every_hold_leaves_time_for_the_work_in_it() -> None:
    """A hold counts from the beginning, so its maximum holds the hands-on time."""
    for name, stage in _stages():
        for hold in stage.hold:
            assert hold.min <= hold.target <= hold.max, name
            assert stage.work <= hold.max, name
            assert NO_TIME < hold.max, name


def test_every_hold_fits_between_opening_hours() -> None:
    """For each hold some working hour of the week begins it so that its look is in the shop."""
    begins = [MONDAY + timedelta(minutes=30 * step) for step in range(48 * 5)]
    begins = [begin for begin in begins if SHOP.is_open(begin)]
    for name, stage in _stages():
        for hold in stage.hold:
            looks = ((begin, SHOP.next_open(begin + max(hold.min, stage.work))) for begin in begins)
            assert any(look and look <= begin + hold.max for begin, look in looks), name


def test_every_attention_takes_less_than_its_interval() -> None:
    """Nobody is asked for the next turn before the last is done; all are whole minutes."""
    for name, stage in _stages():
        for attention in stage.attend:
            assert NO_TIME < attention.work < attention.every <= attention.at_most, name
            assert attention.work % timedelta(minutes=1) == NO_TIME, name


def test_the_vessels_are_the_kinds_a_shop_has() -> None:
    """One plain word each, the same in every route, so that they can be counted and planned."""
    kinds = {stage.vessel for _, stage in _stages() if stage.vessel}
    known = {"tub", "board", "frame", "beam", "bench", "rail", "smokehouse", "freezer"}
    assert known == kinds


def test_every_bath_is_made_in_a_tub() -> None:
    """A stage with a liquor to have ready holds it in a tub; a dressing or dry salt need not."""
    for name, stage in _stages():
        for mix in {stage.mix, *stage.mix_when.values()} - {""}:
            if LIBRARY.formula(mix).kind == "liquor":
                assert stage.vessel == "tub", name


def test_every_stage_says_in_its_file_what_lateness_costs() -> None:
    """Raw, wet and limed hides stake the hide; what is dry and finished stakes nothing."""
    stakes = {name: stage.stake for name, stage in _stages()}
    for route in ROUTES:
        for stage in route.stages:
            if stage.id in ("trim", "first-salting", "soak", "lime", "thaw"):
                assert "hide" == stakes[f"{route.id}, {stage.id}"]
            if stage.id in ("age", "rest"):
                assert "nothing" == stakes[f"{route.id}, {stage.id}"]
            if stage.stake == "nothing":
                assert "othing spoils" in stage.late, stage.late


def test_a_pickled_skin_meets_no_plain_water() -> None:
    """From the pickle on every rinse of the pickled pelt has salt in it, 30 g to the litre."""
    route = LIBRARY.route("hair-on-pickled-pelt")
    after = route.stages[route.place_of("pickle") :]
    rinses = [stage.mix for stage in after if stage.id in ("neutralise", "rinse")]
    assert ["pickle-neutralising-rinse"] * 2 == rinses
    for mix in rinses:
        (part,) = LIBRARY.formula(mix).parts
        amounts = {each.substance: each for each in part.ingredients}
        salt_g, water_l = amounts["salt"].mass_g, amounts["water"].volume_l
        assert salt_g is not None and water_l is not None
        assert pytest.approx(30, abs=0.1) == salt_g / water_l
    assert "soap-wash" not in {stage.mix for stage in after}


@pytest.mark.parametrize("route", ROUTES, ids=lambda route: route.id)
def test_lime_is_only_for_routes_without_hair_and_acid_comes_after_it(route: Route) -> None:
    """A hair-on route has no lime; a limed hide is unhaired and delimed before tan or frame."""
    order = [stage.id for stage in route.stages]
    if route.hair_on:
        assert not any("lime" in stage.mix for stage in route.stages)
    elif "lime" in order:
        assert order.index("lime") < order.index("unhair") < order.index("delime")
        after = order[order.index("delime") + 1]
        assert after in ("alum", "first-liquor", "lace")
