"""How long a command that writes waits for whoever has the shop open."""

from __future__ import annotations

WAIT_S = 5.0
"""Enough for a console that is just closing; our own choice."""

LONGEST_WAIT_S = 3600


def read_wait(text: str | None) -> float:
    """Seconds to wait, ``WAIT_S`` if nothing is said; ``BadInput`` for what is none."""
    from benchconsole.quantities import read_count

    if text is None:
        return WAIT_S
    if text.strip() == "0":
        return 0.0
    return float(read_count(text, field="wait", most=LONGEST_WAIT_S))
