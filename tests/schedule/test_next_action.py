"""The next action of a hide: beginning, coats, hold, check, attentions, the end."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, time, timedelta, tzinfo

import msgspec
import pytest

from benchconsole.model.events import Attended, CheckFailed, CoatGiven, StageBegun, StageLeft
from benchconsole.model.routes import Attention, Hold, Route
from benchconsole.model.shop import OpenSpan
from benchconsole.model.state import HideState
from benchconsole.schedule.actions import Action
from benchconsole.schedule.hours import Hours
from benchconsole.schedule.next_action import lost_action, next_action, open_actions

History = Callable[..., HideState]
T0 = datetime(2026, 3, 2, 8, tzinfo=UTC)
"""A Monday morning."""


def _h(count: float) -> timedelta:
    return timedelta(hours=count)


def _begun(stage: str, after_h: float = 0) -> tuple[datetime, StageBegun]:
    return T0 + _h(after_h), StageBegun(hide="h1", stage=stage)


def _left(stage: str, following: str, after_h: float) -> tuple[datetime, StageLeft]:
    return T0 + _h(after_h), StageLeft(hide="h1", stage=stage, next=following)


def _failed(stage: str, after_h: float) -> tuple[datetime, CheckFailed]:
    return T0 + _h(after_h), CheckFailed(hide="h1", stage=stage)


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


class TestCoats:
    """A dressing in two halves with a timed wait."""

    def test_the_second_half(self, route: Route, history: History, always: Hours) -> None:
        """Which coat, shaken again, and its short window from the coat before."""
        hide = history(T0, _begun("oil"), stage="oil")
        action = next_action(hide, route, hours=always, now=T0 + _h(0.25))
        assert ("coat", 2, "waiting") == (action.kind, action.coat, action.state)
        assert action.action == "Second of 2 coats: put on the other half, shaken again."
        assert (0.5, 1, 2) == _window(action)
        assert "two-half" == action.mix

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


class TestChecks:
    """The look that ends a hold."""

    def test_the_hold_gives_its_window(self, route: Route, history: History, always: Hours) -> None:
        """Earliest, due and latest are the hold's, counted from its beginning."""
        hide = history(T0, _begun("salt"))
        action = next_action(hide, route, hours=always, now=T0 + _h(1))
        assert ("check", "Is it stiff?", "waiting") == (action.kind, action.check, action.state)
        assert (24, 48, 72) == _window(action)
        assert T0 + _h(48) == action.hold_ends
        assert "Before Tuesday 08:00 is early: pass it only if the hide itself" in action.why

    def test_a_species_of_its_own_hold(self, route: Route, history: History, always: Hours) -> None:
        """A rabbit is looked at sooner than a deer."""
        hide = history(T0, _begun("pickle"), stage="pickle", species="rabbit")
        (check,) = (a for a in open_actions(hide, route, hours=always, now=T0) if a.kind == "check")
        assert (12, 24, 48) == _window(check)

    @pytest.mark.parametrize(
        ("looks_h", "window"),
        [
            ((50,), (62, 62, 72)),
            ((65,), (72, 72, 72)),
            ((80,), (72, 92, 72)),
            ((30,), (42, 48, 72)),
            ((50, 60), (72, 72, 72)),
        ],
    )
    def test_a_failed_look_asks_again(
        self,
        route: Route,
        history: History,
        always: Hours,
        looks_h: tuple[float, ...],
        window: tuple[float, ...],
    ) -> None:
        """After the check's interval, not past a maximum still ahead, not before the target."""
        hide = history(T0, _begun("salt"), *(_failed("salt", at) for at in looks_h))
        assert window == _window(next_action(hide, route, hours=always, now=T0 + _h(81)))

    def test_a_look_too_late_stays_overdue_and_says_what_to_inspect(
        self, route: Route, history: History, always: Hours
    ) -> None:
        """Late is no fault: how late, what may have spoiled, what to inspect."""
        hide = history(T0, _begun("pickle"), stage="pickle")
        action = next_action(hide, route, hours=always, now=T0 + _h(126))
        assert ("overdue", "check") == (action.state, action.kind)
        assert ("the skin swells", "Smell it, pull the hair.") == (action.spoils, action.inspect)
        assert action.why.endswith("Late by 6 h.")

    def test_without_a_check_time_alone_moves_on(
        self, route: Route, history: History, always: Hours
    ) -> None:
        """A hold with nothing to look at ends by the clock; the last one finishes the piece."""
        hide = history(T0, _begun("dry"), stage="dry")
        action = next_action(hide, route, hours=always, now=T0 + _h(24))
        assert ("check", "", "due") == (action.kind, action.check, action.state)
        assert action.action == "Time is up: the piece is finished."
        own = _changed(route, "salt", check=None)
        onward = next_action(history(T0, _begun("salt")), own, hours=always, now=T0)
        assert onward.action == "Time is up: go on to “pickle”."

    def test_a_stage_left_open_by_an_odd_history_moves_on(
        self, route: Route, history: History, always: Hours
    ) -> None:
        """Neither hold nor coats nor check, yet begun: go on at once, without a fault."""
        hide = history(T0, _begun("rinse"), stage="rinse")
        action = next_action(hide, route, hours=always, now=T0)
        assert ("check", "due", (0, 0, None)) == (action.kind, action.state, _window(action))

    def test_a_hold_over_the_spring_change_keeps_its_hours(
        self, route: Route, history: History, berlin: tzinfo
    ) -> None:
        """24 h from Saturday 12:00 end on Sunday 13:00 by the wall, an hour having been lost."""
        spans = [OpenSpan(weekday=day, opens=time(8), closes=time(18)) for day in range(7)]
        noon = datetime(2026, 3, 28, 12, tzinfo=berlin).astimezone(UTC)
        began = (noon, StageBegun(hide="h1", stage="dry"))
        hours = Hours(spans, (), berlin)
        action = next_action(history(noon, began, stage="dry"), route, hours=hours, now=noon)
        assert _h(24) == action.due - noon
        assert (29, 13, 0) == (
            hours.local(action.due).day,
            hours.local(action.due).hour,
            hours.local(action.due).minute,
        )


