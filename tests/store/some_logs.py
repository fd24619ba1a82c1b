"""Logs to keep, lose and look at: whole files of small taps, made as the program makes them."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import msgspec

from benchconsole.model.events import Entry, Event, NoteWritten
from benchconsole.store.lines import sealed, whole_log

BEGAN = datetime(2026, 3, 1, 8, tzinfo=UTC)


def note(tap: int, text: str = "") -> Event:
    """What the tap of that number says unless told otherwise."""
    return NoteWritten(hide="goat", text=text or f"note {tap}")


def tap_document(tap: int, event: Event | None = None) -> dict[str, Any]:
    """A tap as it stands in a line, an hour after the one before."""
    at = BEGAN + timedelta(hours=tap)
    entry = Entry(seq=tap, tap=tap, at=at, recorded=at, event=event or note(tap))
    plain = msgspec.to_builtins(entry, str_keys=True)
    events = [{"seq": plain["seq"], "event": plain["event"]}]
    return {"at": plain["at"], "recorded": plain["recorded"], "events": events}


def log_of(taps: int | Iterable[int], **texts: str) -> bytes:
    """The log of the first so many taps, or of these."""
    numbers = range(1, taps + 1) if isinstance(taps, int) else taps
    return whole_log(
        BEGAN + timedelta(hours=1),
        ((n, tap_document(n, note(n, texts.get(f"note_{n}", "")))) for n in numbers),
    )


def damaged(body: bytes) -> bytes:
    """The same with a letter in the middle changed, as a failing disk changes it."""
    middle = len(body) // 2
    return body[:middle] + bytes([body[middle] ^ 1]) + body[middle + 1 :]


def put_store(path: Path, body: bytes) -> Path:
    """A store file in its private folder."""
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    path.write_bytes(body)
    path.chmod(0o600)
    return path


def sealed_again(body: bytes) -> bytes:
    """The same with its first line's checksum made right, after that line was changed."""
    first, _, rest = body.partition(b"\n")
    return sealed(first[: first.rindex(b',"crc"')] + b"}") + rest
