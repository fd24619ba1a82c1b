"""The program as a process in a terminal: started, read, sent keys and signals."""

from __future__ import annotations

import os
import pty
import re
import select
import signal
import struct
import sys
import time
from collections.abc import Sequence
from pathlib import Path

PATIENCE = 30.0


class Terminal:
    """A console in a pseudo-terminal of 120 by 36."""

    def __init__(self, store: Path, program: Sequence[str] = ("-m", "benchconsole")) -> None:
        import fcntl
        import termios

        self.seen = b""
        self.child, self.end = pty.fork()
        if self.child == 0:
            environment = {**os.environ, "TERM": "xterm-256color", "TEXTUAL_ANIMATIONS": "none"}
            words = [sys.executable, *program, "--store", str(store)]
            os.execve(sys.executable, words, environment)
        # Held by a console that is started later, this terminal could not be closed any more.
        os.set_inheritable(self.end, False)
        fcntl.ioctl(self.end, termios.TIOCSWINSZ, struct.pack("HHHH", 36, 120, 0, 0))

    def wait_for(self, words: str) -> None:
        """Read until the words were painted."""
        given_up = time.monotonic() + PATIENCE
        while words not in self.text:
            ready, _, _ = select.select([self.end], [], [], max(given_up - time.monotonic(), 0))
            assert ready, f"never seen: {words}; got {self.text[-400:]!r}"
            try:
                self.seen += os.read(self.end, 65536)
            except OSError:  # the other end is closed
                assert words in self.text, f"ended without {words!r}: {self.text[-400:]!r}"

    @property
    def text(self) -> str:
        """What was painted so far, without the control sequences."""
        return re.sub(r"\x1b\[[0-9;?]*[a-zA-Z]", "", self.seen.decode("utf-8", "replace"))

    def ended(self) -> int:
        """Wait for the end; the exit code, or minus the signal that killed it."""
        given_up = time.monotonic() + PATIENCE
        while time.monotonic() < given_up:
            while select.select([self.end], [], [], 0.05)[0]:
                try:
                    self.seen += os.read(self.end, 65536)
                except OSError:
                    break
            done, status = os.waitpid(self.child, os.WNOHANG)
            if done:
                os.close(self.end)
                return os.waitstatus_to_exitcode(status)
        os.kill(self.child, signal.SIGKILL)
        os.waitpid(self.child, 0)
        raise AssertionError(f"still running; got {self.text[-400:]!r}")
