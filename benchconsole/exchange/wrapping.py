"""Paragraphs broken into lines by the cells that letters take, whatever people's names are."""

from __future__ import annotations

import re
import textwrap

from benchconsole.letters import cells, shown

_TIE = "\0"
"""Stands for a blank at which no line ends; no text that is shown has one."""


def wrapped(text: str, width: int, first: str = "", rest: str = "") -> list[str]:
    """The text as it is shown, in lines of at most ``width`` cells; none for an empty text.

    The first line begins with ``first``, the others with ``rest``. A number stays on one line
    with its sign: “12 °C”, “21 %”.
    """
    tied = shown(text).replace(" °", f"{_TIE}°").replace(" %", f"{_TIE}%")
    if tied.isascii() or all(cells(letter) == 1 for letter in tied):
        rows = textwrap.wrap(tied, width, initial_indent=first, subsequent_indent=rest)
    else:
        rows = _by_cells(tied, width, first, rest)
    return [row.replace(_TIE, " ") for row in rows]


def _by_cells(text: str, width: int, first: str, rest: str) -> list[str]:
    """As ``textwrap`` does it: blanks stay but where a line ends, a word too long is broken."""
    lines: list[str] = []
    line, room = "", width - cells(first)

    def ended() -> None:
        nonlocal line, room
        lines.append(f"{rest if lines else first}{line.rstrip()}")
        line, room = "", width - cells(rest)

    for piece in re.findall(r" +|[^ ]+", text):
        if piece.isspace():
            # Later lines begin with a word.
            line += piece if line or not lines else ""
            continue
        # A word that fits on no line begins on this one, if there is room for a letter of it.
        if (
            line
            and cells(line) + cells(piece) > room
            and (cells(piece) <= room or cells(line) + cells(piece[0]) > room)
        ):
            ended()
        while cells(line) + cells(piece) > room:
            fits = _fitting(piece, room - cells(line))
            line, piece = line + fits, piece[len(fits) :]
            ended()
        line += piece
    if line.strip():
        ended()
    return lines


def _fitting(word: str, room: int) -> str:
    """The beginning of a word that fits, with the marks on its last letter; one letter at least."""
    taken = 0
    for place, letter in enumerate(word):
        taken += cells(letter)
        if taken > room and place:
            return word[:place]
    return word
