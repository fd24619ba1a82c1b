"""The real console in a terminal that is closed, ended or killed right after a tap."""

from __future__ import annotations

import os
import signal
from pathlib import Path

import pytest

from benchconsole.model.events import HideTakenIn, StageBegun
from benchconsole.store.repository import TinyRepository
from tests.console.terminal import Terminal
from tests.store.crash_scripts import NOW
from tests.store.fault_counts import COUNTS

GOAT = HideTakenIn(
    hide="goat",
    name="Billy",
    species="goat",
    route="hair-on-alum-pelt",
    stage="trim",
    came="green",
    count=1,
)


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP, signal.SIGKILL])
def test_what_the_screen_said_is_stored(store: Path, number: signal.Signals) -> None:
    """A key, the word on the screen, the signal: the tap is there, the next console gets in."""
    with TinyRepository(store, writing=True) as repository:
        repository.append([GOAT], at=NOW, recorded=NOW)
    console = Terminal(store)
    console.wait_for("Billy")
    os.write(console.end, b"d")
    console.wait_for("“Cool and trim” begun")
    os.kill(console.child, number)
    assert console.ended() == (-number if number == signal.SIGKILL else 0)
    assert "Traceback" not in console.text
    with TinyRepository(store, writing=True) as again:
        first, second = again.entries()
        assert (first.event, type(second.event)) == (GOAT, StageBegun)
    COUNTS.kills += 1
    COUNTS.taps += 2


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP])
def test_a_signal_in_the_middle_of_a_tap(store: Path, number: signal.Signals) -> None:
    """Key and signal at once: the tap is whole or not there, and the store opens."""
    with TinyRepository(store, writing=True) as repository:
        repository.append([GOAT], at=NOW, recorded=NOW)
    console = Terminal(store)
    console.wait_for("Billy")
    os.write(console.end, b"d")
    os.kill(console.child, number)
    assert console.ended() == 0
    with TinyRepository(store, writing=True) as again:
        events = [entry.event for entry in again.entries()]
        assert [GOAT] == events[:1]
        assert [StageBegun] == [type(event) for event in events[1:]] or len(events) == 1
    COUNTS.kills += 1
    COUNTS.taps += 1
