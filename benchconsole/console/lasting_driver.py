"""A terminal driver that outlives its terminal: a closed window ends the console, in order.

Textual's own thread for output dies of the first write to a closed terminal. Whoever writes next
then waits for room that nobody makes any more, and the program hangs for good.
"""

from __future__ import annotations

import contextlib
import io
from collections.abc import Callable
from io import TextIOWrapper
from typing import IO, Any, cast

from textual.app import App
from textual.drivers.linux_driver import LinuxDriver


class LastingOutput(io.TextIOBase):
    """The terminal to write to; once it is closed, what is written goes nowhere.

    ``closed_down`` is called once then, from the thread that wrote.
    """

    def __init__(self, terminal: IO[str], closed_down: Callable[[], None]) -> None:
        self._terminal = terminal
        self._closed_down = closed_down
        self._is_gone = False

    def write(self, text: str) -> int:
        """Write, or pass over it."""
        self._unless_gone(lambda: self._terminal.write(text))
        return len(text)

    def flush(self) -> None:
        """Send what was written, or pass over it."""
        self._unless_gone(self._terminal.flush)

    def fileno(self) -> int:
        """The terminal's descriptor."""
        return self._terminal.fileno()

    def isatty(self) -> bool:
        """It stands for a terminal."""
        return True

    def _unless_gone(self, act: Callable[[], object]) -> None:
        if self._is_gone:
            return
        try:
            act()
        except OSError:
            self._is_gone = True
            self._closed_down()


class LastingDriver(LinuxDriver):
    """Textual's driver for terminals of Unix systems, writing to a :class:`LastingOutput`."""

    def __init__(self, app: App[Any], **given: Any) -> None:
        super().__init__(app, **given)
        assert self._file is not None
        # Of its file the driver only asks what LastingOutput has.
        self._file = cast("TextIOWrapper", LastingOutput(self._file, self._end))

    def _end(self) -> None:
        # The loop may be over already: then the console has ended anyway.
        with contextlib.suppress(RuntimeError):
            self._loop.call_soon_threadsafe(self._app.exit)
