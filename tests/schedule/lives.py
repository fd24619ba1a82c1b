"""Any route, any hours, any hide that is walked along by acts, late, early, and off its route."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import UTC, date, datetime, time, timedelta

from dateutil import tz
from hypothesis import strategies as st

from benchconsole.model.events import (
    Entry,
    Event,
    HideTakenIn,
    LiquorMade,
    LiquorSpoiled,
    LotSplit,
    RouteChanged,
    StageSkipped,
    StartChosen,
)
from benchconsole.model.routes import Attention, Check, CoatWaits, Hold, Route, Stage
from benchconsole.model.shop import OpenSpan
from benchconsole.model.state import HideState, ShopState, fold
from benchconsole.model.weighing import Liquor
from benchconsole.schedule.actions import Action
from benchconsole.schedule.beginnings import lying_in
from benchconsole.schedule.hours import Hours
from benchconsole.schedule.moving import attended_there, lies_in_it
from benchconsole.schedule.next_action import next_action
from benchconsole.schedule.steps import (
    allowed_acts,
    events_for_attended,
    events_for_done,
    events_for_not_yet,
)

T0 = datetime(2026, 3, 6, 9, tzinfo=UTC)
"""Two days before the American spring change, three weeks before the European one."""

LIQUOR = Liquor(
    id="L1",
    formula="bath",
    formula_name="Bath",
    factor=1.0,
    lines=(),
    volume_l=10.0,
    density_kg_m3=1020.0,
    strengths=(),
    water_celsius=15.0,
    made_at=T0,
)

SPECIES = st.sampled_from(["deer", "rabbit"])


def spans(low_min: int, high_min: int) -> st.SearchStrategy[timedelta]:
    """A time of so many minutes, the ends included."""
    return st.integers(low_min, high_min).map(lambda minutes: timedelta(minutes=minutes))


@st.composite
def holds(draw: st.DrawFn) -> Hold:
    """A wait for all or for one species, its three times in order."""
    low, middle, high = sorted(draw(st.lists(spans(0, 6000), min_size=3, max_size=3)))
    species = draw(st.sampled_from([(), ("deer",), ("rabbit",)]))
    return Hold(min=low, target=middle, max=high, species=species)


@st.composite
def attentions(draw: st.DrawFn) -> Attention:
    """Something to do again and again, for all of the hold or part of it."""
    every = draw(spans(60, 1500))
    return Attention(
        do="Stir.",
        every=every,
        at_most=every + draw(spans(0, 900)),
        since=draw(spans(0, 1500)),
        until=draw(st.none() | spans(60, 4000)),
    )


@st.composite
def coats(draw: st.DrawFn) -> CoatWaits:
    """Up to four coats with their waits."""
    low, middle, high = sorted(draw(st.lists(spans(1, 300), min_size=3, max_size=3)))
    count = draw(st.integers(1, 4))
    return CoatWaits(count=count, wait_min=low, wait_target=middle, wait_max=high)


@st.composite
def routes(draw: st.DrawFn) -> Route:
    """One to three stages with whatever a stage may ask for."""
    stages = tuple(
        Stage(
            id=f"s{place}",
            name=f"stage {place}",
            do="Do it.",
            work=timedelta(minutes=10),
            late="it spoils",
            hold=tuple(draw(st.lists(holds(), max_size=2))),
            attend=tuple(draw(st.lists(attentions(), max_size=2))),
            check=draw(st.none() | st.builds(Check, ask=st.just("Ready?"), again=spans(30, 900))),
            coats=draw(st.none() | coats()),
            keeps=draw(st.none() | spans(0, 9000)),
            soon=draw(st.none() | spans(0, 900)),
        )
        for place in range(draw(st.integers(1, 3)))
    )
    return Route(id="r", name="R", purpose="", species=(), stages=stages, sources=())


@st.composite
def opening_hours(draw: st.DrawFn) -> Hours:
    """Any week of openings and some closed days, in a zone with clock changes."""
    zone = draw(st.sampled_from(["Europe/Berlin", "America/Chicago"]))
    opens = [
        OpenSpan(weekday=weekday, opens=time(first), closes=time(last % 24))
        for weekday, first, last in draw(
            st.lists(
                st.tuples(st.integers(0, 6), st.integers(0, 12), st.integers(13, 24)), max_size=7
            )
        )
    ]
    closed_on = draw(st.lists(st.dates(date(2026, 3, 1), date(2026, 4, 30)), max_size=4))
    return Hours(opens, closed_on, tz.gettz(zone) or UTC)


class Life:
    """A hide walked along its route by acts, each folded like the desk folds it."""

    def __init__(self, route: Route, hours: Hours, species: str) -> None:
        self.route, self.hours, self.now = route, hours, T0
        came = HideTakenIn(
            hide="h", name="H", species=species, route="r", stage="s0", came="green", count=3
        )
        self.entries: list[Entry] = []
        self.note((came, LiquorMade(weigh_out="", liquor=LIQUOR)))

    @property
    def hide(self) -> HideState:
        """Where it stands."""
        return fold(self.entries).hides["h"]

    @property
    def state(self) -> ShopState:
        """It, and what was split off it."""
        return fold(self.entries)

    def asked(self) -> Action:
        """What comes next for it."""
        return next_action(self.hide, self.route, hours=self.hours, now=self.now)

    def act(self, wish: str) -> None:
        """What was wished for, where the hide allows it."""
        action = self.asked()
        hide = self.hide
        if wish in OFF_ROUTE:
            self.note(OFF_ROUTE[wish](hide, self.route, self.now))
        if wish not in allowed_acts(action):
            return
        if wish == "done":
            self.note(events_for_done(hide, self.route, action, liquor=LIQUOR.id))
        elif wish == "not-yet":
            self.note(events_for_not_yet(hide, self.route, action))
        else:
            self.note(events_for_attended(hide, self.route, action))

    def note(self, events: Sequence[Event]) -> None:
        """One tap."""
        tap = len(self.entries) + 1
        for event in events:
            seq = len(self.entries) + 1
            self.entries.append(
                Entry(seq=seq, tap=tap, at=self.now, recorded=self.now, event=event)
            )


def _skip(hide: HideState, route: Route, now: datetime) -> tuple[Event, ...]:
    return (StageSkipped(hide="h", stage=hide.stage, next=route.stages[-1].id),)


def _back(hide: HideState, route: Route, now: datetime) -> tuple[Event, ...]:
    return (StageSkipped(hide="h", stage=hide.stage, next="s0"),)


def _change(hide: HideState, route: Route, now: datetime) -> tuple[Event, ...]:
    lying = lying_in(hide, route)
    return (RouteChanged(hide="h", route="r", stage=route.stages[-1].id, lying=lying),)


def _change_within(hide: HideState, route: Route, now: datetime) -> tuple[Event, ...]:
    here = next((stage for stage in route.stages if stage.id == hide.stage), None)
    there = route.stages[-1]
    given = attended_there(hide, here, there)
    return (RouteChanged(hide="h", route="r", stage=there.id, begun=True, attended_at=given),)


def _split(hide: HideState, route: Route, now: datetime) -> tuple[Event, ...]:
    return (LotSplit(hide="h", new_hide="h2", of="H", name="H2", count=1),)


def _spoil(hide: HideState, route: Route, now: datetime) -> tuple[Event, ...]:
    out = ("h",) if lies_in_it(hide, route, LIQUOR.id) else ()
    return (LiquorSpoiled(liquor=LIQUOR.id, why="slimy", hides=("h",), out=out),)


def _start(hide: HideState, route: Route, now: datetime) -> tuple[Event, ...]:
    return (StartChosen(hide="h", start_at=now + timedelta(days=2)),)


OFF_ROUTE: dict[str, Callable[[HideState, Route, datetime], tuple[Event, ...]]] = {
    "skip": _skip,
    "back": _back,
    "change": _change,
    "change within": _change_within,
    "split": _split,
    "spoil": _spoil,
    "start": _start,
}
"""What no route foresees, as the desk would note it."""

ON_ROUTE = ("done", "done", "not-yet", "attended", "wait")


@st.composite
def lives(draw: st.DrawFn, *, off_route: bool = False) -> Life:
    """A hide some acts down its route, early and late; ``off_route``: and beside it."""
    life = Life(draw(routes()), draw(opening_hours()), draw(SPECIES))
    wishes = (*ON_ROUTE, *OFF_ROUTE) if off_route else ON_ROUTE
    acts = st.lists(st.tuples(st.sampled_from(wishes), spans(-60, 3000)), max_size=10)
    for wish, moved in draw(acts):
        life.now += moved
        life.act(wish)
    return life
