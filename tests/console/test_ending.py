"""The console is asked to end by the system: the loop calls what ends it, once for each asking."""

from __future__ import annotations

import asyncio
import os
import signal
from threading import Thread

import pytest

from benchconsole.console.ending import end_on_signals


@pytest.mark.parametrize("name", ["SIGTERM", "SIGHUP"])
def test_a_signal_ends_it_in_the_loop(name: str) -> None:
    """The program lives on to end in order."""

    async def asked() -> int:
        ended: list[str] = []
        end_on_signals(lambda: ended.append(name))
        os.kill(os.getpid(), getattr(signal, name))
        for _ in range(100):
            await asyncio.sleep(0)
        return len(ended)

    assert 1 == asyncio.run(asked())


def test_beside_the_main_thread_nothing_is_set() -> None:
    """It is no fault to run a console there, and the handlers of the program stay as they are."""
    before = signal.getsignal(signal.SIGTERM)
    faults: list[BaseException] = []

    async def asked() -> None:
        end_on_signals(lambda: None)

    def run() -> None:
        try:
            asyncio.run(asked())
        except BaseException as fault:
            faults.append(fault)

    thread = Thread(target=run)
    thread.start()
    thread.join()
    assert ([], before) == (faults, signal.getsignal(signal.SIGTERM))
