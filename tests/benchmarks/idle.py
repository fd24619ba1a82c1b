"""What a second of doing nothing costs, against a bare app that ticks a label.

``python tests/benchmarks/idle.py [SECONDS]`` runs the console on the demo shop and a bare Textual
app side by side in pseudo-terminals and prints the processor time each took per second, what
each wrote to the terminal, and the ratios.
"""

from __future__ import annotations

import os
import pty
import select
import signal
import struct
import sys
import time
from collections.abc import Sequence
from pathlib import Path

BARE = """
from textual.app import App
from textual.widgets import Label
class Bare(App):
    def compose(self):
        yield Label("0", id="count")
    def on_mount(self):
        self.count = 0
        self.set_interval(1.0, self.tick)
    def tick(self):
        self.count += 1
        self.query_one(Label).update(str(self.count))
Bare().run()
"""
CONSOLE = "import sys; from benchconsole.cli import main; sys.exit(main(['demo']))"
SETTLE_SECONDS = 4.0


class Running:
    """A program in a pseudo-terminal, counted."""

    def __init__(self, code: str) -> None:
        import fcntl
        import termios

        self.child, self.end = pty.fork()
        if self.child == 0:
            environment = {**os.environ, "TERM": "xterm-256color"}
            os.execve(sys.executable, [sys.executable, "-c", code], environment)
        fcntl.ioctl(self.end, termios.TIOCSWINSZ, struct.pack("HHHH", 36, 120, 0, 0))
        self.written = 0

    def cpu_seconds(self) -> float:
        """Processor time so far."""
        stat = Path(f"/proc/{self.child}/stat").read_text(encoding="ascii")
        fields = stat.rpartition(")")[2].split()
        return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")

    def end_it(self) -> None:
        """Stop the program."""
        os.kill(self.child, signal.SIGKILL)
        os.waitpid(self.child, 0)
        os.close(self.end)


def drain(programs: Sequence[Running], seconds: float) -> None:
    """Read what they write for a while."""
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        ready, _, _ = select.select([program.end for program in programs], [], [], 0.1)
        for program in programs:
            if program.end in ready:
                program.written += len(os.read(program.end, 65536))


def main(arguments: Sequence[str] = ()) -> int:
    """Print what each costs."""
    seconds = float(arguments[0]) if arguments else 20.0
    programs = {"bare": Running(BARE), "console": Running(CONSOLE)}
    try:
        drain(list(programs.values()), SETTLE_SECONDS)
        before = {name: (p.cpu_seconds(), p.written) for name, p in programs.items()}
        drain(list(programs.values()), seconds)
        cost = {}
        for name, program in programs.items():
            cpu = (program.cpu_seconds() - before[name][0]) / seconds
            written = (program.written - before[name][1]) / seconds
            cost[name] = cpu
            print(f"{name:<8} {100 * cpu:5.2f} % of a core, {written:6.0f} bytes a second")
        print(f"ratio {cost['console'] / max(cost['bare'], 1e-9):.1f}")
    finally:
        for program in programs.values():
            program.end_it()
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
