"""Names and remarks as people type them: trimmed, checked, otherwise kept to the letter."""

from __future__ import annotations

from benchconsole.errors import BadInput
from benchconsole.letters import fault_in

NAME_LONGEST = 60
NOTE_LONGEST = 2000
REASON_LONGEST = 200


def checked_line(field: str, text: str, longest: int, example: str, *, lines: bool = False) -> str:
    """Text a person typed, trimmed; ``BadInput`` if empty, too long or not taken in.

    What is taken in is told in ``letters``; with ``lines`` it may have line ends and tabs.
    """
    words = text.replace("\r\n", "\n").strip()
    if not words:
        raise BadInput(field, "it is empty", f"“{example}”")
    if len(words) > longest:
        raise BadInput(field, f"longer than {longest} characters", f"“{example}”")
    if fault := fault_in(words, lines=lines):
        raise BadInput(field, fault, f"“{example}”")
    return words
