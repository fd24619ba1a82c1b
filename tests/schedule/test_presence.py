"""How long a stage keeps somebody in the shop."""

from __future__ import annotations

from datetime import timedelta

import msgspec
import pytest

from benchconsole.model.routes import Attention, CoatWaits, Hold, Stage
from benchconsole.schedule.presence import THERE_FOR, time_there


def _min(count: float) -> timedelta:
    return timedelta(minutes=count)


def _hold(target: timedelta, *came: str) -> Hold:
    return Hold(min=_min(0), target=target, max=_min(9000), came=came)


def _stir(until: timedelta | None) -> Attention:
    return Attention(do="Stir.", every=_min(10), at_most=_min(20), until=until)


@pytest.fixture
def stage() -> Stage:
    """A quarter of an hour's work, and nothing after it."""
    return Stage(id="s", name="s", do="Do it.", work=_min(15), late="")


@pytest.mark.parametrize(
    ("hold", "attend", "coats", "there_min"),
    [
        ((), (), 0, 15),
        ((_hold(_min(10)),), (), 0, 25),
        ((_hold(THERE_FOR),), (), 0, 135),
        ((_hold(_min(121)),), (), 0, 15),
        ((), (_stir(_min(60)),), 0, 75),
        ((), (_stir(_min(121)), _stir(None)), 0, 15),
        ((_hold(_min(10)),), (_stir(_min(60)),), 0, 75),
        ((), (), 1, 15),
        ((_hold(_min(720)),), (), 2, 60),
        ((_hold(_min(10)),), (), 3, 115),
        ((_hold(_min(720)), _hold(_min(10), "dried")), (), 0, 25),
    ],
)
def test_the_time_somebody_is_there(
    stage: Stage, hold: tuple[Hold, ...], attend: tuple[Attention, ...], coats: int, there_min: int
) -> None:
    """Work, waits between coats, then the longer of a short hold and a short tending."""
    waits = CoatWaits(count=coats, wait_min=_min(30), wait_target=_min(45), wait_max=_min(60))
    whole = msgspec.structs.replace(stage, hold=hold, attend=attend, coats=waits if coats else None)
    assert _min(there_min) == time_there(whole, "deer", "dried")
