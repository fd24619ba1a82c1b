"""Text cut and padded to cells, and people's text made safe to draw."""

from __future__ import annotations

from rich.cells import cell_len, set_cell_size

from benchconsole.letters import shown


def fitted(text: str, width: int) -> str:
    """The text in exactly ``width`` cells, with an ellipsis where something was cut off."""
    if width <= 0:
        return ""
    if cell_len(text) <= width:
        return set_cell_size(text, width)
    return set_cell_size(set_cell_size(text, width - 1).rstrip() + "…", width)


def plain(text: str) -> str:
    """People's text on one line, safe to draw; the stored text is untouched."""
    return shown(text)
