"""The program as a process: closed terminals, a busy or damaged store, leaving with q."""

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

import pytest

from benchconsole.store import TinyRepository

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


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP])
def test_a_closed_terminal_lets_go_of_the_store(tmp_path: Path, number: int) -> None:
    """After the signal the program ends by itself and the next writer gets in."""
    store = tmp_path / "shop.json"
    console = Terminal(store)
    console.wait_for("No hides yet")
    os.kill(console.child, number)
    assert 0 == console.ended()
    with TinyRepository(store, writing=True) as repository:
        assert () == repository.entries()


def test_q_leaves_with_success(tmp_path: Path) -> None:
    """The usual way out."""
    console = Terminal(tmp_path / "shop.json")
    console.wait_for("No hides yet")
    os.write(console.end, b"q")
    assert 0 == console.ended()


def test_a_second_console_is_told_that_the_shop_is_open(tmp_path: Path) -> None:
    """One sentence after the screen is restored, and exit code 3."""
    store = tmp_path / "shop.json"
    with TinyRepository(store, writing=True):
        console = Terminal(store)
        assert 3 == console.ended()
    assert "benchconsole: " in console.text
    assert "Traceback" not in console.text


def test_a_damaged_store_is_refused_and_left_alone(tmp_path: Path) -> None:
    """A sentence that names the file; not a byte of it is changed."""
    store = tmp_path / "shop.json"
    store.write_text('{"history": {"1": ')
    console = Terminal(store)
    assert 3 == console.ended()
    assert "shop.json" in console.text
    assert "Traceback" not in console.text
    assert '{"history": {"1": ' == store.read_text()
