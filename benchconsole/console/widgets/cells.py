"""Text cut and padded to cells, and people's text made safe to draw."""

from __future__ import annotations

import unicodedata

from rich.cells import cell_len, set_cell_size


def fitted(text: str, width: int) -> str:
    """The text in exactly ``width`` cells, with an ellipsis where something was cut off."""
    if width <= 0:
        return ""
    if cell_len(text) <= width:
        return set_cell_size(text, width)
    return set_cell_size(set_cell_size(text, width - 1).rstrip() + "…", width)


def plain(text: str) -> str:
    """The text without anything that would move the cursor or turn the writing round.

    Control, format (zero-width, right-to-left marks) and surrogate characters become a
    visible dot; the stored text is untouched.
    """
    return "".join(
        "·" if unicodedata.category(c) in ("Cc", "Cf", "Cs", "Zl", "Zp") else c for c in text
    )
