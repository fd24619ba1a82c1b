"""How the console hears that its session or its terminal was closed."""

from __future__ import annotations

import asyncio
import signal
import sys
from collections.abc import Callable
from threading import current_thread, main_thread

_NAMES = ("SIGTERM", "SIGHUP", "SIGBREAK")
"""The last is what Windows sends when its window is closed; it knows no SIGHUP."""


def end_on_signals(end: Callable[[], None]) -> None:
    """Have ``end`` called by the running loop when the system asks the program to end.

    Without this the program would stop where it stands and never let go of the store. Only the
    main thread is told of signals: a console that runs in another is ended by whoever runs it.
    """
    if current_thread() is not main_thread():
        return
    loop = asyncio.get_running_loop()
    for number in (getattr(signal, name) for name in _NAMES if hasattr(signal, name)):
        if sys.platform == "win32":
            signal.signal(number, lambda *_: loop.call_soon_threadsafe(end))
        else:
            loop.add_signal_handler(number, end)
