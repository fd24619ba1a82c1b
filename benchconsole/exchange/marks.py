"""A shape and a word for every state of an action and a plan, on paper and on every screen.

Nothing is told by colour alone; every shape is one cell wide in every terminal.
"""

from __future__ import annotations

from typing import Literal

Lateness = Literal["visit", "visit-late", "visit-too-late"]

STATE_MARKS: dict[str, str] = {
    "overdue": "▲",
    "due": "●",
    "ready": "◐",
    "waiting": "○",
    "stored": "□",
    "finished": "■",
    "out": "×",
}

STATE_WORDS: dict[str, str] = {
    "overdue": "OVERDUE",
    "due": "DUE",
    "ready": "READY",
    "waiting": "WAITING",
    "stored": "IN STORE",
    "finished": "FINISHED",
    "out": "OUT",
}

VISIT_MARKS: dict[Lateness, str] = {"visit": "●", "visit-late": "◆", "visit-too-late": "▲"}
"""A visit by its lateness, the least late first."""
ROUND = "•"
UNPLANNED = "?"
