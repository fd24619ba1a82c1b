"""A list typed into one field: what parts it, whatever is in it."""

from __future__ import annotations

import re

_BETWEEN = re.compile(r";|(?<![0-9]),|,(?![0-9])")
"""A comma between two digits is a decimal one."""


def listed(text: str) -> list[str]:
    """The pieces between semicolons or commas, with single spaces; empty ones are passed over."""
    pieces = (" ".join(piece.split()) for piece in _BETWEEN.split(text))
    return [piece for piece in pieces if piece]
