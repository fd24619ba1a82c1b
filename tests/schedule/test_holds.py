"""A running hold: its check, the moving on without one, and its attentions."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, time, timedelta, tzinfo

import msgspec
import pytest

from benchconsole.model.events import Attended, CheckFailed, StageBegun
from benchconsole.model.routes import Attention, Check, Route
from benchconsole.model.shop import OpenSpan
from benchconsole.model.state import HideState
from benchconsole.schedule.actions import Action
from benchconsole.schedule.hours import Hours
from benchconsole.schedule.next_action import next_action, open_actions

History = Callable[..., HideState]
T0 = datetime(2026, 3, 2, 8, tzinfo=UTC)
"""A Monday morning."""


def _h(count: float) -> timedelta:
    return timedelta(hours=count)


def _begun(stage: str, after_h: float = 0) -> tuple[datetime, StageBegun]:
    return T0 + _h(after_h), StageBegun(hide="h1", stage=stage)


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


class TestChecks:
    """The look that ends a hold."""

    def test_the_hold_gives_its_window(self, route: Route, history: History, always: Hours) -> None:
        """Earliest, due and latest are the hold's, counted from its beginning."""
        hide = history(T0, _begun("salt"))
        action = next_action(hide, route, hours=always, now=T0 + _h(1))
        assert ("check", "Is it stiff?", "waiting") == (action.kind, action.check, action.state)
        assert (24, 48, 72) == _window(action)
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

    def test_without_a_hold_the_look_comes_after_the_work(
        self, route: Route, history: History, always: Hours
    ) -> None:
        """Staked in an hour and a half: not asked in the instant it begins, yet free to pass."""
        own = _changed(route, "rinse", work=_h(1.5), check=Check(ask="Soft?", again=_h(1)))
        hide = history(T0, _begun("rinse"), stage="rinse")
        action = next_action(hide, own, hours=always, now=T0 + _h(0.5))
        assert ("check", "ready", (0, 1.5, None)) == (action.kind, action.state, _window(action))
        assert action.why == "Begun Monday 08:00, its work takes 1 h 30 min."
        failed = history(T0, _begun("rinse"), _failed("rinse", 2), stage="rinse")
        assert (3, 3, None) == _window(next_action(failed, own, hours=always, now=T0 + _h(2)))

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
        """Not yet through: stirring goes on until the next look, counted from this one."""
        stirred = (T0 + _h(70), Attended(hide="h1", stage="pickle", attention=0))
        hide = history(T0, _begun("pickle"), stirred, _failed("pickle", 72), stage="pickle")
        action = next_action(hide, route, hours=always, now=T0 + _h(73))
        assert ("attend", (74, 80, 88)) == (action.kind, _window(action))
        assert action.why.startswith("The hide was looked at Thursday 08:00; every 8 h")

    def test_a_hide_looked_at_late_is_not_late_for_what_the_look_did(
        self, route: Route, history: History, always: Hours
    ) -> None:
        """Days overdue, looked at, not ready: it was handled then, so nothing else is overdue."""
        hide = history(T0, _begun("pickle"), _failed("pickle", 130), stage="pickle")
        attend, check = open_actions(hide, route, hours=always, now=T0 + _h(131))
        assert ("attend", "waiting", (132, 138, 146)) == (
            attend.kind,
            attend.state,
            _window(attend),
        )
        assert ("check", 142) == (check.kind, _window(check)[1])

    def test_a_look_changes_no_water(self, route: Route, history: History, always: Hours) -> None:
        """An attention that is an act of its own is wanted as before: last given at 70, every 8."""
        water = Attention(do="Change.", every=_h(8), at_most=_h(16), own_act=True)
        own = _changed(route, "pickle", attend=(water,))
        given = (T0 + _h(70), Attended(hide="h1", stage="pickle", attention=0))
        hide = history(T0, _begun("pickle"), given, _failed("pickle", 72), stage="pickle")
        action = next_action(hide, own, hours=always, now=T0 + _h(73))
        assert ("Change.", (72, 78, 86)) == (action.action, _window(action))

    def test_a_look_before_its_time_has_come_counts_for_nothing(
        self, route: Route, history: History, always: Hours
    ) -> None:
        """Wanted from the sixth hour: a look in the third does not bring it forward or back."""
        later = Attention(do="Seldom.", every=_h(12), at_most=_h(24), since=_h(6))
        own = _changed(route, "pickle", attend=(later,))
        hide = history(T0, _begun("pickle"), _failed("pickle", 3), stage="pickle")
        action = next_action(hide, own, hours=always, now=T0 + _h(4))
        assert ("Seldom.", 18) == (action.action, _window(action)[1])
        assert action.why.startswith("Wanted since Monday 14:00;")

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


def test_a_look_says_in_what_state_the_hide_may_go_on(
    route: Route, history: History, always: Hours
) -> None:
    """The gate stands on the look, and on nothing that does not let the hide pass."""
    salt = msgspec.structs.replace(route.stage("salt"), gate="Stiff, no drip")
    own = msgspec.structs.replace(route, stages=(salt, *route.stages[1:]))
    begun = next_action(history(T0, _begun("salt")), own, hours=always, now=T0)
    assert ("check", "Stiff, no drip") == (begun.kind, begun.gate)
    assert "" == next_action(history(T0), own, hours=always, now=T0).gate
