"""The weights of what lateness spoils."""

from typing import get_args

from benchconsole.model.routes import Stake
from benchconsole.schedule.planning.stakes import STAKES


def test_every_stake_has_a_whole_weight_and_the_graver_weighs_more() -> None:
    """Each word a stage may use is weighed, in the order of its gravity, in whole numbers."""
    assert set(get_args(Stake)) == set(STAKES)
    assert all(type(weight) is int and weight >= 1 for weight in STAKES.values())
    assert STAKES["hide"] > STAKES["quality"] > STAKES["work"] >= STAKES["nothing"]
