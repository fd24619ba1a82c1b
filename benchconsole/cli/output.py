"""Text and documents on standard output, sentences on standard error, whatever is behind them."""

from __future__ import annotations

import contextlib
import errno
import os
import stat
import sys
from collections.abc import Callable
from typing import Any

from benchconsole.errors import NotPossibleNow
from benchconsole.letters import escaped, shown


def tell(sentence: str) -> None:
    """One sentence on standard error, under the program's name, if anybody is there to read it."""
    if sys.stderr is None:
        return
    with contextlib.suppress(OSError):
        print(f"benchconsole: {shown(sentence)}", file=sys.stderr)


def print_text(text: str) -> None:
    """Lines of text on standard output; ``NotPossibleNow`` where they cannot be written."""
    put("".join(f"{shown(line)}\n" for line in text.removesuffix("\n").split("\n")))


def print_json(document: dict[str, Any]) -> None:
    """A document on standard output; ``NotPossibleNow`` where it cannot be written."""
    import json

    encoding = getattr(sys.stdout, "encoding", None) or "utf-8"
    # Elsewhere than in UTF-8 a letter might be replaced by one that is no JSON.
    plain = not encoding.lower().replace("-", "").startswith("utf8")
    put(escaped(json.dumps(document, ensure_ascii=plain, indent=2, allow_nan=False)) + "\n")


def put(text: str) -> None:
    """Write to standard output now, so that a full disk or a closed pipe shows here."""
    if sys.stdout is not None:
        _now(lambda: sys.stdout.write(text))


def put_bytes(body: bytes) -> None:
    """Write bytes to standard output as they are, whatever its encoding and line ends."""
    if sys.stdout is not None:
        sys.stdout.flush()
        _now(lambda: sys.stdout.buffer.write(body))


def _now(write: Callable[[], int]) -> None:
    try:
        write()
        sys.stdout.flush()
    except OSError as fault:
        is_device = stat.S_ISCHR(os.fstat(sys.stdout.fileno()).st_mode)
        # The interpreter would try the rest again at its end, and complain in its own words.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        if isinstance(fault, BrokenPipeError):
            raise
        if is_device and fault.errno == errno.EIO:
            raise BrokenPipeError(errno.EPIPE, "the terminal was closed") from fault
        reason = (fault.strerror or "the system gives no reason").lower()
        raise NotPossibleNow(f"The output cannot be written: {reason}.") from fault


def never_choke() -> None:
    """A terminal without ▲ or “ shows something else for it; nothing stops because of that."""
    for stream, instead in ((sys.stdout, "replace"), (sys.stderr, "backslashreplace")):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors=instead)
