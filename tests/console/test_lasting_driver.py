"""A terminal that is closed while the console writes to it: the console ends, and lets go."""

from __future__ import annotations

import errno
import io
import os
import time
from pathlib import Path
from threading import Thread
from typing import IO, cast

from textual.drivers._writer_thread import MAX_QUEUED_WRITES, WriterThread

from benchconsole.bootstrap import fill_demo
from benchconsole.console.lasting_driver import LastingOutput
from benchconsole.store.lock import holder_of
from tests.console.terminal import PATIENCE, Terminal


class Closing(io.StringIO):
    """A terminal that is closed after so many writes."""

    def __init__(self, writes: int) -> None:
        super().__init__()
        self.left = writes

    def write(self, text: str) -> int:
        """As long as it is open."""
        if not self.left:
            raise OSError(errno.EIO, os.strerror(errno.EIO))
        self.left -= 1
        return super().write(text)


def written(output: LastingOutput, texts: int) -> bool:
    """Whether Textual's thread takes so many texts and an end, however many fit its queue."""
    thread = WriterThread(cast("IO[str]", output))
    thread.start()

    def write_all() -> None:
        for _ in range(texts):
            thread.write("x")
        thread.stop()

    writer = Thread(target=write_all, daemon=True)
    writer.start()
    writer.join(2.0)
    return not writer.is_alive()


def test_what_is_written_to_a_closed_terminal_goes_nowhere_and_nobody_waits() -> None:
    """All of it is taken, what came before is there, and the closing is told once."""
    told: list[str] = []
    terminal = Closing(5)
    output = LastingOutput(terminal, lambda: told.append("closed"))
    assert written(output, 3 * MAX_QUEUED_WRITES)
    assert ("xxxxx", ["closed"]) == (terminal.getvalue(), told)


def test_a_console_ends_when_its_terminal_is_closed_in_the_midst_of_painting(
    tmp_path: Path,
) -> None:
    """Nobody reads what it paints, so that it waits for room, then the window is shut."""
    store = tmp_path / "shop.json"
    fill_demo(store)
    console = Terminal(store)
    console.wait_for("Hides")
    console.wait_for("Help")
    for place in range(1500):
        os.write(console.end, b"\x1b[B" if place % 14 < 7 else b"\x1b[A")
        time.sleep(0.004)
    assert holder_of(store) is not None
    os.close(console.end)
    given_up = time.monotonic() + PATIENCE
    done, status = 0, 0
    while not done and time.monotonic() < given_up:
        time.sleep(0.05)
        done, status = os.waitpid(console.child, os.WNOHANG)
    if not done:
        os.kill(console.child, 9)
    assert (console.child, 0) == (done, os.waitstatus_to_exitcode(status))
    assert holder_of(store) is None
