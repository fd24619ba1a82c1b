"""A small route, a hide on it, and hours in two zones. Figures invented for the tests."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, time, timedelta, tzinfo

import pytest
from dateutil import tz

from benchconsole.model.events import Entry, Event, HideTakenIn
from benchconsole.model.routes import Attention, Check, CoatWaits, Hold, Route, Stage
from benchconsole.model.shop import OpenSpan
from benchconsole.model.state import HideState, fold
from benchconsole.schedule.hours import Hours

History = Callable[..., HideState]


def _hours(count: float) -> timedelta:
    return timedelta(hours=count)


@pytest.fixture
def berlin() -> tzinfo:
    """A European zone: clocks change on the last Sundays of March and October at 01:00 UTC."""
    zone = tz.gettz("Europe/Berlin")
    assert zone is not None
    return zone


@pytest.fixture
def chicago() -> tzinfo:
    """An American zone: clocks change on Sundays in March and November at 02:00 local time."""
    zone = tz.gettz("America/Chicago")
    assert zone is not None
    return zone


@pytest.fixture
def weekday_spans() -> tuple[OpenSpan, ...]:
    """Monday to Saturday, 08:00 to 18:00."""
    return tuple(OpenSpan(weekday=day, opens=time(8), closes=time(18)) for day in range(6))


@pytest.fixture
def hours(weekday_spans: tuple[OpenSpan, ...]) -> Hours:
    """Open on weekdays and Saturdays by day, in UTC, so that wall and instant read alike."""
    return Hours(weekday_spans, (), UTC)


@pytest.fixture
def always() -> Hours:
    """A shop that never closes."""
    spans = [OpenSpan(weekday=day, opens=time(0), closes=time(0)) for day in range(7)]
    return Hours(spans, (), UTC)


@pytest.fixture
def route() -> Route:
    """Salt, a store, a pickle that is stirred, a rinse without a wait, oil in two halves."""
    return Route(
        id="pelt",
        name="Pelt",
        purpose="a test",
        species=("deer",),
        sources=(),
        stages=(
            Stage(
                id="salt",
                name="salt",
                do="Rub in salt.",
                work=_hours(0.5),
                late="hair slips",
                soon=_hours(6),
                hold=(Hold(min=_hours(24), target=_hours(48), max=_hours(72)),),
                check=Check(ask="Is it stiff?", again=_hours(12)),
                keeps=timedelta(days=180),
            ),
            Stage(
                id="pickle",
                name="pickle",
                do="Lay it in the pickle.",
                work=_hours(0.25),
                late="the skin swells",
                mix="salt-acid",
                needs=("tub",),
                inspect="Smell it, pull the hair.",
                hold=(
                    Hold(min=_hours(24), target=_hours(72), max=_hours(120)),
                    Hold(min=_hours(12), target=_hours(24), max=_hours(48), species=("rabbit",)),
                ),
                attend=(Attention(do="Stir.", every=_hours(8), at_most=_hours(16)),),
                check=Check(ask="White through?", again=_hours(12)),
            ),
            Stage(id="rinse", name="rinse", do="Rinse.", work=_hours(0.25), late="salt stays in"),
            Stage(
                id="oil",
                name="oil",
                do="Put on the first half.",
                work=_hours(0.5),
                late="it dries as hard as a board",
                mix="two-half",
                soon=_hours(10),
                coats=CoatWaits(
                    count=2, wait_min=_hours(0.5), wait_target=_hours(1), wait_max=_hours(2)
                ),
            ),
            Stage(
                id="dry",
                name="dry",
                do="Cover it.",
                work=_hours(0.1),
                late="too dry to soften",
                hold=(Hold(min=_hours(12), target=_hours(24), max=_hours(36)),),
            ),
        ),
    )


@pytest.fixture
def history() -> History:
    """Folds a hide taken in at an instant and the events after it, each with its instant."""

    def folded(
        taken_in_at: datetime,
        *events: tuple[datetime, Event],
        stage: str = "salt",
        came: str = "green",
        species: str = "deer",
    ) -> HideState:
        came_in = HideTakenIn(
            hide="h1", name="Doe", species=species, route="pelt", stage=stage, came=came
        )
        entries = [
            Entry(seq=place, tap=place, at=at, recorded=at, event=event)
            for place, (at, event) in enumerate([(taken_in_at, came_in), *events], start=1)
        ]
        return fold(entries).hides["h1"]

    return folded
