"""The day sheet: one action a hide, in order of urgency."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import msgspec

from benchconsole.model.events import StageBegun, StageLeft
from benchconsole.model.routes import Route
from benchconsole.model.state import HideState
from benchconsole.schedule.day_sheet import by_due, by_urgency, day_sheet
from benchconsole.schedule.hours import Hours

History = Callable[..., HideState]
T0 = datetime(2026, 3, 2, 8, tzinfo=UTC)


def test_the_most_pressing_first(route: Route, history: History, always: Hours) -> None:
    """Overdue, due, ready, waiting, stored, finished; a lost hide stands among the due."""
    now = T0 + timedelta(hours=30)

    def begun(stage: str, before_h: float) -> tuple[datetime, StageBegun]:
        return now - timedelta(hours=before_h), StageBegun(hide="h1", stage=stage)

    def left(stage: str, following: str) -> tuple[datetime, StageLeft]:
        return now, StageLeft(hide="h1", stage=stage, next=following)

    standing = {
        "finished": history(T0, begun("dry", 24), left("dry", ""), stage="dry"),
        "stored": history(T0, begun("salt", 48), left("salt", "pickle")),
        "waiting": history(T0, begun("salt", 1)),
        "waiting-less": history(T0, begun("salt", 2)),
        "ready": history(T0, begun("salt", 30)),
        "lost": msgspec.structs.replace(history(T0 + timedelta(hours=1)), route="gone"),
        "due": history(now),
        "overdue": history(T0),
        "gone-and-finished": msgspec.structs.replace(
            history(T0, begun("dry", 30), left("dry", ""), stage="dry"), route="gone"
        ),
    }
    hides = [msgspec.structs.replace(hide, id=name) for name, hide in standing.items()]
    sheet = day_sheet(hides, {"pelt": route}, hours=always, now=now)
    expected = ["overdue", "lost", "due", "ready", "waiting-less", "waiting", "stored"]
    assert [*expected, "finished", "gone-and-finished"] == [action.hide for action in sheet]
    assert sheet == by_urgency(reversed(sheet))


def test_equal_times_stand_in_the_order_of_their_names(
    route: Route, history: History, always: Hours
) -> None:
    """The order is the same every time it is drawn."""
    hides = [msgspec.structs.replace(history(T0), id=name) for name in ("c", "a", "b")]
    sheet = day_sheet(hides, {"pelt": route}, hours=always, now=T0)
    assert ["a", "b", "c"] == [action.hide for action in sheet]


def test_of_two_due_together_the_one_that_spoils_sooner(
    route: Route, history: History, always: Hours
) -> None:
    """Both due now: a green hide before one that came salted and has no limit."""
    green = msgspec.structs.replace(history(T0), id="z")
    salted = msgspec.structs.replace(history(T0, came="salted"), id="a")
    sheet = day_sheet([salted, green], {"pelt": route}, hours=always, now=T0)
    assert ["z", "a"] == [action.hide for action in sheet]


def test_by_due_is_a_calendar(route: Route, history: History, always: Hours) -> None:
    """Due times alone decide, whatever the state; the last to be finished leads the finished."""
    now = T0 + timedelta(hours=30)

    def ended(hours: float) -> HideState:
        at = T0 + timedelta(hours=hours)
        done = StageLeft(hide="h1", stage="dry", next="")
        return history(T0, (T0, StageBegun(hide="h1", stage="dry")), (at, done), stage="dry")

    standing = {
        "finished": ended(1),
        "finished-later": ended(2),
        "late": history(T0),
        "to-come": history(T0, (now, StageBegun(hide="h1", stage="salt"))),
        "due": history(now),
    }
    hides = [msgspec.structs.replace(hide, id=name) for name, hide in standing.items()]
    sheet = by_due(day_sheet(hides, {"pelt": route}, hours=always, now=now))
    assert ["late", "due", "to-come", "finished-later", "finished"] == [a.hide for a in sheet]
