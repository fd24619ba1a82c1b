"""The next action of a hide: beginning, coats, the end."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import msgspec
import pytest

from benchconsole.model.events import CoatGiven, StageBegun, StageLeft
from benchconsole.model.routes import Hold, Route
from benchconsole.model.state import HideState
from benchconsole.schedule.actions import Action
from benchconsole.schedule.hours import Hours
from benchconsole.schedule.next_action import lost_action, next_action

History = Callable[..., HideState]
T0 = datetime(2026, 3, 2, 8, tzinfo=UTC)
"""A Monday morning."""


def _h(count: float) -> timedelta:
    return timedelta(hours=count)


def _begun(stage: str, after_h: float = 0) -> tuple[datetime, StageBegun]:
    return T0 + _h(after_h), StageBegun(hide="h1", stage=stage)


def _left(stage: str, following: str, after_h: float) -> tuple[datetime, StageLeft]:
    return T0 + _h(after_h), StageLeft(hide="h1", stage=stage, next=following)


def _changed(route: Route, stage: str, **changes: object) -> Route:
    stages = tuple(
        msgspec.structs.replace(s, **changes) if s.id == stage else s for s in route.stages
    )
    return msgspec.structs.replace(route, stages=stages)


def _window(action: Action) -> tuple[float | None, ...]:
    """Earliest, due and latest in hours after T0."""
    instants = (action.earliest, action.due, action.latest)
    return tuple(None if at is None else (at - T0) / _h(1) for at in instants)


class TestBeginning:
    """A hide that has arrived at a stage and not begun it."""

    def test_a_green_hide_is_due_at_once(
        self, route: Route, history: History, always: Hours
    ) -> None:
        """The first stage may, should and soon must begin; what is needed is on the action."""
        action = next_action(history(T0), route, hours=always, now=T0)
        assert ("begin", "due", "Rub in salt.") == (action.kind, action.state, action.action)
        assert (0, 0, 6) == _window(action)
        assert ("hair slips", _h(0.5)) == (action.spoils, action.work)
        assert action.why == "Taken in Monday 08:00; it may lie until Monday 14:00."

    @pytest.mark.parametrize(
        ("after_h", "state"), [(-1, "waiting"), (0, "due"), (6, "due"), (6.01, "overdue")]
    )
    def test_its_states_at_the_borders(
        self, route: Route, history: History, always: Hours, after_h: float, state: str
    ) -> None:
        """Due from arrival to the latest inclusive; a clock set back waits and does not fail."""
        action = next_action(history(T0), route, hours=always, now=T0 + _h(after_h))
        assert state == action.state

    def test_what_came_salted_is_in_no_hurry(
        self, route: Route, history: History, always: Hours
    ) -> None:
        """The limit for a green hide does not press one that was salted elsewhere."""
        salted = history(T0, came="salted")
        assert next_action(salted, route, hours=always, now=T0).latest is None

    def test_a_store_keeps_until_the_person_chooses(
        self, route: Route, history: History, always: Hours
    ) -> None:
        """In a stage that keeps, the next one is due only when keeping ends."""
        hide = history(T0, _begun("salt"), _left("salt", "pickle", 48))
        action = next_action(hide, route, hours=always, now=T0 + _h(49))
        assert ("stored", "begin", "pickle") == (action.state, action.kind, action.stage)
        assert (48, 48 + 180 * 24, 48 + 180 * 24) == _window(action)
        assert ("salt-acid", ("tub",)) == (action.mix, action.needs)
        assert action.spoils == "hair slips"
        late = next_action(hide, route, hours=always, now=T0 + timedelta(days=183))
        assert "overdue" == late.state
        assert late.why.endswith("Late by 1 d.")

    def test_the_hold_before_still_counts(
        self, route: Route, history: History, always: Hours
    ) -> None:
        """A hide lies in its pickle until the rinse begins: the pickle's maximum limits it."""
        hide = history(
            T0, _begun("pickle"), _left("pickle", "rinse", 72), stage="pickle", came="salted"
        )
        action = next_action(hide, route, hours=always, now=T0 + _h(72))
        assert (72, 72, 120) == _window(action)
        assert "the skin swells" == action.spoils
        late = next_action(hide, route, hours=always, now=T0 + _h(121))
        assert ("overdue", "Smell it, pull the hair.") == (late.state, late.inspect)

    @pytest.mark.parametrize(("soon_h", "latest_h"), [(None, None), (10, 140)])
    def test_a_limit_past_on_arrival_counts_no_more(
        self,
        route: Route,
        history: History,
        always: Hours,
        soon_h: float | None,
        latest_h: float | None,
    ) -> None:
        """Looked at after its maximum and let pass: only the stage's own ``soon`` is left."""
        own = _changed(route, "rinse", soon=None if soon_h is None else _h(soon_h))
        hide = history(T0, _begun("pickle"), _left("pickle", "rinse", 130), stage="pickle")
        action = next_action(hide, own, hours=always, now=T0 + _h(130))
        assert latest_h == _window(action)[2]
        assert "salt stays in" == action.spoils

    def test_the_nearer_limit_rules(self, route: Route, history: History, always: Hours) -> None:
        """Of the stage before's maximum and this one's ``soon`` the earlier, with its harm."""
        own = _changed(route, "rinse", soon=_h(4))
        hide = history(T0, _begun("pickle"), _left("pickle", "rinse", 72), stage="pickle")
        action = next_action(hide, own, hours=always, now=T0 + _h(72))
        assert (76, "salt stays in") == (_window(action)[2], action.spoils)

    def test_a_beginning_in_closed_time_moves_to_the_opening(
        self, route: Route, history: History, hours: Hours
    ) -> None:
        """Passed on a Sunday: the rinse is due on Monday morning, with the reason."""
        hide = history(T0, _begun("pickle", 72), _left("pickle", "rinse", 150), stage="pickle")
        action = next_action(hide, route, hours=hours, now=T0 + _h(150))
        assert (150, 168, 192) == _window(action)
        assert "Closed Sunday; Monday 08:00 is still 1 d inside the window." in action.why

    def test_a_keeping_that_is_over_at_once_is_no_store(
        self, route: Route, history: History, always: Hours
    ) -> None:
        """Keeps for no time at all: the hide is due now, not when somebody chooses."""
        own = _changed(_changed(route, "salt", keeps=_h(0)), "pickle", soon=_h(5))
        hide = history(T0, _begun("salt"), _left("salt", "pickle", 48))
        action = next_action(hide, own, hours=always, now=T0 + _h(48))
        assert ("due", (48, 48, 53)) == (action.state, _window(action))

    def test_a_time_moved_months_ahead_is_told_with_its_date(
        self, route: Route, history: History, hours: Hours
    ) -> None:
        """Keeping ends on a Sunday in August: which Saturday is meant is said."""
        hide = history(T0, _begun("salt"), _left("salt", "pickle", 24))
        action = next_action(hide, route, hours=hours, now=T0 + _h(24))
        assert datetime(2026, 8, 29, 17, 45, tzinfo=UTC) == action.due
        assert "Closed Sunday 30 August and the next opening is too late; " in action.why
        assert (
            "Saturday 29 August 17:45 is the last moment before that leaves 15 min." in action.why
        )

    @pytest.mark.parametrize(
        ("after_h", "due_h", "why"),
        [
            (8.5, 8.5, "it may lie until Tuesday 02:30."),
            (
                8.6,
                8.6,
                "It may lie until Tuesday 02:36. Somebody must stay 6 min after closing.",
            ),
            (
                10,
                10,
                "It may lie until Tuesday 04:00. Somebody must stay 1 h 30 min after closing.",
            ),
            (
                14,
                24,
                "Closed Monday 22:00; Tuesday 08:00 is the very end of the window.",
            ),
        ],
    )
    def test_two_coats_want_somebody_there(
        self,
        route: Route,
        history: History,
        hours: Hours,
        after_h: float,
        due_h: float,
        why: str,
    ) -> None:
        """Half an hour's work and an hour's wait before 18:00; else who stays is told how long."""
        hide = history(T0, _left("rinse", "oil", after_h), stage="rinse")
        action = next_action(hide, route, hours=hours, now=T0 + _h(after_h))
        assert due_h == _window(action)[1]
        assert action.why.casefold().endswith(why.casefold())

    def test_what_has_no_room_today_begins_tomorrow(
        self, route: Route, history: History, hours: Hours
    ) -> None:
        """At 17:00 two coats do not fit before 18:00; they may wait, so nobody has to stay."""
        own = _changed(route, "oil", soon=_h(24))
        hide = history(T0, _left("rinse", "oil", 9), stage="rinse")
        action = next_action(hide, own, hours=hours, now=T0 + _h(9))
        assert (9, 24, 33) == _window(action)
        assert action.why.endswith(
            "It takes 1 h 30 min and closing is Monday 18:00; "
            "Tuesday 08:00 is still 9 h inside the window."
        )


