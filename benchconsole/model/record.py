"""The base of every record, and the figure that carries its source."""

from __future__ import annotations

from datetime import datetime
from typing import Annotated, Literal

import msgspec

Instant = Annotated[datetime, msgspec.Meta(tz=True)]
"""A moment with its zone; a stored one without is refused."""

Mark = Literal["read", "memory", "practice", "computed", "invented"]
"""How well a figure is known: read in the source, from memory, trade practice, our arithmetic."""

MARK_WORDS: dict[str, str] = {
    "read": "read in the source",
    "memory": "from memory, unverified",
    "practice": "common practice, no source",
    "computed": "computed",
    "invented": "invented for the demo",
}


class Record(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A frozen value; fields are given by name and unknown ones are refused."""


class Figure(Record, frozen=True, kw_only=True):
    """A number with its source: ``low <= value <= high`` in the unit its owner names."""

    value: float
    source: str
    mark: Mark
    low: float | None = None
    high: float | None = None


class Citation(Record, frozen=True, kw_only=True):
    """Where a statement comes from."""

    source: str
    mark: Mark
    note: str = ""
