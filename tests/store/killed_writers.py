"""Writers in processes of their own, to be killed: one program that forks them, quickly."""

from __future__ import annotations

import os
import select
import signal
import subprocess
import sys
import textwrap
import time
from pathlib import Path
from types import TracebackType
from typing import Self

PATIENCE_S = 20.0
PARTS = 3
"""Events a tap."""

PROGRAM = textwrap.dedent(
    """
    import os, sys, tinydb
    from datetime import UTC, datetime
    from pathlib import Path
    from benchconsole.model.events import NoteWritten
    from benchconsole.store.repository import TinyRepository

    NOW = datetime(2026, 3, 1, 8, tzinfo=UTC)

    def taps():
        with TinyRepository(Path(sys.argv[1]), writing=True) as repository:
            entries = repository.entries()
            tap = entries[-1].tap if entries else 0
            while True:
                tap += 1
                text = f"tap {tap} " + "thin belly " * (tap % 7 * 20)
                events = [NoteWritten(hide=f"h{part}", text=text) for part in range(PARTS)]
                repository.append(events, at=NOW, recorded=NOW)
                os.write(1, f"{tap}\\n".encode())

    TinyRepository(Path(sys.argv[1]), writing=False).entries()  # loads what opening needs
    print("ready", flush=True)
    while sys.stdin.readline():
        child = os.fork()
        if child == 0:
            os.close(0)
            taps()
        os.write(1, f"child {child}\\n".encode())
        os.waitpid(child, 0)
        os.write(1, b"gone\\n")
    """
).replace("PARTS", str(PARTS))


class Writers:
    """Starts writers on a store one after another; each goes on until it is killed."""

    def __init__(self, store: Path) -> None:
        self._program = subprocess.Popen(
            [sys.executable, "-c", PROGRAM, str(store)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
        )
        self._heard = b""
        self._line("ready")

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        fault: BaseException | None,
        at: TracebackType | None,
    ) -> None:
        self._program.communicate()

    def killed_after(self, seconds: float, *, confirmed: int = 0) -> list[int]:
        """Start one, wait for so many confirmed taps and then so long, kill it; what it said."""
        assert self._program.stdin is not None
        self._program.stdin.write(b"go\n")
        self._program.stdin.flush()
        told: list[int] = []
        child = 0
        while not child or len(told) < confirmed:
            line = self._line()
            if line.startswith("child "):
                child = int(line.removeprefix("child "))
            else:
                told.append(int(line))
        ends = time.monotonic() + seconds
        while time.monotonic() < ends:
            pass  # sleeping is too coarse to hit every moment of a write
        os.kill(child, signal.SIGKILL)
        while (line := self._line()) != "gone":
            told.append(int(line))
        return told

    def _line(self, wanted: str = "") -> str:
        assert self._program.stdout is not None
        ends = time.monotonic() + PATIENCE_S
        while b"\n" not in self._heard:
            ready, _, _ = select.select([self._program.stdout], [], [], ends - time.monotonic())
            more = os.read(self._program.stdout.fileno(), 65536) if ready else b""
            assert more, f"nothing more was said, last {self._heard!r}"
            self._heard += more
        line, _, self._heard = self._heard.partition(b"\n")
        assert not wanted or wanted == line.decode()
        return line.decode()
