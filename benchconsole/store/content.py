"""What a log holds, in memory: the bytes that are known to be right, and where they end."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any, Self

from benchconsole.store.lines import (
    Document,
    Line,
    Parsed,
    crc_of,
    mark_of,
    parsed,
    tap_line,
)
from benchconsole.store.tip import Tip

Taps = tuple[tuple[int, Document], ...]
"""The taps of a log in order: number and document."""


class Content:
    """A whole log with at least one tap. ``body`` is its bytes, ``began`` when its history did."""

    def __init__(self, body: bytes, found: Parsed) -> None:
        assert found.header is not None and found.is_whole and not found.torn
        self.body = bytearray(body)
        self.began: datetime = found.header.began
        self.tip = Tip.of(found.lines[-1])
        self._last_crc = found.lines[-1].crc
        self._lines: tuple[Line, ...] | None = found.lines

    @classmethod
    def of(cls, body: bytes) -> Self:
        """The content of a whole log; anything else is a defect."""
        return cls(body, parsed(body))

    def taps(self) -> Taps:
        """All taps, as documents of the caller's own."""
        lines = parsed(bytes(self.body)).lines if self._lines is None else self._lines
        self._lines = None  # given away: TinyDB edits what it read
        return tuple((line.tap, line.doc) for line in lines)

    def line(self, tap: int, document: Mapping[str, Any]) -> bytes:
        """The line of a tap that would come next."""
        return tap_line(tap, self._last_crc, document)

    def add(self, line: bytes, tap: int, document: Mapping[str, Any]) -> None:
        """Take in a line that is on the disk now."""
        self.body += line
        self.tip = Tip(tap, mark_of(document))
        self._last_crc = crc_of(line)
        self._lines = None