class TestCoats:
    """A dressing in two halves with a timed wait."""

    def test_the_second_half(self, route: Route, history: History, always: Hours) -> None:
        """Which coat, shaken again, and its short window from the coat before."""
        hide = history(T0, _begun("oil"), stage="oil")
        action = next_action(hide, route, hours=always, now=T0 + _h(0.25))
        assert ("coat", 2, "waiting") == (action.kind, action.coat, action.state)
        assert action.action == "Second of 2 coats: put on the other half, shaken again."
        assert (0.5, 1, 2) == _window(action)

    @pytest.mark.parametrize(
        ("after_h", "state"),
        [(0.49, "waiting"), (0.5, "ready"), (1, "due"), (2, "due"), (2.01, "overdue")],
    )
    def test_its_states_at_the_borders(
        self, route: Route, history: History, always: Hours, after_h: float, state: str
    ) -> None:
        """Minimum, target and maximum of the wait each open the next state."""
        hide = history(T0, _begun("oil"), stage="oil")
        assert state == next_action(hide, route, hours=always, now=T0 + _h(after_h)).state

    def test_a_wait_that_ends_in_closed_time_says_so(
        self, route: Route, history: History, hours: Hours
    ) -> None:
        """It is not moved: the skin takes the oil up, open or not."""
        hide = history(T0, _begun("oil", 9.5), stage="oil")
        action = next_action(hide, route, hours=hours, now=T0 + _h(9.5))
        assert 10.5 == _window(action)[1]
        assert "The shop is closed then (Monday 18:30): somebody must stay." in action.why

    def test_each_coat_waits_for_the_one_before(
        self, route: Route, history: History, always: Hours
    ) -> None:
        """With three coats the third counts from the second, and is called the last part."""
        coats = route.stage("oil").coats
        assert coats is not None
        own = _changed(route, "oil", coats=msgspec.structs.replace(coats, count=3))
        second = (T0 + _h(1.5), CoatGiven(hide="h1", stage="oil", coat=2))
        action = next_action(
            history(T0, _begun("oil"), second, stage="oil"), own, hours=always, now=T0 + _h(2)
        )
        assert (3, (2.0, 2.5, 3.5)) == (action.coat, _window(action))
        assert action.action == "Third of 3 coats: put on the last part, shaken again."