class TestAttentions:
    """What a hold asks for while it runs."""

    def test_the_first_counts_from_the_hold(
        self, route: Route, history: History, always: Hours
    ) -> None:
        """Every eight hours, never more than sixteen apart, before the check."""
        hide = history(T0, _begun("pickle"), stage="pickle")
        attend, check = open_actions(hide, route, hours=always, now=T0)
        assert ("attend", "Stir.", 0) == (attend.kind, attend.action, attend.attention)
        assert (2, 8, 16) == _window(attend)
        assert ("check", 0) == (check.kind, check.attention)

    @pytest.mark.parametrize(
        ("given_h", "now_h", "kind"),
        [(60, 61, "attend"), (64, 65, "check"), (60, 72, "check"), (60, 71.9, "attend")],
    )
    def test_the_check_comes_first_once_due(
        self,
        route: Route,
        history: History,
        always: Hours,
        given_h: float,
        now_h: float,
        kind: str,
    ) -> None:
        """One that would fall on or after the check is left out; both due, the look is first."""
        stirred = (T0 + _h(given_h), Attended(hide="h1", stage="pickle", attention=0))
        hide = history(T0, _begun("pickle"), stirred, stage="pickle")
        assert kind == next_action(hide, route, hours=always, now=T0 + _h(now_h)).kind

    def test_a_failed_check_brings_it_back(
        self, route: Route, history: History, always: Hours
    ) -> None:
        """Not yet through: stirring goes on until the next look."""
        stirred = (T0 + _h(70), Attended(hide="h1", stage="pickle", attention=0))
        hide = history(T0, _begun("pickle"), stirred, _failed("pickle", 72), stage="pickle")
        action = next_action(hide, route, hours=always, now=T0 + _h(73))
        assert ("attend", 78) == (action.kind, _window(action)[1])

    @pytest.mark.parametrize(
        ("every_h", "at_most_h", "given_h", "due_h"),
        [
            (8, 16, 8, 24),  # 16:00; wanted at midnight; 08:00 is just within sixteen hours
            (8, 15, 7, 10),  # 15:00; wanted at 23:00; 06:00 would be the limit: closing time
            (8, 15, 8.5, 16.5),  # 16:30; closing is less than a quarter of the interval on
        ],
    )
    def test_at_night(
        self,
        route: Route,
        history: History,
        hours: Hours,
        every_h: float,
        at_most_h: float,
        given_h: float,
        due_h: float,
    ) -> None:
        """The next opening within the limit, else before closing, else it stays and is said."""
        stir = Attention(do="Stir.", every=_h(every_h), at_most=_h(at_most_h))
        own = _changed(route, "pickle", attend=(stir,))
        stirred = (T0 + _h(given_h), Attended(hide="h1", stage="pickle", attention=0))
        hide = history(T0, _begun("pickle"), stirred, stage="pickle")
        action = next_action(hide, own, hours=hours, now=T0 + _h(given_h))
        assert ("attend", due_h) == (action.kind, _window(action)[1])

    def test_since_and_until(self, route: Route, history: History, always: Hours) -> None:
        """Hourly in the first six hours, then twice a day: each in its own time."""
        early = Attention(do="Often.", every=_h(1), at_most=_h(2), until=_h(6))
        later = Attention(do="Seldom.", every=_h(12), at_most=_h(24), since=_h(6))
        own = _changed(route, "pickle", attend=(early, later))

        def asked(now_h: float, *given: tuple[int, float]) -> tuple[str, float | None]:
            stirs = (
                (T0 + _h(at), Attended(hide="h1", stage="pickle", attention=place))
                for place, at in given
            )
            hide = history(T0, _begun("pickle"), *stirs, stage="pickle")
            action = next_action(hide, own, hours=always, now=T0 + _h(now_h))
            return action.action, _window(action)[1]

        assert ("Often.", 1) == asked(0)
        assert ("Often.", 6) == asked(5, (0, 5))
        assert ("Seldom.", 18) == asked(6, (0, 5.5))
        assert ("Often.", 6) == asked(7, (0, 5))
        assert ("Seldom.", 18) == asked(7.5, (0, 5))
        assert ("Seldom.", 18) == asked(7.5, (1, 2))

    def test_a_late_one_says_so(self, route: Route, history: History, always: Hours) -> None:
        """Past its limit it is overdue, and does not hide the check that is open too."""
        hide = history(T0, _begun("pickle"), stage="pickle")
        attend, check = open_actions(hide, route, hours=always, now=T0 + _h(20))
        assert ("overdue", "waiting") == (attend.state, check.state)
        assert attend.why == (
            "Wanted since Monday 08:00; every 8 h, never more than 16 h apart. Late by 4 h."
        )


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
        """No hold for this animal: the check is all there is, at once and without a limit."""
        rabbit = Hold(min=_h(1), target=_h(2), max=_h(3), species=("rabbit",))
        own = _changed(route, "salt", hold=(rabbit,))
        action = next_action(history(T0, _begun("salt")), own, hours=always, now=T0)
        assert ("due", (0, 0, None)) == (action.state, _window(action))
