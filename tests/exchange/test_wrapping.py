"""Lines as wide as letters are: the same as the standard library's where every letter is one."""

from __future__ import annotations

import textwrap

from hypothesis import given
from hypothesis import strategies as st

from benchconsole.exchange.wrapping import _by_cells, wrapped
from benchconsole.letters import cells, shown

WORDS = st.lists(st.text("abc", min_size=1, max_size=12), max_size=12).map(" ".join)
INDENTS = st.sampled_from(["", "  ", "> "])


@given(WORDS, st.integers(8, 30), INDENTS, INDENTS)
def test_narrow_letters_are_broken_as_the_standard_library_does(
    text: str, width: int, first: str, rest: str
) -> None:
    """An outside check of our own breaking: words of plain letters, hyphens apart."""
    theirs = textwrap.wrap(text, width, initial_indent=first, subsequent_indent=rest)
    assert [line.rstrip() for line in theirs] == _by_cells(text, width, first, rest)


@given(
    st.text(st.sampled_from("ab 皮🐐e\u0301\u0301\u200d\u202e\n\t—°"), max_size=80),
    st.integers(8, 30),
    INDENTS,
)
def test_no_line_is_wider_than_its_room_and_no_letter_is_lost(
    text: str, width: int, rest: str
) -> None:
    """Wide letters, joined marks, what is not shown: all of it, in order, within the room."""
    lines = wrapped(text, width, "", rest)
    assert all(cells(line) <= width for line in lines)
    assert all(line == shown(line) for line in lines)
    together = "".join(
        line.removeprefix(rest) if place else line for place, line in enumerate(lines)
    )
    assert shown(text).replace(" ", "") == together.replace(" ", "")


def test_columns_stay_where_they_are() -> None:
    """Blanks inside a line are columns; a later line hangs below its own."""
    lines = wrapped("08:00-09:00  ● 皮皮皮皮 soak, begin", 24, rest="    ")
    assert ["08:00-09:00  ● 皮皮皮皮", "    soak, begin"] == lines


def test_a_number_stays_with_its_sign() -> None:
    """“12 °C” on one line, beside wide letters too."""
    assert ["at 皮皮", "12 °C"] == wrapped("at 皮皮 12 °C", 11)
    assert ["at water", "12 °C"] == wrapped("at water 12 °C", 11)
