"""What may be noted, and the events each note writes."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta

import msgspec
import pytest

from benchconsole.errors import NotPossibleNow
from benchconsole.model.events import (
    Attended,
    CheckFailed,
    CoatGiven,
    Event,
    StageBegun,
    StageLeft,
)
from benchconsole.model.routes import Route
from benchconsole.model.state import HideState
from benchconsole.schedule.actions import Action
from benchconsole.schedule.hours import Hours
from benchconsole.schedule.next_action import lost_action, next_action, open_actions
from benchconsole.schedule.steps import (
    allowed_acts,
    events_for_attended,
    events_for_done,
    events_for_not_yet,
)

History = Callable[..., HideState]
T0 = datetime(2026, 3, 2, 8, tzinfo=UTC)


def _begun(stage: str) -> tuple[datetime, StageBegun]:
    return T0, StageBegun(hide="h1", stage=stage)


@pytest.fixture
def asked(route: Route, always: Hours) -> Callable[[HideState], Action]:
    """The next action of a hide on the test route, at T0."""
    return lambda hide: next_action(hide, route, hours=always, now=T0)


@pytest.mark.parametrize(
    ("stage", "begun", "acts", "written"),
    [
        ("salt", False, {"done"}, [StageBegun(hide="h1", stage="salt", liquor="L1")]),
        ("oil", False, {"done"}, [StageBegun(hide="h1", stage="oil", liquor="L1")]),
        (
            "rinse",
            False,
            {"done"},
            [
                StageBegun(hide="h1", stage="rinse", liquor="L1"),
                StageLeft(hide="h1", stage="rinse", next="oil"),
            ],
        ),
        (
            "oil",
            True,
            {"done"},
            [
                CoatGiven(hide="h1", stage="oil", coat=2),
                StageLeft(hide="h1", stage="oil", next="dry"),
            ],
        ),
        (
            "salt",
            True,
            {"done", "passed", "not-yet"},
            [StageLeft(hide="h1", stage="salt", next="pickle")],
        ),
        ("dry", True, {"done", "passed"}, [StageLeft(hide="h1", stage="dry", next="")]),
        (
            "pickle",
            True,
            {"done", "attended"},
            [Attended(hide="h1", stage="pickle", attention=0)],
        ),
    ],
)
def test_what_done_writes(
    route: Route,
    history: History,
    asked: Callable[[HideState], Action],
    stage: str,
    begun: bool,
    acts: set[str],
    written: list[Event],
) -> None:
    """Beginning, coat, look, moving on, attention; a stage with nothing to wait for is left."""
    hide = history(T0, *([_begun(stage)] if begun else []), stage=stage)
    action = asked(hide)
    assert acts == allowed_acts(action)
    assert tuple(written) == events_for_done(hide, route, action, liquor="L1")


def test_the_check_is_open_while_an_attention_comes_first(
    route: Route, history: History, always: Hours
) -> None:
    """The hide decides: it may pass its check early, stirred or not, or be stirred early."""
    hide = history(T0, _begun("pickle"), stage="pickle")
    check = open_actions(hide, route, hours=always, now=T0)[-1]
    assert {"done", "passed", "not-yet", "attended"} == allowed_acts(check)
    stirring, *others = open_actions(hide, route, hours=always, now=T0)
    assert {"done", "attended"} == allowed_acts(stirring)
    assert {"done", "passed", "not-yet", "attended"} == allowed_acts(stirring, *others)
    assert (StageLeft(hide="h1", stage="pickle", next="rinse"),) == events_for_done(
        hide, route, check
    )
    assert (CheckFailed(hide="h1", stage="pickle"),) == events_for_not_yet(hide, route, check)
    assert (Attended(hide="h1", stage="pickle", attention=0),) == events_for_attended(
        hide, route, check
    )


def test_a_stage_held_only_for_another_species_is_left_at_once(
    route: Route, history: History, asked: Callable[[HideState], Action], always: Hours
) -> None:
    """Whether a stage asks for time is a question for this animal."""
    dry = route.stage("dry")
    only_rabbits = tuple(msgspec.structs.replace(hold, species=("rabbit",)) for hold in dry.hold)
    own = msgspec.structs.replace(
        route, stages=(*route.stages[:-1], msgspec.structs.replace(dry, hold=only_rabbits))
    )
    hide = history(T0, stage="dry")
    events = events_for_done(hide, own, asked(hide))
    assert [StageBegun, StageLeft] == [type(event) for event in events]


@pytest.mark.parametrize("stage", ["salt", "oil"])
def test_a_tap_that_comes_twice_is_refused(
    route: Route, history: History, asked: Callable[[HideState], Action], stage: str
) -> None:
    """The same action noted again would be a second coat or a second beginning."""
    hide = history(T0, stage=stage)
    begun = history(T0, _begun(stage), stage=stage)
    with pytest.raises(NotPossibleNow, match="“Doe” has moved on since"):
        events_for_done(begun, route, asked(hide))
    coated = history(
        T0, _begun("oil"), (T0, CoatGiven(hide="h1", stage="oil", coat=2)), stage="oil"
    )
    second = asked(history(T0, _begun("oil"), stage="oil"))
    with pytest.raises(NotPossibleNow, match="“Doe” has moved on since"):
        events_for_done(coated, route, second)


def test_an_action_of_another_hide_or_stage_is_refused(
    route: Route, history: History, asked: Callable[[HideState], Action]
) -> None:
    """Two panes may disagree for a moment: what was shown for one is not noted on another."""
    action = asked(history(T0))
    other = msgspec.structs.replace(history(T0), id="h2", name="Roe")
    with pytest.raises(NotPossibleNow, match="“Roe” has moved on since"):
        events_for_done(other, route, action)
    with pytest.raises(NotPossibleNow, match="“Doe” has moved on since"):
        events_for_done(history(T0, stage="pickle"), route, action)
    with pytest.raises(NotPossibleNow, match="“Doe” has moved on since"):
        events_for_done(history(T0, stage="vanished"), route, action)


def test_a_look_belongs_to_a_stage_begun_with_every_coat_on(
    route: Route, history: History, asked: Callable[[HideState], Action]
) -> None:
    """After an undo the beginning or a coat may be missing again: the old check is refused."""
    check = asked(history(T0, _begun("salt")))
    with pytest.raises(NotPossibleNow, match="has moved on since"):
        events_for_not_yet(history(T0), route, check)
    coated = msgspec.structs.replace(check, stage="oil")
    with pytest.raises(NotPossibleNow, match="has moved on since"):
        events_for_done(history(T0, _begun("oil"), stage="oil"), route, coated)


def test_acts_that_do_not_fit_are_refused_in_one_sentence(
    route: Route, history: History, asked: Callable[[HideState], Action]
) -> None:
    """No check to answer, nothing to stir, nothing to do: each says so by the hide's name."""
    fresh = history(T0)
    with pytest.raises(NotPossibleNow, match="“Doe” has no check to answer now"):
        events_for_not_yet(fresh, route, asked(fresh))
    with pytest.raises(NotPossibleNow, match="“Doe” has nothing to be stirred"):
        events_for_attended(fresh, route, asked(fresh))
    drying = history(T0, _begun("dry"), stage="dry")
    with pytest.raises(NotPossibleNow, match="no check to answer"):
        events_for_not_yet(drying, route, asked(drying))
    for action in (lost_action(fresh, T0), asked(history(T0, stage=""))):
        assert frozenset() == allowed_acts(action)
        with pytest.raises(NotPossibleNow, match="“Doe” has nothing to be done now"):
            events_for_done(fresh, route, action)


def test_an_early_look_is_allowed_and_called_early(
    route: Route, history: History, always: Hours
) -> None:
    """Before the hold's minimum the action says so; the note counts all the same."""
    hide = history(T0, _begun("salt"))
    early = T0 + timedelta(hours=1)
    action = next_action(hide, route, hours=always, now=early)
    assert "is early" in action.why
    assert (StageLeft(hide="h1", stage="salt", next="pickle"),) == events_for_done(
        hide, route, action
    )
