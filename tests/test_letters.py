"""What of people's text is taken in, and how it is shown, printed and filed, by every letter."""

from __future__ import annotations

import json
import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from benchconsole.letters import (
    cells,
    escaped,
    fault_in,
    filed,
    padded,
    shown,
    shown_lines,
    shown_one_for_one,
)

EVERY = [
    chr(code)
    for code in range(0x110000)
    # Of ideographs, Korean syllables, private letters and planes without letters, some.
    if not code % 0x101
    or code % 0x10000 > 0xFFF0
    or (
        not (0x3400 <= code < 0xA000 or 0xAC00 <= code < 0xD700 or 0xD900 <= code < 0xFB00)
        and (code < 0x17000 or 0x1B000 <= code < 0x20000 or 0xE0000 <= code < 0xE0200)
    )
]
TEXTS = st.text(
    st.one_of(
        st.characters(),
        st.sampled_from(
            "\u202e\u2066\u200f\u200d\ufe0f\u0301\u0300\U0001f1e9\x1b\x9b\x00\r\n\t皮 ab"
        ),
    )
)


def test_every_letter_is_shown_in_the_cells_it_says() -> None:
    """All of Unicode: nothing that a terminal acts on, and the console's measure is ours."""
    for letter in EVERY:
        drawn = shown(f"a{letter}b")
        assert drawn.isprintable(), hex(ord(letter))
        assert cell_len(drawn) == cells(drawn), hex(ord(letter))


def test_every_letter_has_one_in_a_field() -> None:
    """The cursor of a field counts letters: each of the text's has one in the drawing."""
    for letter in EVERY:
        drawn = shown_one_for_one(f"a{letter}")
        assert 2 == len(drawn), hex(ord(letter))
        assert not unicodedata.category(drawn[1]).startswith("C"), hex(ord(letter))


def test_what_turns_the_writing_is_what_the_standard_says() -> None:
    """UAX #9 table 4: embeddings, overrides and isolates, with their ends; none is shown."""
    turning = [
        letter
        for letter in EVERY
        if unicodedata.bidirectional(letter)
        in {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}
    ]
    assert 9 == len(turning)
    for letter in turning:
        assert "turns the direction" in fault_in(f"a{letter}b")
        assert "a·b" == shown(f"a{letter}b")
        assert "a\ufffdb" == filed(f"a{letter}b")


@pytest.mark.parametrize(
    ("text", "drawn"),
    [
        ("brown goat", "brown goat"),
        ("[/] [@click=app.quit]x", "[/] [@click=app.quit]x"),
        ("\x1b]0;title\x07 \x9b2J", "·]0;title· ·2J"),
        ("a\r\nb\tc", "a··b·c"),
        ("Ziegen\u00adfell \u2009 x", "Ziegen·fell   x"),
        ("☀\ufe0f 👍🏽 🇩🇪 👩\u200d🌾", "☀ 👍 DE 👩·🌾"),
        ("עור 12", "עור 12"),
        ("\u0301a e" + "\u0301" * 9, "·a e" + "\u0301" * 4 + "·"),
        ("a \u0301", "a ·"),
        ("\ue000\ufdd0\U000e0041\ud83d", "····"),
        ("皮\u3000한", "皮  한"),
        ("", ""),
    ],
)
def test_how_a_text_is_shown(text: str, drawn: str) -> None:
    """By example, letter by letter."""
    assert drawn == shown(text)


def test_lines_stay_lines() -> None:
    """A note has lines and tabs; every kind of line end is one, and all else is as in one line."""
    assert "a\nb    ·\nc\nd" == shown_lines("a\r\nb\t\x07\u2028c\rd")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("brown goat", ""),
        ("", ""),
        ("עור \u200f", ""),
        ("e" + "\u0301" * 50, ""),
        ("👩\u200d🌾\ufe0f \ue000", ""),
        ("a\x1b", "it holds a control character (U+001B)"),
        ("a\x7f", "it holds a control character (U+007F)"),
        ("a\x9b", "it holds a control character (U+009B)"),
        ("a\nb", "it holds a line end (U+000A)"),
        ("a\u2029b", "it holds a line end (U+2029)"),
        ("a\tb", "it holds a tab (U+0009)"),
        ("\ud800", "it holds half a character (U+D800)"),
        ("\U0010ffff", "it holds a code that is no character (U+10FFFF)"),
        ("\u200d\u3164", "nothing of it can be seen"),
    ],
)
def test_what_is_taken_in(text: str, said: str) -> None:
    """Kept to the letter, or the words of the refusal name the letter."""
    assert said == fault_in(text)


def test_a_note_takes_lines_and_tabs() -> None:
    """These two and no other control character."""
    allowed = [letter for letter in EVERY[:0x20] if not fault_in(f"a{letter}b", lines=True)]
    assert ["\t", "\n"] == allowed


@given(TEXTS)
def test_a_shown_text_is_safe_and_showing_it_again_changes_nothing(text: str) -> None:
    """Whatever it is: printable, no wider than it says, and the same when it is shown twice."""
    drawn = shown(text)
    assert drawn.isprintable()
    assert cell_len(drawn) == cells(drawn)
    assert drawn == shown(drawn)
    assert len(text) == len(shown_one_for_one(text))
    assert cells(padded(drawn, 40)) == max(cells(drawn), 40)


@given(TEXTS)
def test_a_file_holds_what_is_taken_in_to_the_letter(text: str) -> None:
    """What may be typed is filed as it is; the rest is one lost letter each, never a control."""
    held = filed(text)
    assert "" == fault_in(f"x{held}", lines=True)
    held.encode()
    if not fault_in(f"x{text}", lines=True):
        assert text == held


@given(TEXTS)
def test_json_is_exact_and_safe_to_look_at(text: str) -> None:
    """Any text comes back as it was, and what is printed holds nothing a terminal acts on."""
    written = escaped(json.dumps({"name": text}, ensure_ascii=False, indent=2))
    assert written.replace("\n", "").isprintable()
    assert text == json.loads(written)["name"]
    written.encode()
