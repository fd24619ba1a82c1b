"""How long until the first frame, against a bare Textual app with one label.

Starts each program several times in a fresh interpreter inside a pseudo-terminal and takes the
time from the start of the process to the first bytes of a painted frame. Prints both medians
and their ratio; run it as ``python tests/benchmarks/first_frame.py``.
"""

from __future__ import annotations

import os
import pty
import select
import signal
import statistics
import struct
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path

ROUNDS = 15
BARE = """
from textual.app import App
from textual.widgets import Label
class Bare(App):
    def compose(self):
        yield Label("bench")
Bare().run()
"""
CONSOLE = "import sys; from benchconsole.cli import main; sys.exit(main({arguments!r}))"
SEEN = {"bare": b"bench", "console": b"Opening", "demo": b"Opening", "whole": b"open until"}
"""What stands in the first frame of each; ``whole`` is the demo until the day line is drawn."""


def seconds_to(mark: bytes, code: str, environment: dict[str, str]) -> float:
    """Seconds from the start of ``python -c code`` until ``mark`` stands in what it painted."""
    began = time.perf_counter()
    child, terminal = pty.fork()
    if child == 0:
        os.execve(sys.executable, [sys.executable, "-c", code], environment)
    _set_size(terminal, 36, 120)
    seen = b""
    try:
        while mark not in seen:
            ready, _, _ = select.select([terminal], [], [], 20)
            if not ready:
                raise TimeoutError(f"no frame within 20 s; got {seen[-300:]!r}")
            seen += os.read(terminal, 65536)
        return time.perf_counter() - began
    finally:
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
        os.close(terminal)


def _set_size(terminal: int, rows: int, columns: int) -> None:
    import fcntl
    import termios

    fcntl.ioctl(terminal, termios.TIOCSWINSZ, struct.pack("HHHH", rows, columns, 0, 0))


def main(arguments: Sequence[str] = ()) -> int:
    """Print medians and ratios; 1 if the ratio is beyond the 1.5 we promise."""
    rounds = int(arguments[0]) if arguments else ROUNDS
    with tempfile.TemporaryDirectory() as folder:
        environment = {
            **os.environ,
            "TERM": "xterm-256color",
            "BENCHCONSOLE_STORE": str(Path(folder) / "shop.json"),
        }
        programs = {
            "bare": BARE,
            "console": CONSOLE.format(arguments=[]),
            "demo": CONSOLE.format(arguments=["demo"]),
            "whole": CONSOLE.format(arguments=["demo"]),
        }
        taken: dict[str, list[float]] = {name: [] for name in programs}
        for _ in range(rounds):
            # Taken in turn, so that a busy moment of the machine strikes all of them.
            for name, code in programs.items():
                taken[name].append(seconds_to(SEEN[name], code, environment))
    medians = {name: statistics.median(times) for name, times in taken.items()}
    for name, seconds in medians.items():
        ratio = seconds / medians["bare"]
        print(f"{name:<8} {1000 * seconds:6.0f} ms   {ratio:.2f} x bare  (of {rounds})")
    worst = max(medians["console"], medians["demo"]) / medians["bare"]
    print(f"ratio {worst:.2f}, promised 1.50 at most")
    return 0 if worst <= 1.5 else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
