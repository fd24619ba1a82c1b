"""What is seen to before the console opens on a terminal."""

from __future__ import annotations

import os
import sys

from benchconsole.errors import NotPossibleNow

_KEY_LOGS = ("TEXTUAL_DEBUG", "TEXTUAL_LOG")
"""Switches of Textual's, read when it is loaded, that write what is typed to a file."""


def prepare_terminal() -> None:
    """Ask for a terminal, and let nothing that is typed go to a file but the store.

    To be called before Textual is loaded. Raises ``NotPossibleNow``.
    """
    if not all(stream is not None and stream.isatty() for stream in (sys.stdin, sys.stderr)):
        raise NotPossibleNow(
            "The console needs a terminal; for plain text try “benchconsole today”."
        )
    for switch in _KEY_LOGS:
        os.environ.pop(switch, None)
