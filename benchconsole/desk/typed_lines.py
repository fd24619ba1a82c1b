"""Names and remarks as people type them: trimmed, checked, otherwise kept to the letter."""

from __future__ import annotations

import unicodedata

from benchconsole.errors import BadInput

NAME_LONGEST = 60
NOTE_LONGEST = 2000
REASON_LONGEST = 200


def checked_line(field: str, text: str, longest: int, example: str, *, lines: bool = False) -> str:
    """Text a person typed, trimmed; ``BadInput`` if empty, too long or with control characters.

    Marks that turn the direction of writing count as such: they would scramble the line.
    """
    words = text.replace("\r\n", "\n").strip()
    if not words:
        raise BadInput(field, "it is empty", f"“{example}”")
    if len(words) > longest:
        raise BadInput(field, f"longer than {longest} characters", f"“{example}”")
    allowed = "\n\t" if lines else ""
    if any(_controls(letter) and letter not in allowed for letter in words):
        raise BadInput(field, "it holds a control character", f"“{example}”")
    return words


def _controls(letter: str) -> bool:
    turns = "\u202a" <= letter <= "\u202e" or "\u2066" <= letter <= "\u2069"
    return turns or unicodedata.category(letter) in ("Cc", "Cs", "Zl", "Zp")
