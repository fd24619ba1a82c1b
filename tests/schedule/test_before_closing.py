"""The evening of a hide in a hold: what is to be seen to before the shop closes."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import msgspec
import pytest

from benchconsole.model.events import Attended, CheckFailed, StageBegun
from benchconsole.model.routes import Attention, Check, Hold, Route
from benchconsole.model.state import HideState
from benchconsole.schedule.hours import Hours
from benchconsole.schedule.next_action import next_action

History = Callable[..., HideState]
T0 = datetime(2026, 3, 2, 8, tzinfo=UTC)
"""A Monday morning, at the opening."""


def _h(count: float) -> timedelta:
    return timedelta(hours=count)


def _begun(stage: str) -> tuple[datetime, StageBegun]:
    return T0, StageBegun(hide="h1", stage=stage)


class TestBeforeClosing:
    """Every two hours by day, and nobody there from 18:00 to 08:00: what is said in the evening."""

    @pytest.fixture
    def turned(self, route: Route) -> Route:
        """The salting with an attention every 2 h that may be left for 15 h."""
        turn = Attention(do="Turn it; for the night cover it.", every=_h(2), at_most=_h(15))
        salt = msgspec.structs.replace(route.stage("salt"), attend=(turn,))
        return msgspec.structs.replace(route, stages=(salt, *route.stages[1:]))

    @pytest.mark.parametrize(
        ("given_h", "now_h", "said"),
        [
            (7, 8.5, ""),
            (7.5, 9, ""),
            (8.5, 8.75, ""),
            (
                8.5,
                9.25,
                "Closed from Monday 18:00 to Tuesday 08:00: before you go, do it once more.",
            ),
            (
                7.5,
                9.6,
                "Closed from Monday 18:00 to Tuesday 08:00: before you go, do it once more.",
            ),
            (9.9, 9.95, ""),
            (8, 10.1, "Closed until Tuesday 08:00: before you go, do it once more."),
            (9.9, 10.5, ""),
            (9.9, 24, ""),
        ],
    )
    def test_once_more_before_the_night(
        self,
        turned: Route,
        history: History,
        hours: Hours,
        given_h: float,
        now_h: float,
        said: str,
    ) -> None:
        """From when it may be given again until it has been; not while another comes by day."""
        given = (T0 + _h(given_h), Attended(hide="h1", stage="salt", attention=0))
        hide = history(T0, _begun("salt"), given)
        action = next_action(hide, turned, hours=hours, now=T0 + _h(now_h))
        assert "attend" == action.kind
        told = "Closed " + action.why.rpartition("Closed ")[2] if "you go" in action.why else ""
        assert said == told

    def test_a_look_that_comes_first_says_what_else_to_do(
        self, turned: Route, history: History, hours: Hours
    ) -> None:
        """The attention does not show beside the look, so its own words are said there."""
        failed = (T0 + _h(8.5), CheckFailed(hide="h1", stage="salt"))
        (stage, *rest) = turned.stages
        soon = msgspec.structs.replace(
            stage,
            hold=(Hold(min=_h(1), target=_h(2), max=_h(40)),),
            check=Check(ask="?", again=_h(1)),
        )
        own = msgspec.structs.replace(turned, stages=(soon, *rest))
        hide = history(T0, _begun("salt"), failed)
        action = next_action(hide, own, hours=hours, now=T0 + _h(9.6))
        assert "check" == action.kind
        assert action.why.endswith(
            "Closed from Monday 18:00 to Tuesday 08:00: before you go, turn it; for the night "
            "cover it."
        )

    def test_a_closed_time_that_is_too_long_asks_for_somebody(
        self, turned: Route, history: History, hours: Hours
    ) -> None:
        """Covering does not carry it over a Sunday."""
        saturday = T0 + timedelta(days=5)
        hide = history(saturday, (saturday, StageBegun(hide="h1", stage="salt")))
        action = next_action(hide, turned, hours=hours, now=saturday + _h(9))
        assert (
            "Closed from Saturday 18:00 to Monday 08:00, longer than the 15 h it may be left: "
            "somebody must stay or come in."
        ) in action.why


class TestClosedDays:
    """A hide that wants tending every quarter of an hour, and may be left for sixteen hours."""

    @pytest.fixture
    def pulled(self, route: Route) -> Route:
        """The salting, pulled all day and rolled up for the night."""
        pull = Attention(do="Pull it.", every=_h(0.25), at_most=_h(16))
        week = (Hold(min=_h(168), target=_h(168), max=_h(168)),)
        salt = msgspec.structs.replace(route.stage("salt"), attend=(pull,), hold=week)
        return msgspec.structs.replace(route, stages=(salt, *route.stages[1:]))

    @pytest.mark.parametrize(
        ("given_h", "due_h", "said"),
        [
            (9.75, 10, ""),
            (10, 24, "somebody must come in, best Sunday 08:00."),
            (10.5, 24, "somebody must come in, best Sunday 08:00."),
            (24, 48, "Monday 08:00 is 8 h late: come in before if you can."),
            (30, 48, "Monday 08:00 is 2 h late: come in before if you can."),
            (33, 48, "Monday 08:00 is still 1 h inside the window."),
            (48, 48.25, ""),
        ],
    )
    def test_one_visit_on_a_sunday(
        self,
        pulled: Route,
        history: History,
        hours: Hours,
        given_h: float,
        due_h: float,
        said: str,
    ) -> None:
        """Closed from Saturday evening to Monday: due on Sunday morning, then on Monday."""
        saturday = T0 + timedelta(days=5)
        begun = (saturday, StageBegun(hide="h1", stage="salt"))
        pulled_at = saturday + _h(given_h)
        given = (pulled_at, Attended(hide="h1", stage="salt", attention=0))
        hide = history(saturday, begun, given)
        action = next_action(hide, pulled, hours=hours, now=pulled_at)
        assert ("attend", saturday + _h(due_h)) == (action.kind, action.due)
        assert said in action.why

    def test_what_somebody_stays_for_is_asked_for_each_time(
        self, route: Route, history: History, hours: Hours
    ) -> None:
        """Moved every ten minutes of the first hour: also of an hour on a Sunday."""
        move = Attention(do="Move.", every=_h(1 / 6), at_most=_h(1 / 3), until=_h(1))
        salt = msgspec.structs.replace(route.stage("salt"), attend=(move,))
        own = msgspec.structs.replace(route, stages=(salt, *route.stages[1:]))
        sunday = T0 + timedelta(days=6)
        begun = (sunday, StageBegun(hide="h1", stage="salt"))
        given = (sunday + _h(0.25), Attended(hide="h1", stage="salt", attention=0))
        action = next_action(history(sunday, begun, given), own, hours=hours, now=given[0])
        assert given[0] + move.every == action.due