class TestEnds:
    """Hides with nothing more to do, or nothing that is known."""

    def test_a_finished_hide(self, route: Route, history: History, always: Hours) -> None:
        """Nothing to do, from the instant it was finished."""
        hide = history(T0, _begun("dry"), _left("dry", "", 24), stage="dry")
        action = next_action(hide, route, hours=always, now=T0 + _h(30))
        assert ("none", "finished", (24, 24, None)) == (
            action.kind,
            action.state,
            _window(action),
        )

    def test_a_route_or_stage_that_vanished(
        self, route: Route, history: History, always: Hours
    ) -> None:
        """The hide is not lost with it: it says what is missing and what to do."""
        hide = history(T0)
        lost = lost_action(hide, T0 + _h(3))
        assert ("none", "due") == (lost.kind, lost.state)
        assert lost.action == (
            "Its route “pelt” is not in the library: bring the file back or note where it stands."
        )
        elsewhere = next_action(history(T0, stage="lime"), route, hours=always, now=T0)
        assert elsewhere.action.startswith("Its stage “lime” is not in the route “Pelt”")

    def test_a_shop_that_is_never_open(self, route: Route, history: History) -> None:
        """Every hide still has its times, and the reason they stand in closed time."""
        hide = history(T0, _begun("salt"))
        action = next_action(hide, route, hours=Hours((), (), UTC), now=T0)
        assert (24, 48, 72) == _window(action)
        assert "The shop has no open hours" in action.why

    def test_an_only_hold_of_another_species(
        self, route: Route, history: History, always: Hours
    ) -> None:
        """No hold for this animal: the check is all there is, after the work, without a limit."""
        rabbit = Hold(min=_h(1), target=_h(2), max=_h(3), species=("rabbit",))
        own = _changed(route, "salt", hold=(rabbit,))
        action = next_action(history(T0, _begun("salt")), own, hours=always, now=T0)
        assert ("ready", (0, 0.5, None)) == (action.state, _window(action))
