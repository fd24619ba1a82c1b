"""What is to be ready for an act: mix, vessel and tools."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import msgspec
import pytest

from benchconsole.model.events import StageBegun
from benchconsole.model.routes import Route
from benchconsole.model.state import HideState
from benchconsole.schedule.hours import Hours
from benchconsole.schedule.next_action import next_action

History = Callable[..., HideState]
T0 = datetime(2026, 3, 2, 8, tzinfo=UTC)


@pytest.mark.parametrize(
    ("vessel", "needs", "ready"),
    [
        ("tub", ("paddle",), ("tub", "paddle")),
        ("board", ("frame or board",), ("frame or board",)),
        ("", ("paddle",), ("paddle",)),
        ("tub", (), ("tub",)),
    ],
)
def test_the_vessel_is_to_be_ready_too(
    route: Route,
    history: History,
    always: Hours,
    vessel: str,
    needs: tuple[str, ...],
    ready: tuple[str, ...],
) -> None:
    """Named once: not again beside a tool that is called after it."""
    salt = msgspec.structs.replace(route.stage("salt"), vessel=vessel, needs=needs)
    own = msgspec.structs.replace(route, stages=(salt, *route.stages[1:]))
    assert ready == next_action(history(T0), own, hours=always, now=T0).needs


def test_the_second_half_is_not_mixed_again(route: Route, history: History, always: Hours) -> None:
    """It was made with the first: only what puts it on is to be ready."""
    oil = msgspec.structs.replace(route.stage("oil"), needs=("brush",))
    own = msgspec.structs.replace(route, stages=(oil,))
    first = next_action(history(T0, stage="oil"), own, hours=always, now=T0)
    assert ("two-half", ("brush",)) == (first.mix, first.needs)
    begun = (T0, StageBegun(hide="h1", stage="oil"))
    second = next_action(history(T0, begun, stage="oil"), own, hours=always, now=T0)
    ready = ("", ("brush",), timedelta(minutes=30))
    assert ("coat", ready) == (second.kind, (second.mix, second.needs, second.work))
